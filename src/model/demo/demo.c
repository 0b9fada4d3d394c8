#include "model/demo/demo.h"

#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <math.h>
#include <sqlite3.h>

#include "model/demo/demo_private.h"
#include "model/farm/farm_private.h"
#include "model/farm/value.h"

/* --- time and chance ------------------------------------------------------- */

GDate
bed_demo_gdate (int day)
{
  GDate date;

  g_date_clear (&date, 1);
  g_date_set_julian (&date, day);
  return date;
}

char *
bed_demo_date (int day)
{
  GDate date = bed_demo_gdate (day);

  return g_strdup_printf ("%04d-%02d-%02d", g_date_get_year (&date), g_date_get_month (&date),
                          g_date_get_day (&date));
}

int
bed_demo_day (int year, int month, int day_of_month)
{
  GDate date;

  g_date_clear (&date, 1);
  g_date_set_dmy (&date, day_of_month, month, year);
  return g_date_get_julian (&date);
}

int
bed_demo_year (int day)
{
  GDate date = bed_demo_gdate (day);

  return g_date_get_year (&date);
}

char *
bed_demo_moment (int day, int minute)
{
  g_autofree char *date = bed_demo_date (day);

  return g_strdup_printf ("%sT%02d:%02d", date, minute / 60, minute % 60);
}

/* The sum of twelve even chances is near enough to normal, and takes no libm
 * function that differs from one machine to the next in its last digit. */
double
bed_demo_normal (BedDemo *demo, double mean, double deviation)
{
  double sum = -6;

  for (int i = 0; i < 12; i++)
    sum += g_rand_double (demo->chance);
  return mean + deviation * sum;
}

double
bed_demo_between (BedDemo *demo, double mean, double deviation, double least, double most)
{
  double value = bed_demo_normal (demo, mean, deviation);

  return CLAMP (value, least, most);
}

gboolean
bed_demo_chance (BedDemo *demo, double share)
{
  return g_rand_double (demo->chance) < share;
}

/* --- records --------------------------------------------------------------- */

static gint64
round_to (double value, double step, double unit)
{
  return llround (round (value / step) * step * unit);
}

gboolean
bed_demo_is_metric (const BedDemoPlan *plan)
{
  return g_strcmp0 (plan->units, "metric") == 0;
}

gint64
bed_demo_length (const BedDemoPlan *plan, double mm, double step)
{
  if (bed_demo_is_metric (plan)) /* 5 mm for a quarter of an inch, 25 cm for a foot */
    return round_to (mm, step < 12 ? step * 20 : 250, 1000);
  return round_to (mm / 25.4, step, 25400);
}

gint64
bed_demo_mass (const BedDemoPlan *plan, double g, double step)
{
  if (bed_demo_is_metric (plan)) /* 50 g for a tenth of a pound */
    return round_to (g, step * 500, 1000);
  return round_to (g / 453.59237, step, 453592.37);
}

gint64
bed_demo_small_mass (const BedDemoPlan *plan, double g, double step)
{
  if (bed_demo_is_metric (plan)) /* 10 g for half an ounce */
    return round_to (g, step * 20, 1000);
  return round_to (g / 28.349523125, step, 28349.523125);
}

gint64
bed_demo_temperature (const BedDemoPlan *plan, double celsius)
{
  if (bed_demo_is_metric (plan))
    return round_to (celsius, 0.5, 1000);
  return llround ((round (celsius * 1.8 + 32) - 32) / 1.8 * 1000);
}

BedRecord *
bed_demo_put (BedEdit *edit, BedKind kind, ...)
{
  g_autoptr (BedRecord) record = bed_record_new (kind);
  const char *field;
  va_list fields;

  va_start (fields, kind);
  while ((field = va_arg (fields, const char *)))
    bed_record_set_text (record, field, va_arg (fields, const char *));
  va_end (fields);
  bed_edit_put (edit, record);
  return record;
}

void
bed_demo_set_numbers (BedRecord *record, const BedDemoNumber *numbers)
{
  for (; numbers->field; numbers++)
    bed_record_set_int (record, numbers->field, numbers->value);
}

BedEdit *
bed_demo_begin (BedDemo *demo)
{
  g_autofree char *now = bed_demo_moment (demo->day, demo->minute);

  demo->minute = MIN (demo->minute + 1, 24 * 60 - 1);
  bed_farm_fix_clock (demo->farm, now, g_rand_int (demo->chance));
  return bed_edit_new (demo->farm);
}

gboolean
bed_demo_end (BedEdit *edit, GError **error, const char *format, ...)
{
  g_autoptr (BedEdit) self = edit;
  va_list arguments;

  va_start (arguments, format);
  g_autofree char *sentence = g_strdup_vprintf (format, arguments);
  va_end (arguments);
  if (bed_edit_commit (self, sentence, error))
    return TRUE;
  g_prefix_error (error, "%s: ", sentence);
  return FALSE;
}

/* --- the story ------------------------------------------------------------- */

/* Whether this year's logs are in by the story's last day. */
static gboolean
spring_is_over (int today)
{
  return today >= bed_demo_day (bed_demo_year (today), 5, 1);
}

static void
share_logs (BedDemo *self)
{
  int logs = self->plan.logs;

  self->springs = self->plan.years - (spring_is_over (self->today) ? 0 : 1);
  self->waiting = self->springs == 0 ? logs : logs >= 100 ? CLAMP (logs / 25, 6, 40) : 0;
  logs -= self->waiting;
  self->shares = g_new0 (int, self->springs + 1);
  for (int i = 0; i < self->springs; i++)
    self->shares[i] = (gint64) logs * (i + 1) / self->springs - (gint64) logs * i / self->springs;
}

static void
set_day (BedDemo *self, int day)
{
  g_free (self->date);
  self->date = bed_demo_date (day);
  self->day = day;
}

static gboolean
tell_day (BedDemo *self, int day, GError **error)
{
  set_day (self, day);
  if (bed_demo_year (self->day) != self->year_counter)
    {
      self->year_counter = bed_demo_year (self->day);
      self->soak_number = self->sale_number = 0;
      for (guint i = 0; i < self->batches->len; i++)
        bed_demo_plan_soak (self->batches->pdata[i], self->year_counter);
    }
  self->minute = 7 * 60;
  return bed_demo_prepare_season (self, error) && bed_demo_inoculate (self, error)
         && bed_demo_raise (self, error) && bed_demo_soak (self, error)
         && bed_demo_pick (self, error) && bed_demo_sell (self, error)
         && bed_demo_look (self, error) && bed_demo_spend (self, error)
         && bed_demo_retire (self, error) && bed_demo_weather (self, error);
}

/* Each edit would wait for the disk: a thousand times in a large demo. A file that
 * is deleted again when anything fails can do without. */
static void
wait_for_disk (BedFarm *farm, const char *how)
{
  g_autofree char *sql = g_strdup_printf ("PRAGMA synchronous = %s", how);

  sqlite3_exec (bed_farm_get_db (farm), sql, NULL, NULL, NULL);
}

static gboolean
tell (BedDemo *self, GError **error)
{
  set_day (self, bed_demo_day (self->first_year, 1, 2));
  self->minute = 7 * 60;
  if (!bed_demo_set_scene (self, error))
    return FALSE;
  for (int day = self->day; day <= self->today; day++)
    if (!tell_day (self, day, error))
      return FALSE;
  set_day (self, self->today);
  wait_for_disk (self->farm, "FULL");
  return bed_demo_leave_waiting (self, error) && bed_demo_leave_soaking (self, error);
}

static void
start (BedDemo *self)
{
  self->chance = g_rand_new_with_seed (self->plan.seed);
  self->first_year = bed_demo_year (self->today) - self->plan.years + 1;
  self->batches = g_ptr_array_new_with_free_func ((GDestroyNotify) bed_demo_batch_free);
  self->fellings = g_array_new (FALSE, FALSE, sizeof (gint64));
  self->sizes = g_array_new (FALSE, FALSE, sizeof (int));
  self->rain = g_array_new (FALSE, FALSE, sizeof (double));
  self->least = g_array_new (FALSE, FALSE, sizeof (double));
  self->most = g_array_new (FALSE, FALSE, sizeof (double));
  self->laying.free_from = g_array_new (FALSE, FALSE, sizeof (int));
  self->fruiting.free_from = g_array_new (FALSE, FALSE, sizeof (int));
  g_queue_init (&self->lots);
  share_logs (self);
}

static void
stop (BedDemo *self)
{
  for (int i = 0; i < BED_DEMO_STRAINS; i++)
    g_free (self->spawn[i].code);
  g_queue_clear_full (&self->lots, g_free);
  g_array_unref (self->laying.free_from);
  g_array_unref (self->fruiting.free_from);
  g_array_unref (self->rain);
  g_array_unref (self->least);
  g_array_unref (self->most);
  g_array_unref (self->sizes);
  g_array_unref (self->fellings);
  g_ptr_array_unref (self->batches);
  g_free (self->shares);
  g_free (self->date);
  g_rand_free (self->chance);
}

static gboolean
read_plan (BedDemo *self, const BedDemoPlan *plan, GError **error)
{
  g_autoptr (GDateTime) now = g_date_time_new_now_local ();
  g_autofree char *clock = g_date_time_format (now, "%Y-%m-%d");
  g_autofree char *today = bed_date_parse (plan->today ? plan->today : clock, clock, error);
  int year = 0, month = 0, day = 0;

  if (!today)
    return FALSE;
  self->plan = *plan;
  self->plan.today = NULL;
  self->plan.logs = plan->logs ? plan->logs : 300;
  self->plan.years = plan->years ? plan->years : 5;
  if (self->plan.logs < 1 || self->plan.logs > 200000 || self->plan.years < 1
      || self->plan.years > 20)
    return bed_farm_refuse (error, BED_FARM_ERROR_INVALID,
                            _ ("A demo farm has 1 to 200000 logs and 1 to 20 years."));
  if (sscanf (today, "%d-%d-%d", &year, &month, &day) != 3)
    g_return_val_if_reached (FALSE);
  self->today = bed_demo_day (year, month, day);
  return TRUE;
}

BedFarm *
bed_demo_new (const char *path, const BedDemoPlan *plan, GError **error)
{
  BedDemo self = { 0 };
  gboolean told;

  g_return_val_if_fail (path != NULL && plan != NULL, NULL);

  if (!read_plan (&self, plan, error))
    return NULL;
  start (&self);
  g_autoptr (BedRecord) settings = bed_demo_settings (&self.plan);
  g_autofree char *first = bed_demo_moment (bed_demo_day (self.first_year, 1, 1), 12 * 60);
  self.farm = bed_farm_new_at (path, settings, first, self.plan.seed, error);
  if (!self.farm)
    {
      stop (&self);
      return NULL;
    }
  wait_for_disk (self.farm, "OFF");
  told = tell (&self, error);
  stop (&self);
  g_clear_object (&self.farm);
  if (!told)
    g_unlink (path);
  return told ? bed_farm_open (path, error) : NULL;
}
