#include "report/book_sheet.h"

#include <glib/gi18n-lib.h>

static const BedBookColumn season_columns[] = {
  BED_COLUMN (N_ ("Season"), YEAR, 9, .name = "season"),
  BED_COLUMN (N_ ("Logs in the season"), COUNT, 9, .name = "logs"),
  BED_COLUMN (N_ ("Picked"), MASS, 10, .name = "mass"),
  BED_COLUMN (N_ ("Each log"), MASS_PER_LOG, 9, .expression = "[mass]/[logs]"),
  BED_COLUMN (N_ ("Sold fresh"), MASS, 10, .name = "sold"),
  BED_COLUMN (N_ ("Income, fresh"), MONEY, 11, .name = "fresh"),
  BED_COLUMN (N_ ("Income, dried"), MONEY, 11, .name = "dried"),
  BED_COLUMN (N_ ("Price received, fresh"), MONEY_PER_MASS, 10, .expression = "[fresh]/[sold]"),
  BED_COLUMN (N_ ("Purchases"), MONEY, 11, .name = "bought"),
  BED_COLUMN (N_ ("Taken from stock"), MONEY, 11, .name = "stock"),
  BED_COLUMN (N_ ("Spawn used"), MONEY, 11, .name = "spawn"),
  BED_COLUMN (N_ ("Labour"), MONEY, 11, .name = "labour"),
  BED_COLUMN (N_ ("Equipment, depreciation"), MONEY, 12, .name = "equipment"),
  BED_COLUMN (N_ ("Whole cost"), MONEY, 11, .name = "cost",
              .expression = "[bought]+[stock]+[spawn]+[labour]+[equipment]"),
  BED_COLUMN (N_ ("Margin"), MONEY, 11, .name = "margin", .expression = "[fresh]+[dried]-[cost]"),
  BED_COLUMN (N_ ("Cost of what was picked"), MONEY_PER_MASS, 11, .expression = "[cost]/[mass]"),
  BED_COLUMN (N_ ("Work"), HOURS, 9, .name = "hours"),
};

static const char season_question[]
    = "SELECT season, logs, picked, sold, income_fresh, income_dried, bought, stock, spawn, labour,"
      " equipment, minutes FROM season_past ORDER BY season";

const BedBookSheet bed_sheet_seasons = {
  .name = N_ ("Seasons"),
  .question = N_ ("The seasons on record side by side."),
  BED_ONE_TABLE ("Seasons", season_columns, season_question),
};

#define IN_MONTH(table, what) "SUMIFS(" table "_" what "," table "_month,[month])"

static const BedBookColumn month_columns[] = {
  BED_COLUMN (N_ ("Month"), TEXT, 12, .name = "month"),
  BED_COLUMN (N_ ("Sold"), MONEY, 12, .name = "sold", .expression = IN_MONTH ("Sales", "price"),
              BED_SUMMED),
  BED_COLUMN (N_ ("Paid by buyers"), MONEY, 12, .name = "paid", BED_SUMMED),
  BED_COLUMN (N_ ("Purchases, with tax"), MONEY, 12, .name = "bought",
              .expression = IN_MONTH ("Purchases", "paid"), BED_SUMMED),
  BED_COLUMN (N_ ("Spawn lots, not among these"), MONEY, 14, .name = "spawn", BED_SUMMED),
  BED_COLUMN (N_ ("Equipment bought"), MONEY, 12, .name = "equipment", BED_SUMMED),
  BED_COLUMN (N_ ("Labour"), MONEY, 12, .name = "labour", .expression = IN_MONTH ("Hours", "cost"),
              BED_SUMMED),
  BED_COLUMN (N_ ("Left of what was sold"), MONEY, 12,
              .expression = "[sold]-[bought]-[spawn]-[equipment]-[labour]", BED_SUMMED),
};

/* A season that does not begin with a month has a part of thirteen. */
static const char month_question[]
    = "WITH RECURSIVE day (day) AS (SELECT ?1 UNION ALL SELECT date (day, '+1 day') FROM day"
      "  WHERE day < date (?2, '-1 day')),"
      " m (month, first, last) AS (SELECT substr (day, 1, 7), min (day), max (day) FROM day"
      "  GROUP BY 1)"
      " SELECT month,"
      "  coalesce ((SELECT sum (n.price) FROM line n JOIN sale v ON v.id = n.sale"
      "   WHERE n.\"use\" = 'sold' AND v.paid_on BETWEEN first AND last), 0),"
      "  coalesce ((SELECT sum (s.cost) FROM spawn s WHERE s.received_on BETWEEN first AND last"
      "   AND NOT EXISTS (SELECT 1 FROM purchase p WHERE p.spawn = s.id)), 0),"
      "  coalesce ((SELECT sum (price) FROM equipment WHERE bought_on BETWEEN first AND last), 0)"
      " FROM m ORDER BY month";

const BedBookSheet bed_sheet_months = {
  .name = N_ ("Months"),
  .question = N_ ("Money by month: what was sold, what buyers paid, and what went out."),
  BED_ONE_TABLE ("Months", month_columns, month_question),
};

#define TO_BUYER "Sales_buyer,\"=\"&[buyer],Sales_month,[month]"
#define SOLD_AS(form) TO_BUYER ",Sales_form,{line.form." form "},Sales_use,{line.use.sold}"

static const BedBookColumn buyer_columns[] = {
  BED_COLUMN_OF ("buyer.name", 28, .name = "buyer"),
  BED_COLUMN_OF ("buyer.kind", 14, .title = N_ ("Kind of buyer")),
  BED_COLUMN (N_ ("Month"), TEXT, 10, .name = "month"),
  BED_COLUMN (N_ ("Fresh"), MASS, 11, .name = "fresh",
              .expression = "SUMIFS(Sales_mass," SOLD_AS ("fresh") ")", BED_SUMMED),
  BED_COLUMN (N_ ("Dried"), MASS, 11, .name = "dried",
              .expression = "SUMIFS(Sales_mass," SOLD_AS ("dried") ")", BED_SUMMED),
  BED_COLUMN (N_ ("Sold"), MONEY, 12, .name = "sold",
              .expression = "SUMIFS(Sales_price," TO_BUYER ")", BED_SUMMED),
  BED_COLUMN (N_ ("Of it paid"), MONEY, 12, .name = "paid",
              .expression = "SUMIFS(Sales_paid," TO_BUYER ")", BED_SUMMED),
  BED_COLUMN (N_ ("No payment on record"), MONEY, 12, .expression = "[sold]-[paid]", BED_SUMMED),
};

static const char buyer_question[]
    = "SELECT DISTINCT coalesce (y.name, '-'), y.kind, substr (v.sold_on, 1, 7) FROM line n"
      " JOIN sale v ON v.id = n.sale LEFT JOIN buyer y ON y.id = v.buyer WHERE n.\"use\" = 'sold'"
      " AND v.sold_on >= ?1 AND v.sold_on < ?2 ORDER BY 1, 3";

const BedBookSheet bed_sheet_buyers = {
  .name = N_ ("Buyers"),
  .question = N_ ("What each buyer took in each month, and what of it was paid."),
  BED_ONE_TABLE ("Buyers", buyer_columns, buyer_question),
};
