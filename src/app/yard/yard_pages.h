#pragma once

#include "app/widgets/part.h"
#include "app/yard/yard_arrange.h"
#include "app/yard/yard_plan.h"
#include "app/yard/yard_view.h"

/* Beside the yard where nothing is chosen: what there is to see of the area, what is planned
 * for another day, or what is to be arranged in it. The action "yard.page" goes from one to the
 * other.
 *
 * Signal "plan" (): bed_yard_pages_get_day() answers otherwise. */
#define BED_TYPE_YARD_PAGES (bed_yard_pages_get_type ())
G_DECLARE_FINAL_TYPE (BedYardPages, bed_yard_pages, BED, YARD_PAGES, BedPart)

GtkWidget *bed_yard_pages_new (BedFarm *farm);

/* Borrows the scene; NULL before it goes. */
void bed_yard_pages_show (BedYardPages *self, const BedScene *scene, BedYardMode mode,
                          BedColourBy colour_by);

/* What the trade warns of there: BedStackLook by the gint64 of its stack; NULL: not yet
 * known. */
void bed_yard_pages_set_looks (BedYardPages *self, GHashTable *looks);

/* The day whose plan is seen, YYYY-MM-DD; NULL: none. Borrowed. */
const char *bed_yard_pages_get_day (BedYardPages *self);

/* Borrowed. */
BedYardArrange *bed_yard_pages_get_arrange (BedYardPages *self);
