#pragma once

#include "app/widgets/part.h"
#include "model/farm/farm.h"
#include <gtk/gtk.h>

/* Care of one batch: water, spawn run, last checks, and the short forms that record them. */
#define BED_TYPE_CARE_VIEW (bed_care_view_get_type ())
G_DECLARE_FINAL_TYPE (BedCareView, bed_care_view, BED, CARE_VIEW, BedPart)

BedCareView *bed_care_view_new (BedFarm *farm);
void bed_care_view_show (BedCareView *self, gint64 batch);
