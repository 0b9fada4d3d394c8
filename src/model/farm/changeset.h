#pragma once

#include "model/farm/farm.h"
#include <sqlite3.h>

/* SQLite session changesets: what a commit did to the tables, kept so that it can
 * be taken back. Model room only. */

typedef struct
{
  void *data; /* sqlite3_malloc */
  int size;
} BedChangeset;

void bed_changeset_clear (BedChangeset *changeset);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (BedChangeset, bed_changeset_clear)

/* Whether the bytes have the form of a changeset over tables of a farm, whole to the last byte.
 * Nothing else may be handed to the functions below: SQLite trusts what it reads. */
gboolean bed_changeset_is_sound (const BedChangeset *changeset);

/* Watches every record table from now on; NULL and an error when it cannot. */
sqlite3_session *bed_changeset_watch (BedFarm *farm, GError **error);
gboolean bed_changeset_take (BedFarm *farm, sqlite3_session *session, BedChangeset *changeset,
                             GError **error);
gboolean bed_changeset_invert (BedFarm *farm, const BedChangeset *changeset, BedChangeset *inverted,
                               GError **error);

/* Within a transaction. CONFLICT when the tables are not as the changeset found them. */
gboolean bed_changeset_apply (BedFarm *farm, const BedChangeset *changeset, GError **error);

/* A row that was added, changed or removed, while it is walked over. */
typedef struct
{
  BedKind kind;
  gint64 id;
  int operation; /* SQLITE_INSERT, SQLITE_UPDATE or SQLITE_DELETE */
  sqlite3_changeset_iter *iter;
} BedChangesetRow;

/* Every row of a table of the farm, in the order of the changeset, which is sound. */
void bed_changeset_walk (const BedChangeset *changeset,
                         void (*visit) (const BedChangesetRow *row, gpointer data), gpointer data);

/* Sets the fields of @record to what the row had before or has after; what an update left alone
 * stays, and what is neither a whole number nor good text is unset. */
typedef int (*BedChangesetHalf) (sqlite3_changeset_iter *iter, int column, sqlite3_value **value);
void bed_changeset_row_read (const BedChangesetRow *row, BedChangesetHalf half, BedRecord *record);

/* The kinds a changeset touches, as bits. */
guint64 bed_changeset_kinds (const BedChangeset *changeset);

/* One row of table change; role is "do", "undo" or "redo". */
typedef struct
{
  const char *sentence;
  const char *role;
  gint64 undoes; /* 0: none */
} BedChangeEntry;

/* Adds the row; its id, or 0. */
gint64 bed_changeset_record (BedFarm *farm, const BedChangeEntry *entry,
                             const BedChangeset *changeset, GError **error);
