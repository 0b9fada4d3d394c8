#include "print/yard_elevation.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* Room around a face, and for the caption under its ground line. Our own choice. */
#define MARGIN 0.06
#define CAPTION 0.2

typedef struct
{
  BedElevation *elevation;
  BedFacesFlow flow;
} Layout;

/* --- faces ------------------------------------------------------------------ */

static gboolean
is_crib (const BedPile *pile)
{
  return pile->kind == BED_STACK_CRIB;
}

/* On which face the ends of that tier show. */
static guint
face_of_tier (const BedPile *pile, guint tier)
{
  if (pile->kind == BED_STACK_DEAD)
    return 0;
  return is_crib (pile) ? (tier - 1) % 2 : tier - 1;
}

static guint
count_faces (const BedPile *pile)
{
  guint n = 1;

  for (guint i = 0; i < pile->bars->len; i++)
    n = MAX (n, face_of_tier (pile, g_array_index (pile->bars, BedBar, i).tier) + 1);
  return n;
}

static char *
name_face (const BedPile *pile, guint face)
{
  if (pile->kind == BED_STACK_DEAD)
    return g_strdup (_ ("Ends"));
  if (is_crib (pile))
    return g_strdup (face ? _ ("Side: even tiers") : _ ("Front: odd tiers"));
  if (pile->kind == BED_STACK_A_FRAME || pile->kind == BED_STACK_UPRIGHT_ROW)
    return g_strdup_printf (_ ("Side %u"), face + 1);
  return g_strdup_printf (_ ("Row %u"), face + 1);
}

/* A point of the stack as seen on that face: the looker stands on the side of the
 * heads, so a row leaning away to the east is seen from the west, mirrored. */
static BedPoint
project (const BedPile *pile, guint face, BedPoint3 point)
{
  gboolean paired = pile->kind == BED_STACK_A_FRAME || pile->kind == BED_STACK_UPRIGHT_ROW;

  if (is_crib (pile) && face == 1)
    return (BedPoint) { point.x, point.z };
  return (BedPoint) { paired && face % 2 == 0 ? -point.y : point.y, point.z };
}

static void
add_end (BedElevation *self, guint bar_index, guint face)
{
  const BedBar *bar = &g_array_index (self->pile->bars, BedBar, bar_index);
  BedLogEnd end = { .bar = bar_index, .face = face, .radius = bar->radius };

  end.middle = project (self->pile, face, bar->head);
  end.foot = project (self->pile, face, bar->foot);
  g_array_append_val (self->ends, end);
}

static void
add_side (GArray *sides, guint bar, BedPoint from, BedPoint to, double radius)
{
  BedLogSide side = { .bar = bar, .from = from, .to = to, .radius = radius };
  g_array_append_val (sides, side);
}

static void
reach (BedFace *face, BedPoint point, double radius)
{
  face->corner.x = MIN (face->corner.x, point.x - radius);
  face->width = MAX (face->width, point.x + radius);
  face->height = MAX (face->height, point.y + radius);
}

static void
move_points (BedPoint *a, BedPoint *b, BedPoint by)
{
  a->x += by.x;
  a->y += by.y;
  b->x += by.x;
  b->y += by.y;
}

/* Moves everything from the given places on by @by: what belongs to one face. */
static void
move_face (BedElevation *self, const guint from[3], BedPoint by)
{
  for (guint i = from[0]; i < self->ends->len; i++)
    {
      BedLogEnd *end = bed_elevation_end (self, i);
      move_points (&end->middle, &end->foot, by);
    }
  for (guint i = from[1]; i < self->sides->len; i++)
    {
      BedLogSide *side = &g_array_index (self->sides, BedLogSide, i);
      move_points (&side->from, &side->to, by);
    }
  for (guint i = from[2]; i < self->rails->len; i++)
    {
      BedLogSide *rail = &g_array_index (self->rails, BedLogSide, i);
      move_points (&rail->from, &rail->to, by);
    }
}

static void
fill_face (BedElevation *self, guint index, BedFace *face)
{
  const BedPile *pile = self->pile;

  for (guint i = 0; i < pile->bars->len; i++)
    {
      const BedBar *bar = &g_array_index (pile->bars, BedBar, i);
      BedPoint head = project (pile, index, bar->head), foot = project (pile, index, bar->foot);
      gboolean shows = face_of_tier (pile, bar->tier) == index;
      if (shows)
        add_end (self, i, index);
      else if (is_crib (pile) && bar->log)
        add_side (self->sides, i, foot, head, bar->radius);
      if (!shows && !is_crib (pile))
        continue;
      reach (face, head, shows ? bar->radius : 0);
      reach (face, foot, shows ? bar->radius : 0);
    }
  for (guint i = 0; i < pile->rails->len; i++)
    {
      const BedRail *rail = &g_array_index (pile->rails, BedRail, i);
      gboolean paired = pile->kind != BED_STACK_LEAN_TO;
      if ((paired ? index / 2 : index) == i)
        add_side (self->rails, G_MAXUINT, project (pile, index, rail->from),
                  project (pile, index, rail->to), 0.025);
    }
}

static void
add_face (Layout *layout, guint index)
{
  BedElevation *self = layout->elevation;
  BedFace face = { .caption = name_face (self->pile, index), .corner = { G_MAXDOUBLE, 0 },
                   .width = -G_MAXDOUBLE };
  guint from[3] = { self->ends->len, self->sides->len, self->rails->len };
  BedPoint to = { MARGIN, MARGIN + CAPTION }, by;

  fill_face (self, index, &face);
  if (face.width < face.corner.x) /* a face of free tiers beyond those asked for */
    face.corner.x = face.width = 0;
  face.width -= face.corner.x;
  if (layout->flow == BED_FACES_ACROSS && self->width > 0)
    to.x = self->width + 2 * MARGIN;
  by = (BedPoint) { to.x - face.corner.x, to.y };
  move_face (self, from, by);
  face.corner = to;
  g_array_append_val (self->faces, face);
  self->width = MAX (self->width, to.x + face.width + MARGIN);
  self->height = MAX (self->height, to.y + face.height + MARGIN);
}

/* Faces one below the other: the first ends up at the top. */
static void
flow_down (BedElevation *self)
{
  double top = 0;

  for (guint f = self->faces->len; f-- > 0;)
    {
      BedFace *face = &g_array_index (self->faces, BedFace, f);
      face->corner.y += top;
      for (guint i = 0; i < self->ends->len; i++)
        {
          BedLogEnd *end = bed_elevation_end (self, i);
          if (end->face == f)
            move_points (&end->middle, &end->foot, (BedPoint) { 0, top });
        }
      top += face->height + CAPTION + 2 * MARGIN;
    }
  self->height = top;
}

static double
distance (BedPoint p, BedPoint a, BedPoint b)
{
  double dx = b.x - a.x, dy = b.y - a.y, length2 = dx * dx + dy * dy;
  double t = length2 > 0 ? ((p.x - a.x) * dx + (p.y - a.y) * dy) / length2 : 0;

  t = CLAMP (t, 0, 1);
  return hypot (p.x - a.x - t * dx, p.y - a.y - t * dy);
}

static void
clear_face (gpointer data)
{
  g_free (((BedFace *) data)->caption);
}

BedElevation *
bed_elevation_new (const BedYardStack *stack, BedFacesFlow flow)
{
  BedElevation *self = g_new0 (BedElevation, 1);
  Layout layout = { self, flow };
  guint n;

  self->pile = bed_pile_new (stack);
  self->faces = g_array_new (FALSE, FALSE, sizeof (BedFace));
  g_array_set_clear_func (self->faces, clear_face);
  self->ends = g_array_new (FALSE, FALSE, sizeof (BedLogEnd));
  self->sides = g_array_new (FALSE, FALSE, sizeof (BedLogSide));
  self->rails = g_array_new (FALSE, FALSE, sizeof (BedLogSide));
  n = count_faces (self->pile);
  for (guint face = 0; face < n; face++)
    add_face (&layout, face);
  return self;
}

void
bed_elevation_free (BedElevation *self)
{
  g_array_unref (self->faces);
  g_array_unref (self->ends);
  g_array_unref (self->sides);
  g_array_unref (self->rails);
  bed_pile_free (self->pile);
  g_free (self);
}

const BedBar *
bed_elevation_get_bar (const BedElevation *self, guint end)
{
  g_return_val_if_fail (end < self->ends->len, NULL);
  return &g_array_index (self->pile->bars, BedBar, bed_elevation_end (self, end)->bar);
}

int
bed_elevation_hit (const BedElevation *self, BedPoint point)
{
  for (guint i = self->ends->len; i-- > 0;)
    {
      const BedLogEnd *end = bed_elevation_end (self, i);
      if (distance (point, end->middle, end->foot) <= end->radius)
        return i;
    }
  return -1;
}

/* How far @to is from @from going in @direction: sideways counts double, the wrong way is never. */
static double
walk (BedPoint from, BedPoint to, BedDirection direction)
{
  double dx = to.x - from.x, dy = to.y - from.y;
  double ahead = direction == BED_TO_LEFT    ? -dx
                 : direction == BED_TO_RIGHT ? dx
                 : direction == BED_TO_UP    ? dy
                                             : -dy;
  double aside = direction == BED_TO_LEFT || direction == BED_TO_RIGHT ? dy : dx;

  return ahead > 1e-6 && fabs (aside) <= ahead + 1e-6 ? ahead + 2 * fabs (aside) : G_MAXDOUBLE;
}

guint
bed_elevation_step (const BedElevation *self, guint end, BedDirection direction)
{
  double nearest = G_MAXDOUBLE;
  guint found = end;

  g_return_val_if_fail (end < self->ends->len, 0);
  for (guint i = 0; i < self->ends->len; i++)
    {
      double far = walk (bed_elevation_end (self, end)->middle, bed_elevation_end (self, i)->middle,
                         direction);
      if (far < nearest)
        {
          nearest = far;
          found = i;
        }
    }
  return found;
}

int
bed_elevation_find_log (const BedElevation *self, gint64 log)
{
  for (guint i = 0; i < self->ends->len; i++)
    {
      const BedBar *bar = bed_elevation_get_bar (self, i);
      if (bar->log && bar->log->id == log)
        return i;
    }
  return -1;
}

int
bed_elevation_find_free (const BedElevation *self)
{
  for (guint i = 0; i < self->ends->len; i++)
    if (!bed_elevation_get_bar (self, i)->log)
      return i;
  return -1;
}
