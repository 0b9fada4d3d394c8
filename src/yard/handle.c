#include "yard/handle.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "science/units.h"
#include "yard/ground.h"

#define LEAST 0.05               /* m: nothing is dragged thinner */
#define RIGHT (0.5 * G_PI / 180) /* an angle within this of a right one is right */
#define PARALLEL 0.05            /* edges at less than 3 degrees do not meet usefully */

static BedPoint *
get_point (const BedGround *ground, guint i)
{
  return &g_array_index (ground->points, BedPoint, i % ground->points->len);
}

static BedPoint
between (BedPoint a, BedPoint b, double share)
{
  return (BedPoint){ a.x + share * (b.x - a.x), a.y + share * (b.y - a.y) };
}

static double
length_of (BedPoint a, BedPoint b)
{
  return hypot (b.x - a.x, b.y - a.y);
}

/* The way from @a to @b, one metre of it; east when they are the same. */
static BedPoint
way (BedPoint a, BedPoint b)
{
  double length = length_of (a, b);

  return length > 0 ? (BedPoint){ (b.x - a.x) / length, (b.y - a.y) / length } : (BedPoint){ 1, 0 };
}

static BedPoint
step (BedPoint from, BedPoint way_to, double far)
{
  return (BedPoint){ from.x + far * way_to.x, from.y + far * way_to.y };
}

static double
cross (BedPoint a, BedPoint b)
{
  return a.x * b.y - a.y * b.x;
}

/* Where the line through @a that way meets the line from @from to @to; FALSE when they hardly do.
 */
static gboolean
meet (BedPoint a, BedPoint that_way, BedPoint from, BedPoint to, BedPoint *at)
{
  BedPoint other = way (from, to);
  double sine = cross (that_way, other);

  if (fabs (sine) < PARALLEL)
    return FALSE;
  *at = step (a, that_way, cross ((BedPoint){ from.x - a.x, from.y - a.y }, other) / sine);
  return TRUE;
}

/* --- what there is -------------------------------------------------------------- */

static void
add (GArray *handles, BedHandleKind kind, guint at, BedPoint point)
{
  BedHandle handle = { kind, at, point };

  g_array_append_val (handles, handle);
}

static void
list_box (GArray *handles, const BedGround *box, double knob)
{
  BedPoint corners[4], middle = *get_point (box, 0);

  bed_ground_get_corners (box, corners);
  add (handles, BED_HANDLE_TURN, 0,
       step (middle, (BedPoint){ cos (box->turn), sin (box->turn) }, box->width / 2 + knob));
  for (guint i = 0; i < 4; i++)
    add (handles, BED_HANDLE_SIDE, i, between (corners[i], corners[(i + 1) % 4], 0.5));
  for (guint i = 0; i < 4; i++)
    add (handles, BED_HANDLE_CORNER, i, corners[i]);
}

static void
list_points (GArray *handles, const BedGround *ground)
{
  for (guint i = 0; i < ground->points->len; i++)
    add (handles, BED_HANDLE_POINT, i, *get_point (ground, i));
}

/* Beside the longest part of a band, where there is most room to take it. */
static void
list_breadth (GArray *handles, const BedGround *band)
{
  guint longest = 0;

  for (guint i = 1; i + 1 < band->points->len; i++)
    if (length_of (*get_point (band, i), *get_point (band, i + 1))
        > length_of (*get_point (band, longest), *get_point (band, longest + 1)))
      longest = i;
  BedPoint a = *get_point (band, longest), b = *get_point (band, longest + 1), along = way (a, b);
  add (handles, BED_HANDLE_BREADTH, longest,
       step (between (a, b, 0.5), (BedPoint){ -along.y, along.x }, band->width / 2));
}

GArray *
bed_handle_list (const BedGround *ground, double knob)
{
  GArray *handles = g_array_new (FALSE, FALSE, sizeof (BedHandle));

  switch (ground->form)
    {
    case BED_GROUND_BOX:
      list_box (handles, ground, knob);
      break;
    case BED_GROUND_DISC:
      add (handles, BED_HANDLE_RIM, 0,
           step (*get_point (ground, 0), (BedPoint){ 1, 0 }, ground->radius));
      break;
    case BED_GROUND_BAND:
      list_breadth (handles, ground);
      list_points (handles, ground);
      break;
    case BED_GROUND_POLYGON:
      for (guint i = 0; i < ground->points->len; i++)
        add (handles, BED_HANDLE_SIDE, i,
             between (*get_point (ground, i), *get_point (ground, i + 1), 0.5));
      list_points (handles, ground);
      break;
    case BED_GROUND_POINT:
    case BED_N_GROUND_FORMS:
    default:
      break;
    }
  return handles;
}

int
bed_handle_hit (const GArray *handles, BedPoint at, double reach)
{
  int found = -1;

  for (guint i = 0; i < handles->len; i++)
    {
      double far = length_of (g_array_index (handles, BedHandle, i).point, at);
      if (far > reach)
        continue;
      reach = far;
      found = (int) i;
    }
  return found;
}

/* --- dragging ------------------------------------------------------------------- */

/* How far @to lies out from the side of a box that is across from side @side. */
static double
reach_out (const BedGround *box, guint side, BedPoint to)
{
  BedPoint corners[4];
  bed_ground_get_corners (box, corners);
  BedPoint from = corners[(side + 2) % 4],
           out = way (corners[(side + 2) % 4], corners[(side + 1) % 4]);

  return (to.x - from.x) * out.x + (to.y - from.y) * out.y;
}

/* The side goes that far out from the one across, which stays. */
static void
set_side (BedGround *box, guint side, double far)
{
  BedPoint corners[4], *middle = get_point (box, 0);
  double *measure = side % 2 ? &box->width : &box->depth;

  bed_ground_get_corners (box, corners);
  BedPoint out = way (corners[(side + 2) % 4], corners[(side + 1) % 4]);
  far = MAX (far, LEAST);
  *middle = step (*middle, out, (far - *measure) / 2);
  *measure = far;
}

static void
drag_box_corner (BedGround *box, guint at, BedPoint to, BedAngles angles)
{
  BedPoint corners[4];

  if (angles == BED_ANGLES_KEPT)
    {
      double out = reach_out (box, at, to), before = reach_out (box, (at + 3) % 4, to);
      set_side (box, at, out);
      set_side (box, (at + 3) % 4, before);
      return;
    }
  bed_ground_get_corners (box, corners);
  corners[at] = to;
  g_array_set_size (box->points, 0);
  g_array_append_vals (box->points, corners, 4);
  box->form = BED_GROUND_POLYGON;
}

/* Whether the edges that meet at @i are at a right angle. */
static gboolean
is_right (const BedGround *polygon, guint i)
{
  guint n = polygon->points->len;
  BedPoint in = way (*get_point (polygon, i + n - 1), *get_point (polygon, i));
  BedPoint out = way (*get_point (polygon, i), *get_point (polygon, i + 1));

  return fabs (in.x * out.x + in.y * out.y) < sin (RIGHT);
}

/* The points before and after go along their own further edges, so that both edges keep their
 * ways. */
static void
drag_right_corner (BedGround *polygon, guint i, BedPoint to)
{
  guint n = polygon->points->len;
  BedPoint *before = get_point (polygon, i + n - 1), *after = get_point (polygon, i + 1);
  BedPoint in = way (*before, *get_point (polygon, i)), out = way (*get_point (polygon, i), *after);
  BedPoint before_to, after_to;

  if (meet (to, in, *get_point (polygon, i + n - 2), *before, &before_to)
      && meet (to, out, *after, *get_point (polygon, i + 2), &after_to))
    {
      *before = before_to;
      *after = after_to;
    }
  *get_point (polygon, i) = to;
}

/* The edge stays parallel; its ends slide along the edges beside it, or freely straight out. */
static void
drag_edge (BedGround *polygon, guint i, BedPoint to, BedAngles angles)
{
  guint n = polygon->points->len;
  BedPoint *a = get_point (polygon, i), *b = get_point (polygon, i + 1), along = way (*a, *b);
  BedPoint out = { -along.y, along.x };
  double far = (to.x - a->x) * out.x + (to.y - a->y) * out.y;
  BedPoint line = step (*a, out, far), new_a = line, new_b = step (*b, out, far);

  if (angles == BED_ANGLES_KEPT && n > 3)
    {
      meet (line, along, *get_point (polygon, i + n - 1), *a, &new_a);
      meet (line, along, *b, *get_point (polygon, i + 2), &new_b);
    }
  *a = new_a;
  *b = new_b;
}

/* From the middle line of that part of the band. */
static double
breadth_to (const BedGround *band, guint part, BedPoint to)
{
  BedPoint a = *get_point (band, part), along = way (a, *get_point (band, part + 1));

  return fabs (cross (along, (BedPoint){ to.x - a.x, to.y - a.y }));
}

void
bed_handle_drag (BedGround *ground, const BedHandle *handle, BedPoint to, BedAngles angles)
{
  BedPoint middle = *get_point (ground, 0);

  switch (handle->kind)
    {
    case BED_HANDLE_POINT:
      if (ground->form == BED_GROUND_POLYGON && angles == BED_ANGLES_KEPT && ground->points->len > 3
          && is_right (ground, handle->at))
        drag_right_corner (ground, handle->at, to);
      else
        *get_point (ground, handle->at) = to;
      break;
    case BED_HANDLE_CORNER:
      drag_box_corner (ground, handle->at, to, angles);
      break;
    case BED_HANDLE_SIDE:
      if (ground->form == BED_GROUND_BOX)
        set_side (ground, handle->at, reach_out (ground, handle->at, to));
      else
        drag_edge (ground, handle->at, to, angles);
      break;
    case BED_HANDLE_RIM:
      ground->radius = MAX (LEAST, length_of (middle, to));
      break;
    case BED_HANDLE_BREADTH:
      ground->width = MAX (LEAST, 2 * breadth_to (ground, handle->at, to));
      break;
    case BED_HANDLE_TURN:
    default:
      ground->turn = atan2 (to.y - middle.y, to.x - middle.x);
      break;
    }
}

/* --- typed ---------------------------------------------------------------------- */

double
bed_handle_measure (const BedGround *ground, const BedHandle *handle, BedHandleUnit *unit)
{
  guint n = ground->points->len, at = handle->at;

  *unit = handle->kind == BED_HANDLE_TURN ? BED_HANDLE_DEGREES : BED_HANDLE_METRES;
  switch (handle->kind)
    {
    case BED_HANDLE_RIM:
      return ground->radius;
    case BED_HANDLE_BREADTH:
      return ground->width;
    case BED_HANDLE_TURN:
      return ground->turn * 180 / G_PI;
    case BED_HANDLE_SIDE:
      if (ground->form == BED_GROUND_BOX)
        return at % 2 ? ground->width : ground->depth;
      return length_of (*get_point (ground, at), *get_point (ground, at + 1));
    case BED_HANDLE_CORNER:
      return ground->width;
    case BED_HANDLE_POINT:
    default:
      if (at == 0 && ground->form == BED_GROUND_BAND)
        return n > 1 ? length_of (*get_point (ground, 0), *get_point (ground, 1)) : 0;
      return length_of (*get_point (ground, at + n - 1), *get_point (ground, at));
    }
}

/* The edge before the point becomes that long; of a band's first point, the one after it. */
static gboolean
set_edge (BedGround *ground, guint at, double measure)
{
  guint n = ground->points->len;
  guint from = at == 0 && ground->form == BED_GROUND_BAND ? 1 : at + n - 1;

  if (n < 2)
    return FALSE;
  BedPoint fixed = *get_point (ground, from);
  *get_point (ground, at) = step (fixed, way (fixed, *get_point (ground, at)), measure);
  return TRUE;
}

gboolean
bed_handle_set_measure (BedGround *ground, const BedHandle *handle, double measure)
{
  guint at = handle->at;

  if (handle->kind == BED_HANDLE_TURN)
    {
      ground->turn = remainder (measure * G_PI / 180, 2 * G_PI);
      return TRUE;
    }
  if (!(measure > 0))
    return FALSE;
  switch (handle->kind)
    {
    case BED_HANDLE_RIM:
      ground->radius = measure;
      return TRUE;
    case BED_HANDLE_BREADTH:
      ground->width = measure;
      return TRUE;
    case BED_HANDLE_CORNER:
      set_side (ground, at == 1 || at == 2 ? 1 : 3, measure); /* east or west */
      return TRUE;
    case BED_HANDLE_SIDE:
      if (ground->form == BED_GROUND_BOX)
        set_side (ground, at, measure);
      else
        return set_edge (ground, at + 1, measure);
      return TRUE;
    case BED_HANDLE_POINT:
    case BED_HANDLE_TURN:
    default:
      return set_edge (ground, at, measure);
    }
}

guint
bed_handle_add_point (BedGround *ground, guint edge)
{
  BedPoint middle = between (*get_point (ground, edge), *get_point (ground, edge + 1), 0.5);

  g_array_insert_val (ground->points, edge + 1, middle);
  return edge + 1;
}

gboolean
bed_handle_remove_point (BedGround *ground, guint at)
{
  guint least = ground->form == BED_GROUND_POLYGON ? 3 : ground->form == BED_GROUND_BAND ? 2 : 1;

  if (ground->points->len <= least)
    return FALSE;
  g_array_remove_index (ground->points, at);
  return TRUE;
}

/* --- words ---------------------------------------------------------------------- */

static char *
dup_length (const BedNotation *notation, double metres)
{
  return bed_measure_format_unit_said (BED_MEASURE_LENGTH_LONG, notation,
                                       (gint64) round (metres * 1e6));
}

/* Along its points; of a polygon back to the first. */
static double
measure_line (const BedGround *ground)
{
  guint n = ground->points->len;
  double length = 0;

  for (guint i = 0; i + (ground->form != BED_GROUND_POLYGON) < n; i++)
    length += length_of (*get_point (ground, i), *get_point (ground, i + 1));
  return length;
}

char *
bed_ground_describe (const BedGround *ground, const BedNotation *notation)
{
  gboolean box = ground->form == BED_GROUND_BOX, disc = ground->form == BED_GROUND_DISC;
  BedPoint at = *get_point (ground, 0);
  g_autofree char *first = dup_length (notation, box    ? ground->width
                                                 : disc ? ground->radius
                                                        : measure_line (ground));
  g_autofree char *second = dup_length (notation, box ? ground->depth : ground->width);

  switch (ground->form)
    {
    case BED_GROUND_BOX:
      /* Translators: a rectangle, "4.2 m" by "2 m" */
      return g_strdup_printf (_ ("%s by %s"), first, second);
    case BED_GROUND_DISC:
      /* Translators: of a circle, "1.5 m" */
      return g_strdup_printf (_ ("radius %s"), first);
    case BED_GROUND_BAND:
      /* Translators: a path or fence, "14 ft 6 in" and "4 ft" */
      return g_strdup_printf (_ ("%s long, %s wide"), first, second);
    case BED_GROUND_POLYGON:
      /* Translators: along the edges of an outline, "26 m" */
      return g_strdup_printf (_ ("%s around"), first);
    case BED_GROUND_POINT:
    case BED_N_GROUND_FORMS:
    default:
      g_free (g_steal_pointer (&first));
      g_free (g_steal_pointer (&second));
      first = dup_length (notation, at.x);
      second = dup_length (notation, at.y);
      /* Translators: a point, so far from the west and the south edge */
      return g_strdup_printf (_ ("at %s, %s"), first, second);
    }
}
