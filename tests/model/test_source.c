/* Names of logs, stacks and batches as a grower writes them. */
#include "model_test.h"

#include "model/farm/code.h"
#include "model/farm/diameters.h"
#include "model/farm/source.h"
#include <string.h>

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

static char *
dup_diameters (BedFarm *farm, const char *text)
{
  g_autoptr (GArray) diameters = bed_diameters_parse (farm, text, NULL);
  GString *said = g_string_new (diameters ? NULL : "?");

  for (guint i = 0; diameters && i < diameters->len; i++)
    g_string_append_printf (said, "%s%g", i ? " " : "",
                            (double) g_array_index (diameters, gint64, i) / 10000);
  return g_string_free (said, FALSE);
}

/* cm, as typed and as understood; "?" is refused. */
static void
test_diameters (Scene *scene, gconstpointer units)
{
  static const char *const typed[][2] = {
    { "12", "12" },
    { " 12.5 ", "12.5" },
    { "12 12 13", "12 12 13" },
    { "12, 12.5; 13,", "12 12.5 13" },
    { "3 x 12", "12 12 12" },
    { "3x12.5", "12.5 12.5 12.5" },
    { "3 × 12", "12 12 12" },
    { "3*12", "12 12 12" },
    { "12 x3", "12 12 12" },
    { "12.5 x 2", "12.5 12.5" },
    { "10 2 x 11 12 x2 9", "10 11 11 12 12 9" },
    { "5 in", "12.7" },
    { "5 1/4 in 5 in x2", "13.335 12.7 12.7" },
    { "", "" },
    { "x", "?" },
    { "12 x", "?" },
    { "12 x0", "?" },
    { "2000 x 12", "?" },
    { "12 thick", "?" },
    { "12 0.5", "?" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (typed); i++)
    {
      g_autofree char *said = dup_diameters (scene->farm, typed[i][0]);

      g_assert_cmpstr (said, ==, typed[i][1]);
    }
}

/* What was not understood is named. */
static void
test_diameters_refused (Scene *scene, gconstpointer units)
{
  static const char *const typed[][2]
      = { { "12 thick", "thick" }, { "12 x", "x" }, { "2000 x 12", "2000 logs" } };

  for (guint i = 0; i < G_N_ELEMENTS (typed); i++)
    {
      g_autoptr (GError) error = NULL;

      g_assert_null (bed_diameters_parse (scene->farm, typed[i][0], &error));
      g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID);
      g_assert_nonnull (strstr (error->message, typed[i][1]));
    }
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
  ADD ("diameters", test_diameters);
  ADD ("diameters-refused", test_diameters_refused);
  return g_test_run ();
}
