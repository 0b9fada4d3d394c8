#include "report/book_sheet.h"

#include <glib/gi18n-lib.h>

#define SOLD_HERE "Sales_mass,Sales_lot,\"=\"&[code],Sales_form,{line.form.fresh},Sales_use,"

static const BedBookColumn lot_columns[] = {
  BED_COLUMN_OF ("lot.code", 15, .name = "code"),
  BED_COLUMN_OF ("lot.picked_on", 12, .title = N_ ("Picked on")),
  BED_COLUMN_OF ("lot.cooled_at", 17),
  BED_COLUMN (N_ ("Picked"), MASS, 11, .name = "mass",
              .expression = "SUMIFS(Picks_mass,Picks_lot,\"=\"&[code])", BED_SUMMED),
  BED_COLUMN (N_ ("Sold fresh"), MASS, 11, .name = "sold",
              .expression = "SUMIFS(" SOLD_HERE "{line.use.sold})", BED_SUMMED),
  BED_COLUMN (N_ ("Lost or given away"), MASS, 11, .name = "lost",
              .expression = "SUMIFS(" SOLD_HERE "\"<>\"&{line.use.sold})", BED_SUMMED),
  BED_COLUMN (N_ ("Dried, fresh mass in"), MASS, 11, .name = "dried", BED_SUMMED),
  BED_COLUMN (N_ ("Left"), MASS, 11, .name = "left",
              .expression = "ROUND([mass]-[sold]-[lost]-[dried],4)", BED_SUMMED),
  BED_COLUMN (N_ ("Income"), MONEY, 12, .name = "income",
              .expression = "SUMIFS(Sales_price,Sales_lot,\"=\"&[code])", BED_SUMMED),
};

static const char lot_question[]
    = "SELECT t.code, t.picked_on, t.cooled_at,"
      " coalesce ((SELECT sum (d.fresh_mass) FROM drying d WHERE d.lot = t.id"
      "  AND d.dried_on < ?2), 0)"
      " FROM lot t WHERE t.picked_on >= ?1 AND t.picked_on < ?2 ORDER BY t.picked_on, t.code";

const BedBookSheet bed_sheet_lots = {
  .name = N_ ("Lots"),
  .question = N_ ("Each lot picked this season: what became of it by the season's end."),
  BED_ONE_TABLE ("Lots", lot_columns, lot_question),
};

static const BedBookColumn sale_columns[] = {
  BED_COLUMN_OF ("sale.sold_on", 12),
  BED_COLUMN_OF ("sale.code", 8),
  BED_COLUMN_OF ("buyer.name", 24, .name = "buyer"),
  BED_COLUMN_OF ("buyer.kind", 13, .title = N_ ("Kind of buyer")),
  BED_COLUMN_OF ("lot.code", 15, .name = "lot"),
  BED_COLUMN_OF ("line.form", 7, .name = "form"),
  BED_COLUMN_OF ("line.use", 10, .name = "use"),
  BED_COLUMN_OF ("line.mass", 11, .name = "mass", BED_SUMMED),
  BED_COLUMN_OF ("line.price", 12, .name = "price", BED_SUMMED),
  BED_COLUMN (N_ ("Price"), MONEY_PER_MASS, 11, .expression = "[price]/[mass]"),
  BED_COLUMN_OF ("sale.paid_on", 12, .name = "paid_on"),
  BED_COLUMN (N_ ("Month"), TEXT, 9, .name = "month", BED_WORKING),
  BED_COLUMN (N_ ("Paid"), MONEY, 11, .name = "paid", BED_WORKING,
              .formula = "IF([paid_on]=\"\",0,[price])"),
};

static const char sale_question[]
    = "SELECT v.sold_on, v.code, coalesce (y.name, '-'), y.kind, t.code, n.form, n.\"use\", n.mass,"
      /* What was not sold brings no money; a check tells of an old price. */
      " CASE WHEN n.\"use\" = 'sold' THEN n.price END, v.paid_on, substr (v.sold_on, 1, 7),"
      " CASE WHEN n.\"use\" = 'sold' AND v.paid_on IS NOT NULL"
      "  THEN coalesce (n.price, 0) ELSE 0 END"
      " FROM line n JOIN sale v ON v.id = n.sale JOIN lot t ON t.id = n.lot"
      " LEFT JOIN buyer y ON y.id = v.buyer"
      " WHERE v.sold_on >= ?1 AND v.sold_on < ?2 ORDER BY v.sold_on, v.code, n.id";

const BedBookSheet bed_sheet_sales = {
  .name = N_ ("Sales"),
  .question = N_ ("Every line sold, lost or given away this season, from lots of any season."),
  BED_ONE_TABLE ("Sales", sale_columns, sale_question),
};

static const BedBookColumn trace_columns[] = {
  BED_COLUMN_OF ("lot.code", 13),
  BED_COLUMN_OF ("lot.picked_on", 12, .title = N_ ("Picked on")),
  BED_COLUMN_OF ("batch.code", 7),
  BED_COLUMN_OF ("batch.inoculated_on", 12, .title = N_ ("Inoculated")),
  BED_COLUMN_OF ("strain.name", 24),
  BED_COLUMN_OF ("spawn.code", 9),
  BED_COLUMN_OF ("spawn.supplier", 17, .title = N_ ("Spawn supplier")),
  BED_COLUMN_OF ("spawn.supplier_lot", 12, .title = N_ ("Supplier's lot")),
  BED_COLUMN_OF ("felling.code", 9),
  BED_COLUMN_OF ("felling.felled_on", 12, .title = N_ ("Felled")),
  BED_COLUMN_OF ("wood.common_name", 16),
  BED_COLUMN (N_ ("Stand or supplier"), TEXT, 18),
  BED_COLUMN (N_ ("Buyers"), TEXT, 48),
};

static const char trace_question[]
    = "WITH bought (lot, buyer) AS MATERIALIZED (SELECT lot, group_concat (name, ', ') FROM"
      "  (SELECT DISTINCT n.lot AS lot, y.name AS name FROM line n JOIN sale v ON v.id = n.sale"
      "   JOIN buyer y ON y.id = v.buyer ORDER BY 1, 2) GROUP BY lot)"
      " SELECT t.code, t.picked_on, b.code, b.inoculated_on, st.name, s.code, s.supplier,"
      "  s.supplier_lot, f.code, f.felled_on, w.common_name, coalesce (d.name, f.supplier), r.buyer"
      " FROM lot_source o JOIN lot t ON t.id = o.lot JOIN felling f ON f.id = o.felling"
      " JOIN wood w ON w.id = f.wood LEFT JOIN stand d ON d.id = f.stand"
      " LEFT JOIN batch b ON b.id = o.batch LEFT JOIN spawn_used u ON u.batch = b.id"
      " LEFT JOIN spawn s ON s.id = u.spawn LEFT JOIN strain st ON st.id = s.strain"
      " LEFT JOIN bought r ON r.lot = t.id"
      " ORDER BY t.picked_on, t.code, b.code, f.code, s.code";

const BedBookSheet bed_sheet_trace = {
  .name = N_ ("Traceability"),
  .question = N_ ("From each lot back to batch, spawn, felling and stand, and on to its buyers."),
  BED_ONE_TABLE ("Trace", trace_columns, trace_question),
};
