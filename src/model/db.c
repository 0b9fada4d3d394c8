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

/* Bytes of one value: the record of an import of hundreds of thousands is the largest. */
#define LONGEST (128 << 20)

void
bed_db_set_damaged (GError **error, const char *path)
{
  g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_CORRUPT,
               _ ("%s is damaged. Nothing was changed. Restore a copy of it: Backups in the menu, "
                  "or bedlog-tool restore."),
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
  int code = db ? sqlite3_errcode (db) : SQLITE_NOMEM;

  switch (code)
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
    case SQLITE_READONLY:
    case SQLITE_PERM:
    case SQLITE_CANTOPEN:
      if (db && sqlite3_extended_errcode (db) == SQLITE_READONLY_ROLLBACK)
        {
          set_half_done (error, path);
          break;
        }
      g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_READ_ONLY,
                   _ ("%s cannot be written to. Check who may write there, or save a copy."),
                   path);
      break;
    case SQLITE_CORRUPT:
    case SQLITE_NOTADB:
      bed_db_set_damaged (error, path);
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

static guint32
big_endian (const guchar *at)
{
  return (guint32) at[0] << 24 | (guint32) at[1] << 16 | (guint32) at[2] << 8 | at[3];
}

/* Up to the header's length of the file; -1 with an error. */
static gssize
read_start (const char *path, guchar bytes[BED_DB_HEADER_SIZE], struct stat *info, GError **error)
{
  /* A pipe that nobody writes to must not hold us up. */
  int fd = g_open (path, O_RDONLY | O_CLOEXEC | O_NONBLOCK, 0);
  gssize got = -1;

  if (fd >= 0 && fstat (fd, info) == 0)
    got = S_ISREG (info->st_mode) ? read (fd, bytes, BED_DB_HEADER_SIZE) : 0;
  if (got < 0)
    {
      int code = errno;
      g_set_error (error, BED_FARM_ERROR,
                   code == ENOENT ? BED_FARM_ERROR_NOT_FOUND : BED_FARM_ERROR_FAILED,
                   _ ("%s cannot be opened: %s."), path, g_strerror (code));
    }
  if (fd >= 0)
    close (fd);
  return got;
}

gboolean
bed_db_read_header (const char *path, BedDbHeader *header, GError **error)
{
  guchar bytes[BED_DB_HEADER_SIZE] = { 0 };
  struct stat info;
  gssize got = read_start (path, bytes, &info, error);

  if (got < 0)
    return FALSE;
  gboolean ours = got == BED_DB_HEADER_SIZE && memcmp (bytes, "SQLite format 3", 16) == 0
                  && big_endian (bytes + 68) == BED_APPLICATION_ID;
  header->journal = S_ISREG (info.st_mode) ? bed_journal_look (path) : BED_JOURNAL_NONE;
  /* The first page itself may be what was being written: SQLite mends it first. */
  if (!ours && !(header->journal == BED_JOURNAL_OWN && memcmp (bytes, "SQLite format 3", 16) != 0))
    {
      g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_NOT_A_FARM,
                   _ ("%s is not a Bedlog farm. Farm files are made by Bedlog and end in .bedlog."),
                   path);
      return FALSE;
    }
  header->version = (int) big_endian (bytes + 60);
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
  /* A farm file has none of its own; the temporary views of the program still work. */
  sqlite3_db_config (db, SQLITE_DBCONFIG_ENABLE_TRIGGER, 0, NULL);
  sqlite3_db_config (db, SQLITE_DBCONFIG_ENABLE_VIEW, 0, NULL);
  sqlite3_limit (db, SQLITE_LIMIT_LENGTH, LONGEST);
  sqlite3_busy_timeout (db, 1000);
  /* Rollback journal and full sync: the file may live on a stick, a share or in
   * a synced folder, where a write-ahead log is unsafe (sqlite.org/wal.html). Extra: the
   * folder is synced too when the journal is gone, before a change counts as saved. */
  return bed_db_exec (db,
                      "PRAGMA cell_size_check = ON; PRAGMA mmap_size = 0;"
                      "PRAGMA synchronous = EXTRA; PRAGMA temp_store = MEMORY;"
                      /* 32 MB: the questions of a season walk the whole file of a big farm. */
                      "PRAGMA cache_size = -32768;",
                      _ ("opening the farm"), error);
}

gboolean
bed_db_recover (sqlite3 *db, const char *path, GError **error)
{
  /* The first reading rolls back what was cut off. */
  if (sqlite3_exec (db, "SELECT count (*) FROM main.sqlite_schema", NULL, NULL, NULL) == SQLITE_OK)
    return TRUE;
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
