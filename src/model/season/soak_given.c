#include "model/season/soak_given.h"

#include "model/farm/functions.h"
#include "model/farm/query.h"
#include "model/farm/value.h"
#include "science/rotation.h"

#define MG_PER_KG 1e6
#define KG_PER_LOG_PUBLISHED 0.170 /* 3/8 lb; see the header */

const double bed_soak_lag_shares[BED_SOAK_N_LAGS] = { 0.6, 0.4 };

/* What the soaks of a mushroom and a method gave, and what their logs were due by the crop's model:
 * the one over the other is a soak's share of what a season brings, in units of its level. */
struct _BedSoakKind
{
  double kg;
  double due;
};

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
  "  SELECT b.batch, p.picked_on, min (b.over), p.mass FROM bath b CROSS JOIN pick_dated p"
  "   ON p.log = b.log AND p.picked_on BETWEEN b.first AND b.last GROUP BY p.id"
  "  UNION ALL SELECT h.batch, p.picked_on, h.over,"
  "   h.logs * bed_pick_share (p.mass, sum (h.logs) OVER (PARTITION BY p.id)) FROM pick_dated p"
  "   CROSS JOIN heap h ON h.stack = p.stack AND p.picked_on BETWEEN h.first AND h.last"
  "    AND bed_lies (h.since, h.until, p.picked_on)"
  "   WHERE p.log IS NULL AND p.stack IS NOT NULL AND p.picked_on > date (?1, '-2 years')"
  "  UNION ALL SELECT p.batch, p.picked_on, min (b.over), p.mass"
  "   FROM (SELECT DISTINCT batch, first, last, over FROM bath) b CROSS JOIN pick_dated p"
  "   ON p.batch = b.batch AND p.picked_on BETWEEN b.first AND b.last"
  "   WHERE p.log IS NULL AND p.stack IS NULL AND p.batch IS NOT NULL GROUP BY p.id)"
  " SELECT batch, day, over, sum (mass) FROM given WHERE bed_week (day) IS NOT NULL"
  " GROUP BY 1, 2, 3";

/* Of every batch its mushroom and method. What nobody named is shiitake, as log_forced has it. */
static const char batches[]
  = "SELECT b.id, b.method || ' ' || coalesce (r.mushroom,"
  "  (SELECT id FROM mushroom WHERE latin_name = 'Lentinula edodes'), 0)"
  " FROM batch b JOIN batch_spawn r ON r.batch = b.id";

/* How many logs of a batch were soaked in a season, the flushes of which are over. */
static const char times[] = BATH
  " SELECT batch, bed_season (first), count (*) FROM bath WHERE over GROUP BY 1, 2";
/* clang-format on */

/* --- reading ---------------------------------------------------------------------------- */

static void
add_day (GHashTable *by_day, const char *day, double kg)
{
  double *sum = g_hash_table_lookup (by_day, day);

  if (!sum)
    g_hash_table_insert (by_day, g_strdup (day), sum = g_new0 (double, 1));
  *sum += kg;
}

static gboolean
read_kinds (BedSoakGiven *self, BedFarm *farm, GError **error)
{
  g_autoptr (BedQuery) q = bed_query_new (farm, batches);

  while (bed_query_next (q))
    {
      gint64 batch = bed_query_int (q, 0);
      const char *name = bed_query_text (q, 1);
      BedSoakKind *kind = g_hash_table_lookup (self->kinds, name);

      if (!kind)
        g_hash_table_insert (self->kinds, g_strdup (name), kind = g_new0 (BedSoakKind, 1));
      g_hash_table_insert (self->by_batch, g_memdup2 (&batch, sizeof batch), kind);
    }
  return bed_query_finish (q, error);
}

static gboolean
read_picks (BedSoakGiven *self, BedFarm *farm, const char *day, GError **error)
{
  g_autoptr (BedQuery) q = bed_query_new (farm, picks);

  bed_query_bind_text (q, 1, day);
  while (bed_query_next (q))
    {
      gint64 batch = bed_query_int (q, 0);
      double kg = bed_query_real (q, 3) / MG_PER_KG;
      BedSoakKind *kind = g_hash_table_lookup (self->by_batch, &batch);

      add_day (self->by_day, bed_query_text (q, 1), kg);
      if (kind && bed_query_int (q, 2))
        kind->kg += kg;
    }
  return bed_query_finish (q, error);
}

static gboolean
read_times (BedSoakGiven *self, BedFarm *farm, const char *day, GError **error)
{
  g_autoptr (BedQuery) q = bed_query_new (farm, times);

  bed_query_bind_text (q, 1, day);
  while (bed_query_next (q))
    {
      gint64 batch = bed_query_int (q, 0);
      BedSoakKind *kind = g_hash_table_lookup (self->by_batch, &batch);

      if (kind)
        kind->due += bed_query_real (q, 2)
                     * bed_crop_book_get_due (self->book, batch, (int) bed_query_int (q, 1));
    }
  return bed_query_finish (q, error);
}

/* --- public ----------------------------------------------------------------------------- */

static BedSoakGiven *
read_given (BedFarm *farm, const char *day, GError **error)
{
  g_autoptr (BedSoakGiven) self = g_rc_box_new0 (BedSoakGiven);

  self->kinds = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  self->by_batch = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  self->by_day = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  self->book = bed_crop_book_new (farm, bed_season_of (farm, day), BED_CROP_OF_VIEWS, error);
  if (!self->book || !read_kinds (self, farm, error) || !read_picks (self, farm, day, error)
      || !read_times (self, farm, day, error))
    return NULL;
  return g_steal_pointer (&self);
}

static void
clear_given (BedSoakGiven *given)
{
  g_hash_table_unref (given->by_batch);
  g_hash_table_unref (given->kinds);
  g_hash_table_unref (given->by_day);
  g_clear_pointer (&given->book, bed_crop_book_unref);
}

void
bed_soak_given_unref (BedSoakGiven *given)
{
  g_rc_box_release_full (given, (GDestroyNotify) clear_given);
}

BedSoakGiven *
bed_soak_given_new (BedFarm *farm, const char *day, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && day != NULL, NULL);
  g_autofree char *key = g_strconcat ("soak-given-", day, NULL);
  BedSoakGiven *given = bed_farm_get_kept (farm, key);

  if (given)
    return g_rc_box_acquire (given);
  given = read_given (farm, day, error);
  if (given)
    bed_farm_keep (farm, key, g_rc_box_acquire (given), (GDestroyNotify) bed_soak_given_unref);
  return given;
}

/* 0: not known. */
static double
get_own (const BedSoakGiven *given, gint64 batch, int season)
{
  const BedSoakKind *kind = g_hash_table_lookup (given->by_batch, &batch);

  return kind && kind->due > 0
             ? kind->kg / kind->due * bed_crop_book_get_due (given->book, batch, season)
             : 0;
}

double
bed_soak_given_get_kg (const BedSoakGiven *given, gint64 batch, int season)
{
  double kg = get_own (given, batch, season);

  return kg > 0 ? kg : KG_PER_LOG_PUBLISHED;
}

gboolean
bed_soak_given_is_own (const BedSoakGiven *given, gint64 batch, int season)
{
  return get_own (given, batch, season) > 0;
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
      farm, "SELECT date (s.put_in), l.batch, count (*), bed_season (date (s.put_in)) FROM soak s"
            " JOIN soaked d ON d.soak = s.id JOIN log l ON l.id = d.log"
            " WHERE s.put_in >= ?1 AND s.put_in < ?2"
            /* A text that is no moment, from a strange file, is no day or one of long ago. */
            " AND date (s.put_in) >= ?1 AND date (s.put_in) < ?2 GROUP BY 1, 2");

  bed_query_bind_text (q, 1, from);
  bed_query_bind_text (q, 2, until);
  while (bed_query_next (q))
    soaked[bed_date_days (from, bed_query_text (q, 0)) / 7]
        += bed_query_int (q, 2)
           * bed_soak_given_get_kg (given, bed_query_int (q, 1), (int) bed_query_int (q, 3));
  if (!bed_query_finish (q, error))
    return FALSE;
  bed_rotation_harvest (soaked, n, bed_soak_lag_shares, BED_SOAK_N_LAGS, harvest);
  for (guint week = 0; week < n_weeks; week++)
    kg[week] = harvest[BED_SOAK_N_LAGS + week];
  return TRUE;
}
