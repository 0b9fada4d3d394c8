#include "report/book_sheet.h"

#include <glib/gi18n-lib.h>

static const BedBookColumn columns[] = {
  BED_COLUMN (N_ ("Week"), TEXT, 11, .name = "week"),
  BED_COLUMN (N_ ("Begins"), DATE, 14),
  BED_COLUMN (N_ ("Logs lifted from the tank"), COUNT, 14, .name = "lifted", BED_SUMMED),
  BED_COLUMN (N_ ("Expected"), MASS, 14, .name = "expected", BED_SUMMED),
  BED_COLUMN (N_ ("Picked"), MASS, 14, .name = "mass",
              .expression = "SUMIFS(Picks_mass,Picks_week,[week])", BED_SUMMED),
  BED_COLUMN (N_ ("Picked less expected"), MASS, 14, .expression = "[mass]-[expected]", BED_SUMMED),
  BED_COLUMN (N_ ("Picked so far"), MASS, 14, .name = "so_far",
              .expression = "SUM([^mass]:[mass])"),
  /* One in four, from the first: as the charts skip, where their reader does skip; with the year
   * where it is another than before. */
  BED_COLUMN (N_ ("at the charts"), TEXT, 14, .name = "label", BED_WORKING),
};

/* All weeks of the season, the empty ones too. */
static const char question[]
    = "WITH RECURSIVE day (day) AS (SELECT ?1 UNION ALL"
      "  SELECT date (day, '+1 day') FROM day WHERE day < date (?2, '-1 day')),"
      " week (week, first) AS (SELECT bed_week (day), min (day) FROM day GROUP BY 1),"
      " lift (week, logs) AS (SELECT bed_week (substr (so.taken_out, 1, 10)),"
      "   sum ((SELECT count (*) FROM soaked sd WHERE sd.soak = so.id)) FROM soak so"
      "  WHERE bed_flush_over (so.taken_out) >= ?1 AND so.taken_out < ?2 GROUP BY 1)"
      " SELECT w.week, w.first, coalesce (l.logs, 0), coalesce (e.expected, 0),"
      " CASE WHEN row_number () OVER by_day % 4 = 1 THEN"
      "  CASE WHEN lag (substr (w.week, 1, 4), 4) OVER by_day = substr (w.week, 1, 4)"
      "   THEN substr (w.week, 6) ELSE w.week END END"
      "  FROM week w LEFT JOIN lift l ON l.week = w.week"
      "  LEFT JOIN season_week e ON e.monday = date (w.first, 'weekday 0', '-6 days')"
      "  WINDOW by_day AS (ORDER BY w.first) ORDER BY w.first";

const BedBookSheet bed_sheet_weeks = {
  .name = N_ ("Weeks"),
  .question
  = N_ ("What was picked each week (ISO 8601), and what the soaks gave reason to expect, as "
        "the soak plan has it: what a log of its mushroom and method gave a soak in two "
        "years, six tenths of it in the week after and four in the next; from the "
        "running week on as the last eight weeks came out. Totals longer than a week are of none: "
        "the sheet Figures says how much is in them."),
  BED_ONE_TABLE ("Weeks", columns, question),
  .one_page = TRUE,
  .chart = &(const BedBookChart){ .title = N_ ("Picked and expected by week"),
                                  .labels = "Weeks_label",
                                  .values = "Weeks_mass",
                                  .expected = "Weeks_expected",
                                  .cell = BED_BOOK_CELL_MASS,
                                  .every = 4,
                                  .width = 660,
                                  .height = 280 },
  .chart_rows = 16,
};
