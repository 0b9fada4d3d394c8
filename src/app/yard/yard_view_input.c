#include "app/yard/yard_view_private.h"

#include <math.h>

#define HANDLE_REACH 10.0 /* px */
#define HIT_SLACK 4.0     /* px */
#define CLICK 4.0         /* px: less than this is no drag */
#define ZOOM_STEP 1.2

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

static BedThing
hit (BedYardView *self, double x, double y)
{
  gint64 warned = bed_yard_view_hit_advice (self, (BedPoint){ x, y });

  if (!self->scene || warned)
    return (BedThing){ BED_THING_STACK, warned };
  return bed_things_hit (self->scene, to_world (self, x, y), to_metres (self, HIT_SLACK));
}

static gboolean
is_on_knob (BedYardView *self, double x, double y)
{
  BedPoint handle;

  return bed_yard_view_handle (self, &handle) && hypot (handle.x - x, handle.y - y) <= HANDLE_REACH;
}

static void
point_at (BedYardView *self, double x, double y)
{
  gboolean on = bed_yard_view_find_handle (self, (BedPoint){ x, y });

  if (on || self->on_handle)
    gtk_widget_queue_draw (GTK_WIDGET (self));
  self->on_handle = on;
}

/* --- choosing ------------------------------------------------------------------- */

/* A press on a thing that is chosen already may be the start of carrying them all. */
static void
press_thing (BedYardView *self, const BedThing *thing, gboolean shift)
{
  g_autoptr (GArray) things = shift ? g_array_copy (self->chosen) : bed_things_new ();

  bed_yard_view_focus_thing (self, thing);
  if (shift)
    bed_things_toggle (things, thing);
  else if (bed_things_find (self->chosen, thing) >= 0)
    return;
  else if (thing->id)
    g_array_append_val (things, *thing);
  bed_yard_view_choose (self, things);
}

static void
choose_band (BedYardView *self)
{
  BedPoint a = to_world (self, self->grip.x, self->grip.y);
  BedPoint b = to_world (self, self->band_to.x, self->band_to.y);
  BedExtent band = { MIN (a.x, b.x), MIN (a.y, b.y), fabs (a.x - b.x), fabs (a.y - b.y) };
  g_autoptr (GArray) touched = bed_group_touched (self->scene, &band);
  g_autoptr (GArray) all = self->keep_chosen ? g_array_copy (self->chosen) : bed_things_new ();

  for (guint i = 0; i < touched->len; i++)
    {
      const BedThing *thing = &g_array_index (touched, BedThing, i);
      if (bed_things_find (all, thing) < 0)
        g_array_append_vals (all, thing, 1);
    }
  bed_yard_view_choose (self, all);
}

/* --- dragging ------------------------------------------------------------------- */

/* A cloth hangs over what is meant: it is carried when it was chosen before. */
static gboolean
hangs_over (BedYardView *self, const BedThing *thing)
{
  if (thing->kind != BED_THING_FEATURE || bed_things_find (self->chosen, thing) >= 0)
    return FALSE;
  const BedShape *shape = bed_thing_find_shape (self->index, thing);
  const BedYardFeature *feature = self->yard->features->pdata[shape->owner];
  return feature->kind == BED_FEATURE_SHADE_CLOTH;
}

static void
begin_thing (BedYardView *self, const BedThing *thing, gboolean shift)
{
  gboolean over = hangs_over (self, thing);

  press_thing (self, thing, shift);
  if (shift || over || self->mode == BED_YARD_LOOK)
    {
      self->hold = over && !shift ? BED_HOLD_BAND : BED_HOLD_NOTHING;
      return;
    }
  bed_yard_view_take_up (self, BED_HOLD_THINGS, thing);
}

static void
begin_primary (BedYardView *self, double x, double y, gboolean shift)
{
  BedThing thing = hit (self, x, y);

  if (is_on_knob (self, x, y))
    {
      bed_yard_view_take_up (self, BED_HOLD_KNOB, &g_array_index (self->chosen, BedThing, 0));
      return;
    }
  point_at (self, x, y);
  self->keep_chosen = shift;
  if (self->on_handle)
    bed_yard_view_take_handle (self);
  else if (thing.id)
    begin_thing (self, &thing, shift);
  else
    {
      gtk_widget_grab_focus (GTK_WIDGET (self));
      if (!shift)
        press_thing (self, &thing, FALSE);
      self->hold = BED_HOLD_BAND;
    }
}

static void
read_modifiers (BedYardView *self, GdkModifierType state)
{
  self->loose = (state & GDK_ALT_MASK) != 0;
  self->again = (state & GDK_SHIFT_MASK) != 0;
}

static void
drag_begin_cb (BedYardView *self, double x, double y, GtkGestureDrag *gesture)
{
  guint button = gtk_gesture_single_get_current_button (GTK_GESTURE_SINGLE (gesture));
  GdkModifierType state
      = gtk_event_controller_get_current_event_state (GTK_EVENT_CONTROLLER (gesture));

  read_modifiers (self, state);
  self->press = (BedPoint){ x, y };
  if (!self->scene || (self->hold == BED_HOLD_KIND && button != GDK_BUTTON_MIDDLE))
    return;
  if (self->nudge_source)
    bed_yard_view_set_down (self);
  self->view_from = self->view;
  if (self->hold == BED_HOLD_DRAW && button != GDK_BUTTON_MIDDLE)
    {
      bed_yard_view_draw_press (self, (BedPoint){ x, y });
      return;
    }
  self->grip = self->band_to = (BedPoint){ x, y };
  if (self->hold == BED_HOLD_MEASURE)
    self->pressed = TRUE;
  else if (bed_yard_view_has_new (self))
    self->panned = TRUE; /* with something new in the hand */
  else if (button == GDK_BUTTON_MIDDLE || self->space)
    {
      self->hold = BED_HOLD_GROUND;
      self->space_used = TRUE;
    }
  else
    begin_primary (self, x, y, (state & GDK_SHIFT_MASK) != 0);
}

static void
drag_things (BedYardView *self, double dx, double dy)
{
  const BedPoint *by = &self->motion.by;

  if (hypot (dx, dy) < CLICK && by->x == 0 && by->y == 0)
    return;
  bed_yard_view_carry (self, (BedPoint){ to_metres (self, dx), -to_metres (self, dy) });
}

static void
pan_to (BedYardView *self, double dx, double dy)
{
  self->view = self->view_from;
  bed_viewport_pan (&self->view, dx, dy);
  bed_yard_view_view_changed (self);
}

static void
drag_update_cb (BedYardView *self, double dx, double dy, GtkEventController *gesture)
{
  GdkModifierType state = gtk_event_controller_get_current_event_state (gesture);
  BedPoint at = { self->press.x + dx, self->press.y + dy };
  gboolean far = hypot (dx, dy) >= CLICK;

  read_modifiers (self, state);
  if (self->panned || self->hold == BED_HOLD_GROUND)
    pan_to (self, dx, dy);
  else if (self->hold == BED_HOLD_BAND || (self->hold == BED_HOLD_MEASURE && self->pressed))
    {
      self->band_to = at;
      if (far)
        bed_yard_view_hand_changed (self);
    }
  else if (self->hold == BED_HOLD_THINGS)
    drag_things (self, dx, dy);
  else if (self->hold == BED_HOLD_KNOB)
    bed_yard_view_turn_to (self, at);
  else if (self->hold == BED_HOLD_SHAPE && far)
    bed_yard_view_drag_handle (
        self, at, state & (GDK_CONTROL_MASK | GDK_SHIFT_MASK) ? BED_ANGLES_FREE : BED_ANGLES_KEPT);
  else if (self->hold == BED_HOLD_DRAW && self->pressed)
    bed_yard_view_draw_to (self, at);
}

static void
end_band (BedYardView *self)
{
  double far = hypot (self->band_to.x - self->grip.x, self->band_to.y - self->grip.y);

  self->hold = BED_HOLD_NOTHING;
  gtk_widget_queue_draw (GTK_WIDGET (self));
  if (far >= CLICK)
    choose_band (self);
}

static void
drag_end_cb (BedYardView *self, double dx, double dy)
{
  gboolean panned = self->panned;

  self->panned = FALSE;
  if (panned || self->hold == BED_HOLD_KIND || self->nudge_source)
    return;
  if (self->hold == BED_HOLD_GROUND)
    self->hold = BED_HOLD_NOTHING;
  else if (self->hold == BED_HOLD_BAND)
    end_band (self);
  else if (self->hold == BED_HOLD_MEASURE)
    self->pressed = FALSE; /* it stays to be read until Esc, or the next one */
  else if (self->hold == BED_HOLD_DRAW)
    bed_yard_view_draw_release (self);
  else if (self->hold == BED_HOLD_SHAPE && hypot (dx, dy) < CLICK)
    bed_yard_view_let_go (self);
  else
    bed_yard_view_set_down (self);
}

static void
click_cb (BedYardView *self, int n_press, double x, double y)
{
  BedThing thing = hit (self, x, y);

  if (self->hold == BED_HOLD_KIND)
    {
      bed_yard_view_carry_to (self, (BedPoint){ x, y });
      bed_yard_view_set_down (self);
    }
  else if (self->hold == BED_HOLD_DRAW && n_press == 2)
    bed_yard_view_end_drawing (self);
  else if (self->hold == BED_HOLD_NOTHING && n_press == 2)
    {
      if (thing.id)
        g_signal_emit_by_name (self, "opened", (guint) thing.kind, thing.id);
      else
        bed_yard_view_fit (self);
    }
}

static void
show_cursor (BedYardView *self, double x, double y)
{
  const char *cursor = NULL;

  point_at (self, x, y);
  if (self->space)
    cursor = "grab";
  else if (is_on_knob (self, x, y))
    cursor = "crosshair";
  else if (self->on_handle)
    cursor = "move";
  else if (hit (self, x, y).id)
    cursor = self->mode == BED_YARD_CHANGE ? "grab" : "pointer";
  gtk_widget_set_cursor_from_name (GTK_WIDGET (self), cursor);
}

static void
motion_cb (BedYardView *self, double x, double y, GtkEventController *motion)
{
  gboolean moves = self->pointer_seen && hypot (self->pointer.x - x, self->pointer.y - y) > 0;

  self->pointer = (BedPoint){ x, y };
  self->pointer_seen = TRUE;
  /* GTK tells of a pointer that lies still too, when something under it changed: what the keys
   * carry is not pulled away by that. */
  if (bed_yard_view_has_new (self))
    read_modifiers (self, gtk_event_controller_get_current_event_state (motion));
  if (self->hold == BED_HOLD_KIND && moves)
    bed_yard_view_carry_to (self, self->pointer);
  if (self->hold == BED_HOLD_DRAW && moves && !self->pressed)
    bed_yard_view_draw_to (self, self->pointer);
  if (self->hold == BED_HOLD_NOTHING)
    show_cursor (self, x, y);
}

/* --- looking -------------------------------------------------------------------- */

/* The wheel zooms at the pointer, with Ctrl or without; two fingers, which say how far in both
 * directions, pan. */
static gboolean
scroll_cb (BedYardView *self, double dx, double dy, GtkEventController *scroll)
{
  GdkEvent *event = gtk_event_controller_get_current_event (scroll);
  GdkModifierType state = gtk_event_controller_get_current_event_state (scroll);
  gboolean smooth = event && gdk_scroll_event_get_direction (event) == GDK_SCROLL_SMOOTH
                    && gdk_device_get_source (gdk_event_get_device (event)) == GDK_SOURCE_TOUCHPAD;

  if (!self->scene || (dx == 0 && dy == 0))
    return GDK_EVENT_PROPAGATE;
  if (smooth && !(state & GDK_CONTROL_MASK))
    {
      bed_yard_view_pan (self, -dx * 10, -dy * 10);
      return GDK_EVENT_STOP;
    }
  if (dy == 0)
    return GDK_EVENT_PROPAGATE;
  bed_viewport_zoom (&self->view, pow (ZOOM_STEP, -dy), self->pointer);
  bed_yard_view_view_changed (self);
  return GDK_EVENT_STOP;
}

static void
pinch_begin_cb (BedYardView *self)
{
  self->view_from = self->view;
}

static void
pinch_cb (BedYardView *self, double scale, GtkGesture *pinch)
{
  BedPoint at;

  if (!self->scene || !gtk_gesture_get_bounding_box_center (pinch, &at.x, &at.y))
    return;
  self->view = self->view_from;
  bed_viewport_zoom (&self->view, scale, at);
  bed_yard_view_view_changed (self);
}

/* --- what is dropped from elsewhere --------------------------------------------- */

/* A kind of stack from the strip (uint), or logs from an elevation (bytes). */
static gboolean
drop_cb (BedYardView *self, const GValue *value, double x, double y)
{
  BedThing thing = hit (self, x, y);

  if (!self->scene || self->mode == BED_YARD_LOOK)
    return FALSE;
  if (G_VALUE_HOLDS_UINT (value))
    {
      self->pointer = (BedPoint){ x, y };
      bed_yard_view_place (self, g_value_get_uint (value));
      bed_yard_view_carry_to (self, (BedPoint){ x, y });
      bed_yard_view_set_down (self);
      return TRUE;
    }
  if (thing.kind != BED_THING_STACK || !thing.id)
    return FALSE;
  g_autoptr (GArray) logs = bed_logs_of_value (value);
  g_signal_emit_by_name (self, "logs-dropped", thing.id, logs);
  return TRUE;
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
  GtkGesture *pinch = gtk_gesture_zoom_new ();

  add_drag (self, GDK_BUTTON_PRIMARY);
  add_drag (self, GDK_BUTTON_MIDDLE);
  listen (self, GTK_EVENT_CONTROLLER (gtk_gesture_click_new ()), "released", G_CALLBACK (click_cb));
  listen (self, gtk_event_controller_motion_new (), "motion", G_CALLBACK (motion_cb));
  listen (self, gtk_event_controller_scroll_new (GTK_EVENT_CONTROLLER_SCROLL_BOTH_AXES), "scroll",
          G_CALLBACK (scroll_cb));
  g_signal_connect_swapped (pinch, "begin", G_CALLBACK (pinch_begin_cb), self);
  listen (self, GTK_EVENT_CONTROLLER (pinch), "scale-changed", G_CALLBACK (pinch_cb));
  gtk_drop_target_set_gtypes (drop, (GType[]){ G_TYPE_UINT, G_TYPE_BYTES }, 2);
  listen (self, GTK_EVENT_CONTROLLER (drop), "drop", G_CALLBACK (drop_cb));
}
