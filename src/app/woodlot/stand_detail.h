#pragma once

#include "model/farm/farm.h"
#include <gtk/gtk.h>

/* One stand: what stands there and what a thinning takes; @detail is of bed_detail_new(). */
gboolean bed_stand_detail_show (GtkWidget *detail, gint64 stand, GError **error);
