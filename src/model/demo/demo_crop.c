#include <glib/gi18n-lib.h>
#include <math.h>

#include "model/demo/demo_private.h"
#include "model/farm/code.h"

/* Soaks by rotation, and what comes of them. */

/* One group a week of nine (D. B. Hill, Harvesting, FOR-85, University of Kentucky: a
 * cycle of nine weeks). */
void
bed_demo_plan_soak (BedDemoBatch *batch, int year)
{
  batch->soaks = 0;
  batch->next_soak = bed_demo_day (year, 5, 18) + 7 * (batch->number % 9);
}

/* Weekly soaks from May to October (Cornell, Four Methods, log-grown mushrooms). */
static gboolean
in_soaking_season (int day)
{
  int year = bed_demo_year (day);

  return day >= bed_demo_day (year, 5, 18) && day <= bed_demo_day (year, 10, 6);
}

/* Cold-weather strains wait out the summer. */
static gboolean
is_due (BedDemoBatch *batch, int day)
{
  int year = bed_demo_year (day);

  if (!batch->raised || batch->next_soak > day || batch->logs->len == 0 || !in_soaking_season (day))
    return FALSE;
  return batch->strain != 2 || day < bed_demo_day (year, 6, 12) || day > bed_demo_day (year, 9, 1);
}

/* g a log this soak. By season of life 1 : 2 : 2 : 1 (Maryland Cooperative Extension,
 * Shiitake Mushrooms Enterprise, c. 2000: twice as much in the middle years), about a
 * pound a log and year in all (Cornell, Outdoor Production); the first soak of a
 * season gives most, an invented share. */
static double
flush_of (BedDemo *demo, BedDemoBatch *batch)
{
  static const double season[] = { 0, 240, 480, 480, 240, 120, 60 };
  static const double share[] = { 0.5, 0.3, 0.2 };
  int age = CLAMP (bed_demo_year (demo->day) - batch->season, 0, 6);

  return season[age] * share[MIN (batch->soaks, 2)] * batch->vigour
         * bed_demo_between (demo, 1, 0.2, 0.3, 1.7);
}

static BedRecord *
put_soak (BedDemo *demo, BedEdit *edit, BedDemoBatch *batch, int in_day)
{
  g_autofree char *in = bed_demo_moment (in_day, 19 * 60 + 10 * (batch->number % 4));
  g_autofree char *code
      = g_strdup_printf ("K%02d-%d", bed_demo_year (demo->day) % 100, ++demo->soak_number);
  g_autofree char *tank = g_strdup_printf ("Tank %d", 1 + batch->number / 9 % 4);
  BedRecord *soak = bed_demo_put (edit, BED_KIND_SOAK, "code", code, "tank", tank, "put_in", in,
                                  "water", "well", NULL);

  bed_record_set_int (soak, "water_temperature",
                      bed_demo_temperature (&demo->plan, bed_demo_normal (demo, 11, 0.8)));
  bed_record_set_int (soak, "air_temperature",
                      bed_demo_temperature (&demo->plan, bed_demo_normal (demo, 19, 3)));
  for (guint i = 0; i < batch->logs->len; i++)
    {
      BedRecord *soaked = bed_demo_put (edit, BED_KIND_SOAKED, NULL);
      BED_DEMO_SET (soaked, { "soak", bed_record_get_id (soak) },
                    { "log", g_array_index (batch->logs, BedDemoLog, i).id });
    }
  return soak;
}

/* Overnight, 8 to 12 h (D. B. Hill, Harvesting, FOR-85, University of Kentucky). */
static gboolean
soak_batch (BedDemo *demo, BedDemoBatch *batch, GError **error)
{
  BedEdit *edit = bed_demo_begin (demo);
  BedRecord *soak = put_soak (demo, edit, batch, demo->day - 1);
  g_autofree char *out = bed_demo_moment (demo->day, 6 * 60 + 30);
  int logs = batch->logs->len;

  bed_record_set_text (soak, "taken_out", out);
  if (batch->number % 3 == 0)
    {
      bed_demo_weigh (demo, edit, batch, demo->day - 1, 0.84);
      bed_demo_weigh (demo, edit, batch, demo->day, 0.90);
    }
  bed_demo_work (demo, edit, "soaking", 10 + logs * 0.6, batch->id, logs);
  batch->flush = flush_of (demo, batch);
  batch->flush_on = demo->day + 6;
  batch->next_soak = demo->day + 62;
  batch->soaks++;
  return bed_demo_end (edit, error, "Soaked %d logs of batch %s overnight", logs, batch->code);
}

gboolean
bed_demo_soak (BedDemo *demo, GError **error)
{
  GDate date = bed_demo_gdate (demo->day);

  if (g_date_get_weekday (&date) != G_DATE_TUESDAY)
    return TRUE;
  for (guint i = 0; i < demo->batches->len; i++)
    if (is_due (demo->batches->pdata[i], demo->day)
        && !soak_batch (demo, demo->batches->pdata[i], error))
      return FALSE;
  return TRUE;
}

/* The last day's story ends with one batch still in the tank. */
gboolean
bed_demo_leave_soaking (BedDemo *demo, GError **error)
{
  BedDemoBatch *next = NULL;

  for (guint i = 0; i < demo->batches->len && in_soaking_season (demo->day); i++)
    {
      BedDemoBatch *batch = demo->batches->pdata[i];
      if (batch->raised && batch->logs->len > 0 && batch->next_soak <= demo->day + 14
          && (!next || batch->next_soak < next->next_soak))
        next = batch;
    }
  if (!next)
    return TRUE;
  demo->minute = MAX (demo->minute, 18 * 60);
  BedEdit *edit = bed_demo_begin (demo);
  put_soak (demo, edit, next, demo->day - 1);
  return bed_demo_end (edit, error, "Put %u logs of batch %s into the tank", next->logs->len,
                       next->code);
}

/* --- picking ----------------------------------------------------------------- */

/* What one day's picking gathers. */
typedef struct
{
  BedEdit *edit;
  gint64 lot;
  gint64 mass;
  int picker;
  const char *code;
} Picking;

static void
put_pick (BedDemo *demo, Picking *picking, const char *source, gint64 id, const char *grade,
          double grams)
{
  g_autofree char *picker = g_strdup_printf ("picker %d", picking->picker);
  gint64 mass = bed_demo_small_mass (&demo->plan, grams, 0.5);

  if (mass <= 0)
    return;
  BedRecord *pick = bed_demo_put (picking->edit, BED_KIND_PICK, "picked_on", demo->date, "grade",
                                  grade, "picker", picker, NULL);
  bed_record_set_int (pick, source, id);
  BED_DEMO_SET (pick, { "mass", mass }, { "lot", picking->lot });
  picking->mass += mass;
}

static void
put_by_grade (BedDemo *demo, Picking *picking, const char *source, gint64 id, double grams)
{
  double a = bed_demo_between (demo, 0.58, 0.08, 0.2, 0.9);
  double b = (1 - a) * bed_demo_between (demo, 0.7, 0.08, 0.3, 0.95);

  put_pick (demo, picking, source, id, "A", grams * a);
  put_pick (demo, picking, source, id, "B", grams * b);
  put_pick (demo, picking, source, id, "C", grams * (1 - a - b));
}

static void
pick_log_by_log (BedDemo *demo, Picking *picking, BedDemoBatch *batch, double grams)
{
  for (guint i = 0; i < batch->logs->len; i++)
    {
      BedDemoLog *log = &g_array_index (batch->logs, BedDemoLog, i);
      double chance = g_rand_double (demo->chance);
      /* Not every log has something on it each day: two days in three. */
      if (bed_demo_chance (demo, 0.34))
        continue;
      put_pick (demo, picking, "log", log->id,
                chance < 0.6   ? "A"
                : chance < 0.9 ? "B"
                               : "C",
                grams * log->vigour * 1.5 * bed_demo_between (demo, 1, 0.3, 0.1, 2));
    }
}

static void
pick_batch (BedDemo *demo, Picking *picking, BedDemoBatch *batch)
{
  /* Pins 3 to 5 days after the soak, the crop picked daily over about four more. */
  static const double share[] = { 0.15, 0.4, 0.33, 0.12 };
  int on = demo->day - batch->flush_on;
  double grams = batch->flush * share[on];

  picking->picker = 1 + batch->number % 3;
  if (batch->picking == BED_DEMO_PICK_LOGS)
    pick_log_by_log (demo, picking, batch, grams);
  else if (batch->picking == BED_DEMO_PICK_BATCH)
    put_by_grade (demo, picking, "batch", batch->id, grams * batch->logs->len);
  else
    for (guint i = 0; i < batch->stacks->len; i++)
      put_by_grade (demo, picking, "stack", g_array_index (batch->stacks, BedDemoStack, i).id,
                    grams * batch->logs->len / batch->stacks->len);
}

static void
begin_lot (BedDemo *demo, Picking *picking)
{
  g_autofree char *code = bed_code_next_lot (demo->farm, demo->date);
  g_autofree char *cooled = bed_demo_moment (demo->day, 12 * 60 + 15);

  demo->minute = MAX (demo->minute, 13 * 60);
  picking->edit = bed_demo_begin (demo);
  BedRecord *lot = bed_demo_put (picking->edit, BED_KIND_LOT, "code", code, "picked_on", demo->date,
                                 "cooled_at", cooled, NULL);
  bed_record_set_int (lot, "cooled_to",
                      bed_demo_temperature (&demo->plan, bed_demo_normal (demo, 2.2, 0.4)));
  picking->lot = bed_record_get_id (lot);
  picking->code = bed_record_get_text (lot, "code");
}

static gboolean
end_lot (BedDemo *demo, Picking *picking, GError **error)
{
  double pounds = picking->mass / 453592.37;

  if (picking->mass == 0)
    {
      bed_edit_free (picking->edit);
      return TRUE;
    }
  BedDemoLot *lot = g_new (BedDemoLot, 1);
  *lot = (BedDemoLot){ picking->lot, picking->mass, demo->day };
  g_queue_push_tail (&demo->lots, lot);
  demo->picked += picking->mass / 1000.0;
  bed_demo_work (demo, picking->edit, "picking", 10 + pounds * 1.8, 0, 0);
  int tenths = lround (pounds * 10);
  return bed_demo_end (picking->edit, error, "Picked %d.%d lb into lot %s", tenths / 10,
                       tenths % 10, picking->code);
}

gboolean
bed_demo_pick (BedDemo *demo, GError **error)
{
  Picking picking = { 0 };

  for (guint i = 0; i < demo->batches->len; i++)
    {
      BedDemoBatch *batch = demo->batches->pdata[i];
      int on = demo->day - batch->flush_on;
      if (!batch->flush_on || on < 0 || on > 3 || batch->logs->len == 0)
        continue;
      if (!picking.edit)
        begin_lot (demo, &picking);
      pick_batch (demo, &picking, batch);
    }
  return !picking.edit || end_lot (demo, &picking, error);
}
