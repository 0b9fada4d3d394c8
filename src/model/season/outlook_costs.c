/* What a batch cost by itself, year by year of its life. */
#include "model/season/outlook_private.h"

#include "model/farm/query.h"
#include "science/budget.h"

/* An outlay or a piece of work of a batch, batch after batch. ?1 the day after the season,
 * ?2 its year. What was spent before inoculation belongs to its year, also where that is still
 * to come. */
static const char entries[]
    = "WITH entry (batch, day, amount, minutes, rate) AS ("
      "SELECT batch, bought_on, cost, NULL, NULL FROM purchase_paid"
      " WHERE scope = 'batch' AND bought_on < ?1"
      " UNION ALL SELECT u.batch, NULL, u.cost, NULL, NULL FROM spawn_share u"
      " JOIN batch m ON m.id = u.batch WHERE m.inoculated_on < ?1"
      " UNION ALL SELECT batch, worked_on, NULL, minutes, rate FROM hours_paid"
      " WHERE worked_on < ?1)"
      " SELECT b.id, max (0, ?2 - bed_season (b.inoculated_on)),"
      " max (0, coalesce (bed_season (e.day) - bed_season (b.inoculated_on), 0)),"
      " e.amount, e.minutes, e.rate FROM batch b JOIN entry e ON e.batch = b.id ORDER BY b.id";

typedef struct
{
  BedOutlookTable table;
  gint64 batch;
  guint years;
  GArray *purchases; /* BedBatchPurchase */
  GArray *work;      /* BedBatchWork */
} Ledger;

static gboolean
keep_batch (Ledger *ledger, GError **error)
{
  BedBatchLife life = { .purchases = (const BedBatchPurchase *) (gpointer) ledger->purchases->data,
                        .n_purchases = ledger->purchases->len,
                        .work = (const BedBatchWork *) (gpointer) ledger->work->data,
                        .n_work = ledger->work->len,
                        .years = ledger->years };
  g_autoptr (BedBatchCosts) costs = ledger->batch ? bed_batch_costs_new (&life, error) : NULL;

  if (!costs)
    return ledger->batch == 0;
  for (guint year = 0; year < costs->n_years; year++)
    {
      sqlite3_bind_int64 (ledger->table.stmt, 1, ledger->batch);
      sqlite3_bind_int64 (ledger->table.stmt, 2, year);
      sqlite3_bind_int64 (ledger->table.stmt, 3, costs->by_year[year].materials);
      sqlite3_bind_int64 (ledger->table.stmt, 4, costs->by_year[year].labour);
      bed_outlook_add (&ledger->table);
    }
  g_array_set_size (ledger->purchases, 0);
  g_array_set_size (ledger->work, 0);
  return TRUE;
}

static void
add_entry (Ledger *ledger, BedQuery *q)
{
  guint year = bed_query_int (q, 2);

  if (bed_query_is_null (q, 3))
    {
      BedBatchWork work = { year, bed_query_int (q, 4), bed_query_int (q, 5) };

      g_array_append_val (ledger->work, work);
    }
  else
    {
      BedBatchPurchase purchase = { year, bed_query_int (q, 3) };

      g_array_append_val (ledger->purchases, purchase);
    }
}

gboolean
bed_outlook_read_costs (const BedSeasonLogs *all, GError **error)
{
  g_autoptr (BedQuery) q = bed_query_new (all->farm, entries);
  Ledger ledger
      = { .table = bed_outlook_table (all->farm, "INSERT INTO batch_year VALUES (?1, ?2, ?3, ?4)"),
          .purchases = g_array_new (FALSE, FALSE, sizeof (BedBatchPurchase)),
          .work = g_array_new (FALSE, FALSE, sizeof (BedBatchWork)) };
  gboolean well = TRUE;

  bed_query_bind_text (q, 1, all->next);
  bed_query_bind_int (q, 2, all->season);
  while (well && bed_query_next (q))
    {
      if (bed_query_int (q, 0) != ledger.batch)
        well = keep_batch (&ledger, error);
      ledger.batch = bed_query_int (q, 0);
      ledger.years = bed_query_int (q, 1) + 1;
      add_entry (&ledger, q);
    }
  well = well && keep_batch (&ledger, error);
  well = bed_query_finish (q, well ? error : NULL) && well;
  g_array_unref (ledger.purchases);
  g_array_unref (ledger.work);
  return bed_outlook_end (&ledger.table, well ? error : NULL) && well;
}
