/* Going back to a copy: whatever lies there before, and wherever it is cut off. */
#include "model_test.h"

#include <fcntl.h>
#include <glib/gstdio.h>
#include <signal.h>
#include <sqlite3.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include "model/farm/backup.h"
#include "model/farm/restore.h"

typedef struct
{
  Scene scene;
  char *copy;  /* holds "first" only */
  char *other; /* a path to play with */
} Back;

static void
remove_tree (const char *path)
{
  g_autoptr (GDir) dir = g_dir_open (path, 0, NULL);
  const char *name;

  while (dir && (name = g_dir_read_name (dir)))
    {
      g_autofree char *inside = g_build_filename (path, name, NULL);
      remove_tree (inside);
    }
  g_remove (path);
}

static void
add_stand (BedFarm *farm, const char *name)
{
  scene_add (farm, scene_record (farm, BED_KIND_STAND, "name", name, NULL));
}

static void
set_up (Back *back, gconstpointer data)
{
  g_auto (BedBackupMade) made = { NULL };
  g_autoptr (GError) error = NULL;

  scene_set_up (&back->scene, "metric");
  add_stand (back->scene.farm, "First");
  g_assert_true (bed_backup_make (back->scene.farm, BED_BACKUP_DIFFERS, &made, &error));
  g_assert_no_error (error);
  back->copy = g_steal_pointer (&made.path);
  back->other = g_build_filename (back->scene.folder, "other.bedlog", NULL);
  add_stand (back->scene.farm, "Second");
}

static void
tear_down (Back *back, gconstpointer data)
{
  g_clear_object (&back->scene.farm);
  remove_tree (back->scene.folder);
  g_free (back->scene.folder);
  g_free (back->scene.path);
  g_free (back->copy);
  g_free (back->other);
}

/* How many stands the farm at @path has; opening it must go well. */
static gint64
count_stands (const char *path)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BedFarm) farm = bed_farm_open (path, &error);

  g_assert_no_error (error);
  return bed_farm_count (farm, BED_KIND_STAND);
}

static void
restore (Back *back, const char *copy, BedRestored *restored)
{
  g_autoptr (GError) error = NULL;
  gboolean done = bed_restore (back->scene.path, copy, restored, &error);

  g_assert_no_error (error);
  g_assert_true (done);
}

static void
assert_nothing_beside (Back *back)
{
  static const char *tails[] = { "-journal", "-wal", "-shm", ".restoring" };

  for (gsize i = 0; i < G_N_ELEMENTS (tails); i++)
    {
      g_autofree char *path = g_strconcat (back->scene.path, tails[i], NULL);
      g_assert_false (g_file_test (path, G_FILE_TEST_EXISTS));
    }
}

/* --- a farm that opens ----------------------------------------------------------------- */

static void
test_there_and_back (Back *back, gconstpointer data)
{
  g_auto (BedRestored) once = { NULL }, again = { NULL };

  g_clear_object (&back->scene.farm);
  restore (back, back->copy, &once);
  g_assert_cmpint (count_stands (back->scene.path), ==, 1);
  g_assert_nonnull (once.before);
  g_assert_null (once.aside);
  g_assert_cmpint (count_stands (once.before), ==, 2);
  assert_nothing_beside (back);
  restore (back, once.before, &again);
  g_assert_cmpint (count_stands (back->scene.path), ==, 2);
  /* What was there is held by the first copy: no need for another. */
  g_assert_cmpstr (again.before, ==, back->copy);
}

/* After going back work goes on: what was given up stays, however much is done. */
static void
test_other_line_is_kept (Back *back, gconstpointer data)
{
  g_auto (BedRestored) restored = { NULL };
  g_autoptr (GError) error = NULL;

  g_clear_object (&back->scene.farm);
  restore (back, back->copy, &restored);
  scene_reopen (&back->scene);
  for (int i = 0; i < 14; i++)
    {
      g_autofree char *name = g_strdup_printf ("Later %d", i);
      g_autofree char *now = g_strdup_printf ("2026-05-12T%02d:00", 10 + i % 10);
      bed_farm_fix_clock (back->scene.farm, now, i);
      add_stand (back->scene.farm, name);
      g_assert_true (bed_backup_make (back->scene.farm, BED_BACKUP_DIFFERS, NULL, &error));
    }
  g_autoptr (GPtrArray) copies = bed_backup_list (back->scene.path);
  g_assert_cmpuint (copies->len, ==, 10 + 1);
  g_assert_cmpint (count_stands (restored.before), ==, 2);
}

static void
test_permissions_stay (Back *back, gconstpointer data)
{
  GStatBuf info;

  g_clear_object (&back->scene.farm);
  g_assert_cmpint (g_chmod (back->scene.path, 0640), ==, 0);
  restore (back, back->copy, NULL);
  g_assert_cmpint (g_stat (back->scene.path, &info), ==, 0);
  g_assert_cmpuint (info.st_mode & 0777, ==, 0640);
}

static void
test_busy (Back *back, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  sqlite3 *db = NULL;

  g_assert_cmpint (sqlite3_open (back->scene.path, &db), ==, SQLITE_OK);
  g_assert_cmpint (
      sqlite3_exec (db, "BEGIN IMMEDIATE; UPDATE farm SET labour_rate = 1", NULL, NULL, NULL), ==,
      SQLITE_OK);
  g_assert_false (bed_restore (back->scene.path, back->copy, NULL, &error));
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_BUSY);
  g_assert_cmpint (sqlite3_exec (db, "COMMIT", NULL, NULL, NULL), ==, SQLITE_OK);
  sqlite3_close (db);
  g_clear_object (&back->scene.farm);
  g_assert_cmpint (count_stands (back->scene.path), ==, 2);
  assert_nothing_beside (back);
}

/* A program that has the farm open and idle finds that it cannot write into the void. */
static void
test_open_elsewhere (Back *back, gconstpointer data)
{
  g_autoptr (BedRecord) stand
      = scene_record (back->scene.farm, BED_KIND_STAND, "name", "Third", NULL);
  g_autoptr (GError) error = NULL;

  restore (back, back->copy, NULL);
  g_assert_false (bed_edit_put_one (back->scene.farm, stand, "Added a stand", &error));
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_READ_ONLY);
  g_assert_cmpint (count_stands (back->scene.path), ==, 1);
  assert_nothing_beside (back);
}

/* --- a farm that does not -------------------------------------------------------------- */

static void
spoil (const char *path, gsize at, gsize n)
{
  g_autofree char *bytes = NULL;
  gsize size;

  g_assert_true (g_file_get_contents (path, &bytes, &size, NULL));
  g_assert_cmpuint (at + n, <=, size);
  memset (bytes + at, 0xa5, n);
  g_assert_true (g_file_set_contents (path, bytes, size, NULL));
}

static void
assert_same_bytes (const char *path, const char *bytes, gsize size)
{
  g_autofree char *found = NULL;
  gsize found_size;

  g_assert_true (g_file_get_contents (path, &found, &found_size, NULL));
  g_assert_cmpmem (found, found_size, bytes, size);
}

/* Bytes of a page in the middle, or the whole head. */
static void
try_damaged (Back *back, gsize at, gsize n)
{
  g_auto (BedRestored) restored = { NULL };
  g_autofree char *bytes = NULL;
  gsize size;

  g_clear_object (&back->scene.farm);
  spoil (back->scene.path, at, n);
  g_assert_null (bed_farm_open (back->scene.path, NULL));
  g_assert_true (g_file_get_contents (back->scene.path, &bytes, &size, NULL));
  restore (back, back->copy, &restored);
  g_assert_cmpint (count_stands (back->scene.path), ==, 1);
  g_assert_null (restored.before);
  g_assert_nonnull (strstr (restored.aside, "farm damaged 2"));
  assert_same_bytes (restored.aside, bytes, size);
  assert_nothing_beside (back);
}

static void
test_damaged (Back *back, gconstpointer data)
{
  try_damaged (back, 4096 * 2, 4096 * 3);
}

static void
test_head_gone (Back *back, gconstpointer data)
{
  try_damaged (back, 0, 100);
}

static void
test_gone (Back *back, gconstpointer data)
{
  g_auto (BedRestored) restored = { NULL };

  g_clear_object (&back->scene.farm);
  g_unlink (back->scene.path);
  restore (back, back->copy, &restored);
  g_assert_cmpint (count_stands (back->scene.path), ==, 1);
  g_assert_null (restored.before);
  g_assert_null (restored.aside);
}

/* --- what lies beside ------------------------------------------------------------------ */

static void
copy_bytes (const char *from, const char *to)
{
  g_autofree char *bytes = NULL;
  gsize size;

  g_assert_true (g_file_get_contents (from, &bytes, &size, NULL));
  g_assert_true (g_file_set_contents (to, bytes, size, NULL));
}

/* A farm as a power cut leaves it, half written, with the journal that mends it. */
static void
cut_off (Back *back, const char *farm)
{
  g_autofree char *journal = g_strconcat (back->scene.path, "-journal", NULL);
  g_autofree char *to = g_strconcat (farm, "-journal", NULL);
  sqlite3 *db = NULL;

  g_assert_cmpint (sqlite3_open (back->scene.path, &db), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_exec (db,
                                 "PRAGMA cache_size = 1; BEGIN;"
                                 "UPDATE wood SET common_name = common_name || 'x';"
                                 "UPDATE stand SET name = name || hex (zeroblob (9000))",
                                 NULL, NULL, NULL),
                   ==, SQLITE_OK);
  g_assert_true (g_file_test (journal, G_FILE_TEST_EXISTS));
  copy_bytes (journal, to);
  copy_bytes (back->scene.path, farm);
  g_assert_cmpint (sqlite3_exec (db, "ROLLBACK", NULL, NULL, NULL), ==, SQLITE_OK);
  sqlite3_close (db);
}

static void
test_cut_off (Back *back, gconstpointer data)
{
  g_auto (BedRestored) restored = { NULL };
  g_autofree char *journal = g_strconcat (back->scene.path, "-journal", NULL);
  g_autofree char *from = g_strconcat (back->other, "-journal", NULL);

  g_clear_object (&back->scene.farm);
  cut_off (back, back->other);
  g_assert_cmpint (g_rename (back->other, back->scene.path), ==, 0);
  g_assert_cmpint (g_rename (from, journal), ==, 0);
  restore (back, back->copy, &restored);
  g_assert_cmpint (count_stands (back->scene.path), ==, 1);
  /* Mended first, then copied. */
  g_assert_cmpint (count_stands (restored.before), ==, 2);
  assert_nothing_beside (back);
}

/* The farm is gone, or damaged beyond its journal: SQLite would put that into the copy. */
static void
try_foreign_journal (Back *back, gboolean (*ruin) (const char *path))
{
  g_auto (BedRestored) restored = { NULL };
  g_autofree char *journal = g_strconcat (back->scene.path, "-journal", NULL);
  g_autofree char *from = g_strconcat (back->other, "-journal", NULL);
  g_autofree char *bytes = NULL;
  gsize size;

  g_clear_object (&back->scene.farm);
  cut_off (back, back->other);
  g_assert_true (g_file_get_contents (from, &bytes, &size, NULL));
  g_assert_true (ruin (back->scene.path));
  g_assert_cmpint (g_rename (from, journal), ==, 0);
  restore (back, back->copy, &restored);
  g_assert_cmpint (count_stands (back->scene.path), ==, 1);
  g_autofree char *aside = g_strconcat (restored.aside, "-journal", NULL);
  assert_same_bytes (aside, bytes, size);
  assert_nothing_beside (back);
}

static gboolean
remove_farm (const char *path)
{
  return g_unlink (path) == 0;
}

static gboolean
write_nonsense (const char *path)
{
  return g_file_set_contents (path, "SQLite format 2, and then nothing of use", -1, NULL);
}

static void
test_journal_without_farm (Back *back, gconstpointer data)
{
  try_foreign_journal (back, remove_farm);
}

static void
test_journal_beside_nonsense (Back *back, gconstpointer data)
{
  try_foreign_journal (back, write_nonsense);
}

/* --- what is refused --------------------------------------------------------------------- */

static void
refuses (Back *back, const char *path, const char *copy, BedFarmError code)
{
  g_autoptr (GError) error = NULL;

  g_assert_false (bed_restore (path, copy, NULL, &error));
  g_test_message ("%s", error->message);
  g_assert_error (error, BED_FARM_ERROR, (int) code);
  g_assert_cmpint (count_stands (back->scene.path), ==, 2);
  assert_nothing_beside (back);
}

static void
test_refused (Back *back, gconstpointer data)
{
  g_autofree char *text = g_build_filename (back->scene.folder, "notes.txt", NULL);

  g_clear_object (&back->scene.farm);
  g_assert_true (g_file_set_contents (text, "notes", -1, NULL));
  refuses (back, back->scene.path, back->scene.path, BED_FARM_ERROR_INVALID);
  refuses (back, back->scene.path, text, BED_FARM_ERROR_NOT_A_FARM);
  refuses (back, back->scene.path, back->other, BED_FARM_ERROR_NOT_FOUND);
  refuses (back, text, back->copy, BED_FARM_ERROR_NOT_A_FARM);
  refuses (back, back->scene.folder, back->copy, BED_FARM_ERROR_INVALID);
  assert_same_bytes (text, "notes", 5);
  spoil (back->copy, 4096 * 2, 4096 * 3);
  refuses (back, back->scene.path, back->copy, BED_FARM_ERROR_CORRUPT);
}

/* --- killed --------------------------------------------------------------------------------- */

#define KILLS 30

static void
restore_until_killed (const char *path, const char *one, const char *other)
{
  for (;;)
    {
      if (!bed_restore (path, one, NULL, NULL) || !bed_restore (path, other, NULL, NULL))
        _exit (1);
    }
}

/* Two states in turn, killed at any moment: it opens by itself, as one of them. */
static void
test_killed (Back *back, gconstpointer data)
{
  g_auto (BedRestored) restored = { NULL };
  guint seen[2] = { 0, 0 };
  gint64 begun = g_get_monotonic_time (), longest;

  g_clear_object (&back->scene.farm);
  restore (back, back->copy, &restored);
  /* In the first, the second, the third or the fourth, at whatever step. */
  longest = 4 * (g_get_monotonic_time () - begun);
  /* On a machine that became busy all of the first may come before anything was done. */
  for (int round = 0; round < KILLS || (!(seen[0] && seen[1]) && round < 20 * KILLS); round++)
    {
      int status;
      pid_t child = fork ();

      if (child == 0)
        restore_until_killed (back->scene.path, restored.before, back->copy);
      if (round >= KILLS)
        longest = MIN (longest + longest / 4, G_USEC_PER_SEC * 20);
      g_usleep (g_test_rand_int_range (0, (int) longest));
      kill (child, SIGKILL);
      g_assert_cmpint (waitpid (child, &status, 0), ==, child);
      g_assert_true (WIFSIGNALED (status));
      gint64 stands = count_stands (back->scene.path);
      g_assert_true (stands == 1 || stands == 2);
      seen[stands - 1]++;
    }
  g_test_message ("%u times the one, %u times the other", seen[0], seen[1]);
  g_assert_cmpuint (seen[0], >, 0);
  g_assert_cmpuint (seen[1], >, 0);
  /* What the last one left goes when the farm is opened to work. */
  g_autofree char *left = g_strconcat (back->scene.path, ".restoring", NULL);
  g_autoptr (BedFarm) farm = bed_farm_open (back->scene.path, NULL);
  g_assert_true (g_file_set_contents (left, "half", -1, NULL));
  g_assert_true (bed_backup_make (farm, BED_BACKUP_OPENING, NULL, NULL));
  assert_nothing_beside (back);
}

#define ADD(name, function) g_test_add ("/restore/" name, Back, NULL, set_up, function, tear_down)

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  ADD ("there-and-back", test_there_and_back);
  ADD ("other-line-is-kept", test_other_line_is_kept);
  ADD ("permissions-stay", test_permissions_stay);
  ADD ("busy", test_busy);
  ADD ("open-elsewhere", test_open_elsewhere);
  ADD ("damaged", test_damaged);
  ADD ("head-gone", test_head_gone);
  ADD ("gone", test_gone);
  ADD ("cut-off", test_cut_off);
  ADD ("journal-without-farm", test_journal_without_farm);
  ADD ("journal-beside-nonsense", test_journal_beside_nonsense);
  ADD ("refused", test_refused);
  ADD ("killed", test_killed);
  return g_test_run ();
}
