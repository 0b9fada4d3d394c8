#include "report/book_sheet.h"

#include <glib/gi18n-lib.h>

#define OF_NEXT(what) "SELECT coalesce (" what ", 0) FROM season_coming WHERE season = ?3 + 1"

/* Weeks that soaks go on: May to October (Cornell, Four Methods), as the soak plan has it. */
#define SOAKING_WEEKS "26"

/* A part of a log is no log, of a tree no tree; what is a hair over a whole number is the number.
 */
#define WHOLE_UP(x) "ROUND(" x "+0.49999,0)"

static const BedBookFigure coming_figures[] = {
  BED_FIGURE_HEADING (N_ ("What may come next season")),
  BED_FIGURE (N_ ("Expected of the logs alive"), MASS, .name = "Forecast",
              .sql = OF_NEXT ("expected"), .style = BED_STYLE_STRONG,
              .note = N_ ("as likely to be more as less")),
  BED_FIGURE (N_ ("Nine times in ten above"), MASS, .name = "Forecast_low", .sql = OF_NEXT ("low")),
  BED_FIGURE (N_ ("Nine times in ten below"), MASS, .name = "Forecast_high",
              .sql = OF_NEXT ("high")),
  BED_FIGURE (N_ ("Of it, from logs older than any on record"), PERCENT, .name = "Forecast_unseen",
              .sql = OF_NEXT ("unseen * 10000"),
              .note = N_ ("by the published shape of a log's life")),

  BED_FIGURE_HEADING (N_ ("What is wanted")),
  BED_FIGURE (N_ ("Wanted each week"), MASS, .name = "Weekly_demand", .style = BED_STYLE_INPUT,
              .sql = "SELECT coalesce (weekly_demand, 0) FROM farm",
              .note = N_ ("from the farm's settings; try others")),
  BED_FIGURE (
      N_ ("Weeks of picking you mean to have"), COUNT, .name = "Picking_weeks",
      .sql = "SELECT " SOAKING_WEEKS, .style = BED_STYLE_INPUT,
      .note = N_ ("soaks go on for half the year, May to October in the north; try others")),
  BED_FIGURE (N_ ("Wanted in a season"), MASS, .name = "Wanted",
              .expression = "Weekly_demand*Picking_weeks"),
  BED_FIGURE (N_ ("Short of it next season"), MASS, .name = "Missing", .style = BED_STYLE_STRONG,
              .expression = "MAX(0,Wanted-Forecast)", .note = N_ ("new logs come too late for it")),
};

static const BedBookColumn outlook_columns[] = {
  BED_COLUMN (N_ ("Season"), YEAR, 12, .name = "season"),
  BED_COLUMN (N_ ("Expected of the logs alive"), MASS, 12, .name = "expected"),
  BED_COLUMN (N_ ("Nine times in ten above"), MASS, 12, .name = "low"),
  BED_COLUMN (N_ ("Nine times in ten below"), MASS, 12, .name = "high"),
  BED_COLUMN (N_ ("Of it, from logs older than any on record"), PERCENT, 12, .name = "unseen"),
  BED_COLUMN (N_ ("Short of what is wanted"), MASS, 12, .name = "missing",
              .expression = "MAX(0,Wanted-[expected])"),
};

static const char outlook_question[]
    = "SELECT season, expected, coalesce (low, 0), coalesce (high, 0), unseen * 10000"
      " FROM season_coming ORDER BY season";

/* Logs made next season bear in the season after it, in year 1 of their lives. */
#define PER_NEW_LOG(what) "Logs_wanted*" what "/SUM(Costs_new)"

static const BedBookFigure plan_figures[] = {
  BED_FIGURE_HEADING (N_ ("Logs to inoculate next season")),
  BED_FIGURE (N_ ("Short of what is wanted in the season after it"), MASS, .name = "Missing_after",
              .expression = "SUMIFS(Outlook_missing,Outlook_season,Season+2)",
              .note = N_ ("if no new logs were made")),
  BED_FIGURE (N_ ("A log gives in its first fruiting year"), MASS_PER_LOG, .name = "First_yield",
              .sql = "SELECT mass FROM log_coming WHERE age = 1"),
  BED_FIGURE (N_ ("Logs that make it up"), COUNT, .name = "Logs_short",
              .expression = WHOLE_UP ("Missing_after/First_yield")),
  BED_FIGURE (N_ ("A log gives in its life, as far as on record"), MASS_PER_LOG,
              .name = "Life_yield", .expression = "SUM(Ages_given)",
              .note = N_ ("losses of logs allowed for")),
  BED_FIGURE (N_ ("Logs a year that keep up what is wanted"), COUNT, .name = "Logs_yearly",
              .expression = WHOLE_UP ("Wanted/Life_yield")),
  BED_FIGURE (N_ ("Logs to inoculate"), COUNT, .name = "Logs_wanted", .style = BED_STYLE_STRONG,
              .expression = "IFERROR(Logs_yearly+MAX(0,Logs_short-Logs_yearly),"
                            "IFERROR(Logs_yearly/1,Logs_short/1))",
              .note = N_ ("the larger of the two, or the one that is known; whole logs")),

  BED_FIGURE_HEADING (N_ ("What to cut and buy for them")),
  BED_FIGURE (N_ ("Logs from a tree"), NUMBER, .name = "Logs_from_tree",
              .sql = "SELECT count (l.id) * 1.0 / nullif ((SELECT sum (trees) FROM felling f"
                     " WHERE f.trees > 0 AND f.felled_on < ?2), 0)"
                     " FROM log l JOIN felling f ON f.id = l.felling"
                     " WHERE f.trees > 0 AND f.felled_on < ?2",
              .note = N_ ("of the farm's own fellings")),
  BED_FIGURE (N_ ("Trees to cut"), COUNT, .style = BED_STYLE_STRONG,
              .expression = WHOLE_UP ("Logs_wanted/Logs_from_tree")),
  BED_FIGURE (N_ ("Spawn to buy, by mass"), MASS, .style = BED_STYLE_STRONG,
              .expression = PER_NEW_LOG ("SUM(Spawn_mass)"),
              .note = N_ ("as this season's new logs took; less what is in store")),
  BED_FIGURE (N_ ("and in pieces"), COUNT, .style = BED_STYLE_STRONG,
              .expression = WHOLE_UP (PER_NEW_LOG ("SUM(Spawn_pieces)"))),
  BED_FIGURE (N_ ("Money for spawn and what is bought for new logs"), MONEY,
              .expression = PER_NEW_LOG ("(SUM(Spawn_share)-SUM(Spawn_lost)+Pool_new)"),
              .note = N_ ("at this season's cost for a new log")),
};

static const BedBlock blocks[] = {
  { BED_BLOCK_FIGURES (coming_figures) },
  { .heading
    = N_ ("The next three seasons if no new logs were made. The second and third allow for logs "
          "lost and for good and bad years, too"),
    BED_BLOCK_TABLE ("Outlook", outlook_columns, outlook_question) },
  { BED_BLOCK_FIGURES (plan_figures) },
};

const BedBookSheet bed_sheet_next = {
  .name = N_ ("Next season"),
  .question = N_ ("What next season may bring by this farm's own records, and what to cut and buy. "
                  "The sheet Crop by age shows the steps."),
  BED_BLOCKS (blocks),
  .one_page = TRUE,
  .chart = &(const BedBookChart){ .title = N_ ("What a log gave in each year of its life"),
                                  .labels = "Ages_year",
                                  .values = "Ages_yield",
                                  .cell = BED_BOOK_CELL_MASS_PER_LOG,
                                  .width = 720,
                                  .height = 260 },
  .chart_rows = 15,
};
