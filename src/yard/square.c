#include "yard/square.h"

#include <math.h>

/* Only what stands this near is lined up with. */
#define NEAR 4.0

static BedPoint
get_corner (const GArray *corners, guint i)
{
  return g_array_index (corners, BedPoint, i);
}

/* One metre from @a on towards @b; none when they are the same. */
static BedPoint
find_way (BedPoint a, BedPoint b)
{
  double far = hypot (b.x - a.x, b.y - a.y);

  return far > 0 ? (BedPoint){ (b.x - a.x) / far, (b.y - a.y) / far } : (BedPoint){ 0, 0 };
}

/* How far @b is from @a along @way, which is one metre. */
static double
measure_along (BedPoint a, BedPoint b, BedPoint way)
{
  return (b.x - a.x) * way.x + (b.y - a.y) * way.y;
}

static BedPoint
go (BedPoint from, BedPoint way, double far)
{
  return (BedPoint){ from.x + far * way.x, from.y + far * way.y };
}

/* The way of the next side, to the left of the last. */
static BedPoint
find_left (const GArray *corners, guint n)
{
  BedPoint last = find_way (get_corner (corners, n - 2), get_corner (corners, n - 1));

  return (BedPoint){ -last.y, last.x };
}

/* --- what it lines up with ------------------------------------------------------------ */

typedef struct
{
  BedPoint last, way;
  double at, reach; /* how far along the side the hand is */
  double off, far;  /* of the best so far: from the hand, and along the side */
  BedPoint with;
} Side;

static void
line_up (Side *self, BedPoint with)
{
  double far = measure_along (self->last, with, self->way), off = fabs (far - self->at);
  BedPoint on = go (self->last, self->way, far);

  if (off > self->reach || off >= self->off || hypot (on.x - with.x, on.y - with.y) > NEAR)
    return;
  self->off = off;
  self->far = far;
  self->with = with;
}

static void
line_up_with (Side *self, const BedShape *shape)
{
  for (guint i = 0; i < shape->n_points; i++)
    line_up (self, shape->points[i]);
}

static BedPointSnap
snap_along (const BedScene *scene, Side *side)
{
  for (guint i = 0; i < scene->shapes->len && side->off > 0; i++)
    {
      const BedShape *shape = &g_array_index (scene->shapes, BedShape, i);
      if (shape->role == BED_SHAPE_STACK || shape->role == BED_SHAPE_FEATURE)
        line_up_with (side, shape);
    }
  if (side->off == G_MAXDOUBLE)
    return (BedPointSnap){ .point = go (side->last, side->way,
                                        round (side->at / scene->grid) * scene->grid) };
  BedPoint to = go (side->last, side->way, side->far);
  return (BedPointSnap){ .point = to,
                         .lines = { { BED_SNAP_EDGE, side->with, to,
                                      hypot (to.x - side->with.x, to.y - side->with.y) } },
                         .n_lines = 1 };
}

/* --- public --------------------------------------------------------------------------- */

BedPointSnap
bed_square_snap (const BedScene *scene, const GArray *corners, guint n, BedPoint at, double reach)
{
  if (n < 2)
    {
      BedPoint before = n ? get_corner (corners, n - 1) : at;
      return reach > 0 ? bed_snap_point (scene, at, n ? &before : NULL, -1, reach)
                       : (BedPointSnap){ .point = at };
    }
  Side side = { .last = get_corner (corners, n - 1), .way = find_left (corners, n) };
  BedPoint first = get_corner (corners, 0);
  side.at = measure_along (side.last, at, side.way);
  side.reach = reach;
  side.off = G_MAXDOUBLE;
  if (reach <= 0)
    return (BedPointSnap){ .point = go (side.last, side.way, side.at) };
  /* It is closed by this one, however far off the first corner is. */
  double far = measure_along (side.last, first, side.way);
  if (fabs (far - side.at) <= reach)
    {
      side.off = 0;
      side.far = far;
      side.with = first;
    }
  return snap_along (scene, &side);
}

BedPoint
bed_square_next (const GArray *corners, guint n, BedPoint hand, double length)
{
  g_return_val_if_fail (n >= 2, hand);
  BedPoint last = get_corner (corners, n - 1), way = find_left (corners, n);

  return go (last, way, measure_along (last, hand, way) < -BED_SHAPE_TOUCH ? -length : length);
}

void
bed_square_close (GArray *corners)
{
  guint n = corners->len;

  if (n < 3)
    return;
  BedPoint first = get_corner (corners, 0), last = get_corner (corners, n - 1);
  BedPoint way = find_way (first, get_corner (corners, 1));
  BedPoint end = go (last, way, -measure_along (first, last, way));
  gboolean in_line = hypot (end.x - last.x, end.y - last.y) < BED_SHAPE_TOUCH;
  if (n % 2 == 0) /* the last side goes as the first did */
    g_array_index (corners, BedPoint, n - 1) = end;
  else if (in_line) /* no corner: the outline goes straight on to the first */
    g_array_set_size (corners, n - 1);
  else
    g_array_append_val (corners, end);
}
