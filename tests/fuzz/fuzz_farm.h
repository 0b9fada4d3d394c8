#pragma once

#include <stdint.h>

#include "model/farm/farm.h"

/* A small invented farm of two seasons, the same bytes each time, open in the run's
 * folder. */
BedFarm *fuzz_farm_new (const char *name, int logs);

/* The bytes of one with some changed: five bytes of input a change (three the place, one how many
 * bytes less one, one the first of them, which the others count up from), and one byte left over
 * cuts the file to that share of 256. */
char *fuzz_farm_dup_changed (const uint8_t *data, size_t size, gsize *kept);
