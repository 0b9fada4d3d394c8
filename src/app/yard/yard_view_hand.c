#include "app/yard/yard_view_private.h"

#include <math.h>

#define SNAP_REACH 8.0 /* px */

/* Nudges this near to one another are one move. */
#define NUDGE_PAUSE 700 /* ms */

/* A neighbour farther than this is not spoken of, metres. */
#define NEAR 10.0

/* --- what is held --------------------------------------------------------------- */

const BedScene *
bed_yard_view_hand_scene (BedYardView *self)
{
  return self->new_scene ? self->new_scene : self->scene;
}

static gboolean
is_carrying (BedYardView *self)
{
  return self->hold == BED_HOLD_THINGS || self->hold == BED_HOLD_HANDLE;
}

int
bed_yard_view_gripped_stack (BedYardView *self)
{
  if (self->hold == BED_HOLD_KIND)
    return (int) self->new_yard->stacks->len - 1;
  if (!is_carrying (self) || self->gripped.kind != BED_KIND_STACK)
    return -1;
  return bed_yard_view_find (self, self->gripped.id);
}

gboolean
bed_yard_view_is_held (BedYardView *self, const BedYardThing *thing)
{
  if (self->hold == BED_HOLD_KIND)
    return thing->kind == BED_KIND_STACK && thing->id == 0;
  return is_carrying (self) && bed_things_find (self->chosen, thing) >= 0;
}

BedYardCarried
bed_yard_view_get_carried (BedYardView *self)
{
  return (BedYardCarried){ self->chosen, self->by, self->pivot, self->turn };
}

BedPose
bed_yard_carried_pose (const BedYardCarried *carried, const BedPose *pose)
{
  double x = pose->x - carried->pivot.x, y = pose->y - carried->pivot.y;
  double c = cos (carried->turn), s = sin (carried->turn);

  return (BedPose){ carried->pivot.x + carried->by.x + x * c - y * s,
                    carried->pivot.y + carried->by.y + x * s + y * c,
                    bed_turn_normal (pose->turn + carried->turn) };
}

BedPose
bed_yard_view_pose (BedYardView *self, guint index)
{
  const BedYardStack *stack = bed_yard_view_hand_scene (self)->yard->stacks->pdata[index];
  BedYardThing thing = { BED_KIND_STACK, stack->id };
  BedYardCarried carried = bed_yard_view_get_carried (self);

  return bed_yard_view_is_held (self, &thing) ? bed_yard_carried_pose (&carried, &stack->pose)
                                              : stack->pose;
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

/* Nothing in the hand, without a word of what was. */
static void
empty_hand (BedYardView *self)
{
  if (self->hold == BED_HOLD_CORNER)
    bed_yard_view_carry_corner (self, self->corner_from);
  stop_nudging (self);
  g_clear_pointer (&self->new_scene, bed_scene_free);
  g_clear_pointer (&self->new_yard, bed_yard_free);
  g_clear_object (&self->picture);
  self->hold = BED_HOLD_NOTHING;
  self->by = (BedPoint){ 0, 0 };
  self->turn = 0;
  self->beside = -1;
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
  BedExtent extent = bed_things_extent (self->index, self->chosen);
  return (BedPoint){ extent.x + extent.width / 2, extent.y + extent.height / 2 };
}

void
bed_yard_view_take_up (BedYardView *self, BedYardHold hold, const BedYardThing *gripped)
{
  self->hold = hold;
  self->gripped = *gripped;
  self->by = (BedPoint){ 0, 0 };
  self->turn = 0;
  self->beside = -1;
  self->pivot = find_pivot (self);
  bed_yard_view_take_picture (self);
}

static gboolean
has_moved (const BedYardCarried *carried)
{
  return fabs (carried->by.x) > 1e-6 || fabs (carried->by.y) > 1e-6 || fabs (carried->turn) > 1e-6;
}

static void
set_new_down (BedYardView *self)
{
  guint kind = self->kind;
  BedPose pose = bed_yard_view_pose (self, (guint) bed_yard_view_gripped_stack (self));

  empty_hand (self);
  g_signal_emit_by_name (self, "built", kind, &pose);
}

static void
set_corner_down (BedYardView *self)
{
  const BedPoint *point = bed_corner_get_point (self->yard, &self->corner);
  BedPoint to = point ? *point : self->corner_from;
  BedCorner corner = self->corner;
  gboolean moved = to.x != self->corner_from.x || to.y != self->corner_from.y;

  empty_hand (self);
  if (moved)
    g_signal_emit_by_name (self, "shaped", &corner, &to);
}

/* The hand is empty before anyone hears of what it held: they may show another yard. */
void
bed_yard_view_set_down (BedYardView *self)
{
  BedYardCarried carried = bed_yard_view_get_carried (self);
  g_autoptr (GArray) things = NULL;

  if (self->hold == BED_HOLD_KIND)
    {
      set_new_down (self);
      return;
    }
  if (self->hold == BED_HOLD_CORNER)
    {
      set_corner_down (self);
      return;
    }
  if (!is_carrying (self))
    return;
  carried.things = things = g_array_copy (self->chosen);
  empty_hand (self);
  if (has_moved (&carried))
    g_signal_emit_by_name (self, "carried", &carried);
}

/* --- carrying ------------------------------------------------------------------- */

/* By @by, lined up with what is near the gripped stack, and all others with it. */
void
bed_yard_view_carry (BedYardView *self, BedPoint by)
{
  int gripped = bed_yard_view_gripped_stack (self);

  self->by = by;
  self->beside = -1;
  if (gripped < 0)
    {
      double grid = bed_yard_view_grid (self);
      self->by = (BedPoint){ round (by.x / grid) * grid, round (by.y / grid) * grid };
    }
  else
    {
      BedPose wanted = bed_yard_view_pose (self, (guint) gripped);
      BedSnap snap = bed_yard_snap (bed_yard_view_hand_scene (self), (guint) gripped, &wanted,
                                    SNAP_REACH / self->view.scale);
      gboolean among
          = snap.neighbour >= 0 && self->hold != BED_HOLD_KIND
            && bed_things_find (
                   self->chosen,
                   &(BedYardThing){
                       BED_KIND_STACK,
                       ((BedYardStack *) self->yard->stacks->pdata[snap.neighbour])->id })
                   >= 0;
      /* What is carried too is no neighbour: it goes along. */
      if (!among)
        {
          self->by.x += snap.pose.x - wanted.x;
          self->by.y += snap.pose.y - wanted.y;
          if (self->hold == BED_HOLD_KIND || self->chosen->len == 1)
            self->turn = bed_turn_normal (self->turn + snap.pose.turn - wanted.turn);
          self->beside = snap.neighbour;
        }
    }
  bed_yard_view_hand_changed (self);
}

void
bed_yard_view_carry_to (BedYardView *self, BedPoint screen)
{
  BedPoint at = bed_viewport_to_world (&self->view, screen);

  bed_yard_view_carry (self, (BedPoint){ at.x - self->pivot.x, at.y - self->pivot.y });
}

void
bed_yard_view_turn_to (BedYardView *self, BedPoint screen)
{
  BedPoint at = bed_viewport_to_world (&self->view, screen);
  int gripped = bed_yard_view_gripped_stack (self);
  double step = 5 * G_PI / 180;

  if (gripped < 0)
    return;
  const BedYardStack *stack = self->yard->stacks->pdata[gripped];
  double turn = atan2 (at.y - self->pivot.y, at.x - self->pivot.x);
  self->turn = bed_turn_normal (round (turn / step) * step - stack->pose.turn);
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

void
bed_yard_view_nudge (BedYardView *self, BedPoint by, double turn)
{
  if (self->hold != BED_HOLD_KIND)
    {
      if (self->chosen->len == 0 || self->mode == BED_YARD_LOOK)
        return;
      if (!is_carrying (self))
        bed_yard_view_take_up (self, BED_HOLD_THINGS,
                               &g_array_index (self->chosen, BedYardThing, 0));
      stop_nudging (self);
      self->nudge_source = g_timeout_add (NUDGE_PAUSE, nudge_pause_cb, self);
    }
  self->by.x += by.x;
  self->by.y += by.y;
  self->turn = bed_turn_normal (self->turn + turn);
  bed_yard_view_hand_changed (self);
}

/* The corner in the hand is shown at @to; the record of it changes when it is set down. */
void
bed_yard_view_carry_corner (BedYardView *self, BedPoint to)
{
  BedPoint *point = bed_corner_get_point (self->yard, &self->corner);

  if (!point)
    return;
  *point = to;
  bed_yard_view_show_changes (self);
}

/* --- public --------------------------------------------------------------------- */

void
bed_yard_view_let_go (BedYardView *self)
{
  g_return_if_fail (BED_IS_YARD_VIEW (self));
  if (self->hold != BED_HOLD_NOTHING)
    empty_hand (self);
}

static void
measure_neighbour (BedYardView *self, BedYardHand *hand, guint stack)
{
  const BedScene *scene = bed_yard_view_hand_scene (self);
  BedMeasurement found;
  int other = bed_yard_nearest (scene, stack, &hand->pose, &found);

  if (other < 0 || found.distance > NEAR)
    return;
  hand->distance = found.distance;
  hand->neighbour = ((BedYardStack *) scene->yard->stacks->pdata[other])->name;
}

void
bed_yard_view_get_hand (BedYardView *self, BedYardHand *hand)
{
  g_return_if_fail (BED_IS_YARD_VIEW (self));
  int stack = bed_yard_view_gripped_stack (self);

  *hand = (BedYardHand){
    .n = self->chosen->len, .kind = self->kind, .distance = -1, .by = self->by, .turn = self->turn
  };
  if (self->hold == BED_HOLD_KIND)
    hand->state = BED_HAND_NEW_STACK;
  else if (is_carrying (self))
    hand->state = BED_HAND_CARRIES;
  else if (hand->n > 0)
    hand->state = BED_HAND_CHOSEN;
  if (hand->n == 1)
    hand->thing = g_array_index (self->chosen, BedYardThing, 0);
  if (stack < 0)
    stack = bed_yard_view_find (self, bed_yard_view_get_selected (self));
  if (stack < 0)
    return;
  hand->pose = bed_yard_view_pose (self, (guint) stack);
  measure_neighbour (self, hand, (guint) stack);
}

void
bed_yard_view_set_pose (BedYardView *self, const BedPose *pose)
{
  g_return_if_fail (BED_IS_YARD_VIEW (self));
  int one = bed_yard_view_find (self, bed_yard_view_get_selected (self));
  double from = 0;

  if (self->hold != BED_HOLD_KIND)
    {
      if (one < 0 || self->mode == BED_YARD_LOOK)
        return;
      bed_yard_view_take_up (self, BED_HOLD_THINGS, &g_array_index (self->chosen, BedYardThing, 0));
      from = ((BedYardStack *) self->yard->stacks->pdata[one])->pose.turn;
    }
  self->by = (BedPoint){ pose->x - self->pivot.x, pose->y - self->pivot.y };
  self->turn = bed_turn_normal (pose->turn - from);
  bed_yard_view_set_down (self);
}

void
bed_yard_view_set_moved (BedYardView *self, BedPoint by, double turn)
{
  g_return_if_fail (BED_IS_YARD_VIEW (self));
  if (self->chosen->len == 0 || self->mode == BED_YARD_LOOK)
    return;
  bed_yard_view_take_up (self, BED_HOLD_THINGS, &g_array_index (self->chosen, BedYardThing, 0));
  self->by = by;
  self->turn = bed_turn_normal (turn);
  bed_yard_view_set_down (self);
}

/* The new stack is the last of a yard of its own that has the others to line up with. */
static void
make_new_scene (BedYardView *self, BedStackKind kind)
{
  self->new_yard = bed_yard_new (self->yard->width, self->yard->depth);
  for (guint i = 0; i < self->yard->stacks->len; i++)
    {
      const BedYardStack *there = self->yard->stacks->pdata[i];
      BedYardStack *copy = bed_yard_stack_new (there->kind);
      copy->id = there->id;
      copy->name = g_strdup (there->name);
      copy->pose = there->pose;
      copy->tiers = there->tiers;
      copy->per_tier = there->per_tier;
      g_ptr_array_add (self->new_yard->stacks, copy);
    }
  g_ptr_array_add (self->new_yard->stacks, bed_yard_stack_new (kind));
  self->new_scene = bed_scene_new (self->new_yard);
  self->new_scene->grid = self->scene->grid;
}

void
bed_yard_view_place (BedYardView *self, BedStackKind kind)
{
  g_return_if_fail (BED_IS_YARD_VIEW (self));
  g_return_if_fail (kind < BED_N_STACKS);
  if (!self->yard || self->mode == BED_YARD_LOOK)
    return;
  bed_yard_view_let_go (self);
  make_new_scene (self, kind);
  self->hold = BED_HOLD_KIND;
  self->kind = kind;
  self->pivot = (BedPoint){ 0, 0 };
  self->pointer_seen = FALSE;
  bed_yard_view_take_picture (self);
  bed_yard_view_carry (self, self->view.middle);
  gtk_widget_grab_focus (GTK_WIDGET (self));
}
