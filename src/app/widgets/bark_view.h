#pragma once

#include "science/drill.h"
#include <gtk/gtk.h>

/* The unrolled bark with its holes, to scale, as it is printed on the guide. */
#define BED_TYPE_BARK_VIEW (bed_bark_view_get_type ())
G_DECLARE_FINAL_TYPE (BedBarkView, bed_bark_view, BED, BARK_VIEW, GtkWidget)

BedBarkView *bed_bark_view_new (void);

/* @plan is borrowed until the next call; NULL draws nothing. @hole_diameter in mm, @distance what
 * stands at the farthest point, copied. */
void bed_bark_view_set_plan (BedBarkView *self, const BedDrillPlan *plan, double hole_diameter,
                             const char *distance);
