#pragma once

#include "model/farm/farm.h"
#include "yard/yard.h"

/* Into the stacks of @yard what lay in them at the end of @date, each number asked once for all of
 * them. FALSE when the farm cannot be read. */
gboolean bed_yard_load_logs (BedYard *yard, BedFarm *farm, const char *date, GError **error);
