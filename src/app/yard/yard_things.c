#include "app/yard/yard_things.h"

#include <math.h>

/* Middles no farther apart north to south than this are in one row, metres. */
#define ROW 1.0

GArray *
bed_things_new (void)
{
  return g_array_new (FALSE, FALSE, sizeof (BedYardThing));
}

int
bed_things_find (const GArray *things, const BedYardThing *thing)
{
  for (guint i = 0; i < things->len; i++)
    {
      const BedYardThing *one = &g_array_index (things, BedYardThing, i);
      if (one->id == thing->id && one->kind == thing->kind)
        return (int) i;
    }
  return -1;
}

void
bed_things_toggle (GArray *things, const BedYardThing *thing)
{
  int at = bed_things_find (things, thing);

  if (at >= 0)
    g_array_remove_index (things, (guint) at);
  else
    g_array_append_val (things, *thing);
}

BedYardThing
bed_thing_of_shape (const BedScene *scene, const BedShape *shape)
{
  if (shape->role == BED_SHAPE_FEATURE)
    return (BedYardThing){ BED_KIND_FEATURE,
                           ((BedYardFeature *) scene->yard->features->pdata[shape->owner])->id };
  return (BedYardThing){ BED_KIND_STACK,
                         ((BedYardStack *) scene->yard->stacks->pdata[shape->owner])->id };
}

/* What can be taken hold of: no single log, no rail. */
static gboolean
is_whole (const BedShape *shape)
{
  return shape->role == BED_SHAPE_FEATURE || shape->role == BED_SHAPE_STACK;
}

static guint
thing_hash (gconstpointer key)
{
  const BedYardThing *thing = key;

  return g_int64_hash (&thing->id) ^ thing->kind;
}

static gboolean
thing_equal (gconstpointer a, gconstpointer b)
{
  const BedYardThing *one = a, *other = b;

  return one->id == other->id && one->kind == other->kind;
}

gboolean
bed_things_are_same (const GArray *a, const GArray *b)
{
  gboolean same = a->len == b->len;

  for (guint i = 0; same && i < a->len; i++)
    same = thing_equal (&g_array_index (a, BedYardThing, i), &g_array_index (b, BedYardThing, i));
  return same;
}

GHashTable *
bed_things_table_new (void)
{
  return g_hash_table_new (thing_hash, thing_equal);
}

GHashTable *
bed_things_index (const BedScene *scene)
{
  GHashTable *index = g_hash_table_new_full (thing_hash, thing_equal, g_free, NULL);

  for (guint i = 0; i < scene->shapes->len; i++)
    {
      BedShape *shape = &g_array_index (scene->shapes, BedShape, i);
      BedYardThing thing = bed_thing_of_shape (scene, shape);
      if (is_whole (shape))
        g_hash_table_insert (index, g_memdup2 (&thing, sizeof thing), shape);
    }
  return index;
}

const BedShape *
bed_thing_find_shape (GHashTable *index, const BedYardThing *thing)
{
  return index ? g_hash_table_lookup (index, thing) : NULL;
}

void
bed_things_keep (GArray *things, GHashTable *index)
{
  for (guint i = things->len; i-- > 0;)
    if (!bed_thing_find_shape (index, &g_array_index (things, BedYardThing, i)))
      g_array_remove_index (things, i);
}

static void
grow (BedExtent *extent, double left, double bottom, double right, double top)
{
  double east = MAX (extent->x + extent->width, right);
  double north = MAX (extent->y + extent->height, top);

  extent->x = MIN (extent->x, left);
  extent->y = MIN (extent->y, bottom);
  extent->width = east - extent->x;
  extent->height = north - extent->y;
}

BedExtent
bed_shape_extent (const BedShape *shape)
{
  BedExtent extent = { shape->points[0].x, shape->points[0].y, 0, 0 };

  for (guint i = 0; i < shape->n_points; i++)
    grow (&extent, shape->points[i].x - shape->radius, shape->points[i].y - shape->radius,
          shape->points[i].x + shape->radius, shape->points[i].y + shape->radius);
  return extent;
}

BedExtent
bed_things_extent (GHashTable *index, const GArray *things)
{
  BedExtent all = { 0 };
  gboolean any = FALSE;

  for (guint i = 0; i < things->len; i++)
    {
      const BedShape *shape
          = bed_thing_find_shape (index, &g_array_index (things, BedYardThing, i));
      if (!shape)
        continue;
      BedExtent one = bed_shape_extent (shape);
      if (any)
        grow (&all, one.x, one.y, one.x + one.width, one.y + one.height);
      else
        all = one;
      any = TRUE;
    }
  return all;
}

BedYardThing
bed_things_hit (const BedScene *scene, BedPoint point, double slack)
{
  for (guint i = scene->shapes->len; i-- > 0;)
    {
      const BedShape *shape = &g_array_index (scene->shapes, BedShape, i);
      if (is_whole (shape) && bed_shape_distance (shape, point) <= slack)
        return bed_thing_of_shape (scene, shape);
    }
  return (BedYardThing){ BED_KIND_STACK, 0 };
}

static BedPoint
middle_of (const BedExtent *extent)
{
  return (BedPoint){ extent->x + extent->width / 2, extent->y + extent->height / 2 };
}

/* Whether a shape reaches into a box: a corner in it, an edge through it, or the box inside. */
static gboolean
is_touched (const BedShape *shape, const BedExtent *band)
{
  BedExtent extent = bed_shape_extent (shape);
  BedPoint nearest = middle_of (&extent);

  if (extent.x > band->x + band->width || extent.x + extent.width < band->x
      || extent.y > band->y + band->height || extent.y + extent.height < band->y)
    return FALSE;
  for (guint i = 0; shape->form != BED_SHAPE_DISC && i < shape->n_points; i++)
    {
      BedPoint a = shape->points[i], b = shape->points[(i + 1) % shape->n_points];
      BedPoint on = bed_point_nearest (middle_of (band), a, b);
      if (shape->form == BED_SHAPE_LINE && i + 1 == shape->n_points)
        break;
      nearest = on;
      if (on.x >= band->x - shape->radius && on.x <= band->x + band->width + shape->radius
          && on.y >= band->y - shape->radius && on.y <= band->y + band->height + shape->radius)
        return TRUE;
    }
  nearest.x = CLAMP (nearest.x, band->x, band->x + band->width);
  nearest.y = CLAMP (nearest.y, band->y, band->y + band->height);
  return bed_shape_distance (shape, nearest) <= 0
         || bed_shape_distance (shape, middle_of (band)) <= 0;
}

GArray *
bed_things_touched (const BedScene *scene, const BedExtent *band)
{
  GArray *things = bed_things_new ();

  for (guint i = 0; i < scene->shapes->len; i++)
    {
      const BedShape *shape = &g_array_index (scene->shapes, BedShape, i);
      if (!is_whole (shape) || !is_touched (shape, band))
        continue;
      BedYardThing thing = bed_thing_of_shape (scene, shape);
      g_array_append_val (things, thing);
    }
  return things;
}

/* --- order ---------------------------------------------------------------------- */

typedef struct
{
  BedYardThing thing;
  BedPoint at;
} Placed;

static int
compare_y (gconstpointer a, gconstpointer b)
{
  double one = ((const Placed *) a)->at.y, other = ((const Placed *) b)->at.y;

  return (one < other) - (one > other);
}

static int
compare_x (gconstpointer a, gconstpointer b)
{
  double one = ((const Placed *) a)->at.x, other = ((const Placed *) b)->at.x;

  return (one > other) - (one < other);
}

GArray *
bed_things_in_order (const BedScene *scene)
{
  g_autoptr (GArray) all = g_array_new (FALSE, FALSE, sizeof (Placed));
  GArray *things = bed_things_new ();

  for (guint i = 0; i < scene->shapes->len; i++)
    {
      const BedShape *shape = &g_array_index (scene->shapes, BedShape, i);
      if (!is_whole (shape))
        continue;
      BedExtent extent = bed_shape_extent (shape);
      Placed placed = { bed_thing_of_shape (scene, shape), middle_of (&extent) };
      g_array_append_val (all, placed);
    }
  g_array_sort (all, compare_y);
  for (guint from = 0, to; from < all->len; from = to)
    {
      double top = g_array_index (all, Placed, from).at.y;
      for (to = from + 1; to < all->len && top - g_array_index (all, Placed, to).at.y <= ROW;)
        to++;
      qsort (&g_array_index (all, Placed, from), to - from, sizeof (Placed), compare_x);
      for (guint i = from; i < to; i++)
        g_array_append_val (things, g_array_index (all, Placed, i).thing);
    }
  return things;
}
