#pragma once

#include "model/farm/farm_private.h"

/* Others at work on the same file: what they changed, when they hold it, and whether
 * it is still there. Model room only. */

/* The farm has just been opened. */
void bed_farm_watch_begin (BedFarm *self);

/* READ_ONLY when nothing can be written, and why. */
gboolean bed_farm_check_writable (BedFarm *self, GError **error);

/* A transaction that writes: READ_ONLY when the file is not where it was, BUSY when another
 * holds it. Ids given from then on are above all that others have given to changes. */
gboolean bed_farm_begin_writing (BedFarm *self, GError **error);

/* A transaction to see what would be: nothing written in it is kept, and bed_farm_give_up_writing()
 * ends it. It waits for nobody, and asks for the lock only when something is written: from then
 * on others cannot write. */
gboolean bed_farm_begin_trying (BedFarm *self, GError **error);

/* Commits: @change is the row of table change (0: none), @kinds what it touched. On FALSE the
 * transaction is still open. bed_farm_tell() then tells the views, of what others did too. */
gboolean bed_farm_end_writing (BedFarm *self, gint64 change, guint64 kinds, GError **error);
void bed_farm_tell (BedFarm *self);

/* Within a transaction that writes: whether others changed records of @kind since the views were
 * told. */
gboolean bed_farm_is_unseen (BedFarm *self, BedKind kind);

/* Rolls back. */
void bed_farm_give_up_writing (BedFarm *self);

/* Refuses with CONFLICT what would take back or do again something the views have not been
 * told of. Within a transaction that writes. */
gboolean bed_farm_check_seen (BedFarm *self, GError **error);
