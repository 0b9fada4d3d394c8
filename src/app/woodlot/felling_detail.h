#pragma once

#include "app/widgets/part.h"
#include "model/farm/farm.h"
#include <gtk/gtk.h>

/* One felling: trees -> bolts -> batches. */
#define BED_TYPE_FELLING_DETAIL (bed_felling_detail_get_type ())
G_DECLARE_FINAL_TYPE (BedFellingDetail, bed_felling_detail, BED, FELLING_DETAIL, BedPart)

GtkWidget *bed_felling_detail_new (BedFarm *farm);
gboolean bed_felling_detail_show (GtkWidget *detail, gint64 felling, GError **error);
