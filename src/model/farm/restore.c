/* A copy takes the place of the farm. In this order, so that no moment shows a mix: the copy is
 * whole and checked beside; the old farm is locked and kept; what lay beside it is put aside;
 * one rename. */
#include "model/farm/restore.h"

#include <errno.h>
#include <fcntl.h>
#include <gio/gio.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "model/farm/backup_private.h"
#include "model/farm/farm_private.h"

/* SQLite's lock bytes (https://sqlite.org/src/file/src/os.h, PENDING_BYTE). */
#define LOCK_FIRST 0x40000000
#define LOCK_BYTES 512

typedef struct
{
  char *path; /* of the farm, links followed */
  char *folder;
  char *staged; /* the new farm until it takes the name */
  sqlite3 *old; /* with a lock that lets others read and nobody write, or NULL */
  int held;     /* lock on an old file that cannot be opened, or -1 */
  int lock;     /* on the folder */
  char *label;  /* "2026-05-18 14-30" */
} Restore;

static void
restore_clear (Restore *self)
{
  sqlite3_close_v2 (self->old); /* rolls back */
  if (self->held >= 0)
    close (self->held);
  if (self->staged && self->lock >= 0)
    g_unlink (self->staged);
  if (self->lock >= 0)
    close (self->lock);
  g_free (self->path);
  g_free (self->folder);
  g_free (self->staged);
  g_free (self->label);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Restore, restore_clear)

void
bed_restored_clear (BedRestored *restored)
{
  g_clear_pointer (&restored->before, g_free);
  g_clear_pointer (&restored->aside, g_free);
  g_clear_pointer (&restored->note, g_free);
}

/* --- the new farm, beside ------------------------------------------------------------ */

static gboolean
begin (Restore *self, const char *path, const char *copy, GError **error)
{
  g_autofree char *link = realpath (path, NULL);
  g_autofree char *source = realpath (copy, NULL);
  g_autoptr (GDateTime) now = g_date_time_new_now_local ();

  self->path = link ? g_steal_pointer (&link) : g_canonicalize_filename (path, NULL);
  self->folder = g_path_get_dirname (self->path);
  self->staged = g_strconcat (self->path, BED_BACKUP_STAGED, NULL);
  self->label = g_date_time_format (now, "%Y-%m-%d %H-%M");
  if (g_strcmp0 (self->path, source) == 0)
    return bed_farm_refuse (error, BED_FARM_ERROR_INVALID,
                            _ ("%s is the farm itself. Name a copy of it."), copy);
  self->lock = bed_backup_lock_folder (self->folder, error);
  return self->lock >= 0;
}

/* Opened for reading, as any farm is: every check of that is passed. */
static gboolean
check_staged (Restore *self, GError **error)
{
  g_autoptr (BedFarm) farm = bed_farm_open (self->staged, error);

  return farm != NULL;
}

static gboolean
look_at_copy (sqlite3 *from, const char *copy, GError **error)
{
  BedDbHeader header = { 0 };

  if (!bed_db_look (from, copy, &header, error))
    return FALSE;
  if (header.journal != BED_JOURNAL_FOREIGN)
    return bed_db_recover (from, copy, error);
  bed_db_set_damaged (error, copy);
  return FALSE;
}

static gboolean
stage (Restore *self, const char *copy, GError **error)
{
  gboolean there = g_file_test (self->path, G_FILE_TEST_EXISTS);
  guint mode = bed_backup_mode_of (there ? self->path : copy);
  sqlite3 *from = bed_db_open (copy, SQLITE_OPEN_READONLY, error);
  gboolean done = from && look_at_copy (from, copy, error)
                  && bed_backup_copy_file (from, self->staged, 0400, error);

  sqlite3_close_v2 (from);
  if (!done || !check_staged (self, error))
    return FALSE;
  /* On disk it is already; only who may read it changes. */
  return g_chmod (self->staged, mode) == 0 || errno == EPERM
         || bed_backup_fail (error, self->staged);
}

/* --- the old farm -------------------------------------------------------------------- */

static gboolean
set_busy (Restore *self, GError **error)
{
  return bed_farm_refuse (error, BED_FARM_ERROR_BUSY,
                          _ ("%s is in use by another program. Close it there and try again."),
                          self->path);
}

/* No change may come between the copy of the old farm and the new one. A connection that writes
 * cannot be copied, so that the lock is another's. */
static gboolean
lock_old (Restore *self, GError **error)
{
  self->old = bed_db_open (self->path, SQLITE_OPEN_READWRITE, error);
  return self->old && bed_db_exec (self->old, "BEGIN IMMEDIATE", _ ("locking the farm"), error);
}

static gboolean
copy_old (Restore *self, BedFarm *farm, BedRestored *restored, GError **error)
{
  g_auto (BedBackupMade) made = { NULL };

  if ((!bed_farm_get_read_only_why (farm) && !lock_old (self, error))
      || !bed_backup_make (farm, BED_BACKUP_DIFFERS, &made, error))
    return FALSE;
  restored->before = made.path ? g_steal_pointer (&made.path) : g_steal_pointer (&made.same);
  restored->note = g_steal_pointer (&made.note);
  return TRUE;
}

/* SQLite cannot lock what it cannot read. */
static gboolean
hold (Restore *self, GError **error)
{
  struct flock lock
      = { .l_type = F_WRLCK, .l_whence = SEEK_SET, .l_start = LOCK_FIRST, .l_len = LOCK_BYTES };

  self->held = g_open (self->path, O_RDWR | O_CLOEXEC | O_NONBLOCK, 0);
  if (self->held < 0) /* one that may not be written to: nobody does */
    return errno == EACCES || errno == EPERM || errno == EROFS
           || bed_backup_fail (error, self->path);
  return fcntl (self->held, F_SETLK, &lock) == 0 || (errno != EAGAIN && errno != EACCES)
         || set_busy (self, error);
}

/* On disk when this returns. */
static gboolean
copy_bytes (const char *path, const char *aside, GError **error)
{
  g_autoptr (GFile) from = g_file_new_for_path (path), to = g_file_new_for_path (aside);
  gboolean done = g_file_copy (from, to, G_FILE_COPY_ALL_METADATA, NULL, NULL, NULL, error);
  int fd = done ? g_open (aside, O_RDONLY | O_CLOEXEC, 0) : -1;

  if (done && (fd < 0 || fsync (fd) != 0))
    done = bed_backup_fail (error, aside);
  if (fd >= 0)
    close (fd);
  return done;
}

/* A second name for the same bytes; where there is none to be had, the bytes again. */
static gboolean
keep (const char *path, const char *aside, GError **error)
{
  return link (path, aside) == 0 || copy_bytes (path, aside, error);
}

/* "Hill damaged 2026-05-18 14-30.bedlog", beside the farm. */
static char *
name_aside (Restore *self)
{
  g_autofree char *stem = bed_backup_dup_stem (self->path);
  g_autofree char *label = g_strconcat ("damaged ", self->label, NULL);

  return bed_backup_free_name (self->folder, stem, label);
}

/* Opening lets SQLite write into a file that has a journal, and then throw that away: where it
 * does not help, both are kept as they were. NULL in @aside when there is none. */
static gboolean
keep_with_journal (Restore *self, char **aside, GError **error)
{
  g_autofree char *journal = bed_journal_dup_path (self->path);

  if (!g_file_test (journal, G_FILE_TEST_EXISTS))
    return TRUE;
  *aside = name_aside (self);
  g_autofree char *journal_aside = bed_journal_dup_path (*aside);
  return copy_bytes (self->path, *aside, error) && copy_bytes (journal, journal_aside, error);
}

static void
forget_kept (const char *aside)
{
  g_autofree char *journal = aside ? bed_journal_dup_path (aside) : NULL;

  if (!aside)
    return;
  g_unlink (aside);
  g_unlink (journal);
}

static gboolean
is_recognisable (Restore *self, const GError *why, GError **error)
{
  if (g_str_has_suffix (self->path, ".bedlog")
      || !g_error_matches (why, BED_FARM_ERROR, BED_FARM_ERROR_NOT_A_FARM))
    return TRUE;
  return bed_farm_refuse (
      error, BED_FARM_ERROR_NOT_A_FARM,
      _ ("%s is not a Bedlog farm, and its name does not end in .bedlog: a copy is not put in its "
         "place."),
      self->path);
}

/* Copied when it opens; kept when it does not. */
static gboolean
save_old (Restore *self, BedRestored *restored, GError **error)
{
  g_autoptr (GError) why = NULL;

  if (!g_file_test (self->path, G_FILE_TEST_EXISTS))
    return TRUE;
  if (!g_file_test (self->path, G_FILE_TEST_IS_REGULAR))
    return bed_farm_refuse (error, BED_FARM_ERROR_INVALID,
                            _ ("%s is no file that a farm could be put in."), self->path);
  g_autofree char *aside = NULL;
  if (!keep_with_journal (self, &aside, error))
    return FALSE;
  g_autoptr (BedFarm) farm = bed_farm_open (self->path, &why);
  if (farm)
    {
      forget_kept (aside);
      return copy_old (self, farm, restored, error);
    }
  if (!g_error_matches (why, BED_FARM_ERROR, BED_FARM_ERROR_CORRUPT)
      && !g_error_matches (why, BED_FARM_ERROR, BED_FARM_ERROR_NOT_A_FARM))
    {
      forget_kept (aside);
      g_propagate_error (error, g_steal_pointer (&why));
      return FALSE;
    }
  if (!is_recognisable (self, why, error) || !hold (self, error))
    return FALSE;
  restored->aside = aside ? g_steal_pointer (&aside) : name_aside (self);
  return g_file_test (restored->aside, G_FILE_TEST_EXISTS)
         || keep (self->path, restored->aside, error);
}

/* SQLite would put what lies beside the old farm into the new one. */
static gboolean
clear_beside (Restore *self, BedRestored *restored, GError **error)
{
  static const char *tails[] = { "-journal", "-wal", "-shm" };

  for (guint i = 0; i < G_N_ELEMENTS (tails); i++)
    {
      g_autofree char *beside = g_strconcat (self->path, tails[i], NULL);

      if (!g_file_test (beside, G_FILE_TEST_EXISTS))
        continue;
      if (!restored->aside)
        restored->aside = name_aside (self);
      g_autofree char *aside = g_strconcat (restored->aside, tails[i], NULL);
      gboolean kept = g_file_test (aside, G_FILE_TEST_EXISTS);
      if ((kept ? g_unlink (beside) : g_rename (beside, aside)) != 0)
        return bed_backup_fail (error, beside);
    }
  return bed_file_sync_folder_of (self->path) || bed_backup_fail (error, self->folder);
}

/* --- public --------------------------------------------------------------------------- */

gboolean
bed_restore (const char *path, const char *copy, BedRestored *restored, GError **error)
{
  g_return_val_if_fail (path != NULL && copy != NULL, FALSE);
  g_auto (Restore) self = { .held = -1, .lock = -1 };
  g_auto (BedRestored) own = { NULL };

  if (!begin (&self, path, copy, error) || !stage (&self, copy, error)
      || !save_old (&self, &own, error) || !clear_beside (&self, &own, error))
    return FALSE;
  if (g_rename (self.staged, self.path) != 0 || !bed_file_sync_folder_of (self.path))
    return bed_backup_fail (error, self.path);
  if (restored)
    {
      *restored = own;
      own = (BedRestored){ NULL };
    }
  return TRUE;
}
