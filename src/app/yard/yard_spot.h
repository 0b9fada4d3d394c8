#pragma once

#include <gtk/gtk.h>

/* One thing in a drawing that can have the keyboard and a name: a stack in the
 * yard, a place in a stack. It draws nothing and lets the pointer through; the
 * drawing is its parent's, which gives it its place and shows its focus.
 *
 * Signals: "focused" (), "pressed" () (by an assistive tool). */
#define BED_TYPE_YARD_SPOT (bed_yard_spot_get_type ())
G_DECLARE_FINAL_TYPE (BedYardSpot, bed_yard_spot, BED, YARD_SPOT, GtkWidget)

/* @id: of the stack, or the number of the place. */
GtkWidget *bed_yard_spot_new (gint64 id);
gint64 bed_yard_spot_get_id (BedYardSpot *self);

/* What a screen reader says, and what more there is to say. */
void bed_yard_spot_set_words (BedYardSpot *self, const char *name, const char *description);
