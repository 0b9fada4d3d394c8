#pragma once

#include "model/farm/changeset.h"

/* Rules of today about what a change taken back, or done again, leaves. Within its transaction:
 * read what is there before the changeset is applied, check after. Model room only. */

/* What @changeset adds or changes, as it is now; free with g_ptr_array_unref(). */
GPtrArray *bed_reverse_rules_read (BedFarm *farm, const BedChangeset *changeset);

/* INVALID with the sentence of the first rule that is broken by what changed. */
gboolean bed_reverse_rules_check (BedFarm *farm, GPtrArray *touched, GError **error);
