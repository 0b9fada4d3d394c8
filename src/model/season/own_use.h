#pragma once

#include "model/farm/farm.h"
#include "science/drill.h"

/* Scales @norms to what the farm's drilled batches took, as far as two or more of them tell it:
 * spawn of the form of @how but what the plan filled in, wax, and the minutes of drilling, filling
 * and waxing unless the settings have a pace the grower measured. @but (a batch or 0) is left out:
 * a batch is not measured by itself. @batches: how many told of the spawn, 0 when fewer than two.
 */
gboolean bed_own_use_apply (BedFarm *farm, gint64 but, const BedDrillWork *how,
                            BedDrillNorms *norms, guint *batches, GError **error);
