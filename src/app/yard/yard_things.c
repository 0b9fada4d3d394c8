#include "app/yard/yard_things.h"

#include <math.h>

/* Middles no farther apart north to south than this are in one row, metres. */
#define ROW 1.0

GArray *
bed_things_new (void)
{
  return g_array_new (FALSE, FALSE, sizeof (BedThing));
}

int
bed_things_find (const GArray *things, const BedThing *thing)
{
  for (guint i = 0; i < things->len; i++)
    {
      const BedThing *one = &g_array_index (things, BedThing, i);
      if (one->id == thing->id && one->kind == thing->kind)
        return (int) i;
    }
  return -1;
}

BedThing
bed_things_get_only (const GArray *things)
{
  g_return_val_if_fail (things != NULL, (BedThing){ 0 });
  return things->len == 1 ? g_array_index (things, BedThing, 0) : (BedThing){ 0 };
}

void
bed_things_toggle (GArray *things, const BedThing *thing)
{
  int at = bed_things_find (things, thing);

  if (at >= 0)
    g_array_remove_index (things, (guint) at);
  else
    g_array_append_val (things, *thing);
}

BedThing
bed_thing_of_shape (const BedScene *scene, const BedShape *shape)
{
  if (shape->role == BED_SHAPE_FEATURE)
    return (BedThing){ BED_THING_FEATURE,
                       ((BedYardFeature *) scene->yard->features->pdata[shape->owner])->id };
  return (BedThing){ BED_THING_STACK,
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
  const BedThing *thing = key;

  return g_int64_hash (&thing->id) ^ thing->kind;
}

static gboolean
thing_equal (gconstpointer a, gconstpointer b)
{
  const BedThing *one = a, *other = b;

  return one->id == other->id && one->kind == other->kind;
}

gboolean
bed_things_are_same (const GArray *a, const GArray *b)
{
  gboolean same = a->len == b->len;

  for (guint i = 0; same && i < a->len; i++)
    same = thing_equal (&g_array_index (a, BedThing, i), &g_array_index (b, BedThing, i));
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
      BedThing thing = bed_thing_of_shape (scene, shape);
      if (is_whole (shape))
        g_hash_table_insert (index, g_memdup2 (&thing, sizeof thing), shape);
    }
  return index;
}

const BedShape *
bed_thing_find_shape (GHashTable *index, const BedThing *thing)
{
  return index ? g_hash_table_lookup (index, thing) : NULL;
}

void
bed_things_keep (GArray *things, GHashTable *index)
{
  for (guint i = things->len; i-- > 0;)
    if (!bed_thing_find_shape (index, &g_array_index (things, BedThing, i)))
      g_array_remove_index (things, i);
}

BedThing
bed_things_hit (const BedScene *scene, BedPoint point, double slack)
{
  for (guint i = scene->shapes->len; i-- > 0;)
    {
      const BedShape *shape = &g_array_index (scene->shapes, BedShape, i);
      if (is_whole (shape) && bed_shape_distance (shape, point) <= slack)
        return bed_thing_of_shape (scene, shape);
    }
  return (BedThing){ BED_THING_STACK, 0 };
}

static BedPoint
middle_of (const BedExtent *extent)
{
  return (BedPoint){ extent->x + extent->width / 2, extent->y + extent->height / 2 };
}

/* --- order ---------------------------------------------------------------------- */

typedef struct
{
  BedThing thing;
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

GArray *
bed_logs_of_value (const GValue *value)
{
  GArray *logs = g_array_new (FALSE, FALSE, sizeof (gint64));
  GBytes *bytes = g_value_get_boxed (value);
  gsize size = 0;
  gconstpointer ids = bytes ? g_bytes_get_data (bytes, &size) : NULL;

  if (size > 0)
    g_array_append_vals (logs, ids, (guint) (size / sizeof (gint64)));
  return logs;
}

GArray *
bed_things_list_stacks (const GArray *things)
{
  GArray *stacks = g_array_new (FALSE, FALSE, sizeof (gint64));

  for (guint i = 0; i < things->len; i++)
    {
      const BedThing *thing = &g_array_index (things, BedThing, i);
      if (thing->kind == BED_THING_STACK)
        g_array_append_val (stacks, thing->id);
    }
  return stacks;
}
