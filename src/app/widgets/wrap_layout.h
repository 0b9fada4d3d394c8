#pragma once

#include <gtk/gtk.h>

/* Children side by side at their natural width; what has no room goes to the next line. A last
 * child with halign END stands at the right of its line. */
#define BED_TYPE_WRAP_LAYOUT (bed_wrap_layout_get_type ())
G_DECLARE_FINAL_TYPE (BedWrapLayout, bed_wrap_layout, BED, WRAP_LAYOUT, GtkLayoutManager)

/* @spacing between children, @line_spacing between lines, px. */
GtkLayoutManager *bed_wrap_layout_new (int spacing, int line_spacing);
