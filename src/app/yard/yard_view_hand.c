#include "app/yard/yard_view_private.h"

#include <math.h>

#define SNAP_REACH 8.0 /* px */
#define TURN_STEP (5 * G_PI / 180)

/* Nudges this near to one another are one move. */
#define NUDGE_PAUSE 700 /* ms */

/* --- what is held --------------------------------------------------------------- */

static gboolean
is_carrying (BedYardView *self)
{
  return self->hold == BED_HOLD_THINGS || self->hold == BED_HOLD_KNOB;
}

gboolean
bed_yard_view_has_new (BedYardView *self)
{
  return self->hold == BED_HOLD_KIND || self->hold == BED_HOLD_DRAW
         || self->hold == BED_HOLD_MEASURE;
}

gboolean
bed_yard_view_is_held (BedYardView *self, const BedThing *thing)
{
  return is_carrying (self) && bed_things_find (self->chosen, thing) >= 0;
}

BedPose
bed_yard_view_pose (BedYardView *self, const BedYardStack *stack)
{
  BedThing thing = { BED_THING_STACK, stack->id };
  gboolean held = self->hold == BED_HOLD_KIND ? stack->id == 0
                                              : bed_yard_view_is_held (self, &thing);

  return held ? bed_motion_pose (&self->motion, &stack->pose) : stack->pose;
}

void
bed_yard_view_hand_changed (BedYardView *self)
{
  gtk_widget_queue_draw (GTK_WIDGET (self));
  g_signal_emit_by_name (self, "hand");
}

static void
stop_nudging (BedYardView *self)
{
  g_clear_handle_id (&self->nudge_source, g_source_remove);
}

void
bed_yard_view_empty_hand (BedYardView *self)
{
  stop_nudging (self);
  g_clear_pointer (&self->sketch, bed_scene_free);
  g_clear_pointer (&self->sketch_yard, bed_yard_free);
  g_clear_object (&self->picture);
  self->hold = BED_HOLD_NOTHING;
  self->motion = (BedMotion){ 0 };
  self->n_lines = 0;
  self->pressed = self->square = FALSE;
  bed_yard_view_hand_changed (self);
}

/* Of one stack its own place, so that it turns in it; of several things the middle of them all. */
static BedPoint
find_pivot (BedYardView *self)
{
  int one = bed_yard_view_find (self, bed_yard_view_get_selected (self));

  if (one >= 0)
    {
      const BedYardStack *stack = self->yard->stacks->pdata[one];
      return (BedPoint){ stack->pose.x, stack->pose.y };
    }
  BedExtent extent = bed_group_extent (self->scene, self->chosen);
  return (BedPoint){ extent.x + extent.width / 2, extent.y + extent.height / 2 };
}

void
bed_yard_view_take_up (BedYardView *self, BedYardHold hold, const BedThing *gripped)
{
  self->hold = hold;
  self->gripped = *gripped;
  self->motion = (BedMotion){ .about = find_pivot (self) };
  self->n_lines = 0;
  bed_yard_view_take_picture (self);
}

static gboolean
has_moved (const BedMotion *motion)
{
  return fabs (motion->by.x) > 1e-6 || fabs (motion->by.y) > 1e-6 || fabs (motion->turn) > 1e-6;
}

static void
set_new_down (BedYardView *self)
{
  guint kind = self->kind;
  BedPose pose = bed_yard_view_pose (self, self->sketch_yard->stacks->pdata[0]);
  gboolean again = self->again;

  bed_yard_view_empty_hand (self);
  g_signal_emit_by_name (self, "built", kind, &pose);
  if (again)
    bed_yard_view_place (self, kind);
}

/* The hand is empty before anyone hears of what it held: they may show another yard. */
void
bed_yard_view_set_down (BedYardView *self)
{
  BedMotion motion = self->motion;

  if (self->hold == BED_HOLD_KIND)
    {
      set_new_down (self);
      return;
    }
  if (self->hold == BED_HOLD_DRAW || self->hold == BED_HOLD_SHAPE)
    {
      bed_yard_view_end_drawing (self);
      return;
    }
  if (!is_carrying (self))
    return;
  bed_yard_view_empty_hand (self);
  if (has_moved (&motion))
    g_signal_emit_by_name (self, "carried", &motion);
}

/* --- carrying ------------------------------------------------------------------- */

/* What is lined up: a stack by its footprint, of all else the box around it. */
static BedSnapBody
find_body (BedYardView *self)
{
  const BedScene *scene = self->hold == BED_HOLD_KIND ? self->sketch : self->scene;
  int at = self->hold == BED_HOLD_KIND             ? 0
           : self->gripped.kind == BED_THING_STACK ? bed_yard_view_find (self, self->gripped.id)
                                                   : -1;
  gboolean alone = self->hold == BED_HOLD_KIND || self->chosen->len == 1;
  BedSnapBody body = { .but = self->hold == BED_HOLD_KIND ? NULL : self->chosen };

  if (at >= 0)
    {
      const BedPile *pile = scene->piles->pdata[at];
      body.pose = bed_yard_view_pose (self, scene->yard->stacks->pdata[at]);
      body.width = pile->length;
      body.depth = pile->width;
      body.turn_step = alone ? TURN_STEP : 0;
      return body;
    }
  const BedShape *shape = bed_thing_find_shape (self->index, &self->gripped);
  BedExtent extent = shape ? bed_shape_extent (shape) : (BedExtent){ 0 };
  body.pose = bed_motion_pose (
      &self->motion, &(BedPose){ extent.x + extent.width / 2, extent.y + extent.height / 2, 0 });
  body.pose.turn = 0;
  body.width = extent.width;
  body.depth = extent.height;
  return body;
}

/* By @by, lined up with what is near what is gripped, and all others with it. */
void
bed_yard_view_carry (BedYardView *self, BedPoint by)
{
  self->motion.by = by;
  self->n_lines = 0;
  if (!self->loose)
    {
      BedSnapBody body = find_body (self);
      BedSnap snap = bed_snap_body (self->scene, &body, SNAP_REACH / self->view.scale);
      self->motion.by.x += snap.pose.x - body.pose.x;
      self->motion.by.y += snap.pose.y - body.pose.y;
      if (body.turn_step > 0)
        self->motion.turn = bed_turn_normal (self->motion.turn + snap.pose.turn - body.pose.turn);
      self->n_lines = snap.n_lines;
      memcpy (self->lines, snap.lines, sizeof self->lines);
    }
  bed_yard_view_hand_changed (self);
}

void
bed_yard_view_carry_to (BedYardView *self, BedPoint screen)
{
  BedPoint at = bed_viewport_to_world (&self->view, screen);

  bed_yard_view_carry (self,
                       (BedPoint){ at.x - self->motion.about.x, at.y - self->motion.about.y });
}

void
bed_yard_view_turn_to (BedYardView *self, BedPoint screen)
{
  BedPoint at = bed_viewport_to_world (&self->view, screen), about = self->motion.about;
  int index = bed_yard_view_find (self, self->gripped.id);

  if (index < 0)
    return;
  const BedYardStack *stack = self->yard->stacks->pdata[index];
  double turn = atan2 (at.y - about.y, at.x - about.x);
  if (!self->loose)
    turn = round (turn / TURN_STEP) * TURN_STEP;
  self->motion.turn = bed_turn_normal (turn - stack->pose.turn);
  bed_yard_view_hand_changed (self);
}

static gboolean
nudge_pause_cb (gpointer data)
{
  BedYardView *self = data;

  self->nudge_source = 0;
  bed_yard_view_set_down (self);
  return G_SOURCE_REMOVE;
}

static void
wait_to_set_down (BedYardView *self)
{
  stop_nudging (self);
  self->nudge_source = g_timeout_add (NUDGE_PAUSE, nudge_pause_cb, self);
}

void
bed_yard_view_nudge (BedYardView *self, BedPoint by, double turn)
{
  if (self->hold != BED_HOLD_KIND)
    {
      if (self->chosen->len == 0 || self->mode == BED_YARD_LOOK)
        return;
      if (!is_carrying (self))
        bed_yard_view_take_up (self, BED_HOLD_THINGS, &g_array_index (self->chosen, BedThing, 0));
      wait_to_set_down (self);
    }
  self->motion.by.x += by.x;
  self->motion.by.y += by.y;
  self->motion.turn = bed_turn_normal (self->motion.turn + turn);
  self->n_lines = 0;
  bed_yard_view_hand_changed (self);
}

/* --- public --------------------------------------------------------------------- */

void
bed_yard_view_let_go (BedYardView *self)
{
  g_return_if_fail (BED_IS_YARD_VIEW (self));
  if (self->hold != BED_HOLD_NOTHING)
    bed_yard_view_empty_hand (self);
}

void
bed_yard_view_place (BedYardView *self, BedStackKind kind)
{
  g_return_if_fail (BED_IS_YARD_VIEW (self));
  g_return_if_fail (kind < BED_N_STACKS);
  if (!self->yard || self->mode == BED_YARD_LOOK)
    return;
  bed_yard_view_let_go (self);
  self->sketch_yard = bed_yard_new (self->yard->width, self->yard->depth);
  g_ptr_array_add (self->sketch_yard->stacks, bed_yard_stack_new (kind));
  self->sketch = bed_scene_new (self->sketch_yard);
  self->hold = BED_HOLD_KIND;
  self->kind = kind;
  self->motion = (BedMotion){ 0 };
  self->pointer_seen = self->again = FALSE;
  bed_yard_view_take_picture (self);
  bed_yard_view_carry (self, self->view.middle);
  gtk_widget_grab_focus (GTK_WIDGET (self));
}

void
bed_yard_view_take_tape (BedYardView *self)
{
  g_return_if_fail (BED_IS_YARD_VIEW (self));
  if (!self->yard)
    return;
  bed_yard_view_let_go (self);
  self->hold = BED_HOLD_MEASURE;
  self->grip = self->band_to = (BedPoint){ 0, 0 };
  bed_yard_view_hand_changed (self);
  gtk_widget_grab_focus (GTK_WIDGET (self));
}
