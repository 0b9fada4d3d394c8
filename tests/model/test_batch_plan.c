/* What a batch takes: common practice at first, the farm's own use once two batches tell it. */
#include "model_test.h"

#include "model/farm/names.h"
#include "model/season/batch_plan.h"
#include "model/season/own_use.h"
#include "model/season/pattern.h"

#define HOLES_OF_PAST 40

/* The first batch of a farm: FOR-77's spacings, 12 mm by 25 mm. */
static BedRecord *
make_batch (BedFarm *farm, const char *code, const char *method)
{
  return scene_record (farm, BED_KIND_BATCH, "code", code, "inoculated_on", "2026-04-01", "method",
                       method, "hole_diameter", "12mm", "hole_depth", "25mm", "along", "6in",
                       "between", "3in", "margin", "2in", "ends_sealed", "no", NULL);
}

static BedRecord *
make_log (BedFarm *farm, const char *code, const char *diameter)
{
  return scene_record (farm, BED_KIND_LOG, "code", code, "felling", "F26-1", "length", "40in",
                       "small_diameter", diameter, NULL);
}

static void
plan (Scene *scene, BedRecord *batch, BedBatchTotals *totals)
{
  g_autoptr (GPtrArray) logs = g_ptr_array_new_with_free_func (g_object_unref);
  g_autoptr (GError) error = NULL;
  BedBatchNeeds needs = { batch, logs, "sawdust", scene->farm };

  g_ptr_array_add (logs, make_log (scene->farm, "P-1", "5in"));
  bed_batch_totals_init (totals, &needs, &error);
  g_assert_no_error (error);
}

/* From memory: a bag of 5 to 5.5 lb fills 20 to 25 logs of 4 to 6 in by 40 in; of 5 in, the
 * middle one. */
static void
test_bag (Scene *scene, gconstpointer units)
{
  g_autoptr (BedRecord) batch = make_batch (scene->farm, "X", "drilled");
  g_auto (BedBatchTotals) totals = { 0 };

  scene_batch (scene->farm, 1);
  plan (scene, batch, &totals);
  g_test_message ("%g g a log, %g to %g", totals.spawn_g, totals.spawn_low_g, totals.spawn_high_g);
  g_assert_cmpfloat (totals.spawn_g, >=, 5 * 453.59237 / 25);
  g_assert_cmpfloat (totals.spawn_g, <=, 5.5 * 453.59237 / 20);
  g_assert_cmpfloat (totals.spawn_low_g, <=, 5 * 453.59237 / 25);
  g_assert_cmpfloat (totals.spawn_high_g, >=, 5.25 * 453.59237 / 20);
  g_assert_cmpuint (totals.own, ==, 0);
}

static void
make_past (Scene *scene, const char *code, const char *mass, int wax, int minutes)
{
  static const char *const tasks[] = { "drilling", "filling", "waxing" };
  g_autoptr (BedRecord) batch = make_batch (scene->farm, code, "drilled");
  g_autofree char *log = g_strdup_printf ("%s-1", code);

  bed_record_set_int (batch, "wax_mass", wax * 1000);
  g_autofree char *time = g_strdup_printf ("%d min", minutes);
  scene_add (scene->farm, g_object_ref (batch));
  BedRecord *wood = make_log (scene->farm, log, "5in");
  bed_record_set_int (wood, "batch", bed_farm_find (scene->farm, BED_KIND_BATCH, code, NULL));
  bed_record_set_int (wood, "holes", HOLES_OF_PAST);
  scene_add (scene->farm, wood);
  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_SPAWN_USED, "batch", code, "spawn",
                                        "S26-1", "mass", mass, NULL));
  for (guint i = 0; i < G_N_ELEMENTS (tasks); i++)
    scene_add (scene->farm, scene_record (scene->farm, BED_KIND_HOURS, "worked_on", "2026-04-01",
                                          "task", tasks[i], "batch", code, "minutes", time, NULL));
}

/* One batch tells nothing yet; two do, and the range is theirs. */
static void
test_own_use (Scene *scene, gconstpointer units)
{
  g_autoptr (BedRecord) batch = make_batch (scene->farm, "X", "drilled");
  g_auto (BedBatchTotals) usual = { 0 }, one = { 0 }, two = { 0 };

  scene_batch (scene->farm, 1);
  plan (scene, batch, &usual);
  make_past (scene, "P1", "200g", 40, 4);
  plan (scene, batch, &one);
  g_assert_cmpfloat (one.spawn_g, ==, usual.spawn_g);
  g_assert_cmpfloat (one.wax_g, ==, usual.wax_g);
  make_past (scene, "P2", "240g", 50, 5);
  plan (scene, batch, &two);
  double holes = (double) two.holes, share = holes / 40;
  g_assert_cmpuint (two.own, ==, 2);
  g_assert_cmpfloat_with_epsilon (two.spawn_g, 220 * share, 1e-6);
  g_assert_cmpfloat_with_epsilon (two.spawn_low_g, 200 * share, 1e-6);
  g_assert_cmpfloat_with_epsilon (two.spawn_high_g, 240 * share, 1e-6);
  g_assert_cmpfloat_with_epsilon (two.wax_g, 45 * share, 1e-6);
  g_assert_cmpfloat (two.minutes, <, 13.5 + 1e-9);
  g_assert_cmpfloat (two.minutes, >, 13.5 * share);
}

/* A past batch of one log whose spawn is what its plan asked, as a form saves it. */
static void
make_planned (Scene *scene, const char *code, const BedBatchTotals *plan)
{
  g_autofree char *mass
      = g_strdup_printf ("%.3fg", plan->spawn_g / (double) plan->holes * HOLES_OF_PAST);

  make_past (scene, code, mass, 40, 4);
}

/* What the plan filled in is no use of the farm's own, before batches told theirs and after. */
static void
test_planned_tells_nothing (Scene *scene, gconstpointer units)
{
  g_autoptr (BedRecord) batch = make_batch (scene->farm, "X", "drilled");
  g_auto (BedBatchTotals) usual = { 0 }, still = { 0 }, own = { 0 }, later = { 0 };

  scene_batch (scene->farm, 1);
  plan (scene, batch, &usual);
  make_planned (scene, "P1", &usual);
  make_planned (scene, "P2", &usual);
  plan (scene, batch, &still);
  g_assert_cmpuint (still.own, ==, 0);
  make_past (scene, "P3", "200g", 40, 4);
  make_past (scene, "P4", "240g", 50, 5);
  plan (scene, batch, &own);
  g_assert_cmpuint (own.own, ==, 2);
  make_planned (scene, "P5", &own);
  plan (scene, batch, &later);
  g_assert_cmpuint (later.own, ==, 2);
  g_assert_cmpfloat_with_epsilon (later.spawn_g, own.spawn_g, 1e-9);
}

/* Holes of @code's only log counted, or not; spawn and work by the callers. */
static void
make_odd (Scene *scene, const char *code, const char *method, int holes)
{
  BedRecord *batch = make_batch (scene->farm, code, method);
  g_autofree char *name = g_strdup_printf ("%s-1", code);
  BedRecord *log = make_log (scene->farm, name, "5in");

  scene_add (scene->farm, batch);
  bed_record_set_int (log, "batch", bed_farm_find (scene->farm, BED_KIND_BATCH, code, NULL));
  if (holes > 0)
    bed_record_set_int (log, "holes", holes);
  scene_add (scene->farm, log);
}

static void
use (Scene *scene, const char *code, const char *spawn, const char *mass)
{
  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_SPAWN_USED, "batch", code, "spawn",
                                        spawn, "mass", mass, NULL));
}

/* What a batch tells that was not whole, not drilled, of two forms or of one task alone: nothing.
 * Nor does one tell of itself. */
static void
test_tells_nothing (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;
  g_autoptr (BedRecord) batch = make_batch (farm, "X", "drilled");
  g_auto (BedBatchTotals) two = { 0 }, odd = { 0 };
  BedDrillNorms norms;
  const BedDrillWork how = { BED_SPAWN_SAWDUST, BED_DRILL_HAND, BED_SEAL_HOLES };
  guint told;

  scene_batch (farm, 1);
  make_past (scene, "P1", "200g", 40, 4);
  make_past (scene, "P2", "240g", 50, 5);
  plan (scene, batch, &two);
  make_odd (scene, "Q1", "drilled", 40);
  BedRecord *log = make_log (farm, "Q1-2", "5in"); /* its holes are not counted */
  bed_record_set_int (log, "batch", bed_farm_find (farm, BED_KIND_BATCH, "Q1", NULL));
  scene_add (farm, log);
  use (scene, "Q1", "S26-1", "900g");
  make_odd (scene, "Q2", "wedge", 40);
  use (scene, "Q2", "S26-1", "900g");
  scene_add (farm,
             scene_record (farm, BED_KIND_SPAWN, "code", "S26-9", "strain", "Wide one", "form",
                           "thimble", "received_on", "2026-02-10", "pieces", "900", NULL));
  make_odd (scene, "Q3", "drilled", 40);
  use (scene, "Q3", "S26-1", "900g");
  scene_add (farm, scene_record (farm, BED_KIND_SPAWN_USED, "batch", "Q3", "spawn", "S26-9",
                                 "pieces", "40", NULL));
  make_odd (scene, "Q4", "drilled", 40);
  scene_add (farm, scene_record (farm, BED_KIND_HOURS, "worked_on", "2026-04-01", "task",
                                 "drilling", "batch", "Q4", "minutes", "90 min", NULL));
  plan (scene, batch, &odd);
  g_assert_cmpuint (odd.own, ==, 2);
  g_assert_cmpfloat (odd.spawn_g, ==, two.spawn_g);
  g_assert_cmpfloat (odd.minutes, ==, two.minutes);
  bed_drill_norms_init (&norms);
  g_assert_true (bed_own_use_apply (farm, bed_farm_find (farm, BED_KIND_BATCH, "P1", NULL), &how,
                                    &norms, &told, NULL));
  g_assert_cmpuint (told, ==, 0);
}

/* Minutes of a pace the grower timed stay, whatever the hours of batches say. */
static void
test_timed (Scene *scene, gconstpointer units)
{
  g_autoptr (BedRecord) batch = make_batch (scene->farm, "X", "drilled");
  g_autoptr (BedRecord) settings = bed_record_copy (bed_farm_get_settings (scene->farm));
  g_auto (BedBatchTotals) before = { 0 }, after = { 0 };
  g_autoptr (GError) error = NULL;

  scene_batch (scene->farm, 1);
  bed_value_parse (scene->farm, settings, "fill_pace", "10", &error);
  bed_edit_put_one (scene->farm, settings, "Changed a setting", &error);
  g_assert_no_error (error);
  plan (scene, batch, &before);
  make_past (scene, "P1", "200g", 40, 50);
  make_past (scene, "P2", "240g", 50, 50);
  plan (scene, batch, &after);
  g_assert_cmpuint (after.own, ==, 2);
  g_assert_cmpfloat (after.minutes, ==, before.minutes);
}

/* Wax on ends is planned for the batches that had it: two that took what was planned change
 * nothing. */
static void
test_ends (Scene *scene, gconstpointer units)
{
  g_autoptr (BedRecord) batch = make_batch (scene->farm, "X", "drilled");
  g_auto (BedBatchTotals) before = { 0 }, after = { 0 };

  scene_batch (scene->farm, 1);
  bed_record_set_text (batch, "ends_sealed", "yes");
  plan (scene, batch, &before);
  for (int i = 1; i <= 2; i++)
    {
      g_autofree char *code = g_strdup_printf ("E%d", i);
      make_odd (scene, code, "drilled", (int) before.holes);
      g_autoptr (BedRecord) past
          = bed_farm_load (scene->farm, BED_KIND_BATCH,
                           bed_farm_find (scene->farm, BED_KIND_BATCH, code, NULL), NULL);
      bed_record_set_text (past, "ends_sealed", "yes");
      bed_record_set_int (past, "wax_mass", (gint64) (before.wax_g * 1000));
      g_assert_true (bed_edit_put_one (scene->farm, past, "Weighed the wax", NULL));
    }
  plan (scene, batch, &after);
  g_assert_cmpfloat_with_epsilon (after.wax_g, before.wax_g, before.wax_g / 1000);
}

/* Of no logs yet the plan is that of a usual one; of three the pattern is of the middle one by
 * thickness. */
static void
test_typical (Scene *scene, gconstpointer units)
{
  g_autoptr (BedRecord) batch = make_batch (scene->farm, "X", "drilled");
  g_autoptr (GPtrArray) logs = g_ptr_array_new_with_free_func (g_object_unref);
  g_auto (BedBatchTotals) none = { 0 }, one = { 0 }, three = { 0 };
  BedBatchNeeds needs = { batch, NULL, "sawdust", scene->farm };

  scene_batch (scene->farm, 1);
  g_assert_true (bed_batch_totals_init (&none, &needs, NULL));
  g_assert_cmpuint (none.logs, ==, 0);
  g_assert_cmpfloat (none.spawn_g, >, 50);
  g_assert_cmpfloat (none.minutes, >, 0);
  plan (scene, batch, &one);
  g_ptr_array_add (logs, make_log (scene->farm, "T-1", "9in"));
  g_ptr_array_add (logs, make_log (scene->farm, "T-2", "3in"));
  g_ptr_array_add (logs, make_log (scene->farm, "T-3", "5in"));
  needs.logs = logs;
  g_assert_true (bed_batch_totals_init (&three, &needs, NULL));
  g_assert_cmpint (three.plan->rows, ==, one.plan->rows);
}

/* A tenth more lies ready; what is used does not grow by it. */
static void
test_reserve (Scene *scene, gconstpointer units)
{
  g_autoptr (BedRecord) batch = make_batch (scene->farm, "X", "drilled");
  g_autoptr (BedRecord) settings = bed_record_copy (bed_farm_get_settings (scene->farm));
  g_auto (BedBatchTotals) none = { 0 }, tenth = { 0 };
  g_autoptr (GError) error = NULL;

  scene_batch (scene->farm, 1);
  plan (scene, batch, &none);
  g_assert_cmpfloat (none.spawn_reserve_g, ==, 0);
  bed_record_set_int (settings, "spawn_reserve", 1000);
  bed_edit_put_one (scene->farm, settings, "Changed a setting", &error);
  g_assert_no_error (error);
  plan (scene, batch, &tenth);
  g_assert_cmpfloat (tenth.spawn_g, ==, none.spawn_g);
  g_assert_cmpfloat_with_epsilon (tenth.spawn_reserve_g, none.spawn_g / 10, 1e-9);
}

/* Nothing by holes where there are none. */
static void
test_no_holes (Scene *scene, gconstpointer units)
{
  const char *const methods[] = { "totem", "wedge" };

  scene_batch (scene->farm, 1);
  for (guint i = 0; i < G_N_ELEMENTS (methods); i++)
    {
      g_autoptr (BedRecord) batch = make_batch (scene->farm, "X", methods[i]);
      g_autoptr (BedRecord) log = make_log (scene->farm, "P-1", "5in");
      g_auto (BedBatchTotals) totals = { 0 };
      g_autoptr (GError) error = NULL;
      BedBatchNeeds needs = { batch, NULL, "sawdust", scene->farm };

      g_assert_false (bed_batch_totals_init (&totals, &needs, &error));
      g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID);
      g_assert_null (totals.plan);
      g_assert_cmpint (bed_pattern_count_holes (batch, log), ==, 0);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
#define ADD(name, function)                                                                        \
  g_test_add (name, Scene, "metric", scene_set_up, function, scene_tear_down)
  ADD ("/batch-plan/bag", test_bag);
  ADD ("/batch-plan/own-use", test_own_use);
  ADD ("/batch-plan/planned-tells-nothing", test_planned_tells_nothing);
  ADD ("/batch-plan/tells-nothing", test_tells_nothing);
  ADD ("/batch-plan/timed", test_timed);
  ADD ("/batch-plan/ends", test_ends);
  ADD ("/batch-plan/typical", test_typical);
  ADD ("/batch-plan/reserve", test_reserve);
  ADD ("/batch-plan/no-holes", test_no_holes);
  return g_test_run ();
}
