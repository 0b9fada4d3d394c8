#include "model_test.h"

#include <glib/gstdio.h>
#include <signal.h>
#include <sys/resource.h>
#include <time.h>
#include <utime.h>

#include "model/backup_private.h"
#include "model/check.h"
#include "model/farm_private.h"

static char *
backups_folder (Scene *scene)
{
  return g_build_filename (scene->folder, "farm backups", NULL);
}

static void
clear_backups (Scene *scene)
{
  g_autofree char *folder = backups_folder (scene);
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;

  while (dir && (name = g_dir_read_name (dir)))
    {
      g_autofree char *path = g_build_filename (folder, name, NULL);
      g_unlink (path);
    }
  g_rmdir (folder);
}

static guint
count_files (const char *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  guint n = 0;

  while (dir && g_dir_read_name (dir))
    n++;
  return n;
}

static char *
dump_of (const char *path)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BedFarm) farm = bed_farm_open (path, &error);

  g_assert_no_error (error);
  return scene_dump (farm);
}

/* --- copies ------------------------------------------------------------------------ */

static void
test_copy_is_the_farm (Scene *scene, gconstpointer units)
{
  g_autofree char *path = g_build_filename (scene->folder, "copy.bedlog", NULL);
  g_autoptr (GError) error = NULL;

  scene_batch (scene->farm, 3);
  g_assert_true (bed_backup_write (scene->farm, path, &error));
  g_assert_no_error (error);
  g_autofree char *farm = scene_dump (scene->farm), *copy = dump_of (path);
  g_assert_cmpstr (farm, ==, copy);

  g_assert_false (bed_backup_write (scene->farm, path, &error));
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_EXISTS);
  g_unlink (path);
}

static void
test_no_room_leaves_nothing (Scene *scene, gconstpointer units)
{
  g_autofree char *path = g_build_filename (scene->folder, "copy.bedlog", NULL);
  g_autofree char *part = g_strconcat (path, ".part", NULL);
  struct rlimit old, tight;
  g_autoptr (GError) error = NULL;

  getrlimit (RLIMIT_FSIZE, &old);
  tight = (struct rlimit){ 16384, old.rlim_max };
  signal (SIGXFSZ, SIG_IGN);
  setrlimit (RLIMIT_FSIZE, &tight);
  gboolean done = bed_backup_write (scene->farm, path, &error);
  setrlimit (RLIMIT_FSIZE, &old);
  g_assert_false (done);
  g_assert_nonnull (error);
  g_assert_false (g_file_test (path, G_FILE_TEST_EXISTS));
  g_assert_false (g_file_test (part, G_FILE_TEST_EXISTS));
}

static void
test_once_a_day (Scene *scene, gconstpointer units)
{
  g_autofree char *folder = backups_folder (scene);
  g_autofree char *path = NULL, *again = NULL;
  g_autoptr (GError) error = NULL;

  g_assert_true (bed_backup_daily (scene->farm, &path, &error));
  g_assert_nonnull (path);
  g_assert_true (g_str_has_suffix (path, "farm backups/farm 2026-05-12.bedlog"));
  g_assert_true (bed_backup_daily (scene->farm, &again, &error));
  g_assert_null (again);
  g_assert_cmpuint (count_files (folder), ==, 1);
  /* The day after there is need for one only when the farm was written to since. */
  g_autofree char *yesterday = g_build_filename (folder, "farm 2026-05-11.bedlog", NULL);
  g_assert_cmpint (g_rename (path, yesterday), ==, 0);
  struct utimbuf later = { time (NULL) + 60, time (NULL) + 60 };
  g_assert_cmpint (g_utime (yesterday, &later), ==, 0);
  g_assert_true (bed_backup_daily (scene->farm, &again, &error));
  g_assert_null (again);
  struct utimbuf long_ago = { 1000000000, 1000000000 };
  g_assert_cmpint (g_utime (yesterday, &long_ago), ==, 0);
  g_assert_true (bed_backup_daily (scene->farm, &again, &error));
  g_assert_nonnull (again);
  g_assert_cmpuint (count_files (folder), ==, 2);
  g_assert_no_error (error);
  clear_backups (scene);
}

static void
touch (Scene *scene, const char *name)
{
  g_autofree char *folder = backups_folder (scene);
  g_autofree char *path = g_build_filename (folder, name, NULL);

  g_mkdir_with_parents (folder, 0777);
  g_assert_true (g_file_set_contents (path, "x", 1, NULL));
}

static gboolean
is_there (Scene *scene, const char *name)
{
  g_autofree char *folder = backups_folder (scene);
  g_autofree char *path = g_build_filename (folder, name, NULL);

  return g_file_test (path, G_FILE_TEST_EXISTS);
}

/* Only what we named ourselves is ever removed. */
static void
test_pruning (Scene *scene, gconstpointer units)
{
  static const char *others[] = { "farm old.bedlog", "farm 2020-01-01.bedlog.txt",
                                  "barn 2020-01-01.bedlog", "farm schema 1.bedlog", "notes.txt" };
  g_autoptr (GError) error = NULL;

  touch (scene, "farm 2020-01-01.bedlog");
  for (gsize i = 0; i < G_N_ELEMENTS (others); i++)
    touch (scene, others[i]);
  /* The farm must look newer than the copy of long ago. */
  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_STAND, "name", "North", NULL));
  g_assert_true (bed_backup_daily (scene->farm, NULL, &error));
  g_assert_no_error (error);
  g_assert_false (is_there (scene, "farm 2020-01-01.bedlog"));
  g_assert_true (is_there (scene, "farm 2026-05-12.bedlog"));
  for (gsize i = 0; i < G_N_ELEMENTS (others); i++)
    g_assert_true (is_there (scene, others[i]));
  clear_backups (scene);
}

/* A copy every day for two years: never more than 7 days, 5 weeks and 13 months have one,
 * all of the last week do, and none is older than the months reach. */
static void
test_keeping (void)
{
  g_auto (GStrv) kept = g_new0 (char *, 1);

  for (int day = 0; day < 730; day++)
    {
      g_autofree char *today = bed_date_add ("2025-01-01", day);
      g_autoptr (GPtrArray) dates = g_ptr_array_new ();
      for (char **date = kept; *date; date++)
        g_ptr_array_add (dates, *date);
      g_ptr_array_add (dates, today);
      g_ptr_array_add (dates, NULL);
      char **next = bed_backup_keep ((const char *const *) dates->pdata, today);
      g_strfreev (kept);
      kept = next;
      guint n = g_strv_length (kept);
      g_assert_cmpuint (n, <=, 7 + 5 + 13);
      g_assert_cmpstr (kept[0], ==, today);
      for (int back = 0; back < MIN (7, day + 1); back++)
        {
          g_autofree char *date = bed_date_add (today, -back);
          g_assert_true (g_strv_contains ((const char *const *) kept, date));
        }
      g_assert_cmpint (bed_date_days (kept[n - 1], today), <, 7 + 28 + 365);
    }
  /* It is no use to keep only last week's: something of months ago is there as well. */
  g_assert_cmpint (bed_date_days (kept[g_strv_length (kept) - 1], kept[0]), >, 360);
}

static void
test_before_migration (Scene *scene, gconstpointer units)
{
  g_autofree char *folder = backups_folder (scene);
  g_autofree char *path = g_build_filename (folder, "farm schema 1.bedlog", NULL);
  g_autoptr (GError) error = NULL;

  g_assert_true (
      bed_backup_before_migration (bed_farm_get_db (scene->farm), scene->path, 1, &error));
  g_assert_no_error (error);
  g_autofree char *farm = scene_dump (scene->farm), *copy = dump_of (path);
  g_assert_cmpstr (farm, ==, copy);
  clear_backups (scene);
}

/* --- check ------------------------------------------------------------------------- */

static void
test_check_finds_nothing (Scene *scene, gconstpointer units)
{
  g_autoptr (GError) error = NULL;

  scene_batch (scene->farm, 3);
  g_autoptr (GPtrArray) faults = bed_check_farm (scene->farm, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (faults->len, ==, 0);
}

/* A farm that another program wrote into behind Bedlog's back. */
static void
test_check_finds_what_is_wrong (Scene *scene, gconstpointer units)
{
  g_autoptr (GError) error = NULL;
  gboolean colour = FALSE, order = FALSE, nowhere = FALSE;

  scene_batch (scene->farm, 2);
  g_assert_cmpint (
      sqlite3_exec (bed_farm_get_db (scene->farm),
                    "PRAGMA foreign_keys = OFF;"
                    "UPDATE batch SET method = 'purple';"
                    "UPDATE felling SET felled_on = '2026-04-01';"
                    "UPDATE log SET felling = 77 WHERE code LIKE '26A-002%'",
                    NULL, NULL, NULL),
      ==, SQLITE_OK);
  g_autoptr (GPtrArray) faults = bed_check_farm (scene->farm, &error);
  g_assert_no_error (error);
  for (guint i = 0; i < faults->len; i++)
    {
      const BedFault *fault = faults->pdata[i];
      colour |= strstr (fault->message, "purple") != NULL;
      order |= strstr (fault->message, "before felling") && fault->severity == BED_FAULT_ERROR;
      nowhere |= strstr (fault->message, "not there") != NULL;
    }
  g_assert_true (colour);
  g_assert_true (order);
  g_assert_true (nowhere);
}

#define ADD(name, function)                                                                     \
  g_test_add ("/backup/" name, Scene, "metric", scene_set_up, function, scene_tear_down)

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  ADD ("copy-is-the-farm", test_copy_is_the_farm);
  ADD ("no-room-leaves-nothing", test_no_room_leaves_nothing);
  ADD ("once-a-day", test_once_a_day);
  ADD ("pruning", test_pruning);
  g_test_add_func ("/backup/keeping", test_keeping);
  ADD ("before-migration", test_before_migration);
  ADD ("check-finds-nothing", test_check_finds_nothing);
  ADD ("check-finds-what-is-wrong", test_check_finds_what_is_wrong);
  return g_test_run ();
}
