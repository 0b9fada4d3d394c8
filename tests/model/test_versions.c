/* Farms as earlier versions wrote them: stepped up, sound, taken back to their beginning and done
 * again, exported and read in. The newest is written by this version just before. */
#include <glib/gstdio.h>

#include "model/check/check.h"
#include "model/csv/csv.h"
#include "model/farm/farm_private.h"
#include "model_test.h"

typedef struct
{
  char *folder;
  char *path;
  BedFarm *farm;
} Kept;

static char *writer; /* the program tests/farms/write_farm.c */

/* Version 0: as this program writes it. */
static void
lay (Kept *kept, int version)
{
  g_autoptr (GError) error = NULL;

  kept->folder = g_dir_make_tmp ("bedlog-XXXXXX", NULL);
  kept->path = g_build_filename (kept->folder, "farm.bedlog", NULL);
  if (version)
    scene_lay_kept (kept->path, version);
  else
    g_spawn_sync (NULL, (char *[]){ writer, kept->path, NULL }, NULL, G_SPAWN_DEFAULT, NULL, NULL,
                  NULL, NULL, NULL, &error);
  g_assert_no_error (error);
  kept->farm = bed_farm_open (kept->path, &error);
  g_assert_no_error (error);
  g_assert_null (bed_farm_get_read_only_why (kept->farm));
  bed_farm_fix_clock (kept->farm, "2026-11-21T10:00", 7);
}

static void
remove_all (const char *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;

  while ((name = g_dir_read_name (dir)))
    {
      g_autofree char *path = g_build_filename (folder, name, NULL);
      if (g_file_test (path, G_FILE_TEST_IS_DIR))
        remove_all (path);
      else
        g_unlink (path);
    }
  g_rmdir (folder);
}

static void
clear (Kept *kept)
{
  g_clear_object (&kept->farm);
  remove_all (kept->folder);
  g_free (kept->folder);
  g_free (kept->path);
}

/* The demo farms of schema 1 and 2 have one minor unit on what was given away. */
#define PRICED_GIFTS(version) ((version) == 1 || (version) == 2 ? 5 : 0)

/* But for those, which are listed. */
static void
assert_sound (BedFarm *farm, int version)
{
  guint gifts = 0;
  g_autoptr (GError) error = NULL;
  g_autoptr (BedCheckup) checkup = bed_check_farm (farm, BED_CHECK_ALL, NULL, &error);

  g_assert_no_error (error);
  for (guint part = 0; part < BED_N_CHECKS; part++)
    for (guint i = 0; i < checkup->faults[part]->len; i++)
      {
        const BedFault *fault = checkup->faults[part]->pdata[i];
        if (fault->severity != BED_FAULT_ERROR)
          continue;
        if (!strstr (fault->message, "not sold"))
          g_error ("%s", fault->message);
        gifts++;
      }
  g_assert_cmpuint (gifts, ==, PRICED_GIFTS (version));
}

static void
test_steps_up (gconstpointer version)
{
  Kept kept;

  lay (&kept, GPOINTER_TO_INT (version));
  g_assert_cmpint (bed_db_ask (bed_farm_get_db (kept.farm), "PRAGMA user_version"), ==,
                   bed_schema_get_newest ());
  g_assert_cmpstr (bed_record_get_text (bed_farm_get_settings (kept.farm), "name"), ==,
                   "Kept from before");
  g_assert_cmpint (bed_farm_count (kept.farm, BED_KIND_LOG), ==, 12);
  assert_sound (kept.farm, GPOINTER_TO_INT (version));
  clear (&kept);
}

static guint
take_back_all (BedFarm *farm)
{
  g_autoptr (GError) error = NULL;
  guint n = 0;

  while (bed_history_undo (farm, NULL, &error))
    n++;
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_NOTHING);
  return n;
}

/* Across the step: what was written with fewer columns is taken back from a table of more. */
static void
test_undone_across (gconstpointer version)
{
  Kept kept;

  lay (&kept, GPOINTER_TO_INT (version));
  g_autofree char *before = scene_dump (kept.farm);
  g_autoptr (BedRecord) settings = bed_record_copy (bed_farm_get_settings (kept.farm));
  bed_record_set_text (settings, "name", "Named today");
  g_assert_true (bed_edit_put_one (kept.farm, settings, "Renamed the farm", NULL));
  guint n = take_back_all (kept.farm);
  g_assert_cmpuint (n, >, 100);
  g_assert_cmpint (bed_farm_count (kept.farm, BED_KIND_LOG), ==, 0);
  for (guint i = 0; i < n - 1; i++)
    g_assert_true (bed_history_redo (kept.farm, NULL, NULL));
  g_autofree char *after = scene_dump (kept.farm);
  g_assert_cmpstr (before, ==, after);
  clear (&kept);
}

/* The history says of each field what it was and became, by the name of its column. */
static void
test_told (gconstpointer version)
{
  Kept kept;

  lay (&kept, GPOINTER_TO_INT (version));
  gint64 newest = bed_history_find_undo (kept.farm);
  g_autoptr (GPtrArray) differences = bed_history_differences (kept.farm, newest);
  g_assert_cmpuint (differences->len, ==, 1);
  const BedDifference *one = differences->pdata[0];
  g_assert_cmpstr (one->field, ==, "Farm");
  g_assert_cmpstr (one->to, ==, "Kept from before");
  clear (&kept);
}

static char *
dup_folder (Kept *kept, const char *name)
{
  return g_build_filename (kept->folder, name, NULL);
}

/* A farm made today has woods that were not given when the other was made: they stand as in any new
 * farm, and beside them what the other has and nothing else. */
static void
assert_woods_added (const char *text, const char *wanted, const char *given)
{
  g_auto (GStrv) lines = g_strsplit (text, "\r\n", -1), had = g_strsplit (wanted, "\r\n", -1);
  g_auto (GStrv) all = g_strsplit (given, "\r\n", -1);
  guint kept = 0;

  for (guint i = 0; lines[i]; i++)
    if (g_strv_contains ((const char *const *) had, lines[i]))
      kept++;
    else if (!g_strv_contains ((const char *const *) all, lines[i]))
      g_error ("neither had nor given: %s", lines[i]);
  g_assert_cmpuint (kept, ==, g_strv_length (had));
}

static void
assert_same_files (const char *one, const char *other, const char *given)
{
  g_autoptr (GDir) dir = g_dir_open (one, 0, NULL);
  const char *name;
  guint n = 0;

  while ((name = g_dir_read_name (dir)))
    {
      g_autofree char *first = g_build_filename (one, name, NULL);
      g_autofree char *second = g_build_filename (other, name, NULL);
      g_autofree char *wanted = NULL, *found = NULL;
      g_assert_true (g_file_get_contents (first, &wanted, NULL, NULL));
      g_assert_true (g_file_get_contents (second, &found, NULL, NULL));
      if (strcmp (name, "wood.csv") == 0)
        assert_woods_added (found, wanted, given);
      else
        g_assert_cmpstr (wanted, ==, found);
      n++;
    }
  g_assert_cmpuint (n, >, 20);
}

/* What the check lists is mended as a grower would, line by line. */
static void
take_gifts_prices (BedFarm *farm, int version)
{
  g_autoptr (BedQuery) q
      = bed_query_new (farm, "SELECT id FROM line WHERE use <> 'sold' AND price > 0 ORDER BY id");
  g_autoptr (GArray) ids = g_array_new (FALSE, FALSE, sizeof (gint64));
  g_autoptr (GError) error = NULL;

  while (bed_query_next (q))
    {
      gint64 id = bed_query_int (q, 0);
      g_array_append_val (ids, id);
    }
  g_assert_cmpuint (ids->len, ==, PRICED_GIFTS (version));
  for (guint i = 0; i < ids->len; i++)
    {
      g_autoptr (BedRecord) line
          = bed_farm_load (farm, BED_KIND_LINE, g_array_index (ids, gint64, i), &error);

      bed_record_unset (line, "price");
      bed_edit_put_one (farm, line, "Took a price away", &error);
      g_assert_no_error (error);
    }
}

static void
test_exported (gconstpointer version)
{
  Kept kept;
  g_autoptr (GError) error = NULL;

  lay (&kept, GPOINTER_TO_INT (version));
  g_autofree char *out = dup_folder (&kept, "out"), *again = dup_folder (&kept, "again");
  g_autofree char *fresh = dup_folder (&kept, "fresh"), *path = dup_folder (&kept, "read.bedlog");
  take_gifts_prices (kept.farm, GPOINTER_TO_INT (version));
  g_assert_cmpint (bed_csv_export_all (kept.farm, out, &error), >, 0);
  g_assert_no_error (error);
  g_autoptr (BedRecord) settings = scene_settings ("metric");
  g_autoptr (BedFarm) read = bed_farm_new (path, settings, &error);
  g_assert_no_error (error);
  g_assert_cmpint (bed_csv_export_all (read, fresh, &error), >, 0);
  g_autofree char *woods = g_build_filename (fresh, "wood.csv", NULL), *given = NULL;
  g_assert_true (g_file_get_contents (woods, &given, NULL, NULL));
  g_autoptr (GPtrArray) faults = NULL;
  bed_farm_fix_clock (read, "2026-11-21T10:00", 7);
  g_assert_cmpint (bed_csv_import_all (read, &(BedImport){ .path = out, .mode = BED_IMPORT_WRITE },
                                       &faults, &error),
                   >, 0);
  g_assert_no_error (error);
  g_assert_cmpint (bed_csv_export_all (read, again, &error), >, 0);
  assert_same_files (out, again, given);
  g_clear_object (&read);
  clear (&kept);
}

static void
add (const char *what, int version, GTestDataFunc function)
{
  g_autofree char *name = g_strdup_printf ("/versions/%d/%s", version, what);

  g_test_add_data_func (name, GINT_TO_POINTER (version), function);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_assert_cmpint (argc, ==, 2);
  writer = argv[1];
  for (int version = 0; version <= bed_schema_get_newest (); version++)
    {
      add ("steps-up", version, test_steps_up);
      add ("undone-across", version, test_undone_across);
      add ("told", version, test_told);
      add ("exported", version, test_exported);
    }
  return g_test_run ();
}
