#pragma once

#include "yard/yard.h"

/* Shapes on the ground and what lies between them. Metres.
 *
 * A shape is a point, a line or a filled polygon, made wider by its radius to all sides; so what
 * is said of two holds for any two. Polygons are simple (no edge crosses another) and run either
 * way round. Shapes that only touch, or miss each other by less than BED_SHAPE_TOUCH, do not
 * overlap. */

typedef enum
{
  BED_SHAPE_FEATURE,
  BED_SHAPE_STACK, /* the footprint */
  BED_SHAPE_RAIL,
  BED_SHAPE_LOG,
} BedShapeRole;

typedef enum
{
  BED_SHAPE_AREA, /* a filled polygon */
  BED_SHAPE_LINE, /* open, @radius to each side */
  BED_SHAPE_DISC, /* one point and a radius */
} BedShapeForm;

typedef struct
{
  BedShapeRole role; /* role, owner and log are the scene's; nothing here asks for them */
  BedShapeForm form;
  guint owner;           /* index of its feature or stack in the yard */
  const BedYardLog *log; /* of a log's shape */
  const BedPoint *points;
  guint n_points;
  double radius;
} BedShape;

#define BED_SHAPE_TOUCH 0.001

/* The free ground between two shapes. */
typedef struct
{
  double distance; /* 0: they touch or overlap */
  BedPoint from, to;
} BedMeasurement;

/* How far @point is from the shape; 0 inside it. */
double bed_shape_distance (const BedShape *shape, BedPoint point);

/* From the edge of @a to that of @b, where they are nearest. */
BedMeasurement bed_shape_measure (const BedShape *a, const BedShape *b);

gboolean bed_shape_overlaps (const BedShape *a, const BedShape *b);

/* Whether all of @shape lies in the polygon @outline. */
gboolean bed_shape_lies_in (const BedShape *shape, const BedShape *outline);

/* A polygon of those corners, borrowed. */
BedShape bed_shape_polygon (const BedPoint *corners, guint n);

/* The box around all of it. */
BedExtent bed_shape_extent (const BedShape *shape);
