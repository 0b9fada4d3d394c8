#include "report/book_sheet.h"

#include <glib/gi18n-lib.h>

/* Shared costs are divided by the largest remainder, live: each share is first
 * cut to whole minor units ("part"), and what is left over goes, one unit each,
 * to the largest remainders ("left"), the earlier row first where they tie. All
 * of it in whole numbers, so that rounding cannot upset it. science/apportion.h
 * says the rule; tests/report compares. */
#define UNITS(pool) "ABS(ROUND(" pool "*MINOR,0))"
#define PART(pool, by) "IF(SUM(Costs_" by ")=0,0,INT(" UNITS (pool) "*[" by "]/SUM(Costs_" by ")))"
#define LEFT(pool, by, part) UNITS (pool) "*[" by "]-[" part "]*SUM(Costs_" by ")"
#define SHARE(pool, by, part, left)                                                                \
  "SIGN(" pool ")*([" part "]+IF(AND([" by "]>0,COUNTIF(Costs_" left ",\">\"&[" left "])"          \
  "+COUNTIF([^" left "]:[" left "],[" left "])-1<" UNITS (pool) "-SUM(Costs_" part                 \
                                                                ")),1,0))/MINOR"

#define SHARED(title, pool, by, kind)                                                              \
  BED_COLUMN (title, MONEY, 12, .name = kind, BED_SUMMED,                                          \
              .formula = SHARE (pool, by, kind "_part", kind "_left"))
#define STEPS(pool, by, kind)                                                                      \
  BED_COLUMN (N_ ("whole units of " kind), COUNT, 10, .name = kind "_part", BED_WORKING,           \
              .formula = PART (pool, by)),                                                         \
      BED_COLUMN (N_ ("left over"), COUNT, 12, .name = kind "_left", BED_WORKING,                  \
                  .formula = LEFT (pool, by, kind "_part"))

static const BedBookColumn columns[] = {
  BED_COLUMN_OF ("batch.code", 11, .name = "code"),
  BED_COLUMN (N_ ("First season"), YEAR, 9, .name = "since"),
  BED_COLUMN (N_ ("Logs in the season"), COUNT, 9, .name = "logs", BED_SUMMED,
              .expression = "COUNTIFS(Logs_batch,\"=\"&[code],Logs_in_season,1)"),
  BED_COLUMN (N_ ("New this season"), COUNT, 9, .name = "new", BED_SUMMED,
              .formula = "IF([since]=Season,[logs],0)"),
  BED_COLUMN (N_ ("Picked"), MASS, 11, .name = "mass", BED_SUMMED,
              .expression = "SUMIFS(Picks_mass,Picks_batch,\"=\"&[code])"),
  BED_COLUMN (N_ ("Direct: spawn and purchases"), MONEY, 12, .name = "direct", BED_SUMMED,
              .expression = "SUMIFS(Purchases_cost,Purchases_batch,\"=\"&[code],"
                            "Purchases_scope,{purchase.scope.batch})"
                            "+SUMIFS(Spawn_share,Spawn_batch,\"=\"&[code])"),
  SHARED (N_ ("Purchases for new batches"), "Pool_new", "new", "common"),
  BED_COLUMN (N_ ("Labour on it"), MONEY, 12, .name = "labour", BED_SUMMED,
              .expression = "SUMIFS(Hours_cost,Hours_batch,\"=\"&[code])"),
  SHARED (N_ ("Labour shared"), "Pool_labour", "logs", "work"),
  SHARED (N_ ("Equipment"), "Pool_equipment", "logs", "tools"),
  SHARED (N_ ("Overhead"), "Pool_overhead", "logs", "overhead"),
  BED_COLUMN (N_ ("Whole cost"), MONEY, 12, .name = "total", BED_SUMMED,
              .expression = "[direct]+[common]+[labour]+[work]+[tools]+[overhead]"),
  BED_COLUMN (N_ ("Cost"), MONEY_PER_LOG, 11, .expression = "[total]/[logs]", BED_AGAIN),
  BED_COLUMN (N_ ("Cost"), MONEY_PER_MASS, 11, .expression = "[total]/[mass]", BED_AGAIN),
  STEPS ("Pool_new", "new", "common"),
  STEPS ("Pool_labour", "logs", "work"),
  STEPS ("Pool_equipment", "logs", "tools"),
  STEPS ("Pool_overhead", "logs", "overhead"),
};

#define IN_SEASON(day) " " day " >= ?1 AND " day " < ?2 "
#define SCOPED(scopes)                                                                             \
  "(SELECT coalesce (sum (cost), 0) FROM purchase_paid WHERE scope IN (" scopes                    \
  ") AND" IN_SEASON ("bought_on") ")"
/* Packaging is of what is sold, the rest of what is made. */
#define STOCK(test)                                                                                \
  "(SELECT coalesce (sum (used), 0) FROM stock_used WHERE season = ?3 AND category " test ")"
#define POOL_MADE "(" SCOPED ("'season'") " + " STOCK ("<> 'packaging'") ")"
#define POOL_LABOUR                                                                                \
  "(SELECT coalesce (sum (cost), 0) FROM hours_paid WHERE batch IS NULL AND" IN_SEASON (           \
      "worked_on") ")"
#define POOL_EQUIPMENT "(SELECT coalesce (sum (charge), 0) FROM equipment_charge WHERE season = ?3)"
/* SQL in lines of its own. */
/* clang-format off */
/* Nothing new to carry it: what was bought for new batches is overhead. */
#define NO_NEW_LOGS                                                                                \
  "NOT EXISTS (SELECT 1 FROM log l JOIN batch b ON b.id = l.batch WHERE"                           \
  IN_SEASON ("b.inoculated_on") "AND bed_stood (l.retired_on, ?1))"
#define LOST_SPAWN                                                                                 \
  "(SELECT coalesce (sum (cost), 0) FROM spawn_share WHERE batch IS NULL AND" IN_SEASON ("day") ")"
#define POOL_OVERHEAD                                                                              \
  "(" SCOPED ("'yard', 'overhead'") " + " LOST_SPAWN " + " STOCK ("= 'packaging'")                 \
  " + CASE WHEN " NO_NEW_LOGS " THEN " POOL_MADE                                                   \
  " ELSE 0 END)"

#define SPLIT(kind, pool, by)                                                                      \
  " CASE WHEN w." by " > 0 THEN abs (" pool ") * r." by " / w." by " ELSE 0 END AS " kind "_part," \
  " CASE WHEN w." by " > 0 THEN abs (" pool ") * r." by " % w." by " ELSE 0 END AS " kind "_left," \
  " " pool " AS " kind "_pool, r." by " AS " kind "_by"
#define JOINED(kind)                                                                               \
  " sign (" kind "_pool) * (" kind "_part + (" kind "_by > 0 AND row_number () OVER"               \
  " (ORDER BY " kind "_left DESC, ord) <= abs (" kind "_pool) - sum (" kind "_part) OVER ()))"
#define WORKING(kind) ", " kind "_part, " kind "_left"

/* A batch that is not inoculated yet has the cost of its winter work. */
static const char question[] =
  "WITH every AS (SELECT b.code, bed_season (b.inoculated_on) AS since,"
  "  row_number () OVER (ORDER BY b.inoculated_on, b.code) AS ord, coalesce (h.stood, 0) AS logs,"
  "  CASE WHEN" IN_SEASON ("b.inoculated_on") "THEN coalesce (h.stood, 0) ELSE 0 END AS new,"
  "  (SELECT coalesce (sum (cost), 0) FROM purchase_paid p WHERE p.batch = b.id"
  "    AND p.scope = 'batch' AND" IN_SEASON ("p.bought_on") ")"
  "  + CASE WHEN" IN_SEASON ("b.inoculated_on") "THEN coalesce ((SELECT sum (u.cost)"
  "    FROM spawn_share u WHERE u.batch = b.id), 0) ELSE 0 END"
  "  AS direct,"
  "  (SELECT coalesce (sum (h.cost), 0) FROM hours_paid h WHERE h.batch = b.id AND"
  IN_SEASON ("h.worked_on") ") AS labour,"
  "  EXISTS (SELECT 1 FROM crop_batch c WHERE c.batch = b.id AND c.season = ?3) AS picked"
  "  FROM batch b LEFT JOIN season_batch h ON h.batch = b.id),"
  " kept AS (SELECT * FROM every WHERE logs > 0 OR direct <> 0 OR labour <> 0 OR picked),"
  " whole AS (SELECT sum (logs) AS logs, sum (new) AS new FROM kept),"
  " pools AS (SELECT " POOL_MADE " AS new_pool, " POOL_LABOUR " AS labour_pool,"
  "  " POOL_EQUIPMENT " AS equipment_pool, " POOL_OVERHEAD " AS overhead_pool),"
  " split AS (SELECT r.*," SPLIT ("common", "new_pool", "new") ","
  SPLIT ("work", "labour_pool", "logs") "," SPLIT ("tools", "equipment_pool", "logs") ","
  SPLIT ("overhead", "overhead_pool", "logs")
  "  FROM kept r, whole w, pools)"
  " SELECT code, since, new," JOINED ("common") "," JOINED ("work")
  "," JOINED ("tools") "," JOINED ("overhead") WORKING ("common") WORKING ("work")
  WORKING ("tools") WORKING ("overhead")
  " FROM split ORDER BY ord";
/* clang-format on */

#define SCOPE_SUM(scope) "SUMIFS(Purchases_cost,Purchases_scope,{purchase.scope." scope "})"

#define STOCK_SUM(test) "SUMIFS(Stock_change,Stock_category," test "{purchase.category.packaging})"

static const BedBookFigure figures[] = {
  BED_FIGURE (N_ ("Purchases for this season's batches"), MONEY, .name = "Pool_new",
              .formula = SCOPE_SUM ("season") "+" STOCK_SUM ("\"<>\"&"), .sql = "SELECT " POOL_MADE,
              .note = N_ ("by new logs")),
  BED_FIGURE (N_ ("Work on no one batch"), MONEY, .name = "Pool_labour",
              .formula = "SUM(Hours_cost)-SUM(Costs_labour)", .sql = "SELECT " POOL_LABOUR,
              .note = N_ ("by logs in the season")),
  BED_FIGURE (N_ ("Depreciation of equipment"), MONEY, .name = "Pool_equipment",
              .expression = "SUM(Equipment_charge)", .note = N_ ("by logs in the season")),
  BED_FIGURE (N_ ("Yard and overhead"), MONEY, .name = "Pool_overhead",
              .formula = SCOPE_SUM ("yard") "+" SCOPE_SUM (
                  "overhead") "+SUM(Spawn_lost)+" STOCK_SUM ("") "+IF(SUM(Costs_new)=0,Pool_new,0)",
              .sql = "SELECT " POOL_OVERHEAD, .note = N_ ("by logs in the season")),
  BED_FIGURE (N_ ("Season's whole cost"), MONEY, .name = "Total_cost", .style = BED_STYLE_STRONG,
              .expression = "SUM(Purchases_cost)+SUM(Stock_change)+SUM(Spawn_share)+SUM(Hours_cost)"
                            "+SUM(Equipment_charge)"),
  BED_FIGURE (N_ ("Not charged to any batch"), MONEY, .name = "Cost_uncharged",
              .expression = "ROUND(Total_cost-SUM(Costs_total),4)",
              .note = N_ ("nothing, unless there were no logs to carry it")),
};

const BedBookSheet bed_sheet_costs = {
  .name = N_ ("Cost per log"),
  .question = N_ ("The season's whole cost by batch, per log and by mass. What is shared out is on "
                  "the sheet Shared costs; the grey columns are the steps."),
  BED_ONE_TABLE ("Costs", columns, question),
};

static const BedBlock pool_blocks[] = { { BED_BLOCK_FIGURES (figures) } };

const BedBookSheet bed_sheet_pools = {
  .name = N_ ("Shared costs"),
  .question = N_ ("What no one batch caused, divided to the last cent by the largest remainder."),
  BED_BLOCKS (pool_blocks),
  .one_page = TRUE,
};
