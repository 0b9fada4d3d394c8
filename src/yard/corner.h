#pragma once

#include "yard/moves.h"

/* The corners of the area and of what stands on it, to be taken and set down elsewhere. No GTK. */
typedef struct
{
  gint64 feature; /* 0: the outline of the area itself */
  guint at;       /* place among its points */
} BedCorner;

/* The corner nearest to @at within @reach metres; FALSE and nothing set when there is none. Those
 * of features come before the area's, which they may stand on. */
gboolean bed_corner_hit (const BedYard *yard, BedPoint at, double reach, BedCorner *corner);

/* Where it is; borrowed, NULL when it is gone. */
BedPoint *bed_corner_get_point (const BedYard *yard, const BedCorner *corner);

/* To the nearest crossing of a grid of @step metres. */
BedPoint bed_corner_snap (BedPoint at, double step);

/* What it belongs to, with that corner at @to, as one change: "Shaped path", "Shaped Fruiting
 * yard". NULL with an error when the record is gone. */
BedYardChange *bed_corner_move (BedFarm *farm, const BedYard *yard, const BedCorner *corner,
                                BedPoint to, GError **error);
