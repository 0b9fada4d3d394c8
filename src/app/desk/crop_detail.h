#pragma once

#include "model/farm/farm.h"
#include <gtk/gtk.h>

/* A sale with its lines, a soak with its logs and what they gave; @detail: bed_detail_new (). */
gboolean bed_sale_detail_show (GtkWidget *detail, gint64 sale, GError **error);
gboolean bed_soak_detail_show (GtkWidget *detail, gint64 soak, GError **error);
