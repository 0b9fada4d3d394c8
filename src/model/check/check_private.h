#pragma once

#include "model/check/check.h"
#include <sqlite3.h>

/* What bed_check_farm() is put together from. */

typedef struct
{
  BedFarm *farm;
  BedCheckup *checkup;
  GCancellable *cancellable;
  GHashTable *unreadable; /* "kind id" of records with a text that is none: no rule is asked */
} BedChecking;

/* Past the thousandth fault of a part only that there are more is said. */
void bed_checking_add (BedChecking *self, BedCheckPart part, BedFaultSeverity severity,
                       const char *format, ...) G_GNUC_PRINTF (4, 5);

/* check_values.c */
gboolean bed_check_values (BedChecking *self, GError **error);

/* check_history.c */
/* What is in @db (the farm @path), in a database of its own without a name: in memory while that
 * is small, gone when closed. */
sqlite3 *bed_check_copy (sqlite3 *db, const char *path, GError **error);
gboolean bed_check_history (BedChecking *self, GError **error);

/* Takes back every change that @db (a copy, at liberty to be changed) has stored, newest
 * first. Stops at the first that cannot be and leaves @db as it was before that one. */
typedef struct
{
  gint64 taken_back;
  gint64 failed; /* the change that cannot be; 0: none */
} BedWalk;
gboolean bed_check_walk_back (sqlite3 *db, GCancellable *cancellable, BedWalk *walk,
                              GError **error);

/* check_views.c; also whether each view has its slow one. */
gboolean bed_check_views (BedChecking *self, GError **error);
