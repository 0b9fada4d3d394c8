#include "model/season/log_crop.h"

#include "model/farm/functions.h"
#include "model/farm/query.h"

/* Days are whole numbers, 20260518, which compare fast; a place left open ends after all of them.
 */
#define DAY(column) "CAST (replace (" column ", '-', '') AS INTEGER)"
#define STILL G_MAXINT

typedef struct
{
  gint64 log;
  gint64 since, until;
} Lying;

typedef struct
{
  BedFarm *farm;
  const char *first, *last;
  GHashTable *given; /* log -> double, mg */
} Crop;

static BedQuery *
ask (const Crop *crop, const char *sql)
{
  BedQuery *q = bed_query_new (crop->farm, sql);

  bed_query_bind_text (q, 1, crop->first);
  bed_query_bind_text (q, 2, crop->last);
  return q;
}

static void
give (Crop *crop, gint64 log, double mass)
{
  double *given = g_hash_table_lookup (crop->given, &log);

  if (!given)
    {
      given = g_new0 (double, 1);
      g_hash_table_insert (crop->given, g_memdup2 (&log, sizeof log), given);
    }
  *given += mass;
}

static gboolean
read_own (Crop *crop, GError **error)
{
  g_autoptr (BedQuery) q = ask (crop, "SELECT log, sum (mass) FROM pick WHERE +log IS NOT NULL"
                                      " AND picked_on BETWEEN ?1 AND ?2 GROUP BY log");

  while (bed_query_next (q))
    give (crop, bed_query_int (q, 0), bed_query_real (q, 1));
  return bed_query_finish (q, error);
}

/* --- together ------------------------------------------------------------------------- */

/* Which logs shared what was picked: stack or batch -> GArray of Lying. @sql asks for it, the log
 * and since when until when (NULL: still). */
static GHashTable *
read_groups (const Crop *crop, const char *sql, GError **error)
{
  g_autoptr (GHashTable) groups
      = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, (GDestroyNotify) g_array_unref);
  g_autoptr (BedQuery) q = ask (crop, sql);

  while (bed_query_next (q))
    {
      gint64 of = bed_query_int (q, 0);
      Lying lying = { bed_query_int (q, 1), bed_query_int (q, 2),
                      bed_query_is_null (q, 3) ? STILL : bed_query_int (q, 3) };
      GArray *there = g_hash_table_lookup (groups, &of);
      if (!there)
        {
          there = g_array_new (FALSE, FALSE, sizeof (Lying));
          g_hash_table_insert (groups, g_memdup2 (&of, sizeof of), there);
        }
      g_array_append_val (there, lying);
    }
  return bed_query_finish (q, error) ? g_steal_pointer (&groups) : NULL;
}

/* @mass picked on @day of what lay @there. */
static void
share (Crop *crop, const GArray *there, gint64 day, double mass)
{
  guint n = 0;

  for (guint i = 0; i < there->len; i++)
    {
      const Lying *lying = &g_array_index (there, Lying, i);
      n += lying->since <= day && day < lying->until;
    }
  for (guint i = 0; i < there->len; i++)
    {
      const Lying *lying = &g_array_index (there, Lying, i);
      if (lying->since <= day && day < lying->until)
        give (crop, lying->log, bed_pick_share (mass, n));
    }
}

typedef struct
{
  const char *groups, *picks;
} Together;

#define PICKED "picked_on BETWEEN ?1 AND ?2"

/* By the day, of which a farm has the most. A log is of its batch until the day it is retired; one
 * that is picked alone is not shared. */
static const Together together[] = {
  { "SELECT stack, log, " DAY ("since") ", " DAY (
        "until") " FROM place WHERE stack IN (SELECT stack FROM pick WHERE +log IS NULL"
                 " AND +stack IS NOT NULL AND " PICKED ")",
    "SELECT stack, " DAY ("picked_on") ", sum (mass) FROM pick WHERE +log IS NULL"
                                       " AND +stack IS NOT NULL AND " PICKED
                                       " GROUP BY stack, picked_on" },
  { "SELECT batch, id, 0, " DAY (
        "retired_on") " FROM log WHERE batch IN (SELECT batch FROM pick WHERE +log IS NULL"
                      " AND +stack IS NULL AND +batch IS NOT NULL AND " PICKED ")",
    "SELECT batch, " DAY (
        "picked_on") ", sum (mass) FROM pick WHERE +log IS NULL AND +stack IS NULL"
                     " AND +batch IS NOT NULL AND " PICKED " GROUP BY batch, picked_on" },
};

static gboolean
read_together (Crop *crop, const Together *of, GError **error)
{
  g_autoptr (GHashTable) groups = read_groups (crop, of->groups, error);

  if (!groups)
    return FALSE;
  g_autoptr (BedQuery) q = ask (crop, of->picks);
  while (bed_query_next (q))
    {
      gint64 id = bed_query_int (q, 0);
      const GArray *there = g_hash_table_lookup (groups, &id);
      if (there)
        share (crop, there, bed_query_int (q, 1), bed_query_real (q, 2));
    }
  return bed_query_finish (q, error);
}

GHashTable *
bed_log_crop_read (BedFarm *farm, const char *first, const char *last, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && first != NULL && last != NULL, NULL);
  g_autoptr (GHashTable) given
      = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, g_free);
  Crop crop = { farm, first, last, given };

  if (!read_own (&crop, error))
    return NULL;
  for (guint i = 0; i < G_N_ELEMENTS (together); i++)
    if (!read_together (&crop, &together[i], error))
      return NULL;
  return g_steal_pointer (&given);
}
