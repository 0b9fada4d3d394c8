#pragma once

#include "app/widgets/part.h"
#include "model/farm/farm.h"
#include <gtk/gtk.h>

/* One stand: what stands there and what a thinning takes. */
#define BED_TYPE_STAND_DETAIL (bed_stand_detail_get_type ())
G_DECLARE_FINAL_TYPE (BedStandDetail, bed_stand_detail, BED, STAND_DETAIL, BedPart)

GtkWidget *bed_stand_detail_new (BedFarm *farm);
gboolean bed_stand_detail_show (GtkWidget *detail, gint64 stand, GError **error);
