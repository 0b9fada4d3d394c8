#include "report/sheet.h"


#include <glib/gi18n-lib.h>

/* Logs of one first season in one season of their lives: those that stood in it, to
 * the one they were retired in. SQL's "stood" below. */
static const BedColumn history_columns[] = {
  BED_COLUMN (N_ ("First season"), YEAR, 12, .name = "since"),
  BED_COLUMN (N_ ("Season"), YEAR, 12, .name = "season"),
  BED_COLUMN (N_ ("Year of life"), YEAR, 12, .name = "age", .expression = "[season]-[since]"),
  BED_COLUMN (N_ ("Logs"), COUNT, 12, .name = "logs", BED_SUMMED),
  BED_COLUMN (N_ ("Picked"), MASS, 12, .name = "mass", BED_SUMMED),
  BED_COLUMN (N_ ("Each log"), MASS_PER_LOG, 12, .expression = "[mass]/[logs]", BED_AGAIN),
};

/* The seasons from the first one on. */
#define SEASONS                                                                                    \
  " season (season) AS (SELECT min (since) FROM log_span"                                          \
  "  UNION ALL SELECT season + 1 FROM season WHERE season < ?3)"

static const char history_question[] =
  "WITH RECURSIVE" SEASONS ","
  " crop (since, season, mass) AS MATERIALIZED (SELECT bed_season (b.inoculated_on), c.season,"
  "  sum (c.mass) FROM crop_batch c JOIN batch b ON b.id = c.batch GROUP BY 1, 2)"
  " SELECT s.since, y.season, sum (s.logs), coalesce ((SELECT c.mass FROM crop c"
  "   WHERE c.since = s.since AND c.season = y.season), 0)"
  " FROM log_span s JOIN season y ON s.since <= y.season AND y.season <= s.until"
  " GROUP BY 1, 2 ORDER BY 1, 2";

static const BedColumn age_columns[] = {
  BED_COLUMN (N_ ("Year of life"), YEAR, 12, .name = "year"),
  BED_COLUMN (N_ ("Logs, all seasons"), COUNT, 12, .name = "logs", BED_SUMMED,
              .expression = "SUMIFS(History_logs,History_age,[year])"),
  BED_COLUMN (N_ ("Picked, all seasons"), MASS, 12, .name = "mass", BED_SUMMED,
              .expression = "SUMIFS(History_mass,History_age,[year])"),
  BED_COLUMN (N_ ("Each log that year"), MASS_PER_LOG, 12, .name = "yield",
              .expression = "[mass]/[logs]", BED_AGAIN),
};

static const char age_question[] =
  "WITH RECURSIVE" SEASONS
  " SELECT DISTINCT y.season - s.since FROM log_span s JOIN season y ON s.since <= y.season"
  "  AND y.season <= s.until ORDER BY 1";

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
  " JOIN season_batch n ON n.batch = b.id WHERE n.lives > 0 ORDER BY b.inoculated_on, b.code";

/* Each season past and over by the same reckoning, with what was known before it. */
#define KNOWN(what, more) "SUMIFS(History_" what ",History_season,\"<\"&[season]" more ")"
#define AT_THAT_AGE ",History_age,[age]"

static const BedColumn before_columns[] = {
  BED_COLUMN (N_ ("First season"), YEAR, 12, .name = "since"),
  BED_COLUMN (N_ ("Season"), YEAR, 12, .name = "season"),
  BED_COLUMN (N_ ("Year of life"), YEAR, 12, .name = "age", .expression = "[season]-[since]"),
  BED_COLUMN (N_ ("Logs alive before it"), COUNT, 12, .name = "alive"),
  BED_COLUMN (N_ ("Each log, known then"), MASS_PER_LOG, 12, .name = "yield",
              .expression = "IFERROR(" KNOWN ("mass", AT_THAT_AGE) "/" KNOWN ("logs", AT_THAT_AGE)
                            "," KNOWN ("mass", "") "/" KNOWN ("logs", "") ")"),
  BED_COLUMN (N_ ("Expected"), MASS, 12, .name = "expected", .expression = "[alive]*[yield]"),
};

static const char before_question[] =
  "WITH RECURSIVE" SEASONS
  " SELECT s.since, y.season, sum (s.logs) FROM log_span s JOIN season y ON s.since < y.season"
  "  AND y.season <= s.until WHERE y.season < ?3 OR ?2 <= (SELECT bed_today ())"
  " GROUP BY 1, 2 ORDER BY 2, 1";

static const BedColumn past_columns[] = {
  BED_COLUMN (N_ ("Season"), YEAR, 12, .name = "season"),
  BED_COLUMN (N_ ("Expected before it"), MASS, 12, .name = "expected",
              .expression = "SUMIFS(Before_expected,Before_season,[season])"),
  BED_COLUMN (N_ ("Picked from these logs"), MASS, 12, .name = "mass",
              .expression = "SUMIFS(History_mass,History_season,[season],History_age,\">0\")"),
  BED_COLUMN (N_ ("Picked for each expected"), NUMBER, 12, .name = "ratio",
              .expression = "[mass]/[expected]"),
  BED_COLUMN (N_ ("logarithm"), NUMBER, 12, .name = "log", BED_WORKING,
              .expression = "LN([mass]/[expected])"),
  BED_COLUMN (N_ ("its square"), NUMBER, 12, .name = "square", BED_WORKING,
              .expression = "LN([mass]/[expected])*LN([mass]/[expected])"),
};

static const char past_question[] =
  "WITH RECURSIVE" SEASONS
  " SELECT DISTINCT y.season FROM log_span s JOIN season y ON s.since < y.season"
  "  AND y.season <= s.until WHERE y.season < ?3 OR ?2 <= (SELECT bed_today ()) ORDER BY 1";

static const BedFigure history_figures[] = {
  BED_FIGURE_HEADING (N_ ("What a soak gave in earlier seasons (for the sheet Weeks)")),
  BED_FIGURE (N_ ("Logs lifted from the tank"), COUNT, .name = "Soaked_before",
              .sql = "SELECT coalesce (sum ((SELECT count (*) FROM soaked sd"
                     " WHERE sd.soak = so.id)), 0) FROM soak so WHERE so.taken_out < ?1"),
  BED_FIGURE (N_ ("Picked"), MASS, .name = "Crop_before",
              .sql = "SELECT coalesce (sum (mass), 0) FROM crop_batch WHERE season < ?3"),
  BED_FIGURE (N_ ("Each log lifted"), MASS_PER_LOG, .expression = "Crop_before/Soaked_before",
              .note = N_ ("expected the week after lifting")),
};

/* J. Aitchison, J. A. C. Brown, The Lognormal Distribution, 1957 (from memory): a new
 * ratio lies within exp (m +- t s sqrt (1 + 1/n)); as science/forecast.h has it. */
#define MEAN_LOG "SUM(Past_log)/COUNT(Past_log)"
#define HALF_WIDTH                                                                                 \
  "TINV(0.2,COUNT(Past_log)-1)*SQRT(MAX(0,SUM(Past_square)-SUM(Past_log)*SUM(Past_log)"            \
  "/COUNT(Past_log))/(COUNT(Past_log)-1))*SQRT(1+1/COUNT(Past_log))"

/* By science/forecast.h and science/survival.h; how past seasons turned out widens all alike. */
static const BedColumn outlook_columns[] = {
  BED_COLUMN (N_ ("Season"), YEAR, 12, .name = "season"),
  BED_COLUMN (N_ ("Expected of the logs alive"), MASS, 12, .name = "expected"),
  BED_COLUMN (N_ ("As past seasons turned out"), MASS, 12,
              .expression = "IFERROR([expected]*EXP(" MEAN_LOG "),[expected])"),
  BED_COLUMN (N_ ("Nine times in ten above"), MASS, 12,
              .expression = "[expected]*EXP(" MEAN_LOG "-" HALF_WIDTH ")"),
  BED_COLUMN (N_ ("Nine times in ten below"), MASS, 12,
              .expression = "[expected]*EXP(" MEAN_LOG "+" HALF_WIDTH ")"),
};

static const char outlook_question[] =
  "SELECT season, expected FROM season_coming ORDER BY season";

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
  BED_FIGURE (N_ ("Allowing for how past seasons turned out"), MASS, .name = "Forecast",
              .expression = "IFERROR(SUM(Coming_expected)*EXP(" MEAN_LOG "),"
                            "SUM(Coming_expected))",
              .note = N_ ("as likely more as less")),
  BED_FIGURE (N_ ("Nine times in ten above"), MASS, .name = "Forecast_low",
              .expression = "SUM(Coming_expected)*EXP(" MEAN_LOG "-" HALF_WIDTH ")",
              .note = N_ ("known from two past seasons on")),
  BED_FIGURE (N_ ("Nine times in ten below"), MASS, .name = "Forecast_high",
              .expression = "SUM(Coming_expected)*EXP(" MEAN_LOG "+" HALF_WIDTH ")"),
  BED_FIGURE (N_ ("Missing"), MASS, .name = "Missing", .style = BED_STYLE_STRONG,
              .expression = "MAX(0,Wanted-Forecast)"),

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
  { .heading = N_ ("What the logs of each year gave, season by season"),
    BED_BLOCK_TABLE ("History", history_columns, history_question) },
  { .heading = N_ ("What a log gave in each year of its life"),
    BED_BLOCK_TABLE ("Ages", age_columns, age_question) },
  { .heading = N_ ("What the logs alive give reason to expect"),
    BED_BLOCK_TABLE ("Coming", coming_columns, coming_question) },
  { .heading = N_ ("How that reckoning did in past seasons"),
    BED_BLOCK_TABLE ("Before", before_columns, before_question) },
  { BED_BLOCK_TABLE ("Past", past_columns, past_question) },
  { .heading = N_ ("If no new logs were made: the next three seasons, losses of logs allowed for"),
    BED_BLOCK_TABLE ("Outlook", outlook_columns, outlook_question) },
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
