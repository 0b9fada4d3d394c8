#pragma once

#include "app/yard/yard_view.h"
#include "model/farm/farm.h"

/* Does in @farm what is asked for on the map, and in the BedYardGroupPanel beside it: each is one
 * change. All three live as long as their page. */
void bed_yard_deeds_connect (BedYardView *view, GtkWidget *group, BedFarm *farm);
