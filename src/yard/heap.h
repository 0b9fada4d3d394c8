#pragma once

#include "yard/yard.h"

/* Round logs piled between stakes, seen from their ends. Metres; y across, z up. */

typedef struct
{
  BedPoint middle;
  double radius;
} BedHeapLog;

typedef struct
{
  double half;  /* from the middle to either stake */
  double floor; /* what the lowest lie on */
  GArray *logs; /* BedHeapLog: those that lie there already, the lower before the higher */
  guint row;    /* of them in a tier */
} BedHeap;

/* Where the middle of a log of that radius comes to rest: in the hollow of two others, or on one
 * and against a stake, so that nothing hangs in the air. As near to @wanted as may be and, if it
 * can, beyond @least. */
BedPoint bed_heap_rest (const BedHeap *heap, double radius, double wanted, double least);
