/* The SQLite file under a farm: looked at before it is opened, set up, and its
 * errors put in words. */
#include "model/farm/farm_private.h"

#include <errno.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "model/farm/pages.h"

void
bed_db_set_damaged (GError **error, const char *path)
{
  g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_CORRUPT,
               _ ("%s is damaged. Nothing was changed. Restore a copy of it: Backups in the menu, "
                  "or bedlog-tool restore. Where there is no copy, bedlog-tool rescue saves what "
                  "can be read."),
               path);
}

static void
set_half_done (GError **error, const char *path)
{
  g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_READ_ONLY,
               _ ("A change of %s was cut off, and it can be mended only where it may be written "
                  "to. Copy the file and %s-journal together to such a place and open it there."),
               path, path);
}

void
bed_db_set_error (sqlite3 *db, GError **error, const char *doing, const char *path)
{
  bed_db_set_status_error (db, db ? sqlite3_errcode (db) : SQLITE_NOMEM, error, doing, path);
}

void
bed_db_set_status_error (sqlite3 *db, int code, GError **error, const char *doing, const char *path)
{
  switch (code & 0xff)
    {
    case SQLITE_NOMEM:
      g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_FAILED,
                   _ ("There was not enough memory while %s. Nothing was written; close other "
                      "programs and try again."),
                   doing);
      break;
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
    case SQLITE_TOOBIG:
      g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID,
                   _ ("That is too much at once while %s. Nothing was written; do it in parts."),
                   doing);
      break;
    case SQLITE_READONLY:
    case SQLITE_PERM:
    case SQLITE_CANTOPEN:
      if (db && sqlite3_extended_errcode (db) == SQLITE_READONLY_ROLLBACK)
        {
          set_half_done (error, path);
          break;
        }
      g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_READ_ONLY,
                   _ ("%s cannot be written to. Check who may write there, or save a copy."), path);
      break;
    case SQLITE_CORRUPT:
    case SQLITE_NOTADB:
      bed_db_set_damaged (error, path);
      break;
    case SQLITE_CONSTRAINT:
      g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_CONFLICT,
                   _ ("Records of the farm contradict each other, which stood in the way of %s. "
                      "Nothing was changed; bedlog-tool check tells which."),
                   doing);
      break;
    case SQLITE_IOERR:
      g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_FAILED,
                   _ ("The disk of %s could not be read or written while %s."), path, doing);
      break;
    default:
      g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_FAILED,
                   _ ("Something went wrong while %s: %s."), doing,
                   db && code != SQLITE_OK && code != SQLITE_ROW && code != SQLITE_DONE
                       ? sqlite3_errmsg (db)
                       : _ ("the farm file gave no reason"));
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

gint64
bed_db_ask (sqlite3 *db, const char *sql)
{
  sqlite3_stmt *stmt = NULL;
  gint64 number = 0;

  if (sqlite3_prepare_v2 (db, sql, -1, &stmt, NULL) == SQLITE_OK
      && sqlite3_step (stmt) == SQLITE_ROW)
    number = sqlite3_column_int64 (stmt, 0);
  sqlite3_finalize (stmt);
  return number;
}

static gboolean
find_file (const char *path, struct stat *info, GError **error)
{
  if (stat (path, info) != 0)
    return bed_farm_refuse (error,
                            errno == ENOENT ? BED_FARM_ERROR_NOT_FOUND : BED_FARM_ERROR_FAILED,
                            _ ("%s cannot be opened: %s."), path, g_strerror (errno));
  return TRUE;
}

static void
set_not_a_farm (GError **error, const char *path)
{
  g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_NOT_A_FARM,
               _ ("%s is not a Bedlog farm. Farm files are made by Bedlog and end in .bedlog."),
               path);
}

/* Through SQLite's own descriptor: closing another one of the same file would give up the
 * locks that this program holds on it (https://sqlite.org/howtocorrupt.html, 2.2). */
static void
read_start (sqlite3 *db, guchar bytes[BED_DB_HEADER_SIZE])
{
  sqlite3_file *file = NULL;

  memset (bytes, 0, BED_DB_HEADER_SIZE);
  sqlite3_file_control (db, "main", SQLITE_FCNTL_FILE_POINTER, &file);
  /* What is missing of a short file stays nought. */
  if (file && file->pMethods)
    file->pMethods->xRead (file, bytes, BED_DB_HEADER_SIZE, 0);
}

static gboolean
is_sqlite (const guchar *bytes)
{
  return memcmp (bytes, "SQLite format 3", 16) == 0;
}

static gboolean
is_ours (const guchar *bytes)
{
  return is_sqlite (bytes) && bed_db_number (bytes + 68) == BED_APPLICATION_ID;
}

gboolean
bed_db_look (sqlite3 *db, const char *path, BedDbHeader *header, GError **error)
{
  guchar bytes[BED_DB_HEADER_SIZE];

  read_start (db, bytes);
  header->journal = bed_journal_look (path, bytes);
  header->version = (int) bed_db_number (bytes + 60);
  header->newer = bed_db_number (bytes + 60) > (guint32) bed_schema_get_newest ();
  /* The first page itself may be what was being written: SQLite mends it first. */
  if (is_ours (bytes) || (header->journal == BED_JOURNAL_OWN && !is_sqlite (bytes)))
    return TRUE;
  set_not_a_farm (error, path);
  return FALSE;
}

gboolean
bed_db_is_locked (const char *path)
{
  struct stat info;

  return stat (path, &info) != 0 || !(info.st_mode & 0222) || g_access (path, W_OK) != 0;
}

/* --- opening -------------------------------------------------------------------- */

/* The recipe for files that may come from anywhere: sqlite.org/security.html. Nothing here
 * reads the file yet. */
static void
guard (sqlite3 *db)
{
  sqlite3_db_config (db, SQLITE_DBCONFIG_DEFENSIVE, 1, NULL);
  sqlite3_db_config (db, SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0, NULL);
  sqlite3_db_config (db, SQLITE_DBCONFIG_DQS_DML, 0, NULL);
  sqlite3_db_config (db, SQLITE_DBCONFIG_DQS_DDL, 0, NULL);
  sqlite3_db_config (db, SQLITE_DBCONFIG_ENABLE_FKEY, 1, NULL);
  /* A farm file has none of its own; the temporary views of the program still work. */
  sqlite3_db_config (db, SQLITE_DBCONFIG_ENABLE_TRIGGER, 0, NULL);
  sqlite3_db_config (db, SQLITE_DBCONFIG_ENABLE_VIEW, 0, NULL);
  sqlite3_limit (db, SQLITE_LIMIT_LENGTH, BED_PAGES_LONGEST);
  sqlite3_busy_timeout (db, 100); /* until the farm waits for itself: farm_watch.c */
}

sqlite3 *
bed_db_open (const char *path, int flags, GError **error)
{
  struct stat info;
  sqlite3 *db = NULL;

  if (*path && !(flags & SQLITE_OPEN_CREATE))
    {
      if (!find_file (path, &info, error))
        return NULL;
      if (!S_ISREG (info.st_mode))
        {
          set_not_a_farm (error, path);
          return NULL;
        }
    }
  /* No lock around each call: a farm is of one thread, another thread opens its own. */
  if (sqlite3_open_v2 (path, &db, flags | SQLITE_OPEN_NOMUTEX, NULL) == SQLITE_OK)
    {
      guard (db);
      return db;
    }
  bed_db_set_error (db, error, _ ("opening the farm"), path);
  sqlite3_close_v2 (db);
  return NULL;
}

gboolean
bed_db_configure (sqlite3 *db, GError **error)
{
  /* Rollback journal and full sync: the file may live on a stick, a share or in
   * a synced folder, where a write-ahead log is unsafe (sqlite.org/wal.html). Extra: the
   * folder is synced too when the journal is gone, before a change counts as saved. */
  return bed_db_exec (
      db,
      "PRAGMA cell_size_check = ON; PRAGMA mmap_size = 0;"
      "PRAGMA synchronous = EXTRA; PRAGMA temp_store = MEMORY;"
      /* 16 MB: what is asked again in a moment; the file itself is in the cache of the system. */
      "PRAGMA cache_size = -16384;",
      _ ("opening the farm"), error);
}

gboolean
bed_db_check_length (sqlite3 *db, const char *path, GError **error)
{
  guchar bytes[BED_DB_HEADER_SIZE];
  struct stat info;

  read_start (db, bytes);
  gint64 page = bytes[16] << 8 | bytes[17];
  page = page == 1 ? 65536 : page;
  if (!find_file (path, &info, error))
    return FALSE;
  if (info.st_size >= page * (gint64) bed_db_number (bytes + 28))
    return TRUE;
  return bed_farm_refuse (
      error, BED_FARM_ERROR_CORRUPT,
      _ ("%s is cut short: its end is missing. Nothing was changed. Restore a copy of it: Backups "
         "in the menu, or bedlog-tool restore."),
      path);
}

gboolean
bed_db_recover (sqlite3 *db, const char *path, GError **error)
{
  /* The first reading rolls back what was cut off. */
  if (sqlite3_exec (db, "PRAGMA main.user_version", NULL, NULL, NULL) == SQLITE_OK)
    return TRUE;
  int code = sqlite3_errcode (db);
  if ((code == SQLITE_CORRUPT || code == SQLITE_NOTADB) && !bed_db_check_length (db, path, error))
    return FALSE;
  bed_db_set_error (db, error, _ ("opening the farm"), path);
  return FALSE;
}

gboolean
bed_db_check_sound (sqlite3 *db, const char *path, GError **error)
{
  sqlite3_stmt *stmt = NULL;
  int status = sqlite3_prepare_v2 (db, "PRAGMA main.quick_check (1)", -1, &stmt, NULL);
  gboolean sound = FALSE;

  if (status == SQLITE_OK)
    status = sqlite3_step (stmt);
  if (status == SQLITE_ROW)
    sound = g_strcmp0 ((const char *) sqlite3_column_text (stmt, 0), "ok") == 0;
  if (status != SQLITE_ROW)
    bed_db_set_error (db, error, _ ("checking the farm"), path);
  else if (!sound)
    bed_db_set_damaged (error, path);
  sqlite3_finalize (stmt);
  return sound;
}
