#pragma once

#include <gtk/gtk.h>

/* As wide as what it holds, whatever height there is. GtkStack asks how wide a child of its height
 * has to be, and to that GtkBox answers with a width at which its longest words need least height:
 * more than there is. */
#define BED_TYPE_UPRIGHT_LAYOUT (bed_upright_layout_get_type ())
G_DECLARE_FINAL_TYPE (BedUprightLayout, bed_upright_layout, BED, UPRIGHT_LAYOUT, GtkLayoutManager)
