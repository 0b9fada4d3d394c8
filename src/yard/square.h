#pragma once

#include "yard/snap.h"

/* An outline whose every side turns by a right angle to the last; the first goes any way. Its
 * corners so far are the first @n of a polygon's points, in the order they were set. Metres. */

/* Where the next corner comes to lie when the hand is @at: on the line its side may go, in line
 * with the first corner, with another corner near it, or a whole number of grid steps on. A @reach
 * of 0: on that line, in line with nothing. */
BedPointSnap bed_square_snap (const BedScene *scene, const GArray *corners, guint n, BedPoint at,
                              double reach);

/* The next corner @length on along its side: to the side the hand is on, of the last, or to the
 * left; a negative one to the other. */
BedPoint bed_square_next (const GArray *corners, guint n, BedPoint hand, double length);

/* Makes the corners an outline whose last corners are right angles, too: the last side goes as far
 * as the first corner lies, or one more goes there. What is fewer than two sides stays as it is. */
void bed_square_close (GArray *corners);
