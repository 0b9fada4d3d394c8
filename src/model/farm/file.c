/* The farm file as a whole: made beside its name and then given it, opened after SQLite has
 * mended what was cut off and everything in it was found to be Bedlog's own. */
#include "model/farm/backup_private.h"
#include "model/farm/farm_private.h"
#include "model/farm/output.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <stdio.h>
#include <unistd.h>

/* --- opening ------------------------------------------------------------------- */

static void
refuse_foreign_journal (const char *path, GError **error)
{
  g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_CORRUPT,
               _ ("Beside %s lies %s-journal, which belongs to another file or another day: "
                  "opening would mix the two. Nothing was changed. Restore a copy, which puts the "
                  "journal aside: Backups in the menu, or bedlog-tool restore."),
               path, path);
}

/* All of one moment, whoever else writes; and nothing of the file's own runs before its schema
 * has been compared. */
static gboolean
check_whole (sqlite3 *db, const char *path, BedDbHeader *header, GError **error)
{
  gboolean whole
      = bed_db_exec (db, "BEGIN; PRAGMA main.user_version", _ ("opening the farm"), error)
        && bed_db_look (db, path, header, error) && bed_db_check_length (db, path, error)
        && bed_schema_compare (db, header->version, path, error)
        && bed_db_check_sound (db, path, error);

  sqlite3_exec (db, "COMMIT", NULL, NULL, NULL);
  return whole;
}

static gboolean
check_opened (sqlite3 *db, const char *path, BedDbHeader *header, GError **error)
{
  if (!bed_db_look (db, path, header, error))
    return FALSE;
  if (header->journal == BED_JOURNAL_FOREIGN)
    {
      refuse_foreign_journal (path, error);
      return FALSE;
    }
  return bed_db_recover (db, path, error) && check_whole (db, path, header, error)
         && bed_db_configure (db, error);
}

/* What may not be written is stepped up in a copy that goes away with the program. */
static sqlite3 *
step_up_copy (sqlite3 *old, const char *path, GError **error)
{
  sqlite3 *copy = bed_db_open ("", SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, error);

  if (copy
      && !(bed_backup_copy_pages (old, copy, path, error) && bed_schema_step_up (copy, error)
           && bed_db_configure (copy, error)))
    g_clear_pointer (&copy, sqlite3_close_v2);
  sqlite3_close_v2 (old);
  return copy;
}

static sqlite3 *
step_up (sqlite3 *db, const char *path, int version, GError **error)
{
  /* A copy of it as it was comes first. */
  if (bed_backup_before_migration (db, path, version, error) && bed_schema_step_up (db, error))
    return db;
  sqlite3_close_v2 (db);
  return NULL;
}

sqlite3 *
bed_file_open (const char *path, char **read_only_why, GError **error)
{
  gboolean locked = bed_db_is_locked (path);
  g_autofree char *copy = bed_backup_dup_why (path);
  BedDbHeader header = { 0 };
  sqlite3 *db
      = bed_db_open (path, locked || copy ? SQLITE_OPEN_READONLY : SQLITE_OPEN_READWRITE, error);

  if (!db || !check_opened (db, path, &header, error))
    {
      sqlite3_close_v2 (db);
      return NULL;
    }
  if (copy)
    *read_only_why = g_steal_pointer (&copy);
  else if (header.newer)
    *read_only_why = g_strdup (_ ("This farm was written by a newer Bedlog. It is open for "
                                  "reading; install the newer Bedlog to change it."));
  else if (locked)
    *read_only_why = g_strdup (_ ("This file may not be written to. It is open for reading; "
                                  "save a copy to change it."));
  if (header.version >= bed_schema_get_newest ())
    return db;
  return *read_only_why ? step_up_copy (db, path, error)
                        : step_up (db, path, header.version, error);
}

/* --- making --------------------------------------------------------------------- */

static gboolean
is_free (const char *path, GError **error)
{
  g_autofree char *journal = bed_journal_dup_path (path);

  if (g_file_test (path, G_FILE_TEST_EXISTS) || g_file_test (path, G_FILE_TEST_IS_SYMLINK))
    g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_EXISTS,
                 _ ("There is a file %s already. Choose another name."), path);
  else if (g_file_test (journal, G_FILE_TEST_EXISTS))
    g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_EXISTS,
                 _ ("There is %s without its farm: it would be taken for the new farm's. Bring "
                    "its farm back, or choose another name."),
                 journal);
  else
    {
      g_autofree char *target = bed_output_dup_target (path, BED_OUTPUT_FARM, error);
      return target != NULL;
    }
  return FALSE;
}

char *
bed_file_begin (const char *path, GError **error)
{
  g_autofree char *folder = g_path_get_dirname (path);
  g_autofree char *name = g_path_get_basename (path);
  g_autofree char *hidden = g_strdup_printf (".%s.XXXXXX", name);
  g_autofree char *built = g_build_filename (folder, hidden, NULL);

  if (!is_free (path, error))
    return NULL;
  /* A name of its own, so that two do not build in one file; private to the user. */
  int fd = g_mkstemp_full (built, O_RDWR | O_CLOEXEC, 0600);
  if (fd < 0)
    {
      g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_FAILED, _ ("%s cannot be made: %s."), path,
                   g_strerror (errno));
      return NULL;
    }
  close (fd);
  return g_steal_pointer (&built);
}

gboolean
bed_file_sync_folder_of (const char *path)
{
  g_autofree char *folder = g_path_get_dirname (path);
  int fd = g_open (folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC, 0);
  /* Some shares cannot sync a folder; they have no better promise to give. */
  gboolean synced = fd >= 0 && (fsync (fd) == 0 || errno == EINVAL || errno == ENOTSUP);

  if (fd >= 0)
    close (fd);
  return synced;
}

gboolean
bed_file_finish (const char *built, const char *path, GError **error)
{
  /* Never over a file that came there meanwhile. */
  int status = renameat2 (AT_FDCWD, built, AT_FDCWD, path, RENAME_NOREPLACE);

  if (status != 0 && (errno == EINVAL || errno == ENOSYS) && is_free (path, error))
    status = g_rename (built, path);
  if (status == 0 && bed_file_sync_folder_of (path))
    return TRUE;
  if (error && !*error)
    g_set_error (error, BED_FARM_ERROR,
                 errno == EEXIST ? BED_FARM_ERROR_EXISTS : BED_FARM_ERROR_FAILED,
                 _ ("%s cannot be made: %s."), path, g_strerror (errno));
  return FALSE;
}
