#include "model_test.h"

#include <glib/gstdio.h>
#include <signal.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <time.h>
#include <utime.h>

#include "model/farm/backup_private.h"
#include "model/farm/farm_private.h"

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

/* Adds a change at @now and says what a backup made then came to; owned by the caller. */
static char *
change_and_make (Scene *scene, const char *now, BedBackupWhen when)
{
  static guint n;
  g_autofree char *name = g_strdup_printf ("Stand %u", n++);
  g_auto (BedBackupMade) made = { NULL };
  g_autoptr (GError) error = NULL;

  bed_farm_fix_clock (scene->farm, now, n);
  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_STAND, "name", name, NULL));
  g_assert_true (bed_backup_make (scene->farm, when, &made, &error));
  g_assert_no_error (error);
  return g_steal_pointer (&made.path);
}

static char *
make_at (Scene *scene, const char *now, BedBackupWhen when)
{
  g_auto (BedBackupMade) made = { NULL };
  g_autoptr (GError) error = NULL;

  bed_farm_fix_clock (scene->farm, now, 1);
  g_assert_true (bed_backup_make (scene->farm, when, &made, &error));
  g_assert_no_error (error);
  return g_steal_pointer (&made.path);
}

static void
assert_name (const char *path, const char *name)
{
  g_autofree char *found = path ? g_path_get_basename (path) : NULL;

  g_assert_cmpstr (found, ==, name);
}

/* At opening one a day; when asked, whenever the farm differs, under a name of its own. */
static void
test_when (Scene *scene, gconstpointer units)
{
  g_autofree char *folder = backups_folder (scene);
  g_autofree char *first = change_and_make (scene, "2026-05-12T09:00", BED_BACKUP_OPENING);
  g_autofree char *second = change_and_make (scene, "2026-05-12T09:30", BED_BACKUP_OPENING);
  g_autofree char *hour = make_at (scene, "2026-05-12T09:59", BED_BACKUP_HOUR);
  g_autofree char *next = make_at (scene, "2026-05-12T10:00", BED_BACKUP_HOUR);
  g_autofree char *idle = make_at (scene, "2026-05-12T12:00", BED_BACKUP_HOUR);
  g_autofree char *asked = change_and_make (scene, "2026-05-12T10:00", BED_BACKUP_DIFFERS);
  g_autofree char *again = make_at (scene, "2026-05-12T10:01", BED_BACKUP_DIFFERS);
  g_autofree char *later = make_at (scene, "2026-05-13T08:00", BED_BACKUP_OPENING);

  assert_name (first, "farm 2026-05-12 09-00.bedlog");
  assert_name (second, NULL);
  assert_name (hour, NULL);
  assert_name (next, "farm 2026-05-12 10-00.bedlog");
  assert_name (idle, NULL);
  assert_name (asked, "farm 2026-05-12 10-00b.bedlog");
  assert_name (again, NULL);
  assert_name (later, NULL);
  g_assert_true (next && asked && strcmp (next, asked) < 0);
  g_assert_cmpuint (count_files (folder), ==, 3);
  clear_backups (scene);
}

/* What the copies hold decides, not when their files were written. */
static void
test_times_of_files (Scene *scene, gconstpointer units)
{
  g_autofree char *first = change_and_make (scene, "2026-05-12T09:00", BED_BACKUP_OPENING);
  struct utimbuf long_ago = { 1000000000, 1000000000 };
  struct utimbuf later = { time (NULL) + 60, time (NULL) + 60 };

  g_assert_cmpint (g_utime (first, &long_ago), ==, 0);
  g_autofree char *none = make_at (scene, "2026-05-13T09:00", BED_BACKUP_DIFFERS);
  g_assert_null (none);
  g_assert_cmpint (g_utime (first, &later), ==, 0);
  g_autofree char *made = change_and_make (scene, "2026-05-13T09:00", BED_BACKUP_DIFFERS);
  g_assert_nonnull (made);
  clear_backups (scene);
}

/* A copy of each of 13 months, so that every one is kept by itself. */
static void
make_months (Scene *scene)
{
  for (int month = 0; month < 13; month++)
    {
      g_autofree char *now
          = g_strdup_printf ("%d-%02d-12T09:00", 2025 + month / 12, month % 12 + 1);
      g_autofree char *path = change_and_make (scene, now, BED_BACKUP_OPENING);
      g_assert_nonnull (path);
    }
}

static void
test_clock_set_back (Scene *scene, gconstpointer units)
{
  g_autofree char *folder = backups_folder (scene);

  make_months (scene);
  g_assert_cmpuint (count_files (folder), ==, 13);
  g_autofree char *same = make_at (scene, "2000-01-01T00:00", BED_BACKUP_OPENING);
  g_assert_null (same);
  g_autofree char *wrong = change_and_make (scene, "2000-01-01T00:05", BED_BACKUP_DIFFERS);
  g_assert_nonnull (wrong);
  g_assert_cmpuint (count_files (folder), ==, 14);
  g_autofree char *right = change_and_make (scene, "2026-01-12T10:00", BED_BACKUP_DIFFERS);
  g_assert_nonnull (right);
  g_assert_cmpuint (count_files (folder), ==, 15);
  clear_backups (scene);
}

static void
test_clock_set_forward (Scene *scene, gconstpointer units)
{
  g_autofree char *folder = backups_folder (scene);

  make_months (scene);
  g_autofree char *wrong = change_and_make (scene, "2038-01-19T03:14", BED_BACKUP_OPENING);
  g_assert_nonnull (wrong);
  g_assert_cmpuint (count_files (folder), ==, 14);
  /* The day after the battery was changed. */
  g_autofree char *right = change_and_make (scene, "2026-01-13T09:00", BED_BACKUP_OPENING);
  assert_name (right, "farm 2026-01-13 09-00.bedlog");
  g_autofree char *asked = change_and_make (scene, "2026-01-13T11:00", BED_BACKUP_HOUR);
  g_assert_nonnull (asked);
  g_assert_cmpuint (count_files (folder), ==, 16);
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

static void
rename_copy (Scene *scene, const char *from, const char *name)
{
  g_autofree char *folder = backups_folder (scene);
  g_autofree char *to = g_build_filename (folder, name, NULL);

  g_assert_cmpint (g_rename (from, to), ==, 0);
}

/* Only what we named ourselves and can read is ever removed; names of older versions are ours. */
static void
test_thinning (Scene *scene, gconstpointer units)
{
  static const char *others[] = { "farm old.bedlog",        "farm 2020-01-01.bedlog.txt",
                                  "barn 2020-01-01.bedlog", "farm schema 1.bedlog",
                                  "farm 2020-01-01.bedlog", "notes.txt" };
  g_autofree char *folder = backups_folder (scene);
  g_autofree char *old = change_and_make (scene, "2020-01-01T09:00", BED_BACKUP_OPENING);

  rename_copy (scene, old, "farm 2020-01-02.bedlog");
  for (gsize i = 0; i < G_N_ELEMENTS (others); i++)
    touch (scene, others[i]);
  /* Twelve of one day: the newest ten stay, then the newest of the day, which is one of them. */
  for (int i = 0; i < 12; i++)
    {
      g_autofree char *now = g_strdup_printf ("2026-05-12T%02d:00", i);
      g_autofree char *path = change_and_make (scene, now, BED_BACKUP_DIFFERS);
      g_assert_nonnull (path);
    }
  g_assert_true (is_there (scene, "farm 2020-01-02.bedlog")); /* 31 days by its content's order */
  g_assert_false (is_there (scene, "farm 2026-05-12 01-00.bedlog"));
  g_assert_true (is_there (scene, "farm 2026-05-12 02-00.bedlog"));
  for (gsize i = 0; i < G_N_ELEMENTS (others); i++)
    g_assert_true (is_there (scene, others[i]));
  g_assert_cmpuint (count_files (folder), ==, 10 + 1 + G_N_ELEMENTS (others));
  clear_backups (scene);
}

static void
test_permissions (Scene *scene, gconstpointer units)
{
  static const guint modes[][2] = { { 0600, 0700 }, { 0644, 0755 }, { 0660, 0770 } };
  g_autofree char *folder = backups_folder (scene);
  guint old = umask (0);

  for (gsize i = 0; i < G_N_ELEMENTS (modes); i++)
    {
      g_assert_cmpint (g_chmod (scene->path, modes[i][0]), ==, 0);
      umask (i % 2 ? 0077 : 0);
      g_autofree char *path = change_and_make (scene, "2026-05-12T09:00", BED_BACKUP_DIFFERS);
      GStatBuf file, around;
      g_assert_cmpint (g_stat (path, &file), ==, 0);
      g_assert_cmpint (g_stat (folder, &around), ==, 0);
      g_assert_cmpuint (file.st_mode & 0777, ==, modes[i][0]);
      g_assert_cmpuint (around.st_mode & 0777, ==, modes[i][1]);
      clear_backups (scene);
    }
  umask (old);
}

/* A folder that an older version made for everyone to read. */
static void
test_folder_closes (Scene *scene, gconstpointer units)
{
  g_autofree char *folder = backups_folder (scene);
  GStatBuf around;

  g_assert_cmpint (g_mkdir (folder, 0755), ==, 0);
  g_assert_cmpint (g_chmod (scene->path, 0600), ==, 0);
  g_autofree char *path = change_and_make (scene, "2026-05-12T09:00", BED_BACKUP_DIFFERS);
  g_assert_nonnull (path);
  g_assert_cmpint (g_stat (folder, &around), ==, 0);
  g_assert_cmpuint (around.st_mode & 0777, ==, 0700);
  clear_backups (scene);
}

static void
test_killed_leaves_nothing (Scene *scene, gconstpointer units)
{
  g_autofree char *folder = backups_folder (scene);

  touch (scene, "farm 2026-05-11 08-00.bedlog.part");
  touch (scene, "farm 2026-05-12 09-00.bedlog.part");
  touch (scene, "photo.part");
  g_autofree char *path = change_and_make (scene, "2026-05-12T09:00", BED_BACKUP_OPENING);
  assert_name (path, "farm 2026-05-12 09-00.bedlog");
  g_assert_true (is_there (scene, "photo.part"));
  g_assert_cmpuint (count_files (folder), ==, 2);
  clear_backups (scene);
}

/* Another program that writes again and again until it is told to stop. */
typedef struct
{
  const char *path;
  gint stop;
  guint written;
} Writer;

static gpointer
write_all_the_time (gpointer data)
{
  Writer *writer = data;
  sqlite3 *db = NULL;

  g_assert_cmpint (sqlite3_open (writer->path, &db), ==, SQLITE_OK);
  sqlite3_busy_timeout (db, 1000);
  while (!g_atomic_int_get (&writer->stop))
    {
      writer->written
          += sqlite3_exec (db, "UPDATE farm SET labour_rate = labour_rate + 1", NULL, NULL, NULL)
             == SQLITE_OK;
      g_usleep (2000);
    }
  sqlite3_close (db);
  return NULL;
}

static void
test_while_another_writes (Scene *scene, gconstpointer units)
{
  Writer writer = { scene->path, 0, 0 };
  g_autoptr (GThread) thread = g_thread_new ("writer", write_all_the_time, &writer);

  for (int i = 0; i < 10; i++)
    {
      g_autofree char *path = g_strdup_printf ("%s/copy%d.bedlog", scene->folder, i);
      g_autoptr (GError) error = NULL;

      g_assert_true (bed_backup_write (scene->farm, path, &error));
      g_assert_no_error (error);
      g_autofree char *dump = dump_of (path);
      g_assert_nonnull (dump);
      g_unlink (path);
    }
  g_atomic_int_set (&writer.stop, 1);
  g_thread_join (g_steal_pointer (&thread));
  g_assert_cmpuint (writer.written, >, 0);
}

/* --- a place of its own ------------------------------------------------------------- */

static void
test_place (Scene *scene, gconstpointer units)
{
  g_autofree char *stick = g_build_filename (scene->folder, "stick", NULL);
  g_autofree char *away = g_build_filename (scene->folder, "away", NULL);
  g_autofree char *there = g_build_filename (stick, "farm backups", NULL);
  g_auto (BedBackupMade) made = { NULL };
  g_autoptr (GError) error = NULL;

  g_assert_false (bed_backup_set_place (scene->path, stick, &error));
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID);
  g_clear_error (&error);
  g_assert_cmpint (g_mkdir (stick, 0755), ==, 0);
  g_assert_true (bed_backup_set_place (scene->path, stick, &error));
  g_autofree char *place = bed_backup_dup_place (scene->path);
  g_assert_cmpstr (place, ==, stick);
  g_autofree char *first = change_and_make (scene, "2026-05-12T09:00", BED_BACKUP_DIFFERS);
  g_assert_true (g_str_has_prefix (first, there));

  /* Unplugged, and an empty folder stands where it was. */
  g_assert_cmpint (g_rename (stick, away), ==, 0);
  g_assert_cmpint (g_mkdir (stick, 0755), ==, 0);
  g_assert_true (bed_backup_make (scene->farm, BED_BACKUP_DIFFERS, &made, &error));
  g_assert_no_error (error);
  g_assert_nonnull (strstr (made.note, stick));
  g_assert_nonnull (strstr (made.note, "is not there"));
  g_autofree char *beside = backups_folder (scene);
  g_assert_true (g_str_has_prefix (made.path, beside));

  /* Back again: both are listed, and the stick gets what it lacks. */
  g_assert_cmpint (g_rmdir (stick), ==, 0);
  g_assert_cmpint (g_rename (away, stick), ==, 0);
  g_autofree char *second = change_and_make (scene, "2026-05-12T10:00", BED_BACKUP_DIFFERS);
  g_assert_true (g_str_has_prefix (second, there));
  g_autoptr (GPtrArray) copies = bed_backup_list (scene->path);
  g_assert_cmpuint (copies->len, ==, 3);
  g_assert_cmpstr (((BedBackup *) copies->pdata[0])->path, ==, second);
  g_autofree char *farm = bed_backup_dup_farm (second);
  g_assert_cmpstr (farm, ==, scene->path);
  g_assert_true (bed_backup_set_place (scene->path, NULL, &error));
  g_autofree char *none = bed_backup_dup_place (scene->path);
  g_assert_null (none);
  g_unlink (first);
  g_unlink (second);
  g_rmdir (there);
  g_rmdir (stick);
  clear_backups (scene);
}

/* Two farms of one name do not share a folder. */
static void
test_place_is_taken (Scene *scene, gconstpointer units)
{
  g_autofree char *stick = g_build_filename (scene->folder, "stick", NULL);
  g_autofree char *folder = g_build_filename (stick, "farm backups", NULL);
  g_autoptr (GError) error = NULL;

  g_assert_cmpint (g_mkdir (stick, 0755), ==, 0);
  g_assert_true (bed_backup_set_place (scene->path, stick, &error));
  g_assert_false (bed_backup_set_place ("/elsewhere/farm.bedlog", stick, &error));
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID);
  g_assert_nonnull (strstr (error->message, scene->path));
  g_clear_error (&error);
  g_assert_true (bed_backup_set_place (scene->path, NULL, &error));
  g_rmdir (folder);
  g_rmdir (stick);
}

/* --- a copy opens as a copy ---------------------------------------------------------- */

static void
test_opens_as_a_copy (Scene *scene, gconstpointer units)
{
  g_autofree char *path = change_and_make (scene, "2026-05-12T09:30", BED_BACKUP_DIFFERS);
  g_autofree char *moved = g_build_filename (scene->folder, "moved.bedlog", NULL);
  g_autofree char *before = NULL, *after = NULL;
  gsize size, size_after;
  g_autoptr (GError) error = NULL;

  g_assert_true (g_file_get_contents (path, &before, &size, NULL));
  g_autoptr (BedFarm) copy = bed_farm_open (path, &error);
  g_assert_no_error (error);
  const char *why = bed_farm_get_read_only_why (copy);
  g_assert_nonnull (why);
  g_assert_nonnull (strstr (why, "copy of the farm"));
  g_assert_nonnull (strstr (why, "09:30"));
  g_autoptr (BedRecord) stand = scene_record (copy, BED_KIND_STAND, "name", "Late", NULL);
  g_assert_false (bed_edit_put_one (copy, stand, "Added a stand", &error));
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_READ_ONLY);
  g_clear_error (&error);
  g_clear_object (&copy);
  g_assert_true (g_file_get_contents (path, &after, &size_after, NULL));
  g_assert_cmpmem (before, size, after, size_after);
  /* Taken out of its folder it is a farm like any other. */
  g_assert_cmpint (g_rename (path, moved), ==, 0);
  copy = bed_farm_open (moved, &error);
  g_assert_no_error (error);
  g_assert_null (bed_farm_get_read_only_why (copy));
  g_unlink (moved);
  clear_backups (scene);
}

static void
test_list (Scene *scene, gconstpointer units)
{
  g_autofree char *first = change_and_make (scene, "2026-05-12T09:00", BED_BACKUP_DIFFERS);
  g_autofree char *second = change_and_make (scene, "2026-05-12T10:00", BED_BACKUP_DIFFERS);

  g_assert_nonnull (first);
  touch (scene, "farm 2030-01-01.bedlog");
  g_autoptr (GPtrArray) copies = bed_backup_list (scene->path);
  g_assert_cmpuint (copies->len, ==, 3);
  const BedBackup *newest = copies->pdata[0], *older = copies->pdata[1], *broken = copies->pdata[2];
  g_assert_cmpstr (newest->path, ==, second);
  g_assert_cmpstr (newest->made, ==, "2026-05-12T10:00");
  g_assert_cmpstr (newest->at, ==, "2026-05-12T10:00");
  g_assert_cmpstr (newest->sentence, ==, "Added one");
  g_assert_cmpint (bed_backup_changes_since (scene->farm, newest), ==, 0);
  g_assert_cmpint (bed_backup_changes_since (scene->farm, older), ==, 1);
  g_assert_cmpstr (broken->made, ==, "2030-01-01");
  g_assert_nonnull (broken->fault);
  clear_backups (scene);
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

#define ADD(name, function)                                                                        \
  g_test_add ("/backup/" name, Scene, "metric", scene_set_up, function, scene_tear_down)

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  ADD ("copy-is-the-farm", test_copy_is_the_farm);
  ADD ("no-room-leaves-nothing", test_no_room_leaves_nothing);
  ADD ("when", test_when);
  ADD ("times-of-files", test_times_of_files);
  ADD ("clock-set-back", test_clock_set_back);
  ADD ("clock-set-forward", test_clock_set_forward);
  ADD ("thinning", test_thinning);
  ADD ("permissions", test_permissions);
  ADD ("folder-closes", test_folder_closes);
  ADD ("killed-leaves-nothing", test_killed_leaves_nothing);
  ADD ("while-another-writes", test_while_another_writes);
  ADD ("place", test_place);
  ADD ("place-is-taken", test_place_is_taken);
  ADD ("opens-as-a-copy", test_opens_as_a_copy);
  ADD ("list", test_list);
  ADD ("before-migration", test_before_migration);
  return g_test_run ();
}
