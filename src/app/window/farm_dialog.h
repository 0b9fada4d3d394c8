#pragma once

#include <gtk/gtk.h>

/* Name, units and money of a farm: asked for a new one, then where to keep it. */
void bed_farm_dialog_new_farm (GtkWindow *window);

/* The same of the open one, with all its settings. */
void bed_farm_dialog_change (GtkWindow *window);
