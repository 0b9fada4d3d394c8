#pragma once

#include "model/farm/kind.h"
#include <gtk/gtk.h>

/* A button that opens the recall of a record, by the window's action; NULL of kinds that none is
 * of. */
GtkWidget *bed_recall_button_new (BedKind kind, gint64 id);
