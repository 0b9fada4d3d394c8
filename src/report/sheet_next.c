#include "report/sheet.h"

#include "report/season_sql.h"

#include <glib/gi18n-lib.h>

/* Years of life counted: 0 is the season of inoculation. */
#define MOST_YEARS "9"

static const BedColumn age_columns[] = {
  BED_COLUMN (N_ ("Year of life"), YEAR, 12, .name = "year"),
  BED_COLUMN (N_ ("Logs, all seasons"), COUNT, 12, .name = "logs", BED_SUMMED),
  BED_COLUMN (N_ ("Picked, all seasons"), MASS, 12, .name = "mass", BED_SUMMED),
  BED_COLUMN (N_ ("Each log that year"), MASS_PER_LOG, 14, .name = "yield",
              .expression = "[mass]/[logs]", BED_AGAIN),
};

/* What logs gave at each age. A log counts in every season from its inoculation to
 * the one it was retired in. */
static const char age_question[] =
  "WITH RECURSIVE year (year) AS (SELECT 0 UNION ALL SELECT year + 1 FROM year"
  "  WHERE year < " MOST_YEARS "),"
  " span (since, until, logs) AS (SELECT bed_season (b.inoculated_on),"
  "  min (?3, coalesce (bed_season (l.retired_on), ?3)), count (*)"
  "  FROM log l JOIN batch b ON b.id = l.batch WHERE b.inoculated_on < ?2 GROUP BY 1, 2),"
  " day (batch, picked_on, mass) AS (SELECT batch, picked_on, sum (mass) FROM batch_day"
  "  WHERE picked_on < ?2 GROUP BY 1, 2),"
  " crop (year, mass) AS (SELECT bed_season (d.picked_on) - bed_season (b.inoculated_on),"
  "  sum (d.mass) FROM day d JOIN batch b ON b.id = d.batch GROUP BY 1),"
  " age (year, logs, mass) AS (SELECT y.year,"
  "  (SELECT sum (s.logs) FROM span s WHERE s.since + y.year <= s.until), coalesce (c.mass, 0)"
  "  FROM year y LEFT JOIN crop c ON c.year = y.year)"
  " SELECT year, logs, mass FROM age WHERE logs > 0 ORDER BY year";

static const BedColumn coming_columns[] = {
  BED_COLUMN (N_ ("Batch"), TEXT, 12, .name = "code"),
  BED_COLUMN (N_ ("Inoculated"), DATE, 12),
  BED_COLUMN (N_ ("First season"), YEAR, 12, .name = "since"),
  BED_COLUMN (N_ ("Alive at the end"), COUNT, 12, .name = "alive", BED_SUMMED,
              .expression = "COUNTIFS(Logs_batch,\"=\"&[code],Logs_alive,1)"),
  BED_COLUMN (N_ ("Year of life next season"), YEAR, 12, .name = "year",
              .formula = "Season+1-[since]"),
  BED_COLUMN (N_ ("Each log at that age"), MASS_PER_LOG, 12, .name = "yield",
              .expression = "IFERROR(SUMIFS(Ages_mass,Ages_year,[year])"
                            "/SUMIFS(Ages_logs,Ages_year,[year]),SUM(Ages_mass)/SUM(Ages_logs))"),
  BED_COLUMN (N_ ("Expected"), MASS, 12, .name = "expected", .expression = "[alive]*[yield]",
              BED_SUMMED),
};

/* An age not on record yet is taken to give what a log gives on average. */
static const char coming_question[] =
  "SELECT b.code, b.inoculated_on, bed_season (b.inoculated_on),"
  " ?3 + 1 - bed_season (b.inoculated_on) FROM batch b"
  " WHERE b.inoculated_on < ?2 AND EXISTS (SELECT 1 FROM log l WHERE l.batch = b.id"
  "  AND " LOG_ALIVE ") ORDER BY b.inoculated_on, b.code";

#define BEFORE_SEASON(day) " " day " < ?1 "

static const BedFigure history_figures[] = {
  BED_FIGURE_HEADING (N_ ("What a soak gave in earlier seasons (for the sheet Weeks)")),
  BED_FIGURE (N_ ("Logs lifted from the tank"), COUNT, .name = "Soaked_before",
              .sql = "SELECT count (*) FROM soaked sd JOIN soak so ON so.id = sd.soak"
                     " WHERE" BEFORE_SEASON ("so.taken_out")),
  BED_FIGURE (N_ ("Picked"), MASS, .name = "Crop_before",
              .sql = "SELECT coalesce (sum (mass), 0) FROM pick WHERE" BEFORE_SEASON ("picked_on")),
  BED_FIGURE (N_ ("Each log lifted"), MASS_PER_LOG, .expression = "Crop_before/Soaked_before",
              .note = N_ ("expected the week after lifting")),
};

static const BedFigure plan_figures[] = {
  BED_FIGURE_HEADING (N_ ("What is wanted")),
  BED_FIGURE (N_ ("Wanted each week"), MASS, .name = "Weekly_demand", .style = BED_STYLE_INPUT,
              .sql = "SELECT coalesce (weekly_demand, 0) FROM farm",
              .note = N_ ("from the farm's settings; try others")),
  BED_FIGURE (N_ ("Weeks with picks this season"), COUNT, .name = "Picking_weeks",
              .formula = "COUNTIF(Weeks_mass,\">0\")",
              .sql = "SELECT count (DISTINCT bed_week (day)) FROM (SELECT DISTINCT picked_on AS day"
                     " FROM pick WHERE picked_on >= ?1 AND picked_on < ?2)"),
  BED_FIGURE (N_ ("Wanted in a season"), MASS, .name = "Wanted",
              .expression = "Weekly_demand*Picking_weeks"),
  BED_FIGURE (N_ ("Expected next season"), MASS, .name = "Expected",
              .expression = "SUM(Coming_expected)"),
  BED_FIGURE (N_ ("Missing"), MASS, .name = "Missing", .style = BED_STYLE_STRONG,
              .expression = "MAX(0,Wanted-Expected)"),

  BED_FIGURE_HEADING (N_ ("What would make it up")),
  BED_FIGURE (N_ ("Each log, each season of its life"), MASS_PER_LOG, .name = "Mean_yield",
              .expression = "SUM(Ages_mass)/SUM(Ages_logs)"),
  BED_FIGURE (N_ ("Logs to inoculate"), COUNT, .name = "Logs_wanted",
              .expression = "Missing*SUM(Ages_logs)/SUM(Ages_mass)", .style = BED_STYLE_STRONG,
              .note = N_ ("new logs bear after their spawn run, so for the season after next")),
  BED_FIGURE (N_ ("Logs from a tree"), NUMBER, .name = "Logs_from_tree",
              .sql = "SELECT count (l.id) * 1.0 / nullif ((SELECT sum (trees) FROM felling f"
                     " WHERE f.trees > 0 AND f.felled_on < ?2), 0)"
                     " FROM log l JOIN felling f ON f.id = l.felling"
                     " WHERE f.trees > 0 AND f.felled_on < ?2",
              .note = N_ ("of the farm's own fellings")),
  BED_FIGURE (N_ ("Trees to cut"), NUMBER,
              .expression = "Missing*SUM(Ages_logs)/SUM(Ages_mass)/Logs_from_tree"),
  BED_FIGURE (N_ ("Spawn to buy, by mass"), MASS,
              .expression = "Missing*SUM(Ages_logs)/SUM(Ages_mass)*SUM(Spawn_mass)/SUM(Costs_new)",
              .note = N_ ("as much for a log as this season's new logs took")),
  BED_FIGURE (N_ ("and in pieces"), COUNT,
              .expression = "Missing*SUM(Ages_logs)/SUM(Ages_mass)*SUM(Spawn_pieces)"
                            "/SUM(Costs_new)"),
};

static const BedBlock blocks[] = {
  { .heading = N_ ("What a log gave in each year of its life"),
    BED_BLOCK_TABLE ("Ages", age_columns, age_question) },
  { .heading = N_ ("What the logs alive give reason to expect"),
    BED_BLOCK_TABLE ("Coming", coming_columns, coming_question) },
  { BED_BLOCK_FIGURES (plan_figures) },
  { BED_BLOCK_FIGURES (history_figures) },
};

const BedSheet bed_sheet_next = {
  .name = N_ ("Next season"),
  .question = N_ ("What next season may bring by this farm's own records, and what to cut and buy. "
                  "Weather and losses of logs are not in it; an age not on record yet takes the "
                  "mean of all."),
  .blocks = blocks,
  .n_blocks = G_N_ELEMENTS (blocks),
};
