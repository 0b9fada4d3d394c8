#include "report/book_sheet.h"

#include <glib/gi18n-lib.h>

/* Lots on record: what of their cost went into batches or was written off until the end of the
 * season. */
static const BedBookColumn store_columns[] = {
  BED_COLUMN_OF ("spawn.code", 12),
  BED_COLUMN_OF ("strain.name", 24),
  BED_COLUMN_OF ("spawn.form", 10),
  BED_COLUMN_OF ("spawn.supplier", 20),
  BED_COLUMN_OF ("spawn.received_on", 12, .title = N_ ("Received")),
  BED_COLUMN_OF ("spawn.use_by", 12),
  BED_COLUMN (N_ ("Mass left"), MASS, 10),
  BED_COLUMN (N_ ("Pieces left"), COUNT, 10),
  BED_COLUMN_OF ("spawn.cost", 11, .name = "cost", BED_SUMMED),
  BED_COLUMN (N_ ("Cost of what was used or written off"), MONEY, 11, .name = "used", BED_SUMMED),
  BED_COLUMN (N_ ("Left at cost"), MONEY, 11, .name = "left", .expression = "[cost]-[used]",
              BED_SUMMED),
};

static const char store_question[]
    = "WITH used AS (SELECT u.spawn, sum (u.mass) AS mass, sum (u.pieces) AS pieces,"
      "  sum (u.cost) AS cost FROM spawn_share u WHERE u.day < ?2 GROUP BY 1)"
      " SELECT s.code, t.name, s.form, s.supplier, s.received_on, s.use_by,"
      "  s.mass - coalesce (u.mass, 0), s.pieces - coalesce (u.pieces, 0), s.cost,"
      "  coalesce (u.cost, 0) FROM spawn s JOIN strain t ON t.id = s.strain"
      " LEFT JOIN used u ON u.spawn = s.id"
      " WHERE s.received_on < ?2 AND (s.received_on >= ?1 OR coalesce (s.cost, 0) >"
      "  coalesce (u.cost, 0)) ORDER BY s.received_on, s.code";

const BedBookSheet bed_sheet_store = {
  .name = N_ ("Spawn in store"),
  .question
  = N_ ("Spawn lots that came this season or were not used up by its end: what is left is "
        "no cost yet."),
  BED_ONE_TABLE ("Store", store_columns, store_question),
};

static const BedBookColumn count_columns[] = {
  BED_COLUMN_OF ("purchase.category", 30, .name = "category"),
  BED_COLUMN (N_ ("Counted before the season"), MONEY, 15, .name = "opening", BED_SUMMED),
  BED_COLUMN (N_ ("Bought in it"), MONEY, 12, .name = "bought", BED_SUMMED,
              .expression = "SUMIFS(Purchases_cost,Purchases_category,[category])"),
  BED_COLUMN (N_ ("Last count of the season"), MONEY, 12, .name = "closing", BED_SUMMED),
  BED_COLUMN (N_ ("Used"), MONEY, 12, .name = "used", BED_SUMMED,
              .expression = "[opening]+[bought]-[closing]"),
  BED_COLUMN (N_ ("Less in store"), MONEY, 12, .name = "change", BED_SUMMED,
              .expression = "[opening]-[closing]"),
};

#define LAST_COUNT(day)                                                                            \
  "coalesce ((SELECT c.amount FROM stock_count c WHERE c.category = k.category AND c.counted_on"   \
  " < " day " ORDER BY c.counted_on DESC LIMIT 1), 0)"

static const char count_question[]
    = "WITH k (category) AS (VALUES ('spawn'), ('wax'), ('packaging'))"
      " SELECT category, " LAST_COUNT ("?1") ", " LAST_COUNT ("?2") " FROM k";

static const BedBookFigure value_figures[] = {
  BED_FIGURE_HEADING (N_ ("What was there at the end of the season")),
  BED_FIGURE (N_ ("Spawn lots, at cost"), MONEY, .name = "Stock_spawn",
              .expression = "SUM(Store_left)"),
  BED_FIGURE (N_ ("Counted, at cost"), MONEY, .name = "Stock_counted",
              .expression = "SUM(Stock_closing)"),
  BED_FIGURE (N_ ("Equipment, what is not written off"), MONEY, .name = "Stock_equipment",
              .expression = "SUM(Equipment_left)"),
  BED_FIGURE (N_ ("Stock and equipment"), MONEY, .name = "Stock_value", .style = BED_STYLE_STRONG,
              .expression = "Stock_spawn+Stock_counted+Stock_equipment"),
  BED_FIGURE (N_ ("Fresh mushrooms of this season's lots"), MASS, .expression = "SUM(Lots_left)"),
  BED_FIGURE (N_ ("Dried mushrooms"), MASS, .sql = "SELECT " BED_DRIED_LEFT ("?2")),
};

static const BedBlock blocks[] = {
  { .heading = N_ ("Bought for more than a season"),
    BED_BLOCK_TABLE ("Stock", count_columns, count_question) },
  { BED_BLOCK_FIGURES (value_figures) },
};

const BedBookSheet bed_sheet_stock = {
  .name = N_ ("Stock"),
  .question
  = N_ ("What was in store before and after the season by the farm's own counts. What was "
        "not counted was used when it was bought."),
  BED_BLOCKS (blocks),
  .one_page = TRUE,
};
