/* Export through import is the same again, byte for byte. */
#include "model_test.h"

#include <glib/gstdio.h>

#include "model/csv/csv.h"
#include "model/demo/demo.h"
#include "model/farm/csv_read.h"
#include "model/farm/kinds.h"

static const char *const awkward[] = {
  "=1+2\";=1+2",
  "=1+2'\" ;,=1+2",
  "+49",
  "-12",
  "@name",
  "'quoted'",
  "'=x",
  "''=x",
  "'",
  "''",
  "a,b",
  "he said \"x\"",
  "semi;colon",
  "tab\tinside",
  "Ünïcödé ½ 香菇",
  "a'b",
  "\"",
  "\"\"",
  ",",
  "1,5",
  "2026-05-01",
  "NULL",
  "0",
  "#",
  "\\n",
  "a\\\"b",
  "%s%n",
  "ends with \\",
  "=",
  "-",
};

/* Only in notes, which may have several lines. */
static const char *const several_lines[] = {
  "one\ntwo", "one\r\ntwo", "\n=3", "\r\n",   "a\n\nb\n", "\t=tab first",
  "'\n",      "=\n'=",      "a\rb", " edge ", "\n",
};

static char *
random_text (GRand *chance, const char *alphabet, int most)
{
  GString *text = g_string_new (NULL);

  for (int n = g_rand_int_range (chance, 0, most); n > 0; n--)
    g_string_append_c (text, alphabet[g_rand_int_range (chance, 0, strlen (alphabet))]);
  return g_string_free (text, FALSE);
}

/* --- the guard ------------------------------------------------------------------- */

/* Guarded text never begins as a formula does, and comes back. */
static void
test_guard (void)
{
  g_autoptr (GRand) chance = g_rand_new_with_seed (1);

  for (int i = 0; i < 20000; i++)
    {
      g_autofree char *text = random_text (chance, "'=+-@\t\n\ra1 ", 8);
      g_autofree char *guarded = bed_csv_guard (text);
      g_assert_null (*guarded ? strchr ("=+-@\t\r\n", *guarded) : NULL);
      g_assert_cmpstr (bed_csv_unguard (guarded), ==, text);
    }
  /* OWASP, CSV Injection: the field with an apostrophe in front. */
  g_autofree char *guarded = bed_csv_guard ("=1+2\";=1+2");
  g_assert_cmpstr (guarded, ==, "'=1+2\";=1+2");
}

/* --- whole farms ------------------------------------------------------------------- */

static char *
export_text (BedFarm *farm)
{
  g_autofree char *folder = g_dir_make_tmp ("bedlog-XXXXXX", NULL);
  GString *all = g_string_new (NULL);
  g_autoptr (GError) error = NULL;

  g_assert_cmpint (bed_csv_export_all (farm, folder, &error), >, 0);
  g_assert_no_error (error);
  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    {
      g_autofree char *name = g_strconcat (bed_kind_get_info (kind)->name, ".csv", NULL);
      g_autofree char *path = g_build_filename (folder, name, NULL);
      g_autofree char *text = NULL;
      if (g_file_get_contents (path, &text, NULL, NULL))
        g_string_append_printf (all, "%s\n%s", name, text);
      g_unlink (path);
    }
  g_rmdir (folder);
  return g_string_free (all, FALSE);
}

/* Exports @farm, imports that into a new farm of the same units, exports again. */
static void
assert_round_trip (BedFarm *farm, const char *units)
{
  g_autofree char *folder = g_dir_make_tmp ("bedlog-XXXXXX", NULL);
  g_autofree char *path = g_build_filename (folder, "copy.bedlog", NULL);
  g_autofree char *csv = g_build_filename (folder, "csv", NULL);
  g_autoptr (BedRecord) settings = scene_settings (units);
  g_autoptr (GError) error = NULL;
  g_autoptr (BedFarm) copy = bed_farm_new_at (path, settings, "2026-12-31T09:00", 9, &error);
  g_autoptr (GPtrArray) faults = NULL;

  g_assert_no_error (error);
  int written = bed_csv_export_all (farm, csv, &error);
  g_assert_no_error (error);
  int read = bed_csv_import_all (copy, &(BedImport){ .path = csv, .mode = BED_IMPORT_WRITE },
                                 &faults, &error);
  g_assert_no_error (error);
  g_assert_cmpint (read, ==, written);
  g_autofree char *before = export_text (farm), *after = export_text (copy);
  g_assert_cmpstr (before, ==, after);
  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    {
      g_autofree char *name = g_strconcat (bed_kind_get_info (kind)->name, ".csv", NULL);
      g_autofree char *file = g_build_filename (csv, name, NULL);
      g_unlink (file);
    }
  g_rmdir (csv);
  g_unlink (path);
  g_rmdir (folder);
}

static void
add_awkward (BedFarm *farm, const char *text, int number)
{
  gboolean one_line = !strpbrk (text, "\r\n\t") && !g_ascii_isspace (*text) && *text;
  g_autofree char *name = g_strdup_printf ("%s %d", one_line ? text : "x", number);

  scene_add (farm, scene_record (farm, BED_KIND_STAND, "name", name, "notes", text, NULL));
  scene_add (farm, scene_record (farm, BED_KIND_FELLING, "felled_on", "2026-02-01", "stand", name,
                                 "wood", "white oak", "notes", text, NULL));
}

static void
test_awkward_texts (Scene *scene, gconstpointer units)
{
  int n = 0;

  for (gsize i = 0; i < G_N_ELEMENTS (awkward); i++)
    add_awkward (scene->farm, awkward[i], n++);
  for (gsize i = 0; i < G_N_ELEMENTS (several_lines); i++)
    add_awkward (scene->farm, several_lines[i], n++);
  assert_round_trip (scene->farm, units);
}

static void
test_random_texts (Scene *scene, gconstpointer units)
{
  g_autoptr (GRand) chance = g_rand_new_with_seed (42);

  for (int i = 0; i < 150; i++)
    {
      g_autofree char *text = random_text (chance, "=+-@',\"; \t\n\rab\\1", 12);
      add_awkward (scene->farm, text, i);
    }
  assert_round_trip (scene->farm, units);
}

/* What people type in either system comes back from the other side of a CSV. */
static void
test_measures (Scene *scene, gconstpointer units)
{
  static const char *lengths[] = { "7 in", "5 1/4 in", "12.7 cm", "1 ft", "13 1/3 in", "127 mm" };

  scene_batch (scene->farm, 0);
  for (gsize i = 0; i < G_N_ELEMENTS (lengths); i++)
    scene_add (scene->farm, scene_record (scene->farm, BED_KIND_LOG, "felling", "F26-1", "batch",
                                          "26A", "length", "40 in", "small_diameter", lengths[i],
                                          "green_mass", "31 lb 4 oz", NULL));
  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_TEMPERATURE, "measured_on",
                                        "2026-05-01", "least", "-3.5 F", "most", "68.5 F", NULL));
  scene_add (scene->farm,
             scene_record (scene->farm, BED_KIND_PURCHASE, "bought_on", "2026-05-01", "category",
                           "wax", "what", "Refund", "amount", "-12.30", "scope", "overhead", NULL));
  assert_round_trip (scene->farm, units);
}

static void
test_demo_farm (void)
{
  g_autofree char *folder = g_dir_make_tmp ("bedlog-XXXXXX", NULL);
  g_autofree char *path = g_build_filename (folder, "demo.bedlog", NULL);
  BedDemoPlan plan = { .logs = 200, .years = 4, .seed = 11, .today = "2026-06-12" };
  g_autoptr (GError) error = NULL;
  g_autoptr (BedFarm) farm = bed_demo_new (path, &plan, &error);

  g_assert_no_error (error);
  assert_round_trip (farm, "metric");
  g_unlink (path);
  g_rmdir (folder);
}

/* A file of a kind that has no records any more must not bring them back. */
static void
test_emptied_kind (Scene *scene, gconstpointer units)
{
  g_autofree char *csv = g_build_filename (scene->folder, "csv", NULL);
  g_autofree char *path = g_build_filename (csv, "stand.csv", NULL);
  g_autofree char *text = NULL;
  g_autoptr (GError) error = NULL;

  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_STAND, "name", "North", NULL));
  g_assert_cmpint (bed_csv_export_all (scene->farm, csv, &error), >, 0);
  g_assert_true (bed_history_undo (scene->farm, NULL, &error));
  g_assert_cmpint (bed_csv_export_all (scene->farm, csv, &error), >, 0);
  g_assert_no_error (error);
  g_assert_true (g_file_get_contents (path, &text, NULL, NULL));
  g_assert_true (g_str_has_prefix (text, "name,"));
  g_assert_cmpint (strcspn (text, "\r"), ==, strlen (text) - 2);
  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    {
      g_autofree char *name = g_strconcat (bed_kind_get_info (kind)->name, ".csv", NULL);
      g_autofree char *file = g_build_filename (csv, name, NULL);
      g_unlink (file);
    }
  g_rmdir (csv);
}

#define ADD(name, units, function)                                                                 \
  g_test_add ("/csv-round/" name, Scene, units, scene_set_up, function, scene_tear_down)

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/csv-round/guard", test_guard);
  g_test_add_func ("/csv-round/demo-farm", test_demo_farm);
  ADD ("awkward-texts", "metric", test_awkward_texts);
  ADD ("random-texts", "US", test_random_texts);
  ADD ("measures-metric", "metric", test_measures);
  ADD ("measures-us", "US", test_measures);
  ADD ("emptied-kind", "metric", test_emptied_kind);
  return g_test_run ();
}
