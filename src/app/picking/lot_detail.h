#pragma once

#include "app/widgets/part.h"
#include "model/farm/farm.h"
#include <gtk/gtk.h>

/* A lot read: how much of it there is, what of it was dried, where it came from (logs, batch,
 * spawn, felling) and who got it. Dryings are recorded and changed here. */
#define BED_TYPE_LOT_DETAIL (bed_lot_detail_get_type ())
G_DECLARE_FINAL_TYPE (BedLotDetail, bed_lot_detail, BED, LOT_DETAIL, BedPart)

GtkWidget *bed_lot_detail_new (BedFarm *farm);
gboolean bed_lot_detail_show (GtkWidget *detail, gint64 lot, GError **error);

/* Opens the form of a drying: of a new one, with what is left of the lot as the fresh mass, when
 * @drying is 0. */
void bed_lot_detail_dry (BedLotDetail *self, gint64 drying);
