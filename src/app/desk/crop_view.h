#pragma once

#include "app/widgets/part.h"
#include "model/farm/farm.h"
#include <gtk/gtk.h>

/* What all seasons so far taught: strain by wood with intervals, how long logs last, and what
 * the season ahead should bring. */
#define BED_TYPE_CROP_VIEW (bed_crop_view_get_type ())
G_DECLARE_FINAL_TYPE (BedCropView, bed_crop_view, BED, CROP_VIEW, BedPart)

BedCropView *bed_crop_view_new (BedFarm *farm);
gboolean bed_crop_view_refresh (BedCropView *self, GError **error);
