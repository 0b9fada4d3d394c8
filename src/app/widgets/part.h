#pragma once

#include "model/farm/farm.h"
#include <gtk/gtk.h>

/* A widget that puts others together: it holds the farm they ask for as long as it lives, and has
 * one child, whose size is its own: its width whatever height there is. */
#define BED_TYPE_PART (bed_part_get_type ())
G_DECLARE_DERIVABLE_TYPE (BedPart, bed_part, BED, PART, GtkWidget)

struct _BedPartClass
{
  GtkWidgetClass parent_class;
};

/* Once. Borrowed; the child may still ask it while it is taken apart. */
BedFarm *bed_part_hold (BedPart *self, BedFarm *farm);

/* Once. Takes the widget. */
void bed_part_set_child (BedPart *self, GtkWidget *child);

/* A plain one that holds no farm, for a child of a GtkStack that is none by itself. */
GtkWidget *bed_part_new (GtkWidget *child);
