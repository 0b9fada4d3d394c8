#include "app/yard/yard_view_private.h"

#include <math.h>

#define KNOB_OUT 22.0  /* px */
#define REACH 10.0     /* px */
#define SNAP_REACH 8.0 /* px */
#define CLICK 4.0      /* px: less than this is no drag */

static void
copy_ground (BedGround *to, const BedGround *from)
{
  GArray *before = to->points;

  bed_ground_copy (to, from);
  g_clear_pointer (&before, g_array_unref);
}

/* --- points --------------------------------------------------------------------- */

static BedPoint *
get_point (BedYardView *self, guint i)
{
  return &g_array_index (self->ground.points, BedPoint, i);
}

gboolean
bed_yard_view_is_many (BedYardView *self)
{
  return self->ground.form == BED_GROUND_BAND || self->ground.form == BED_GROUND_POLYGON;
}

/* Where the pointer would set a point down, with what it lines up with. */
static BedPoint
snap (BedYardView *self, BedPoint screen, const BedPoint *before, gint64 but)
{
  BedPoint at = bed_viewport_to_world (&self->view, screen);

  double reach = self->loose ? 0 : SNAP_REACH / self->view.scale;
  BedPointSnap found = { .point = at };

  if (self->hold == BED_HOLD_DRAW && self->square)
    found = bed_square_snap (self->scene, self->ground.points, self->n_set, at, reach);
  else if (!self->loose)
    found = bed_snap_point (self->scene, at, before, but, reach);
  self->n_lines = found.n_lines;
  memcpy (self->lines, found.lines, sizeof self->lines);
  return found.point;
}

/* --- what is in the hand is shown ------------------------------------------------ */

/* The outline is no feature: it is drawn by its corners alone. */
void
bed_yard_view_sketch_ground (BedYardView *self)
{
  g_clear_pointer (&self->sketch, bed_scene_free);
  g_clear_pointer (&self->sketch_yard, bed_yard_free);
  if (self->drawn_kind < BED_DRAW_OUTLINE)
    {
      BedYardFeature *feature = bed_yard_feature_new (self->drawn_kind);
      copy_ground (&feature->ground, &self->ground);
      self->sketch_yard = bed_yard_new (self->yard->width, self->yard->depth);
      g_ptr_array_add (self->sketch_yard->features, feature);
      self->sketch = bed_scene_new (self->sketch_yard);
    }
  bed_yard_view_hand_changed (self);
}

/* --- drawing -------------------------------------------------------------------- */

static void
begin_at (BedYardView *self, BedPoint at)
{
  if (self->drawn_kind < BED_DRAW_OUTLINE)
    bed_ground_set_usual (&self->ground, self->drawn_kind, at);
  else
    {
      self->ground.form = BED_GROUND_POLYGON;
      g_array_set_size (self->ground.points, 0);
      g_array_append_val (self->ground.points, at);
    }
}

void
bed_yard_view_draw_thing (BedYardView *self, guint kind)
{
  g_return_if_fail (BED_IS_YARD_VIEW (self));
  g_return_if_fail (kind <= BED_DRAW_SQUARE_OUTLINE);
  if (!self->yard || self->mode == BED_YARD_LOOK)
    return;
  bed_yard_view_let_go (self);
  self->hold = BED_HOLD_DRAW;
  self->drawn_kind = MIN (kind, BED_DRAW_OUTLINE);
  self->square = kind == BED_DRAW_SQUARE_OUTLINE;
  self->n_set = 0;
  self->pointer_seen = self->again = FALSE;
  begin_at (self, self->view.middle);
  bed_yard_view_sketch_ground (self);
  gtk_widget_grab_focus (GTK_WIDGET (self));
}

/* From one corner to the other, or from the middle to the rim. */
static void
size_to (BedYardView *self, BedPoint at)
{
  BedPoint from = bed_viewport_to_world (&self->view, self->grip);

  if (self->ground.form == BED_GROUND_DISC)
    self->ground.radius = hypot (at.x - from.x, at.y - from.y);
  else if (self->ground.form == BED_GROUND_BOX)
    {
      *get_point (self, 0) = (BedPoint){ (from.x + at.x) / 2, (from.y + at.y) / 2 };
      self->ground.width = fabs (at.x - from.x);
      self->ground.depth = fabs (at.y - from.y);
      self->ground.turn = 0;
    }
  else
    *get_point (self, 0) = at;
}

void
bed_yard_view_draw_to (BedYardView *self, BedPoint screen)
{
  gboolean many = bed_yard_view_is_many (self);
  const BedPoint *before = many && self->n_set > 0 ? get_point (self, self->n_set - 1) : NULL;
  BedPoint at = snap (self, screen, before, -1);

  if (many)
    *get_point (self, self->n_set) = at;
  else if (self->pressed && hypot (screen.x - self->grip.x, screen.y - self->grip.y) >= CLICK)
    size_to (self, at);
  else if (!self->pressed)
    *get_point (self, 0) = at;
  bed_yard_view_sketch_ground (self);
}

void
bed_yard_view_set_point (BedYardView *self)
{
  BedPoint last = *get_point (self, self->n_set);

  self->n_set++;
  g_array_append_val (self->ground.points, last);
  bed_yard_view_sketch_ground (self);
}

gboolean
bed_yard_view_is_square_side (BedYardView *self)
{
  return self->hold == BED_HOLD_DRAW && self->square && self->n_set >= 2;
}

/* By the keys: the next point, or all of what is no line of points. */
void
bed_yard_view_nudge_drawn (BedYardView *self, BedPoint by, double turn)
{
  BedPoint *at = get_point (self, bed_yard_view_is_many (self) ? self->n_set : 0);

  at->x += by.x;
  at->y += by.y;
  if (bed_yard_view_is_square_side (self))
    *at = bed_square_snap (self->scene, self->ground.points, self->n_set, *at, 0).point;
  if (self->ground.form == BED_GROUND_BOX)
    self->ground.turn = bed_turn_normal (self->ground.turn + turn);
  self->n_lines = 0;
  bed_yard_view_sketch_ground (self);
}

gboolean
bed_yard_view_unset_point (BedYardView *self)
{
  if (self->hold != BED_HOLD_DRAW || self->n_set == 0)
    return FALSE;
  self->n_set--;
  g_array_remove_index (self->ground.points, self->n_set);
  bed_yard_view_sketch_ground (self);
  return TRUE;
}

/* The pointer's press begins at the point things line up with, not where it shook. */
void
bed_yard_view_draw_press (BedYardView *self, BedPoint screen)
{
  bed_yard_view_draw_to (self, screen);
  if (bed_yard_view_is_many (self))
    {
      bed_yard_view_set_point (self);
      return;
    }
  self->grip = bed_viewport_to_screen (&self->view, *get_point (self, 0));
  self->pressed = TRUE;
}

void
bed_yard_view_draw_release (BedYardView *self)
{
  if (bed_yard_view_is_many (self) || !self->pressed)
    return;
  self->pressed = FALSE;
  bed_yard_view_end_drawing (self);
}

/* A point set twice is one. */
GArray *
bed_yard_view_dup_points (BedYardView *self)
{
  GArray *points = g_array_copy (self->ground.points);

  for (guint i = points->len; i-- > 1;)
    {
      BedPoint a = g_array_index (points, BedPoint, i), b = g_array_index (points, BedPoint, i - 1);
      if (hypot (a.x - b.x, a.y - b.y) < 0.001)
        g_array_remove_index (points, i);
    }
  if (self->square)
    bed_square_close (points);
  return points;
}

/* What follows the pointer is no point of it. Whether enough is left. */
static gboolean
finish_points (BedYardView *self)
{
  if (!bed_yard_view_is_many (self) || self->hold == BED_HOLD_SHAPE)
    return TRUE;
  g_array_set_size (self->ground.points, self->n_set);
  GArray *points = bed_yard_view_dup_points (self);
  g_array_unref (self->ground.points);
  self->ground.points = points;
  return self->ground.points->len >= (self->ground.form == BED_GROUND_BAND ? 2 : 3);
}

/* The hand is empty before anyone hears of what was in it. */
void
bed_yard_view_end_drawing (BedYardView *self)
{
  BedGround ground = { .points = NULL };
  gboolean draws = self->hold == BED_HOLD_DRAW, again = self->again,
           is_whole = finish_points (self);
  guint kind = self->drawn_kind;

  copy_ground (&ground, &self->ground);
  bed_yard_view_empty_hand (self);
  if (draws && is_whole)
    g_signal_emit_by_name (self, "drawn", kind, &ground);
  else if (is_whole)
    g_signal_emit_by_name (self, "shaped", self->shaped, &ground);
  g_array_unref (ground.points);
  if (draws && is_whole && again && kind < BED_DRAW_OUTLINE)
    bed_yard_view_draw_thing (self, kind);
}

/* --- handles -------------------------------------------------------------------- */

static gint64
get_chosen_feature (BedYardView *self)
{
  BedThing one = bed_things_get_only (self->chosen);

  return one.kind == BED_THING_FEATURE ? one.id : 0;
}

GArray *
bed_yard_view_list_handles (BedYardView *self, gint64 *of)
{
  BedGround ground;

  *of = get_chosen_feature (self);
  if (!self->yard || self->mode == BED_YARD_LOOK
      || !bed_feature_get_ground (self->yard, *of, &ground))
    return NULL;
  return bed_handle_list (&ground, KNOB_OUT / self->view.scale);
}

static gboolean
find_among (BedYardView *self, gint64 of, BedPoint at)
{
  BedGround ground;

  if (!bed_feature_get_ground (self->yard, of, &ground))
    return FALSE;
  g_autoptr (GArray) handles = bed_handle_list (&ground, KNOB_OUT / self->view.scale);
  int found = bed_handle_hit (handles, at, REACH / self->view.scale);
  if (found < 0)
    return FALSE;
  self->handle = g_array_index (handles, BedHandle, (guint) found);
  self->handle_of = of;
  return TRUE;
}

/* Those of what is chosen go before all; the outline's are behind what stands there. */
gboolean
bed_yard_view_find_handle (BedYardView *self, BedPoint screen)
{
  BedPoint at = bed_viewport_to_world (&self->view, screen);
  gint64 chosen = get_chosen_feature (self);

  if (!self->scene || self->mode == BED_YARD_LOOK)
    return FALSE;
  if (chosen && find_among (self, chosen, at))
    return TRUE;
  BedThing over = bed_things_hit (self->scene, at, 0);
  if (over.id && over.kind == BED_THING_STACK)
    return FALSE;
  return find_among (self, 0, at);
}

void
bed_yard_view_take_handle (BedYardView *self)
{
  BedGround ground;

  if (!bed_feature_get_ground (self->yard, self->handle_of, &ground))
    return;
  const BedYardFeature *feature
      = self->handle_of ? bed_yard_find_feature (self->yard, self->handle_of, NULL) : NULL;
  copy_ground (&self->ground, &ground);
  copy_ground (&self->from, &ground);
  self->hold = BED_HOLD_SHAPE;
  self->shaped = self->handle_of;
  self->drawn_kind = feature ? feature->kind : BED_DRAW_OUTLINE;
}

/* From how it was each time, so that the hand may come back. */
void
bed_yard_view_drag_handle (BedYardView *self, BedPoint screen, BedAngles angles)
{
  BedPoint at = self->handle.kind == BED_HANDLE_TURN ? bed_viewport_to_world (&self->view, screen)
                                                     : snap (self, screen, NULL, self->shaped);
  double step = 5 * G_PI / 180;

  copy_ground (&self->ground, &self->from);
  bed_handle_drag (&self->ground, &self->handle, at, angles);
  if (self->handle.kind == BED_HANDLE_TURN && !self->loose)
    self->ground.turn = round (self->ground.turn / step) * step;
  bed_yard_view_sketch_ground (self);
}
