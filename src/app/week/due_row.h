#pragma once

#include "model/work/due.h"
#include <gtk/gtk.h>

/* One line of This week: day, what, which, how it stands; a button that opens the form
 * already filled; Why? shows the rule with its source, and puts it off. */
#define BED_TYPE_DUE_ROW (bed_due_row_get_type ())
G_DECLARE_FINAL_TYPE (BedDueRow, bed_due_row, BED, DUE_ROW, GtkListBoxRow)

/* Takes @item. */
BedDueRow *bed_due_row_new (BedFarm *farm, BedDueItem *item);

/* What is due, and the button, are as wide as those of the other rows in the groups. */
void bed_due_row_align (BedDueRow *self, GtkSizeGroup *what, GtkSizeGroup *act);

/* The batch whose sample logs it asks to weigh, 0 when it asks for something else. */
gint64 bed_due_row_get_weighed (BedDueRow *self);
