#include <glib/gi18n-lib.h>
#include <math.h>

#include "model/demo/demo_private.h"
#include "model/farm/code.h"
#include "model/season/pattern.h"

/* Spring: the batches inoculated. */

/* The strain of the batch of that number, over all years. */
static int
strain_of (int number)
{
  static const int strains[] = { 0, 1, 0, 2, 1, 0 };

  return strains[number % 6];
}

static BedDemoBatch *
new_batch (BedDemo *demo)
{
  BedDemoBatch *batch = g_new0 (BedDemoBatch, 1);

  batch->logs = g_array_new (FALSE, FALSE, sizeof (BedDemoLog));
  batch->stacks = g_array_new (FALSE, FALSE, sizeof (BedDemoStack));
  batch->number = demo->batches->len;
  batch->season = bed_demo_year (demo->day);
  batch->inoculated_on = demo->day;
  batch->raise_on = bed_demo_day (batch->season + 1, 4, 20) + batch->number % 18;
  batch->strain = strain_of (batch->number);
  batch->vigour = bed_demo_between (demo, 1, 0.2, 0.4, 1.6);
  /* Log by log where a person can keep up with it. */
  int every = demo->plan.logs <= 1000 ? 3 : 24;
  batch->picking = batch->number % every == 0   ? BED_DEMO_PICK_LOGS
                   : batch->number % every == 1 ? BED_DEMO_PICK_BATCH
                                                : BED_DEMO_PICK_STACKS;
  g_ptr_array_add (demo->batches, batch);
  return batch;
}

void
bed_demo_batch_free (BedDemoBatch *batch)
{
  for (guint i = 0; i < batch->logs->len; i++)
    g_clear_object (&g_array_index (batch->logs, BedDemoLog, i).place);
  for (guint i = 0; i < batch->stacks->len; i++)
    g_clear_object (&g_array_index (batch->stacks, BedDemoStack, i).record);
  g_array_unref (batch->logs);
  g_array_unref (batch->stacks);
  g_free (batch->code);
  g_free (batch);
}

/* --- batches ---------------------------------------------------------------- */

static int
count_batches (int logs)
{
  return logs > 0 ? MAX (1, (logs + 14) / 30) : 0;
}

int
bed_demo_count_stacks (int logs)
{
  int batches = count_batches (logs);

  /* A single batch may be of up to 45 logs, of several each fits one stack. */
  return batches == 1 && logs > BED_DEMO_PER_STACK ? 2 : batches;
}

/* Batches of 24 to 36 logs, of unequal size, that add up to @logs. */
static void
size_batches (BedDemo *demo, int logs)
{
  int n = count_batches (logs);

  g_array_set_size (demo->sizes, 0);
  for (int i = 0; i < n; i++)
    {
      int size = (gint64) logs * (i + 1) / n - (gint64) logs * i / n;
      g_array_append_val (demo->sizes, size);
    }
  for (int i = 0; i + 1 < n; i += 2)
    {
      int *pair = &g_array_index (demo->sizes, int, i);
      int shift = MIN (pair[1] - 24, BED_DEMO_PER_STACK - pair[0]);
      shift = shift > 0 ? g_rand_int_range (demo->chance, 0, shift + 1) : 0;
      pair[0] += shift;
      pair[1] -= shift;
    }
  demo->season_batches = n;
  for (int i = 0; i < BED_DEMO_STRAINS; i++)
    demo->spawn[i].logs = 0;
  for (int i = 0; i < n; i++)
    demo->spawn[strain_of (demo->batches->len + i)].logs += g_array_index (demo->sizes, int, i);
}

gboolean
bed_demo_prepare_season (BedDemo *demo, GError **error)
{
  int year = bed_demo_year (demo->day), spring = year - demo->first_year;
  int logs = spring < demo->springs ? demo->shares[spring] : 0;

  if (logs == 0)
    return TRUE;
  if (demo->day == bed_demo_day (year, 3, 8))
    {
      size_batches (demo, logs);
      return bed_demo_fell (demo, logs, error);
    }
  if (demo->day == bed_demo_day (year, 3, 14))
    return bed_demo_receive_spawn (demo, error);
  return TRUE;
}

static BedRecord *
put_batch (BedDemo *demo, BedEdit *edit, BedDemoBatch *batch, int logs)
{
  BedRecord *record = bed_demo_put (edit, BED_KIND_BATCH, "code", batch->code, "inoculated_on",
                                    demo->date, "method", "drilled", "closing", "even",
                                    "holes_sealed", "yes", "ends_sealed",
                                    batch->number % 3 ? "no" : "yes", "wax", "soy wax", NULL);

  /* 7/16 in holes 1 1/4 in deep in the range for sawdust, 6 in by 3 in (D. B. Hill,
   * Step by Step in Pictures, FOR-77, University of Kentucky, 1999). */
  BED_DEMO_SET (record, { "hole_diameter", 11113 }, { "hole_depth", 31750 }, { "along", 152400 },
                { "between", 76200 }, { "margin", 50800 },
                { "wax_mass", bed_demo_mass (&demo->plan, logs * 32, 0.1) });
  batch->id = bed_record_get_id (record);
  return record;
}

/* The last batch of a strain gets what is left of its bags, but in the story's last
 * season: there is some in store at the end. */
static void
use_spawn (BedDemo *demo, BedEdit *edit, BedDemoBatch *batch, int logs)
{
  BedDemoSpawn *spawn = &demo->spawn[batch->strain];
  double share = bed_demo_between (demo, 0.98, 0.02, 0.9, 1.05);
  gint64 mass = bed_demo_mass (&demo->plan, logs * BED_DEMO_SPAWN_PER_LOG * share, 0.1);

  spawn->logs -= logs;
  if (spawn->logs <= 0 && bed_demo_year (demo->day) < bed_demo_year (demo->today))
    mass = spawn->rest;
  BedRecord *used = bed_demo_put (edit, BED_KIND_SPAWN_USED, NULL);
  BED_DEMO_SET (used, { "batch", batch->id }, { "spawn", spawn->id }, { "mass", mass });
  spawn->rest -= mass;
}

BedRecord *
bed_demo_put_log (BedDemo *demo, BedEdit *edit, gint64 felling, const char *code)
{
  BedRecord *log = bed_demo_put (edit, BED_KIND_LOG, "code", code, "bark", "sound", NULL);
  /* 3 to 8 in thick (D. B. Hill, Potential Profits, FOR-88, 2000), 40 in long. */
  double small = bed_demo_between (demo, 122, 20, 77, 190);
  double large = small + 6 + 14 * g_rand_double (demo->chance);
  double length = bed_demo_chance (demo, 0.85) ? 1016 : bed_demo_normal (demo, 1010, 12);

  BED_DEMO_SET (log, { "felling", felling },
                { "length", bed_demo_length (&demo->plan, length, 0.5) },
                { "small_diameter", bed_demo_length (&demo->plan, small, 0.25) },
                { "large_diameter", bed_demo_length (&demo->plan, large, 0.25) });
  if (bed_demo_chance (demo, 0.03))
    bed_record_set_text (log, "bark", "damaged");
  return log;
}

/* About a kilogram a litre: green oak, reference wood table of data/wood.csv. */
static double
green_grams (BedRecord *log)
{
  double d
      = (bed_record_get_int (log, "small_diameter") + bed_record_get_int (log, "large_diameter"))
        / 2000.0;

  return G_PI / 4 * d * d * bed_record_get_int (log, "length") / 1000.0 / 1000.0;
}

static void
put_logs (BedDemo *demo, BedEdit *edit, BedDemoBatch *batch, BedRecord *pattern, int logs)
{
  gint64 felling = g_array_index (demo->fellings, gint64, batch->number % demo->fellings->len);

  for (int i = 0; i < logs; i++)
    {
      g_autofree char *code = bed_code_log (batch->code, i + 1);
      BedRecord *record = bed_demo_put_log (demo, edit, felling, code);
      double diameter = (bed_record_get_int (record, "small_diameter")
                         + bed_record_get_int (record, "large_diameter"))
                        / 2000.0;
      BED_DEMO_SET (record, { "batch", batch->id },
                    { "holes", bed_pattern_count_holes (pattern, record) });
      double grams = green_grams (record) * bed_demo_normal (demo, 1.02, 0.03);
      bed_record_set_int (record, "green_mass", bed_demo_mass (&demo->plan, grams, 0.1));
      BedDemoLog log = { .id = bed_record_get_id (record),
                         .diameter = diameter,
                         .vigour = bed_demo_between (demo, 1, 0.35, 0.05, 2.2) };
      g_array_append_val (batch->logs, log);
    }
}

static gboolean
inoculate_batch (BedDemo *demo, int logs, GError **error)
{
  BedEdit *edit = bed_demo_begin (demo);
  BedDemoBatch *batch = new_batch (demo);

  batch->code = bed_code_next_batch (demo->farm, demo->date);
  BedRecord *pattern = put_batch (demo, edit, batch, logs);
  use_spawn (demo, edit, batch, logs);
  put_logs (demo, edit, batch, pattern, logs);
  bed_demo_weigh (demo, edit, batch, demo->day, 0.975);
  bed_demo_cut_disc (demo, edit, batch);
  bed_demo_stack_up (demo, edit, batch);
  bed_demo_work (demo, edit, "drilling", logs * 2.4, batch->id, logs);
  bed_demo_work (demo, edit, "filling", logs * 3.1, batch->id, logs);
  bed_demo_work (demo, edit, "waxing", logs * 2.2, batch->id, logs);
  bed_demo_work (demo, edit, "stacking", logs * 1.0, batch->id, logs);
  return bed_demo_end (edit, error, "Inoculated %d logs, batch %s", logs, batch->code);
}

gboolean
bed_demo_inoculate (BedDemo *demo, GError **error)
{
  int year = bed_demo_year (demo->day);
  int begins = bed_demo_day (year, 3, 26), n = demo->season_batches;
  int done = n - (int) demo->sizes->len;

  /* Spread over 34 days, to the end of April. */
  while (demo->sizes->len > 0 && demo->day >= begins + done * 34 / n)
    {
      int logs = g_array_index (demo->sizes, int, 0);
      g_array_remove_index (demo->sizes, 0);
      if (!inoculate_batch (demo, logs, error))
        return FALSE;
      done++;
    }
  return TRUE;
}
