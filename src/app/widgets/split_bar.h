#pragma once

#include <gtk/gtk.h>

/* One whole cut into its parts: a bar across, the name and amount of each part under
 * it. Names that have no room at all are said when pointed at. */
#define BED_TYPE_SPLIT_BAR (bed_split_bar_get_type ())
G_DECLARE_FINAL_TYPE (BedSplitBar, bed_split_bar, BED, SPLIT_BAR, GtkWidget)

typedef struct
{
  const char *label; /* translated */
  const char *text;  /* its amount as people read it */
  double share;      /* 0 to 1 */
} BedSplitPart;

BedSplitBar *bed_split_bar_new (void);

/* @label: accessible name. Copies. */
void bed_split_bar_set (BedSplitBar *self, const char *label, const BedSplitPart *parts, guint n);

/* A plain bar of that share (0 to 1) of the whole, without words: for the lines of a list that
 * name it themselves. */
void bed_split_bar_set_measure (BedSplitBar *self, const char *label, double share);
