#include "model/season/batch_life.h"

#include "model/farm/query.h"

/* Seasons since inoculation; what was paid before it counts with its first. */
#define YEAR(day)                                                                                  \
  "max (bed_season (" day ") - bed_season ((SELECT inoculated_on FROM batch WHERE id = ?1)), 0)"

static gboolean
read_purchases (BedFarm *farm, gint64 batch, GArray *purchases, GError **error)
{
  static const char asked[] = "SELECT " YEAR (
      "bought_on") ", cost FROM purchase_paid WHERE batch = ?1 AND scope = 'batch'"
                   " UNION ALL SELECT 0, spawn FROM batch_cost WHERE batch = ?1";
  g_autoptr (BedQuery) q = bed_query_new (farm, asked);

  bed_query_bind_int (q, 1, batch);
  while (bed_query_next (q))
    {
      BedBatchPurchase one = { (guint) bed_query_int (q, 0), bed_query_int (q, 1) };
      g_array_append_val (purchases, one);
    }
  return bed_query_finish (q, error);
}

static gboolean
read_work (BedFarm *farm, gint64 batch, GArray *work, GError **error)
{
  static const char asked[]
      = "SELECT " YEAR ("worked_on") ", minutes, rate FROM hours_paid WHERE batch = ?1";
  g_autoptr (BedQuery) q = bed_query_new (farm, asked);

  bed_query_bind_int (q, 1, batch);
  while (bed_query_next (q))
    {
      BedBatchWork one
          = { (guint) bed_query_int (q, 0), bed_query_int (q, 1), bed_query_int (q, 2) };
      g_array_append_val (work, one);
    }
  return bed_query_finish (q, error);
}

/* The life runs to this season, or to the last with a cost. */
static guint
count_years (gint64 today, const GArray *purchases, const GArray *work)
{
  gint64 years = 1 + today;

  for (guint i = 0; i < purchases->len; i++)
    years = MAX (years, 1 + (gint64) g_array_index (purchases, BedBatchPurchase, i).year);
  for (guint i = 0; i < work->len; i++)
    years = MAX (years, 1 + (gint64) g_array_index (work, BedBatchWork, i).year);
  return (guint) MIN (years, 50);
}

BedBatchCosts *
bed_batch_life_cost (BedFarm *farm, gint64 batch, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm), NULL);
  g_autoptr (GArray) purchases = g_array_new (FALSE, FALSE, sizeof (BedBatchPurchase));
  g_autoptr (GArray) work = g_array_new (FALSE, FALSE, sizeof (BedBatchWork));

  gint64 year, logs, picked;

  if (!read_purchases (farm, batch, purchases, error) || !read_work (farm, batch, work, error)
      || !bed_query_one (farm, "SELECT " YEAR ("bed_today ()"), batch, &year, error)
      || !bed_query_one (farm, "SELECT count (*) FROM log WHERE batch = ?1", batch, &logs, error)
      || !bed_query_one (farm, "SELECT picked FROM batch_summary WHERE id = ?1", batch, &picked,
                         error))
    return NULL;
  BedBatchLife life = {
    .purchases = (const BedBatchPurchase *) (gpointer) purchases->data,
    .n_purchases = purchases->len,
    .work = (const BedBatchWork *) (gpointer) work->data,
    .n_work = work->len,
    .years = count_years (year, purchases, work),
    .logs = (guint) logs,
    .marketable_kg = (double) picked / 1e6,
  };
  return bed_batch_costs_new (&life, error);
}
