#include "report/book_sheet.h"

#include <glib/gi18n-lib.h>

#define LIKE_THIS "Logs_wood,\"=\"&[wood],Logs_strain,\"=\"&[strain],Logs_in_season,1"

static const BedBookColumn comparison_columns[] = {
  BED_COLUMN (N_ ("Wood and strain"), TEXT, 30, .name = "both"),
  BED_COLUMN (N_ ("Wood"), TEXT, 18, .name = "wood"),
  BED_COLUMN (N_ ("Strain"), TEXT, 18, .name = "strain"),
  BED_COLUMN (N_ ("Logs"), COUNT, 8, .name = "logs", .expression = "COUNTIFS(" LIKE_THIS ")",
              BED_SUMMED),
  BED_COLUMN (N_ ("Picked this season"), MASS, 11, .name = "mass",
              .expression = "SUMIFS(Logs_season," LIKE_THIS ")", BED_SUMMED),
  BED_COLUMN (N_ ("Mean"), MASS_PER_LOG, 10, .name = "mean", .expression = "[mass]/[logs]"),
  /* Rounded: of logs that gave the same, what programs leave of nothing has a root. */
  BED_COLUMN (N_ ("Spread of logs (standard deviation)"), MASS_PER_LOG, 14, .name = "spread",
              .expression = "SQRT(ROUND(MAX(0,SUMIFS(Logs_square," LIKE_THIS ")-[mass]*[mean])"
                            "/([logs]-1),10))"),
  BED_COLUMN (N_ ("Batches that have fruited"), COUNT, 10, .name = "batches", BED_SUMMED),
  BED_COLUMN (N_ ("Compared"), TEXT, 22, .name = "told"),
  BED_COLUMN (N_ ("A log and season, over all seasons"), MASS_PER_LOG, 12, .name = "level"),
  BED_COLUMN (N_ ("Nine times in ten above"), MASS_PER_LOG, 12, .name = "level_low"),
  BED_COLUMN (N_ ("and below"), MASS_PER_LOG, 12, .name = "level_high"),
};

/* What the program answers: no formula of a spreadsheet gives it. An interval not known is
 * the mean itself for the chart, in which an empty cell would stand at nought. */
#define ENDS(what) "coalesce (k." what ", k.mass)"
#define LOGS_KINDS                                                                                 \
  "SELECT w.common_name AS wood, s.strain AS strain, s.size AS size, count (*) AS logs"            \
  " FROM season_log s JOIN log l ON l.id = s.log JOIN felling f ON f.id = l.felling"               \
  " JOIN wood w ON w.id = f.wood WHERE s.stood"

static const char comparison_question[]
    = "WITH kind AS (SELECT wood, strain FROM (" LOGS_KINDS " GROUP BY 1, 2)"
      " UNION SELECT wood, strain FROM kind_yield)"
      " SELECT wood || ', ' || strain, wood, strain, k.batches,"
      " k.told, k.mass, " ENDS ("low") ", " ENDS (
          "high") " FROM kind LEFT JOIN kind_yield k USING (wood, strain) ORDER BY 2, 3";

#define OF_SIZE LIKE_THIS ",Logs_size,[size]"

static const BedBookColumn size_columns[] = {
  BED_COLUMN (N_ ("Wood and strain"), TEXT, 30),
  BED_COLUMN (N_ ("Wood"), TEXT, 18, .name = "wood"),
  BED_COLUMN (N_ ("Strain"), TEXT, 18, .name = "strain"),
  BED_COLUMN (N_ ("Logs"), COUNT, 8, .name = "logs", .expression = "COUNTIFS(" OF_SIZE ")"),
  BED_COLUMN (N_ ("Picked this season"), MASS, 11, .name = "mass",
              .expression = "SUMIFS(Logs_season," OF_SIZE ")"),
  BED_COLUMN (N_ ("Mean"), MASS_PER_LOG, 10, .expression = "[mass]/[logs]"),
  BED_COLUMN (N_ ("Size class"), YEAR, 14, .name = "size"),
  BED_COLUMN (N_ ("Thicker than"), LENGTH, 12),
  BED_COLUMN (N_ ("thinner than"), LENGTH, 12),
};

static const char size_question[]
    = "SELECT wood || ', ' || strain, wood, strain, size,"
      " c.above, c.below FROM (" LOGS_KINDS
      " GROUP BY 1, 2, 3) JOIN size_class c USING (size) WHERE logs >= 5 ORDER BY 1, 4";

static const char *const comparison_notes[] = {
  N_ ("A log and season, over all seasons that are over: the program's own answer, values and not "
      "formulas. Compare kinds by this. A batch is what is repeated: its logs share its day, its "
      "spawn and its luck. Batches are compared with others made in the same year; a kind made "
      "only in other years than the rest cannot be told from its years. Generalized linear model "
      "with a deviation in proportion to the mean: P. McCullagh, J. A. Nelder, Generalized Linear "
      "Models, 2nd ed. 1989, chapter 8 (from memory). A wood + stands for batches of several. "
      "Size classes and the least of 5 logs in one: common practice, no source."),
  NULL,
};

static const BedBlock comparison_blocks[] = {
  { BED_BLOCK_TABLE ("Kinds", comparison_columns, comparison_question) },
  { .notes = comparison_notes },
};

const BedBookSheet bed_sheet_comparison = {
  .name = N_ ("Wood x strain"),
  .question = N_ ("Which wood and strain give most, and how sure that is. Every log counts, "
                  "those that gave nothing too."),
  BED_BLOCKS (comparison_blocks),
  .one_page = TRUE,
  .chart = &(const BedBookChart){ .title = N_ ("A log and season by kind, with what it may be"),
                                  .labels = "Kinds_both",
                                  .values = "Kinds_level",
                                  .low = "Kinds_level_low",
                                  .high = "Kinds_level_high",
                                  .cell = BED_BOOK_CELL_MASS_PER_LOG,
                                  .width = 900,
                                  .height = 420 },
  .chart_rows = 23,
};

const BedBookSheet bed_sheet_sizes = {
  .name = N_ ("Log size"),
  .question
  = N_ ("What logs gave by wood, strain and mean diameter, where there are five or more."),
  BED_ONE_TABLE ("Sizes", size_columns, size_question),
};
