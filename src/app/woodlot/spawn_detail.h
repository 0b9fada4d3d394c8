#pragma once

#include <gtk/gtk.h>

#include "model/farm/farm.h"

/* A spawn lot: what is known of it, and what of it was written off; see BedBrowserSpec. */
GtkWidget *bed_spawn_detail_new (BedFarm *farm);
gboolean bed_spawn_detail_show (GtkWidget *detail, gint64 spawn, GError **error);
