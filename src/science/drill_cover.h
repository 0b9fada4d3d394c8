#pragma once

#include "science/drill.h"

/* Inside the room only. Fills in the four BedFarthest of a plan whose holes are placed. */
void bed_drill_cover (BedDrillPlan *plan, BedClosing closing);
