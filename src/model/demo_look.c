#include "model/demo_private.h"

/* Sample logs on the scale, and a look at their ends, through the spawn run. */

static void
weigh (BedDemo *demo, BedEdit *edit, BedDemoBatch *batch, double share)
{
  g_autofree char *date = bed_demo_date (demo->day);

  for (guint i = 0; i < 2 && i < batch->logs->len; i++)
    {
      BedDemoLog *log = &g_array_index (batch->logs, BedDemoLog, i * (batch->logs->len / 2));
      /* Green logs weigh about a gram a millilitre; they lose water through summer. */
      double grams = G_PI / 4 * log->diameter * log->diameter * 1016 / 1000 * share
                     * bed_demo_normal (demo, 1, 0.01);
      BedRecord *weighing = bed_demo_put (edit, BED_KIND_WEIGHING, "weighed_on", date, NULL);
      bed_record_set_int (weighing, "log", log->id);
      bed_record_set_int (weighing, "mass", bed_demo_pounds (grams, 0.1));
    }
}

static void
check (BedDemo *demo, BedEdit *edit, BedDemoBatch *batch)
{
  static const char *weeds[] = { "Trichoderma", "Trametes", "Schizophyllum", "Stereum" };
  g_autofree char *date = bed_demo_date (demo->day);
  int months = (demo->day - batch->inoculated_on) / 30;
  BedRecord *record = bed_demo_put (edit, BED_KIND_CHECK, "checked_on", date, "bark",
                                    bed_demo_chance (demo, 0.9) ? "sound" : "cracked", NULL);
  double colonised = 7.5 * months * batch->vigour + bed_demo_normal (demo, 4, 4);

  bed_record_set_int (record, "batch", batch->id);
  bed_record_set_int (record, "colonised", (gint64) (CLAMP (colonised, 0, 98) / 5) * 500);
  if (bed_demo_chance (demo, 0.15))
    {
      bed_record_set_text (record, "weed", weeds[g_rand_int_range (demo->chance, 0, 4)]);
      bed_record_set_text (record, "severity", "trace");
    }
  if (bed_demo_chance (demo, 0.1))
    bed_record_set_text (record, "animals", "slugs");
}

/* On the 15th from June to September and in April: the logs still in spawn run. */
gboolean
bed_demo_look (BedDemo *demo, GError **error)
{
  static const double shares[] = { 0.98, 0.94, 0.91, 0.92 };
  int year = bed_demo_year (demo->day), month = 6, n = 0;

  while (month < 10 && demo->day != bed_demo_day (year, month, 15))
    month++;
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
  if (n == 0)
    {
      bed_edit_free (edit);
      return TRUE;
    }
  return bed_demo_end (edit, error, "Weighed two logs of each of %d batches", n);
}
