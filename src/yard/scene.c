#include "yard/scene.h"

#include <math.h>

#include "yard/ground.h"

#define USUAL_GRID 0.1 /* m */

/* What lies on the ground is drawn before what stands over it. */
static const BedFeatureKind drawing_order[] = {
  BED_FEATURE_POND,     BED_FEATURE_PATH,  BED_FEATURE_TANK, BED_FEATURE_TAP,
  BED_FEATURE_BUILDING, BED_FEATURE_FENCE, BED_FEATURE_TREE, BED_FEATURE_SHADE_CLOTH,
};
G_STATIC_ASSERT (G_N_ELEMENTS (drawing_order) == BED_N_FEATURE_KINDS);

/* --- the shapes ------------------------------------------------------------- */

static BedPoint *
keep_points (BedScene *scene, guint n)
{
  BedPoint *points = g_new (BedPoint, n);

  g_ptr_array_add (scene->points, points);
  return points;
}

static void
set_rectangle (BedPoint corners[4], BedPoint a, BedPoint b)
{
  corners[0] = (BedPoint){ MIN (a.x, b.x), MIN (a.y, b.y) };
  corners[1] = (BedPoint){ MAX (a.x, b.x), MIN (a.y, b.y) };
  corners[2] = (BedPoint){ MAX (a.x, b.x), MAX (a.y, b.y) };
  corners[3] = (BedPoint){ MIN (a.x, b.x), MAX (a.y, b.y) };
}

static void
add_feature (BedScene *scene, guint index)
{
  const BedYardFeature *feature = g_ptr_array_index (scene->yard->features, index);
  BedShape shape = bed_ground_get_shape (&feature->ground, keep_points (scene, 4));

  shape.role = BED_SHAPE_FEATURE;
  shape.owner = index;
  g_array_append_val (scene->shapes, shape);
}

static void
add_line (BedScene *scene, BedShape *shape, const BedPoint3 ends[2])
{
  const BedYardStack *stack = g_ptr_array_index (scene->yard->stacks, shape->owner);
  BedPoint *points = keep_points (scene, 2);

  for (guint i = 0; i < 2; i++)
    points[i] = bed_pose_point (&stack->pose, (BedPoint){ ends[i].x, ends[i].y });
  shape->form = BED_SHAPE_LINE;
  shape->points = points;
  shape->n_points = 2;
  g_array_append_vals (scene->shapes, shape, 1);
}

static void
add_stack (BedScene *scene, guint index)
{
  const BedYardStack *stack = g_ptr_array_index (scene->yard->stacks, index);
  BedPile *pile = bed_pile_new (stack);
  BedPoint *corners = keep_points (scene, 4);
  BedShape shape = { .role = BED_SHAPE_STACK,
                     .form = BED_SHAPE_AREA,
                     .owner = index,
                     .points = corners,
                     .n_points = 4 };

  g_ptr_array_add (scene->piles, pile);
  bed_yard_footprint (scene, index, &stack->pose, corners);
  g_array_append_val (scene->shapes, shape);
  for (guint i = 0; i < pile->bars->len; i++)
    {
      const BedBar *bar = &g_array_index (pile->bars, BedBar, i);
      BedShape log
          = { .role = BED_SHAPE_LOG, .owner = index, .log = bar->log, .radius = bar->radius };
      if (bar->log)
        add_line (scene, &log, (BedPoint3[]){ bar->foot, bar->head });
    }
  for (guint i = 0; i < pile->rails->len; i++)
    {
      const BedRail *rail = &g_array_index (pile->rails, BedRail, i);
      BedShape line = { .role = BED_SHAPE_RAIL, .owner = index, .radius = rail->radius };
      if (rail->kind == BED_RAIL_LEAN) /* the rest is under the logs, or no wider than them */
        add_line (scene, &line, (BedPoint3[]){ rail->from, rail->to });
    }
}

static void
grow (BedPoint *low, BedPoint *high, BedPoint point, double radius)
{
  low->x = MIN (low->x, point.x - radius);
  low->y = MIN (low->y, point.y - radius);
  high->x = MAX (high->x, point.x + radius);
  high->y = MAX (high->y, point.y + radius);
}

BedScene *
bed_scene_new (const BedYard *yard)
{
  BedScene *scene = g_new0 (BedScene, 1);

  scene->yard = yard;
  scene->grid = USUAL_GRID;
  scene->shapes = g_array_new (FALSE, FALSE, sizeof (BedShape));
  scene->piles = g_ptr_array_new_with_free_func ((GDestroyNotify) bed_pile_free);
  scene->points = g_ptr_array_new_with_free_func (g_free);
  for (guint k = 0; k < BED_N_FEATURE_KINDS; k++)
    for (guint i = 0; i < yard->features->len; i++)
      if (((BedYardFeature *) yard->features->pdata[i])->kind == drawing_order[k])
        add_feature (scene, i);
  for (guint i = 0; i < yard->stacks->len; i++)
    add_stack (scene, i);
  return scene;
}

void
bed_scene_free (BedScene *scene)
{
  g_array_unref (scene->shapes);
  g_ptr_array_unref (scene->piles);
  g_ptr_array_unref (scene->points);
  for (guint i = 0; i < BED_SCENE_WAYS; i++)
    g_clear_pointer (&scene->ways[i], bed_ways_free);
  g_free (scene);
}

static BedWays *
begin_ways (const BedScene *scene, guint narrower)
{
  BedWays **ways = (BedWays **) &scene->ways[narrower]; /* remembered, not changed */

  if (!*ways)
    *ways = bed_ways_new (scene->yard, scene->shapes, BED_WAY_BREADTH - 0.1 * narrower);
  return *ways;
}

const BedWays *
bed_scene_get_ways (const BedScene *scene, guint narrower)
{
  g_return_val_if_fail (narrower < BED_SCENE_WAYS, NULL);
  BedWays *ways = begin_ways (scene, narrower);

  bed_ways_work (ways, G_MAXINT64);
  return ways;
}

gboolean
bed_scene_work_ways (const BedScene *scene, gint64 until)
{
  for (guint i = 0; i < BED_SCENE_WAYS; i++)
    {
      BedWays *ways = begin_ways (scene, i);
      guint out = 0;
      if (!bed_ways_work (ways, until))
        return FALSE;
      while (out < scene->piles->len && bed_ways_leads_out (ways, out))
        out++;
      if (out == scene->piles->len)
        return TRUE; /* narrower ways are asked for where one does not */
    }
  return TRUE;
}

void
bed_yard_footprint (const BedScene *scene, guint index, const BedPose *pose, BedPoint corners[4])
{
  const BedPile *pile = g_ptr_array_index (scene->piles, index);
  double x = pile->length / 2, y = pile->width / 2;

  set_rectangle (corners, (BedPoint){ -x, -y }, (BedPoint){ x, y });
  for (guint i = 0; i < 4; i++)
    corners[i] = bed_pose_point (pose, corners[i]);
}

BedExtent
bed_yard_bounds (const BedScene *scene)
{
  BedPoint low = { G_MAXDOUBLE, G_MAXDOUBLE }, high = { -G_MAXDOUBLE, -G_MAXDOUBLE };

  for (guint i = 0; i < scene->yard->outline->len; i++)
    grow (&low, &high, g_array_index (scene->yard->outline, BedPoint, i), 0);
  for (guint i = 0; i < scene->shapes->len; i++)
    {
      const BedShape *shape = &g_array_index (scene->shapes, BedShape, i);
      for (guint j = 0; j < shape->n_points; j++)
        grow (&low, &high, shape->points[j], shape->role == BED_SHAPE_LOG ? 0 : shape->radius);
    }
  return (BedExtent){ low.x, low.y, high.x - low.x, high.y - low.y };
}

BedMeasurement
bed_yard_measure (const BedScene *scene, guint index, const BedPose *pose, guint other)
{
  const BedYardStack *stack = g_ptr_array_index (scene->yard->stacks, other);
  BedPoint a[4], b[4];

  bed_yard_footprint (scene, index, pose, a);
  bed_yard_footprint (scene, other, &stack->pose, b);
  BedShape from = bed_shape_polygon (a, 4), to = bed_shape_polygon (b, 4);
  return bed_shape_measure (&from, &to);
}

/* From the middle of a stack to its farthest corner. */
static double
find_reach (const BedScene *scene, guint index)
{
  const BedPile *pile = scene->piles->pdata[index];

  return hypot (pile->length, pile->width) / 2;
}

int
bed_yard_nearest (const BedScene *scene, guint index, const BedPose *pose,
                  BedMeasurement *measurement)
{
  int nearest = -1;

  measurement->distance = G_MAXDOUBLE;
  for (guint i = 0; i < scene->piles->len; i++)
    {
      const BedPose *other = &((BedYardStack *) scene->yard->stacks->pdata[i])->pose;
      if (i == index
          || hypot (other->x - pose->x, other->y - pose->y) - find_reach (scene, index)
                     - find_reach (scene, i)
                 >= measurement->distance)
        continue;
      BedMeasurement to = bed_yard_measure (scene, index, pose, i);
      if (to.distance >= measurement->distance)
        continue;
      *measurement = to;
      nearest = i;
    }
  return nearest;
}

double
bed_turn_normal (double turn)
{
  turn = fmod (turn, 2 * G_PI);
  if (turn > G_PI)
    turn -= 2 * G_PI;
  if (turn <= -G_PI)
    turn += 2 * G_PI;
  return turn;
}
