#include "report/book_sheet.h"

#include "model/season/outlook.h"

#include <glib/gi18n-lib.h>

static const BedBookColumn log_columns[] = {
  BED_COLUMN_OF ("log.code", 11, .name = "code"),
  BED_COLUMN_OF ("batch.code", 7, .name = "batch"),
  BED_COLUMN_OF ("wood.common_name", 16, .name = "wood"),
  BED_COLUMN (N_ ("Strain"), TEXT, 19, .name = "strain"),
  BED_COLUMN_OF ("felling.felled_on", 12, .title = N_ ("Felled")),
  BED_COLUMN_OF ("batch.inoculated_on", 12, .title = N_ ("Inoculated")),
  BED_COLUMN_OF ("log.length", 7),
  BED_COLUMN_OF ("log.small_diameter", 7, .title = N_ ("Small end")),
  BED_COLUMN_OF ("log.large_diameter", 7, .title = N_ ("Large end")),
  BED_COLUMN (N_ ("Size class"), YEAR, 6, .name = "size"),
  BED_COLUMN (N_ ("Dry wood"), MASS, 9, .name = "dry", BED_SUMMED),
  BED_COLUMN (N_ ("Stack at the end"), TEXT, 13, .name = "stack"),
  BED_COLUMN (N_ ("In the season"), COUNT, 7, .name = "in_season", BED_SUMMED),
  BED_COLUMN (N_ ("Alive at the end"), COUNT, 7, .name = "alive", BED_SUMMED),
  BED_COLUMN (N_ ("Soaks"), COUNT, 6, .name = "soaks", BED_SUMMED),
  BED_COLUMN (N_ ("Picked from it"), MASS, 8, .name = "own",
              .expression = "SUMIFS(Picks_mass,Picks_log,\"=\"&[code])", BED_SUMMED),
  BED_COLUMN (N_ ("Share of stack picks"), MASS, 9, .name = "share", BED_SUMMED),
  BED_COLUMN (N_ ("This season"), MASS, 8, .name = "season", .expression = "[own]+[share]",
              BED_SUMMED),
  BED_COLUMN (N_ ("Earlier seasons"), MASS, 8, .name = "earlier", BED_SUMMED),
  BED_COLUMN (N_ ("In all"), MASS, 8, .name = "in_all", .expression = "[season]+[earlier]",
              BED_SUMMED),
  BED_COLUMN (N_ ("Fresh mass over dry wood"), PERCENT, 9, .expression = "[in_all]/[dry]"),
  BED_COLUMN_OF ("log.retired_on", 12, .title = N_ ("Retired")),
  BED_COLUMN_OF ("log.retired_why", 22, .title = N_ ("Why")),
  BED_COLUMN (N_ ("This season, squared"), NUMBER, 10, .name = "square", BED_WORKING,
              .expression = "[season]*[season]"),
};

static const char log_question[]
    = "WITH bath (log, times) AS MATERIALIZED (SELECT sd.log, count (*)"
      "  FROM soak so CROSS JOIN soaked sd ON sd.soak = so.id" /* by day, then by soak */
      "  WHERE so.put_in >= ?1 AND so.put_in < ?2 GROUP BY sd.log)"
      " SELECT l.code, b.code, w.common_name, n.strain, f.felled_on,"
      "        b.inoculated_on, l.length, l.small_diameter, l.large_diameter,"
      "        n.size, n.dry,"
      "        k.name, n.stood, n.lives, coalesce (t.times, 0), n.share, n.earlier,"
      "        CASE WHEN NOT bed_stood (l.retired_on, ?2) THEN l.retired_on END,"
      "        CASE WHEN NOT bed_stood (l.retired_on, ?2) THEN l.retired_why END"
      "  FROM log l JOIN season_log n ON n.log = l.id LEFT JOIN stack k ON k.id = n.stack"
      "  LEFT JOIN bath t ON t.log = l.id JOIN felling f ON f.id = l.felling"
      "  JOIN wood w ON w.id = f.wood"
      "  LEFT JOIN batch b ON b.id = l.batch AND b.inoculated_on < ?2"
      " WHERE f.felled_on < ?2 ORDER BY l.code";

const BedBookSheet bed_sheet_logs = {
  .name = N_ ("Logs"),
  .question = N_ ("Each log's life up to the end of the season."),
  .list = TRUE,
  BED_ONE_TABLE ("Logs", log_columns, log_question),
};

static const BedBookColumn stack_columns[] = {
  BED_COLUMN_OF ("stack.name", 18, .name = "name"),
  BED_COLUMN_OF ("area.name", 18),
  BED_COLUMN_OF ("stack.kind", 14),
  BED_COLUMN_OF ("stack.built_on", 12),
  BED_COLUMN_OF ("stack.taken_down_on", 12, .title = N_ ("Taken down")),
  BED_COLUMN (N_ ("Logs at the end"), COUNT, 10, .name = "logs",
              .expression = "COUNTIFS(Logs_stack,\"=\"&[name])", BED_SUMMED),
  BED_COLUMN (N_ ("These logs gave this season"), MASS, 14, .name = "mass",
              .expression = "SUMIFS(Logs_season,Logs_stack,\"=\"&[name])", BED_SUMMED),
  BED_COLUMN (N_ ("Each"), MASS_PER_LOG, 11, .expression = "[mass]/[logs]", BED_AGAIN),
};

static const char stack_question[]
    = "SELECT k.name, a.name, k.kind, k.built_on,"
      "        CASE WHEN k.taken_down_on < ?2 THEN k.taken_down_on END"
      "  FROM stack k JOIN area a ON a.id = k.area"
      " WHERE k.built_on < ?2 AND (k.taken_down_on IS NULL OR k.taken_down_on >= ?1)"
      " ORDER BY a.name, k.name";

const BedBookSheet bed_sheet_stacks = {
  .name = N_ ("Stacks"),
  .question = N_ ("What stood in the yard, and what the logs that lie there gave."),
  BED_ONE_TABLE ("Stacks", stack_columns, stack_question),
};
