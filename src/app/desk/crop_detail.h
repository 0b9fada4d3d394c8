#pragma once

#include "model/farm/farm.h"
#include <gtk/gtk.h>

/* A sale read with its lines, a soak with its logs and what they gave: for BedBrowserSpec. */

GtkWidget *bed_sale_detail_new (BedFarm *farm);
gboolean bed_sale_detail_show (GtkWidget *detail, gint64 sale, GError **error);

GtkWidget *bed_soak_detail_new (BedFarm *farm);
gboolean bed_soak_detail_show (GtkWidget *detail, gint64 soak, GError **error);
