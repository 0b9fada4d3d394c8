/* Picks find the lot of their day. */
#include "model_test.h"

#include "model/season/pick.h"

static gint64
pick (BedFarm *farm, const char *day)
{
  g_autoptr (BedEdit) edit = bed_edit_new (farm);
  g_autoptr (GError) error = NULL;
  g_autoptr (BedRecord) record = scene_record (farm, BED_KIND_PICK, "picked_on", day, "batch",
                                               "26A", "grade", "A", "mass", "200", NULL);

  bed_pick_put (farm, edit, record);
  bed_edit_commit (edit, "Picked", &error);
  g_assert_no_error (error);
  return bed_record_get_int (record, "lot");
}

static void
test_one_lot_a_day (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;

  scene_batch (farm, 1);
  g_autofree char *coming = bed_pick_dup_lot_code (farm, "2026-05-11");
  gint64 first = pick (farm, "2026-05-11");
  gint64 second = pick (farm, "2026-05-11");
  gint64 other = pick (farm, "2026-05-12");
  g_autofree char *code = bed_farm_dup_name (farm, BED_KIND_LOT, first);
  g_assert_cmpint (first, !=, 0);
  g_assert_cmpint (second, ==, first);
  g_assert_cmpint (other, !=, first);
  g_assert_cmpstr (code, ==, coming);
  g_assert_true (g_str_has_prefix (code, "L260511-1-"));
  g_assert_cmpint (bed_farm_count (farm, BED_KIND_LOT), ==, 2);
}

/* A pick and the lot it opened are undone together. */
static void
test_undo (Scene *scene, gconstpointer units)
{
  scene_batch (scene->farm, 1);
  pick (scene->farm, "2026-05-11");
  g_assert_true (bed_history_undo (scene->farm, NULL, NULL));
  g_assert_cmpint (bed_farm_count (scene->farm, BED_KIND_LOT), ==, 0);
  g_assert_cmpint (bed_farm_count (scene->farm, BED_KIND_PICK), ==, 0);
}

static void
test_further_lot (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;
  g_autoptr (GError) error = NULL;

  scene_batch (farm, 1);
  gint64 first = pick (farm, "2026-05-11");
  g_assert_true (bed_pick_open_lot (farm, "2026-05-11", &error));
  gint64 second = pick (farm, "2026-05-11");
  g_autofree char *code = bed_farm_dup_name (farm, BED_KIND_LOT, second);
  g_assert_cmpint (second, !=, first);
  g_assert_true (g_str_has_prefix (code, "L260511-2-"));
}

#define ADD(path, test) g_test_add ("/pick/" path, Scene, NULL, scene_set_up, test, scene_tear_down)

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  ADD ("one-lot-a-day", test_one_lot_a_day);
  ADD ("undo", test_undo);
  ADD ("further-lot", test_further_lot);
  return g_test_run ();
}
