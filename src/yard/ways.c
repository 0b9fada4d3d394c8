#include "yard/ways.h"

#include <math.h>

#include "yard/ground.h"

/* The ground is looked at in squares; ways round corners are found to about this. */
#define SIDE 0.1
#define MOST_CELLS 1000000.0

/* Around the area, where one walks freely. */
#define AROUND 1.5

#define NOWHERE G_MAXUINT

/* Steps to the eight neighbours: five to the side are as far as seven to the corner (1.4). */
static const struct
{
  int x, y;
  guint cost;
} steps[] = { { 1, 0, 5 }, { -1, 0, 5 }, { 0, 1, 5 },  { 0, -1, 5 },
              { 1, 1, 7 }, { -1, 1, 7 }, { 1, -1, 7 }, { -1, -1, 7 } };
#define FARTHEST_STEP 8 /* more than any cost: the rings of a search */

/* What is found in the squares beside a stack. */
typedef struct
{
  const BedShape *stack;
  guint nearest;
  gboolean out;
} Beside;

/* In this order. */
typedef enum
{
  STEP_BLOCK, /* what one cannot walk through */
  STEP_WATER, /* from the water to all that can be walked to */
  STEP_OUT,   /* the same from the paths and the edge */
  STEP_LOOK,  /* around the stacks */
  STEP_DONE,
} Step;

/* The squares of one ring lie equally far; rings are used again, FARTHEST_STEP on. */
typedef struct
{
  GArray *rings[FARTHEST_STEP];
  guint *far, *back;
  guint at; /* how far it has come */
  guint empty;
} Search;

struct _BedWays
{
  const BedYard *yard;
  const GArray *shapes;
  GPtrArray *stacks, *water; /* BedShape of each stack, and of what is water; borrowed */
  double side, need;         /* of a square; free ground to one side */
  BedPoint origin;
  int across, up;
  guint8 *blocked;
  guint *to_water; /* in fifths of a square; NOWHERE */
  guint *back;     /* the next square on the way to water */
  GArray *beside;  /* Beside, of each stack */
  Step step;
  guint at; /* how many shapes or stacks are done in it */
  Search search;
  guint *far; /* STEP_OUT: its search's own */
};

static BedPoint
middle_of (const BedWays *self, guint cell)
{
  return (BedPoint){ self->origin.x + (cell % self->across + 0.5) * self->side,
                     self->origin.y + (cell / self->across + 0.5) * self->side };
}

static guint
count_cells (const BedWays *self)
{
  return (guint) (self->across * self->up);
}

/* --- the ground --------------------------------------------------------------------- */

/* Calls @look for each square whose middle is within @reach of the shape. */
static void
each_near (BedWays *self, const BedShape *shape, double reach,
           void (*look) (BedWays *self, guint cell, gpointer data), gpointer data)
{
  BedExtent box = bed_shape_extent (shape);
  int west = (int) floor ((box.x - reach - self->origin.x) / self->side);
  int south = (int) floor ((box.y - reach - self->origin.y) / self->side);
  int east = (int) floor ((box.x + box.width + reach - self->origin.x) / self->side);
  int north = (int) floor ((box.y + box.height + reach - self->origin.y) / self->side);

  for (int y = MAX (0, south); y <= MIN (self->up - 1, north); y++)
    for (int x = MAX (0, west); x <= MIN (self->across - 1, east); x++)
      {
        guint cell = (guint) (y * self->across + x);
        if (bed_shape_distance (shape, middle_of (self, cell)) < reach)
          look (self, cell, data);
      }
}

static void
block (BedWays *self, guint cell, gpointer data)
{
  self->blocked[cell] = TRUE;
}

static const BedYardFeature *
get_feature (const BedWays *self, const BedShape *shape)
{
  return shape->role == BED_SHAPE_FEATURE ? self->yard->features->pdata[shape->owner] : NULL;
}

static gboolean
is_water (const BedYardFeature *feature)
{
  return feature
         && (feature->kind == BED_FEATURE_POND || feature->kind == BED_FEATURE_TANK
             || feature->kind == BED_FEATURE_TAP);
}

/* What one cannot walk through; FALSE when it is none. */
static gboolean
get_obstacle (const BedWays *self, const BedShape *shape, BedPoint corners[4], BedShape *obstacle)
{
  const BedYardFeature *feature = get_feature (self, shape);

  *obstacle = *shape;
  if (!feature)
    return shape->role == BED_SHAPE_STACK;
  *obstacle = bed_feature_get_footing (feature, corners);
  return feature->kind == BED_FEATURE_TREE || feature->kind == BED_FEATURE_BUILDING
         || feature->kind == BED_FEATURE_TANK || feature->kind == BED_FEATURE_POND;
}

static gboolean
block_more (BedWays *self, gint64 until)
{
  for (; self->at < self->shapes->len; self->at++)
    {
      BedPoint corners[4];
      BedShape obstacle;
      if (g_get_monotonic_time () >= until)
        return FALSE;
      if (get_obstacle (self, &g_array_index (self->shapes, BedShape, self->at), corners,
                        &obstacle))
        each_near (self, &obstacle, self->need, block, NULL);
    }
  return TRUE;
}

static void
sort_shapes (BedWays *self)
{
  self->stacks = g_ptr_array_new ();
  self->water = g_ptr_array_new ();
  for (guint i = 0; i < self->shapes->len; i++)
    {
      BedShape *shape = &g_array_index (self->shapes, BedShape, i);
      if (shape->role == BED_SHAPE_STACK) /* in the order of their owners */
        g_ptr_array_add (self->stacks, shape);
      else if (is_water (get_feature (self, shape)))
        g_ptr_array_add (self->water, shape);
    }
}

static BedExtent
find_bounds (const BedYard *yard, const GArray *shapes)
{
  BedShape outline
      = bed_shape_polygon ((const BedPoint *) (gpointer) yard->outline->data, yard->outline->len);
  BedExtent all = bed_shape_extent (&outline);
  double east = all.x + all.width, north = all.y + all.height;

  for (guint i = 0; i < shapes->len; i++)
    {
      BedExtent one = bed_shape_extent (&g_array_index (shapes, BedShape, i));
      all.x = MIN (all.x, one.x);
      all.y = MIN (all.y, one.y);
      east = MAX (east, one.x + one.width);
      north = MAX (north, one.y + one.height);
    }
  return (BedExtent){ all.x - AROUND, all.y - AROUND, east - all.x + 2 * AROUND,
                      north - all.y + 2 * AROUND };
}

/* --- searching ------------------------------------------------------------------------ */

static void
search_add (Search *self, guint cell, guint far, guint from)
{
  if (far >= self->far[cell])
    return;
  self->far[cell] = far;
  if (self->back)
    self->back[cell] = from;
  g_array_append_val (self->rings[far % FARTHEST_STEP], cell);
}

static void
search_around (const BedWays *ways, Search *self, guint cell)
{
  int x = (int) cell % ways->across, y = (int) cell / ways->across;
  guint far = self->far[cell];

  for (guint i = 0; i < G_N_ELEMENTS (steps); i++)
    {
      int to_x = x + steps[i].x, to_y = y + steps[i].y;
      if (to_x < 0 || to_y < 0 || to_x >= ways->across || to_y >= ways->up)
        continue;
      guint to = (guint) (to_y * ways->across + to_x);
      if (!ways->blocked[to])
        search_add (self, to, far + steps[i].cost, cell);
    }
}

/* From the squares added so far to all that can be walked to. */
static gboolean
search_more (BedWays *ways, gint64 until)
{
  Search *self = &ways->search;

  for (; self->empty < FARTHEST_STEP; self->at++)
    {
      GArray *ring = self->rings[self->at % FARTHEST_STEP];
      if (g_get_monotonic_time () >= until)
        return FALSE;
      self->empty = ring->len ? 0 : self->empty + 1;
      for (guint i = 0; i < ring->len; i++)
        {
          guint cell = g_array_index (ring, guint, i);
          if (self->far[cell] == self->at) /* else it was reached by a shorter way */
            search_around (ways, self, cell);
        }
      g_array_set_size (ring, 0);
    }
  return TRUE;
}

static void
search_begin (BedWays *ways, guint *far, guint *back)
{
  Search *self = &ways->search;

  self->far = far;
  self->back = back;
  self->at = self->empty = 0;
  for (guint i = 0; i < FARTHEST_STEP; i++)
    g_array_set_size (self->rings[i], 0);
  for (guint i = 0; i < count_cells (ways); i++)
    far[i] = NOWHERE;
}

static void
begin_here (BedWays *self, guint cell, gpointer data)
{
  if (!self->blocked[cell])
    search_add (&self->search, cell, 0, cell);
}

static void
begin_water (BedWays *self)
{
  search_begin (self, self->to_water, self->back);
  for (guint i = 0; i < self->water->len; i++)
    each_near (self, self->water->pdata[i], self->need + 1.5 * self->side, begin_here, NULL);
}

static void
begin_out (BedWays *self)
{
  self->far = g_new (guint, count_cells (self));
  search_begin (self, self->far, NULL);
  for (guint i = 0; i < self->shapes->len; i++)
    {
      const BedShape *shape = &g_array_index (self->shapes, BedShape, i);
      const BedYardFeature *feature = get_feature (self, shape);
      if (feature && feature->kind == BED_FEATURE_PATH)
        each_near (self, shape, self->side, begin_here, NULL);
    }
  for (int x = 0; x < self->across; x++)
    {
      begin_here (self, (guint) x, NULL);
      begin_here (self, (guint) ((self->up - 1) * self->across + x), NULL);
    }
  for (int y = 0; y < self->up; y++)
    {
      begin_here (self, (guint) (y * self->across), NULL);
      begin_here (self, (guint) (y * self->across + self->across - 1), NULL);
    }
}

/* --- of one stack --------------------------------------------------------------------- */

static void
look_beside (BedWays *self, guint cell, gpointer data)
{
  Beside *beside = data;

  if (self->blocked[cell])
    return;
  beside->out |= self->far[cell] != NOWHERE;
  if (beside->nearest == NOWHERE || self->to_water[cell] < self->to_water[beside->nearest])
    beside->nearest = cell;
}

static gboolean
look_more (BedWays *self, gint64 until)
{
  for (; self->at < self->stacks->len; self->at++)
    {
      Beside beside = { self->stacks->pdata[self->at], NOWHERE, FALSE };
      if (g_get_monotonic_time () >= until)
        return FALSE;
      each_near (self, beside.stack, self->need + 1.5 * self->side, look_beside, &beside);
      g_array_append_val (self->beside, beside);
    }
  g_clear_pointer (&self->far, g_free);
  return TRUE;
}

static const Beside *
get_beside (const BedWays *self, guint index)
{
  return &g_array_index (self->beside, Beside, index);
}

/* Whether one can walk straight from one point to the other. */
static gboolean
is_straight (const BedWays *self, BedPoint a, BedPoint b)
{
  guint n = (guint) ceil (hypot (b.x - a.x, b.y - a.y) / (self->side / 2));

  for (guint i = 0; i <= n; i++)
    {
      double share = n ? (double) i / n : 0;
      int x = (int) ((a.x + share * (b.x - a.x) - self->origin.x) / self->side);
      int y = (int) ((a.y + share * (b.y - a.y) - self->origin.y) / self->side);
      if (self->blocked[y * self->across + x])
        return FALSE;
    }
  return TRUE;
}

/* The last square on the way from @cell, or nearly, that one can walk straight to: it is looked at
 * from twice as far each time. */
static guint
find_straight (const BedWays *self, guint cell)
{
  guint at = self->back[cell], farthest = at;
  BedPoint from = middle_of (self, cell);

  for (guint ahead = 1; self->to_water[at] > 0; ahead *= 2)
    {
      for (guint i = 0; i < ahead && self->to_water[at] > 0; i++)
        at = self->back[at];
      if (!is_straight (self, from, middle_of (self, at)))
        break;
      farthest = at;
    }
  return farthest;
}

static double
nearest_water (const BedWays *self, BedPoint at)
{
  double nearest = G_MAXDOUBLE;

  for (guint i = 0; i < self->water->len; i++)
    nearest = MIN (nearest, bed_shape_distance (self->water->pdata[i], at));
  return nearest;
}

double
bed_ways_to_water (const BedWays *self, guint index)
{
  const Beside *beside = get_beside (self, index);
  guint cell = beside->nearest;

  if (cell == NOWHERE || self->to_water[cell] == NOWHERE)
    return -1;
  double far = bed_shape_distance (beside->stack, middle_of (self, cell));
  while (self->to_water[cell] > 0)
    {
      guint next = find_straight (self, cell);
      BedPoint a = middle_of (self, cell), b = middle_of (self, next);
      far += hypot (b.x - a.x, b.y - a.y);
      cell = next;
    }
  return far + nearest_water (self, middle_of (self, cell));
}

double
bed_ways_to_water_most (const BedWays *self, guint index)
{
  const Beside *beside = get_beside (self, index);
  guint cell = beside->nearest;

  if (cell == NOWHERE || self->to_water[cell] == NOWHERE)
    return -1;
  return self->to_water[cell] / 5.0 * self->side + 2 * (self->need + 2 * self->side);
}

gboolean
bed_ways_leads_out (const BedWays *self, guint index)
{
  return get_beside (self, index)->out;
}

BedWays *
bed_ways_new (const BedYard *yard, const GArray *shapes, double breadth)
{
  BedWays *self = g_new0 (BedWays, 1);
  BedExtent all = find_bounds (yard, shapes);

  self->yard = yard;
  self->shapes = shapes;
  self->need = breadth / 2;
  self->origin = (BedPoint){ all.x, all.y };
  self->side = MAX (SIDE, sqrt (all.width * all.height / MOST_CELLS));
  self->across = (int) ceil (all.width / self->side) + 1;
  self->up = (int) ceil (all.height / self->side) + 1;
  guint n = count_cells (self);
  self->blocked = g_new0 (guint8, n);
  self->to_water = g_new (guint, n);
  self->back = g_new0 (guint, n);
  sort_shapes (self);
  for (guint i = 0; i < FARTHEST_STEP; i++)
    self->search.rings[i] = g_array_new (FALSE, FALSE, sizeof (guint));
  self->beside = g_array_new (FALSE, FALSE, sizeof (Beside));
  return self;
}

/* What the step needs that comes next. */
static void
go_on (BedWays *self)
{
  self->step++;
  self->at = 0;
  if (self->step == STEP_WATER)
    begin_water (self);
  else if (self->step == STEP_OUT)
    begin_out (self);
}

gboolean
bed_ways_work (BedWays *self, gint64 until)
{
  while (self->step != STEP_DONE)
    {
      gboolean over = self->step == STEP_BLOCK  ? block_more (self, until)
                      : self->step == STEP_LOOK ? look_more (self, until)
                                                : search_more (self, until);
      if (!over)
        return FALSE;
      go_on (self);
    }
  return TRUE;
}

void
bed_ways_free (BedWays *self)
{
  g_array_unref (self->beside);
  g_ptr_array_unref (self->stacks);
  g_ptr_array_unref (self->water);
  g_free (self->blocked);
  g_free (self->to_water);
  g_free (self->back);
  g_free (self->far);
  for (guint i = 0; i < FARTHEST_STEP; i++)
    g_array_unref (self->search.rings[i]);
  g_free (self);
}
