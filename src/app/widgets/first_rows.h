#pragma once

#include <gtk/gtk.h>

/* The rows of a view of which GTK makes two hundred, whatever the height of the window, and for
 * each asks what stands in it: none until the view is seen, so many as a tall window shows before
 * its first frame, the others frame by frame after it. Places are those of @rows. Takes @rows, is
 * owned by the caller. */
GtkSliceListModel *bed_first_rows_new (GListModel *rows, GtkWidget *view);

/* So many that the one @at that place is among them, now: it is going to be selected. */
void bed_first_rows_reach (GtkSliceListModel *self, guint at);
