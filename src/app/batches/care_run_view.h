#pragma once

#include "app/widgets/part.h"
#include "model/farm/farm.h"
#include <gtk/gtk.h>

/* Care of a batch, second part: how far the spawn has run and when it will be through. */
#define BED_TYPE_CARE_RUN_VIEW (bed_care_run_view_get_type ())
G_DECLARE_FINAL_TYPE (BedCareRunView, bed_care_run_view, BED, CARE_RUN_VIEW, BedPart)

BedCareRunView *bed_care_run_view_new (BedFarm *farm);
void bed_care_run_view_show (BedCareRunView *self, gint64 batch);
