#include "yard/elevation.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* Room around a face, and for the caption under its ground line. Our own choice. */
#define MARGIN 0.06
#define CAPTION 0.2

/* --- faces ------------------------------------------------------------------ */

static gboolean
is_crib (const BedPile *pile)
{
  return pile->kind == BED_STACK_CRIB;
}

static gboolean
has_one_face (const BedPile *pile)
{
  return pile->kind == BED_STACK_DEAD || pile->kind == BED_STACK_TOTEM;
}

static gboolean
is_leaning (const BedPile *pile)
{
  return pile->kind == BED_STACK_LEAN_TO || pile->kind == BED_STACK_A_FRAME;
}

/* On which face the ends of that tier show. */
static guint
face_of_tier (const BedPile *pile, guint tier)
{
  if (has_one_face (pile))
    return 0;
  return is_crib (pile) ? (tier - 1) % 2 : tier - 1;
}

/* Leaning logs are seen from the end of their rows, too: the last face. */
static guint
count_faces (const BedPile *pile)
{
  guint n = 1;

  for (guint i = 0; i < pile->bars->len; i++)
    n = MAX (n, face_of_tier (pile, g_array_index (pile->bars, BedBar, i).tier) + 1);
  return n + is_leaning (pile);
}

static gboolean
is_end_face (const BedElevation *self, guint face)
{
  return is_leaning (self->pile) && face + 1 == self->n_faces;
}

static char *
name_face (const BedElevation *self, guint face)
{
  const BedPile *pile = self->pile;

  if (has_one_face (pile))
    return g_strdup (pile->kind == BED_STACK_DEAD ? _ ("Ends") : _ ("Front"));
  if (is_crib (pile))
    return g_strdup (face ? _ ("Side: even tiers") : _ ("Front: odd tiers"));
  if (is_end_face (self, face))
    return g_strdup (_ ("From the end"));
  if (pile->kind == BED_STACK_A_FRAME || pile->kind == BED_STACK_UPRIGHT)
    return g_strdup_printf (_ ("Side %u"), face + 1);
  return g_strdup_printf (_ ("Row %u"), face + 1);
}

/* A point of the stack as seen on that face: the looker stands on the side of the
 * heads, so a row leaning away to the east is seen from the west, mirrored. */
static BedPoint
project (const BedElevation *self, guint face, BedPoint3 point)
{
  const BedPile *pile = self->pile;
  gboolean paired = pile->kind == BED_STACK_A_FRAME || pile->kind == BED_STACK_UPRIGHT;

  if ((is_crib (pile) && face == 1) || is_end_face (self, face))
    return (BedPoint){ point.x, point.z };
  return (BedPoint){ paired && face % 2 == 0 ? -point.y : point.y, point.z };
}

static void
add_end (BedElevation *self, guint bar_index, guint face)
{
  const BedBar *bar = &g_array_index (self->pile->bars, BedBar, bar_index);
  BedLogEnd end = { .bar = bar_index, .face = face, .radius = bar->radius };

  end.middle = project (self, face, bar->head);
  end.foot = project (self, face, bar->foot);
  if (self->pile->kind == BED_STACK_TOTEM) /* others stand on it */
    {
      end.middle.y = (end.middle.y + end.foot.y) / 2;
      end.foot = end.middle;
    }
  g_array_append_val (self->ends, end);
}

/* The face grows to hold what is @radius around @point. */
static void
reach (BedEndFace *face, BedPoint point, double radius)
{
  double right = face->corner.x + face->width;

  if (face->width < 0) /* nothing in it yet */
    face->corner.x = right = point.x;
  face->corner.x = MIN (face->corner.x, point.x - radius);
  face->width = MAX (right, point.x + radius) - face->corner.x;
  face->height = MAX (face->height, point.y + radius);
}

/* Seen from the end of the rows, the first log of each hides the others. */
static gboolean
shows_lengthwise (const BedElevation *self, guint bar, guint face)
{
  const BedBar *bars = (const BedBar *) (gpointer) self->pile->bars->data;

  if (!bars[bar].log)
    return FALSE;
  if (is_crib (self->pile) || self->pile->kind == BED_STACK_TOTEM)
    return TRUE;
  for (guint i = bar; i-- > 0 && bars[i].tier == bars[bar].tier;)
    if (bars[i].log)
      return FALSE;
  return is_end_face (self, face);
}

static void
add_bars (BedElevation *self, guint index, BedEndFace *face)
{
  const BedPile *pile = self->pile;

  for (guint i = 0; i < pile->bars->len; i++)
    {
      const BedBar *bar = &g_array_index (pile->bars, BedBar, i);
      BedLogSide side = { .bar = i, .face = index, .radius = bar->radius };
      gboolean shows = face_of_tier (pile, bar->tier) == index;
      side.from = project (self, index, bar->foot);
      side.to = project (self, index, bar->head);
      gboolean lengthwise = (!shows || pile->kind == BED_STACK_TOTEM)
                            && shows_lengthwise (self, i, index);
      if (shows)
        add_end (self, i, index);
      if (lengthwise)
        g_array_append_val (self->sides, side);
      if (!shows && !lengthwise)
        continue;
      reach (face, side.from, shows || is_leaning (pile) ? bar->radius : 0);
      reach (face, side.to, shows || is_leaning (pile) ? bar->radius : 0);
    }
}

/* Whether a rail is seen on that face: of a leaning row its own, or all from the end. */
static gboolean
shows_rail (const BedElevation *self, const BedRail *rail, guint face)
{
  guint own = rail->tier - 1;

  if (rail->tier == 0 || is_end_face (self, face))
    return TRUE;
  return self->pile->kind == BED_STACK_LEAN_TO ? own == face : own == face / 2 * 2;
}

static void
add_rails (BedElevation *self, guint index, BedEndFace *face)
{
  for (guint i = 0; i < self->pile->rails->len; i++)
    {
      const BedRail *rail = &g_array_index (self->pile->rails, BedRail, i);
      BedLogSide side = { .bar = G_MAXUINT, .face = index, .radius = rail->radius };
      if (!shows_rail (self, rail, index))
        continue;
      side.from = project (self, index, rail->from);
      side.to = project (self, index, rail->to);
      g_array_append_val (self->sides, side);
      reach (face, side.from, 0);
      reach (face, side.to, 0);
    }
}

/* Gives each face its place; returns through @by how far its parts are to move there. */
static void
place_faces (BedElevation *self, BedFacesFlow flow, BedPoint *by)
{
  double x = MARGIN, y = 0;

  for (guint i = self->faces->len; i-- > 0;) /* the first is at the top: the last lies lowest */
    {
      BedEndFace *face = &g_array_index (self->faces, BedEndFace, i);
      by[i] = (BedPoint){ MARGIN - face->corner.x, y + CAPTION + MARGIN };
      if (flow == BED_FACES_DOWN)
        y += face->height + CAPTION + 2 * MARGIN;
      else
        self->height = MAX (self->height, face->height + CAPTION + 2 * MARGIN);
      self->width = MAX (self->width, face->width + 2 * MARGIN);
    }
  for (guint i = 0; flow == BED_FACES_ACROSS && i < self->faces->len; i++)
    {
      BedEndFace *face = &g_array_index (self->faces, BedEndFace, i);
      by[i].x = x - face->corner.x;
      x += face->width + 4 * MARGIN;
      self->width = x - 3 * MARGIN;
    }
  if (flow == BED_FACES_DOWN)
    self->height = y;
}

static void
move_points (BedPoint *a, BedPoint *b, BedPoint by)
{
  a->x += by.x;
  a->y += by.y;
  b->x += by.x;
  b->y += by.y;
}

static void
lay_out (BedElevation *self, BedFacesFlow flow)
{
  g_autofree BedPoint *by = g_new0 (BedPoint, self->faces->len);

  place_faces (self, flow, by);
  for (guint i = 0; i < self->faces->len; i++)
    {
      BedPoint *corner = &g_array_index (self->faces, BedEndFace, i).corner;
      corner->x += by[i].x;
      corner->y += by[i].y;
    }
  for (guint i = 0; i < self->ends->len; i++)
    {
      BedLogEnd *end = bed_elevation_end (self, i);
      move_points (&end->middle, &end->foot, by[end->face]);
    }
  for (guint i = 0; i < self->sides->len; i++)
    {
      BedLogSide *side = &g_array_index (self->sides, BedLogSide, i);
      move_points (&side->from, &side->to, by[side->face]);
    }
}

static void
clear_face (gpointer data)
{
  g_free (((BedEndFace *) data)->caption);
}

BedElevation *
bed_elevation_new (const BedYardStack *stack, BedFacesFlow flow)
{
  BedElevation *self = g_new0 (BedElevation, 1);

  self->pile = bed_pile_new (stack);
  self->faces = g_array_new (FALSE, FALSE, sizeof (BedEndFace));
  g_array_set_clear_func (self->faces, clear_face);
  self->ends = g_array_new (FALSE, FALSE, sizeof (BedLogEnd));
  self->sides = g_array_new (FALSE, FALSE, sizeof (BedLogSide));
  if (flow == BED_FACES_AS_FITS)
    flow = is_crib (self->pile) ? BED_FACES_ACROSS : BED_FACES_DOWN;
  self->n_faces = count_faces (self->pile);
  for (guint i = 0; i < self->n_faces; i++)
    {
      BedEndFace face = { .caption = name_face (self, i), .width = -1 };
      add_rails (self, i, &face);
      add_bars (self, i, &face);
      face.width = MAX (face.width, 0);
      g_array_append_val (self->faces, face);
    }
  lay_out (self, flow);
  return self;
}

void
bed_elevation_free (BedElevation *self)
{
  g_array_unref (self->faces);
  g_array_unref (self->ends);
  g_array_unref (self->sides);
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
  double nearest = G_MAXDOUBLE;
  int found = -1;

  for (guint i = self->ends->len; i-- > 0;)
    {
      const BedLogEnd *end = bed_elevation_end (self, i);
      BedPoint on = bed_point_nearest (point, end->middle, end->foot);
      double far = hypot (point.x - on.x, point.y - on.y);
      if (far > end->radius || far >= nearest)
        continue;
      nearest = far;
      found = (int) i;
    }
  return found;
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
