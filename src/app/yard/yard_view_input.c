#include "app/yard/yard_view_private.h"

#include <math.h>

#define HANDLE_REACH 10.0 /* px */
#define HIT_SLACK 4.0     /* px */
#define CLICK 4.0         /* px: less than this is no drag */
#define CORNER_REACH 8.0  /* px */
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

static BedYardThing
hit (BedYardView *self, double x, double y)
{
  if (!self->scene)
    return (BedYardThing){ BED_KIND_STACK, 0 };
  return bed_things_hit (self->scene, to_world (self, x, y), to_metres (self, HIT_SLACK));
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
  BedYardThing thing = hit (self, x, y);
  gboolean on = self->scene && self->mode == BED_YARD_CHANGE
                && (thing.id == 0 || thing.kind != BED_KIND_STACK)
                && bed_corner_hit (self->yard, to_world (self, x, y),
                                   to_metres (self, CORNER_REACH), &self->corner);

  if (on || self->on_corner)
    gtk_widget_queue_draw (GTK_WIDGET (self));
  self->on_corner = on;
}

/* --- choosing ------------------------------------------------------------------- */

/* A press on a thing that is chosen already may be the start of carrying them all. */
static void
press_thing (BedYardView *self, const BedYardThing *thing, gboolean shift)
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
  g_autoptr (GArray) touched = bed_things_touched (self->scene, &band);
  g_autoptr (GArray) all = self->keep_chosen ? g_array_copy (self->chosen) : bed_things_new ();

  for (guint i = 0; i < touched->len; i++)
    {
      const BedYardThing *thing = &g_array_index (touched, BedYardThing, i);
      if (bed_things_find (all, thing) < 0)
        g_array_append_vals (all, thing, 1);
    }
  bed_yard_view_choose (self, all);
}

/* --- dragging ------------------------------------------------------------------- */

/* A cloth hangs over what is meant: it is carried when it was chosen before. */
static gboolean
hangs_over (BedYardView *self, const BedYardThing *thing)
{
  if (thing->kind != BED_KIND_FEATURE || bed_things_find (self->chosen, thing) >= 0)
    return FALSE;
  const BedShape *shape = bed_thing_find_shape (self->index, thing);
  const BedYardFeature *feature = self->yard->features->pdata[shape->owner];
  return feature->kind == BED_FEATURE_SHADE_CLOTH;
}

static void
begin_thing (BedYardView *self, const BedYardThing *thing, gboolean shift)
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
  BedYardThing thing = hit (self, x, y);

  if (is_on_handle (self, x, y))
    {
      bed_yard_view_take_up (self, BED_HOLD_HANDLE, &g_array_index (self->chosen, BedYardThing, 0));
      return;
    }
  point_at (self, x, y);
  self->keep_chosen = shift;
  if (self->on_corner)
    {
      self->hold = BED_HOLD_CORNER;
      self->corner_from = *bed_corner_get_point (self->yard, &self->corner);
    }
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
drag_begin_cb (BedYardView *self, double x, double y, GtkGestureDrag *gesture)
{
  guint button = gtk_gesture_single_get_current_button (GTK_GESTURE_SINGLE (gesture));
  GdkModifierType state
      = gtk_event_controller_get_current_event_state (GTK_EVENT_CONTROLLER (gesture));

  if (!self->scene || self->hold == BED_HOLD_KIND)
    return;
  if (self->nudge_source)
    bed_yard_view_set_down (self);
  self->grip = self->band_to = (BedPoint){ x, y };
  self->view_from = self->view;
  if (button == GDK_BUTTON_MIDDLE || self->space)
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
  BedYardCarried carried = bed_yard_view_get_carried (self);

  if (hypot (dx, dy) < CLICK && carried.by.x == 0 && carried.by.y == 0)
    return;
  bed_yard_view_carry (self, (BedPoint){ to_metres (self, dx), -to_metres (self, dy) });
}

static void
drag_update_cb (BedYardView *self, double dx, double dy)
{
  BedPoint at = { self->grip.x + dx, self->grip.y + dy };

  switch (self->hold)
    {
    case BED_HOLD_GROUND:
      self->view = self->view_from;
      bed_viewport_pan (&self->view, dx, dy);
      bed_yard_view_view_changed (self);
      break;
    case BED_HOLD_BAND:
      self->band_to = at;
      if (hypot (dx, dy) >= CLICK)
        gtk_widget_queue_draw (GTK_WIDGET (self));
      break;
    case BED_HOLD_THINGS:
      drag_things (self, dx, dy);
      break;
    case BED_HOLD_HANDLE:
      bed_yard_view_turn_to (self, at);
      break;
    case BED_HOLD_CORNER:
      if (hypot (dx, dy) >= CLICK)
        bed_yard_view_carry_corner (
            self, bed_corner_snap (to_world (self, at.x, at.y), bed_yard_view_grid (self)));
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
  BedYardHold hold = self->hold;

  if (hold == BED_HOLD_KIND || self->nudge_source)
    return;
  if (hold == BED_HOLD_GROUND || hold == BED_HOLD_BAND)
    {
      self->hold = BED_HOLD_NOTHING;
      gtk_widget_queue_draw (GTK_WIDGET (self));
    }
  if (hold == BED_HOLD_BAND
      && hypot (self->band_to.x - self->grip.x, self->band_to.y - self->grip.y) >= CLICK)
    choose_band (self);
  else
    bed_yard_view_set_down (self);
}

static void
click_cb (BedYardView *self, int n_press, double x, double y)
{
  BedYardThing thing = hit (self, x, y);

  if (self->hold == BED_HOLD_KIND)
    bed_yard_view_set_down (self);
  else if (n_press == 2)
    {
      bed_yard_view_let_go (self);
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
  else if (is_on_handle (self, x, y))
    cursor = "crosshair";
  else if (self->on_corner)
    cursor = "move";
  else if (hit (self, x, y).id)
    cursor = self->mode == BED_YARD_CHANGE ? "grab" : "pointer";
  gtk_widget_set_cursor_from_name (GTK_WIDGET (self), cursor);
}

static void
motion_cb (BedYardView *self, double x, double y)
{
  gboolean moves = self->pointer_seen && hypot (self->pointer.x - x, self->pointer.y - y) > 0;

  self->pointer = (BedPoint){ x, y };
  self->pointer_seen = TRUE;
  /* GTK tells of a pointer that lies still too, when something under it changed: what the keys
   * carry is not pulled away by that. */
  if (self->hold == BED_HOLD_KIND && moves)
    bed_yard_view_carry_to (self, self->pointer);
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

/* A kind of stack from the strip (uint), or a log from an elevation (int64). */
static gboolean
drop_cb (BedYardView *self, const GValue *value, double x, double y)
{
  BedYardThing thing = hit (self, x, y);

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
  if (thing.kind != BED_KIND_STACK || !thing.id)
    return FALSE;
  g_signal_emit_by_name (self, "log-dropped", thing.id, g_value_get_int64 (value));
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
  gtk_drop_target_set_gtypes (drop, (GType[]){ G_TYPE_UINT, G_TYPE_INT64 }, 2);
  listen (self, GTK_EVENT_CONTROLLER (drop), "drop", G_CALLBACK (drop_cb));
}
