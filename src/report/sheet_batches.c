#include "report/sheet.h"

#include "report/chart.h"
#include "report/season_sql.h"

#include <glib/gi18n-lib.h>

static const BedColumn batch_columns[] = {
  BED_COLUMN (N_ ("Batch"), TEXT, 9, .name = "code"),
  BED_COLUMN (N_ ("Inoculated"), DATE, 11),
  BED_COLUMN (N_ ("Wood"), TEXT, 17),
  BED_COLUMN (N_ ("Strain"), TEXT, 17),
  BED_COLUMN (N_ ("Logs"), COUNT, 7, .name = "logs",
              .expression = "COUNTIFS(Logs_batch,\"=\"&[code])", BED_SUMMED),
  BED_COLUMN (N_ ("In the season"), COUNT, 8, .name = "in_season",
              .expression = "COUNTIFS(Logs_batch,\"=\"&[code],Logs_in_season,1)", BED_SUMMED),
  BED_COLUMN (N_ ("Alive at the end"), COUNT, 8, .name = "alive",
              .expression = "COUNTIFS(Logs_batch,\"=\"&[code],Logs_alive,1)", BED_SUMMED),
  BED_COLUMN (N_ ("Picked this season"), MASS, 11, .name = "mass",
              .expression = "SUMIFS(Picks_mass,Picks_batch,\"=\"&[code])", BED_SUMMED),
  BED_COLUMN (N_ ("Each log this season"), MASS_PER_LOG, 10, .expression = "[mass]/[in_season]",
              BED_AGAIN),
  BED_COLUMN (N_ ("Earlier seasons"), MASS, 10, .name = "earlier",
              .expression = "SUMIFS(Logs_earlier,Logs_batch,\"=\"&[code])", BED_SUMMED),
  BED_COLUMN (N_ ("In all"), MASS, 10, .name = "in_all", .expression = "[mass]+[earlier]",
              BED_SUMMED),
  BED_COLUMN (N_ ("Each log in all"), MASS_PER_LOG, 10, .expression = "[in_all]/[logs]",
              BED_AGAIN),
  BED_COLUMN (N_ ("Dry wood"), MASS, 10, .name = "dry",
              .expression = "SUMIFS(Logs_dry,Logs_batch,\"=\"&[code])", BED_SUMMED),
  BED_COLUMN (N_ ("Fresh mass over dry wood"), PERCENT, 11, .expression = "[in_all]/[dry]",
              BED_AGAIN),
  BED_COLUMN (N_ ("Spent on it before"), MONEY, 11, .name = "spent_before", BED_SUMMED),
  BED_COLUMN (N_ ("Bought for it"), MONEY, 10, .name = "bought",
              .expression = "SUMIFS(Purchases_amount,Purchases_batch,\"=\"&[code],"
                         "Purchases_scope,{purchase.scope.batch})",
              BED_SUMMED),
  BED_COLUMN (N_ ("Spawn in it"), MONEY, 10, .name = "spawn",
              .expression = "SUMIFS(Spawn_share,Spawn_batch,\"=\"&[code])", BED_SUMMED),
  BED_COLUMN (N_ ("Work on it"), MONEY, 10, .name = "labour",
              .expression = "SUMIFS(Hours_cost,Hours_batch,\"=\"&[code])", BED_SUMMED),
  BED_COLUMN (N_ ("Its own cost in all"), MONEY, 11, .name = "cost",
              .expression = "[spent_before]+[bought]+[spawn]+[labour]", BED_SUMMED),
  BED_COLUMN (N_ ("Cost"), MONEY_PER_LOG, 10, .expression = "[cost]/[logs]", BED_AGAIN),
  BED_COLUMN (N_ ("Cost so far"), MONEY_PER_MASS, 10, .expression = "[cost]/[in_all]", BED_AGAIN),
};

/* Before the season. */
#define BOUGHT                                                                                     \
  "coalesce ((SELECT sum (p.amount) FROM purchase p WHERE p.batch = b.id AND p.scope = 'batch'"    \
  " AND p.bought_on < ?1), 0)"
#define WORK                                                                                       \
  "coalesce ((SELECT sum (" HOURS_COST ") FROM hours h WHERE h.batch = b.id"                       \
  " AND h.worked_on < ?1), 0)"
#define SPAWN                                                                                      \
  "coalesce ((SELECT sum (" SPAWN_SHARE ") FROM spawn_used u JOIN spawn s ON s.id = u.spawn"       \
  " WHERE u.batch = b.id), 0)"

static const char batch_question[] =
  "WITH woods (batch, name) AS ("
  "  SELECT l.batch, CASE WHEN count (DISTINCT f.wood) = 1 THEN min (w.common_name)"
  "                       ELSE 'mixed' END"
  "    FROM log l JOIN felling f ON f.id = l.felling JOIN wood w ON w.id = f.wood"
  "   GROUP BY l.batch)"
  " SELECT b.code, b.inoculated_on, n.name, bs.strain_name,"
  "        " BOUGHT " + " WORK " + CASE WHEN b.inoculated_on < ?1 THEN " SPAWN " ELSE 0 END"
  "  FROM batch b LEFT JOIN woods n ON n.batch = b.id LEFT JOIN batch_spawn bs ON bs.batch = b.id"
  " WHERE b.inoculated_on < ?2 ORDER BY b.inoculated_on, b.code";

static const BedBlock batch_blocks[] = {
  { BED_BLOCK_TABLE ("Batches", batch_columns, batch_question) },
};

const BedSheet bed_sheet_batches = {
  .name = N_ ("Batches"),
  .question = N_ ("What each batch gave and what was spent on it alone; shared costs are on "
                  "the sheet Cost per log."),
  .blocks = batch_blocks,
  .n_blocks = G_N_ELEMENTS (batch_blocks),
};

#define LIKE_THIS "Logs_wood,\"=\"&[wood],Logs_strain,\"=\"&[strain],Logs_in_season,1"

#define LOW "MAX(0,[mean]-TINV(0.05,[logs]-1)*[spread]/SQRT([logs]))"
#define HIGH "[mean]+TINV(0.05,[logs]-1)*[spread]/SQRT([logs])"

static const BedColumn comparison_columns[] = {
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
  BED_COLUMN (N_ ("Mean is 95 % sure above"), MASS_PER_LOG, 12, .name = "low",
              .expression = LOW),
  BED_COLUMN (N_ ("and below"), MASS_PER_LOG, 12, .name = "high",
              .expression = HIGH),
  /* For the chart, in which an empty text would stand at nought. */
  BED_COLUMN (N_ ("low or mean"), MASS_PER_LOG, 10, .name = "low_drawn", BED_WORKING,
              .expression = "IFERROR(" LOW ",[mean])"),
  BED_COLUMN (N_ ("high or mean"), MASS_PER_LOG, 10, .name = "high_drawn", BED_WORKING,
              .expression = "IFERROR(" HIGH ",[mean])"),
};

static const char comparison_question[] =
  "SELECT w.common_name || ', ' || coalesce (bs.strain_name, '-'), w.common_name,"
  "       coalesce (bs.strain_name, '-')"
  "  FROM log l JOIN felling f ON f.id = l.felling JOIN wood w ON w.id = f.wood"
  "  LEFT JOIN batch_spawn bs ON bs.batch = l.batch"
  " WHERE " LOG_IN_SEASON " GROUP BY 2, 3 ORDER BY 2, 3";

static const BedBlock comparison_blocks[] = {
  { BED_BLOCK_TABLE ("Kinds", comparison_columns, comparison_question) },
};

static void
draw_comparison (BedBook *book, lxw_worksheet *worksheet, lxw_row_t row)
{
  const BedChart chart = { .title = N_ ("Mean per log this season, with what it may be"),
                           .labels = "Kinds_both", .values = "Kinds_mean", .low = "Kinds_low_drawn",
                           .high = "Kinds_high_drawn", .cell = BED_CELL_MASS_PER_LOG,
                           .row = row + 1, .column = 0, .width = 900, .height = 300 };

  bed_chart_draw (book, worksheet, &chart);
  bed_book_check (book, worksheet_print_area (worksheet, 0, 0, row + 18,
                                              G_N_ELEMENTS (comparison_columns) - 3));
}

const BedSheet bed_sheet_comparison = {
  .name = N_ ("Wood x strain"),
  .question = N_ ("Which wood and strain give most, and how sure that is. Every log counts, "
                  "those that gave nothing too."),
  .blocks = comparison_blocks,
  .n_blocks = G_N_ELEMENTS (comparison_blocks),
  .draw = draw_comparison,
};
