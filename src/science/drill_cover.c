#include "science/drill_cover.h"

#include <math.h>

/* The point of the bark farthest from all holes is either equally far from three
 * of them, or lies on a rim and is equally far from two. Both kinds are few, so
 * they are all looked at: exact, and true for odd rows, short logs and helices
 * where the closed form of the endless pattern is not. */

/* One hole unrolled at the large end's pitch; rows beyond the first and last are
 * the same rows seen round the log. */
typedef struct
{
  double x;
  double y;
} Point;

typedef struct
{
  BedDrillPlan *plan;
  double reach;        /* no two holes on one empty circle are farther apart */
  double reach_inside; /* nor, away from the ends, farther than this */
  double first;        /* x from which every row has begun */
  double last;         /* x from which a row has ended */
  gboolean odd;        /* two unshifted rows meet */
  double beside;       /* pitches to either side of them that are called the seam */
  GArray *near;        /* Point, scratch */
} Cover;

static double
wrap (double y, double around)
{
  double wrapped = fmod (y, around);

  return wrapped < 0 ? wrapped + around : wrapped;
}

/* Distance to the nearest hole of one row, of any number counted round the log;
 * found by rounding, not by looking at each. */
static double
row_distance (const BedDrillPlan *plan, int turn_row, double x, double y)
{
  int row = ((turn_row % plan->rows) + plan->rows) % plan->rows;

  if (plan->per_row[row] == 0)
    return INFINITY;
  double index = round ((x - plan->start[row]) / plan->along);
  double dx = x - plan->start[row] - CLAMP (index, 0, plan->per_row[row] - 1) * plan->along;
  return hypot (dx, y - turn_row * plan->pitch_large);
}

/* Whether no hole is nearer to @p than @distance. Rows are asked from the
 * nearest outward: most candidates fail at the first. */
static gboolean
is_empty (const BedDrillPlan *plan, Point p, double distance)
{
  int below = (int) floor (p.y / plan->pitch_large);

  for (int step = 0; step <= plan->rows / 2; step++)
    {
      if (row_distance (plan, below - step, p.x, p.y) < distance
          || row_distance (plan, below + 1 + step, p.x, p.y) < distance)
        return FALSE;
      if (step * plan->pitch_large > distance)
        break;
    }
  return TRUE;
}

static BedFarthest *
zone_of (const Cover *cover, Point p)
{
  BedDrillPlan *plan = cover->plan;
  double slack = 1e-9 * cover->reach;
  double row = wrap (p.y, plan->pitch_large * plan->rows) / plan->pitch_large;

  if (p.x < cover->first - slack || p.x > cover->last + slack)
    return &plan->ends;
  if (cover->odd && (row > plan->rows - 1 - cover->beside || row < cover->beside))
    return &plan->seam;
  return &plan->inside;
}

/* A candidate counts when no hole is nearer than the ones it was made from. */
static void
offer (Cover *cover, Point p, double distance)
{
  double slack = 1e-9 * cover->reach;

  if (p.x < -slack || p.x > cover->plan->length + slack || distance > cover->reach / 2)
    return;
  BedFarthest *zone = zone_of (cover, p);
  /* The first of equals stays, whatever the rounding. */
  if (distance <= zone->distance * (1 + 1e-9) || !is_empty (cover->plan, p, distance - slack))
    return;
  zone->distance = distance;
  zone->x = p.x;
  zone->y = wrap (p.y, cover->plan->pitch_large * cover->plan->rows) * cover->plan->pitch
            / cover->plan->pitch_large;
}

static void
offer_centre (Cover *cover, Point a, Point b, Point c)
{
  double bx = b.x - a.x, by = b.y - a.y, cx = c.x - a.x, cy = c.y - a.y;
  double det = 2 * (bx * cy - by * cx);

  if (fabs (det) < 1e-9 * cover->reach * cover->reach)
    return;
  double bb = bx * bx + by * by, cc = cx * cx + cy * cy;
  double ux = (cy * bb - by * cc) / det, uy = (bx * cc - cx * bb) / det;
  offer (cover, (Point){ a.x + ux, a.y + uy }, hypot (ux, uy));
}

/* The point of the rim at @x equally far from @a and @b. */
static void
offer_rim (Cover *cover, double x, Point a, Point b)
{
  double ax = x - a.x, bx = x - b.x, dy = b.y - a.y;

  if (fabs (dy) < 1e-9 * cover->reach)
    return;
  double y = (bx * bx - ax * ax + dy * dy) / (2 * dy);
  offer (cover, (Point){ x, a.y + y }, hypot (ax, y));
}

static Point
point_of (const BedDrillPlan *plan, int row, int index, int turn)
{
  return (Point){ plan->start[row] + index * plan->along,
                  (row + turn * plan->rows) * plan->pitch_large };
}

static void
take (Cover *cover, int row, int index, int turn, Point at, double reach)
{
  Point p = point_of (cover->plan, row, index, turn);

  if (hypot (p.x - at.x, p.y - at.y) <= reach)
    g_array_append_val (cover->near, p);
}

/* Every hole that can share an empty circle with @at. Of any row only the two holes
 * either side of the circle's middle can, or the last one when the middle lies
 * beyond it: so three spacings to either side, and the ends, are enough. */
static void
gather (Cover *cover, Point at, double reach)
{
  BedDrillPlan *plan = cover->plan;

  g_array_set_size (cover->near, 0);
  for (int turn = -1; turn <= 1; turn++)
    for (int row = 0; row < plan->rows; row++)
      {
        if (fabs (point_of (plan, row, 0, turn).y - at.y) > reach || plan->per_row[row] == 0)
          continue;
        int last = plan->per_row[row] - 1;
        int beside = (int) floor ((at.x - plan->start[row]) / plan->along);
        int from = CLAMP (beside - 3, 0, last), to = CLAMP (beside + 4, 0, last);

        for (int i = from; i <= to; i++)
          take (cover, row, i, turn, at, reach);
        if (from > 0)
          take (cover, row, 0, turn, at, reach);
        if (to < last)
          take (cover, row, last, turn, at, reach);
      }
}

/* Circles larger than those of the endless pattern lie beyond the first or last hole
 * of a row, and touch only the outer two holes of rows. */
static void
look_round (Cover *cover, int row, int index)
{
  Point at = point_of (cover->plan, row, index, 0);
  gboolean outer = index < 2 || index >= cover->plan->per_row[row] - 2;

  gather (cover, at, outer ? cover->reach : cover->reach_inside);
  for (guint j = 0; j < cover->near->len; j++)
    {
      Point b = g_array_index (cover->near, Point, j);

      if (outer)
        {
          offer_rim (cover, 0, at, b);
          offer_rim (cover, cover->plan->length, at, b);
        }
      for (guint k = j + 1; k < cover->near->len; k++)
        offer_centre (cover, at, b, g_array_index (cover->near, Point, k));
    }
}

/* Any point has a row within half a pitch, and on it a hole within half a
 * spacing or the way to the rim: twice that bounds what can share a circle. */
static void
measure (Cover *cover)
{
  BedDrillPlan *plan = cover->plan;
  double away = plan->along / 2;
  int rows = 0;

  cover->first = 0;
  cover->last = plan->length;
  for (int row = 0; row < plan->rows; row++)
    {
      if (plan->per_row[row] == 0)
        continue;
      double last = plan->start[row] + (plan->per_row[row] - 1) * plan->along;
      away = MAX (away, MAX (plan->start[row], plan->length - last));
      cover->first = MAX (cover->first, plan->start[row]);
      cover->last = MIN (cover->last, last);
      rows++;
    }
  /* On a short log shifted rows may be empty: then half way round bounds it. */
  double half = plan->pitch_large * (rows < plan->rows ? plan->rows : 1) / 2;
  cover->reach = 2 * hypot (half, away) * (1 + 1e-6);
  cover->reach_inside = rows < plan->rows ? cover->reach
                                          : 2 * hypot (half, plan->along / 2) * (1 + 1e-6);
}

/* Inside the room */

void
bed_drill_cover (BedDrillPlan *plan, BedClosing closing)
{
  g_autoptr (GArray) near = g_array_new (FALSE, FALSE, sizeof (Point));
  Cover cover = { .plan = plan, .near = near };
  const BedFarthest *zones[] = { &plan->inside, &plan->seam, &plan->ends };

  cover.odd = closing == BED_CLOSING_NEAREST && plan->rows % 2 == 1;
  /* The odd row out disturbs its neighbours too, if it has any to spare. */
  cover.beside = plan->rows > 3 ? 1 : 0;
  measure (&cover);
  /* Away from the ends every period of a row is like the last. */
  const int enough = 8;
  for (int row = 0; row < plan->rows; row++)
    for (int i = 0; i < plan->per_row[row]; i++)
      if (i < enough || i >= plan->per_row[row] - enough)
        look_round (&cover, row, i);
  if (!cover.odd)
    plan->seam = plan->inside;
  for (gsize i = 0; i < G_N_ELEMENTS (zones); i++)
    if (zones[i]->distance > plan->farthest.distance)
      plan->farthest = *zones[i];
}
