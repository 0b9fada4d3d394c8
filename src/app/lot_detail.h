#pragma once

#include <gtk/gtk.h>
#include "model/farm.h"

G_BEGIN_DECLS

/* A lot read: how much of it there is, where it came from (logs, batch, spawn, felling) and
 * who got it. */
#define BED_TYPE_LOT_DETAIL (bed_lot_detail_get_type ())
G_DECLARE_FINAL_TYPE (BedLotDetail, bed_lot_detail, BED, LOT_DETAIL, GtkWidget)

GtkWidget *bed_lot_detail_new (BedFarm *farm);
void bed_lot_detail_show (GtkWidget *detail, gint64 lot);

G_END_DECLS
