#pragma once

#include <gtk/gtk.h>

/* Lays children row by row in as many equal columns as there is room for, at
 * most ->most. All rows of a form end up on the same grid. */
#define BED_TYPE_COLUMNS_LAYOUT (bed_columns_layout_get_type ())
G_DECLARE_FINAL_TYPE (BedColumnsLayout, bed_columns_layout, BED, COLUMNS_LAYOUT, GtkLayoutManager)

/* @width: the least width of a column, px. */
GtkLayoutManager *bed_columns_layout_new (int width, int most);
