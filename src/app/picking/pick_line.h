#pragma once

#include "app/widgets/part.h"
#include "model/farm/farm.h"

/* One line to type picks into: what from, Enter, weight, Enter. It commits each pick and is
 * ready for the next, the grade kept; a scanner's Enter after the code is as good as a
 * person's. Another grade is typed behind the weight or into its own entry.
 *
 * Signals:
 *   "day-changed" ()    another day is typed into
 *   "picked" (gint64)   that pick was recorded */
#define BED_TYPE_PICK_LINE (bed_pick_line_get_type ())
G_DECLARE_FINAL_TYPE (BedPickLine, bed_pick_line, BED, PICK_LINE, BedPart)

BedPickLine *bed_pick_line_new (BedFarm *farm);

/* YYYY-MM-DD, borrowed. */
const char *bed_pick_line_get_day (BedPickLine *self);

/* Goes to @day, YYYY-MM-DD. */
void bed_pick_line_show_day (BedPickLine *self, const char *day);

/* Day, source and grade from @pick, as far as it has them; then focus where typing goes on. */
void bed_pick_line_fill (BedPickLine *self, BedRecord *pick);

/* Says anew which lot picks go into. */
void bed_pick_line_refresh (BedPickLine *self);
