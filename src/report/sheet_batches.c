#include "report/book_sheet.h"

#include <glib/gi18n-lib.h>

static const BedBookColumn batch_columns[] = {
  BED_COLUMN_OF ("batch.code", 9, .name = "code"),
  BED_COLUMN_OF ("batch.inoculated_on", 12, .title = N_ ("Inoculated")),
  BED_COLUMN (N_ ("Wood"), TEXT, 20),
  BED_COLUMN (N_ ("Strain"), TEXT, 24),
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
  BED_COLUMN (N_ ("Earlier seasons"), MASS, 10, .name = "earlier", BED_SUMMED),
  BED_COLUMN (N_ ("In all"), MASS, 10, .name = "in_all", .expression = "[mass]+[earlier]",
              BED_SUMMED),
  BED_COLUMN (N_ ("Each log in all"), MASS_PER_LOG, 10, .expression = "[in_all]/[logs]"),
  BED_COLUMN (N_ ("Dry wood"), MASS, 10, .name = "dry",
              .expression = "SUMIFS(Logs_dry,Logs_batch,\"=\"&[code])", BED_SUMMED),
  BED_COLUMN (N_ ("Fresh mass over dry wood"), PERCENT, 11, .expression = "[in_all]/[dry]"),
};

#define OF_BATCH(what) "SUMIFS(Batches_" what ",Batches_code,\"=\"&[code])"

static const BedBookColumn spent_columns[] = {
  BED_COLUMN_OF ("batch.code", 9, .name = "code"),
  BED_COLUMN (N_ ("Before this season"), MONEY, 11, .name = "before", BED_SUMMED),
  BED_COLUMN (N_ ("Bought for it"), MONEY, 17, .name = "bought",
              .expression = "SUMIFS(Purchases_cost,Purchases_batch,\"=\"&[code],"
                            "Purchases_scope,{purchase.scope.batch})",
              BED_SUMMED),
  BED_COLUMN (N_ ("Spawn in it"), MONEY, 17, .name = "spawn",
              .expression = "SUMIFS(Spawn_share,Spawn_batch,\"=\"&[code])", BED_SUMMED),
  BED_COLUMN (N_ ("Work on it"), MONEY, 10, .name = "labour",
              .expression = "SUMIFS(Hours_cost,Hours_batch,\"=\"&[code])", BED_SUMMED),
  BED_COLUMN (N_ ("Own cost in all"), MONEY, 10, .name = "cost",
              .expression = "[before]+[bought]+[spawn]+[labour]", BED_SUMMED),
  BED_COLUMN (N_ ("Logs"), COUNT, 8, .name = "logs", .expression = OF_BATCH ("logs"), BED_SUMMED),
  BED_COLUMN (N_ ("Own cost"), MONEY_PER_LOG, 11, .expression = "[cost]/[logs]", BED_AGAIN),
  BED_COLUMN (N_ ("Picked in all"), MASS, 10, .name = "mass", .expression = OF_BATCH ("in_all"),
              BED_SUMMED),
  BED_COLUMN (N_ ("Own cost so far"), MONEY_PER_MASS, 10, .expression = "[cost]/[mass]"),
};

/* Before the season. */
#define BOUGHT                                                                                     \
  "coalesce ((SELECT sum (p.cost) FROM purchase_paid p WHERE p.batch = b.id AND p.scope = 'batch'" \
  " AND p.bought_on < ?1), 0)"
#define WORK                                                                                       \
  "coalesce ((SELECT sum (h.cost) FROM hours_paid h WHERE h.batch = b.id"                          \
  " AND h.worked_on < ?1), 0)"
#define SPAWN "coalesce ((SELECT sum (u.cost) FROM spawn_share u WHERE u.batch = b.id), 0)"

/* The earlier crop is the batch's, of single logs or not. */
static const char batch_question[] = "SELECT b.code, b.inoculated_on, n.wood, bs.strain_name,"
                                     "  coalesce ((SELECT sum (c.mass) FROM crop_batch c"
                                     "   WHERE c.batch = b.id AND c.season < ?3), 0)"
                                     "  FROM batch b LEFT JOIN season_batch n ON n.batch = b.id"
                                     "  LEFT JOIN batch_spawn bs ON bs.batch = b.id"
                                     " WHERE b.inoculated_on < ?2 ORDER BY b.inoculated_on, b.code";

static const char spent_question[] = "SELECT b.code, " BOUGHT " + " WORK
                                     " + CASE WHEN b.inoculated_on < ?1 THEN " SPAWN
                                     " ELSE 0 END FROM batch b JOIN batch_begun g ON g.batch = b.id"
                                     " WHERE g.begun_on < ?2 ORDER BY b.inoculated_on, b.code";

/* Worked out by science/budget.h, line by line as on a wage slip. */
#define YEAR(title, key) BED_COLUMN (title, MONEY, 10, .name = key, BED_SUMMED)

static const BedBookColumn year_columns[] = {
  BED_COLUMN_OF ("batch.code", 9, .name = "code"),
  BED_COLUMN (N_ ("First season"), YEAR, 11),
  YEAR (N_ ("First season, materials"), "made_of"),
  YEAR (N_ ("First season, labour"), "made_by"),
  YEAR (N_ ("Year 1"), "first"),
  YEAR (N_ ("Year 2"), "second"),
  YEAR (N_ ("Year 3"), "third"),
  YEAR (N_ ("Year 4"), "fourth"),
  YEAR (N_ ("Year 5"), "fifth"),
  YEAR (N_ ("Later years"), "later"),
  BED_COLUMN (N_ ("Own cost in all"), MONEY, 10, .name = "cost",
              .expression = "[made_of]+[made_by]+[first]+[second]+[third]+[fourth]+[fifth]+[later]",
              BED_SUMMED),
};

#define OF_YEAR(test) "coalesce (sum (y.materials + y.labour) FILTER (WHERE y.year " test "), 0)"

/* SQL in lines of its own. */
/* clang-format off */
static const char year_question[] =
  "SELECT b.code, bed_season (b.inoculated_on),"
  " coalesce (sum (y.materials) FILTER (WHERE y.year = 0), 0),"
  " coalesce (sum (y.labour) FILTER (WHERE y.year = 0), 0), " OF_YEAR ("= 1") ", " OF_YEAR ("= 2")
  ", " OF_YEAR ("= 3") ", " OF_YEAR ("= 4") ", " OF_YEAR ("= 5") ", " OF_YEAR ("> 5")
  " FROM batch b JOIN batch_begun g ON g.batch = b.id LEFT JOIN batch_year y ON y.batch = b.id"
  " WHERE g.begun_on < ?2"
  " GROUP BY b.id ORDER BY b.inoculated_on, b.code";
/* clang-format on */

const BedBookSheet bed_sheet_batches = {
  .name = N_ ("Batches"),
  .question = N_ ("What each batch gave."),
  BED_ONE_TABLE ("Batches", batch_columns, batch_question),
};

const BedBookSheet bed_sheet_spent = {
  .name = N_ ("Batch spending"),
  .question
  = N_ ("What was spent on each batch alone; shared costs are on the sheet Cost per log."),
  BED_ONE_TABLE ("Spent", spent_columns, spent_question),
};

const BedBookSheet bed_sheet_life = {
  .name = N_ ("Batch years"),
  .question = N_ ("What was spent on each batch alone, year by year of its life."),
  BED_ONE_TABLE ("Life", year_columns, year_question),
};
