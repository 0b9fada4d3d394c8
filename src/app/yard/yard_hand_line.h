#pragma once

#include "app/widgets/part.h"
#include "app/yard/yard_view.h"

/* The line under the map: what the hand holds or points at, in numbers that can be typed. Tab goes
 * from one to the next, Enter sets them all, Esc gives the keyboard back. At its end one types, or
 * scans, the code of a log or the name of a stack, to be shown where it is.
 *
 * Signal: "find" (const char *). */
#define BED_TYPE_YARD_HAND_LINE (bed_yard_hand_line_get_type ())
G_DECLARE_FINAL_TYPE (BedYardHandLine, bed_yard_hand_line, BED, YARD_HAND_LINE, BedPart)

/* Says what is in the hand of @view and sets what is typed there; what nothing on the map has a use
 * for when it is typed comes here. Borrows @view: both go with one page. */
GtkWidget *bed_yard_hand_line_new (BedFarm *farm, BedYardView *view);
