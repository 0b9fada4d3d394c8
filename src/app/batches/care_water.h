#pragma once

#include "app/widgets/part.h"
#include "model/farm/farm.h"
#include <gtk/gtk.h>

/* Care of a batch, first part: moisture of its sample logs, where it is heading and what a
 * soak does. */
#define BED_TYPE_CARE_WATER (bed_care_water_get_type ())
G_DECLARE_FINAL_TYPE (BedCareWater, bed_care_water, BED, CARE_WATER, BedPart)

BedCareWater *bed_care_water_new (BedFarm *farm);
void bed_care_water_show (BedCareWater *self, gint64 batch);

/* "about 20 Oct (5 Sep – 2 Dec)"; @early and @late NULL when beyond what is looked ahead, all
 * NULL: "cannot be told yet". (transfer full). */
char *bed_care_dup_when (const char *likely, const char *early, const char *late);
