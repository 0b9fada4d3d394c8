#include "yard/group.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "model/farm/say.h"
#include "yard/features.h"

/* --- motions -------------------------------------------------------------------- */

BedPoint
bed_motion_point (const BedMotion *motion, BedPoint point)
{
  BedPose pose = { motion->about.x + motion->by.x, motion->about.y + motion->by.y, motion->turn };

  return bed_pose_point (&pose, (BedPoint){ point.x - motion->about.x, point.y - motion->about.y });
}

BedPose
bed_motion_pose (const BedMotion *motion, const BedPose *pose)
{
  BedPoint at = bed_motion_point (motion, (BedPoint){ pose->x, pose->y });

  return (BedPose){ at.x, at.y, bed_turn_normal (pose->turn + motion->turn) };
}

void
bed_motion_ground (const BedMotion *motion, BedGround *ground)
{
  for (guint i = 0; i < ground->points->len; i++)
    {
      BedPoint *point = &g_array_index (ground->points, BedPoint, i);
      *point = bed_motion_point (motion, *point);
    }
  if (ground->form == BED_GROUND_BOX)
    ground->turn = bed_turn_normal (ground->turn + motion->turn);
}

/* --- what there is -------------------------------------------------------------- */

/* The thing's shape in the scene, or NULL when it is gone. */
static const BedShape *
find_shape (const BedScene *scene, const BedThing *thing)
{
  gboolean stack = thing->kind == BED_THING_STACK;
  guint index;

  if (stack ? !bed_yard_find_stack (scene->yard, thing->id, &index)
            : !bed_yard_find_feature (scene->yard, thing->id, &index))
    return NULL;
  for (guint i = 0; i < scene->shapes->len; i++)
    {
      const BedShape *shape = &g_array_index (scene->shapes, BedShape, i);
      if (shape->owner == index && shape->role == (stack ? BED_SHAPE_STACK : BED_SHAPE_FEATURE))
        return shape;
    }
  return NULL;
}

static const BedThing *
get_thing (const GArray *things, guint i)
{
  return &g_array_index (things, BedThing, i);
}

static BedExtent
extent_of (const BedScene *scene, const BedThing *thing)
{
  const BedShape *shape = find_shape (scene, thing);

  return shape ? bed_shape_extent (shape) : (BedExtent){ 0, 0, -1, -1 };
}

static void
join (BedExtent *all, const BedExtent *one)
{
  if (one->width < 0)
    return;
  if (all->width < 0)
    {
      *all = *one;
      return;
    }
  double east = MAX (all->x + all->width, one->x + one->width);
  double north = MAX (all->y + all->height, one->y + one->height);
  all->x = MIN (all->x, one->x);
  all->y = MIN (all->y, one->y);
  all->width = east - all->x;
  all->height = north - all->y;
}

BedExtent
bed_group_extent (const BedScene *scene, const GArray *things)
{
  BedExtent all = { 0, 0, -1, -1 };

  for (guint i = 0; i < things->len; i++)
    {
      BedExtent one = extent_of (scene, get_thing (things, i));
      join (&all, &one);
    }
  return all;
}

static void
add_thing (GArray *things, BedThingKind kind, gint64 id)
{
  BedThing thing = { kind, id };

  g_array_append_val (things, thing);
}

GArray *
bed_group_touched (const BedScene *scene, const BedExtent *box)
{
  GArray *things = g_array_new (FALSE, FALSE, sizeof (BedThing));
  const BedYard *yard = scene->yard;
  const BedPoint corners[4] = { { box->x, box->y },
                                { box->x + box->width, box->y },
                                { box->x + box->width, box->y + box->height },
                                { box->x, box->y + box->height } };
  BedShape band = bed_shape_polygon (corners, 4);

  for (guint role = BED_SHAPE_FEATURE; role <= BED_SHAPE_STACK; role++)
    for (guint i = 0; i < scene->shapes->len; i++)
      {
        const BedShape *shape = &g_array_index (scene->shapes, BedShape, i);
        gboolean stack = role == BED_SHAPE_FEATURE; /* stacks first */
        if (shape->role != (stack ? BED_SHAPE_STACK : BED_SHAPE_FEATURE)
            || bed_shape_measure (&band, shape).distance > 0)
          continue;
        if (stack)
          add_thing (things, BED_THING_STACK,
                     ((BedYardStack *) yard->stacks->pdata[shape->owner])->id);
        else
          add_thing (things, BED_THING_FEATURE,
                     ((BedYardFeature *) yard->features->pdata[shape->owner])->id);
      }
  return things;
}

GArray *
bed_group_of_batch (const BedScene *scene, const char *batch)
{
  GArray *things = g_array_new (FALSE, FALSE, sizeof (BedThing));

  for (guint i = 0; i < scene->yard->stacks->len; i++)
    {
      const BedYardStack *stack = scene->yard->stacks->pdata[i];
      gboolean holds = FALSE;
      for (guint j = 0; j < stack->logs->len && !holds; j++)
        holds = g_strcmp0 (((BedYardLog *) stack->logs->pdata[j])->batch, batch) == 0;
      if (holds)
        add_thing (things, BED_THING_STACK, stack->id);
    }
  return things;
}

/* --- where they come to lie ------------------------------------------------------- */

static void
add_step (GArray *steps, const BedThing *thing, const BedMotion *motion)
{
  BedGroupStep step = { *thing, *motion };

  g_array_append_val (steps, step);
}

GArray *
bed_group_carry (const GArray *things, const BedMotion *motion)
{
  GArray *steps = g_array_new (FALSE, FALSE, sizeof (BedGroupStep));

  for (guint i = 0; i < things->len; i++)
    add_step (steps, get_thing (things, i), motion);
  return steps;
}

/* How far the box is from being aligned in @all. */
static BedPoint
find_shift (const BedExtent *all, const BedExtent *one, BedAlign align)
{
  double x = all->x - one->x, y = all->y - one->y;

  switch (align)
    {
    case BED_ALIGN_WEST:
      return (BedPoint){ x, 0 };
    case BED_ALIGN_EAST:
      return (BedPoint){ x + all->width - one->width, 0 };
    case BED_ALIGN_SOUTH:
      return (BedPoint){ 0, y };
    case BED_ALIGN_NORTH:
      return (BedPoint){ 0, y + all->height - one->height };
    case BED_ALIGN_MIDDLE_X:
      return (BedPoint){ x + (all->width - one->width) / 2, 0 };
    case BED_ALIGN_MIDDLE_Y:
    default:
      return (BedPoint){ 0, y + (all->height - one->height) / 2 };
    }
}

GArray *
bed_group_align (const BedScene *scene, const GArray *things, BedAlign align)
{
  GArray *steps = g_array_new (FALSE, FALSE, sizeof (BedGroupStep));
  BedExtent all = bed_group_extent (scene, things);

  for (guint i = 0; i < things->len; i++)
    {
      BedExtent one = extent_of (scene, get_thing (things, i));
      BedMotion motion = { .by = find_shift (&all, &one, align) };
      if (one.width >= 0)
        add_step (steps, get_thing (things, i), &motion);
    }
  return steps;
}

typedef struct
{
  const BedThing *thing;
  double low, high;
} Span;

static int
compare_spans (gconstpointer a, gconstpointer b)
{
  const Span *x = a, *y = b;

  return (x->low > y->low) - (x->low < y->low);
}

/* Their spans that way, in order; @free gets the ground between, all together. */
static GArray *
list_spans (const BedScene *scene, const GArray *things, BedAlong along, double *free)
{
  GArray *spans = g_array_new (FALSE, FALSE, sizeof (Span));
  double covered = 0, end = -G_MAXDOUBLE;

  for (guint i = 0; i < things->len; i++)
    {
      BedExtent one = extent_of (scene, get_thing (things, i));
      Span span = { get_thing (things, i), along == BED_ALONG_X ? one.x : one.y, 0 };
      span.high = span.low + (along == BED_ALONG_X ? one.width : one.height);
      if (one.width >= 0)
        g_array_append_val (spans, span);
    }
  g_array_sort (spans, compare_spans);
  for (guint i = 0; i < spans->len; i++)
    {
      const Span *span = &g_array_index (spans, Span, i);
      covered += span->high - span->low;
      end = MAX (end, span->high);
    }
  *free = spans->len ? end - g_array_index (spans, Span, 0).low - covered : 0;
  return spans;
}

GArray *
bed_group_distribute (const BedScene *scene, const GArray *things, BedAlong along)
{
  GArray *steps = g_array_new (FALSE, FALSE, sizeof (BedGroupStep));
  double free;
  g_autoptr (GArray) spans = list_spans (scene, things, along, &free);
  double at = spans->len ? g_array_index (spans, Span, 0).low : 0;

  for (guint i = 0; i < spans->len; i++)
    {
      const Span *span = &g_array_index (spans, Span, i);
      double by = at - span->low;
      BedMotion motion = { .by = along == BED_ALONG_X ? (BedPoint){ by, 0 } : (BedPoint){ 0, by } };
      add_step (steps, span->thing, &motion);
      if (spans->len > 1)
        at += span->high - span->low + free / (spans->len - 1);
    }
  return steps;
}

BedPoint
bed_group_beside (const BedScene *scene, const GArray *things, BedAlign side)
{
  BedExtent all = bed_group_extent (scene, things);
  double x = all.width + scene->yard->aisle, y = all.height + scene->yard->aisle;

  switch (side)
    {
    case BED_ALIGN_WEST:
      return (BedPoint){ -x, 0 };
    case BED_ALIGN_SOUTH:
      return (BedPoint){ 0, -y };
    case BED_ALIGN_NORTH:
    case BED_ALIGN_MIDDLE_Y:
      return (BedPoint){ 0, y };
    case BED_ALIGN_EAST:
    case BED_ALIGN_MIDDLE_X:
    default:
      return (BedPoint){ x, 0 };
    }
}

/* --- put into the farm ------------------------------------------------------------ */

static char *
dup_name (const BedYard *yard, const BedThing *thing)
{
  const BedYardStack *stack
      = thing->kind == BED_THING_STACK ? bed_yard_find_stack (yard, thing->id, NULL) : NULL;
  const BedYardFeature *feature
      = thing->kind == BED_THING_FEATURE ? bed_yard_find_feature (yard, thing->id, NULL) : NULL;

  if (stack)
    return g_strdup (stack->name);
  return feature ? bed_feature_dup_name (feature) : g_strdup ("");
}

/* "Crib 4", "3 things" */
static char *
dup_names (const BedYard *yard, const BedThing *first, guint n)
{
  if (n == 1)
    return dup_name (yard, first);
  /* Translators: stacks, trees, paths… in the yard; always more than one */
  return bed_say (ngettext ("%u thing", "%u things", n), n);
}

static char *
dup_sentence (const BedYard *yard, const GArray *steps, BedGroupDeed deed)
{
  static const char *const words[] = {
    [BED_GROUP_MOVED] = N_ ("Moved %s"),
    [BED_GROUP_TURNED] = N_ ("Turned %s"),
    [BED_GROUP_ALIGNED] = N_ ("Aligned %s"),
    [BED_GROUP_DISTRIBUTED] = N_ ("Spread out %s"),
  };
  g_autofree char *names
      = dup_names (yard, &g_array_index (steps, BedGroupStep, 0).thing, steps->len);

  return g_strdup_printf (_ (words[deed]), names);
}

static gboolean
refuse_gone (GError **error)
{
  g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_NOT_FOUND,
               _ ("One of them is no longer in the yard: choose again."));
  return FALSE;
}

static gboolean
put_step (BedYardChange *change, BedFarm *farm, const BedYard *yard, const BedGroupStep *step,
          GError **error)
{
  if (step->thing.kind == BED_THING_STACK)
    {
      const BedYardStack *stack = bed_yard_find_stack (yard, step->thing.id, NULL);
      if (!stack)
        return refuse_gone (error);
      BedStackGoal goal = { yard->id, bed_motion_pose (&step->motion, &stack->pose) };
      return bed_yard_change_add_move (change, farm, stack->id, &goal, error);
    }
  const BedYardFeature *feature = bed_yard_find_feature (yard, step->thing.id, NULL);
  if (!feature)
    return refuse_gone (error);
  BedGround ground;
  bed_ground_copy (&ground, &feature->ground);
  bed_motion_ground (&step->motion, &ground);
  gboolean added = bed_feature_add_shape (change, farm, yard, feature->id, &ground, error);
  g_array_unref (ground.points);
  return added;
}

BedYardChange *
bed_group_put (BedFarm *farm, const BedYard *yard, const GArray *steps, BedGroupDeed deed,
               GError **error)
{
  g_autoptr (BedYardChange) change = bed_yard_change_new_empty (farm);

  g_return_val_if_fail (steps->len > 0, NULL);
  for (guint i = 0; i < steps->len; i++)
    if (!put_step (change, farm, yard, &g_array_index (steps, BedGroupStep, i), error))
      return NULL;
  change->sentence = dup_sentence (yard, steps, deed);
  return g_steal_pointer (&change);
}

static gint64
copy_stack (BedYardChange *change, BedFarm *farm, const BedYard *yard, const BedYardStack *stack,
            const BedMotion *motion)
{
  BedNewStack copy = { yard->id, stack->kind, bed_motion_pose (motion, &stack->pose), stack->tiers,
                       stack->per_tier };

  return bed_yard_change_add_build (change, farm, &copy);
}

static gint64
copy_feature (BedYardChange *change, const BedYard *yard, const BedYardFeature *feature,
              const BedMotion *motion)
{
  BedGround ground;

  bed_ground_copy (&ground, &feature->ground);
  bed_motion_ground (motion, &ground);
  gint64 id = bed_feature_add_new (
      change, &(BedNewFeature){ yard->id, feature->kind, &ground, feature->label });
  g_array_unref (ground.points);
  return id;
}

static gboolean
copy_thing (BedYardChange *change, BedFarm *farm, const BedYard *yard, const BedThing *thing,
            const BedMotion *motion, GArray *made)
{
  const BedYardStack *stack
      = thing->kind == BED_THING_STACK ? bed_yard_find_stack (yard, thing->id, NULL) : NULL;
  const BedYardFeature *feature
      = thing->kind == BED_THING_FEATURE ? bed_yard_find_feature (yard, thing->id, NULL) : NULL;

  if (!stack && !feature)
    return FALSE;
  add_thing (made, thing->kind,
             stack ? copy_stack (change, farm, yard, stack, motion)
                   : copy_feature (change, yard, feature, motion));
  return TRUE;
}

BedYardChange *
bed_group_copy (BedFarm *farm, const BedYard *yard, const GArray *things, guint copies, BedPoint by,
                GArray **made, GError **error)
{
  g_autoptr (BedYardChange) change = bed_yard_change_new_empty (farm);
  g_autoptr (GArray) all = g_array_new (FALSE, FALSE, sizeof (BedThing));

  g_return_val_if_fail (things->len > 0 && copies > 0, NULL);
  for (guint copy = 1; copy <= copies; copy++)
    for (guint i = 0; i < things->len; i++)
      {
        BedMotion motion = { .by = { copy * by.x, copy * by.y } };
        if (!copy_thing (change, farm, yard, get_thing (things, i), &motion, all))
          {
            refuse_gone (error);
            return NULL;
          }
      }
  g_autofree char *names = dup_names (yard, get_thing (things, 0), things->len);
  change->sentence
      = copies == 1
            ? g_strdup_printf (_ ("Copied %s"), names)
            /* Translators: "Copied Crib 4 3 times"; always more than once */
            : bed_say (ngettext ("Copied %s %u time", "Copied %s %u times", copies), names, copies);
  if (made)
    *made = g_steal_pointer (&all);
  return g_steal_pointer (&change);
}

static gboolean
remove_thing (BedYardChange *change, BedFarm *farm, const BedThing *thing, GError **error)
{
  if (thing->kind == BED_THING_STACK)
    return bed_yard_change_add_take_down (change, farm, thing->id, error);
  bed_edit_remove (change->edit, BED_KIND_FEATURE, thing->id);
  return TRUE;
}

BedYardChange *
bed_group_remove (BedFarm *farm, const BedYard *yard, const GArray *things, GError **error)
{
  g_autoptr (BedYardChange) change = bed_yard_change_new_empty (farm);
  const BedThing *first = get_thing (things, 0);

  g_return_val_if_fail (things->len > 0, NULL);
  if (things->len == 1 && first->kind == BED_THING_STACK)
    return bed_yard_take_down (farm, first->id, error);
  for (guint i = 0; i < things->len; i++)
    if (!remove_thing (change, farm, get_thing (things, i), error))
      return NULL;
  g_autofree char *names = dup_names (yard, first, things->len);
  change->sentence = g_strdup_printf (_ ("Removed %s"), names);
  return g_steal_pointer (&change);
}
