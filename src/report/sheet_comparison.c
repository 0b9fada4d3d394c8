#include "report/book_sheet.h"

#include <glib/gi18n-lib.h>

#define LIKE_THIS "Logs_wood,\"=\"&[wood],Logs_strain,\"=\"&[strain],Logs_in_season,1"

#define LOW "MAX(0,[mean]-TINV(0.05,[logs]-1)*[spread]/SQRT([logs]))"
#define HIGH "[mean]+TINV(0.05,[logs]-1)*[spread]/SQRT([logs])"

static const BedBookColumn comparison_columns[] = {
  BED_COLUMN (N_ ("Wood and strain"), TEXT, 30, .name = "both"),
  BED_COLUMN (N_ ("Wood"), TEXT, 18, .name = "wood"),
  BED_COLUMN (N_ ("Strain"), TEXT, 18, .name = "strain"),
  BED_COLUMN (N_ ("Logs"), COUNT, 8, .name = "logs", .expression = "COUNTIFS(" LIKE_THIS ")",
              BED_SUMMED),
  BED_COLUMN (N_ ("Picked this season"), MASS, 11, .name = "mass",
              .expression = "SUMIFS(Logs_season," LIKE_THIS ")", BED_SUMMED),
  BED_COLUMN (N_ ("Mean"), MASS_PER_LOG, 10, .name = "mean", .expression = "[mass]/[logs]",
              BED_AGAIN),
  BED_COLUMN (N_ ("Spread of logs (standard deviation)"), MASS_PER_LOG, 14, .name = "spread",
              .expression = "SQRT(MAX(0,SUMIFS(Logs_square," LIKE_THIS ")-[mass]*[mean])"
                            "/([logs]-1))"),
  BED_COLUMN (N_ ("Mean is 95 % sure above"), MASS_PER_LOG, 12, .name = "low", .expression = LOW),
  BED_COLUMN (N_ ("and below"), MASS_PER_LOG, 12, .name = "high", .expression = HIGH),
  BED_COLUMN (N_ ("Drawn-in mean"), MASS_PER_LOG, 12, .name = "drawn"),
  BED_COLUMN (N_ ("It is 95 % sure above"), MASS_PER_LOG, 12, .name = "drawn_low"),
  BED_COLUMN (N_ ("and below"), MASS_PER_LOG, 12, .name = "drawn_high"),
};

/* What the program answers: no formula of a spreadsheet gives it. An interval not known is
 * the mean itself for the chart, in which an empty cell would stand at nought. */
#define DRAWN(what) "coalesce (" what ", mass)"

static const char comparison_question[]
    = "SELECT wood || ', ' || strain, wood, strain, mass, " DRAWN ("low") ", " DRAWN (
        "high") " FROM kind_yield WHERE size = '' ORDER BY 2, 3";

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
  BED_COLUMN (N_ ("Drawn-in mean"), MASS_PER_LOG, 12),
  BED_COLUMN (N_ ("It is 95 % sure above"), MASS_PER_LOG, 12),
  BED_COLUMN (N_ ("and below"), MASS_PER_LOG, 12),
};

static const char size_question[]
    = "SELECT wood || ', ' || strain, wood, strain, size,"
      " CASE size WHEN '2' THEN 100000 WHEN '3' THEN 150000 END,"
      " CASE size WHEN '1' THEN 100000 WHEN '2' THEN 150000 END,"
      " mass, low, high FROM kind_yield WHERE size <> '' ORDER BY 1, 4";

static const char *const comparison_notes[] = {
  N_ ("Drawn-in mean: the program's own answer, a value and not a formula. A kind of few logs owes "
      "much to luck, so its mean is drawn towards that of all kinds, the more so the fewer its "
      "logs and the more alike the kinds; logs are compared with others of their year of life. "
      "Compare kinds by this. Best linear prediction with random effects: S. R. Searle, G. "
      "Casella, C. E. McCulloch, Variance Components, 1992, section 3.6; its error: N. G. N. "
      "Prasad, J. N. K. Rao, J. Am. Stat. Assoc. 85:163-171, 1990 (both from memory). Size "
      "classes and the least of 5 logs in one: common practice, no source."),
  NULL,
};

static const BedBlock comparison_blocks[] = {
  { BED_BLOCK_TABLE ("Kinds", comparison_columns, comparison_question) },
  { .heading = N_ ("The same by mean diameter, where there are five logs or more"),
    BED_BLOCK_TABLE ("Sizes", size_columns, size_question) },
  { .notes = comparison_notes },
};

const BedBookSheet bed_sheet_comparison = {
  .name = N_ ("Wood x strain"),
  .question = N_ ("Which wood and strain give most, and how sure that is. Every log counts, "
                  "those that gave nothing too."),
  BED_BLOCKS (comparison_blocks),
  .chart
  = &(const BedBookChart){ .title = N_ ("Drawn-in mean per log this season, with what it may be"),
                           .labels = "Kinds_both",
                           .values = "Kinds_drawn",
                           .low = "Kinds_drawn_low",
                           .high = "Kinds_drawn_high",
                           .cell = BED_BOOK_CELL_MASS_PER_LOG,
                           .width = 900,
                           .height = 420 },
  .chart_rows = 23,
};
