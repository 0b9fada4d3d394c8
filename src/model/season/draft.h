#pragma once

#include "model/farm/farm.h"

/* A new record as it most likely will be, to be typed on: today's date or the moment where one is
 * needed, a batch with the pattern of the last one. Owned by the caller. */
BedRecord *bed_draft_new (BedFarm *farm, BedKind kind);
