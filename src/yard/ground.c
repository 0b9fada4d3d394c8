#include "yard/ground.h"

#include <math.h>

/* Sizes of what nobody measured. Our own choice. */
static const struct
{
  BedGroundForm form;  /* of a new one */
  double width, depth; /* of a box; width: of a band */
  double radius;
} usual[BED_N_FEATURE_KINDS] = {
  [BED_FEATURE_TREE] = { BED_GROUND_DISC, 0.8, 0, 1.5 },
  [BED_FEATURE_PATH] = { BED_GROUND_BAND, 0.8, 0, 0.4 },
  [BED_FEATURE_POND] = { BED_GROUND_DISC, 3, 3, 1.5 },
  [BED_FEATURE_TANK] = { BED_GROUND_BOX, 2, 1, 0.6 },
  [BED_FEATURE_TAP] = { BED_GROUND_POINT, 0.3, 0.3, 0.15 },
  [BED_FEATURE_FENCE] = { BED_GROUND_BAND, 0.1, 0, 0.05 },
  [BED_FEATURE_BUILDING] = { BED_GROUND_BOX, 3, 3, 1.5 },
  [BED_FEATURE_SHADE_CLOTH] = { BED_GROUND_BOX, 3, 3, 1.5 },
};

#define USUAL_TRUNK 0.3
#define MILLIMETRE 0.001

static BedPoint *
get_points (const BedGround *ground)
{
  return (BedPoint *) (gpointer) ground->points->data;
}

static gboolean
is_line (BedFeatureKind kind)
{
  return usual[kind].form == BED_GROUND_BAND;
}

static gboolean
is_round (BedFeatureKind kind)
{
  return kind == BED_FEATURE_TREE || kind == BED_FEATURE_POND || kind == BED_FEATURE_TAP;
}

static void
set_middle (BedGround *ground, BedPoint middle)
{
  g_array_set_size (ground->points, 1);
  get_points (ground)[0] = middle;
}

/* The box with those corners, or FALSE when they are not at right angles. */
static gboolean
make_box (BedGround *ground)
{
  const BedPoint *p = get_points (ground);
  BedGround box = { .form = BED_GROUND_BOX, .points = g_array_new (FALSE, TRUE, sizeof *p) };
  BedPoint corners[4];
  gboolean same = TRUE;

  set_middle (&box, (BedPoint){ (p[0].x + p[2].x) / 2, (p[0].y + p[2].y) / 2 });
  box.turn = atan2 (p[1].y - p[0].y, p[1].x - p[0].x);
  box.width = hypot (p[1].x - p[0].x, p[1].y - p[0].y);
  box.depth = hypot (p[2].x - p[1].x, p[2].y - p[1].y);
  bed_ground_get_corners (&box, corners);
  for (guint i = 0; i < 4; i++)
    {
      double nearest = G_MAXDOUBLE; /* they may run the other way round */
      for (guint j = 0; j < 4; j++)
        nearest = MIN (nearest, hypot (corners[j].x - p[i].x, corners[j].y - p[i].y));
      same = same && nearest <= MILLIMETRE;
    }
  g_array_unref (same ? ground->points : box.points);
  if (same)
    *ground = box;
  return same;
}

static void
settle_two (BedGround *ground, BedFeatureKind kind)
{
  BedPoint a = get_points (ground)[0], b = get_points (ground)[1];

  if (is_round (kind))
    {
      ground->form = BED_GROUND_DISC;
      ground->radius = hypot (b.x - a.x, b.y - a.y);
      set_middle (ground, a);
      return;
    }
  ground->form = BED_GROUND_BOX;
  ground->turn = 0;
  ground->width = fabs (b.x - a.x);
  ground->depth = fabs (b.y - a.y);
  set_middle (ground, (BedPoint){ (a.x + b.x) / 2, (a.y + b.y) / 2 });
}

/* A band of usual width along what it was: its corners, or the box's longer way. */
static void
lay_along (BedGround *ground, const BedExtent *all)
{
  BedPoint middle = get_points (ground)[0];
  BedPose pose = { middle.x, middle.y, ground->form == BED_GROUND_BOX ? ground->turn : 0 };
  gboolean box = ground->form == BED_GROUND_BOX;
  double x = (box ? ground->width : all->width) / 2;
  double y = (box ? ground->depth : all->height) / 2;
  BedPoint ends[2] = { bed_pose_point (&pose, x >= y ? (BedPoint){ -x, 0 } : (BedPoint){ 0, -y }),
                       bed_pose_point (&pose, x >= y ? (BedPoint){ x, 0 } : (BedPoint){ 0, y }) };

  if (ground->form != BED_GROUND_POLYGON)
    {
      g_array_set_size (ground->points, 0);
      g_array_append_vals (ground->points, ends, 2);
    }
  ground->form = BED_GROUND_BAND;
  ground->width = 0; /* usual */
}

/* Of a straight band a box; of another its corners. */
static void
widen (BedGround *ground)
{
  const BedPoint *p = get_points (ground);
  guint n = ground->points->len;
  double width = ground->width;

  ground->form = n > 2 ? BED_GROUND_POLYGON : BED_GROUND_BOX;
  if (n > 2)
    return;
  BedPoint middle = { (p[0].x + p[1].x) / 2, (p[0].y + p[1].y) / 2 };
  ground->turn = atan2 (p[1].y - p[0].y, p[1].x - p[0].x);
  ground->width = hypot (p[1].x - p[0].x, p[1].y - p[0].y);
  ground->depth = width;
  set_middle (ground, middle);
}

/* --- public --------------------------------------------------------------------- */

void
bed_ground_set_usual (BedGround *ground, BedFeatureKind kind, BedPoint at)
{
  ground->form = usual[kind].form;
  ground->turn = ground->width = ground->depth = ground->radius = ground->trunk = 0;
  set_middle (ground, at);
  bed_ground_complete (ground, kind);
}

void
bed_ground_settle (BedGround *ground, BedFeatureKind kind)
{
  guint n = ground->points->len;

  g_return_if_fail (n > 0 && kind < BED_N_FEATURE_KINDS);
  if (is_line (kind))
    ground->form = BED_GROUND_BAND;
  else if (n == 1)
    ground->form = kind == BED_FEATURE_TANK ? BED_GROUND_DISC : usual[kind].form;
  else if (n == 2)
    settle_two (ground, kind);
  else if (n != 4 || is_round (kind) || !make_box (ground))
    ground->form = BED_GROUND_POLYGON;
  bed_ground_complete (ground, kind);
}

void
bed_ground_complete (BedGround *ground, BedFeatureKind kind)
{
  gboolean middle = ground->form != BED_GROUND_BAND && ground->form != BED_GROUND_POLYGON;

  g_return_if_fail (ground->points->len > 0 && kind < BED_N_FEATURE_KINDS);
  if (ground->form == BED_GROUND_POLYGON && ground->points->len < 3)
    {
      bed_ground_settle (ground, kind);
      return;
    }
  if (middle)
    g_array_set_size (ground->points, 1);
  if (ground->width <= 0)
    ground->width = usual[kind].width;
  if (ground->depth <= 0)
    ground->depth = usual[kind].depth > 0 ? usual[kind].depth : usual[kind].width;
  if (ground->radius <= 0 || ground->form == BED_GROUND_POINT)
    ground->radius = usual[kind].radius;
}

void
bed_ground_change_kind (BedGround *ground, BedFeatureKind kind)
{
  BedPoint corners[4];
  BedShape shape = bed_ground_get_shape (ground, corners);
  BedExtent all = bed_shape_extent (&shape);
  BedPoint middle = { all.x + all.width / 2, all.y + all.height / 2 };
  gboolean line = ground->form == BED_GROUND_BAND && ground->points->len > 1;

  if (is_line (kind) && !line)
    lay_along (ground, &all);
  else if (kind == BED_FEATURE_TAP
           || (!is_line (kind) && ground->points->len == 1 && ground->form == BED_GROUND_BAND))
    bed_ground_set_usual (ground, kind, middle);
  else if (kind == BED_FEATURE_TREE && ground->form != BED_GROUND_DISC)
    {
      double radius = MAX (all.width, all.height) / 2;
      bed_ground_set_usual (ground, kind, middle);
      ground->radius = MAX (radius, MILLIMETRE);
    }
  else if (ground->form == BED_GROUND_POINT)
    bed_ground_set_usual (ground, kind, middle);
  else if (line && !is_line (kind))
    widen (ground);
  bed_ground_complete (ground, kind);
}

void
bed_ground_copy (BedGround *to, const BedGround *from)
{
  *to = *from;
  to->points = g_array_copy (from->points);
}

void
bed_ground_get_corners (const BedGround *box, BedPoint corners[4])
{
  BedPose pose = { get_points (box)[0].x, get_points (box)[0].y, box->turn };
  double x = box->width / 2, y = box->depth / 2;
  const BedPoint own[4] = { { -x, -y }, { x, -y }, { x, y }, { -x, y } };

  for (guint i = 0; i < 4; i++)
    corners[i] = bed_pose_point (&pose, own[i]);
}

BedShape
bed_ground_get_shape (const BedGround *ground, BedPoint corners[4])
{
  BedShape shape = { .points = get_points (ground), .n_points = ground->points->len };

  switch (ground->form)
    {
    case BED_GROUND_BOX:
      bed_ground_get_corners (ground, corners);
      return bed_shape_polygon (corners, 4);
    case BED_GROUND_POLYGON:
      return bed_shape_polygon (shape.points, shape.n_points);
    case BED_GROUND_BAND:
      shape.form = shape.n_points > 1 ? BED_SHAPE_LINE : BED_SHAPE_DISC;
      shape.radius = ground->width / 2;
      return shape;
    case BED_GROUND_POINT:
    case BED_GROUND_DISC:
    case BED_N_GROUND_FORMS:
    default:
      shape.form = BED_SHAPE_DISC;
      shape.radius = ground->radius;
      return shape;
    }
}

BedShape
bed_feature_get_footing (const BedYardFeature *feature, BedPoint corners[4])
{
  BedShape shape = bed_ground_get_shape (&feature->ground, corners);

  if (feature->kind != BED_FEATURE_TREE || shape.form != BED_SHAPE_DISC)
    return shape;
  double trunk = feature->ground.trunk > 0 ? feature->ground.trunk : USUAL_TRUNK;
  shape.radius = MIN (shape.radius, trunk / 2);
  return shape;
}
