#pragma once

#include "app/widgets/part.h"

/* What a new farm begins with, in the order it is done: each step ticked by what is there, with a
 * button that goes where it is done. Not seen once all are done. */
#define BED_TYPE_FIRST_STEPS (bed_first_steps_get_type ())
G_DECLARE_FINAL_TYPE (BedFirstSteps, bed_first_steps, BED, FIRST_STEPS, BedPart)

BedFirstSteps *bed_first_steps_new (BedFarm *farm);
gboolean bed_first_steps_refresh (BedFirstSteps *self, GError **error);
