#pragma once

#include "model/farm/edit.h"
#include <gio/gio.h>

/* What is looked at, in this order. */
typedef enum
{
  BED_CHECK_PAGES,      /* the file page by page: SQLite's integrity_check */
  BED_CHECK_REFERENCES, /* every reference leads somewhere */
  BED_CHECK_VALUES,     /* ids above 0, types, UTF-8 and control characters of every text */
  BED_CHECK_RULES,      /* every rule on every record, as if each were entered today */
  BED_CHECK_HISTORY,    /* who undid whom, and every change taken back on a copy */
  BED_CHECK_QUESTIONS,  /* every view of views.sql against slow.sql */
  BED_N_CHECKS
} BedCheckPart;

typedef enum
{
  BED_CHECK_USUAL, /* the questions only of a farm small enough for them */
  BED_CHECK_ALL,   /* minutes on a farm of 20,000 logs */
} BedCheckDepth;

typedef struct
{
  GPtrArray *faults[BED_N_CHECKS]; /* element BedFault, warnings too; a thousand at most */
  gint64 looked_at[BED_N_CHECKS];  /* pages, references, values, records, changes, rows */
  gboolean left_out[BED_N_CHECKS]; /* not looked at: BED_CHECK_USUAL, or it rests on a part at
                                      fault */
} BedCheckup;

/* Looks at everything about a farm that can be checked. Reads only; what is tried is tried on
 * a copy. NULL with an error when the file cannot be read or @cancellable (may be NULL) was
 * cancelled. */
BedCheckup *bed_check_farm (BedFarm *farm, BedCheckDepth depth, GCancellable *cancellable,
                            GError **error);
void bed_checkup_free (BedCheckup *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedCheckup, bed_checkup_free)

/* How many faults of that severity were found, in all parts. */
guint bed_checkup_count (const BedCheckup *self, BedFaultSeverity severity);

/* "1,204 records, by every rule"; owned by the caller. */
char *bed_checkup_dup_looked_at (const BedCheckup *self, BedCheckPart part);

/* What to do about faults of that part, in a sentence; static. */
const char *bed_check_get_mend (BedCheckPart part);

/* "log 26A-017-K", "pick of 2026-05-18": what people call a record that a fault is
 * about; owned by the caller. */
char *bed_check_dup_name (BedFarm *farm, BedRecord *record);
