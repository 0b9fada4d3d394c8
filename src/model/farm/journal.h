#pragma once

#include <glib.h>

/* For the model room only: the rollback journal that SQLite leaves beside a farm when a change
 * was cut off (https://sqlite.org/fileformat2.html, section 3). */

typedef enum
{
  BED_JOURNAL_NONE,    /* none, or one that asks for nothing */
  BED_JOURNAL_OWN,     /* of this file, or too short to tell: SQLite mends the file with it */
  BED_JOURNAL_FOREIGN, /* of another file or another day: mending with it would mix the two */
} BedJournalState;

/* A number as SQLite's files hold it. */
static inline guint32
bed_db_number (const guchar *at)
{
  return (guint32) at[0] << 24 | (guint32) at[1] << 16 | (guint32) at[2] << 8 | at[3];
}

/* "…/Hill.bedlog-journal"; owned by the caller. */
char *bed_journal_dup_path (const char *path);

/* What lies beside the file at @path that begins with @start, 32 bytes at least. Reads only,
 * and not the file itself, whose locks it would give up. */
BedJournalState bed_journal_look (const char *path, const guchar *start);
