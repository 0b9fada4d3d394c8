/* The SQLite file under a farm: looked at before it is opened, set up, and its
 * errors put in words. */
#include "model/farm_private.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

void
bed_db_set_error (sqlite3 *db, GError **error, const char *doing, const char *path)
{
  const char *detail = db ? sqlite3_errmsg (db) : "";

  switch (db ? sqlite3_errcode (db) : SQLITE_NOMEM)
    {
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
      g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_BUSY,
                   _ ("%s is in use by another program. Close it there and try again."), path);
      break;
    case SQLITE_FULL:
      g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_FULL,
                   _ ("There is no room left on the disk of %s. Nothing was written; "
                      "make room and try again."),
                   path);
      break;
    case SQLITE_READONLY:
    case SQLITE_PERM:
    case SQLITE_CANTOPEN:
      g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_READ_ONLY,
                   _ ("%s cannot be written to. Check who may write there, or save a copy."),
                   path);
      break;
    case SQLITE_CORRUPT:
    case SQLITE_NOTADB:
      g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_CORRUPT,
                   _ ("%s is damaged. Nothing was changed; open the latest backup."), path);
      break;
    case SQLITE_IOERR:
      g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_FAILED,
                   _ ("The disk of %s could not be read or written while %s."), path, doing);
      break;
    default:
      g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_FAILED,
                   _ ("Something went wrong while %s: %s."), doing, detail);
    }
}

gboolean
bed_db_exec (sqlite3 *db, const char *sql, const char *doing, GError **error)
{
  if (sqlite3_exec (db, sql, NULL, NULL, NULL) == SQLITE_OK)
    return TRUE;
  const char *path = sqlite3_db_filename (db, "main");
  bed_db_set_error (db, error, doing, path && *path ? path : _ ("the farm file"));
  return FALSE;
}

static guint32
big_endian (const guchar *at)
{
  return (guint32) at[0] << 24 | (guint32) at[1] << 16 | (guint32) at[2] << 8 | at[3];
}

/* Looks at the first bytes before SQLite does: a stranger is turned away without
 * a trace (https://sqlite.org/fileformat2.html, section 1.3). */
gboolean
bed_db_read_header (const char *path, BedDbHeader *header, GError **error)
{
  guchar bytes[100] = { 0 };
  struct stat info;
  int fd = g_open (path, O_RDONLY | O_CLOEXEC, 0);

  if (fd < 0 || fstat (fd, &info) != 0)
    {
      int code = errno;
      if (fd >= 0)
        close (fd);
      g_set_error (error, BED_FARM_ERROR,
                   code == ENOENT ? BED_FARM_ERROR_NOT_FOUND : BED_FARM_ERROR_FAILED,
                   _ ("%s cannot be opened: %s."), path, g_strerror (code));
      return FALSE;
    }
  gssize got = S_ISREG (info.st_mode) ? read (fd, bytes, sizeof bytes) : 0;
  close (fd);

  if (got < 16 || memcmp (bytes, "SQLite format 3", 16) != 0
      || (got == (gssize) sizeof bytes && big_endian (bytes + 68) != BED_APPLICATION_ID))
    {
      g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_NOT_A_FARM,
                   _ ("%s is not a Bedlog farm. Farm files are made by Bedlog and end in .bedlog."),
                   path);
      return FALSE;
    }
  gint64 page = bytes[16] << 8 | bytes[17];
  page = page == 1 ? 65536 : page;
  if (got < (gssize) sizeof bytes || info.st_size < page * (gint64) big_endian (bytes + 28))
    {
      g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_CORRUPT,
                   _ ("%s is cut short: its end is missing. Nothing was changed; "
                      "open the latest backup."),
                   path);
      return FALSE;
    }
  header->newer = big_endian (bytes + 60) > BED_SCHEMA_VERSION;
  header->locked = !(info.st_mode & 0222) || g_access (path, W_OK) != 0;
  return TRUE;
}

/* The recipe for files that may come from anywhere: sqlite.org/security.html. */
static gboolean
configure (sqlite3 *db, GError **error)
{
  sqlite3_db_config (db, SQLITE_DBCONFIG_DEFENSIVE, 1, NULL);
  sqlite3_db_config (db, SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0, NULL);
  sqlite3_db_config (db, SQLITE_DBCONFIG_DQS_DML, 0, NULL);
  sqlite3_db_config (db, SQLITE_DBCONFIG_DQS_DDL, 0, NULL);
  sqlite3_db_config (db, SQLITE_DBCONFIG_ENABLE_FKEY, 1, NULL);
  sqlite3_busy_timeout (db, 1000);
  /* Rollback journal and full sync: the file may live on a stick, a share or in
   * a synced folder, where a write-ahead log is unsafe (sqlite.org/wal.html). */
  return bed_db_exec (db,
                      "PRAGMA cell_size_check = ON; PRAGMA mmap_size = 0;"
                      "PRAGMA synchronous = FULL; PRAGMA temp_store = MEMORY;"
                      /* 32 MB: the questions of a season walk the whole file of a big farm. */
                      "PRAGMA cache_size = -32768;",
                      _ ("opening the farm"), error);
}

gboolean
bed_db_check_sound (sqlite3 *db, const char *path, GError **error)
{
  sqlite3_stmt *stmt = NULL;
  gboolean sound = FALSE;

  if (sqlite3_prepare_v2 (db, "PRAGMA quick_check (1)", -1, &stmt, NULL) == SQLITE_OK
      && sqlite3_step (stmt) == SQLITE_ROW)
    sound = g_strcmp0 ((const char *) sqlite3_column_text (stmt, 0), "ok") == 0;
  if (!sound && sqlite3_errcode (db) != SQLITE_OK
      && sqlite3_errcode (db) != SQLITE_ROW)
    bed_db_set_error (db, error, _ ("checking the farm"), path);
  else if (!sound)
    g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_CORRUPT,
                 _ ("%s is damaged. Nothing was changed; open the latest backup."), path);
  sqlite3_finalize (stmt);
  return sound;
}

sqlite3 *
bed_db_open (const char *path, int flags, GError **error)
{
  sqlite3 *db = NULL;

  /* No lock around each call: a farm is of one thread, another thread opens its own. */
  if (sqlite3_open_v2 (path, &db, flags | SQLITE_OPEN_NOMUTEX, NULL) != SQLITE_OK)
    bed_db_set_error (db, error, _ ("opening the farm"), path);
  else if (configure (db, error))
    return db;
  sqlite3_close_v2 (db);
  return NULL;
}
