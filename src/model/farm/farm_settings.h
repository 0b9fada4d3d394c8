#pragma once

#include "model/farm/record.h"

/* Weeks between soaks where neither strain nor farm says: 7 to 9 in the sources that due_rules.c
 * names. */
#define BED_REST_WEEKS 8

/* Settings (kind FARM) with what a new farm begins with: metric, USD, north, the
 * calendar year as season, and the limits on which the published sources differ
 * (docs/sources.md, log moisture, days to inoculation), every one to be changed. The
 * name is left to be set. Transfers the record. */
BedRecord *bed_farm_settings_new (void);
