#pragma once

#include "model/farm/farm.h"
#include <gtk/gtk.h>

/* A record read, not typed: every field that has a value, label above, in columns. */
GtkWidget *bed_facts_new (BedFarm *farm, BedRecord *record);

/* One fact of your own, for boxes of them: bed_facts_box_new(), bed_facts_add(). */
GtkWidget *bed_facts_box_new (void);
void bed_facts_add (GtkWidget *box, const char *label, const char *value);
