#include "model/work/soak_given.h"

#include <math.h>

#include "model/farm/query.h"

#define MG_PER_KG 1e6

/* SQL in lines of its own. */
/* clang-format off */
/* bath: logs that were soaked, and the days on which what is picked follows that soak; over: its
 * flush is, so that it has given all it gives. given: those picks by batch and day. */
#define GIVEN                                                                                      \
  "WITH bath AS MATERIALIZED (SELECT d.log, l.batch, date (s.put_in) AS first,"                    \
  "  coalesce (bed_flush_over (s.taken_out), bed_today ()) AS last,"                               \
  "  coalesce (bed_flush_over (s.taken_out) < bed_today (), 0) AS over FROM (SELECT * FROM soak"   \
  "   WHERE put_in > date (bed_today (), '-2 years') ORDER BY put_in DESC LIMIT 200) s"            \
  "  JOIN soaked d ON d.soak = s.id JOIN log l ON l.id = d.log),"                                  \
  " heap AS MATERIALIZED (SELECT x.stack, b.batch, b.first, b.last, b.over, x.since, x.until,"     \
  "  count (*) AS logs FROM bath b JOIN place x ON x.log = b.log GROUP BY 1, 2, 3, 4, 5, 6, 7),"   \
  " given (batch, day, over, mass) AS ("                                                           \
  "  SELECT b.batch, p.picked_on, min (b.over), p.mass FROM bath b JOIN pick p ON p.log = b.log"   \
  "   AND p.picked_on BETWEEN b.first AND b.last GROUP BY p.id"                                    \
  "  UNION ALL SELECT h.batch, p.picked_on, h.over,"                                               \
  "   p.mass * 1.0 * h.logs / sum (h.logs) OVER (PARTITION BY p.id) FROM heap h"                   \
  "   JOIN pick p ON p.stack = h.stack AND +p.log IS NULL"                                         \
  "   AND p.picked_on BETWEEN h.first AND h.last AND bed_lies (h.since, h.until, p.picked_on)"     \
  "  UNION ALL SELECT p.batch, p.picked_on, min (b.over), p.mass"                                  \
  "   FROM (SELECT DISTINCT batch, first, last, over FROM bath) b"                                 \
  "   JOIN pick p ON p.batch = b.batch AND +p.log IS NULL AND +p.stack IS NULL"                    \
  "   AND p.picked_on BETWEEN b.first AND b.last GROUP BY p.id)"

/* Of every batch what the soaks of its mushroom and method gave and how many logs they were of.
 * What nobody named is shiitake, as log_forced has it. */
static const char by_kind[] = GIVEN
  " SELECT b.id,"
  "  sum ((SELECT sum (g.mass) FROM given g WHERE g.batch = b.id AND g.over)) OVER kind,"
  "  sum ((SELECT count (*) FROM bath h WHERE h.batch = b.id AND h.over)) OVER kind"
  " FROM batch b JOIN batch_spawn r ON r.batch = b.id"
  " WINDOW kind AS (PARTITION BY b.method, coalesce (r.mushroom,"
  "  (SELECT id FROM mushroom WHERE latin_name = 'Lentinula edodes')))";
/* clang-format on */

static const char by_day[] = GIVEN " SELECT day, sum (mass) FROM given GROUP BY 1";

static double *
new_kg (double mg)
{
  double *kg = g_new (double, 1);

  *kg = mg / MG_PER_KG;
  return kg;
}

static gboolean
read_batches (BedSoakGiven *self, BedFarm *farm, GError **error)
{
  g_autoptr (BedQuery) q = bed_query_new (farm, by_kind);

  while (bed_query_next (q))
    {
      gint64 batch = bed_query_int (q, 0);
      double mass = bed_query_real (q, 1), logs = bed_query_real (q, 2);

      if (mass > 0 && logs > 0)
        g_hash_table_insert (self->by_batch, g_memdup2 (&batch, sizeof batch),
                             new_kg (mass / logs));
    }
  return bed_query_finish (q, error);
}

static gboolean
read_days (BedSoakGiven *self, BedFarm *farm, GError **error)
{
  g_autoptr (BedQuery) q = bed_query_new (farm, by_day);

  while (bed_query_next (q))
    g_hash_table_insert (self->by_day, g_strdup (bed_query_text (q, 0)),
                         new_kg (bed_query_real (q, 1)));
  return bed_query_finish (q, error);
}

BedSoakGiven *
bed_soak_given_new (BedFarm *farm, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm), NULL);
  g_autoptr (BedSoakGiven) self = g_new0 (BedSoakGiven, 1);

  self->by_batch = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, g_free);
  self->by_day = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  if (!read_batches (self, farm, error) || !read_days (self, farm, error))
    return NULL;
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

  return kg ? *kg : NAN;
}
