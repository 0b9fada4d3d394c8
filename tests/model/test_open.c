/* What lies on the disk at opening: cut off by a power failure, of another file, of a stranger,
 * of an older Bedlog; and what a new farm leaves there. */
#include "../ask.h"

#include "model_test.h"

#include <glib/gstdio.h>
#include <signal.h>
#include <sqlite3.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include "model/farm/farm_private.h"

#define PAGES 28 /* where the first page tells how many there are */

typedef struct
{
  char *bytes;
  gsize length;
} Content;

static Content
read_content (const char *path)
{
  Content content = { NULL, 0 };

  g_assert_true (g_file_get_contents (path, &content.bytes, &content.length, NULL));
  return content;
}

static void
write_content (const char *path, const Content *content)
{
  g_assert_true (g_file_set_contents (path, content->bytes, content->length, NULL));
}

static void
run_sql (const char *path, const char *sql)
{
  sqlite3 *db;

  g_assert_cmpint (sqlite3_open (path, &db), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_exec (db, sql, NULL, NULL, NULL), ==, SQLITE_OK);
  sqlite3_close (db);
}

/* Dies in the middle of a change whose pages are on the disk already, the journal beside it. */
static void
cut_off (const char *path)
{
  pid_t child = fork ();

  if (child == 0)
    {
      sqlite3 *db;

      sqlite3_open (path, &db);
      sqlite3_exec (db,
                    "PRAGMA cache_size = 1; BEGIN; UPDATE wood SET cautions = hex (zeroblob (400));"
                    "WITH RECURSIVE n (i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n LIMIT 3000)"
                    " INSERT INTO stand (id, name, notes) SELECT i, 'Stand ' || i,"
                    " hex (zeroblob (60)) FROM n",
                    NULL, NULL, NULL);
      sqlite3_db_cacheflush (db);
      _exit (0);
    }
  g_assert_cmpint (waitpid (child, NULL, 0), ==, child);
}

static char *
journal_of (Scene *scene)
{
  return g_strconcat (scene->path, "-journal", NULL);
}

/* --- power cuts ------------------------------------------------------------------ */

static void
opens_as (Scene *scene, const char *dump)
{
  g_autoptr (GError) error = NULL;

  scene->farm = bed_farm_open (scene->path, &error);
  g_assert_no_error (error);
  g_autofree char *after = scene_dump (scene->farm);
  g_assert_cmpstr (after, ==, dump);
}

/* SQLite mends before anything is judged: the first page may tell of pages that never came to
 * the disk, or be gone itself. */
static void
test_cut_off (Scene *scene, gconstpointer units)
{
  g_autofree char *before = scene_dump (scene->farm);
  g_autofree char *journal = journal_of (scene);
  enum
  {
    AS_IT_IS,
    TELLS_OF_MORE,
    NO_FIRST_PAGE,
    CUT_SHORT,
    N_WAYS
  };

  g_clear_object (&scene->farm);
  Content sound = read_content (scene->path);
  for (int way = AS_IT_IS; way < N_WAYS; way++)
    {
      cut_off (scene->path);
      g_assert_true (g_file_test (journal, G_FILE_TEST_EXISTS));
      Content half = read_content (scene->path);
      g_assert_cmpuint (half.length, >, sound.length);
      if (way == TELLS_OF_MORE)
        half.bytes[PAGES + 2] = 0x7f;
      if (way == NO_FIRST_PAGE)
        memset (half.bytes, 0, 4096);
      if (way == CUT_SHORT)
        half.length = sound.length;
      write_content (scene->path, &half);
      opens_as (scene, before);
      g_assert_false (g_file_test (journal, G_FILE_TEST_EXISTS));
      g_clear_object (&scene->farm);
      write_content (scene->path, &sound);
      g_free (half.bytes);
    }
  g_free (sound.bytes);
  scene_reopen (scene);
}

static void
is_refused (Scene *scene, int code, const char *words)
{
  g_autoptr (GError) error = NULL;
  Content before = read_content (scene->path);
  g_autoptr (BedFarm) farm = bed_farm_open (scene->path, &error);

  g_assert_null (farm);
  g_assert_error (error, BED_FARM_ERROR, code);
  g_assert_nonnull (strstr (error->message, words));
  Content after = read_content (scene->path);
  g_assert_cmpmem (before.bytes, before.length, after.bytes, after.length);
  g_free (before.bytes);
  g_free (after.bytes);
}

/* A copy laid by hand in the place of a farm that was cut off: its journal would destroy it. */
static void
test_foreign_journal (Scene *scene, gconstpointer units)
{
  g_autofree char *journal = journal_of (scene);

  g_clear_object (&scene->farm);
  Content old = read_content (scene->path);
  scene_reopen (scene);
  scene_batch (scene->farm, 40);
  g_clear_object (&scene->farm);
  cut_off (scene->path);
  Content half = read_content (scene->path), left = read_content (journal);
  write_content (scene->path, &old);
  is_refused (scene, BED_FARM_ERROR_CORRUPT, "another file");
  Content still = read_content (journal);
  g_assert_cmpmem (left.bytes, left.length, still.bytes, still.length);

  write_content (scene->path, &half);
  scene_reopen (scene);
  g_assert_cmpint (bed_farm_count (scene->farm, BED_KIND_LOG), ==, 40);
  g_free (old.bytes);
  g_free (half.bytes);
  g_free (left.bytes);
  g_free (still.bytes);
}

/* Where it may not be written, what was cut off cannot be mended; the sentence says so. */
static void
test_cut_off_read_only (Scene *scene, gconstpointer units)
{
  g_clear_object (&scene->farm);
  cut_off (scene->path);
  g_chmod (scene->path, 0444);
  is_refused (scene, BED_FARM_ERROR_READ_ONLY, "cut off");
  g_chmod (scene->path, 0600);
  scene_reopen (scene);
}

static void
test_extra_sync (Scene *scene, gconstpointer units)
{
  /* 3 is EXTRA: sqlite.org/pragma.html#pragma_synchronous. */
  g_assert_cmpint (ask_one (scene->farm, "PRAGMA synchronous", 0), ==, 3);
}

/* --- strangers --------------------------------------------------------------------- */

/* Whatever the version says; the underscore of a name matches any letter where LIKE compares. */
static void
test_strange_names (Scene *scene, gconstpointer units)
{
  static const char *const strange[] = {
    "CREATE TRIGGER sqlitexevil AFTER INSERT ON stand BEGIN DELETE FROM wood; END",
    "CREATE VIEW sqlitexview AS SELECT 1",
    "CREATE VIRTUAL TABLE sqlitexfts USING fts5 (a)",
    "CREATE TABLE late (id INTEGER, twice AS (id * 2))",
    /* From here on what a newer version might well have. */
    "CREATE TABLE sqlite1x (id INTEGER)",
    "CREATE INDEX sqlitexi ON stand (notes)",
  };
  const guint n_never = 4;

  g_clear_object (&scene->farm);
  Content sound = read_content (scene->path);
  for (guint i = 0; i < G_N_ELEMENTS (strange); i++)
    for (int version = 1; version <= bed_schema_get_newest () + 1; version++)
      {
        g_autofree char *say = g_strdup_printf ("PRAGMA user_version = %d", version);

        run_sql (scene->path, strange[i]);
        run_sql (scene->path, say);
        if (version <= bed_schema_get_newest () || i < n_never)
          is_refused (scene, BED_FARM_ERROR_NOT_A_FARM, "not Bedlog's");
        write_content (scene->path, &sound);
      }
  g_free (sound.bytes);
  scene_reopen (scene);
}

/* Compared before it is stepped up: no copy is made of it, and nothing of it runs. */
static void
test_strange_old (Scene *scene, gconstpointer units)
{
  g_autofree char *backups = g_build_filename (scene->folder, "farm backups", NULL);

  g_clear_object (&scene->farm);
  Content sound = read_content (scene->path);
  run_sql (scene->path, "PRAGMA user_version = 1");
  is_refused (scene, BED_FARM_ERROR_NOT_A_FARM, "not Bedlog's");
  run_sql (scene->path, "PRAGMA user_version = 0");
  is_refused (scene, BED_FARM_ERROR_NOT_A_FARM, "not Bedlog's");
  g_assert_false (g_file_test (backups, G_FILE_TEST_EXISTS));
  write_content (scene->path, &sound);
  g_free (sound.bytes);
  scene_reopen (scene);
}

static void
test_pipe (Scene *scene, gconstpointer units)
{
  g_autofree char *pipe = g_build_filename (scene->folder, "pipe", NULL);
  g_autoptr (GError) error = NULL;

  g_assert_cmpint (mkfifo (pipe, 0600), ==, 0);
  g_assert_null (bed_farm_open (pipe, &error));
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_NOT_A_FARM);
  g_unlink (pipe);
}

/* A second opening in this program leaves the locks of the first in force. */
static void
test_keeps_locks (Scene *scene, gconstpointer units)
{
  g_autoptr (GError) error = NULL;
  sqlite3 *writer;
  int status = 0;

  g_assert_cmpint (sqlite3_open (scene->path, &writer), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_exec (writer, "BEGIN IMMEDIATE", NULL, NULL, NULL), ==, SQLITE_OK);
  g_autoptr (BedFarm) second = bed_farm_open (scene->path, &error);
  g_assert_no_error (error);
  pid_t child = fork ();
  if (child == 0)
    {
      sqlite3 *other;

      sqlite3_open (scene->path, &other);
      _exit (sqlite3_exec (other, "BEGIN IMMEDIATE", NULL, NULL, NULL));
    }
  g_assert_cmpint (waitpid (child, &status, 0), ==, child);
  g_assert_cmpint (WEXITSTATUS (status), ==, SQLITE_BUSY);
  g_clear_object (&second);
  sqlite3_close (writer);
}

/* --- older, and not to be written to -------------------------------------------------- */

static void
test_older_read_only (Scene *scene, gconstpointer units)
{
  g_autoptr (GError) error = NULL;

  g_clear_object (&scene->farm);
  scene_lay_kept (scene->path, 1);
  g_chmod (scene->path, 0444);
  Content before = read_content (scene->path);
  scene->farm = bed_farm_open (scene->path, &error);
  g_assert_no_error (error);
  g_assert_nonnull (bed_farm_get_read_only_why (scene->farm));
  g_assert_cmpint (bed_farm_count (scene->farm, BED_KIND_LOG), ==, 12);
  g_assert_cmpint (ask_one (scene->farm, "SELECT count (*) FROM log_today", 0), ==, 12);
  Content after = read_content (scene->path);
  g_assert_cmpmem (before.bytes, before.length, after.bytes, after.length);
  g_free (before.bytes);
  g_free (after.bytes);
}

/* --- new ---------------------------------------------------------------------------- */

static guint
count_in (const char *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  guint n = 0;

  while (g_dir_read_name (dir))
    n++;
  return n;
}

static void
test_new_is_private (Scene *scene, gconstpointer units)
{
  GStatBuf info;

  g_assert_cmpint (g_stat (scene->path, &info), ==, 0);
  g_assert_cmpint (info.st_mode & 0777, ==, 0600);
  g_assert_cmpuint (count_in (scene->folder), ==, 1);
}

static void
test_new_beside_journal (Scene *scene, gconstpointer units)
{
  g_autofree char *path = g_build_filename (scene->folder, "lost.bedlog", NULL);
  g_autofree char *journal = g_strconcat (path, "-journal", NULL);
  g_autoptr (BedRecord) settings = scene_settings ("metric");
  g_autoptr (GError) error = NULL;

  g_assert_true (g_file_set_contents (journal, "half a change", -1, NULL));
  g_assert_null (bed_farm_new (path, settings, &error));
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_EXISTS);
  g_assert_nonnull (strstr (error->message, "lost.bedlog-journal"));
  g_unlink (journal);
}

/* Killed at any moment, the name is free or holds a whole farm. */
static void
test_new_killed (Scene *scene, gconstpointer units)
{
  g_autofree char *path = g_build_filename (scene->folder, "young.bedlog", NULL);
  guint whole = 0, none = 0;

  for (int round = 0; round < 24; round++)
    {
      pid_t child = fork ();
      if (child == 0)
        {
          g_autoptr (BedRecord) settings = scene_settings ("metric");
          bed_farm_new (path, settings, NULL);
          _exit (0);
        }
      g_usleep (round * 2500);
      kill (child, SIGKILL);
      waitpid (child, NULL, 0);
      if (g_file_test (path, G_FILE_TEST_EXISTS))
        {
          g_autoptr (GError) error = NULL;
          g_autoptr (BedFarm) farm = bed_farm_open (path, &error);
          g_assert_no_error (error);
          g_assert_cmpint (bed_farm_count (farm, BED_KIND_WOOD), >, 50);
          whole++;
        }
      else
        none++;
      g_unlink (path);
    }
  g_test_message ("%u whole, %u none", whole, none);
  g_assert_cmpuint (none, >, 0);
  /* What was being built lies under hidden names of its own. */
  g_autoptr (GDir) dir = g_dir_open (scene->folder, 0, NULL);
  for (const char *name; (name = g_dir_read_name (dir));)
    if (g_str_has_prefix (name, ".young.bedlog."))
      {
        g_autofree char *left = g_build_filename (scene->folder, name, NULL);
        g_unlink (left);
      }
}

#define ADD(path, test) g_test_add (path, Scene, NULL, scene_set_up, test, scene_tear_down)

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  ADD ("/open/cut-off", test_cut_off);
  ADD ("/open/cut-off-read-only", test_cut_off_read_only);
  ADD ("/open/foreign-journal", test_foreign_journal);
  ADD ("/open/extra-sync", test_extra_sync);
  ADD ("/open/strange-names", test_strange_names);
  ADD ("/open/strange-old", test_strange_old);
  ADD ("/open/pipe", test_pipe);
  ADD ("/open/keeps-locks", test_keeps_locks);
  ADD ("/open/older-read-only", test_older_read_only);
  ADD ("/open/new-is-private", test_new_is_private);
  ADD ("/open/new-beside-journal", test_new_beside_journal);
  ADD ("/open/new-killed", test_new_killed);
  return g_test_run ();
}
