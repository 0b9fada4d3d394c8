#pragma once

#include "model/farm/farm.h"
#include <sqlite3.h>

G_BEGIN_DECLS

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

G_END_DECLS
