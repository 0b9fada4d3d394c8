#include "report/book_sheet.h"

#include <glib/gi18n-lib.h>

static const BedBookColumn purchase_columns[] = {
  BED_COLUMN_OF ("purchase.bought_on", 12),
  BED_COLUMN_OF ("purchase.category", 16, .name = "category"),
  BED_COLUMN_OF ("purchase.what", 26),
  BED_COLUMN_OF ("purchase.quantity", 10),
  BED_COLUMN_OF ("purchase.supplier", 18),
  BED_COLUMN_OF ("purchase.scope", 20, .name = "scope"),
  BED_COLUMN_OF ("batch.code", 9, .name = "batch"),
  BED_COLUMN_OF ("purchase.amount", 12, .name = "amount", BED_SUMMED),
  BED_COLUMN_OF ("purchase.tax", 11, .name = "tax", BED_SUMMED),
  BED_COLUMN (N_ ("Paid, with tax"), MONEY, 12, .name = "paid", .expression = "[amount]+[tax]",
              BED_SUMMED),
  BED_COLUMN (N_ ("For spawn lot"), TEXT, 11, .name = "for"),
  BED_COLUMN (N_ ("Cost"), MONEY, 12, .name = "cost",
              .formula = "IF([for]=\"\",[amount]+[tax]*TAXED,0)", BED_SUMMED),
  BED_COLUMN_OF ("purchase.notes", 20),
  BED_COLUMN (N_ ("Month"), TEXT, 9, .name = "month", BED_WORKING),
};

static const char purchase_question[]
    = "SELECT p.bought_on, p.category, p.what, p.quantity, p.supplier, p.scope, b.code, p.amount,"
      " p.tax, s.code, p.cost, p.notes, substr (p.bought_on, 1, 7)"
      " FROM purchase_paid p LEFT JOIN batch b ON b.id = p.batch"
      " LEFT JOIN spawn s ON s.id = p.spawn AND s.cost IS NOT NULL"
      " WHERE p.bought_on >= ?1 AND p.bought_on < ?2 ORDER BY p.bought_on, p.id";

const BedBookSheet bed_sheet_purchases = {
  .name = N_ ("Purchases"),
  .question = N_ ("What was bought this season, and what of it is a cost: tax where it is not "
                  "reclaimed; not what paid for a spawn lot, which is a cost as it is used."),
  BED_ONE_TABLE ("Purchases", purchase_columns, purchase_question),
};

static const BedBookColumn spawn_columns[] = {
  BED_COLUMN_OF ("batch.code", 9, .name = "batch"),
  BED_COLUMN_OF ("batch.inoculated_on", 12, .title = N_ ("Inoculated or written off")),
  BED_COLUMN_OF ("spawn.code", 12),
  BED_COLUMN_OF ("strain.name", 20),
  BED_COLUMN_OF ("spawn.form", 10),
  BED_COLUMN_OF ("spawn_used.mass", 11, .title = N_ ("Mass used"), .name = "mass", BED_SUMMED),
  BED_COLUMN_OF ("spawn_used.pieces", 9, .title = N_ ("Pieces used"), .name = "pieces", BED_SUMMED),
  BED_COLUMN_OF ("spawn.mass", 11, .title = N_ ("Mass of the lot"), .name = "lot_mass"),
  BED_COLUMN_OF ("spawn.pieces", 9, .title = N_ ("Pieces of the lot"), .name = "lot_pieces"),
  BED_COLUMN_OF ("spawn.cost", 11, .title = N_ ("Cost of the lot"), .name = "lot_cost"),
  BED_COLUMN (N_ ("Mass written off"), MASS, 11, .name = "gone_mass", BED_SUMMED),
  BED_COLUMN (N_ ("Pieces written off"), COUNT, 9, .name = "gone_pieces", BED_SUMMED),
  BED_COLUMN (N_ ("Its share"), MONEY, 11, .name = "share",
              .formula = "IFERROR(ROUND([lot_cost]*IF([lot_mass]*([mass]+[gone_mass])>0,"
                         "([mass]+[gone_mass])/[lot_mass],"
                         "([pieces]+[gone_pieces])/[lot_pieces])*MINOR,0)/MINOR,0)",
              BED_SUMMED),
  BED_COLUMN (N_ ("Of it written off"), MONEY, 11, .name = "lost",
              .formula = "IF([gone_mass]+[gone_pieces]>0,[share],0)", BED_SUMMED),
};

/* What went into a batch, or was written off. */
static const char spawn_question[]
    = "SELECT b.code, u.day, s.code, t.name, s.form, iif (u.batch IS NULL, NULL, u.mass),"
      " iif (u.batch IS NULL, NULL, u.pieces), s.mass, s.pieces, s.cost,"
      " iif (u.batch IS NULL, u.mass, NULL), iif (u.batch IS NULL, u.pieces, NULL), u.cost,"
      " iif (u.batch IS NULL, u.cost, 0)"
      " FROM spawn_share u LEFT JOIN batch b ON b.id = u.batch JOIN spawn s ON s.id = u.spawn"
      " JOIN strain t ON t.id = s.strain WHERE u.day >= ?1 AND u.day < ?2"
      " ORDER BY u.day, b.code, s.code";

const BedBookSheet bed_sheet_spawn = {
  .name = N_ ("Spawn"),
  .question = N_ ("Spawn that went into logs this season or, without a batch, was written off, and "
                  "its share of what the lot cost."),
  BED_ONE_TABLE ("Spawn", spawn_columns, spawn_question),
};

static const BedBookColumn hours_columns[] = {
  BED_COLUMN_OF ("hours.worked_on", 12),
  BED_COLUMN_OF ("hours.task", 12, .name = "task"),
  BED_COLUMN_OF ("hours.person", 16),
  BED_COLUMN_OF ("batch.code", 9, .name = "batch"),
  BED_COLUMN_OF ("stack.name", 14),
  BED_COLUMN_OF ("hours.minutes", 9, .name = "hours", BED_SUMMED),
  BED_COLUMN (N_ ("Rate"), MONEY_PER_HOUR, 10, .name = "rate"),
  BED_COLUMN (N_ ("Cost"), MONEY, 11, .name = "cost",
              .formula = "ROUND([hours]*[rate]*MINOR,0)/MINOR", BED_SUMMED),
  BED_COLUMN_OF ("hours.logs", 10, .name = "logs", BED_SUMMED),
  BED_COLUMN_OF ("hours.notes", 28),
  BED_COLUMN (N_ ("Month"), TEXT, 9, .name = "month", BED_WORKING),
};

static const char hours_question[]
    = "SELECT h.worked_on, h.task, h.person, b.code, k.name, h.minutes,"
      " h.rate, h.cost, h.logs, h.notes, substr (h.worked_on, 1, 7)"
      " FROM hours_paid h LEFT JOIN batch b ON b.id = h.batch LEFT JOIN stack k ON k.id = h.stack"
      " WHERE h.worked_on >= ?1 AND h.worked_on < ?2 ORDER BY h.worked_on, h.id";

const BedBookSheet bed_sheet_hours = {
  .name = N_ ("Hours"),
  .question = N_ ("Every entry of work, at its own rate or the farm's of that day."),
  BED_ONE_TABLE ("Hours", hours_columns, hours_question),
};

#define OF_TASK(what) "SUMIFS(Hours_" what ",Hours_task,\"=\"&[task])"

static const BedBookColumn task_columns[] = {
  BED_COLUMN_OF ("hours.task", 16, .name = "task"),
  BED_COLUMN (N_ ("Time"), HOURS, 11, .name = "hours", .expression = OF_TASK ("hours"), BED_SUMMED),
  BED_COLUMN (N_ ("Of all time"), PERCENT, 11, .expression = "[hours]/SUM(Hours_hours)", BED_AGAIN),
  BED_COLUMN (N_ ("Cost"), MONEY, 12, .name = "cost", .expression = OF_TASK ("cost"), BED_SUMMED),
  BED_COLUMN (N_ ("Logs handled"), COUNT, 11, .name = "logs", .expression = OF_TASK ("logs"),
              BED_SUMMED),
  BED_COLUMN (N_ ("Time of entries with logs"), HOURS, 12, .name = "counted",
              .expression = "SUMIFS(Hours_hours,Hours_task,\"=\"&[task],Hours_logs,\">0\")",
              BED_SUMMED),
  BED_COLUMN (N_ ("Speed"), LOGS_PER_HOUR, 11, .expression = "[logs]/[counted]"),
};

static const char task_question[]
    = "SELECT task FROM hours WHERE worked_on >= ?1 AND worked_on < ?2"
      " GROUP BY task ORDER BY sum (minutes) DESC, task";

const BedBookSheet bed_sheet_tasks = {
  .name = N_ ("Hours by task"),
  .question = N_ ("Where the time went, and how many logs an hour handles."),
  BED_ONE_TABLE ("Tasks", task_columns, task_question),
};

/* In use in the season: from the season of buying, for its years of life. */
#define IN_USE "Season<[since]+[life]"

/* As bed_written_off (), whose method is [times]; of @part, by the end of @years. */
#define WRITTEN_OFF(part, years)                                                                   \
  "ROUND(" part "*IF([times]>1,VDB([price],[salvage],[life],0," years ",[times]),"                 \
  "([price]-[salvage])*IF([times]=1," years "/[life]," years "*(2*[life]+1-" years ")"             \
  "/([life]*([life]+1))))*MINOR,0)/MINOR"

static const BedBookColumn equipment_columns[] = {
  BED_COLUMN_OF ("equipment.what", 30),
  BED_COLUMN_OF ("equipment.bought_on", 12),
  BED_COLUMN (N_ ("First season"), YEAR, 9, .name = "since"),
  BED_COLUMN_OF ("equipment.price", 12, .name = "price", BED_SUMMED),
  BED_COLUMN_OF ("equipment.salvage", 12, .name = "salvage", BED_SUMMED),
  BED_COLUMN_OF ("equipment.life_years", 8, .name = "life"),
  BED_COLUMN_OF ("equipment.method", 22),
  BED_COLUMN_OF ("equipment.share", 9, .title = N_ ("Used for logs"), .name = "part"),
  BED_COLUMN (N_ ("Depreciation this season"), MONEY, 13, .name = "charge",
              .formula = "[by_now]-[before]", BED_SUMMED),
  BED_COLUMN (N_ ("Mean value in use for logs"), MONEY, 13, .name = "capital",
              .formula = "IF(" IN_USE ",([price]+[salvage])/2*[part],0)", BED_SUMMED),
  BED_COLUMN (N_ ("Value left, whole"), MONEY, 12, .name = "left",
              .formula = "[price]-" WRITTEN_OFF ("1", "[years]"), BED_SUMMED),
  BED_COLUMN (N_ ("Times the straight line's share; 0: years' digits"), NUMBER, 12, .name = "times",
              BED_WORKING),
  BED_COLUMN (N_ ("Years before"), COUNT, 9, .name = "years_before",
              .formula = "MIN([life],Season-[since])", BED_WORKING),
  BED_COLUMN (N_ ("Years, this one too"), COUNT, 9, .name = "years",
              .formula = "MIN([life],Season-[since]+1)", BED_WORKING),
  BED_COLUMN (N_ ("Written off before"), MONEY, 12, .name = "before",
              .formula = WRITTEN_OFF ("[part]", "[years_before]"), BED_WORKING),
  BED_COLUMN (N_ ("Written off by the end"), MONEY, 12, .name = "by_now",
              .formula = WRITTEN_OFF ("[part]", "[years]"), BED_WORKING),
};

static const char equipment_question[]
    = "SELECT what, bought_on, since, price, salvage, life, method, part, by_now - before,"
      "  CASE WHEN ?3 < since + life THEN (price + salvage) / 2.0 * part / 10000.0 ELSE 0 END,"
      "  price - bed_written_off (method, price, salvage, life, 10000, years),"
      "  times, years_before, years, before, by_now"
      " FROM (SELECT *, bed_written_off (method, price, salvage, life, part, years_before)"
      "   AS before, bed_written_off (method, price, salvage, life, part, years) AS by_now"
      "  FROM (SELECT *, min (life, ?3 - since) AS years_before,"
      "    min (life, ?3 - since + 1) AS years FROM equipment_owned WHERE bought_on < ?2))"
      " ORDER BY bought_on, what";

const BedBookSheet bed_sheet_equipment = {
  .name = N_ ("Equipment"),
  .question = N_ ("What is owned: what it loses over its life, (price - worth at the end), by the "
                  "method chosen for it and the share used for logs."),
  BED_ONE_TABLE ("Equipment", equipment_columns, equipment_question),
};
