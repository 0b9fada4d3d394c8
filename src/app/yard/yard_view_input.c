#include "app/yard/yard_view_private.h"

#include <math.h>

#define HANDLE_REACH 10.0 /* px */
#define HIT_SLACK 4.0     /* px */
#define CLICK 4.0         /* px: less than this is no drag */
#define SNAP_REACH 8.0    /* px */
#define CORNER_REACH 8.0  /* px */
#define NUDGE_FAR 10      /* steps of the grid, with Shift */
#define TURN_STEP (15 * G_PI / 180)
#define ZOOM_STEP 1.2

/* Nudges this near to one another are one move. */
#define NUDGE_PAUSE 700 /* ms */

/* --- the hand ------------------------------------------------------------------- */

static double
to_metres (BedYardView *self, double pixels)
{
  return pixels / self->view.scale;
}

static BedPoint
to_world (BedYardView *self, double x, double y)
{
  return bed_viewport_to_world (&self->view, (BedPoint){ x, y });
}

/* The record of stack @index; 0 for none (-1). */
static gint64
get_id (BedYardView *self, int index)
{
  return index < 0 ? 0 : ((BedYardStack *) self->yard->stacks->pdata[index])->id;
}

static gboolean
is_same_pose (const BedPose *a, const BedPose *b)
{
  return fabs (a->x - b->x) < 1e-6 && fabs (a->y - b->y) < 1e-6 && fabs (a->turn - b->turn) < 1e-6;
}

static void
take_up (BedYardView *self, BedYardHold hold, int index)
{
  const BedYardStack *stack = self->yard->stacks->pdata[index];

  self->hold = hold;
  self->moving = index;
  self->pose = self->from = stack->pose;
  self->beside = -1;
}

/* The corner in the hand is shown at @to; the record of it changes when it is set down. */
static void
carry_corner (BedYardView *self, BedPoint to)
{
  BedPoint *point = bed_corner_get_point (self->yard, &self->corner);

  if (point)
    *point = to;
  bed_yard_view_ground_changed (self);
}

/* Nothing in the hand, without a word. */
static void
empty_hand (BedYardView *self)
{
  if (self->hold == BED_HOLD_CORNER)
    carry_corner (self, self->corner_from);
  g_clear_handle_id (&self->nudge_source, g_source_remove);
  g_clear_pointer (&self->new_scene, bed_scene_free);
  g_clear_pointer (&self->new_yard, bed_yard_free);
  self->hold = BED_HOLD_NOTHING;
  self->moving = self->beside = -1;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/* Sets down what is in the hand, with its signal. */
static void
set_down (BedYardView *self)
{
  BedPose pose = self->pose, from = self->from;
  BedYardHold hold = self->hold;
  guint kind = self->kind;
  gint64 id = 0;

  if (hold == BED_HOLD_STACK || hold == BED_HOLD_HANDLE)
    id = get_id (self, self->moving);
  /* The hand is empty before anyone hears of it: they may show another yard. */
  empty_hand (self);
  if (hold == BED_HOLD_KIND)
    g_signal_emit_by_name (self, "built", kind, &pose);
  else if (id && !is_same_pose (&pose, &from))
    g_signal_emit_by_name (self, "moved", id, &pose);
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

static void
carry (BedYardView *self, const BedPose *wanted)
{
  BedSnap snap = bed_yard_snap (bed_yard_view_hand_scene (self), (guint) self->moving, wanted,
                                to_metres (self, SNAP_REACH));

  self->pose = snap.pose;
  self->beside = snap.neighbour;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
carry_to_pointer (BedYardView *self)
{
  BedPoint at = to_world (self, self->pointer.x, self->pointer.y);

  carry (self, &(BedPose){ at.x, at.y, self->pose.turn });
}

static void
turn_to (BedYardView *self, double x, double y)
{
  BedPoint at = to_world (self, x, y);
  double turn = atan2 (at.y - self->from.y, at.x - self->from.x);
  BedSnap snap = bed_yard_snap (self->scene, (guint) self->moving,
                                &(BedPose){ self->from.x, self->from.y, turn }, 0);

  self->pose.turn = snap.pose.turn; /* the place stays */
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/* --- pointer -------------------------------------------------------------------- */

static int
hit (BedYardView *self, double x, double y)
{
  return self->scene
             ? bed_yard_hit (self->scene, to_world (self, x, y), to_metres (self, HIT_SLACK))
             : -1;
}

static gboolean
is_on_handle (BedYardView *self, double x, double y)
{
  BedPoint handle;

  return bed_yard_view_handle (self, &handle) && hypot (handle.x - x, handle.y - y) <= HANDLE_REACH;
}

/* Finds the corner under the pointer, where no stack lies over it. */
static void
point_at (BedYardView *self, double x, double y)
{
  gboolean on = self->scene && self->mode == BED_YARD_CHANGE && hit (self, x, y) < 0
                && bed_corner_hit (self->yard, to_world (self, x, y),
                                   to_metres (self, CORNER_REACH), &self->corner);

  if (on || self->on_corner)
    gtk_widget_queue_draw (GTK_WIDGET (self));
  self->on_corner = on;
}

static void
drag_begin_cb (BedYardView *self, double x, double y, GtkGestureDrag *gesture)
{
  guint button = gtk_gesture_single_get_current_button (GTK_GESTURE_SINGLE (gesture));
  int index = hit (self, x, y);

  if (!self->scene || self->hold == BED_HOLD_KIND)
    return;
  if (self->nudge_source)
    set_down (self);
  self->grip = (BedPoint){ x, y };
  self->view_from = self->view;
  self->hold = BED_HOLD_GROUND;
  if (button == GDK_BUTTON_MIDDLE)
    return;
  if (is_on_handle (self, x, y))
    {
      take_up (self, BED_HOLD_HANDLE, bed_yard_view_find (self, self->selected));
      return;
    }
  point_at (self, x, y);
  if (self->on_corner)
    {
      self->hold = BED_HOLD_CORNER;
      self->corner_from = *bed_corner_get_point (self->yard, &self->corner);
      return;
    }
  gtk_widget_grab_focus (index >= 0 ? self->spots->pdata[index] : GTK_WIDGET (self));
  bed_yard_view_select (self, get_id (self, index));
  if (index >= 0 && self->mode == BED_YARD_CHANGE)
    take_up (self, BED_HOLD_STACK, index);
}

static void
drag_update_cb (BedYardView *self, double dx, double dy)
{
  BedPose wanted = self->from;

  switch (self->hold)
    {
    case BED_HOLD_GROUND:
      self->view = self->view_from;
      bed_viewport_pan (&self->view, dx, dy);
      bed_yard_view_view_changed (self);
      break;
    case BED_HOLD_STACK:
      if (hypot (dx, dy) < CLICK && is_same_pose (&self->pose, &self->from))
        return;
      wanted.x += to_metres (self, dx);
      wanted.y -= to_metres (self, dy);
      carry (self, &wanted);
      break;
    case BED_HOLD_HANDLE:
      turn_to (self, self->grip.x + dx, self->grip.y + dy);
      break;
    case BED_HOLD_CORNER:
      if (hypot (dx, dy) >= CLICK)
        carry_corner (self, bed_corner_snap (to_world (self, self->grip.x + dx, self->grip.y + dy),
                                             bed_yard_view_grid (self)));
      break;
    case BED_HOLD_NOTHING: /* Esc let go of it while the button was down */
    case BED_HOLD_KIND:
    default:
      break;
    }
}

static void
drag_end_cb (BedYardView *self)
{
  if (self->hold == BED_HOLD_STACK || self->hold == BED_HOLD_HANDLE)
    set_down (self);
  else if (self->hold == BED_HOLD_CORNER)
    set_corner_down (self);
  else if (self->hold == BED_HOLD_GROUND)
    self->hold = BED_HOLD_NOTHING;
}

static void
click_cb (BedYardView *self, int n_press, double x, double y)
{
  int index = hit (self, x, y);

  if (self->hold == BED_HOLD_KIND)
    set_down (self);
  else if (n_press == 2 && index >= 0)
    {
      gint64 id = get_id (self, index);
      empty_hand (self);
      g_signal_emit_by_name (self, "opened", id);
    }
}

static void
motion_cb (BedYardView *self, double x, double y)
{
  const char *cursor = NULL;
  gboolean moves = self->pointer_seen && hypot (self->pointer.x - x, self->pointer.y - y) > 0;

  self->pointer = (BedPoint){ x, y };
  self->pointer_seen = TRUE;
  /* GTK tells of a pointer that lies still too, when something under it changed: what the keys
   * carry is not pulled away by that. */
  if (self->hold == BED_HOLD_KIND && moves)
    carry_to_pointer (self);
  if (self->hold == BED_HOLD_NOTHING)
    {
      point_at (self, x, y);
      if (is_on_handle (self, x, y))
        cursor = "crosshair";
      else if (self->on_corner)
        cursor = "move";
      else if (hit (self, x, y) >= 0)
        cursor = self->mode == BED_YARD_CHANGE ? "grab" : "pointer";
      gtk_widget_set_cursor_from_name (GTK_WIDGET (self), cursor);
    }
}

static gboolean
scroll_cb (BedYardView *self, double dx, double dy)
{
  if (!self->scene || dy == 0)
    return GDK_EVENT_PROPAGATE;
  bed_viewport_zoom (&self->view, pow (ZOOM_STEP, -dy), self->pointer);
  bed_yard_view_view_changed (self);
  return GDK_EVENT_STOP;
}

/* --- what is dropped from elsewhere --------------------------------------------- */

/* A kind of stack from the strip (uint), or a log from an elevation (int64). */
static gboolean
drop_cb (BedYardView *self, const GValue *value, double x, double y)
{
  BedPoint at = to_world (self, x, y);
  int index = hit (self, x, y);

  if (!self->scene || self->mode == BED_YARD_LOOK)
    return FALSE;
  if (G_VALUE_HOLDS_UINT (value))
    {
      self->pointer = (BedPoint){ x, y };
      bed_yard_view_place (self, g_value_get_uint (value));
      carry (self, &(BedPose){ at.x, at.y, 0 });
      set_down (self);
      return TRUE;
    }
  if (index < 0)
    return FALSE;
  g_signal_emit_by_name (self, "log-dropped", get_id (self, index), g_value_get_int64 (value));
  return TRUE;
}

/* --- keys ----------------------------------------------------------------------- */

static gboolean
nudge_pause_cb (gpointer data)
{
  BedYardView *self = data;

  self->nudge_source = 0;
  set_down (self);
  return G_SOURCE_REMOVE;
}

/* The stack the keys are about: the one with the keyboard, else the selected one. */
static int
find_keyed (BedYardView *self)
{
  int focused = bed_yard_view_find_focused (self);

  return focused >= 0 ? focused : bed_yard_view_find (self, self->selected);
}

static void
nudge (BedYardView *self, double dx, double dy, double turn)
{
  int index = find_keyed (self);

  if (self->hold != BED_HOLD_KIND)
    {
      if (index < 0 || self->mode == BED_YARD_LOOK)
        return;
      if (self->moving >= 0 && self->moving != index)
        set_down (self);
      if (self->moving < 0)
        take_up (self, BED_HOLD_STACK, index);
      g_clear_handle_id (&self->nudge_source, g_source_remove);
      self->nudge_source = g_timeout_add (NUDGE_PAUSE, nudge_pause_cb, self);
    }
  self->pose.x += dx;
  self->pose.y += dy;
  self->pose.turn = bed_turn_normal (self->pose.turn + turn);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static gboolean
let_go_key (BedYardView *self)
{
  if (self->hold != BED_HOLD_NOTHING)
    {
      bed_yard_view_let_go (self);
      return TRUE;
    }
  if (!self->selected)
    return FALSE;
  bed_yard_view_select (self, 0);
  return TRUE;
}

static gboolean
open_key (BedYardView *self)
{
  int index = find_keyed (self);

  if (self->hold == BED_HOLD_KIND || self->nudge_source)
    {
      set_down (self);
      return TRUE;
    }
  if (index < 0)
    return FALSE;
  g_signal_emit_by_name (self, "opened", get_id (self, index));
  return TRUE;
}

static gboolean
select_key (BedYardView *self)
{
  int index = find_keyed (self);
  gint64 id = get_id (self, index);

  if (index < 0)
    return FALSE;
  bed_yard_view_select (self, self->selected == id ? 0 : id);
  return TRUE;
}

static gboolean
key_cb (BedYardView *self, guint key, guint code, GdkModifierType state)
{
  double step = bed_yard_view_grid (self) * (state & GDK_SHIFT_MASK ? NUDGE_FAR : 1);

  if (!self->scene || state & (GDK_CONTROL_MASK | GDK_ALT_MASK))
    return FALSE;
  switch (key)
    {
    case GDK_KEY_Left:
      nudge (self, -step, 0, 0);
      return TRUE;
    case GDK_KEY_Right:
      nudge (self, step, 0, 0);
      return TRUE;
    case GDK_KEY_Up:
      nudge (self, 0, step, 0);
      return TRUE;
    case GDK_KEY_Down:
      nudge (self, 0, -step, 0);
      return TRUE;
    case GDK_KEY_r:
      nudge (self, 0, 0, TURN_STEP);
      return TRUE;
    case GDK_KEY_R:
      nudge (self, 0, 0, -TURN_STEP);
      return TRUE;
    case GDK_KEY_plus:
    case GDK_KEY_equal:
    case GDK_KEY_KP_Add:
      bed_yard_view_zoom (self, ZOOM_STEP);
      return TRUE;
    case GDK_KEY_minus:
    case GDK_KEY_KP_Subtract:
      bed_yard_view_zoom (self, 1 / ZOOM_STEP);
      return TRUE;
    case GDK_KEY_0:
    case GDK_KEY_KP_0:
      bed_yard_view_fit (self);
      return TRUE;
    case GDK_KEY_Escape:
      return let_go_key (self);
    case GDK_KEY_Return:
    case GDK_KEY_KP_Enter:
      return open_key (self);
    case GDK_KEY_space:
      return select_key (self);
    default:
      return FALSE;
    }
}

/* Leaving the drawing sets a nudged stack down at once: nothing waits unseen. */
static void
leave_cb (BedYardView *self)
{
  if (self->nudge_source)
    set_down (self);
}

/* --- public --------------------------------------------------------------------- */

static void
listen (BedYardView *self, GtkEventController *controller, const char *signal, GCallback callback)
{
  g_signal_connect_swapped (controller, signal, callback, self);
  gtk_widget_add_controller (GTK_WIDGET (self), controller);
}

static void
add_drag (BedYardView *self, guint button)
{
  GtkGesture *drag = gtk_gesture_drag_new ();

  gtk_gesture_single_set_button (GTK_GESTURE_SINGLE (drag), button);
  g_signal_connect_swapped (drag, "drag-begin", G_CALLBACK (drag_begin_cb), self);
  g_signal_connect_swapped (drag, "drag-update", G_CALLBACK (drag_update_cb), self);
  listen (self, GTK_EVENT_CONTROLLER (drag), "drag-end", G_CALLBACK (drag_end_cb));
}

void
bed_yard_view_init_input (BedYardView *self)
{
  GtkDropTarget *drop = gtk_drop_target_new (G_TYPE_INVALID, GDK_ACTION_COPY | GDK_ACTION_MOVE);

  add_drag (self, GDK_BUTTON_PRIMARY);
  add_drag (self, GDK_BUTTON_MIDDLE);
  listen (self, GTK_EVENT_CONTROLLER (gtk_gesture_click_new ()), "released", G_CALLBACK (click_cb));
  listen (self, gtk_event_controller_motion_new (), "motion", G_CALLBACK (motion_cb));
  listen (self, gtk_event_controller_scroll_new (GTK_EVENT_CONTROLLER_SCROLL_BOTH_AXES), "scroll",
          G_CALLBACK (scroll_cb));
  listen (self, gtk_event_controller_key_new (), "key-pressed", G_CALLBACK (key_cb));
  listen (self, gtk_event_controller_focus_new (), "leave", G_CALLBACK (leave_cb));
  gtk_drop_target_set_gtypes (drop, (GType[]){ G_TYPE_UINT, G_TYPE_INT64 }, 2);
  listen (self, GTK_EVENT_CONTROLLER (drop), "drop", G_CALLBACK (drop_cb));
}

void
bed_yard_view_let_go (BedYardView *self)
{
  g_return_if_fail (BED_IS_YARD_VIEW (self));
  if (self->hold != BED_HOLD_NOTHING)
    empty_hand (self);
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
  self->pointer_seen = FALSE;
  self->moving = (int) self->new_yard->stacks->len - 1;
  carry (self, &(BedPose){ self->view.middle.x, self->view.middle.y, 0 });
  gtk_widget_grab_focus (GTK_WIDGET (self));
}
