#pragma once

#include "model/farm/farm.h"
#include <gtk/gtk.h>

/* What is said where something of @farm could not be read: the sentence, and a button that asks
 * everything again. Not seen until there is something to say. */
GtkWidget *bed_trouble_new (BedFarm *farm);

/* NULL: all is well. */
void bed_trouble_say (GtkWidget *trouble, const GError *error);
