#pragma once

#include "model/farm.h"

/* A small invented farm, the same bytes each time, open in the run's folder; it stays open. */
BedFarm *fuzz_farm_new (const char *name);
