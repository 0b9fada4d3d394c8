#include <glib/gi18n-lib.h>
#include <math.h>

#include "model/demo/demo_private.h"
#include "model/farm/code.h"
#include "model/farm/names.h"

/* Winter: felling and spawn, and at the story's end the bolts that still wait. */

static const char *woods[]
    = { "Quercus rubra", "Quercus alba", "Acer saccharum", "Fagus grandifolia" };

/* --- felling ---------------------------------------------------------------- */

/* Another part of the woodlot each winter. */
static const char *
wood_of (BedDemo *demo, int number)
{
  return woods[(bed_demo_year (demo->day) + number) % G_N_ELEMENTS (woods)];
}

static BedRecord *
put_felling (BedDemo *demo, BedEdit *edit, int number, gint64 wood, int bolts)
{
  g_autofree char *code = g_strdup_printf ("F%.2s-%d", demo->date + 2, number + 1);
  BedRecord *felling = bed_demo_put (edit, BED_KIND_FELLING, "code", code, "felled_on", demo->date,
                                     "condition", "healthy", "leaf", "dormant", "felled_by",
                                     "feller", NULL);

  BED_DEMO_SET (felling, { "wood", wood }, { "stand", demo->stand[number % 3] },
                { "trees", MAX (1, bolts / 7) },
                { "dbh", bed_demo_length (&demo->plan, bed_demo_normal (demo, 185, 15), 0.5) });
  bed_record_set_int (felling, "height",
                      bed_demo_length (&demo->plan, bed_demo_normal (demo, 16000, 1500), 12));
  return felling;
}

gboolean
bed_demo_fell (BedDemo *demo, int logs, GError **error)
{
  int n = CLAMP ((logs + 24) / 25, 1, 3);

  g_array_set_size (demo->fellings, 0);
  for (int i = 0; i < n; i++)
    {
      const char *name = wood_of (demo, i);
      gint64 wood = bed_farm_find (demo->farm, BED_KIND_WOOD, name, error);
      if (!wood)
        return FALSE;
      BedEdit *edit = bed_demo_begin (demo);
      BedRecord *felling = put_felling (demo, edit, i, wood, logs / n);
      gint64 id = bed_record_get_id (felling);
      g_array_append_val (demo->fellings, id);
      bed_demo_work (demo, edit, "felling", logs / n * 6 + 60, 0, logs / n);
      bed_demo_work (demo, edit, "hauling", logs / n * 3 + 30, 0, logs / n);
      if (!bed_demo_end (edit, error, "Felled %s for %d bolts", name, logs / n))
        return FALSE;
    }
  return TRUE;
}

/* --- spawn ------------------------------------------------------------------ */

static void
put_spawn (BedDemo *demo, BedEdit *edit, int strain, int number)
{
  g_autofree char *use_by = bed_demo_date (demo->day + 120);
  g_autofree char *supplier_lot
      = g_strdup_printf ("%c-%03d", 'A' + strain, g_rand_int_range (demo->chance, 100, 999));
  BedDemoSpawn *spawn = &demo->spawn[strain];
  double grams = spawn->logs * BED_DEMO_SPAWN_PER_LOG * 1.06;

  g_free (spawn->code);
  spawn->code = g_strdup_printf ("S%.2s-%d", demo->date + 2, number);
  BedRecord *lot = bed_demo_put (edit, BED_KIND_SPAWN, "code", spawn->code, "form", "sawdust",
                                 "supplier", "spawn maker", "supplier_lot", supplier_lot,
                                 "received_on", demo->date, "use_by", use_by, "organic", "yes",
                                 "certificate", "on file", NULL);
  bed_record_set_int (lot, "strain", demo->strain[strain]);
  spawn->rest = bed_demo_mass (&demo->plan, MAX (grams, 454), 0.5);
  BED_DEMO_SET (lot, { "mass", spawn->rest },
                { "cost", lround (spawn->rest / 453592.37 * 520) + 600 });
  spawn->id = bed_record_get_id (lot);
}

/* A little more than the logs should need. */
gboolean
bed_demo_receive_spawn (BedDemo *demo, GError **error)
{
  BedEdit *edit = bed_demo_begin (demo);
  int n = 0;

  for (int i = 0; i < BED_DEMO_STRAINS; i++)
    if (demo->spawn[i].logs > 0)
      put_spawn (demo, edit, i, ++n);
  return bed_demo_end (edit, error, n == 1 ? "Received %d spawn lot" : "Received %d spawn lots", n);
}

/* --- what is left to do ------------------------------------------------------ */

static const char *
leaf_on (int day)
{
  GDate date = bed_demo_gdate (day);
  int month = g_date_get_month (&date);

  return month == 4                 ? "bud swell"
         : month >= 5 && month <= 9 ? "in leaf"
         : month == 10              ? "leaf fall"
                                    : "dormant";
}

/* Bolts that have waited too long, and a spawn lot near its date, so that the pages
 * of the demo farm have something to warn of. */
gboolean
bed_demo_leave_waiting (BedDemo *demo, GError **error)
{
  int felled = MAX (demo->today - 75, bed_demo_day (demo->first_year, 1, 3));
  g_autofree char *date = bed_demo_date (felled);
  g_autofree char *code = bed_code_next_numbered (demo->farm, BED_KIND_FELLING, 'F', date);
  gint64 wood = bed_farm_find (demo->farm, BED_KIND_WOOD, woods[0], error);

  if (!wood)
    return FALSE;
  if (demo->waiting == 0)
    return TRUE;
  demo->minute = MAX (demo->minute, 17 * 60);
  BedEdit *edit = bed_demo_begin (demo);
  BedRecord *felling = put_felling (demo, edit, 0, wood, demo->waiting);
  bed_record_set_text (felling, "code", code);
  bed_record_set_text (felling, "felled_on", date);
  bed_record_set_text (felling, "leaf", leaf_on (felled));
  bed_record_set_text (felling, "condition", "storm-thrown");
  g_autoptr (GPtrArray) bolts = g_ptr_array_new ();
  for (int i = 0; i < demo->waiting; i++)
    {
      g_autofree char *bolt = g_strdup_printf ("%s-B%03d", code, i + 1);
      g_ptr_array_add (bolts, bed_demo_put_log (demo, edit, bed_record_get_id (felling), bolt));
    }
  bed_demo_pile_up (demo, edit, bolts);
  return bed_demo_end (edit, error, "Wrote down %d bolts of storm-thrown oak", demo->waiting);
}
