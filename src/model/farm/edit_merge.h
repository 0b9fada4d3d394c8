#pragma once

#include "model/farm/fault.h"

/* A loaded record meets what others made of it. For BedEdit, inside its transaction. */

/* Takes over what was changed elsewhere and not here. A fault for each field that was changed
 * on both sides (CONFLICT), or for the record when it was removed (NOT_FOUND). FALSE and an
 * error when the farm could not be asked. */
gboolean bed_edit_merge (BedFarm *farm, BedRecord *record, GPtrArray *faults, GError **error);

/* A fault when others changed records of the kind that nobody here has seen yet: one of them may
 * be what is to be removed. */
void bed_edit_add_unseen_fault (BedKind kind, GPtrArray *faults);

/* A fault when there is nothing to remove any more. */
void bed_edit_add_removed_fault (BedKind kind, GPtrArray *faults);
