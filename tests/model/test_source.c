/* Names of logs, stacks and batches as a grower writes them. */
#include "model_test.h"

#include "model/farm/code.h"
#include "model/farm/source.h"

static void
add_stack (BedFarm *farm, const char *name, int first, int last)
{
  if (!bed_farm_count (farm, BED_KIND_AREA))
    scene_add (farm, scene_record (farm, BED_KIND_AREA, "name", "Yard", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_STACK, "name", name, "area", "Yard", "kind", "crib",
                                 "built_on", "2026-03-01", NULL));
  for (int i = first; i <= last; i++)
    {
      g_autofree char *code = bed_code_log ("26A", i);
      scene_add (farm, scene_record (farm, BED_KIND_PLACE, "log", code, "stack", name, "since",
                                     "2026-03-01", NULL));
    }
}

static guint
count (BedFarm *farm, const char *text)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) logs = bed_source_find_logs (farm, text, &error);

  g_assert_no_error (error);
  return logs->len;
}

static void
test_find (Scene *scene, gconstpointer units)
{
  g_autoptr (GError) error = NULL;
  BedKind kind = BED_N_KINDS;

  scene_batch (scene->farm, 5);
  add_stack (scene->farm, "Crib 1", 1, 3);
  g_assert_cmpint (bed_source_find (scene->farm, " crib 1 ", &kind, NULL), !=, 0);
  g_assert_cmpint (kind, ==, BED_KIND_STACK);
  g_assert_cmpint (bed_source_find (scene->farm, "26a", &kind, NULL), !=, 0);
  g_assert_cmpint (kind, ==, BED_KIND_BATCH);
  g_assert_cmpint (bed_source_find (scene->farm, "26A-2", &kind, NULL), !=, 0);
  g_assert_cmpint (kind, ==, BED_KIND_LOG);
  g_assert_cmpint (bed_source_find (scene->farm, "Crib 2", &kind, &error), ==, 0);
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_NOT_FOUND);
  g_assert_nonnull (strstr (error->message, "Crib 1"));
}

/* A wrong check character is refused, never taken for another log. */
static void
test_mistyped (Scene *scene, gconstpointer units)
{
  g_autoptr (GError) error = NULL;
  BedKind kind;

  scene_batch (scene->farm, 2);
  g_autofree char *right = bed_code_log ("26A", 1);
  g_autofree char *wrong = g_strdup (right);
  wrong[strlen (wrong) - 1] = right[strlen (right) - 1] == '0' ? '1' : '0';
  g_assert_cmpint (bed_source_find (scene->farm, wrong, &kind, &error), ==, 0);
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID);
}

static void
test_logs (Scene *scene, gconstpointer units)
{
  g_autoptr (GError) error = NULL;

  scene_batch (scene->farm, 5);
  add_stack (scene->farm, "Crib 1", 1, 3);
  g_assert_cmpuint (count (scene->farm, ""), ==, 0);
  g_assert_cmpuint (count (scene->farm, "Crib 1"), ==, 3);
  g_assert_cmpuint (count (scene->farm, "Crib 1, 26A-2"), ==, 3);
  g_assert_cmpuint (count (scene->farm, "Crib 1; 26A-5,"), ==, 4);
  g_assert_cmpuint (count (scene->farm, "26A\nCrib 1"), ==, 5);
  g_assert_null (bed_source_find_logs (scene->farm, "Crib 1, Crib 9", &error));
  g_assert_nonnull (strstr (error->message, "Crib 9"));
}

static void
test_names (Scene *scene, gconstpointer units)
{
  scene_batch (scene->farm, 5);
  add_stack (scene->farm, "Crib 1", 1, 3);
  add_stack (scene->farm, "Crib 2", 4, 5);
  g_autofree char *four = bed_code_log ("26A", 4);
  g_autofree char *text = g_strdup_printf ("%s, Crib 1", four);
  g_autofree char *wanted = g_strdup_printf ("Crib 1, %s", four);
  g_autoptr (GArray) logs = bed_source_find_logs (scene->farm, text, NULL);
  g_autofree char *names = bed_source_dup_names (scene->farm, logs);
  g_assert_cmpstr (names, ==, wanted);
  g_autoptr (GArray) all = bed_source_find_logs (scene->farm, "26A", NULL);
  g_autofree char *whole = bed_source_dup_names (scene->farm, all);
  g_assert_cmpstr (whole, ==, "Crib 1, Crib 2");
}

#define ADD(path, test)                                                                            \
  g_test_add ("/source/" path, Scene, NULL, scene_set_up, test, scene_tear_down)

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  ADD ("find", test_find);
  ADD ("mistyped", test_mistyped);
  ADD ("logs", test_logs);
  ADD ("names", test_names);
  return g_test_run ();
}
