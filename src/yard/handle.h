#pragma once

#include "science/measure.h"
#include "yard/shape.h"

/* What a thing on the ground is shaped by: points that can be taken and set down elsewhere. No
 * farm, no window. Metres, radians. */

typedef enum
{
  BED_HANDLE_POINT,  /* a corner of a polygon, a point along a band */
  BED_HANDLE_CORNER, /* of a box; the opposite one stays */
  BED_HANDLE_SIDE,   /* the middle of an edge of a box or polygon, which stays parallel to itself */
  BED_HANDLE_RIM,    /* of a disc: its radius, a tree's crown */
  BED_HANDLE_BREADTH, /* of a band: half its width */
  BED_HANDLE_TURN,    /* the turning knob of a box */
} BedHandleKind;

typedef struct
{
  BedHandleKind kind;
  guint at; /* which corner, point or edge (from that corner to the next) */
  BedPoint point;
} BedHandle;

/* All handles of @ground, the later over the earlier; element BedHandle, owned. @knob: how far out
 * the turning knob stands. */
GArray *bed_handle_list (const BedGround *ground, double knob);

/* The index of the handle nearest to @at within @reach, or -1. */
int bed_handle_hit (const GArray *handles, BedPoint at, double reach);

/* Whether right angles stay right: then the points beside a corner at a right angle go along. A
 * box whose corner is dragged freely becomes a polygon. */
typedef enum
{
  BED_ANGLES_KEPT,
  BED_ANGLES_FREE,
} BedAngles;

/* The handle is set down at @to. A side, a rim or a band's breadth goes as far as @to lies out. */
void bed_handle_drag (BedGround *ground, const BedHandle *handle, BedPoint to, BedAngles angles);

/* What the handle is typed by: a width across, a depth, the edge before a point, a radius, an
 * angle in degrees. */
typedef enum
{
  BED_HANDLE_METRES,
  BED_HANDLE_DEGREES,
} BedHandleUnit;

double bed_handle_measure (const BedGround *ground, const BedHandle *handle, BedHandleUnit *unit);

/* Makes it so. FALSE, and nothing changed, when the measure cannot be: not positive, or of a
 * point before which there is none. */
gboolean bed_handle_set_measure (BedGround *ground, const BedHandle *handle, double measure);

/* A point more in the middle of edge @edge of a polygon or band; its index. */
guint bed_handle_add_point (BedGround *ground, guint edge);

/* Without that point; FALSE when the form needs all it has. */
gboolean bed_handle_remove_point (BedGround *ground, guint at);

/* Its measures for people: "4.2 m by 2 m", "path 14 ft 6 in long, 4 ft wide". Free with g_free().
 */
char *bed_ground_describe (const BedGround *ground, const BedNotation *notation);
