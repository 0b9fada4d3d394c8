#include "model/work/care.h"

#include <math.h>
#include <string.h>

#include "model/farm/query.h"
#include "model/farm/value.h"
#include "model/work/care_dry_mass.h"
#include "science/air.h"
#include "science/moisture.h"

#define NOISE_PCT 2.0      /* of a weighing on a spring balance: science/drying.h */
#define SHADE_HUMIDITY 80  /* percent, air of a shaded yard; common practice, no source */
#define SHADE_WARMTH 18    /* C; a degree changes the rest by 0.03 points */
#define RAIN_UM 2000       /* rain that counts: bed_dry_spell(); common practice, no source */
#define FARTHEST_DAYS 1095 /* a date further off says nothing */

/* --- the parts ------------------------------------------------------------------------ */

static void
free_log (BedCareLog *log)
{
  g_free (log->code);
  g_free (log->weighed_on);
  g_free (log);
}

static void
free_point (BedCarePoint *point)
{
  g_free (point->date);
  g_free (point);
}

/* A percent of the settings, on its basis, to dry basis; NAN where not set. */
static double
read_limit (BedFarm *farm, const char *field)
{
  BedRecord *settings = bed_farm_get_settings (farm);
  const char *basis = bed_record_get_text (settings, "moisture_basis");
  BedMoisture moisture;

  if (!bed_record_has (settings, field)
      || !bed_moisture_convert ((double) bed_record_get_int (settings, field) / 100,
                                g_strcmp0 (basis, "dry") == 0 ? BED_BASIS_DRY : BED_BASIS_WET,
                                &moisture, NULL))
    return NAN;
  return moisture.dry_pct;
}

/* --- weighings ------------------------------------------------------------------------ */

/* The log, made at its first weighing; its place stays NULL when its dry mass is beyond us. */
static BedCareLog *
find_log (BedFarm *farm, BedCareMoisture *self, GHashTable *seen, BedQuery *q)
{
  gint64 id = bed_query_int (q, 0);
  BedCareLog *log = g_hash_table_lookup (seen, &id);
  double dry_kg;
  BedCareBasis basis;

  if (log || g_hash_table_contains (seen, &id))
    return log;
  if (bed_care_dry_mass (farm, id, &dry_kg, &basis, NULL))
    {
      log = g_new0 (BedCareLog, 1);
      log->log = id;
      log->code = g_strdup (bed_query_text (q, 1));
      log->basis = basis;
      log->dry_kg = dry_kg;
      log->wet_at_kg = NAN;
      if (!isnan (self->alarm_pct))
        bed_moisture_mass_at (dry_kg, self->alarm_pct, BED_BASIS_DRY, &log->wet_at_kg, NULL);
      g_ptr_array_add (self->logs, log);
    }
  g_hash_table_insert (seen, g_memdup2 (&id, sizeof id), log);
  return log;
}

static void
add_to_point (BedCareMoisture *self, const char *date, double pct)
{
  BedCarePoint *last = self->points->len ? self->points->pdata[self->points->len - 1] : NULL;

  if (!last || strcmp (last->date, date) != 0)
    {
      last = g_new0 (BedCarePoint, 1);
      last->date = g_strdup (date);
      g_ptr_array_add (self->points, last);
    }
  last->pct = (last->pct * last->logs + pct) / (last->logs + 1);
  last->logs++;
}

static gboolean
read_weighings (BedFarm *farm, gint64 batch, BedCareMoisture *self, GError **error)
{
  g_autoptr (GHashTable) seen = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  g_autoptr (BedQuery) q = bed_query_new (
      farm, "SELECT l.id, l.code, w.weighed_on, w.mass FROM log l JOIN weighing w ON w.log = l.id"
            " WHERE l.batch = ?1 AND bed_alive (l.retired_on, bed_today ())"
            " AND w.weighed_on <= bed_today () ORDER BY w.weighed_on, l.code, w.id");

  bed_query_bind_int (q, 1, batch);
  while (bed_query_next (q))
    {
      BedCareLog *log = find_log (farm, self, seen, q);
      const char *date = bed_query_text (q, 2);
      double kg = (double) bed_query_int (q, 3) / 1e6;
      BedMoisture moisture;

      if (!log || !bed_moisture_from_mass (kg, log->dry_kg, &moisture, NULL))
        continue;
      g_free (log->weighed_on);
      log->weighed_on = g_strdup (date);
      log->mass_kg = kg;
      log->pct = moisture.dry_pct;
      add_to_point (self, date, moisture.dry_pct);
    }
  return bed_query_finish (q, error);
}

static int
compare_logs (gconstpointer a, gconstpointer b)
{
  return strcmp ((*(BedCareLog *const *) a)->code, (*(BedCareLog *const *) b)->code);
}

/* --- trend ---------------------------------------------------------------------------- */

/* A soak counts for the batch when a sample log was in it; a watering when logs of the batch
 * lay in the stack or area. A log sprinkled overnight is wet from the next day on. */
static gboolean
read_wetting (BedFarm *farm, gint64 batch, BedCareMoisture *self, GError **error)
{
  g_autoptr (BedQuery) q = bed_query_new (
      farm, "SELECT max (day) FROM (SELECT date (s.taken_out) AS day FROM log l"
            " JOIN soaked d ON d.log = l.id JOIN soak s ON s.id = d.soak WHERE l.batch = ?1"
            " AND s.taken_out <= bed_now () AND l.id IN (SELECT log FROM weighing)"
            " UNION ALL SELECT date (w.watered_on, '+1 day') FROM watering w JOIN stack_place k"
            " ON bed_lies (k.since, k.until, w.watered_on)"
            " AND (k.stack = w.stack OR k.area = w.area) JOIN place x ON x.stack = k.stack"
            " AND bed_lies (x.since, x.until, w.watered_on)"
            " JOIN log l ON l.id = x.log WHERE l.batch = ?1 AND w.watered_on <= bed_today ())");

  bed_query_bind_int (q, 1, batch);
  if (bed_query_next (q))
    self->wetted_on = g_strdup (bed_query_text (q, 0));
  return bed_query_finish (q, error);
}

/* Days of rain that counts in the @day days after the trend's first: logs do not dry on them. */
static double
count_rains (const BedCareMoisture *self, double day)
{
  double rains = 0;

  for (guint i = 0; i < self->rains->len; i++)
    rains += g_array_index (self->rains, int, i) <= day;
  return rains;
}

/* The date by which so many days of drying have gone; as if it rained no more. */
static char *
dup_day (const BedCareMoisture *self, double drying)
{
  double day = drying;

  for (guint i = 0; i < self->rains->len && g_array_index (self->rains, int, i) <= day; i++)
    day++;
  return fabs (day) <= FARTHEST_DAYS ? bed_date_add (self->trend_from, (int) floor (day)) : NULL;
}

static gboolean
read_rains (BedFarm *farm, BedCareMoisture *self, GError **error)
{
  const char *newest = self->points->len
                           ? ((BedCarePoint *) self->points->pdata[self->points->len - 1])->date
                           : NULL;
  g_autoptr (BedQuery) q = bed_query_new (
      farm, "SELECT fell_on FROM rain WHERE fell_on > ?1 AND fell_on <= bed_today ()"
            " AND depth >= ?2 ORDER BY fell_on");

  if (!newest || (self->wetted_on && strcmp (newest, self->wetted_on) < 0))
    return TRUE;
  for (guint i = 0; !self->trend_from; i++)
    {
      BedCarePoint *point = self->points->pdata[i];
      if (!self->wetted_on || strcmp (point->date, self->wetted_on) >= 0)
        self->trend_from = g_strdup (point->date);
    }
  bed_query_bind_text (q, 1, self->trend_from);
  bed_query_bind_int (q, 2, RAIN_UM);
  while (bed_query_next (q))
    {
      int day = bed_date_days (self->trend_from, bed_query_text (q, 0));
      g_array_append_val (self->rains, day);
    }
  return bed_query_finish (q, error);
}

static GArray *
dup_weighings (BedCareMoisture *self)
{
  GArray *weighings = g_array_new (FALSE, FALSE, sizeof (BedWeighing));

  for (guint i = 0; i < self->points->len; i++)
    {
      BedCarePoint *point = self->points->pdata[i];
      if (self->wetted_on && strcmp (point->date, self->wetted_on) < 0)
        continue;
      double day = bed_date_days (self->trend_from, point->date);
      BedWeighing weighing = { day - count_rains (self, day), point->pct };
      g_array_append_val (weighings, weighing);
    }
  return weighings;
}

/* Logs of one felling are of few trees: a mean of them is no surer than one. */
static double
find_spread (BedCareMoisture *self)
{
  for (guint i = 0; i < self->logs->len; i++)
    if (((BedCareLog *) self->logs->pdata[i])->basis == BED_CARE_BY_SPECIES)
      return BED_DRYING_BY_SPECIES;
  return BED_DRYING_BY_DISC;
}

static void
find_trend (BedFarm *farm, BedCareMoisture *self)
{
  g_autoptr (GArray) weighings = dup_weighings (self);
  BedDryingSetting setting = { self->rest_pct, self->alarm_pct, NOISE_PCT, find_spread (self) };
  BedDrying *drying = &self->drying;

  if (weighings->len == 0 || isnan (self->alarm_pct)
      || !bed_drying_fit ((const BedWeighing *) (gpointer) weighings->data, weighings->len,
                          &setting, drying, NULL))
    return;
  self->trend = BED_CARE_TREND;
  self->today_pct = bed_care_moisture_at (self, bed_farm_get_today (farm));
  self->alarm_on = dup_day (self, drying->alarm_day);
  self->alarm_early = dup_day (self, drying->alarm_day_early);
  self->alarm_late = dup_day (self, drying->alarm_day_late);
}

/* --- soaks ---------------------------------------------------------------------------- */

/* In and out on one day, it would not be known which weighing came first. */
static const char round_soak[]
    = "SELECT d.log, (julianday (s.taken_out) - julianday (s.put_in)) * 24,"
      " (SELECT w.mass FROM weighing w WHERE w.log = d.log AND w.weighed_on <= date (s.put_in)"
      "  AND w.weighed_on >= date (s.put_in, '-3 days') ORDER BY w.weighed_on DESC, w.id DESC"
      "  LIMIT 1) AS before,"
      " (SELECT w.mass FROM weighing w WHERE w.log = d.log AND w.weighed_on >= date (s.taken_out)"
      "  AND w.weighed_on <= date (s.taken_out, '+3 days') ORDER BY w.weighed_on, w.id"
      "  LIMIT 1) AS after"
      " FROM soaked d JOIN soak s ON s.id = d.soak WHERE d.log IN (SELECT log FROM weighing)"
      " AND s.taken_out <= bed_now () AND date (s.taken_out) > date (s.put_in)"
      " AND before IS NOT NULL AND after IS NOT NULL ORDER BY s.taken_out DESC LIMIT 200";

static GArray *
read_soaks (BedFarm *farm, GError **error)
{
  g_autoptr (GArray) soaks = g_array_new (FALSE, FALSE, sizeof (BedSoaking));
  g_autoptr (BedQuery) q = bed_query_new (farm, round_soak);

  while (bed_query_next (q))
    {
      double gain = (double) (bed_query_int (q, 3) - bed_query_int (q, 2)) / 1e6, dry_kg;
      BedCareBasis basis;

      if (!bed_care_dry_mass (farm, bed_query_int (q, 0), &dry_kg, &basis, NULL))
        continue;
      BedSoaking soak = { bed_query_real (q, 1), 100 * gain / dry_kg };
      /* What the form cannot take is a slip of the pen, not a soak. */
      if (soak.hours <= 240 && soak.gain_pct > -50 && soak.gain_pct < 300)
        g_array_append_val (soaks, soak);
    }
  return bed_query_finish (q, error) ? g_steal_pointer (&soaks) : NULL;
}

/* --- public --------------------------------------------------------------------------- */

BedCareMoisture *
bed_care_moisture_new (BedFarm *farm, gint64 batch, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm), NULL);
  g_autoptr (BedCareMoisture) self = g_new0 (BedCareMoisture, 1);
  BedAir air;

  self->logs = g_ptr_array_new_with_free_func ((GDestroyNotify) free_log);
  self->points = g_ptr_array_new_with_free_func ((GDestroyNotify) free_point);
  self->rains = g_array_new (FALSE, FALSE, sizeof (int));
  self->alarm_pct = read_limit (farm, "moisture_alarm");
  self->low_pct = read_limit (farm, "moisture_low");
  self->high_pct = read_limit (farm, "moisture_high");
  if (!bed_air (SHADE_WARMTH, SHADE_HUMIDITY, &air, error))
    return NULL;
  self->rest_pct = air.emc_pct;
  if (!read_weighings (farm, batch, self, error) || !read_wetting (farm, batch, self, error)
      || !read_rains (farm, self, error))
    return NULL;
  g_ptr_array_sort (self->logs, compare_logs);
  find_trend (farm, self);
  return g_steal_pointer (&self);
}

void
bed_care_moisture_free (BedCareMoisture *self)
{
  g_ptr_array_unref (self->logs);
  g_ptr_array_unref (self->points);
  g_array_unref (self->rains);
  g_free (self->wetted_on);
  g_free (self->trend_from);
  g_free (self->alarm_on);
  g_free (self->alarm_early);
  g_free (self->alarm_late);
  g_free (self);
}

double
bed_care_moisture_at (const BedCareMoisture *self, const char *date)
{
  g_return_val_if_fail (self != NULL && self->trend == BED_CARE_TREND, NAN);
  const BedCarePoint *newest = self->points->pdata[self->points->len - 1];
  double weighed = bed_date_days (self->trend_from, newest->date);
  double day = bed_date_days (self->trend_from, date);
  double dried = day - count_rains (self, day) - weighed + count_rains (self, weighed);

  return self->rest_pct
         + (self->drying.now_pct - self->rest_pct) * exp (-self->drying.rate * dried);
}

double
bed_care_in_basis (BedFarm *farm, double pct)
{
  g_return_val_if_fail (BED_IS_FARM (farm), pct);
  const char *basis = bed_record_get_text (bed_farm_get_settings (farm), "moisture_basis");
  BedMoisture moisture;

  if (!bed_moisture_convert (pct, BED_BASIS_DRY, &moisture, NULL))
    return NAN;
  return g_strcmp0 (basis, "dry") == 0 ? moisture.dry_pct : moisture.wet_pct;
}

gboolean
bed_care_soak_read (BedFarm *farm, double hours, BedCareSoak *soak, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && soak != NULL, FALSE);
  g_autoptr (GArray) soaks = read_soaks (farm, error);

  *soak = (BedCareSoak){ 0 };
  if (!soaks)
    return FALSE;
  soak->soaks = soaks->len;
  return soaks->len == 0
         || (bed_soak_fit ((const BedSoaking *) (gpointer) soaks->data, soaks->len, &soak->fit,
                           error)
             && bed_soak_gain (&soak->fit, hours, &soak->gain_pct, error));
}
