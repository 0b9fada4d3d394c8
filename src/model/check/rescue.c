#include "model/check/rescue_private.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "model/farm/farm_private.h"

/* Bytes of a farm that is read into memory whole: a hundred years of a big one. */
#define LARGEST ((gsize) 2 << 30)

/* Pipes and devices have no end; the file may be written to while it is read, so what is worked
 * on is a copy in memory. */
static GBytes *
read_file (const char *path, GError **error)
{
  int fd = g_open (path, O_RDONLY | O_CLOEXEC | O_NONBLOCK, 0);
  struct stat info = { 0 };
  g_autofree guchar *bytes = NULL;
  gsize got = 0, length = 0;

  if (fd >= 0 && fstat (fd, &info) == 0 && S_ISREG (info.st_mode) && info.st_size > 0)
    {
      length = MIN ((gsize) info.st_size, LARGEST);
      bytes = g_try_malloc (length);
    }
  int code = errno;
  for (gssize n = 1; bytes && got < length && n > 0; got += MAX (n, 0))
    n = read (fd, bytes + got, length - got);
  if (fd >= 0)
    close (fd);
  if (got > 0)
    return g_bytes_new_take (g_steal_pointer (&bytes), got);
  g_set_error (error, BED_FARM_ERROR,
               fd < 0 && code == ENOENT ? BED_FARM_ERROR_NOT_FOUND : BED_FARM_ERROR_NOT_A_FARM,
               fd < 0 ? _ ("%s cannot be opened: %s.") : _ ("%s is no file that could be read."),
               path, g_strerror (code));
  return NULL;
}

/* --- as SQLite mends it -------------------------------------------------------------------- */

static gboolean
write_copy (const char *folder, const char *name, GBytes *bytes)
{
  g_autofree char *path = g_build_filename (folder, name, NULL);

  return g_file_set_contents_full (path, g_bytes_get_data (bytes, NULL),
                                   (gssize) g_bytes_get_size (bytes), G_FILE_SET_CONTENTS_NONE,
                                   0600, NULL);
}

static void
remove_copies (const char *folder)
{
  static const char *const names[] = { "farm", "farm-journal" };

  for (gsize i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_autofree char *path = g_build_filename (folder, names[i], NULL);
      g_unlink (path);
    }
  g_rmdir (folder);
}

/* The bytes after SQLite rolled back what the journal holds; NULL when there is none, or it is
 * of no use. */
static GBytes *
mend (GBytes *bytes, const char *damaged)
{
  g_autofree char *journal_path = bed_journal_dup_path (damaged);
  g_autoptr (GBytes) journal = read_file (journal_path, NULL);
  g_autofree char *folder = journal ? g_dir_make_tmp ("bedlog-rescue-XXXXXX", NULL) : NULL;
  g_autofree char *copy = folder ? g_build_filename (folder, "farm", NULL) : NULL;
  GBytes *mended = NULL;
  sqlite3 *db = NULL;

  if (!folder)
    return NULL;
  if (write_copy (folder, "farm", bytes) && write_copy (folder, "farm-journal", journal)
      && sqlite3_open_v2 (copy, &db, SQLITE_OPEN_READWRITE, NULL) == SQLITE_OK)
    {
      sqlite3_db_config (db, SQLITE_DBCONFIG_DEFENSIVE, 1, NULL);
      sqlite3_db_config (db, SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0, NULL);
      /* Reading rolls back; that the schema then turns out to be unreadable is no matter. */
      sqlite3_exec (db, "PRAGMA schema_version", NULL, NULL, NULL);
    }
  sqlite3_close_v2 (db);
  mended = read_file (copy, NULL);
  remove_copies (folder);
  return mended;
}

static BedRescueRead *
read_best (const char *damaged, GError **error)
{
  g_autoptr (GBytes) bytes = read_file (damaged, error);

  if (!bytes)
    return NULL;
  g_autoptr (GBytes) mended = mend (bytes, damaged);
  g_autoptr (BedRescueRead) as_it_lies = bed_rescue_read (bytes);
  g_autoptr (BedRescueRead) read = mended ? bed_rescue_read (mended) : NULL;
  /* What was cut off half done counts for less than what is whole. */
  if (!read || bed_rescue_read_count (read) < bed_rescue_read_count (as_it_lies))
    {
      g_clear_pointer (&read, bed_rescue_read_free);
      read = g_steal_pointer (&as_it_lies);
    }
  bed_rescue_recall (read);
  if (bed_rescue_read_count (read) > 0)
    return g_steal_pointer (&read);
  g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_NOT_A_FARM,
               _ ("No record of a Bedlog farm can be found in %s. Nothing was made."), damaged);
  return NULL;
}

/* --- writing ------------------------------------------------------------------------------- */

static BedRescue *
rescue_new (const BedRescueRead *read)
{
  BedRescue *self = g_new0 (BedRescue, 1);

  self->notes = g_ptr_array_ref (read->notes);
  self->changes_read = read->changes->len;
  return self;
}

static gboolean
fill (sqlite3 *db, BedRescueRead *read, const char *damaged, BedRescue *rescue, GError **error)
{
  g_autofree char *name = g_path_get_basename (damaged);
  g_autofree char *valid = g_utf8_make_valid (name, -1);

  if (!bed_schema_create (db, error)
      || !bed_db_exec (db, "BEGIN", _ ("writing the new farm"), error)
      || !bed_rescue_write_records (db, read, rescue, error)
      /* The history is tried on a copy, which takes only what is committed. */
      || !bed_db_exec (db, "COMMIT; BEGIN; PRAGMA defer_foreign_keys = ON",
                       _ ("writing the new farm"), error))
    return FALSE;
  rescue->changes_kept = bed_rescue_write_history (db, read, valid, error);
  return rescue->changes_kept >= 0 && bed_db_exec (db, "COMMIT", _ ("writing the new farm"), error);
}

static gboolean
make (const char *path, BedRescueRead *read, const char *damaged, BedRescue *rescue, GError **error)
{
  g_autofree char *built = bed_file_begin (path, error);
  sqlite3 *db = built ? bed_db_open (built, SQLITE_OPEN_READWRITE, error) : NULL;
  gboolean done = db && fill (db, read, damaged, rescue, error);

  sqlite3_close_v2 (db);
  done = done && bed_file_finish (built, path, error);
  if (built && !done)
    g_unlink (built);
  return done;
}

/* --- public -------------------------------------------------------------------------------- */

BedRescue *
bed_rescue_farm (const char *damaged, const char *path, GError **error)
{
  g_return_val_if_fail (damaged != NULL && path != NULL, NULL);
  g_autoptr (BedRescueRead) read = read_best (damaged, error);
  g_autoptr (BedRescue) rescue = read ? rescue_new (read) : NULL;

  return rescue && make (path, read, damaged, rescue, error) ? g_steal_pointer (&rescue) : NULL;
}

void
bed_rescue_free (BedRescue *self)
{
  if (!self)
    return;
  g_ptr_array_unref (self->notes);
  g_free (self);
}

gint64
bed_rescue_count_saved (const BedRescue *self)
{
  g_return_val_if_fail (self != NULL, 0);
  gint64 n = 0;

  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    n += self->saved[kind];
  return n;
}
