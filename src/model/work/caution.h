#pragma once

#include "model/farm/farm.h"

/* What hurts in the work that a record like @record is written about, and what is asked about it
 * first: sentences that defer to local rules and licensed practice. With what the farm knows of
 * the record: the quarantines its wood is under, water that nobody tested. docs/safety.md lists
 * them all. NULL where there is nothing to say. (transfer full) */
char *bed_caution_dup (BedFarm *farm, BedRecord *record);
