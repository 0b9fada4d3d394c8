#pragma once

#include <gtk/gtk.h>
#include "model/farm.h"

G_BEGIN_DECLS

/* Tags for the logs of a batch: which sheet of labels, where on it to begin, how
 * far the printer is off; then paper, a PDF, or a test page. */
void bed_tags_dialog_show (GtkWidget *inside, BedFarm *farm, gint64 batch);

G_END_DECLS
