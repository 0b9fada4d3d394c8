#pragma once

#include "model/farm/farm.h"

/* The wood that people call @name as a new farm has it: density, what it suits, cautions, source;
 * a record of no farm yet. NULL where no wood, or more than one, is called that. A farm made
 * before it was given has it by this. (transfer full) */
BedRecord *bed_given_new_wood (BedFarm *farm, const char *name);
