#pragma once

#include "model/farm/record.h"

G_BEGIN_DECLS

/* Settings (kind FARM) with what a new farm begins with: metric, USD, north, the
 * calendar year as season, and the limits on which the published sources differ
 * (docs/sources.md, log moisture, days to inoculation), every one to be changed. The
 * name is left to be set. Transfers the record. */
BedRecord *bed_farm_settings_new (void);

G_END_DECLS
