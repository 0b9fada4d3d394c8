#pragma once

#include <gtk/gtk.h>

/* List left (380 px), detail right; where there is less than 780 px the detail
 * takes the place of the list and a back button leads to it. */
#define BED_TYPE_SPLIT (bed_split_get_type ())
G_DECLARE_FINAL_TYPE (BedSplit, bed_split, BED, SPLIT, GtkWidget)

/* Takes both. */
BedSplit *bed_split_new (GtkWidget *list, GtkWidget *detail);

/* Where it is narrow: which of the two is seen. */
void bed_split_show_detail (BedSplit *self);
void bed_split_show_list (BedSplit *self);
