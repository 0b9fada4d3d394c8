/* What the logs taught, on a farm small enough to reckon by hand. */
#include "../ask.h"

#include "model_test.h"

#include <math.h>

#include "model/season/batch_life.h"
#include "model/season/crop.h"

/* Ten logs inoculated in 2024 and ten in 2025; picks by the batch. */
static void
add_batch (BedFarm *farm, const char *code, const char *inoculated_on, const char *felling)
{
  scene_add (farm, scene_record (farm, BED_KIND_BATCH, "code", code, "inoculated_on", inoculated_on,
                                 "method", "drilled", NULL));
  for (int i = 0; i < 10; i++)
    scene_add (farm, scene_record (farm, BED_KIND_LOG, "felling", felling, "batch", code, "length",
                                   "100 cm", "small_diameter", "10 cm", NULL));
}

static void
pick (BedFarm *farm, const char *batch, const char *day, const char *mass)
{
  scene_add (farm, scene_record (farm, BED_KIND_PICK, "picked_on", day, "batch", batch, "grade",
                                 "A", "mass", mass, NULL));
}

static void
add_felling (BedFarm *farm, const char *code, const char *day, const char *wood)
{
  scene_add (farm, scene_record (farm, BED_KIND_FELLING, "code", code, "felled_on", day, "wood",
                                 wood, NULL));
}

static void
retire (BedFarm *farm, const char *batch, int n, const char *day, const char *why)
{
  g_autofree char *sql = g_strdup_printf ("SELECT l.id FROM log l JOIN batch b ON b.id = l.batch"
                                          " WHERE b.code = '%s' AND l.retired_on IS NULL"
                                          " ORDER BY l.id LIMIT 1",
                                          batch);

  for (int i = 0; i < n; i++)
    {
      g_autoptr (BedRecord) log = bed_farm_load (farm, BED_KIND_LOG, ask_one (farm, sql, 0), NULL);
      g_autoptr (GError) error = NULL;
      bed_record_set_text (log, "retired_on", day);
      bed_record_set_text (log, "retired_why", why);
      bed_edit_put_one (farm, log, "Retired a log", &error);
      g_assert_no_error (error);
    }
}

static void
test_empty (Scene *scene, gconstpointer units)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BedCrop) crop = bed_crop_new (scene->farm, 2026, &error);

  g_assert_no_error (error);
  g_assert_cmpuint (crop->groups->len, ==, 0);
  g_assert_cmpuint (crop->ages->len, ==, 0);
  g_assert_true (isnan (crop->median_seasons));
  g_assert_cmpint (crop->coming[0].kg.known, ==, BED_KNOWN_NOTHING);
}

/* Today is 2026-05-12: seasons 2024 and 2025 are over. Of 20 logs inoculated on oak and maple
 * on one day in 2024, oak gave 8 kg and maple 4 kg in 2025: 0.6 kg a log on the mean. */
static void
add_two_kinds (BedFarm *farm)
{
  add_felling (farm, "F24-1", "2024-02-01", "white oak");
  add_felling (farm, "F24-2", "2024-02-01", "sugar maple");
  add_batch (farm, "24A", "2024-03-01", "F24-1");
  add_batch (farm, "24B", "2024-03-01", "F24-2");
  pick (farm, "24A", "2025-06-01", "8 kg");
  pick (farm, "24B", "2025-06-01", "4 kg");
}

static BedCrop *
read_crop (BedFarm *farm, int season)
{
  g_autoptr (GError) error = NULL;
  BedCrop *crop = bed_crop_new (farm, season, &error);

  g_assert_no_error (error);
  return crop;
}

static void
test_by_hand (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;

  add_two_kinds (farm);
  retire (farm, "24B", 2, "2025-09-01", "rotted");
  retire (farm, "24A", 1, "2025-09-01", "sold");
  g_autoptr (BedCrop) crop = read_crop (farm, 2025);
  BedCropGroup *best = crop->groups->pdata[0], *last = crop->groups->pdata[1];
  g_assert_cmpuint (crop->groups->len, ==, 2);
  g_assert_cmpstr (best->name, ==, "white oak");
  g_assert_cmpuint (best->batches, ==, 1);
  /* One batch of each: which is the kind and which the luck of the batch nothing tells. */
  g_assert_cmpint (best->kg.known, ==, BED_KNOWN_POINT);
  g_assert_cmpfloat_with_epsilon (best->kg.estimate, 0.8, 1e-6);
  g_assert_cmpfloat_with_epsilon (last->kg.estimate, 0.4, 1e-6);
  /* Kaplan and Meier by seasons: in the first after its own 2 of the 20 rotted, the sold one is
   * no death. */
  g_assert_cmpuint (crop->logs, ==, 20);
  g_assert_cmpuint (crop->ages->len, ==, 1);
  g_assert_cmpfloat_with_epsilon (g_array_index (crop->ages, BedCropAge, 0).alive.estimate, 0.9,
                                  1e-9);
  g_assert_true (isnan (crop->median_seasons));
  /* 17 logs, by 1 : 2 : 2 : 1 at twice what they gave; drawn in, so about 20 kg. */
  g_assert_cmpint (crop->season, ==, 2025);
  g_assert_cmpfloat (crop->coming[0].kg.estimate, >, 16);
  g_assert_cmpfloat (crop->coming[0].kg.estimate, <, 24);
  g_assert_cmpfloat (crop->coming[0].kg.low, <, 15);
  g_assert_cmpfloat (crop->coming[0].kg.high, >, 26);
  g_assert_cmpfloat_with_epsilon (crop->coming[0].share_unseen, 1, 1e-9);
}

/* The running season counts by what has usually come by its day; a farm that has no other, too. */
static void
test_running (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;

  add_felling (farm, "F25-1", "2025-02-01", "white oak");
  add_batch (farm, "25A", "2025-03-01", "F25-1");
  g_autoptr (BedCrop) before = read_crop (farm, 2026);
  pick (farm, "25A", "2026-05-01", "6 kg");
  g_autoptr (BedCrop) first = read_crop (farm, 2026);
  g_assert_cmpfloat (before->coming[0].kg.estimate, <=, 0);
  g_assert_cmpfloat (first->coming[0].kg.estimate, >, 6);
  g_assert_cmpfloat (first->coming[0].kg.estimate, <, 40);
  /* Two seasons further it is less sure. */
  g_assert_cmpint (first->coming[2].kg.known, ==, BED_KNOWN_INTERVAL);
}

/* A farm that picked from logs of the same year is promised something. */
static void
test_first_year (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;

  add_felling (farm, "F26-1", "2026-01-10", "white oak");
  add_batch (farm, "26Z", "2026-02-01", "F26-1");
  pick (farm, "26Z", "2026-05-01", "60 kg");
  g_autoptr (BedCrop) crop = read_crop (farm, 2026);
  g_assert_cmpfloat (crop->coming[0].kg.estimate, >, 30);
  g_assert_cmpfloat (crop->coming[0].kg.low, >, 0);
}

/* Two seasons of four gave nothing: the low end says so. */
static void
test_empty_seasons (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;

  add_felling (farm, "F21-1", "2021-02-01", "white oak");
  add_batch (farm, "21A", "2021-03-01", "F21-1");
  pick (farm, "21A", "2022-06-01", "20 kg");
  pick (farm, "21A", "2024-06-01", "30 kg");
  g_autoptr (BedCrop) crop = read_crop (farm, 2025);
  g_assert_cmpuint (crop->coming[0].seasons, ==, 4);
  g_assert_cmpfloat (crop->coming[0].kg.low, <, 0.5);
  g_assert_cmpfloat (crop->coming[0].kg.high, >, 4);
}

/* Maple of 2025 shares no year with the oaks of 2024: it cannot be told from its years. */
static void
test_other_years (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;

  bed_farm_fix_clock (farm, "2027-02-01T09:00", 3);
  add_felling (farm, "F24-1", "2024-02-01", "white oak");
  add_felling (farm, "F25-1", "2025-02-01", "sugar maple");
  add_batch (farm, "24A", "2024-03-01", "F24-1");
  add_batch (farm, "24B", "2024-03-02", "F24-1");
  add_batch (farm, "25A", "2025-03-01", "F25-1");
  pick (farm, "24A", "2025-06-01", "8 kg");
  pick (farm, "24B", "2025-06-01", "6 kg");
  pick (farm, "25A", "2026-06-01", "7 kg");
  g_autoptr (BedCrop) crop = read_crop (farm, 2027);
  const BedCropGroup *oak = crop->groups->pdata[0], *maple = crop->groups->pdata[1];
  g_assert_cmpstr (oak->name, ==, "white oak");
  g_assert_cmpint (oak->told, ==, BED_CROP_COMPARED);
  g_assert_cmpint (oak->kg.known, ==, BED_KNOWN_INTERVAL);
  g_assert_cmpint (maple->told, ==, BED_CROP_OTHER_YEARS);
  g_assert_cmpint (maple->kg.known, ==, BED_KNOWN_POINT);
}

/* 10 kg of spawn cost 90.00, 2.5 went into the batch: 22.50 in 2026. 150.00 bought in 2027,
 * 90 minutes at 18.00 in each. */
static void
test_life_cost (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;
  gint64 batch = scene_batch (farm, 4);
  g_autoptr (GError) error = NULL;

  bed_farm_fix_clock (farm, "2027-06-01T09:00", 3);
  scene_add (farm, scene_record (farm, BED_KIND_PURCHASE, "bought_on", "2027-02-01", "category",
                                 "other", "what", "Shade cloth", "amount", "150.00", "scope",
                                 "batch", "batch", "26A", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_HOURS, "worked_on", "2026-03-01", "task",
                                 "drilling", "minutes", "1.5 h", "batch", "26A", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_HOURS, "worked_on", "2027-03-01", "task", "moving",
                                 "minutes", "1.5 h", "batch", "26A", NULL));
  g_autoptr (BedBatchCosts) costs = bed_batch_life_cost (farm, batch, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (costs->n_years, ==, 2);
  g_assert_cmpint (costs->by_year[0].total, ==, 2250 + 2700);
  g_assert_cmpint (costs->by_year[1].total, ==, 15000 + 2700);
  g_assert_cmpint (costs->whole.total, ==,
                   ask_one (farm, "SELECT cost FROM batch_summary WHERE id = ?1", batch));
  g_assert_cmpfloat_with_epsilon (costs->per_log, costs->whole.total / 4.0, 1e-9);
  g_assert_cmpfloat (costs->per_kg, <, 0);
}

#define ADD(name, test)                                                                            \
  g_test_add ("/crop/" name, Scene, "metric", scene_set_up, test, scene_tear_down)

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  ADD ("empty", test_empty);
  ADD ("by-hand", test_by_hand);
  ADD ("life-cost", test_life_cost);
  ADD ("running", test_running);
  ADD ("first-year", test_first_year);
  ADD ("empty-seasons", test_empty_seasons);
  ADD ("other-years", test_other_years);
  return g_test_run ();
}
