#pragma once

#include "app/widgets/part.h"
#include "model/farm/farm.h"
#include <gtk/gtk.h>

/* A lot read: how much of it there is, what of it was dried, where it came from (logs, batch,
 * spawn, felling) and who got it. Dryings are recorded and changed here:
 * action "lot.dry" (x, the drying, 0 for a new one). */
#define BED_TYPE_LOT_DETAIL (bed_lot_detail_get_type ())
G_DECLARE_FINAL_TYPE (BedLotDetail, bed_lot_detail, BED, LOT_DETAIL, BedPart)

GtkWidget *bed_lot_detail_new (BedFarm *farm);
gboolean bed_lot_detail_show (GtkWidget *detail, gint64 lot, GError **error);
