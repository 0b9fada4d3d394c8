#include "model/work/soak_given.h"

#include "model/farm/query.h"
#include "model/farm/value.h"
#include "science/rotation.h"

#define MG_PER_KG 1e6
#define KG_PER_LOG_PUBLISHED 0.170 /* 3/8 lb; see the header */

const double bed_soak_lag_shares[BED_SOAK_N_LAGS] = { 0.6, 0.4 };

/* What the soaks of a mushroom and a method gave, and of how many logs they were. */
typedef struct
{
  double kg;
  double logs;
} Kind;

/* SQL in lines of its own. */
/* clang-format off */
/* Logs that were soaked up to day ?1, and the days on which what is picked follows that soak; over:
 * its flush is, so that it has given all it gives. */
#define BATH                                                                                       \
  "WITH bath AS MATERIALIZED (SELECT d.log, l.batch, date (s.put_in) AS first,"                    \
  "  min (coalesce (bed_flush_over (s.taken_out), ?1), ?1) AS last,"                               \
  "  coalesce (bed_flush_over (s.taken_out) < ?1, 0) AS over FROM (SELECT * FROM soak"             \
  "   WHERE put_in > date (?1, '-2 years') AND put_in < date (?1, '+1 day')"                       \
  "   ORDER BY put_in DESC LIMIT 200) s"                                                           \
  "  JOIN soaked d ON d.soak = s.id JOIN log l ON l.id = d.log)"

/* Those picks by batch and day. CROSS JOIN: from the few that were soaked to their picks, by
 * index. */
static const char picks[] = BATH
  ", heap AS MATERIALIZED (SELECT x.stack, b.batch, b.first, b.last, b.over, x.since, x.until,"
  "  count (*) AS logs FROM bath b CROSS JOIN place x ON x.log = b.log"
  "  WHERE x.since <= b.last GROUP BY 1, 2, 3, 4, 5, 6, 7),"
  " given (batch, day, over, mass) AS ("
  "  SELECT b.batch, p.picked_on, min (b.over), p.mass FROM bath b CROSS JOIN pick p"
  "   ON p.log = b.log AND p.picked_on BETWEEN b.first AND b.last GROUP BY p.id"
  "  UNION ALL SELECT h.batch, p.picked_on, h.over,"
  "   h.logs * bed_pick_share (p.mass, sum (h.logs) OVER (PARTITION BY p.id)) FROM pick p"
  "   CROSS JOIN heap h ON h.stack = p.stack AND p.picked_on BETWEEN h.first AND h.last"
  "    AND bed_lies (h.since, h.until, p.picked_on)"
  "   WHERE p.log IS NULL AND p.stack IS NOT NULL AND p.picked_on > date (?1, '-2 years')"
  "  UNION ALL SELECT p.batch, p.picked_on, min (b.over), p.mass"
  "   FROM (SELECT DISTINCT batch, first, last, over FROM bath) b CROSS JOIN pick p"
  "   ON p.batch = b.batch AND p.picked_on BETWEEN b.first AND b.last"
  "   WHERE p.log IS NULL AND p.stack IS NULL AND p.batch IS NOT NULL GROUP BY p.id)"
  " SELECT batch, day, over, sum (mass) FROM given WHERE bed_week (day) IS NOT NULL"
  " GROUP BY 1, 2, 3";

/* Of every batch its mushroom and method, and how many logs were soaked. What nobody named is
 * shiitake, as log_forced has it. */
static const char batches[] = BATH
  ", times AS MATERIALIZED (SELECT batch, count (*) AS logs FROM bath WHERE over GROUP BY 1)"
  " SELECT b.id, b.method || ' ' || coalesce (r.mushroom,"
  "  (SELECT id FROM mushroom WHERE latin_name = 'Lentinula edodes'), 0), coalesce (t.logs, 0)"
  " FROM batch b JOIN batch_spawn r ON r.batch = b.id LEFT JOIN times t ON t.batch = b.id";
/* clang-format on */

/* --- reading ---------------------------------------------------------------------------- */

static void
add_kg (GHashTable *table, gpointer key, double kg)
{
  double *sum = g_hash_table_lookup (table, key);

  if (!sum)
    g_hash_table_insert (table, key, sum = g_new0 (double, 1));
  else
    g_free (key);
  *sum += kg;
}

/* @given: batch -> double *, kg of soaks that are over. */
static gboolean
read_picks (BedSoakGiven *self, BedFarm *farm, const char *day, GHashTable *given, GError **error)
{
  g_autoptr (BedQuery) q = bed_query_new (farm, picks);

  bed_query_bind_text (q, 1, day);
  while (bed_query_next (q))
    {
      gint64 batch = bed_query_int (q, 0);
      double kg = bed_query_real (q, 3) / MG_PER_KG;

      add_kg (self->by_day, g_strdup (bed_query_text (q, 1)), kg);
      if (bed_query_int (q, 2))
        add_kg (given, g_memdup2 (&batch, sizeof batch), kg);
    }
  return bed_query_finish (q, error);
}

/* @kind_of: batch -> Kind, of @kinds. */
static gboolean
read_kinds (BedFarm *farm, const char *day, GHashTable *given, GHashTable *kinds,
            GHashTable *kind_of, GError **error)
{
  g_autoptr (BedQuery) q = bed_query_new (farm, batches);

  bed_query_bind_text (q, 1, day);
  while (bed_query_next (q))
    {
      gint64 batch = bed_query_int (q, 0);
      const char *name = bed_query_text (q, 1);
      const double *kg = g_hash_table_lookup (given, &batch);
      Kind *kind = g_hash_table_lookup (kinds, name);

      if (!kind)
        g_hash_table_insert (kinds, g_strdup (name), kind = g_new0 (Kind, 1));
      kind->kg += kg ? *kg : 0;
      kind->logs += bed_query_real (q, 2);
      g_hash_table_insert (kind_of, g_memdup2 (&batch, sizeof batch), kind);
    }
  return bed_query_finish (q, error);
}

static void
set_batches (BedSoakGiven *self, GHashTable *kind_of)
{
  GHashTableIter iter;
  gpointer batch, value;

  g_hash_table_iter_init (&iter, kind_of);
  while (g_hash_table_iter_next (&iter, &batch, &value))
    {
      const Kind *kind = value;

      if (kind->kg > 0 && kind->logs > 0)
        add_kg (self->by_batch, g_memdup2 (batch, sizeof (gint64)), kind->kg / kind->logs);
    }
}

/* --- public ----------------------------------------------------------------------------- */

BedSoakGiven *
bed_soak_given_new (BedFarm *farm, const char *day, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && day != NULL, NULL);
  g_autoptr (BedSoakGiven) self = g_new0 (BedSoakGiven, 1);

  self->by_batch = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, g_free);
  self->by_day = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  g_autoptr (GHashTable) given
      = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, g_free);
  g_autoptr (GHashTable) kinds = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  g_autoptr (GHashTable) kind_of
      = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  if (!read_picks (self, farm, day, given, error)
      || !read_kinds (farm, day, given, kinds, kind_of, error))
    return NULL;
  set_batches (self, kind_of);
  return g_steal_pointer (&self);
}

void
bed_soak_given_free (BedSoakGiven *given)
{
  g_hash_table_unref (given->by_batch);
  g_hash_table_unref (given->by_day);
  g_free (given);
}

double
bed_soak_given_get_kg (const BedSoakGiven *given, gint64 batch)
{
  const double *kg = g_hash_table_lookup (given->by_batch, &batch);

  return kg ? *kg : KG_PER_LOG_PUBLISHED;
}

gboolean
bed_soak_given_is_own (const BedSoakGiven *given, gint64 batch)
{
  return g_hash_table_contains (given->by_batch, &batch);
}

gboolean
bed_soak_given_expect (const BedSoakGiven *given, BedFarm *farm, const char *monday, guint n_weeks,
                       double *kg, GError **error)
{
  g_return_val_if_fail (given != NULL && BED_IS_FARM (farm) && monday != NULL, FALSE);
  /* What was soaked just before is still picked in the first weeks. */
  guint n = BED_SOAK_N_LAGS + n_weeks;
  g_autofree char *from = bed_date_add (monday, -7 * BED_SOAK_N_LAGS);
  g_autofree char *until = bed_date_add (monday, 7 * (int) n_weeks);
  g_autofree double *soaked = g_new0 (double, n), *harvest = g_new0 (double, n);
  g_autoptr (BedQuery) q = bed_query_new (
      farm, "SELECT date (s.put_in), l.batch, count (*) FROM soak s JOIN soaked d ON d.soak = s.id"
            " JOIN log l ON l.id = d.log WHERE s.put_in >= ?1 AND s.put_in < ?2"
            /* A text that is no moment, from a strange file, is no day or one of long ago. */
            " AND date (s.put_in) >= ?1 AND date (s.put_in) < ?2 GROUP BY 1, 2");

  bed_query_bind_text (q, 1, from);
  bed_query_bind_text (q, 2, until);
  while (bed_query_next (q))
    soaked[bed_date_days (from, bed_query_text (q, 0)) / 7]
        += bed_query_int (q, 2) * bed_soak_given_get_kg (given, bed_query_int (q, 1));
  if (!bed_query_finish (q, error))
    return FALSE;
  bed_rotation_harvest (soaked, n, bed_soak_lag_shares, BED_SOAK_N_LAGS, harvest);
  for (guint week = 0; week < n_weeks; week++)
    kg[week] = harvest[BED_SOAK_N_LAGS + week];
  return TRUE;
}
