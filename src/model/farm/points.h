#pragma once

#include "science/measure.h"
#include <glib.h>

/* Points of a drawing as people write them, in the farm's unit of long lengths and the locale's
 * decimal mark, "10 6, 16 8" (with a decimal comma "3,5 2; 5 2,5"), and as they are stored: metres
 * with a decimal point. Corners are parted by semicolons, or by commas that a space or the text's
 * end follows, or any comma where the decimal mark is a point. A number may carry its unit. */

/* To what is stored, or NULL with the sentence that says which corner is wrong. Free with
 * g_free(). */
char *bed_points_from_said (const BedNotation *notation, const char *said, GError **error);

/* To what people read; @stored itself when it is no such text. Free with g_free(). */
char *bed_points_to_said (const BedNotation *notation, const char *stored);
