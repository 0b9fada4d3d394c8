#pragma once

#include "model/farm.h"

/* A small invented farm of two seasons, the same bytes each time, open in the run's
 * folder. */
BedFarm *fuzz_farm_new (const char *name, int logs);
