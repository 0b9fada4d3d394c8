#include "model/farm/output.h"

#include <errno.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <sqlite3.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "model/farm/kinds.h"

#define HEAD 128    /* bytes that tell what a file is */
#define ZIP_NAME 30 /* where the name of the first file in a ZIP stands: APPNOTE.TXT, 4.3.7 */

typedef enum
{
  HOLDS_OTHER,
  HOLDS_WORKBOOK,
  HOLDS_PAPER,
  HOLDS_RECORDS,
  HOLDS_MATCHING,
  HOLDS_DATABASE,
  HOLDS_JOURNAL,
  HOLDS_UNKNOWN, /* it cannot be read */
} Holds;

static gboolean
begins (const guint8 *head, const char *const *words)
{
  for (; *words; words++)
    if (memcmp (head, *words, strlen (*words)) == 0)
      return TRUE;
  return FALSE;
}

/* The name of a field in front of the first comma, unit or line end. */
static gboolean
begins_with_field (const guint8 *head)
{
  gboolean marked = memcmp (head, "\xef\xbb\xbf", 3) == 0;
  const char *text = (const char *) head + (marked ? 3 : 0);
  g_autofree char *name = g_strndup (text, strspn (text, "abcdefghijklmnopqrstuvwxyz_"));

  for (BedKind kind = 0; *name && kind < BED_N_KINDS; kind++)
    if (bed_kind_find_field (kind, name, NULL))
      return TRUE;
  return FALSE;
}

/* SQLite file format, 1.3 and 3; Office Open XML's first files, in the orders that programs write
 * them in; the first bytes of what Cairo writes. */
static Holds
tell (const guint8 *head)
{
  static const char *const parts[] = { "[Content_Types].xml", "_rels/", "xl/", "docProps/", NULL };
  static const char *const papers[] = { "%PDF-", "%!PS", "\x89PNG\r\n", "<?xml", "<svg", NULL };
  static const char *const matchings[] = { "[matching]", NULL };
  static const guint8 journal[] = { 0xd9, 0xd5, 0x05, 0xf9, 0x20, 0xa1, 0x63, 0xd7 };

  if (memcmp (head, "SQLite format 3", sizeof "SQLite format 3") == 0)
    return HOLDS_DATABASE;
  if (memcmp (head, journal, sizeof journal) == 0)
    return HOLDS_JOURNAL;
  if (memcmp (head, "PK\3\4", 4) == 0)
    return begins (head + ZIP_NAME, parts) ? HOLDS_WORKBOOK : HOLDS_OTHER;
  return begins (head, papers)      ? HOLDS_PAPER
         : begins (head, matchings) ? HOLDS_MATCHING
         : begins_with_field (head) ? HOLDS_RECORDS
                                    : HOLDS_OTHER;
}

/* Through SQLite, never by open() and close(): closing any descriptor of a file lets go of all
 * locks this process has on it (POSIX), and it may be a farm with a change under way. */
static Holds
look_into (const char *path)
{
  guint8 head[HEAD + 1] = { 0 }; /* ends as a text */
  sqlite3 *db = NULL;
  sqlite3_file *file = NULL;
  int status = sqlite3_open_v2 (path, &db, SQLITE_OPEN_READONLY, NULL);

  if (status == SQLITE_OK)
    status = sqlite3_file_control (db, "main", SQLITE_FCNTL_FILE_POINTER, &file);
  if (status == SQLITE_OK && file->pMethods)
    status = file->pMethods->xRead (file, head, HEAD, 0);
  sqlite3_close (db);
  return status == SQLITE_OK || status == SQLITE_IOERR_SHORT_READ ? tell (head) : HOLDS_UNKNOWN;
}

static gboolean
is_database (const char *path)
{
  GStatBuf there;

  return g_stat (path, &there) == 0 && S_ISREG (there.st_mode)
         && look_into (path) == HOLDS_DATABASE;
}

/* "hill.bedlog-journal" beside hill.bedlog: SQLite would take it for a change to be rolled back. */
static gboolean
is_beside_database (const char *path)
{
  static const char *const endings[] = { "-journal", "-wal", "-shm" };

  for (guint i = 0; i < G_N_ELEMENTS (endings); i++)
    if (g_str_has_suffix (path, endings[i]))
      {
        g_autofree char *base = g_strndup (path, strlen (path) - strlen (endings[i]));
        return is_database (base);
      }
  return FALSE;
}

/* Why nothing may be written over what is there; NULL when it may. */
static const char *
find_reason (const char *path, BedOutputKind kind, const GStatBuf *there)
{
  static const Holds like[] = { [BED_OUTPUT_FARM] = HOLDS_UNKNOWN,
                                [BED_OUTPUT_WORKBOOK] = HOLDS_WORKBOOK,
                                [BED_OUTPUT_PAPER] = HOLDS_PAPER,
                                [BED_OUTPUT_RECORDS] = HOLDS_RECORDS,
                                [BED_OUTPUT_MATCHING] = HOLDS_MATCHING };
  if (S_ISDIR (there->st_mode))
    return N_ ("%s is a folder. Name a file in it.");
  if (!S_ISREG (there->st_mode))
    return N_ ("%s is no plain file. Give another name.");
  Holds holds = there->st_size ? look_into (path) : like[kind];

  switch (holds)
    {
    case HOLDS_DATABASE:
      return N_ ("%s is a farm, or another database: nothing is written over it. Give another "
                 "name.");
    case HOLDS_JOURNAL:
      return N_ ("%s belongs to a farm: it holds a change cut short. Give another name.");
    case HOLDS_UNKNOWN:
      if (there->st_size == 0)
        break;
      return N_ ("%s cannot be read, so what would be lost is not known. Give another name.");
    case HOLDS_OTHER:
    case HOLDS_WORKBOOK:
    case HOLDS_PAPER:
    case HOLDS_RECORDS:
    case HOLDS_MATCHING:
    default:
      break;
    }
  if (g_str_has_suffix (path, ".bedlog"))
    return N_ ("%s is named as a farm is, and may be a damaged one. Give another name.");
  return holds == like[kind]
             ? NULL
             : N_ ("%s holds something else than what is to be written. Give another name, or "
                   "take it away.");
}

char *
bed_output_dup_target (const char *path, BedOutputKind kind, GError **error)
{
  g_return_val_if_fail (path != NULL, NULL);
  GStatBuf there;
  const char *reason = NULL;
  gboolean exists = g_lstat (path, &there) == 0;
  /* realpath(3) allocates with malloc, as g_free frees. */
  g_autofree char *target = exists && S_ISLNK (there.st_mode) ? realpath (path, NULL)
                                                              : g_strdup (path);

  if (strcmp (path, "-") == 0)
    reason = N_ ("%s is standard output, where this cannot be written. Give a name.");
  else if (!target || (exists && g_stat (target, &there) != 0))
    reason = N_ ("%s is a link that leads nowhere. Give another name.");
  else if (is_beside_database (target))
    reason = N_ ("%s is kept for the farm beside it. Give another name.");
  else if (exists)
    reason = find_reason (target, kind, &there);
  if (!reason)
    return g_steal_pointer (&target);
  g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID, _ (reason), path);
  return NULL;
}
