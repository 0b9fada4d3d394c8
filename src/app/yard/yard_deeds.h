#pragma once

#include "app/yard/yard_arrange.h"
#include "app/yard/yard_view.h"
#include "model/farm/farm.h"

/* Does in @farm what is asked for on the map, and in the BedYardGroupPanel or the form beside it:
 * each is one change. All live as long as their page. */
void bed_yard_deeds_connect (BedYardView *view, GtkWidget *group, BedYardArrange *arrange,
                             BedFarm *farm);

/* From now on what is done is planned for that day (YYYY-MM-DD, copied); NULL: it is done. */
void bed_yard_deeds_set_plan (BedYardView *view, const char *day);

/* As bed_yard_view_draw_thing(), for the farm. */
void bed_yard_deeds_draw (BedYardView *view, guint kind);

/* Where the log with that code lies, or the stack of that name: FALSE, and that was said, when
 * there is none, or the log lies nowhere. @log: 0 where a stack was meant. */
gboolean bed_yard_find_code (GtkWidget *inside, BedFarm *farm, const char *text, gint64 *stack,
                             gint64 *log);
