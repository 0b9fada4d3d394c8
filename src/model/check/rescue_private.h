#pragma once

#include "model/check/rescue.h"
#include <sqlite3.h>

/* One row of table change, as far as it can be read. */
typedef struct
{
  gint64 id, undoes, undone_by; /* 0: none */
  char *at, *who, *sentence, *role;
  GBytes *changeset;
} BedRescueChange;

/* What was read of a file. */
typedef struct
{
  GHashTable *records[BED_N_KINDS]; /* id (gint64) -> BedRecord */
  GHashTable *missing[BED_N_KINDS]; /* ids that an index knows and no row has */
  gboolean damaged[BED_N_KINDS];    /* not every page of its table could be read */
  GPtrArray *changes;               /* BedRescueChange, oldest first */
  gboolean changes_damaged;
  GPtrArray *notes; /* of what had to be put right while reading */
} BedRescueRead;

/* rescue_read.c: never NULL; what cannot be read is not in it. */
BedRescueRead *bed_rescue_read (GBytes *bytes);
void bed_rescue_read_free (BedRescueRead *self);
gint64 bed_rescue_read_count (const BedRescueRead *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedRescueRead, bed_rescue_read_free)

void bed_rescue_note (GPtrArray *notes, BedRescueFate fate, BedKind kind, gint64 id,
                      const char *format, ...) G_GNUC_PRINTF (5, 6);

/* rescue_history.c */

/* Records of damaged tables that the changes still tell of, into @read. */
void bed_rescue_recall (BedRescueRead *read);

/* In a transaction on @db, which holds the saved records and no history: writes the changes that
 * can be taken back from there, and before them one that brought whatever they did not. How many
 * of @read's were kept; -1 on an error. */
gint64 bed_rescue_write_history (sqlite3 *db, const BedRescueRead *read, const char *from,
                                 GError **error);

/* rescue_write.c: the records; what was saved and what not goes into @rescue. */
gboolean bed_rescue_write_records (sqlite3 *db, BedRescueRead *read, BedRescue *rescue,
                                   GError **error);
