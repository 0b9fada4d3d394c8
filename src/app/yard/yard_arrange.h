#pragma once

#include "app/widgets/part.h"
#include "yard/scene.h"

/* Beside the yard: which logs are to stand where, and how many more there is room for. What comes
 * of it is seen while one chooses, and built as one change.
 *
 * Signals: "outline" (): it is to be drawn on the map where they may stand.
 * "arranged" (gpointer): the stacks that were built, a const GArray * of gint64. */
#define BED_TYPE_YARD_ARRANGE (bed_yard_arrange_get_type ())
G_DECLARE_FINAL_TYPE (BedYardArrange, bed_yard_arrange, BED, YARD_ARRANGE, BedPart)

GtkWidget *bed_yard_arrange_new (BedFarm *farm);

/* In which yard. Borrows the scene; NULL before it goes. What was chosen stays chosen. */
gboolean bed_yard_arrange_show (BedYardArrange *self, const BedScene *scene, GError **error);

/* It is planned for that day (YYYY-MM-DD, copied); NULL: it is built now. */
void bed_yard_arrange_set_day (BedYardArrange *self, const char *day);

/* A polygon, copied; NULL: all of the area. */
void bed_yard_arrange_set_outline (BedYardArrange *self, const BedGround *outline);
