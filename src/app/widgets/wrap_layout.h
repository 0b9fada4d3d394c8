#pragma once

#include <gtk/gtk.h>

/* How the children of a box stand line by line. */
#define BED_TYPE_WRAP_LAYOUT (bed_wrap_layout_get_type ())
G_DECLARE_FINAL_TYPE (BedWrapLayout, bed_wrap_layout, BED, WRAP_LAYOUT, GtkLayoutManager)

/* A box whose children have their natural width; what has no room goes to the next line. A last
 * child with halign END stands at the right of its line. @spacing between children, @line_spacing
 * between lines, px. */
GtkWidget *bed_wrap_new (int spacing, int line_spacing);

/* A box with as many equal columns as there is room for, at most @most, none narrower than @width,
 * px of the usual letters (plot.h). All rows of a form end up on the same grid. */
GtkWidget *bed_columns_new (int width, int most);

/* Wider than @width, px, none of its columns is: what is over stays empty. */
void bed_columns_set_widest (GtkWidget *columns, int width);
