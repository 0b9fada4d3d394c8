/* One copy, from the first page to its name: it bears the name only when all of it is on disk. */
#include "model/farm/backup_private.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <stdlib.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include "model/farm/farm_private.h"

#define PATIENCE (10 * G_TIME_SPAN_SECOND) /* for another program that is writing */
#define PAUSE 5000                         /* microseconds between two tries */
#define PIECE 256                          /* pages */

gboolean
bed_backup_fail (GError **error, const char *path)
{
  int code = errno;

  return bed_farm_refuse (
      error, code == ENOSPC || code == EDQUOT ? BED_FARM_ERROR_FULL : BED_FARM_ERROR_FAILED,
      _ ("%s cannot be written: %s."), path, g_strerror (code));
}

/* --- pages ---------------------------------------------------------------------- */

/* In pieces, so that who writes to the farm waits for one of them only, however slow the place
 * of the copy is: SQLite begins again when it was written to between two. At last in one. */
static int
step_all (sqlite3_backup *backup)
{
  gint64 end = g_get_monotonic_time () + PATIENCE;
  int status = SQLITE_OK;

  while (status == SQLITE_OK || status == SQLITE_BUSY || status == SQLITE_LOCKED)
    {
      gboolean late = g_get_monotonic_time () > end;

      if (late && status != SQLITE_OK)
        break;
      if (status != SQLITE_OK)
        g_usleep (PAUSE);
      status = sqlite3_backup_step (backup, late ? -1 : PIECE);
    }
  return status;
}

gboolean
bed_backup_copy_pages (sqlite3 *from, sqlite3 *to, const char *path, GError **error)
{
  sqlite3_backup *backup = sqlite3_backup_init (to, "main", from, "main");
  int status = backup ? step_all (backup) : SQLITE_ERROR;

  if (backup)
    sqlite3_backup_finish (backup);
  if (status == SQLITE_DONE)
    return TRUE;
  if (status == SQLITE_BUSY || status == SQLITE_LOCKED)
    g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_BUSY,
                 _ ("Another program is writing to the farm, so it could not be copied. Wait until "
                    "it is done and try again."));
  else
    bed_db_set_error (to, error, _ ("copying the farm"), path);
  return FALSE;
}

/* --- a file ----------------------------------------------------------------------- */

/* Ours alone from the first byte; a link that waits there is not followed. */
static gboolean
make_empty (const char *path, GError **error)
{
  int fd = g_open (path, O_CREAT | O_EXCL | O_WRONLY | O_NOFOLLOW | O_CLOEXEC, 0600);

  if (fd < 0)
    return bed_backup_fail (error, path);
  close (fd);
  return TRUE;
}

/* No journal: a copy cut short is thrown away, not mended. It is synced when the farm is free
 * again, by seal (): a stick takes seconds for it. */
static gboolean
fill (sqlite3 *from, const char *path, GError **error)
{
  sqlite3 *to = NULL;
  gboolean done;

  if (sqlite3_open_v2 (path, &to, SQLITE_OPEN_READWRITE, NULL) != SQLITE_OK)
    {
      bed_db_set_error (to, error, _ ("making the copy"), path);
      sqlite3_close (to);
      return FALSE;
    }
  done = bed_db_exec (to, "PRAGMA journal_mode = OFF; PRAGMA synchronous = OFF;",
                      _ ("making the copy"), error)
         && bed_backup_copy_pages (from, to, path, error);
  sqlite3_close (to);
  return done;
}

static gboolean
seal (const char *path, guint mode, GError **error)
{
  int fd = g_open (path, O_RDONLY | O_CLOEXEC, 0);
  /* A stick may know no permissions. */
  gboolean done = fd >= 0 && (fchmod (fd, mode & 0777) == 0 || errno == EPERM || errno == ENOTSUP)
                  && fsync (fd) == 0;

  if (!done)
    bed_backup_fail (error, path);
  if (fd >= 0)
    close (fd);
  return done;
}

gboolean
bed_backup_copy_file (sqlite3 *from, const char *path, guint mode, GError **error)
{
  if (g_unlink (path) != 0 && errno != ENOENT)
    return bed_backup_fail (error, path);
  if (make_empty (path, error) && fill (from, path, error) && seal (path, mode, error))
    return TRUE;
  g_unlink (path);
  return FALSE;
}

/* --- folders and permissions -------------------------------------------------------- */

guint
bed_backup_mode_of (const char *path)
{
  GStatBuf info;

  return g_stat (path, &info) == 0 ? info.st_mode & 0777 : 0600;
}

int
bed_backup_lock_folder (const char *folder, GError **error)
{
  int fd = g_open (folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC, 0);
  gint64 end = g_get_monotonic_time () + PATIENCE;

  if (fd < 0)
    {
      bed_backup_fail (error, folder);
      return -1;
    }
  /* The lock goes with the program, however it ends. A share that knows none does without. */
  while (flock (fd, LOCK_EX | LOCK_NB) != 0 && errno == EWOULDBLOCK)
    {
      if (g_get_monotonic_time () > end)
        {
          g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_BUSY,
                       _ ("Another program is at work on the copies in %s. Try again when it is "
                          "done."),
                       folder);
          close (fd);
          return -1;
        }
      g_usleep (PAUSE);
    }
  return fd;
}

void
bed_backup_tidy (const char *path)
{
  g_autofree char *whole = realpath (path, NULL);
  g_autofree char *staged = whole ? g_strconcat (whole, BED_BACKUP_STAGED, NULL) : NULL;
  g_autofree char *folder = whole ? g_path_get_dirname (whole) : NULL;

  if (!staged || !g_file_test (staged, G_FILE_TEST_EXISTS))
    return;
  int lock = bed_backup_lock_folder (folder, NULL);
  if (lock < 0)
    return;
  g_unlink (staged);
  close (lock);
}
