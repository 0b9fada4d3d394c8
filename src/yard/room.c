#include "yard/room.h"

#include <math.h>

#include "yard/ground.h"

/* Rows are tried at every tenth of a metre, in large areas at every two-hundredth of their side. */
#define STEP 0.1
#define STEPS 200.0

/* Rows along so many sides and stacks at most are tried, the longest sides first. */
#define MOST_WAYS 6
#define SAME_WAY 0.01 /* radians */

/* How rows lie: along this way, the first of them nearest to what is right of it. */
typedef struct
{
  double turn;
  double length;         /* of the side */
  const BedPose *beside; /* the stack it is in line with, or NULL */
} Way;

/* How stacks lie in rows: flags. */
#define ACROSS 1u /* a stack's logs, of its first tier, across its row */
#define EVEN 2u   /* rows as far from each other as in bare ground, whatever stands in one */
#define N_LIES 4u

/* What must not be stood on, or not nearer than an aisle. */
typedef struct
{
  BedShape shape;
  BedExtent box;
  double clear;
  const BedPose *stack; /* NULL: none; it is a rectangle then, turned so */
} Obstacle;

/* Of a place that was found. */
typedef struct
{
  BedPoint corners[4];
  BedPose pose;
} Kept;

typedef struct
{
  const BedScene *scene;
  BedShape outline, area; /* the ground to be filled, which may be drawn across the area's edge */
  gboolean convex;        /* the ground */
  GArray *ways;           /* Way */
  GArray *obstacles;      /* Obstacle; those found so far are the last of them */
  GPtrArray *points;      /* what these borrow */
  double length, width, aisle, step;
  double turn;    /* of the rows being laid */
  double extra;   /* a quarter turn, or none, to lay a stack so in them */
  double half[2]; /* of a stack along and across its row */
  guint last;     /* the obstacle that was met; G_MAXUINT: none */
  guint likely;   /* the one met before: most likely met again */
  guint rows;     /* laid so far */
  GArray *places; /* BedRoomPlace */
} Room;

static BedPoint
along_rows (const Room *self, BedPoint point)
{
  return bed_pose_point (&(BedPose){ 0, 0, -self->turn }, point);
}

/* --- ways --------------------------------------------------------------------------------- */

static int
compare_ways (gconstpointer a, gconstpointer b)
{
  const Way *one = a, *other = b;

  return (one->length < other->length) - (one->length > other->length);
}

static void
add_way (Room *self, const Way *way)
{
  for (guint i = 0; i < self->ways->len && !way->beside; i++)
    if (fabs (remainder (g_array_index (self->ways, Way, i).turn - way->turn, 2 * G_PI)) < SAME_WAY)
      return;
  if (self->ways->len < MOST_WAYS)
    g_array_append_vals (self->ways, way, 1);
}

/* Twice the area of the triangle, positive when @c lies left of the way from @a to @b. */
static double
cross (BedPoint a, BedPoint b, BedPoint c)
{
  return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

/* With the ground to the left of all edges; a polygon is simple, so that it winds once. */
static gboolean
is_convex (const BedShape *polygon)
{
  guint n = polygon->n_points;

  for (guint i = 0; i < n; i++)
    if (cross (polygon->points[i], polygon->points[(i + 1) % n], polygon->points[(i + 2) % n]) < 0)
      return FALSE;
  return TRUE;
}

static double
double_area (const BedShape *polygon)
{
  double sum = 0;

  for (guint i = 0; i < polygon->n_points; i++)
    {
      BedPoint a = polygon->points[i], b = polygon->points[(i + 1) % polygon->n_points];
      sum += a.x * b.y - b.x * a.y;
    }
  return sum;
}

/* The sides, so that the ground is left of them. */
static void
list_ways (Room *self)
{
  const BedShape *outline = &self->outline;
  gboolean clockwise = double_area (outline) < 0;
  g_autoptr (GArray) sides = g_array_new (FALSE, FALSE, sizeof (Way));

  for (guint i = 0; i < outline->n_points; i++)
    {
      BedPoint a = outline->points[i], b = outline->points[(i + 1) % outline->n_points];
      Way way = { atan2 (b.y - a.y, b.x - a.x), hypot (b.x - a.x, b.y - a.y), NULL };
      if (clockwise)
        way.turn += G_PI;
      g_array_append_val (sides, way);
    }
  g_array_sort (sides, compare_ways);
  for (guint i = 0; i < MIN (sides->len, MOST_WAYS - 2); i++)
    add_way (self, &g_array_index (sides, Way, i));
  for (guint i = 0; i < self->scene->yard->stacks->len; i++)
    {
      const BedYardStack *stack = self->scene->yard->stacks->pdata[i];
      add_way (self, &(Way){ stack->pose.turn, 0, &stack->pose });
      add_way (self, &(Way){ stack->pose.turn + G_PI / 2, 0, &stack->pose });
    }
}

/* --- what is free --------------------------------------------------------------------------- */

static void
add_obstacle (Room *self, const BedShape *shape, const BedPose *stack)
{
  Obstacle obstacle = { *shape, bed_shape_extent (shape), stack ? self->aisle : 0, stack };

  g_array_append_val (self->obstacles, obstacle);
}

/* A cloth hangs over stacks, and so does a crown over all but its trunk. */
static void
add_obstacles (Room *self)
{
  const BedYard *yard = self->scene->yard;

  for (guint i = 0; i < yard->features->len; i++)
    {
      const BedYardFeature *feature = yard->features->pdata[i];
      BedPoint *corners = g_new (BedPoint, 4);
      BedShape footing = bed_feature_get_footing (feature, corners);
      g_ptr_array_add (self->points, corners);
      if (feature->kind != BED_FEATURE_SHADE_CLOTH)
        add_obstacle (self, &footing, NULL);
    }
  for (guint i = 0; i < self->scene->shapes->len; i++)
    {
      const BedShape *shape = &g_array_index (self->scene->shapes, BedShape, i);
      if (shape->role == BED_SHAPE_STACK)
        add_obstacle (self, shape, &((BedYardStack *) yard->stacks->pdata[shape->owner])->pose);
    }
}

static void
get_corners (const Room *self, BedPoint at, BedPoint corners[4])
{
  const BedPose row = { at.x, at.y, self->turn };
  double x = self->half[0], y = self->half[1];
  const BedPoint own[4] = { { -x, -y }, { x, -y }, { x, y }, { -x, y } };

  for (guint i = 0; i < 4; i++)
    corners[i] = bed_pose_point (&row, own[i]);
}

static BedPoint
middle_of (const BedExtent *box)
{
  return (BedPoint){ box->x + box->width / 2, box->y + box->height / 2 };
}

static gboolean
is_met (const Room *self, const Obstacle *obstacle, const BedShape *shape, const BedExtent *box)
{
  const BedExtent *other = &obstacle->box;
  double clear = obstacle->clear;

  if (box->x > other->x + other->width + clear || other->x > box->x + box->width + clear
      || box->y > other->y + other->height + clear || other->y > box->y + box->height + clear)
    return FALSE;
  /* Most are told by the discs that lie in the stack and around it, which takes less time. */
  double far = bed_shape_distance (&obstacle->shape, middle_of (box));
  if (far < clear + MIN (self->half[0], self->half[1]) - BED_SHAPE_TOUCH)
    return TRUE;
  if (far > clear + hypot (self->half[0], self->half[1]))
    return FALSE;
  if (clear > 0)
    return bed_shape_measure (shape, &obstacle->shape).distance < clear - BED_SHAPE_TOUCH;
  return bed_shape_overlaps (shape, &obstacle->shape);
}

/* Whether each edge of a convex polygon, the ground to its left, has all corners of the shape on
 * that side. */
static gboolean
is_within (const BedShape *polygon, const BedShape *shape)
{
  for (guint i = 0; i < polygon->n_points; i++)
    {
      BedPoint a = polygon->points[i], b = polygon->points[(i + 1) % polygon->n_points];
      double length = hypot (b.x - a.x, b.y - a.y);
      for (guint j = 0; j < shape->n_points; j++)
        if (cross (a, b, shape->points[j]) < -BED_SHAPE_TOUCH * length)
          return FALSE;
    }
  return TRUE;
}

static gboolean
is_free (Room *self, const BedShape *shape)
{
  BedExtent box = bed_shape_extent (shape);
  const Obstacle *obstacles = (const Obstacle *) (gpointer) self->obstacles->data;

  for (guint i = 0; i <= self->obstacles->len; i++)
    {
      guint which = i ? i - 1 : self->likely;
      if (which >= self->obstacles->len || !is_met (self, &obstacles[which], shape, &box))
        continue;
      self->last = self->likely = which;
      return FALSE;
    }
  return (self->convex ? is_within (&self->outline, shape)
                       : bed_shape_lies_in (shape, &self->outline))
         && (self->area.points == self->outline.points || bed_shape_lies_in (shape, &self->area));
}

/* --- rows ----------------------------------------------------------------------------------- */

static int
compare_numbers (gconstpointer a, gconstpointer b)
{
  double x = *(const double *) a, y = *(const double *) b;

  return (x > y) - (x < y);
}

/* How much of a line along the rows lies in the outline. */
static double
measure_row (const Room *self, double y)
{
  g_autoptr (GArray) crossings = g_array_new (FALSE, FALSE, sizeof (double));
  double inside = 0;

  for (guint i = 0; i < self->outline.n_points; i++)
    {
      BedPoint a = along_rows (self, self->outline.points[i]);
      BedPoint b = along_rows (self, self->outline.points[(i + 1) % self->outline.n_points]);
      double x = a.x + (b.x - a.x) * (y - a.y) / (b.y - a.y);
      if ((a.y > y) != (b.y > y))
        g_array_append_val (crossings, x);
    }
  g_array_sort (crossings, compare_numbers);
  for (guint i = 0; i + 1 < crossings->len; i += 2)
    inside += g_array_index (crossings, double, i + 1) - g_array_index (crossings, double, i);
  return inside;
}

/* Whether one stands there now. */
static gboolean
stand (Room *self, double x, double y)
{
  BedPoint at = bed_pose_point (&(BedPose){ 0, 0, self->turn }, (BedPoint){ x, y });
  BedPoint corners[4];

  get_corners (self, at, corners);
  BedShape shape = bed_shape_polygon (corners, 4);
  if (!is_free (self, &shape))
    return FALSE;
  BedRoomPlace place
      = { { at.x, at.y, remainder (self->turn + self->extra, G_PI) }, self->rows, 0 };
  Kept *kept = g_new (Kept, 1);
  *kept = (Kept){ { corners[0], corners[1], corners[2], corners[3] }, place.pose };
  shape.points = kept->corners;
  g_ptr_array_add (self->points, kept);
  add_obstacle (self, &shape, &kept->pose);
  g_array_append_val (self->places, place);
  return TRUE;
}

/* Where one stands clear of what was met at @x, when that is a stack turned alike; else @x. */
static double
pass (const Room *self, double x, double y)
{
  const Obstacle *met = &g_array_index (self->obstacles, Obstacle, self->last);
  double south = G_MAXDOUBLE, north = -G_MAXDOUBLE, east = -G_MAXDOUBLE;

  if (!met->stack || fabs (remainder (met->stack->turn - self->turn, G_PI / 2)) > 1e-6)
    return x;
  for (guint i = 0; i < 4; i++)
    {
      BedPoint p = along_rows (self, met->shape.points[i]);
      south = MIN (south, p.y);
      north = MAX (north, p.y);
      east = MAX (east, p.x);
    }
  double beside = MAX (0, MAX (south - y - self->half[1], y - self->half[1] - north));
  double gap = sqrt (MAX (0, self->aisle * self->aisle - beside * beside));
  return MAX (x, east + gap + self->half[0] - BED_SHAPE_TOUCH / 2);
}

/* One row at @y of the rows' frame; whether any stands in it. */
static gboolean
fill_row (Room *self, double y, double west, double east)
{
  guint first = self->places->len;
  double start = west + self->half[0], x = start, pitch = 2 * self->half[0] + self->aisle;

  while (x + self->half[0] <= east + BED_SHAPE_TOUCH)
    {
      /* Also where one would stand in bare ground, so that never fewer do. */
      double even = start + (floor ((x - start) / pitch + 1e-9) + 1) * pitch;
      self->last = G_MAXUINT;
      if (stand (self, x, y))
        x += pitch;
      else
        x = MAX (MIN (x + self->step, even), self->last == G_MAXUINT ? x : pass (self, x, y));
    }
  if (self->places->len == first)
    return FALSE;
  double used = 2 * self->half[0] * (self->places->len - first);
  double waste = 1 - used / MAX (measure_row (self, y), used);
  for (guint i = first; i < self->places->len; i++)
    g_array_index (self->places, BedRoomPlace, i).waste = waste;
  self->rows++;
  return TRUE;
}

static void
fill (Room *self, const Way *way, guint lie)
{
  gboolean across = lie & ACROSS;
  double west = G_MAXDOUBLE, east = -G_MAXDOUBLE, south = G_MAXDOUBLE, north = -G_MAXDOUBLE;

  self->turn = way->turn;
  self->half[0] = (across ? self->width : self->length) / 2;
  self->half[1] = (across ? self->length : self->width) / 2;
  self->extra = across ? G_PI / 2 : 0;
  for (guint i = 0; i < self->outline.n_points; i++)
    {
      BedPoint p = along_rows (self, self->outline.points[i]);
      west = MIN (west, p.x);
      east = MAX (east, p.x);
      south = MIN (south, p.y);
      north = MAX (north, p.y);
    }
  self->step = MAX (STEP, MAX (east - west, north - south) / STEPS);
  if (way->beside)
    fill_row (self, along_rows (self, (BedPoint){ way->beside->x, way->beside->y }).y, west, east);
  double y = south + self->half[1], pitch = 2 * self->half[1] + self->aisle;
  while (y + self->half[1] <= north + BED_SHAPE_TOUCH)
    y += fill_row (self, y, west, east) || lie & EVEN ? pitch : self->step;
}

static void
begin (Room *self, guint obstacles, guint points)
{
  g_array_set_size (self->obstacles, obstacles);
  g_ptr_array_set_size (self->points, (int) points);
  g_array_set_size (self->places, 0);
  self->rows = 0;
}

/* The way and lie of most places; then what is left is filled in every other. */
static void
fill_best (Room *self)
{
  guint obstacles = self->obstacles->len, points = self->points->len, best = 0, most = 0;

  for (guint i = 0; i < N_LIES * self->ways->len; i++)
    {
      begin (self, obstacles, points);
      fill (self, &g_array_index (self->ways, Way, i / N_LIES), i % N_LIES);
      if (self->places->len > most)
        {
          most = self->places->len;
          best = i;
        }
    }
  begin (self, obstacles, points);
  fill (self, &g_array_index (self->ways, Way, best / N_LIES), best % N_LIES);
  for (guint i = 0; i < self->ways->len; i++)
    for (guint lie = 0; lie <= ACROSS; lie++)
      fill (self, &g_array_index (self->ways, Way, i), lie);
}

GArray *
bed_room_fill (const BedScene *scene, const BedRoomWish *wish)
{
  const GArray *outline = scene->yard->outline;
  const GArray *around = wish->within ? wish->within->points : outline;
  g_autoptr (BedPile) pile = bed_pile_new (wish->like);
  g_autoptr (GArray) ways = g_array_new (FALSE, FALSE, sizeof (Way));
  g_autoptr (GArray) obstacles = g_array_new (FALSE, FALSE, sizeof (Obstacle));
  g_autoptr (GPtrArray) points = g_ptr_array_new_with_free_func (g_free);
  Room room
      = { .scene = scene,
          .outline = bed_shape_polygon ((const BedPoint *) (gpointer) around->data, around->len),
          .area = bed_shape_polygon ((const BedPoint *) (gpointer) outline->data, outline->len),
          .ways = ways,
          .obstacles = obstacles,
          .points = points,
          .length = pile->length,
          .width = pile->width,
          .aisle = wish->aisle > 0 ? wish->aisle : scene->yard->aisle,
          .places = g_array_new (FALSE, FALSE, sizeof (BedRoomPlace)) };

  room.convex = is_convex (&room.outline);
  list_ways (&room);
  add_obstacles (&room);
  fill_best (&room);
  return room.places;
}

guint
bed_room_logs (const BedRoomWish *wish, guint stacks)
{
  g_autoptr (BedPile) pile = bed_pile_new (wish->like);

  return stacks * pile->holds;
}
