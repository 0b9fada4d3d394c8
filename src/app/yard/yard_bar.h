#pragma once

#include "app/widgets/part.h"
#include "print/yard/yard_draw.h"
#include <gtk/gtk.h>

/* The bar under the yard: the day it is seen on, what the colours say, the scale.
 *
 * Signals:
 *   "day" ()             another day was chosen
 *   "colour-by" ()       colours say something else
 *   "zoom" (double)      by that factor; 0: all of it */
#define BED_TYPE_YARD_BAR (bed_yard_bar_get_type ())
G_DECLARE_FINAL_TYPE (BedYardBar, bed_yard_bar, BED, YARD_BAR, BedPart)

GtkWidget *bed_yard_bar_new (void);

/* The days there is something to see on (element char *, rising; may be empty), and today. The day
 * seen stays when there still is one, else it becomes today. */
void bed_yard_bar_set_days (BedYardBar *self, const GPtrArray *days, const char *today);

/* YYYY-MM-DD; borrowed until it changes. */
const char *bed_yard_bar_get_day (BedYardBar *self);
gboolean bed_yard_bar_is_today (BedYardBar *self);
void bed_yard_bar_show_today (BedYardBar *self);

BedColourBy bed_yard_bar_get_colour_by (BedYardBar *self);

/* Screen units to a metre, shown as a scale. */
void bed_yard_bar_set_scale (BedYardBar *self, double scale);
