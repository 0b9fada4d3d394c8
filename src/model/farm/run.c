#include "model/farm/run.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "model/farm/query.h"
#include "model/farm/value.h"
#include "science/heat.h"

#define LOWER_C 5.0 /* docs/sources.md, "Spawn run" */
#define UPPER_C 30.0
#define YEAR 365
#define KNOWN_OF_YEAR 330
#define MOST_DAYS (4 * YEAR) /* from inoculation, that are looked ahead */
#define DAYS_PER_MONTH 30.4

/* The effort of every day from inoculation on, past and ahead. */
typedef struct
{
  char *first; /* day of inoculation */
  int age;     /* of it in days, today */
  double *daily;
  int n;
  double mean; /* of a day, over a year */
} Effort;

static void
clear_effort (Effort *effort)
{
  g_free (effort->first);
  g_free (effort->daily);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Effort, clear_effort)

/* --- warmth ----------------------------------------------------------------------------- */

struct _BedRunHeat
{
  char *first;  /* YYYY-MM-DD; NULL: no temperature is kept */
  GArray *days; /* double, its degree days and those of the days after it; NAN: not known */
};

void
bed_run_heat_free (BedRunHeat *heat)
{
  g_free (heat->first);
  g_array_unref (heat->days);
  g_free (heat);
}

static void
add_day (BedRunHeat *heat, BedQuery *q)
{
  double degree_days;

  if (!heat->first)
    heat->first = g_strdup (bed_query_text (q, 0));
  int day = bed_date_days (heat->first, bed_query_text (q, 0));
  if (day < 0
      || !bed_heat_day ((double) bed_query_int (q, 1) / 1000, (double) bed_query_int (q, 2) / 1000,
                        LOWER_C, UPPER_C, &degree_days, NULL))
    return;
  while ((int) heat->days->len <= day)
    g_array_append_val (heat->days, (double){ NAN });
  g_array_index (heat->days, double, day) = degree_days;
}

BedRunHeat *
bed_run_heat_new (BedFarm *farm, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm), NULL);
  g_autoptr (BedRunHeat) heat = g_new0 (BedRunHeat, 1);
  g_autoptr (BedQuery) q
      = bed_query_new (farm, "SELECT measured_on, least, most FROM temperature"
                             " WHERE measured_on <= bed_today () ORDER BY measured_on");

  heat->days = g_array_new (FALSE, FALSE, sizeof (double));
  while (bed_query_next (q))
    add_day (heat, q);
  return bed_query_finish (q, error) ? g_steal_pointer (&heat) : NULL;
}

/* Degree days of @n days from @first on; NAN where no temperature is kept. */
static void
take_days (const BedRunHeat *heat, const char *first, double *days, int n)
{
  int skip = heat->first ? bed_date_days (heat->first, first) : 0;

  for (int i = 0; i < n; i++)
    days[i] = skip + i >= 0 && skip + i < (int) heat->days->len
                  ? g_array_index (heat->days, double, skip + i)
                  : NAN;
}

static int
count_known (const double *heat, int n)
{
  int known = 0;

  for (int i = 0; i < n; i++)
    known += !isnan (heat[i]);
  return known;
}

/* A day left out is like the one before; those before the first are like it. */
static void
fill_gaps (double *heat, int n)
{
  double last = NAN;

  for (int i = 0; i < n && isnan (last); i++)
    last = heat[i];
  for (int i = 0; i < n; i++)
    if (isnan (heat[i]))
      heat[i] = last;
    else
      last = heat[i];
}

/* @heat: of the days from a year before today, or from inoculation when that is earlier, up
 * to today, @before of them before inoculation. Ahead, each day is like the one a year back. */
static void
take_heat (Effort *effort, const double *heat, int before)
{
  int today = before + effort->age;
  double sum = 0;

  for (int i = 0; i < effort->n; i++)
    {
      int at = before + i;
      while (at > today)
        at -= YEAR;
      effort->daily[i] = heat[at];
    }
  for (int i = 0; i < YEAR; i++)
    sum += heat[today - i];
  effort->mean = sum / YEAR;
}

/* Takes what @effort is of from @kept. */
static void
fill_effort (Effort *effort, const BedRunHeat *kept, BedRunEffort *unit)
{
  int before = MAX (YEAR - 1 - effort->age, 0), n = before + effort->age + 1;
  g_autofree char *from = bed_date_add (effort->first, -before);
  g_autofree double *heat = g_new (double, n);

  effort->n = MAX (effort->age + 1, MOST_DAYS);
  effort->daily = g_new (double, effort->n);
  take_days (kept, from, heat, n);
  *unit = BED_RUN_BY_DAYS;
  effort->mean = 1;
  for (int i = 0; i < effort->n; i++)
    effort->daily[i] = 1;
  if (count_known (heat + n - YEAR, YEAR) < KNOWN_OF_YEAR
      || count_known (heat + before, effort->age + 1) * 5 < (effort->age + 1) * 4)
    return;
  fill_gaps (heat, n);
  take_heat (effort, heat, before);
  /* A year without a warm day runs no spawn; plain days then. */
  if (effort->mean < 0.01)
    {
      effort->mean = 1;
      for (int i = 0; i < effort->n; i++)
        effort->daily[i] = 1;
      return;
    }
  *unit = BED_RUN_BY_HEAT;
}

/* What was reached by the end of day @day. The day of inoculation itself is not counted. */
static double
effort_at (const Effort *effort, int day)
{
  double sum = 0;

  for (int i = 1; i <= MIN (day, effort->n - 1); i++)
    sum += effort->daily[i];
  return sum;
}

/* --- what is expected ------------------------------------------------------------------- */

static BedStrainType
read_strain (const char *type)
{
  if (g_strcmp0 (type, "cold-weather") == 0)
    return BED_STRAIN_COLD;
  return g_strcmp0 (type, "warm-weather") == 0 ? BED_STRAIN_WARM : BED_STRAIN_WIDE;
}

/* Soft woods of broad-leaved trees are run through sooner: science/spawn_run.h. */
static BedWoodPace
read_pace (const char *latin)
{
  static const char *const quick[] = { "Acer ",   "Liquidambar ",  "Populus ", "Alnus ",
                                       "Betula ", "Liriodendron ", "Salix ",   "Tilia " };

  for (guint i = 0; latin && i < G_N_ELEMENTS (quick); i++)
    if (g_str_has_prefix (latin, quick[i]))
      return BED_WOOD_QUICK;
  return BED_WOOD_DENSE;
}

static gboolean
read_prior (BedFarm *farm, gint64 batch, BedRun *run, BedSpawnPrior *prior, GError **error)
{
  g_autoptr (BedQuery) q = bed_query_new (
      farm, "SELECT s.strain_type, coalesce (s.run_least, 0), coalesce (s.run_most, 0),"
            " (SELECT w.latin_name FROM log l JOIN felling f ON f.id = l.felling JOIN wood w"
            "   ON w.id = f.wood WHERE l.batch = s.batch GROUP BY w.id ORDER BY count (*) DESC"
            "   LIMIT 1) FROM batch_spawn s WHERE s.batch = ?1");
  gboolean ok = TRUE;

  bed_query_bind_int (q, 1, batch);
  if (bed_query_next (q))
    {
      double least = (double) bed_query_int (q, 1), most = (double) bed_query_int (q, 2);

      run->is_of_strain = least > 0 && most > least;
      if (run->is_of_strain)
        *prior = (BedSpawnPrior){ sqrt (least * most) * DAYS_PER_MONTH, least * DAYS_PER_MONTH,
                                  most * DAYS_PER_MONTH };
      else
        ok = bed_spawn_prior (read_strain (bed_query_text (q, 0)),
                              read_pace (bed_query_text (q, 3)), prior, error);
    }
  return ok && bed_query_finish (q, error);
}

/* One check a day: the mean of the ends looked at, since ends seen on one round by one pair of
 * eyes are not so many independent looks. */
static GArray *
read_checks (BedFarm *farm, gint64 batch, const Effort *effort, GError **error)
{
  g_autoptr (GArray) checks = g_array_new (FALSE, FALSE, sizeof (BedSpawnCheck));
  g_autoptr (BedQuery) q = bed_query_new (
      farm, "SELECT checked_on, avg (colonised) / 100.0"
            " FROM (SELECT checked_on, colonised FROM \"check\" WHERE batch = ?1 UNION ALL"
            "  SELECT c.checked_on, c.colonised FROM log l JOIN \"check\" c ON c.log = l.id"
            "   WHERE l.batch = ?1 AND +c.batch IS NULL)"
            " WHERE colonised IS NOT NULL AND checked_on >= ?2 AND checked_on <= bed_today ()"
            " GROUP BY 1 ORDER BY 1 DESC LIMIT 1000");

  bed_query_bind_int (q, 1, batch);
  bed_query_bind_text (q, 2, effort->first);
  while (bed_query_next (q))
    {
      int day = bed_date_days (effort->first, bed_query_text (q, 0));
      BedSpawnCheck check = { effort_at (effort, day), bed_query_real (q, 1) };
      g_array_append_val (checks, check);
    }
  return bed_query_finish (q, error) ? g_steal_pointer (&checks) : NULL;
}

/* --- dates ------------------------------------------------------------------------------ */

/* Days from inoculation to @wanted; -1 when it is beyond what is looked ahead. */
static int
find_day (const Effort *effort, double wanted)
{
  int day = -1;

  bed_spawn_day (0, wanted, effort->daily + 1, effort->n - 1, &day, NULL);
  return day;
}

static char *
dup_day (const Effort *effort, int day)
{
  return day < 0 ? NULL : bed_date_add (effort->first, day);
}

/* The day from which as many of its living logs as are not are called ready: each by the rule of
 * the batch, or because it was soaked or bore before. */
static char *
dup_ready (BedFarm *farm, gint64 batch, GError **error)
{
  g_autoptr (BedQuery) q = bed_query_new (
      farm, "WITH run AS (SELECT bed_run_over (b.id, b.inoculated_on, r.run_least) AS day"
            "  FROM batch b JOIN batch_spawn r ON r.batch = b.id WHERE b.id = ?1),"
            " own AS (SELECT min (run.day,"
            "  coalesce ((SELECT min (date (s.put_in)) FROM soaked d JOIN soak s ON s.id = d.soak"
            "              WHERE d.log = l.id), '9999'),"
            "  coalesce ((SELECT min (p.picked_on) FROM pick p WHERE p.log = l.id), '9999')) AS day"
            "  FROM log l, run WHERE l.batch = ?1 AND bed_alive (l.retired_on, bed_today ()))"
            " SELECT coalesce ((SELECT day FROM own ORDER BY 1 LIMIT 1"
            "  OFFSET (SELECT (count (*) - 1) / 2 FROM own)), (SELECT day FROM run))");
  g_autofree char *day = NULL;

  bed_query_bind_int (q, 1, batch);
  if (bed_query_next (q))
    day = g_strdup (bed_query_text (q, 0));
  return bed_query_finish (q, error) ? g_steal_pointer (&day) : NULL;
}

/* A look that found every end white says more than what was expected before. */
static void
end_run (BedSpawnRun *run, const GArray *checks)
{
  for (guint i = 0; i < checks->len; i++)
    {
      const BedSpawnCheck *check = &g_array_index (checks, BedSpawnCheck, i);

      if (check->pct < 100)
        continue;
      run->full = MIN (run->full, check->effort);
      run->full_early = MIN (run->full_early, check->effort);
      run->full_late = MIN (run->full_late, check->effort);
      run->pct = run->pct_low = run->pct_high = 100;
    }
}

/* All but the day it is called ready, which is asked of SQL that asks this. */
static gboolean
read_run (BedFarm *farm, gint64 batch, const BedRunHeat *heat, BedRun *run, GError **error)
{
  g_autoptr (BedRecord) record = bed_farm_load (farm, BED_KIND_BATCH, batch, error);
  g_auto (Effort) effort = { 0 };
  BedSpawnPrior prior = { 0 };

  if (!record)
    return FALSE;
  effort.first = g_strdup (bed_record_get_text (record, "inoculated_on"));
  effort.age = bed_date_days (effort.first, bed_farm_get_today (farm));
  if (effort.age < 0)
    return bed_farm_refuse (error, BED_FARM_ERROR_NOTHING, _ ("Batch %s is inoculated after today"),
                            bed_record_get_text (record, "code"));
  fill_effort (&effort, heat, &run->unit);
  if (!read_prior (farm, batch, run, &prior, error))
    return FALSE;
  g_autoptr (GArray) checks = read_checks (farm, batch, &effort, error);
  if (!checks)
    return FALSE;
  prior = (BedSpawnPrior){ prior.likely * effort.mean, prior.early * effort.mean,
                           prior.late * effort.mean };
  run->age_days = effort.age;
  run->checks = checks->len;
  run->effort = effort_at (&effort, effort.age);
  if (!bed_spawn_run (&prior, (const BedSpawnCheck *) (gpointer) checks->data, checks->len,
                      run->effort, &run->run, error))
    return FALSE;
  end_run (&run->run, checks);
  run->full_on = dup_day (&effort, find_day (&effort, run->run.full));
  run->full_early = dup_day (&effort, find_day (&effort, run->run.full_early));
  run->full_late = dup_day (&effort, find_day (&effort, run->run.full_late));
  run->ready_on = run->full_on ? g_strdup (run->full_on) : dup_day (&effort, effort.n);
  return TRUE;
}

/* --- public ----------------------------------------------------------------------------- */

gboolean
bed_run_read (BedFarm *farm, gint64 batch, BedRun *run, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && run != NULL, FALSE);

  g_autoptr (BedRunHeat) heat = bed_run_heat_new (farm, error);

  *run = (BedRun){ 0 };
  if (!heat || !read_run (farm, batch, heat, run, error))
    return FALSE;
  g_free (run->ready_on);
  run->ready_on = dup_ready (farm, batch, error);
  return run->ready_on != NULL;
}

char *
bed_run_dup_full (BedFarm *farm, gint64 batch, const BedRunHeat *heat)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && heat != NULL, NULL);
  g_auto (BedRun) run = { 0 };

  if (!read_run (farm, batch, heat, &run, NULL) || run.checks == 0)
    return NULL;
  return g_steal_pointer (&run.ready_on);
}

void
bed_run_clear (BedRun *run)
{
  g_clear_pointer (&run->full_on, g_free);
  g_clear_pointer (&run->full_early, g_free);
  g_clear_pointer (&run->full_late, g_free);
  g_clear_pointer (&run->ready_on, g_free);
}
