#pragma once

#include "yard/shape.h"

/* Where one can walk in an area with a log on the shoulder: around stacks, buildings, tanks, ponds
 * and trunks. Fences have gates and do not count. Metres. */
typedef struct _BedWays BedWays;

/* @shapes: BedShape, those of a scene. @breadth: free ground one needs to either side together.
 * Borrows both, which must outlive it. Nothing is found out yet. */
BedWays *bed_ways_new (const BedYard *yard, const GArray *shapes, double breadth);

/* Finds out some more until @until (monotonic clock, us); a large area takes a tenth of a second in
 * all. TRUE when all is known: before that nothing below may be asked. */
gboolean bed_ways_work (BedWays *self, gint64 until);

void bed_ways_free (BedWays *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedWays, bed_ways_free)

/* From the edge of stack @index along the ground to the nearest pond, tank or tap; negative when
 * there is none, or no way to it. */
double bed_ways_to_water (const BedWays *self, guint index);

/* At most so far, by at most a twelfth too much: found without looking for straight ways. */
double bed_ways_to_water_most (const BedWays *self, guint index);

/* Whether a log can be carried from the stack out of the area, or to a path. */
gboolean bed_ways_leads_out (const BedWays *self, guint index);
