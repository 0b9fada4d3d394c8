#include "model/demo/demo_private.h"

/* Sample logs on the scale, and a look at their ends, through the spawn run. */

enum
{
  SAMPLES = 2
};

/* Green logs weigh about a gram a millilitre; @share of that is left. */
static void
put_weighing (const BedDemo *demo, BedEdit *edit, const BedDemoLog *log, const char *date,
              double share)
{
  double grams = G_PI / 4 * log->diameter * log->diameter * 1016 / 1000 * share;
  BedRecord *weighing = bed_demo_put (edit, BED_KIND_WEIGHING, "weighed_on", date, NULL);

  BED_DEMO_SET (weighing, { "log", log->id }, { "mass", bed_demo_mass (&demo->plan, grams, 0.1) });
}

static const BedDemoLog *
get_sample (BedDemoBatch *batch, guint i)
{
  return &g_array_index (batch->logs, BedDemoLog, i * (batch->logs->len / SAMPLES));
}

static void
weigh (BedDemo *demo, BedEdit *edit, BedDemoBatch *batch, double share)
{

  for (guint i = 0; i < SAMPLES && i < batch->logs->len; i++)
    put_weighing (demo, edit, get_sample (batch, i), demo->date,
                  share * bed_demo_normal (demo, 1, 0.01));
}

static void
check (BedDemo *demo, BedEdit *edit, BedDemoBatch *batch)
{
  static const char *weeds[] = { "Trichoderma", "Trametes", "Schizophyllum", "Stereum" };
  int months = (demo->day - batch->inoculated_on) / 30;
  BedRecord *record = bed_demo_put (edit, BED_KIND_CHECK, "checked_on", demo->date, "bark",
                                    bed_demo_chance (demo, 0.9) ? "sound" : "cracked", NULL);
  double colonised = 7.5 * months * batch->vigour + bed_demo_normal (demo, 4, 4);

  BED_DEMO_SET (record, { "batch", batch->id },
                { "colonised", (gint64) (CLAMP (colonised, 0, 98) / 5) * 500 });
  if (bed_demo_chance (demo, 0.15))
    {
      bed_record_set_text (record, "weed", weeds[g_rand_int_range (demo->chance, 0, 4)]);
      bed_record_set_text (record, "severity", "trace");
    }
  if (bed_demo_chance (demo, 0.1))
    bed_record_set_text (record, "animals", "slugs");
}

void
bed_demo_weigh (const BedDemo *demo, BedEdit *edit, BedDemoBatch *batch, int day, double share)
{
  g_autofree char *date = bed_demo_date (day);

  for (guint i = 0; i < SAMPLES && i < batch->logs->len; i++)
    put_weighing (demo, edit, get_sample (batch, i), date, share + (batch->number + i) % 4 * 0.004);
}

/* 43 % of a green log is water, so 57 % of the disc is left from the oven. */
void
bed_demo_cut_disc (BedDemo *demo, BedEdit *edit, BedDemoBatch *batch)
{
  BedRecord *disc = bed_demo_put (edit, BED_KIND_DISC, "cut_on", demo->date, NULL);
  gint64 fresh = 340 + batch->number % 7 * 12;

  BED_DEMO_SET (disc, { "batch", batch->id }, { "fresh_mass", fresh * 1000 },
                { "dry_mass", fresh * (565 + batch->number % 3 * 5) });
}

static gboolean
end_weighing (BedEdit *edit, int n, GError **error)
{
  if (n > 0)
    return bed_demo_end (edit, error, "Weighed two logs of each of %d batches", n);
  bed_edit_free (edit);
  return TRUE;
}

/* Once more before the snow, without a look at the ends. */
static gboolean
weigh_late (BedDemo *demo, GError **error)
{
  BedEdit *edit = bed_demo_begin (demo);
  int n = 0;

  for (guint i = 0; i < demo->batches->len; i++)
    {
      BedDemoBatch *batch = demo->batches->pdata[i];
      if (batch->season != bed_demo_year (demo->day) || batch->logs->len == 0)
        continue;
      bed_demo_weigh (demo, edit, batch, demo->day, 0.945);
      n++;
    }
  return end_weighing (edit, n, error);
}

/* On the 15th from June to September and in April: the logs still in spawn run. */
gboolean
bed_demo_look (BedDemo *demo, GError **error)
{
  static const double shares[] = { 0.98, 0.94, 0.91, 0.92 };
  int year = bed_demo_year (demo->day), month = 6, n = 0;

  while (month < 10 && demo->day != bed_demo_day (year, month, 15))
    month++;
  if (demo->day == bed_demo_day (year, 11, 5))
    return weigh_late (demo, error);
  gboolean april = demo->day == bed_demo_day (year, 4, 15);
  if (month == 10 && !april)
    return TRUE;
  BedEdit *edit = bed_demo_begin (demo);
  for (guint i = 0; i < demo->batches->len; i++)
    {
      BedDemoBatch *batch = demo->batches->pdata[i];
      if (batch->season != year - april || batch->logs->len == 0)
        continue;
      weigh (demo, edit, batch, april ? 0.95 : shares[month - 6]);
      if (april || month >= 8)
        check (demo, edit, batch);
      n++;
    }
  return end_weighing (edit, n, error);
}
