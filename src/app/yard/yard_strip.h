#pragma once

#include "app/widgets/part.h"
#include "model/farm/farm.h"
#include "yard/yard.h"
#include <gtk/gtk.h>

/* The strip at the left of the yard: its areas, the kinds of stack to build
 * (pressed, or dragged into the drawing), what else stands there.
 *
 * Signals:
 *   "area" (gint64)      an area was chosen
 *   "edit" (guint kind, gint64 id)  an area's form is wanted; id 0: a new one
 *   "feature" (gint64)   one of what stands there was chosen
 *   "tape" ()            something is to be measured
 *   "draw" (guint)       a BedFeatureKind was pressed, or an outline (see yard_view.h)
 *   "build" (guint)      a kind of stack was pressed */
#define BED_TYPE_YARD_STRIP (bed_yard_strip_get_type ())
G_DECLARE_FINAL_TYPE (BedYardStrip, bed_yard_strip, BED, YARD_STRIP, BedPart)

GtkWidget *bed_yard_strip_new (void);

/* Shows the areas there are, which one is chosen, and the features of @yard (may be NULL). */
gboolean bed_yard_strip_set (BedYardStrip *self, BedFarm *farm, const BedYard *yard,
                             GError **error);

/* Pictures only, for where there is little room. */
typedef enum
{
  BED_STRIP_WORDS,
  BED_STRIP_PICTURES
} BedStripLook;

void bed_yard_strip_set_look (BedYardStrip *self, BedStripLook look);
