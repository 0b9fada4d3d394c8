#pragma once

#include "model/farm/farm.h"
#include "yard/yard.h"

/* The area as it lay on @date (YYYY-MM-DD): the stacks that stood there, each where it stood, and
 * the logs in them at the end of that day, all but what load_logs.h loads by itself. What else is
 * on the ground has no days. Owned by the caller; NULL with BED_FARM_ERROR_NOT_FOUND. */
BedYard *bed_yard_load (BedFarm *farm, gint64 area, const char *date, GError **error);

/* The days on which anything in the area changed (a stack built, moved or taken down, a log moved),
 * from the first to the last; element char *, owned. For a slider. */
GPtrArray *bed_yard_days (BedFarm *farm, gint64 area, GError **error);

/* An empty stack of that kind with the farm's rules for it; in no yard. */
BedYardStack *bed_yard_stack_new_for (BedFarm *farm, BedStackKind kind);
