#include "yard/shape.h"

#include <math.h>

static double
distance (BedPoint a, BedPoint b)
{
  return hypot (a.x - b.x, a.y - b.y);
}

/* Twice the area of the triangle, positive when @c lies left of the way from @a to @b. */
static double
cross (BedPoint a, BedPoint b, BedPoint c)
{
  return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

static BedPoint
between (BedPoint a, BedPoint b, double share)
{
  return (BedPoint){ a.x + share * (b.x - a.x), a.y + share * (b.y - a.y) };
}

/* The edges of a shape's middle; a disc has one of no length. */
static guint
count_edges (const BedShape *shape)
{
  return shape->form == BED_SHAPE_AREA ? shape->n_points : MAX (shape->n_points, 2) - 1;
}

static void
get_edge (const BedShape *shape, guint i, BedPoint edge[2])
{
  edge[0] = shape->points[i];
  edge[1] = shape->points[i + 1 < shape->n_points ? i + 1 : 0];
}

/* Even-odd rule; the south and west edges count as inside. */
static gboolean
is_inside (const BedShape *polygon, BedPoint p)
{
  gboolean in = FALSE;

  for (guint i = 0; i < polygon->n_points; i++)
    {
      BedPoint e[2];
      get_edge (polygon, i, e);
      if ((e[0].y > p.y) != (e[1].y > p.y)
          && p.x < (e[1].x - e[0].x) * (p.y - e[0].y) / (e[1].y - e[0].y) + e[0].x)
        in = !in;
    }
  return in;
}

/* From the middle of the shape's line or edge, whatever lies inside. */
static double
edge_distance (const BedShape *shape, BedPoint p)
{
  double nearest = G_MAXDOUBLE; /* squared */

  for (guint i = 0; i < count_edges (shape); i++)
    {
      BedPoint e[2];
      get_edge (shape, i, e);
      BedPoint on = bed_point_nearest (p, e[0], e[1]);
      double dx = p.x - on.x, dy = p.y - on.y;
      nearest = MIN (nearest, dx * dx + dy * dy);
    }
  return sqrt (nearest);
}

/* How deep in the polygon; negative outside it. */
static double
depth (const BedShape *polygon, BedPoint p)
{
  double far = edge_distance (polygon, p);

  return is_inside (polygon, p) ? far : -far;
}

/* The point of the edge @a where it crosses @b, as a share of it; FALSE when they do not. */
static gboolean
meet (const BedPoint a[2], const BedPoint b[2], double *share)
{
  double from = cross (b[0], b[1], a[0]), to = cross (b[0], b[1], a[1]);

  if ((from > 0) == (to > 0) || from == to)
    return FALSE;
  if ((cross (a[0], a[1], b[0]) > 0) == (cross (a[0], a[1], b[1]) > 0))
    return FALSE;
  *share = from / (from - to);
  return TRUE;
}

static void
measure_edges (const BedPoint a[2], const BedPoint b[2], BedMeasurement *nearest)
{
  const BedMeasurement pairs[] = {
    { .from = a[0], .to = bed_point_nearest (a[0], b[0], b[1]) },
    { .from = a[1], .to = bed_point_nearest (a[1], b[0], b[1]) },
    { .from = bed_point_nearest (b[0], a[0], a[1]), .to = b[0] },
    { .from = bed_point_nearest (b[1], a[0], a[1]), .to = b[1] },
  };
  double share;

  for (guint i = 0; i < G_N_ELEMENTS (pairs); i++)
    {
      double far = distance (pairs[i].from, pairs[i].to);
      if (far >= nearest->distance)
        continue;
      *nearest = pairs[i];
      nearest->distance = far;
    }
  if (nearest->distance > 0 && meet (a, b, &share))
    {
      BedPoint at = between (a[0], a[1], share);
      *nearest = (BedMeasurement){ 0, at, at };
    }
}

/* Between the middles: their lines, edges, or what they fill. */
static BedMeasurement
measure_middles (const BedShape *a, const BedShape *b)
{
  BedMeasurement nearest = { .distance = G_MAXDOUBLE };
  BedPoint of_a[2], of_b[2];

  if (b->form == BED_SHAPE_AREA && is_inside (b, a->points[0]))
    return (BedMeasurement){ 0, a->points[0], a->points[0] };
  if (a->form == BED_SHAPE_AREA && is_inside (a, b->points[0]))
    return (BedMeasurement){ 0, b->points[0], b->points[0] };
  for (guint i = 0; i < count_edges (a); i++)
    for (guint j = 0; j < count_edges (b) && nearest.distance > 0; j++)
      {
        get_edge (a, i, of_a);
        get_edge (b, j, of_b);
        measure_edges (of_a, of_b, &nearest);
      }
  return nearest;
}

/* The depths in a polygon that are met along an edge. */
typedef struct
{
  double least, most;
} Depths;

static int
compare_shares (gconstpointer a, gconstpointer b)
{
  double x = *(const double *) a, y = *(const double *) b;

  return (x > y) - (x < y);
}

/* Looks at the edge between each two crossings with the polygon's own. */
static void
look_along (const BedPoint edge[2], const BedShape *polygon, Depths *depths)
{
  g_autofree double *shares = g_new (double, polygon->n_points + 2);
  guint n = 0;

  shares[n++] = 0;
  shares[n++] = 1;
  for (guint i = 0; i < polygon->n_points; i++)
    {
      BedPoint other[2];
      get_edge (polygon, i, other);
      n += meet (edge, other, &shares[n]);
    }
  qsort (shares, n, sizeof *shares, compare_shares);
  for (guint i = 0; i + 1 < n; i++)
    for (int quarter = 0; quarter <= 4; quarter++)
      {
        double share = shares[i] + quarter * (shares[i + 1] - shares[i]) / 4;
        double d = depth (polygon, between (edge[0], edge[1], share));
        depths->least = MIN (depths->least, d);
        depths->most = MAX (depths->most, d);
      }
}

static Depths
look_around (const BedShape *shape, const BedShape *polygon)
{
  Depths depths = { G_MAXDOUBLE, -G_MAXDOUBLE };

  for (guint i = 0; i < count_edges (shape); i++)
    {
      BedPoint edge[2];
      get_edge (shape, i, edge);
      look_along (edge, polygon, &depths);
    }
  return depths;
}

/* A point well inside: of the triangles at its corners, the middle that lies deepest. */
static BedPoint
find_inner (const BedShape *polygon)
{
  BedPoint best = polygon->points[0];
  double deepest = -G_MAXDOUBLE;
  guint n = polygon->n_points;

  for (guint i = 0; i < n; i++)
    {
      const BedPoint *p = polygon->points;
      BedPoint a = p[i], b = p[(i + 1) % n], c = p[(i + 2) % n];
      BedPoint middle = { (a.x + b.x + c.x) / 3, (a.y + b.y + c.y) / 3 };
      double deep = depth (polygon, middle);
      if (deep <= deepest)
        continue;
      deepest = deep;
      best = middle;
    }
  return best;
}

static gboolean
boxes_apart (const BedShape *a, const BedShape *b)
{
  BedExtent x = bed_shape_extent (a), y = bed_shape_extent (b);

  return x.x > y.x + y.width || y.x > x.x + x.width || x.y > y.y + y.height || y.y > x.y + x.height;
}

/* --- public --------------------------------------------------------------------- */

double
bed_shape_distance (const BedShape *shape, BedPoint p)
{
  if (shape->form == BED_SHAPE_AREA && is_inside (shape, p))
    return 0;
  return MAX (0, edge_distance (shape, p) - shape->radius);
}

BedMeasurement
bed_shape_measure (const BedShape *a, const BedShape *b)
{
  BedMeasurement m = measure_middles (a, b);
  double far = m.distance;

  if (far <= a->radius + b->radius)
    {
      BedPoint at = far > 0 ? between (m.from, m.to, MIN (1, a->radius / far)) : m.from;
      return (BedMeasurement){ 0, at, at };
    }
  return (BedMeasurement){ far - a->radius - b->radius, between (m.from, m.to, a->radius / far),
                           between (m.to, m.from, b->radius / far) };
}

gboolean
bed_shape_overlaps (const BedShape *a, const BedShape *b)
{
  if (boxes_apart (a, b))
    return FALSE;
  if (a->form != BED_SHAPE_AREA || b->form != BED_SHAPE_AREA)
    return measure_middles (a, b).distance < a->radius + b->radius - BED_SHAPE_TOUCH;
  return look_around (a, b).most > BED_SHAPE_TOUCH || look_around (b, a).most > BED_SHAPE_TOUCH
         || depth (b, find_inner (a)) > BED_SHAPE_TOUCH;
}

gboolean
bed_shape_lies_in (const BedShape *shape, const BedShape *outline)
{
  return look_around (shape, outline).least >= shape->radius - BED_SHAPE_TOUCH;
}

BedShape
bed_shape_polygon (const BedPoint *corners, guint n)
{
  return (BedShape){ .form = BED_SHAPE_AREA, .points = corners, .n_points = n };
}

BedExtent
bed_shape_extent (const BedShape *shape)
{
  BedPoint low = shape->points[0], high = low;

  for (guint i = 1; i < shape->n_points; i++)
    {
      low.x = MIN (low.x, shape->points[i].x);
      low.y = MIN (low.y, shape->points[i].y);
      high.x = MAX (high.x, shape->points[i].x);
      high.y = MAX (high.y, shape->points[i].y);
    }
  return (BedExtent){ low.x - shape->radius, low.y - shape->radius,
                      high.x - low.x + 2 * shape->radius, high.y - low.y + 2 * shape->radius };
}
