#include "yard/snap.h"

#include <math.h>

#include "yard/features.h"

#define DEGREE (G_PI / 180)

/* Only what stands this near is lined up with. */
#define NEAR 4.0

static double
to_grid (double value, double step)
{
  return round (value / step) * step;
}

/* The point in the frame of the body, or back with -@turn. */
static BedPoint
turn_point (BedPoint point, double turn)
{
  return bed_pose_point (&(BedPose){ 0, 0, -turn }, point);
}

/* How far @a is from @b but for quarter turns; @quarters gets those. */
static double
turn_apart (double a, double b, double *quarters)
{
  double apart = bed_turn_normal (a - b);

  *quarters = round (apart / (G_PI / 2));
  return fabs (apart - *quarters * G_PI / 2);
}

/* --- what is near -------------------------------------------------------------------- */

/* A rectangle near the body, in the body's frame. */
typedef struct
{
  double low[2], high[2];
  int stack;               /* its index, or -1 */
  gboolean stands, walked; /* one may touch it; an aisle goes beside it */
} Near;

typedef struct
{
  const BedScene *scene;
  const BedSnapBody *body;
  double turn, reach;
  double at[2], half[2]; /* of the body, in its frame */
  GArray *near;
} Snapper;

static gboolean
is_held (const BedSnapBody *body, BedThingKind kind, gint64 id)
{
  for (guint i = 0; body->but && i < body->but->len; i++)
    {
      const BedThing *thing = &g_array_index (body->but, BedThing, i);
      if (thing->kind == kind && thing->id == id)
        return TRUE;
    }
  return FALSE;
}

static gboolean
is_shape_held (const Snapper *self, const BedShape *shape)
{
  const BedYard *yard = self->scene->yard;

  if (shape->role == BED_SHAPE_STACK)
    return is_held (self->body, BED_THING_STACK,
                    ((BedYardStack *) yard->stacks->pdata[shape->owner])->id);
  return shape->role != BED_SHAPE_FEATURE
         || is_held (self->body, BED_THING_FEATURE,
                     ((BedYardFeature *) yard->features->pdata[shape->owner])->id);
}

static BedShape
body_shape (const Snapper *self, BedPoint corners[4])
{
  const BedSnapBody *body = self->body;
  double x = body->width / 2, y = body->depth / 2;
  const BedPoint own[4] = { { -x, -y }, { x, -y }, { x, y }, { -x, y } };

  for (guint i = 0; i < 4; i++)
    corners[i] = bed_pose_point (&body->pose, own[i]);
  return bed_shape_polygon (corners, 4);
}

/* The body takes the turn of the nearest straight thing that is turned nearly as it is. */
static double
find_turn (const Snapper *self)
{
  double nearest = NEAR, wanted = self->body->pose.turn, step = self->body->turn_step;
  double turn = bed_turn_normal (to_grid (wanted, step)), quarters;
  BedPoint corners[4];
  BedShape body = body_shape (self, corners);

  for (guint i = 0; i < self->scene->shapes->len; i++)
    {
      const BedShape *shape = &g_array_index (self->scene->shapes, BedShape, i);
      if (shape->n_points < 2 || is_shape_held (self, shape))
        continue;
      double own = atan2 (shape->points[1].y - shape->points[0].y,
                          shape->points[1].x - shape->points[0].x);
      if (turn_apart (wanted, own, &quarters) > step)
        continue;
      double far = bed_shape_measure (&body, shape).distance;
      if (far >= nearest)
        continue;
      nearest = far;
      turn = bed_turn_normal (own + quarters * G_PI / 2);
    }
  return turn;
}

/* Adds the rectangle of half width @radius around the line from @a to @b, or with these opposite
 * corners when it has none, if it lies along the body's frame. */
static void
add_near (Snapper *self, const BedPoint ends[2], double radius, Near near)
{
  BedPoint a = turn_point (ends[0], self->turn), b = turn_point (ends[1], self->turn);
  gboolean along = fabs (a.y - b.y) < fabs (a.x - b.x);

  near.low[0] = MIN (a.x, b.x) - (along ? 0 : radius);
  near.high[0] = MAX (a.x, b.x) + (along ? 0 : radius);
  near.low[1] = MIN (a.y, b.y) - (along ? radius : 0);
  near.high[1] = MAX (a.y, b.y) + (along ? radius : 0);
  for (guint axis = 0; axis < 2; axis++)
    if (near.low[axis] > self->at[axis] + self->half[axis] + NEAR
        || near.high[axis] < self->at[axis] - self->half[axis] - NEAR)
      return;
  g_array_append_val (self->near, near);
}

static gboolean
lies_along (const Snapper *self, BedPoint a, BedPoint b)
{
  double quarters;

  return turn_apart (atan2 (b.y - a.y, b.x - a.x), self->turn, &quarters) < 1e-3 * DEGREE;
}

static void
add_shape (Snapper *self, const BedShape *shape)
{
  const BedPoint *p = shape->points;
  Near near = { .stack = -1, .stands = TRUE, .walked = TRUE };

  if (shape->role == BED_SHAPE_STACK)
    near.stack = (int) shape->owner;
  else
    {
      const BedYardFeature *feature = self->scene->yard->features->pdata[shape->owner];
      near.stands = feature->kind != BED_FEATURE_SHADE_CLOTH;
      near.walked = near.stands && feature->kind != BED_FEATURE_PATH;
    }
  if (shape->form == BED_SHAPE_AREA && shape->n_points == 4 && lies_along (self, p[0], p[1])
      && lies_along (self, p[1], p[2]))
    add_near (self, (BedPoint[]){ p[0], p[2] }, 0, near);
  for (guint i = 0; shape->form == BED_SHAPE_LINE && i + 1 < shape->n_points; i++)
    if (lies_along (self, p[i], p[i + 1]))
      add_near (self, &p[i], shape->radius, near);
}

/* --- lining up ------------------------------------------------------------------------ */

/* The best there is for one axis. */
typedef struct
{
  BedSnapKind kind;
  double at, off; /* where the middle goes, and how far that is from where it was */
  int stack;
  double other;      /* the middle of what it lines up with, on the other axis */
  BedPoint from, to; /* in the body's frame */
  double distance;
} Best;

static void
offer (Best *best, const Best *candidate, double reach)
{
  if (candidate->off > reach || candidate->kind > best->kind
      || (candidate->kind == best->kind && candidate->off >= best->off))
    return;
  *best = *candidate;
}

static BedPoint
on_axis (guint axis, double along, double aside)
{
  return axis == 0 ? (BedPoint){ along, aside } : (BedPoint){ aside, along };
}

/* Beside @near on the side of @sign, touching or an aisle apart: only where they face each other.
 */
static void
offer_beside (const Snapper *self, guint axis, const Near *near, int sign, Best *best)
{
  guint aside = 1 - axis;
  double edge = sign > 0 ? near->high[axis] : near->low[axis];
  double low = MAX (near->low[aside], self->at[aside] - self->half[aside]);
  double high = MIN (near->high[aside], self->at[aside] + self->half[aside]);
  const double gaps[] = { self->scene->yard->aisle, 0 };

  for (guint i = 0; i < 2; i++)
    {
      if (low >= high || (i == 0 ? !near->walked : !near->stands))
        continue;
      Best candidate = { .kind = i ? BED_SNAP_TOUCH : BED_SNAP_AISLE, .stack = near->stack };
      candidate.at = edge + sign * (gaps[i] + self->half[axis]);
      candidate.off = fabs (candidate.at - self->at[axis]);
      candidate.distance = gaps[i];
      candidate.other = (near->low[aside] + near->high[aside]) / 2;
      candidate.from = on_axis (axis, edge, (low + high) / 2);
      candidate.to = on_axis (axis, edge + sign * gaps[i], (low + high) / 2);
      if (gaps[i] == 0) /* the line runs along where they touch */
        {
          candidate.from = on_axis (axis, edge, low);
          candidate.to = on_axis (axis, edge, high);
        }
      offer (best, &candidate, self->reach);
    }
}

/* Edges and middles in line with those of @near, however far aside. */
static void
offer_in_line (const Snapper *self, guint axis, const Near *near, Best *best)
{
  guint aside = 1 - axis;
  double half = self->half[axis], middle = (near->low[axis] + near->high[axis]) / 2;
  const double lines[] = { near->low[axis], near->high[axis], middle };
  const double at[] = { near->low[axis] + half, near->high[axis] - half, middle };
  double low = self->at[aside] - self->half[aside], high = self->at[aside] + self->half[aside];

  for (guint i = 0; i < 3; i++)
    {
      Best candidate = { .kind = i < 2 ? BED_SNAP_EDGE : BED_SNAP_MIDDLE, .stack = near->stack };
      candidate.at = at[i];
      candidate.off = fabs (at[i] - self->at[axis]);
      candidate.other = (near->low[aside] + near->high[aside]) / 2;
      candidate.distance = MAX (0, MAX (low - near->high[aside], near->low[aside] - high));
      candidate.from = on_axis (axis, lines[i], MIN (low, near->low[aside]));
      candidate.to = on_axis (axis, lines[i], MAX (high, near->high[aside]));
      offer (best, &candidate, self->reach);
    }
}

static void
offer_outline (const Snapper *self, guint axis, Best *best)
{
  const GArray *outline = self->scene->yard->outline;
  guint aside = 1 - axis;

  for (guint i = 0; i < outline->len; i++)
    {
      BedPoint a = turn_point (g_array_index (outline, BedPoint, i), self->turn);
      BedPoint b
          = turn_point (g_array_index (outline, BedPoint, (i + 1) % outline->len), self->turn);
      double from[2] = { a.x, a.y }, to[2] = { b.x, b.y };
      if (fabs (from[axis] - to[axis]) > BED_SHAPE_TOUCH
          || MAX (from[aside], to[aside]) <= self->at[aside] - self->half[aside]
          || MIN (from[aside], to[aside]) >= self->at[aside] + self->half[aside])
        continue;
      for (int sign = -1; sign <= 1; sign += 2)
        {
          Best candidate = { BED_SNAP_OUTLINE, from[axis] + sign * self->half[axis], .stack = -1,
                             .from = a, .to = b };
          candidate.off = fabs (candidate.at - self->at[axis]);
          candidate.other = self->at[aside];
          offer (best, &candidate, self->reach);
        }
    }
}

static Best
line_up (const Snapper *self, guint axis)
{
  Best best = { .kind = BED_SNAP_GRID, .at = self->at[axis], .off = G_MAXDOUBLE, .stack = -1 };

  for (guint i = 0; i < self->near->len; i++)
    {
      const Near *near = &g_array_index (self->near, Near, i);
      offer_beside (self, axis, near, -1, &best);
      offer_beside (self, axis, near, 1, &best);
      offer_in_line (self, axis, near, &best);
    }
  offer_outline (self, axis, &best);
  return best;
}

/* The axis with nothing to line up goes by the grid: the yard's own, or along the turned thing the
 * other axis lines up with. */
static void
fill_from_grid (const Snapper *self, Best best[2])
{
  double grid = self->scene->grid, quarters;
  gboolean turned = turn_apart (self->turn, 0, &quarters) > 1e-3 * DEGREE;

  for (guint axis = 0; axis < 2; axis++)
    if (best[axis].kind == BED_SNAP_GRID)
      {
        double zero = turned ? best[1 - axis].other : 0;
        best[axis].at = zero + to_grid (self->at[axis] - zero, grid);
      }
}

static void
add_line (const Snapper *self, const Best *best, BedSnap *snap)
{
  if (best->kind == BED_SNAP_GRID)
    return;
  snap->lines[snap->n_lines++] = (BedSnapLine){ best->kind, turn_point (best->from, -self->turn),
                                                turn_point (best->to, -self->turn),
                                                best->distance };
  if (snap->neighbour < 0)
    snap->neighbour = best->stack;
}

static BedSnap
snap_in_frame (Snapper *self)
{
  Best best[2] = { line_up (self, 0), line_up (self, 1) };
  BedSnap snap = { .neighbour = -1 };

  snap.pose.turn = self->turn;
  if (best[0].kind == BED_SNAP_GRID && best[1].kind == BED_SNAP_GRID)
    {
      snap.pose.x = to_grid (self->body->pose.x, self->scene->grid);
      snap.pose.y = to_grid (self->body->pose.y, self->scene->grid);
      return snap;
    }
  fill_from_grid (self, best);
  BedPoint at = turn_point ((BedPoint){ best[0].at, best[1].at }, -self->turn);
  snap.pose.x = at.x;
  snap.pose.y = at.y;
  /* What was lined up is shown where it comes to lie, not where the hand had it. */
  self->at[0] = best[0].at;
  self->at[1] = best[1].at;
  self->reach = BED_SHAPE_TOUCH;
  for (guint axis = 0; axis < 2; axis++)
    {
      Best shown = line_up (self, axis);
      add_line (self, best[axis].kind == BED_SNAP_GRID ? &best[axis] : &shown, &snap);
    }
  return snap;
}

BedSnap
bed_snap_body (const BedScene *scene, const BedSnapBody *body, double reach)
{
  g_autoptr (GArray) near = g_array_new (FALSE, FALSE, sizeof (Near));
  Snapper self = { scene, body, body->pose.turn, reach, .near = near };

  if (body->turn_step > 0)
    self.turn = find_turn (&self);
  BedPoint at = turn_point ((BedPoint){ body->pose.x, body->pose.y }, self.turn);
  self.at[0] = at.x;
  self.at[1] = at.y;
  self.half[0] = body->width / 2;
  self.half[1] = body->depth / 2;
  for (guint i = 0; i < scene->shapes->len; i++)
    {
      const BedShape *shape = &g_array_index (scene->shapes, BedShape, i);
      if (!is_shape_held (&self, shape))
        add_shape (&self, shape);
    }
  return snap_in_frame (&self);
}

/* --- points -------------------------------------------------------------------------- */

typedef struct
{
  BedPoint at;
  double reach;
  BedPointSnap snap;
  double nearest; /* a corner or edge */
  double off[2];  /* of the nearest in line, each way */
} PointSnapper;

/* Edges and corners of what stands there; a corner within reach before an edge. */
static void
touch_shape (PointSnapper *self, const BedShape *shape)
{
  for (guint i = 0; i < shape->n_points; i++)
    {
      BedPoint a = shape->points[i], b = shape->points[(i + 1) % shape->n_points];
      BedPoint on = bed_point_nearest (self->at, a, b);
      double to_corner = hypot (a.x - self->at.x, a.y - self->at.y);
      double to_edge = hypot (on.x - self->at.x, on.y - self->at.y) + self->reach;
      gboolean edge = shape->form == BED_SHAPE_AREA || i + 1 < shape->n_points;
      gboolean corner = to_corner <= self->reach;
      double far = corner ? to_corner : to_edge;
      if (far >= self->nearest || (!corner && (!edge || to_edge > 2 * self->reach)))
        continue;
      self->nearest = far;
      self->snap.point = corner ? a : on;
      self->snap.lines[0] = (BedSnapLine){ BED_SNAP_TOUCH, a, corner ? a : b, 0 };
      self->snap.n_lines = 1;
    }
}

static void
line_up_point (PointSnapper *self, BedPoint with)
{
  double at[2] = { self->at.x, self->at.y }, to[2] = { with.x, with.y };
  double *point[2] = { &self->snap.point.x, &self->snap.point.y };

  for (guint axis = 0; axis < 2; axis++)
    {
      double off = fabs (at[axis] - to[axis]);
      if (off > self->reach || off >= self->off[axis])
        continue;
      self->off[axis] = off;
      *point[axis] = to[axis];
      self->snap.lines[axis].from = with;
    }
}

static void
line_up_with (PointSnapper *self, const BedShape *shape)
{
  for (guint i = 0; i < shape->n_points; i++)
    if (hypot (shape->points[i].x - self->at.x, shape->points[i].y - self->at.y) <= NEAR)
      line_up_point (self, shape->points[i]);
}

/* Lines for the ways it lined up, the grid for the others. */
static void
finish_point (PointSnapper *self, double grid)
{
  double *point[2] = { &self->snap.point.x, &self->snap.point.y };
  guint n = 0;

  for (guint axis = 0; axis < 2; axis++)
    if (self->off[axis] == G_MAXDOUBLE)
      *point[axis] = to_grid (*point[axis], grid);
  for (guint axis = 0; axis < 2; axis++)
    {
      BedPoint with = self->snap.lines[axis].from, to = self->snap.point;
      if (self->off[axis] < G_MAXDOUBLE)
        self->snap.lines[n++]
            = (BedSnapLine){ BED_SNAP_EDGE, with, to, hypot (to.x - with.x, to.y - with.y) };
    }
  self->snap.n_lines = n;
}

static void
each_shape (PointSnapper *self, const BedScene *scene, gint64 but,
            void (*look) (PointSnapper *, const BedShape *))
{
  const GArray *outline = scene->yard->outline;
  BedShape around = bed_shape_polygon ((const BedPoint *) (gpointer) outline->data, outline->len);

  for (guint i = 0; i < scene->shapes->len; i++)
    {
      const BedShape *shape = &g_array_index (scene->shapes, BedShape, i);
      gboolean feature = shape->role == BED_SHAPE_FEATURE;
      if (shape->role == BED_SHAPE_STACK
          || (feature
              && ((BedYardFeature *) scene->yard->features->pdata[shape->owner])->id != but))
        look (self, shape);
    }
  if (but != 0)
    look (self, &around);
}

BedPointSnap
bed_snap_point (const BedScene *scene, BedPoint at, const BedPoint *before, gint64 but,
                double reach)
{
  PointSnapper self = { at, reach, { .point = at }, G_MAXDOUBLE, { G_MAXDOUBLE, G_MAXDOUBLE } };

  each_shape (&self, scene, but, touch_shape);
  if (self.snap.n_lines > 0)
    return self.snap;
  if (before) /* a right angle to what is drawn already */
    line_up_point (&self, *before);
  each_shape (&self, scene, but, line_up_with);
  finish_point (&self, scene->grid);
  return self.snap;
}

BedPose
bed_yard_beside (const BedScene *scene, guint index)
{
  const BedYardStack *stack = scene->yard->stacks->pdata[index];
  const BedPile *pile = scene->piles->pdata[index];
  const double out[][2] = { { 1, 0 }, { -1, 0 }, { 0, 1 }, { 0, -1 } };
  const GArray *around = scene->yard->outline;
  double aisle = scene->yard->aisle, most = -1;
  BedPose best = stack->pose;
  BedShape outline = bed_shape_polygon ((const BedPoint *) (gpointer) around->data, around->len);

  for (guint i = 0; i < G_N_ELEMENTS (out); i++)
    {
      BedPoint at = bed_pose_point (&stack->pose, (BedPoint){ out[i][0] * (pile->length + aisle),
                                                              out[i][1] * (pile->width + aisle) });
      BedPose pose = { at.x, at.y, stack->pose.turn };
      BedMeasurement free_ground;
      double room = aisle;
      BedPoint corners[4];
      bed_yard_footprint (scene, index, &pose, corners);
      BedShape footprint = bed_shape_polygon (corners, 4);
      if (bed_yard_nearest (scene, index, &pose, &free_ground) >= 0)
        room = MIN (room, free_ground.distance);
      if (bed_shape_lies_in (&footprint, &outline) && room > most + 1e-9)
        {
          most = room;
          best = pose;
        }
    }
  return best;
}
