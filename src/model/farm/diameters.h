#pragma once

#include "model/farm/farm.h"

/* The small-end diameters of logs as they are typed in one go: "12.5", "12 12 13"; ten equal ones
 * are "10 x 12", "10x12" or "12 x10": what stands close to the x is the count, else what stands
 * before it. Each in the farm's unit or with one of its own ("5 1/4 in 5 in").
 *
 * Element gint64, um, within the limits of the field, in the order typed; (transfer full). NULL
 * with INVALID and a sentence that names what was not understood. */
GArray *bed_diameters_parse (BedFarm *farm, const char *text, GError **error);
