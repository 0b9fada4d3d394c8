#include "yard/room.h"

#include <math.h>

#include "yard/ground.h"

/* Rows are tried at every tenth of a metre, in large areas at every two-hundredth of their side. */
#define STEP 0.1
#define STEPS 200.0

typedef struct
{
  const BedScene *scene;
  BedShape outline;
  GArray *obstacles; /* BedShape: what one must not stand on */
  GPtrArray *points; /* what these borrow */
  double turn;       /* of the rows */
  double half[2];    /* of a stack along and across its row */
  double extra;      /* a quarter turn, or none, to lay it so */
  double aisle, step;
  GArray *poses;
  guint most;
} Room;

static BedPoint
along_rows (const Room *self, BedPoint point)
{
  return bed_pose_point (&(BedPose){ 0, 0, -self->turn }, point);
}

static double
find_longest_way (const BedShape *outline)
{
  double longest = 0, way = 0;

  for (guint i = 0; i < outline->n_points; i++)
    {
      BedPoint a = outline->points[i], b = outline->points[(i + 1) % outline->n_points];
      double length = hypot (b.x - a.x, b.y - a.y);
      if (length <= longest + 1e-9)
        continue;
      longest = length;
      way = atan2 (b.y - a.y, b.x - a.x);
    }
  return remainder (way, G_PI);
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
        g_array_append_val (self->obstacles, footing);
    }
}

static void
get_corners (const Room *self, const BedPose *pose, BedPoint corners[4])
{
  const BedPose row = { pose->x, pose->y, self->turn };
  double x = self->half[0], y = self->half[1];
  const BedPoint own[4] = { { -x, -y }, { x, -y }, { x, y }, { -x, y } };

  for (guint i = 0; i < 4; i++)
    corners[i] = bed_pose_point (&row, own[i]);
}

static gboolean
is_apart (const Room *self, const BedShape *one, const BedShape *other)
{
  BedExtent a = bed_shape_extent (one), b = bed_shape_extent (other);

  if (a.x > b.x + b.width + self->aisle || b.x > a.x + a.width + self->aisle
      || a.y > b.y + b.height + self->aisle || b.y > a.y + a.height + self->aisle)
    return TRUE;
  return bed_shape_measure (one, other).distance >= self->aisle - BED_SHAPE_TOUCH;
}

static gboolean
is_free (const Room *self, const BedPose *pose)
{
  BedPoint corners[4], others[4];

  get_corners (self, pose, corners);
  BedShape shape = bed_shape_polygon (corners, 4), other = bed_shape_polygon (others, 4);
  if (!bed_shape_lies_in (&shape, &self->outline))
    return FALSE;
  for (guint i = 0; i < self->obstacles->len; i++)
    if (bed_shape_overlaps (&shape, &g_array_index (self->obstacles, BedShape, i)))
      return FALSE;
  for (guint i = 0; i < self->scene->shapes->len; i++)
    {
      const BedShape *there = &g_array_index (self->scene->shapes, BedShape, i);
      if (there->role == BED_SHAPE_STACK && !is_apart (self, &shape, there))
        return FALSE;
    }
  for (guint i = 0; i < self->poses->len; i++)
    {
      get_corners (self, &g_array_index (self->poses, BedPose, i), others);
      if (!is_apart (self, &shape, &other))
        return FALSE;
    }
  return TRUE;
}

static gboolean
is_full (const Room *self)
{
  return self->most > 0 && self->poses->len >= self->most;
}

/* One row at @y of the rows' frame; whether any stands in it. */
static gboolean
fill_row (Room *self, double y, double west, double east)
{
  gboolean any = FALSE;
  double x = west + self->half[0];

  while (x + self->half[0] <= east + BED_SHAPE_TOUCH && !is_full (self))
    {
      BedPoint at = bed_pose_point (&(BedPose){ 0, 0, self->turn }, (BedPoint){ x, y });
      BedPose pose = { at.x, at.y, bed_turn_normal (self->turn + self->extra) };
      gboolean free = is_free (self, &pose);
      if (free)
        g_array_append_val (self->poses, pose);
      any = any || free;
      x += free ? 2 * self->half[0] + self->aisle : self->step;
    }
  return any;
}

static void
fill (Room *self)
{
  double west = G_MAXDOUBLE, east = -G_MAXDOUBLE, south = G_MAXDOUBLE, north = -G_MAXDOUBLE;

  for (guint i = 0; i < self->outline.n_points; i++)
    {
      BedPoint p = along_rows (self, self->outline.points[i]);
      west = MIN (west, p.x);
      east = MAX (east, p.x);
      south = MIN (south, p.y);
      north = MAX (north, p.y);
    }
  self->step = MAX (STEP, MAX (east - west, north - south) / STEPS);
  double y = south + self->half[1];
  while (y + self->half[1] <= north + BED_SHAPE_TOUCH && !is_full (self))
    y += fill_row (self, y, west, east) ? 2 * self->half[1] + self->aisle : self->step;
}

static void
lay (Room *self, const BedPile *pile, gboolean across)
{
  self->half[0] = (across ? pile->width : pile->length) / 2;
  self->half[1] = (across ? pile->length : pile->width) / 2;
  self->extra = across ? G_PI / 2 : 0;
  self->poses = g_array_new (FALSE, FALSE, sizeof (BedPose));
  fill (self);
}

GArray *
bed_room_fill (const BedScene *scene, const BedRoomWish *wish, guint most)
{
  const GArray *around = wish->within ? wish->within->points : scene->yard->outline;
  g_autoptr (BedPile) pile = bed_pile_new (wish->like);
  g_autoptr (GArray) obstacles = g_array_new (FALSE, FALSE, sizeof (BedShape));
  g_autoptr (GPtrArray) points = g_ptr_array_new_with_free_func (g_free);
  Room room = { scene, .obstacles = obstacles, .points = points, .most = most };

  room.outline = bed_shape_polygon ((const BedPoint *) (gpointer) around->data, around->len);
  room.turn = find_longest_way (&room.outline);
  room.aisle = scene->yard->aisle;
  add_obstacles (&room);
  lay (&room, pile, FALSE);
  GArray *along = room.poses;
  lay (&room, pile, TRUE);
  gboolean better = room.poses->len > along->len;
  g_array_unref (better ? along : room.poses);
  return better ? room.poses : along;
}

guint
bed_room_logs (const BedRoomWish *wish, guint stacks)
{
  g_autoptr (BedPile) pile = bed_pile_new (wish->like);

  return stacks * pile->holds;
}
