#include "../ask.h"

#include "model_test.h"

#include "model/farm/farm_private.h"
#include "model/farm/names.h"
#include "model/season/pattern.h"

#include <glib/gstdio.h>
#include <signal.h>
#include <sqlite3.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

static void
test_new (Scene *scene, gconstpointer units)
{
  g_assert_cmpstr (bed_farm_get_today (scene->farm), ==, "2026-05-12");
  g_assert_cmpint (bed_farm_count (scene->farm, BED_KIND_WOOD), >=, 50);
  g_assert_cmpint (bed_farm_count (scene->farm, BED_KIND_MUSHROOM), >=, 3);
  g_assert_null (bed_farm_get_read_only_why (scene->farm));
  g_assert_cmpint (bed_farm_get_notation (scene->farm)->system, ==, BED_SYSTEM_US);

  g_autoptr (GError) error = NULL;
  g_autoptr (BedRecord) settings = scene_settings ("metric");
  g_assert_null (bed_farm_new (scene->path, settings, &error));
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_EXISTS);
}

/* A settings record that breaks a rule leaves no file behind. */
static void
test_new_refused (void)
{
  g_autofree char *folder = g_dir_make_tmp ("bedlog-XXXXXX", NULL);
  g_autofree char *path = g_build_filename (folder, "x.bedlog", NULL);
  g_autoptr (BedRecord) settings = scene_settings ("metric");
  g_autoptr (GError) error = NULL;

  bed_record_set_text (settings, "currency", "dollars");
  g_assert_null (bed_farm_new (path, settings, &error));
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID);
  g_assert_false (g_file_test (path, G_FILE_TEST_EXISTS));
  g_rmdir (folder);
}

static void
test_find (Scene *scene, gconstpointer units)
{
  g_autoptr (GError) error = NULL;

  g_assert_cmpint (bed_farm_find (scene->farm, BED_KIND_WOOD, "Northern Red Oak", &error), !=, 0);
  g_assert_no_error (error);
  g_assert_cmpint (bed_farm_find (scene->farm, BED_KIND_WOOD, "northen red oka", &error), ==, 0);
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_NOT_FOUND);
  g_assert_nonnull (strstr (error->message, "“northern red oak”"));

  scene_batch (scene->farm, 3);
  g_clear_error (&error);
  gint64 log = bed_farm_find (scene->farm, BED_KIND_LOG, "26a-2", &error);
  g_assert_no_error (error);
  g_autofree char *name = bed_farm_dup_name (scene->farm, BED_KIND_LOG, log);
  g_assert_true (g_str_has_prefix (name, "26A-002-"));
  name[strlen (name) - 1] = name[strlen (name) - 1] == 'A' ? 'B' : 'A';
  g_assert_cmpint (bed_farm_find (scene->farm, BED_KIND_LOG, name, &error), ==, 0);
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID);
}

/* Undo and redo over a restart, with the tables as they were each time. */
static void
test_history (Scene *scene, gconstpointer units)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *start = scene_dump (scene->farm);

  scene_batch (scene->farm, 24);
  g_autofree char *end = scene_dump (scene->farm);
  scene_reopen (scene);
  g_autofree char *undo
      = bed_history_dup_sentence (scene->farm, bed_history_find_undo (scene->farm));
  g_assert_cmpstr (undo, ==, "Inoculated the logs of 26A");

  for (int i = 0; i < 7; i++)
    {
      bed_history_undo (scene->farm, NULL, &error);
      g_assert_no_error (error);
      scene_reopen (scene);
    }
  g_autofree char *back = scene_dump (scene->farm);
  g_assert_cmpstr (back, ==, start);

  for (int i = 0; i < 7; i++)
    g_assert_true (bed_history_redo (scene->farm, NULL, &error));
  g_autofree char *again = scene_dump (scene->farm);
  g_assert_cmpstr (again, ==, end);
  g_assert_false (bed_history_redo (scene->farm, NULL, &error));
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_NOTHING);
}

static void
test_redo_dropped (Scene *scene, gconstpointer units)
{
  g_autoptr (GError) error = NULL;

  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_STAND, "name", "One", NULL));
  g_assert_true (bed_history_undo (scene->farm, NULL, &error));
  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_STAND, "name", "Two", NULL));
  g_assert_null (bed_history_dup_sentence (scene->farm, bed_history_find_redo (scene->farm)));
  g_assert_true (bed_history_undo (scene->farm, NULL, &error));
  g_assert_cmpint (bed_farm_count (scene->farm, BED_KIND_STAND), ==, 0);
}

/* A change that is not the last is put back alone; one that others rest on is not. */
static void
test_put_back (Scene *scene, gconstpointer units)
{
  g_autoptr (GError) error = NULL;

  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_STAND, "name", "Lone", NULL));
  g_autoptr (GPtrArray) list = bed_history_list (scene->farm, 1, NULL);
  gint64 lone = ((BedChange *) list->pdata[0])->id;
  scene_batch (scene->farm, 2);
  g_autoptr (GPtrArray) all = bed_history_list (scene->farm, 0, NULL);
  gint64 slope = ((BedChange *) all->pdata[6])->id;

  g_autofree char *whole = scene_dump (scene->farm);
  g_assert_true (bed_history_try_put_back (scene->farm, lone, &error));
  g_assert_false (bed_history_try_put_back (scene->farm, slope, &error));
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_CONFLICT);
  g_clear_error (&error);
  g_autofree char *tried = scene_dump (scene->farm);
  g_assert_cmpstr (whole, ==, tried);
  g_assert_true (bed_history_put_back (scene->farm, lone, &error));
  g_assert_cmpint (bed_farm_count (scene->farm, BED_KIND_STAND), ==, 1);
  g_autofree char *before = scene_dump (scene->farm);
  g_assert_false (bed_history_put_back (scene->farm, slope, &error));
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_CONFLICT);
  g_autofree char *after = scene_dump (scene->farm);
  g_assert_cmpstr (before, ==, after);
}

static gint64
count_changes (BedFarm *farm, const char *wanted)
{
  g_autofree char *sql = g_strdup_printf (
      "SELECT count (*) FROM change WHERE bed_found (bed_change_words (id), '%s')", wanted);

  return ask_one (farm, sql, 0);
}

/* By the record, by what stood in it before and by what stands there now. */
static void
test_change_words (Scene *scene, gconstpointer units)
{
  scene_batch (scene->farm, 1);
  g_autofree char *log = bed_farm_dup_name (scene->farm, BED_KIND_LOG,
                                            ask_one (scene->farm, "SELECT id FROM log", 0));
  gint64 weighed
      = scene_add (scene->farm, scene_record (scene->farm, BED_KIND_WEIGHING, "weighed_on",
                                              "2026-05-01", "log", log, "mass", "4.5 kg", NULL));
  g_autoptr (BedRecord) weighing = bed_farm_load (scene->farm, BED_KIND_WEIGHING, weighed, NULL);
  bed_value_parse (scene->farm, weighing, "mass", "5.5 kg", NULL);
  scene_add (scene->farm, g_object_ref (weighing));

  g_assert_cmpint (count_changes (scene->farm, "4.5 26A-001"), ==, 1);
  g_assert_cmpint (count_changes (scene->farm, "4.5 5.5"), ==, 1);
}

/* By the name that the list of what a change did has today, also after it was asked once. */
static void
test_change_words_of_today (Scene *scene, gconstpointer units)
{
  gint64 inn = scene_add (scene->farm, scene_record (scene->farm, BED_KIND_BUYER, "name", "Inn",
                                                     "kind", "restaurant", NULL));

  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_SALE, "code", "S26-1", "sold_on",
                                        "2026-05-01", "buyer", "Inn", NULL));
  g_assert_cmpint (count_changes (scene->farm, "S26-1 Inn"), ==, 1);
  g_autoptr (BedRecord) buyer = bed_farm_load (scene->farm, BED_KIND_BUYER, inn, NULL);
  bed_record_set_text (buyer, "name", "Tavern");
  scene_add (scene->farm, g_object_ref (buyer));
  g_assert_cmpint (count_changes (scene->farm, "S26-1 Inn"), ==, 0);
  g_assert_cmpint (count_changes (scene->farm, "S26-1 Tavern"), ==, 1);
}

/* Chance edits: undo all of them and the tables are as at the start; redo, as at the end. */
static void
test_history_property (Scene *scene, gconstpointer units)
{
  g_autoptr (GRand) chance = g_rand_new_with_seed (7);
  g_autoptr (GError) error = NULL;
  g_autofree char *start = scene_dump (scene->farm);
  guint n = 0;

  for (int i = 0; i < 60; i++)
    {
      g_autoptr (BedEdit) edit = bed_edit_new (scene->farm);
      for (int k = g_rand_int_range (chance, 1, 4); k > 0; k--)
        {
          gint64 id = ask_one (scene->farm,
                               "SELECT id FROM stand ORDER BY (id * 7919 + ?1) % 101 LIMIT 1",
                               g_rand_int_range (chance, 0, 100));
          int what = id ? g_rand_int_range (chance, 0, 3) : 0;
          g_autofree char *name = g_strdup_printf ("Stand %d-%d", i, k);
          g_autoptr (BedRecord) record = NULL;
          if (what == 2)
            {
              bed_edit_remove (edit, BED_KIND_STAND, id);
              continue;
            }
          record = what == 0 ? bed_record_new (BED_KIND_STAND)
                             : bed_farm_load (scene->farm, BED_KIND_STAND, id, &error);
          bed_record_set_text (record, "name", name);
          bed_record_set_int (record, "area", g_rand_int_range (chance, 1, 1000));
          bed_edit_put (edit, record);
        }
      bed_edit_commit (edit, "Did something", &error);
      g_assert_no_error (error);
      g_autofree char *sentence
          = bed_history_dup_sentence (scene->farm, bed_history_find_undo (scene->farm));
      n += g_strcmp0 (sentence, "Did something") == 0;
    }
  g_assert_cmpuint (n, >, 0);
  g_autofree char *end = scene_dump (scene->farm);
  guint undone = 0;
  for (;;)
    {
      g_autofree char *sentence
          = bed_history_dup_sentence (scene->farm, bed_history_find_undo (scene->farm));
      if (g_strcmp0 (sentence, "Did something") != 0)
        break;
      g_assert_true (bed_history_undo (scene->farm, NULL, &error));
      undone++;
    }
  g_autofree char *back = scene_dump (scene->farm);
  g_assert_cmpstr (back, ==, start);
  while (undone--)
    g_assert_true (bed_history_redo (scene->farm, NULL, &error));
  g_autofree char *again = scene_dump (scene->farm);
  g_assert_cmpstr (again, ==, end);
}

static void
test_differences (Scene *scene, gconstpointer units)
{
  g_autoptr (GError) error = NULL;
  gint64 id
      = scene_add (scene->farm, scene_record (scene->farm, BED_KIND_STAND, "name", "Ridge", NULL));
  g_autoptr (BedRecord) stand = bed_farm_load (scene->farm, BED_KIND_STAND, id, &error);

  bed_value_parse (scene->farm, stand, "area", "2.5 ha", &error);
  g_assert_no_error (error);
  g_assert_true (bed_edit_put_one (scene->farm, stand, "Measured Ridge", &error));
  g_autoptr (GPtrArray) changes = bed_history_list (scene->farm, 1, NULL);
  BedChange *change = changes->pdata[0];
  g_assert_cmpstr (change->sentence, ==, "Measured Ridge");
  g_assert_cmpstr (change->at, ==, "2026-05-12T09:00");
  g_autoptr (GPtrArray) differences = bed_history_differences (scene->farm, change->id);
  g_assert_cmpuint (differences->len, ==, 1);
  BedDifference *difference = differences->pdata[0];
  g_assert_cmpstr (difference->record, ==, "stand Ridge");
  g_assert_cmpstr (difference->field, ==, "Stand area");
  g_assert_null (difference->from);
  g_assert_cmpstr (difference->to, ==, "2.5 ha");
}

/* What the form of a new farm speaks with: a farm in no file. */
static void
test_draft (Scene *scene, gconstpointer units)
{
  for (int i = 0; i < 2; i++)
    {
      g_autoptr (BedRecord) settings = scene_settings ("metric");
      g_autoptr (GError) error = NULL;
      g_autoptr (BedFarm) draft = bed_farm_new_draft (settings, &error);

      g_assert_no_error (error);
      g_assert_cmpint (bed_farm_count (draft, BED_KIND_WOOD), >, 10);
      scene_add (draft, scene_record (draft, BED_KIND_STAND, "name", "Ridge", NULL));
      g_assert_true (bed_history_undo (draft, NULL, &error));
      /* What was settled there becomes a file's. */
      g_autoptr (BedRecord) settled = bed_record_copy (bed_farm_get_settings (draft));
      g_autofree char *path = g_strdup_printf ("%s/made-%d.bedlog", scene->folder, i);
      bed_record_set_text (settled, "name", "Made");
      g_assert_true (bed_edit_put_one (draft, settled, "Settled", &error));
      g_autoptr (BedFarm) made = bed_farm_new (path, settled, &error);
      g_assert_no_error (error);
      g_assert_cmpstr (bed_record_get_text (bed_farm_get_settings (made), "name"), ==, "Made");
      g_unlink (path);
    }
}

/* --- files that are not what they should be ------------------------------------ */

static void
spoil (Scene *scene, goffset at, const char *bytes, gsize n)
{
  g_autofree char *content = NULL;
  gsize length;

  g_clear_object (&scene->farm);
  g_assert_true (g_file_get_contents (scene->path, &content, &length, NULL));
  memcpy (content + at, bytes, n);
  g_assert_true (g_file_set_contents (scene->path, content, length, NULL));
}

static void
refuses_to_open (Scene *scene, int code)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *before = NULL;
  g_autofree char *after = NULL;
  gsize length = 0, length_after = 0;

  g_clear_object (&scene->farm);
  g_file_get_contents (scene->path, &before, &length, NULL);
  g_autoptr (BedFarm) farm = bed_farm_open (scene->path, &error);
  g_assert_null (farm);
  g_assert_error (error, BED_FARM_ERROR, code);
  g_assert_cmpuint (strlen (error->message), >, 20);
  g_file_get_contents (scene->path, &after, &length_after, NULL);
  g_assert_cmpmem (before, length, after, length_after);
  /* For tear down. */
  g_unlink (scene->path);
  g_autoptr (BedRecord) settings = scene_settings ("metric");
  scene->farm = bed_farm_new (scene->path, settings, NULL);
}

static void
test_not_a_farm (Scene *scene, gconstpointer units)
{
  g_clear_object (&scene->farm);
  g_file_set_contents (scene->path, "dear diary, today I soaked 12 logs", -1, NULL);
  refuses_to_open (scene, BED_FARM_ERROR_NOT_A_FARM);
  spoil (scene, 68, "LOG1", 4);
  refuses_to_open (scene, BED_FARM_ERROR_NOT_A_FARM);
}

static void
test_truncated (Scene *scene, gconstpointer units)
{
  g_autofree char *content = NULL;
  gsize length;

  g_clear_object (&scene->farm);
  g_assert_true (g_file_get_contents (scene->path, &content, &length, NULL));
  g_file_set_contents (scene->path, content, length / 2, NULL);
  refuses_to_open (scene, BED_FARM_ERROR_CORRUPT);
}

/* A file that carries more than Bedlog's tables, such as a trigger, is turned away. */
static void
test_strange_schema (Scene *scene, gconstpointer units)
{
  sqlite3 *db;

  g_clear_object (&scene->farm);
  g_assert_cmpint (sqlite3_open (scene->path, &db), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_exec (db,
                                 "CREATE TRIGGER sly AFTER INSERT ON log"
                                 " BEGIN DELETE FROM pick; END",
                                 NULL, NULL, NULL),
                   ==, SQLITE_OK);
  sqlite3_close (db);
  refuses_to_open (scene, BED_FARM_ERROR_NOT_A_FARM);
}

/* A page in the middle overwritten: found at opening. */
static void
test_damaged (Scene *scene, gconstpointer units)
{
  char noise[4096];

  memset (noise, 0x5a, sizeof noise);
  spoil (scene, 4096, noise, sizeof noise);
  refuses_to_open (scene, BED_FARM_ERROR_CORRUPT);
}

/* A newer file opens for reading only and says why. */
static void
test_newer (Scene *scene, gconstpointer units)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BedRecord) stand = bed_record_new (BED_KIND_STAND);

  spoil (scene, 60, "\0\0\0\x63", 4);
  scene->farm = bed_farm_open (scene->path, &error);
  g_assert_no_error (error);
  g_assert_nonnull (strstr (bed_farm_get_read_only_why (scene->farm), "newer"));
  bed_record_set_text (stand, "name", "Ridge");
  g_assert_false (bed_edit_put_one (scene->farm, stand, "Added a stand", &error));
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_READ_ONLY);
}

/* A file of the first version is stepped up and a copy of it kept; test_versions.c does the rest.
 */
static void
test_older (Scene *scene, gconstpointer units)
{
  g_autofree char *kept = g_build_filename (scene->folder, "farm backups", NULL);
  g_autoptr (GError) error = NULL;

  g_clear_object (&scene->farm);
  scene_lay_kept (scene->path, 1);
  scene->farm = bed_farm_open (scene->path, &error);
  g_assert_no_error (error);
  bed_farm_fix_clock (scene->farm, "2026-11-21T10:00", 1);
  g_assert_null (bed_farm_get_read_only_why (scene->farm));
  g_autoptr (GDir) folder = g_dir_open (kept, 0, NULL);
  g_assert_nonnull (folder);
  const char *name = g_dir_read_name (folder);
  g_assert_nonnull (strstr (name, "schema 1"));
  g_autoptr (BedRecord) settings = bed_record_copy (bed_farm_get_settings (scene->farm));
  bed_record_set_int (settings, "drill_pace", 12);
  g_assert_true (bed_edit_put_one (scene->farm, settings, "Measured the drill", &error));
  g_autofree char *file = g_build_filename (kept, name, NULL);
  g_unlink (file);
  g_rmdir (kept);
}

/* The farm's own pace in place of common practice, in the units the arithmetic takes. */
static void
test_norms (Scene *scene, gconstpointer units)
{
  g_autoptr (BedRecord) settings = bed_record_copy (bed_farm_get_settings (scene->farm));
  BedDrillNorms norms, usual;

  bed_drill_norms_init (&usual);
  g_assert_cmpint (bed_pattern_read_norms (settings, &norms), ==, BED_DRILL_GRINDER);
  g_assert_cmpmem (&norms, sizeof norms, &usual, sizeof usual);
  bed_record_set_text (settings, "drill_tool", "drill");
  bed_record_set_int (settings, "wax_pace", 4);
  bed_record_set_int (settings, "wax_holes", 50000);
  g_assert_cmpint (bed_pattern_read_norms (settings, &norms), ==, BED_DRILL_HAND);
  g_assert_cmpfloat (norms.wax_minutes_per_hole, ==, 0.25);
  g_assert_cmpfloat (norms.wax_g_per_hole, ==, 0.5);
  g_assert_cmpfloat (norms.minutes_per_log, ==, usual.minutes_per_log);
}

static void
test_read_only (Scene *scene, gconstpointer units)
{
  g_autoptr (GError) error = NULL;

  g_clear_object (&scene->farm);
  g_chmod (scene->path, 0444);
  scene->farm = bed_farm_open (scene->path, &error);
  g_assert_no_error (error);
  g_assert_nonnull (bed_farm_get_read_only_why (scene->farm));
  g_assert_false (bed_history_undo (scene->farm, NULL, &error));
  g_assert_nonnull (error);
}

/* Another program holds the file: a sentence, and the same edit goes in afterwards. */
static void
test_locked (Scene *scene, gconstpointer units)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BedFarm) other = bed_farm_open (scene->path, &error);
  g_autoptr (BedRecord) stand = bed_record_new (BED_KIND_STAND);
  g_autoptr (BedQuery) held = bed_query_new (other, "SELECT id FROM wood");

  g_assert_no_error (error);
  /* A reader in the middle of its rows keeps the writer out. */
  g_assert_true (bed_query_next (held));
  bed_record_set_text (stand, "name", "Ridge");
  g_assert_false (bed_edit_put_one (scene->farm, stand, "Added a stand", &error));
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_BUSY);
  g_clear_error (&error);
  g_assert_true (bed_query_finish (held, NULL));
  g_assert_true (bed_edit_put_one (scene->farm, stand, "Added a stand", &error));
  g_assert_no_error (error);
}

/* Writes stands until it is killed; a byte to @tell after each. */
static void
write_for_ever (const char *path, int tell)
{
  g_autoptr (BedFarm) farm = bed_farm_open (path, NULL);

  for (int i = 0;; i++)
    {
      g_autoptr (BedRecord) stand = bed_record_new (BED_KIND_STAND);
      g_autofree char *name = g_strdup_printf ("Stand %d of %d", i, (int) getpid ());
      bed_record_set_text (stand, "name", name);
      bed_edit_put_one (farm, stand, "Added a stand", NULL);
      if (write (tell, ".", 1) != 1)
        _exit (1);
    }
}

/* Killed at any moment, the farm is sound, and every stand has its change and every change
 * its stand. */
static void
test_killed (Scene *scene, gconstpointer units)
{
  gint64 before = 0;

  for (int round = 0; round < 8; round++)
    {
      int ends[2];
      char byte;
      g_clear_object (&scene->farm);
      g_assert_cmpint (pipe (ends), ==, 0);
      pid_t child = fork ();
      if (child == 0)
        write_for_ever (scene->path, ends[1]);
      /* It is writing now; kill it somewhere in the next edits. */
      g_assert_cmpint (read (ends[0], &byte, 1), ==, 1);
      g_usleep (3000 + 1700 * round);
      kill (child, SIGKILL);
      close (ends[0]);
      close (ends[1]);
      waitpid (child, NULL, 0);
      scene_reopen (scene);
      gint64 stands = bed_farm_count (scene->farm, BED_KIND_STAND);
      g_assert_cmpint (stands, ==,
                       ask_one (scene->farm,
                                "SELECT count (*) FROM change WHERE sentence = 'Added a stand'",
                                0));
      g_assert_cmpint (stands, >=, before);
      before = stands;
    }
  g_assert_cmpint (before, >, 0);
}

/* Every view answers on an empty and on a lived-in farm. */
static void
test_views (Scene *scene, gconstpointer units)
{
  for (int round = 0; round < 2; round++)
    {
      g_autoptr (BedQuery) views
          = bed_query_new (scene->farm, "SELECT name FROM temp.sqlite_schema WHERE type = 'view'");
      guint n = 0;
      while (bed_query_next (views))
        {
          g_autofree char *sql = g_strdup_printf ("SELECT * FROM %s", bed_query_text (views, 0));
          g_autoptr (BedQuery) q = bed_query_new (scene->farm, sql);
          g_autoptr (GError) error = NULL;
          while (bed_query_next (q))
            ;
          g_assert_true (bed_query_finish (q, &error));
          g_assert_no_error (error);
          n++;
        }
      g_assert_cmpuint (n, >, 10);
      if (round == 0)
        scene_batch (scene->farm, 5);
    }
}

/* Many different texts: those kept stay within bounds, one that is running stays, and all of
 * them answer right however often they come back. */
static void
test_statements (Scene *scene, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  sqlite3_stmt *running
      = bed_farm_statement (scene->farm, "SELECT 1 UNION ALL SELECT 2 UNION ALL SELECT 3", &error);

  g_assert_no_error (error);
  g_assert_cmpint (bed_farm_step (scene->farm, running), ==, SQLITE_ROW);
  for (int i = 0; i < 3 * BED_STATEMENTS_MOST; i++)
    {
      int n = i % (2 * BED_STATEMENTS_MOST);
      g_autofree char *sql = g_strdup_printf ("SELECT ?1 + %d", n);
      sqlite3_stmt *stmt = bed_farm_statement (scene->farm, sql, &error);

      g_assert_no_error (error);
      sqlite3_bind_int (stmt, 1, 7);
      g_assert_cmpint (bed_farm_step (scene->farm, stmt), ==, SQLITE_ROW);
      g_assert_cmpint (sqlite3_column_int (stmt, 0), ==, 7 + n);
      sqlite3_reset (stmt);
      g_assert_cmpuint (bed_statements_count (bed_farm_get_statements (scene->farm)), <=,
                        BED_STATEMENTS_MOST);
    }
  g_assert_cmpint (sqlite3_column_int (running, 0), ==, 1);
  g_assert_cmpint (bed_farm_step (scene->farm, running), ==, SQLITE_ROW);
  g_assert_cmpint (sqlite3_column_int (running, 0), ==, 2);
  sqlite3_reset (running);
  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_STAND, "name", "After", NULL));
  g_assert_true (bed_history_undo (scene->farm, NULL, &error));
}

/* What ends a transaction is there when there is no memory to prepare it. */
static void
test_statements_kept (Scene *scene, gconstpointer data)
{
  BedStatements *statements = bed_farm_get_statements (scene->farm);
  sqlite3_stmt *rollback = bed_statements_get (statements, "ROLLBACK");
  guint before = 0;

  for (int i = 0; i < 2 * BED_STATEMENTS_MOST; i++)
    {
      g_autofree char *sql = g_strdup_printf ("SELECT %d", i);
      before = bed_statements_count (statements);
      g_assert_nonnull (bed_statements_get (statements, sql));
    }
  g_assert_cmpuint (before, ==, BED_STATEMENTS_MOST);
  g_assert_true (bed_statements_get (statements, "ROLLBACK") == rollback);
  g_assert_cmpuint (bed_statements_count (statements), ==, before);
}

/* With ever more memory to spare than none, until there is enough. */
static void
test_undo_without_memory (Scene *scene, gconstpointer units)
{
  gboolean done = FALSE;

  scene_batch (scene->farm, 300);
  for (gint64 spare = 0; !done && spare < 4096 * 1024; spare = spare * 5 / 4 + 512)
    {
      g_autoptr (GError) error = NULL;
      sqlite3_hard_heap_limit64 (sqlite3_memory_used () + spare);
      done = bed_history_undo (scene->farm, NULL, &error);
      sqlite3_hard_heap_limit64 (0);
      g_assert_true (done || error);
      g_assert_cmpint (bed_farm_count (scene->farm, BED_KIND_LOG), ==, done ? 0 : 300);
    }
  g_assert_true (done);
}

/* What one change may hold: SQLite's limit is drawn in so far that a note is too long for it. */
static void
test_too_much_at_once (Scene *scene, gconstpointer units)
{
  g_autofree char *long_note = g_strnfill (3000, 'n');
  g_autoptr (BedRecord) stand
      = scene_record (scene->farm, BED_KIND_STAND, "name", "First", "notes", long_note, NULL);
  g_autoptr (GError) error = NULL;

  sqlite3_limit (bed_farm_get_db (scene->farm), SQLITE_LIMIT_LENGTH, 2000);
  g_assert_false (bed_edit_put_one (scene->farm, stand, "Stand First", &error));
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID);
  g_assert_nonnull (strstr (error->message, "too much at once"));
  g_assert_cmpint (bed_farm_count (scene->farm, BED_KIND_STAND), ==, 0);
}

#define ADD(path, test) g_test_add (path, Scene, NULL, scene_set_up, test, scene_tear_down)

static gpointer
open_twin (gpointer data)
{
  return bed_farm_twin_open (data, NULL);
}

/* In a thread it is the same day as outside, and the same person works. */
static void
test_twin (Scene *scene, gconstpointer units)
{
  BedFarmTwin *like = bed_farm_twin_new (scene->farm);
  g_autoptr (BedFarm) twin = g_thread_join (g_thread_new ("twin", open_twin, like));
  g_autoptr (BedQuery) who
      = bed_query_new (scene->farm, "SELECT who, at FROM change ORDER BY id DESC LIMIT 1");
  g_autoptr (BedFarm) plain = bed_farm_open (scene->path, NULL);
  BedFarmTwin *like_plain = bed_farm_twin_new (plain);
  g_autoptr (BedFarm) plain_twin = bed_farm_twin_open (like_plain, NULL);

  g_assert_true (BED_IS_FARM (twin) && twin != scene->farm);
  g_assert_cmpstr (bed_farm_get_now (twin), ==, bed_farm_get_now (scene->farm));
  g_assert_cmpstr (bed_farm_get_path (twin), ==, scene->path);
  scene_add (twin, scene_record (twin, BED_KIND_AREA, "name", "Far end", NULL));
  g_assert_true (bed_query_next (who));
  g_assert_cmpstr (bed_query_text (who, 0), ==, "Bedlog");
  g_assert_true (g_str_has_prefix (bed_query_text (who, 1), bed_farm_get_today (scene->farm)));
  g_assert_cmpstr (bed_farm_get_today (plain_twin), ==, bed_farm_get_today (plain));
  g_assert_cmpstr (bed_farm_get_today (plain_twin), !=, bed_farm_get_today (twin));
  bed_farm_twin_free (like);
  bed_farm_twin_free (like_plain);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add ("/farm/new", Scene, "US", scene_set_up, test_new, scene_tear_down);
  g_test_add_func ("/farm/new-refused", test_new_refused);
  ADD ("/farm/find", test_find);
  ADD ("/farm/history", test_history);
  ADD ("/farm/history-property", test_history_property);
  ADD ("/farm/redo-dropped", test_redo_dropped);
  ADD ("/farm/put-back", test_put_back);
  ADD ("/farm/change-words", test_change_words);
  ADD ("/farm/change-words-of-today", test_change_words_of_today);
  ADD ("/farm/differences", test_differences);
  ADD ("/farm/not-a-farm", test_not_a_farm);
  ADD ("/farm/truncated", test_truncated);
  ADD ("/farm/strange-schema", test_strange_schema);
  ADD ("/farm/damaged", test_damaged);
  ADD ("/farm/newer", test_newer);
  ADD ("/farm/older", test_older);
  ADD ("/farm/undo-without-memory", test_undo_without_memory);
  ADD ("/farm/too-much-at-once", test_too_much_at_once);
  ADD ("/farm/norms", test_norms);
  ADD ("/farm/read-only", test_read_only);
  ADD ("/farm/locked", test_locked);
  ADD ("/farm/killed", test_killed);
  ADD ("/farm/statements", test_statements);
  ADD ("/farm/statements-kept", test_statements_kept);
  ADD ("/farm/draft", test_draft);
  ADD ("/farm/twin", test_twin);
  ADD ("/farm/views", test_views);
  return g_test_run ();
}
