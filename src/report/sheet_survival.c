#include "report/book_sheet.h"

#include <glib/gi18n-lib.h>

static const BedBookColumn columns[] = {
  BED_COLUMN (N_ ("Year of life"), YEAR, 14, .name = "age"),
  BED_COLUMN (N_ ("Logs known to have reached it"), COUNT, 14, .name = "at_risk"),
  BED_COLUMN (N_ ("Lost in it"), COUNT, 12, .name = "lost", BED_SUMMED),
  BED_COLUMN (N_ ("Of these lived on"), PERCENT, 12, .expression = "1-[lost]/[at_risk]"),
  BED_COLUMN (N_ ("Alive after it, of all"), PERCENT, 12, .name = "alive"),
  BED_COLUMN (N_ ("Nine times in ten above"), PERCENT, 12, .name = "low"),
  BED_COLUMN (N_ ("and below"), PERCENT, 12, .name = "high"),
};

static const char question[]
    = "SELECT age, at_risk, retired, survival * 10000, coalesce (low, survival) * 10000,"
      " coalesce (high, survival) * 10000 FROM log_survival ORDER BY age";

static const char *const notes[] = {
  N_ ("Year of life 0 is the season of inoculation. Logs still alive, sold or lost from sight "
      "count for as long as they were known to live. Shares and intervals are the program's own "
      "answer, values and not formulas. Product-limit estimate: E. L. Kaplan, P. Meier, J. Am. "
      "Stat. Assoc. 53:457-481, 1958; interval of C. J. Clopper and E. S. Pearson, Biometrika "
      "26:404-413, 1934, for the number of logs with the same variance: F. J. Dorey, E. L. Korn, "
      "Statistics in Medicine 6:679-687, 1987 (all from memory)."),
  NULL,
};

static const BedBlock blocks[] = {
  { BED_BLOCK_TABLE ("Survival", columns, question) },
  { .notes = notes },
};

const BedBookSheet bed_sheet_survival = {
  .name = N_ ("Survival"),
  .question = N_ ("How long logs last on this farm."),
  BED_BLOCKS (blocks),
  .one_page = TRUE,
  .chart = &(const BedBookChart){ .title = N_ ("Logs alive after each year of life"),
                                  .labels = "Survival_age",
                                  .values = "Survival_alive",
                                  .low = "Survival_low",
                                  .high = "Survival_high",
                                  .cell = BED_BOOK_CELL_PERCENT,
                                  .width = 600,
                                  .height = 280 },
  .chart_rows = 19,
};
