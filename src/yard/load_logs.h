#pragma once

#include "model/farm/farm.h"
#include "yard/yard.h"

/* Into the stacks of @yard what lay in them at the end of @date, each number asked once for all of
 * them. FALSE when the farm cannot be read. */
gboolean bed_yard_load_logs (BedYard *yard, BedFarm *farm, const char *date, GError **error);

/* What each log of @yard gave in the season of @date up to that day, which takes a while of its
 * own: BedYardLog.picked is not known before. FALSE when the farm cannot be read. */
gboolean bed_yard_load_picked (BedYard *yard, BedFarm *farm, const char *date, GError **error);
