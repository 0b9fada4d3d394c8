#pragma once

#include "app/paper/papers.h"
#include <gtk/gtk.h>

/* How the map is drawn: its scale, and whose elevations follow it. @changed (self) when another is
 * chosen. */
GtkWidget *bed_map_fields_new (GCallback changed, gpointer self);

/* So many stacks are chosen, whose elevations can be asked for. */
void bed_map_fields_set_chosen (GtkWidget *fields, guint stacks);

/* Into the choice. */
void bed_map_fields_read (GtkWidget *fields, BedPrintChoice *choice);
