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
  g_autoptr (BedCrop) crop = bed_crop_new (scene->farm, &error);

  g_assert_no_error (error);
  g_assert_cmpuint (crop->groups->len, ==, 0);
  g_assert_cmpuint (crop->ages->len, ==, 0);
  g_assert_true (isnan (crop->median_years));
  g_assert_cmpfloat_with_epsilon (crop->next.estimate, 0, 1e-12);
}

/* Today is 2026-05-12: seasons 2024 and 2025 are over. Of 20 logs inoculated on oak and maple
 * on one day in 2024, oak gave 8 kg and maple 4 kg in 2025: 0.6 kg a log on the mean. */
static void
test_by_hand (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;
  g_autoptr (GError) error = NULL;

  add_felling (farm, "F24-1", "2024-02-01", "white oak");
  add_felling (farm, "F24-2", "2024-02-01", "sugar maple");
  add_batch (farm, "24A", "2024-03-01", "F24-1");
  add_batch (farm, "24B", "2024-03-01", "F24-2");
  pick (farm, "24A", "2025-06-01", "8 kg");
  pick (farm, "24B", "2025-06-01", "4 kg");
  pick (farm, "24A", "2026-05-01", "99 kg"); /* the running season does not count */
  retire (farm, "24B", 2, "2025-09-01", "rotted");
  retire (farm, "24A", 1, "2025-09-01", "sold");
  g_autoptr (BedCrop) crop = bed_crop_new (farm, &error);
  g_assert_no_error (error);
  BedCropGroup *best = crop->groups->pdata[0], *last = crop->groups->pdata[1];
  g_assert_cmpuint (crop->groups->len, ==, 2);
  g_assert_cmpstr (best->name, ==, "white oak");
  g_assert_cmpuint (best->batch_seasons, ==, 1);
  /* Drawn towards the mean or left alone, never past it. */
  g_assert_cmpfloat (best->kg.estimate, >=, 0.6 - 1e-9);
  g_assert_cmpfloat (best->kg.estimate, <=, 0.8 + 1e-9);
  g_assert_cmpfloat_with_epsilon (best->kg.estimate + last->kg.estimate, 1.2, 1e-6);
  /* Kaplan and Meier: all at a year; at 1.5 years 2 of the 20 rotted, the sold one is no
   * death, so 18/20 live on. */
  g_assert_cmpuint (crop->logs, ==, 20);
  g_assert_cmpuint (crop->ages->len, ==, 2);
  g_assert_cmpfloat_with_epsilon (g_array_index (crop->ages, BedCropAge, 0).alive.estimate, 1,
                                  1e-9);
  g_assert_cmpfloat_with_epsilon (g_array_index (crop->ages, BedCropAge, 1).alive.estimate, 0.9,
                                  1e-9);
  g_assert_true (isnan (crop->median_years));
  /* The season runs since January. Nothing is known of the second bearing year, so it is taken
   * like the first: 17 logs x 0.6 kg. */
  g_assert_cmpint (crop->next_season, ==, 2026);
  g_assert_cmpfloat_with_epsilon (crop->next.estimate, 17 * 0.6, 1e-6);
  /* Ten logs of 2025 bear their first year in 2026. */
  add_felling (farm, "F25-1", "2025-02-01", "white oak");
  add_batch (farm, "25A", "2025-03-01", "F25-1");
  g_autoptr (BedCrop) more = bed_crop_new (farm, &error);
  g_assert_no_error (error);
  g_assert_cmpfloat_with_epsilon (more->next.estimate, 27 * 0.6, 1e-6);
  g_assert_cmpint (more->next.known, ==, BED_KNOWN_POINT);
  /* Retired on the day the season begins, a log is not alive to bear in it. */
  retire (farm, "24A", 1, "2026-01-01", "sold");
  g_autoptr (BedCrop) fewer = bed_crop_new (farm, &error);
  g_assert_no_error (error);
  g_assert_cmpfloat_with_epsilon (fewer->next.estimate, 26 * 0.6, 1e-6);
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

/* In its second half the season after is asked about. */
static void
test_autumn (Scene *scene, gconstpointer units)
{
  g_autoptr (BedCrop) crop = NULL;

  bed_farm_fix_clock (scene->farm, "2026-10-12T09:00", 3);
  crop = bed_crop_new (scene->farm, NULL);
  g_assert_cmpint (crop->next_season, ==, 2027);
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
  ADD ("autumn", test_autumn);
  return g_test_run ();
}
