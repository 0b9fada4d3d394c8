#pragma once

#include "model/farm/farm.h"
#include <gtk/gtk.h>

/* What each season cost and earned, the latest first, in @grid; the one of @season stands out. Of
 * many seasons the last dozen: the workbooks have the rest. */
gboolean bed_money_seasons_show (GtkWidget *grid, BedFarm *farm, int season, GError **error);
