#pragma once

#include "yard/group.h"

/* Where what the hand holds comes to lie: what it lines up with, and the lines and distances that
 * say so. Metres, radians. */

/* The earlier before the later, when several are within reach. */
typedef enum
{
  BED_SNAP_AISLE,   /* the farm's aisle away from a neighbour */
  BED_SNAP_TOUCH,   /* against a neighbour, a building, a path */
  BED_SNAP_EDGE,    /* edge in line with an edge */
  BED_SNAP_MIDDLE,  /* middle in line with a middle */
  BED_SNAP_OUTLINE, /* against the area's outline */
  BED_SNAP_GRID,
} BedSnapKind;

/* What to show: from one thing to the other, and how far that is (0: they touch). */
typedef struct
{
  BedSnapKind kind;
  BedPoint from, to;
  double distance;
} BedSnapLine;

typedef struct
{
  BedPose pose;
  int neighbour; /* the stack it lines up with, or -1 */
  BedSnapLine lines[2];
  guint n_lines; /* one for each way it lines up; none for the grid */
} BedSnap;

/* A rectangle in the hand: a footprint, a box, or the box around a group. */
typedef struct
{
  BedPose pose;        /* where the hand has it */
  double width, depth; /* along and across it */
  double turn_step;    /* 0: its turn stays as it is; else it takes the turn of what is near, or
                        * goes by such steps */
  const GArray *but;   /* BedThing in the hand, no neighbours; may be NULL */
} BedSnapBody;

BedSnap bed_snap_body (const BedScene *scene, const BedSnapBody *body, double reach);

/* A point in the hand: a corner, the end of a path. To a corner or edge of another thing or the
 * outline, in line with corners near it (and with @before, the point it is drawn from; may be
 * NULL), or on the grid. @but: a feature that is none of these; -1: none is. */
typedef struct
{
  BedPoint point;
  BedSnapLine lines[2];
  guint n_lines;
} BedPointSnap;

BedPointSnap bed_snap_point (const BedScene *scene, BedPoint at, const BedPoint *before, gint64 but,
                             double reach);

/* Where another like stack @index would stand beside it: an aisle apart, inside the outline, on the
 * side with most room; where it stands itself when there is none. */
BedPose bed_yard_beside (const BedScene *scene, guint index);
