#include "model/season/batch_glance.h"

#include "model/farm/query.h"
#include "model/farm/value.h"

#define WEEKS ((int) G_N_ELEMENTS (((BedBatchGlance *) NULL)->weeks))

static void
free_glance (gpointer data)
{
  g_array_unref (((BedBatchGlance *) data)->losses);
  g_free (data);
}

static void
free_glances (gpointer data)
{
  BedBatchGlances *glances = data;

  g_hash_table_unref (glances->batches);
  g_free (glances);
}

static BedBatchGlance *
find (BedBatchGlances *glances, BedQuery *q)
{
  gint64 id = bed_query_int (q, 0);

  return g_hash_table_lookup (glances->batches, &id);
}

static gboolean
read_batches (BedBatchGlances *glances, BedFarm *farm, GError **error)
{
  g_autoptr (BedQuery) q = bed_query_new (
      farm, "SELECT id, cast (julianday (bed_today ()) - julianday (inoculated_on) AS INTEGER)"
            " FROM batch WHERE inoculated_on <= bed_today ()");

  while (bed_query_next (q))
    {
      gint64 id = bed_query_int (q, 0);
      BedBatchGlance *glance = g_new0 (BedBatchGlance, 1);
      glance->age = (int) bed_query_int (q, 1);
      glance->first_day = -1;
      glance->losses = g_array_new (FALSE, FALSE, sizeof (BedBatchLoss));
      g_hash_table_insert (glances->batches, g_memdup2 (&id, sizeof id), glance);
    }
  return bed_query_finish (q, error);
}

/* Of each batch in turn: how many logs were retired on each day, those that live last. */
static gboolean
read_losses (BedBatchGlances *glances, BedFarm *farm, GError **error)
{
  g_autoptr (BedQuery) q = bed_query_new (
      farm,
      "SELECT batch, lost, day, sum (n) OVER (PARTITION BY batch) AS made,"
      " sum (n) OVER (PARTITION BY batch ORDER BY day) AS gone"
      " FROM (SELECT l.batch, NOT bed_alive (l.retired_on, bed_today ()) AS lost,"
      "  CASE WHEN bed_alive (l.retired_on, bed_today ()) THEN 999999"
      "  ELSE max (cast (julianday (l.retired_on) - julianday (b.inoculated_on) AS INTEGER), 0)"
      "  END AS day, count (*) AS n"
      "  FROM log l JOIN batch b ON b.id = l.batch GROUP BY 1, 2, 3)"
      " ORDER BY batch, day");

  while (bed_query_next (q))
    {
      BedBatchGlance *glance = find (glances, q);
      if (!glance || !bed_query_int (q, 1))
        continue;
      BedBatchLoss loss
          = { (int) bed_query_int (q, 2), 1 - bed_query_real (q, 4) / bed_query_real (q, 3) };
      g_array_append_val (glance->losses, loss);
      glance->spent = bed_query_int (q, 4) == bed_query_int (q, 3);
      if (glance->spent)
        glance->age = MIN (glance->age, loss.day);
    }
  return bed_query_finish (q, error);
}

/* The first soak; of a batch that was never in the water its first pick. By what a pick is of, each
 * from its own index: the view of days would look at all of them. Batch by batch (CROSS JOIN,
 * SQLite), or every soak of every log would be sorted. */
static const char first_sql[]
    = "WITH soaked_on AS MATERIALIZED"
      " (SELECT l.batch, date (min (s.put_in)) AS day FROM log l"
      "  CROSS JOIN soaked d ON d.log = l.id CROSS JOIN soak s ON s.id = d.soak"
      "  WHERE l.batch IS NOT NULL GROUP BY l.batch)"
      " SELECT x.batch, cast (julianday (min (x.day)) - julianday (b.inoculated_on) AS INTEGER)"
      " FROM (SELECT batch, day FROM soaked_on"
      "  UNION ALL SELECT l.batch, min (p.picked_on) FROM log l JOIN pick p ON p.log = l.id"
      "   WHERE l.batch NOT IN (SELECT batch FROM soaked_on) GROUP BY 1"
      "  UNION ALL SELECT p.batch, min (p.picked_on) FROM pick p"
      "   WHERE p.batch IS NOT NULL AND p.batch NOT IN (SELECT batch FROM soaked_on) GROUP BY 1"
      "  UNION ALL SELECT g.batch, min (p.picked_on) FROM place_group g JOIN pick p"
      "   ON p.stack = g.stack AND +p.log IS NULL AND bed_lies (g.since, g.until, p.picked_on)"
      "   WHERE g.batch NOT IN (SELECT batch FROM soaked_on) GROUP BY 1) x"
      " JOIN batch b ON b.id = x.batch GROUP BY x.batch";

static gboolean
read_first (BedBatchGlances *glances, BedFarm *farm, GError **error)
{
  g_autoptr (BedQuery) q = bed_query_new (farm, first_sql);

  while (bed_query_next (q))
    {
      BedBatchGlance *glance = find (glances, q);
      if (glance)
        glance->first_day = MAX ((int) bed_query_int (q, 1), 0);
    }
  return bed_query_finish (q, error);
}

static gboolean
read_weeks (BedBatchGlances *glances, BedFarm *farm, GError **error)
{
  g_autofree char *monday = bed_date_monday (bed_farm_get_today (farm));
  g_autofree char *first = bed_date_add (monday, -7 * (WEEKS - 1));
  g_autoptr (BedQuery) q = bed_query_new (
      farm, "SELECT batch, picked_on, sum (mass) FROM batch_day WHERE picked_on >= ?1"
            " AND bed_pick_week (since, picked_on) IS NOT NULL GROUP BY 1, 2");

  bed_query_bind_text (q, 1, first);
  while (bed_query_next (q))
    {
      BedBatchGlance *glance = find (glances, q);
      int at = glance ? bed_date_days (first, bed_query_text (q, 1)) / 7 : -1;
      if (at >= 0 && at < WEEKS)
        glance->weeks[at] += bed_query_real (q, 2);
    }
  return bed_query_finish (q, error);
}

static void
find_scales (BedBatchGlances *glances)
{
  GHashTableIter iter;
  gpointer value;

  g_hash_table_iter_init (&iter, glances->batches);
  while (g_hash_table_iter_next (&iter, NULL, &value))
    {
      BedBatchGlance *glance = value;
      glances->oldest = MAX (glances->oldest, glance->age);
      for (int i = 0; i < WEEKS; i++)
        glances->most = MAX (glances->most, glance->weeks[i]);
    }
}

static gboolean
read_all (BedBatchGlances *glances, BedFarm *farm, GError **error)
{
  if (!read_batches (glances, farm, error) || !read_losses (glances, farm, error)
      || !read_first (glances, farm, error) || !read_weeks (glances, farm, error))
    return FALSE;
  find_scales (glances);
  return TRUE;
}

const BedBatchGlances *
bed_batch_glances_peek (BedFarm *farm)
{
  return bed_farm_get_kept (farm, "batch-glances");
}

const BedBatchGlances *
bed_batch_glances_get (BedFarm *farm, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm), NULL);
  BedBatchGlances *glances = bed_farm_get_kept (farm, "batch-glances");

  if (glances)
    return glances;
  glances = g_new0 (BedBatchGlances, 1);
  glances->batches = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, free_glance);
  if (!read_all (glances, farm, error))
    {
      free_glances (glances);
      return NULL;
    }
  bed_farm_keep (farm, "batch-glances", glances, free_glances);
  return glances;
}
