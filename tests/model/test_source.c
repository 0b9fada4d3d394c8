/* Names of logs, stacks and batches as a grower writes them. */
#include "model_test.h"

#include "model/farm/code.h"
#include "model/farm/diameters.h"
#include "model/farm/names.h"
#include "model/farm/source.h"
#include <stdlib.h>
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

/* --- many at once ----------------------------------------------------------------------- */

/* "1 2 3": the numbers of the logs of 26A that @text names, "?" where it is refused. */
static char *
dup_numbers (BedFarm *farm, const char *text, GError **error)
{
  g_autoptr (GArray) logs = bed_source_find_logs (farm, text, error);
  GString *said = g_string_new (logs ? NULL : "?");

  for (guint i = 0; logs && i < logs->len; i++)
    {
      g_autofree char *code
          = bed_farm_dup_name (farm, BED_KIND_LOG, g_array_index (logs, gint64, i));
      g_string_append_printf (said, "%s%d", i ? " " : "", atoi (code + strlen ("26A-")));
    }
  return g_string_free (said, FALSE);
}

static void
retire (BedFarm *farm, int number)
{
  g_autofree char *code = bed_code_log ("26A", number);
  g_autoptr (BedRecord) log
      = bed_farm_load (farm, BED_KIND_LOG, bed_farm_find (farm, BED_KIND_LOG, code, NULL), NULL);
  g_autoptr (GError) error = NULL;

  bed_record_set_text (log, "retired_on", "2026-05-02");
  bed_record_set_text (log, "retired_why", "spent");
  bed_edit_put_one (farm, log, "Retired", &error);
  g_assert_no_error (error);
}

static void
mark (BedFarm *farm, int number, const char *own)
{
  g_autofree char *code = bed_code_log ("26A", number);
  g_autoptr (BedRecord) log
      = bed_farm_load (farm, BED_KIND_LOG, bed_farm_find (farm, BED_KIND_LOG, code, NULL), NULL);

  bed_record_set_text (log, "mark", own);
  g_assert_true (bed_edit_put_one (farm, log, "Marked", NULL));
}

/* Twelve logs, of which 5 is retired; 11 has the own number B7, 12 has 40. */
static void
make_many (BedFarm *farm)
{
  scene_batch (farm, 12);
  add_stack (farm, "Crib 1", 1, 3);
  add_stack (farm, "Crib – low", 8, 9);
  mark (farm, 11, "B7");
  mark (farm, 12, "40");
  retire (farm, 5);
}

static void
test_many (Scene *scene, gconstpointer units)
{
  static const char *const typed[][2] = {
    { "26A-1..4", "1 2 3 4" },
    { "26a-1 .. 26a-4", "1 2 3 4" },
    { "26A-1…3", "1 2 3" },
    { "26A-1–3", "1 2 3" },
    { "26A-4..1", "1 2 3 4" },
    { "26A-1-12", "1 2 3 4 6 7 8 9 10 11 12" },
    { "26A-4..6", "4 6" },
    { "26A-5", "5" },
    { "26A-5..6", "6" },
    { "26A-1 3 7", "1 3 7" },
    { "26A-1, 3, 7..9", "1 3 7 8 9" },
    { "26A-1; 3-4 26A-2", "1 3 4 2" },
    { "26A 3 4", "3 4" },
    { "26A 1..3 12", "1 2 3 12" },
    { "26A", "1 2 3 4 6 7 8 9 10 11 12" },
    { "Crib 1 26A-7 8", "1 2 3 7 8" },
    { "crib – low", "8 9" },
    { "26A-7 Crib 1", "7 1 2 3" },
    { "b7", "11" },
    { "40, 26A-1", "12 1" },
    { "b7 40", "11 12" },
    { " , ;\n", "" },
    { "26A-1..13", "?" },
    { "26A-1 40", "?" }, /* 26A-040 is meant, not the own number */
    { "26A-1-3", "?" },  /* or is it a mistyped code? */
    { "3", "?" },
    { "1..3", "?" },
    { "26A-1..26B-3", "?" },
    { "Crib 1, 2", "?" },
    { "26A, 3", "?" },
    { "26A-1..x", "?" },
    { "..", "?" },
  };

  make_many (scene->farm);
  for (guint i = 0; i < G_N_ELEMENTS (typed); i++)
    {
      g_autoptr (GError) error = NULL;
      g_autofree char *said = dup_numbers (scene->farm, typed[i][0], &error);
      if (strcmp (said, typed[i][1]) != 0)
        g_error ("“%s” is %s, not %s: %s", typed[i][0], said, typed[i][1],
                 error ? error->message : "");
      g_assert_true ((error != NULL) == (*said == '?'));
    }
}

static void
assert_refused (BedFarm *farm, const char *text, const char *sentence)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *said = dup_numbers (farm, text, &error);

  g_assert_cmpstr (said, ==, "?");
  g_assert_cmpstr (error->message, ==, sentence);
}

/* What is said names the part, and what would be right. */
static void
test_many_refused (Scene *scene, gconstpointer units)
{
  make_many (scene->farm);
  assert_refused (scene->farm, "26A-1 3 77", "There is no log 26A-77. There are 26A-1 to 12.");
  assert_refused (scene->farm, "Crib 1, 26A-8..13",
                  "There is no log 26A-13. There are 26A-1 to 12.");
  assert_refused (scene->farm, "26A-40", "There is no log 26A-40. There are 26A-1 to 12.");
  assert_refused (scene->farm, "26A-2, Cirb 1",
                  "There is no stack “Cirb 1”. Did you mean “Crib 1”?");
  assert_refused (scene->farm, "26A-1-3",
                  "“26A-1-3” may be log 26A-1 or several. Write 26A-1..3 for several.");
}

/* An own number that two logs have is none. */
static void
test_marks (Scene *scene, gconstpointer units)
{
  g_autoptr (GError) error = NULL;
  BedKind kind;

  make_many (scene->farm);
  g_assert_cmpint (bed_source_find (scene->farm, "40", &kind, &error), !=, 0);
  g_assert_cmpint (kind, ==, BED_KIND_LOG);
  g_assert_cmpint (bed_farm_find (scene->farm, BED_KIND_LOG, " b7 ", &error), !=, 0);
  g_assert_no_error (error);
  g_autoptr (BedRecord) bolt = scene_record (scene->farm, BED_KIND_LOG, "felling", "F26-1",
                                             "length", "100", "small_diameter", "10", "mark", "40",
                                             NULL);
  g_assert_true (bed_edit_put_one (scene->farm, bolt, "A bolt", NULL));
  g_assert_cmpint (bed_source_find (scene->farm, "40", &kind, &error), ==, 0);
  g_assert_nonnull (strstr (error->message, "Several logs have the own number 40"));
  g_assert_nonnull (strstr (error->message, "26A-012-"));
}

/* --- as written by chance ------------------------------------------------------------------- */

/* A part of a list as somebody writes it, and which of the twelve logs it means. */
static void
write_part (GString *text, GArray *wanted, gboolean *follows)
{
  int a = g_test_rand_int_range (1, 13), b = g_test_rand_int_range (1, 13);
  gboolean range = g_test_rand_bit ();
  const char *batch = g_test_rand_bit () ? "26A-" : "26a-";
  const char *form = g_test_rand_bit () ? "%d..%d" : "%d .. %d";

  if (text->len)
    g_string_append (text, g_test_rand_bit () ? ", " : " ");
  if (!*follows || g_test_rand_bit ())
    g_string_append (text, batch);
  if (range)
    g_string_append_printf (text, form, a, b);
  else
    g_string_append_printf (text, g_test_rand_bit () ? "%d" : "%03d", a);
  for (int n = range ? MIN (a, b) : a; n <= (range ? MAX (a, b) : a); n++)
    if (!range || n != 5) /* retired */
      g_array_append_val (wanted, n);
  *follows = TRUE;
}

/* As dup_numbers(): each once. */
static char *
dup_wanted (const GArray *wanted)
{
  gboolean said[13] = { FALSE };
  GString *all = g_string_new (NULL);

  for (guint i = 0; i < wanted->len; i++)
    {
      int n = g_array_index (wanted, int, i);
      if (!said[n])
        g_string_append_printf (all, "%s%d", all->len ? " " : "", n);
      said[n] = TRUE;
    }
  return g_string_free (all, FALSE);
}

static void
test_by_chance (Scene *scene, gconstpointer units)
{
  make_many (scene->farm);
  for (guint i = 0; i < 500; i++)
    {
      g_autoptr (GString) text = g_string_new (NULL);
      g_autoptr (GArray) wanted = g_array_new (FALSE, FALSE, sizeof (int));
      gboolean follows = FALSE;
      for (int part = g_test_rand_int_range (1, 6); part > 0; part--)
        write_part (text, wanted, &follows);
      g_autoptr (GError) error = NULL;
      g_autofree char *said = dup_numbers (scene->farm, text->str, &error);
      g_autofree char *right = dup_wanted (wanted);
      if (strcmp (said, right) != 0)
        g_error ("“%s” is %s, not %s: %s", text->str, said, right, error ? error->message : "");
    }
}

/* --- diameters ------------------------------------------------------------------------------- */

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
  ADD ("many", test_many);
  ADD ("many-refused", test_many_refused);
  ADD ("marks", test_marks);
  ADD ("by-chance", test_by_chance);
  ADD ("diameters", test_diameters);
  ADD ("diameters-refused", test_diameters_refused);
  return g_test_run ();
}
