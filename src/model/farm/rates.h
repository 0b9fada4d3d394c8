#pragma once

#include "model/farm/farm.h"
#include <sqlite3.h>

/* Closed seasons stay closed: a labour rate of the farm's settings that is changed holds for the
 * hours before today, as a record of kind RATE. */

/* What writes that record when the settings go from @before to @after; NULL where none is needed:
 * the rate is the same, there was none, or no hours were entered at it. NULL and @error where it
 * could not be made. @before NULL: the settings are new. */
sqlite3_stmt *bed_rates_keep (BedFarm *farm, BedRecord *before, BedRecord *after, GError **error);
