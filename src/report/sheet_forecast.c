#include "report/book_sheet.h"

#include <glib/gi18n-lib.h>

/* Logs of one first season in one season of their lives: those that stood in it, to
 * the one they were retired in. What batches without single logs gave is no log's. */
static const BedBookColumn history_columns[] = {
  BED_COLUMN (N_ ("First season"), YEAR, 12, .name = "since"),
  BED_COLUMN (N_ ("Season"), YEAR, 12, .name = "season"),
  BED_COLUMN (N_ ("Year of life"), YEAR, 12, .name = "age", .expression = "[season]-[since]"),
  BED_COLUMN (N_ ("Logs"), COUNT, 12, .name = "logs", BED_SUMMED),
  BED_COLUMN (N_ ("Picked"), MASS, 12, .name = "mass", BED_SUMMED),
  BED_COLUMN (N_ ("Each log"), MASS_PER_LOG, 12, .expression = "[mass]/[logs]"),
};

/* The seasons from the first one on. */
#define SEASONS                                                                                    \
  " season (season) AS (SELECT min (since) FROM log_span"                                          \
  "  UNION ALL SELECT season + 1 FROM season WHERE season < ?3)"

static const char history_question[]
    = "WITH RECURSIVE" SEASONS ","
      " crop (since, season, mass) AS MATERIALIZED (SELECT bed_season (b.inoculated_on), c.season,"
      "  sum (c.mass) FROM crop_batch c JOIN batch b ON b.id = c.batch"
      "  WHERE EXISTS (SELECT 1 FROM log l WHERE l.batch = b.id) GROUP BY 1, 2)"
      " SELECT s.since, y.season, sum (s.logs), coalesce ((SELECT c.mass FROM crop c"
      "   WHERE c.since = s.since AND c.season = y.season), 0)"
      " FROM log_span s JOIN season y ON s.since <= y.season AND y.season <= s.until"
      " GROUP BY 1, 2 ORDER BY 1, 2";

static const BedBookColumn age_columns[] = {
  BED_COLUMN (N_ ("Year of life"), YEAR, 12, .name = "year"),
  BED_COLUMN (N_ ("Logs, all seasons"), COUNT, 12, .name = "logs", BED_SUMMED,
              .expression = "SUMIFS(History_logs,History_age,[year])"),
  BED_COLUMN (N_ ("Picked, all seasons"), MASS, 12, .name = "mass", BED_SUMMED,
              .expression = "SUMIFS(History_mass,History_age,[year])"),
  BED_COLUMN (N_ ("Each log that year"), MASS_PER_LOG, 12, .name = "yield",
              .expression = "[mass]/[logs]"),
  BED_COLUMN (N_ ("Logs alive to begin it"), PERCENT, 12, .name = "alive"),
  BED_COLUMN (N_ ("That year, by each log made"), MASS_PER_LOG, 12, .name = "given",
              .expression = "[alive]*[yield]", BED_SUMMED),
};

/* The shares alive are those of the sheet Survival. */
static const char age_question[]
    = "WITH RECURSIVE" SEASONS ","
      " age (age) AS (SELECT DISTINCT y.season - s.since FROM log_span s"
      "  JOIN season y ON s.since <= y.season AND y.season <= s.until)"
      " SELECT age, 10000 * " BED_ALIVE_AT ("a.age") " FROM age a ORDER BY age";

static const BedBookColumn coming_columns[] = {
  BED_COLUMN_OF ("batch.code", 12, .name = "code"),
  BED_COLUMN_OF ("batch.inoculated_on", 12, .title = N_ ("Inoculated")),
  BED_COLUMN (N_ ("First season"), YEAR, 12, .name = "since"),
  BED_COLUMN (N_ ("Alive at the end"), COUNT, 12, .name = "alive", BED_SUMMED,
              .expression = "COUNTIFS(Logs_batch,\"=\"&[code],Logs_alive,1)"),
  BED_COLUMN (N_ ("Year of life next season"), YEAR, 12, .name = "year",
              .formula = "Season+1-[since]"),
  BED_COLUMN (N_ ("A usual log at that age"), MASS_PER_LOG, 12, .name = "yield"),
};

static const char coming_question[]
    = "SELECT b.code, b.inoculated_on, bed_season (b.inoculated_on),"
      " ?3 + 1 - bed_season (b.inoculated_on), (SELECT l.mass FROM log_coming l"
      "  WHERE l.age = ?3 + 1 - bed_season (b.inoculated_on)) FROM batch b"
      " JOIN season_batch n ON n.batch = b.id WHERE n.lives > 0 ORDER BY b.inoculated_on, b.code";

static const char *const coming_notes[] = {
  N_ ("What is expected is the program's own answer, values and not formulas: logs alive by "
      "level, age, batch and the luck of the season; the middle and the ends of four seasons in "
      "five of some hundred seeded draws. Each season's crop over what its logs should give is "
      "one observation, an empty season too, and the running one by the share that has usually "
      "come by its day. An age not on record yet is taken to give 1 : 2 : 2 : 1 (Maryland "
      "Cooperative Extension, Shiitake Mushrooms Enterprise, c. 2000), halving after the fourth "
      "(ours); how far seasons differ before the farm's own have told it is a guess of ours."),
  NULL,
};

const BedBookSheet bed_sheet_history = {
  .name = N_ ("Crop by season"),
  .question = N_ ("What the logs of each year gave, season by season."),
  BED_ONE_TABLE ("History", history_columns, history_question),
};

static const BedBlock age_blocks[] = {
  { BED_BLOCK_TABLE ("Ages", age_columns, age_question) },
  { .notes = coming_notes },
};

const BedBookSheet bed_sheet_ages = {
  .name = N_ ("Crop by age"),
  .question
  = N_ ("What a log gave in each year of its life: what the sheet Next season comes from."),
  BED_BLOCKS (age_blocks),
  .one_page = TRUE,
};

const BedBookSheet bed_sheet_coming = {
  .name = N_ ("Logs alive"),
  .question = N_ ("What the logs alive give reason to expect next season."),
  BED_ONE_TABLE ("Coming", coming_columns, coming_question),
};
