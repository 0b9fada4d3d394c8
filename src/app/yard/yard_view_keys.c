#include "app/yard/yard_view_private.h"

#define ZOOM_STEP 1.2
#define PAN_STEP 60.0 /* px */
#define TURN_STEP (5 * G_PI / 180)
#define TURN_FINE (1 * G_PI / 180)

/* What the keys are about: what has the ring, or all that is chosen when that is among them, or
 * when the drawing itself has the keyboard. It is chosen then. */
static gboolean
choose_keyed (BedYardView *self)
{
  int at = bed_yard_view_find_focused (self);

  if (at >= 0)
    {
      const BedThing *ring = &g_array_index (self->walk, BedThing, at);
      g_autoptr (GArray) one = bed_things_new ();
      if (bed_things_find (self->chosen, ring) < 0)
        {
          /* What was nudged before is set down where it is: something else is meant now. */
          bed_yard_view_set_down (self);
          g_array_append_val (one, *ring);
          bed_yard_view_choose (self, one);
        }
    }
  return self->chosen->len > 0;
}

/* The pointer holds something that the keys are not about. */
static gboolean
is_busy (BedYardView *self)
{
  return self->hold != BED_HOLD_NOTHING && !self->nudge_source;
}

static gboolean
nudge (BedYardView *self, double dx, double dy, double turn)
{
  if (self->hold == BED_HOLD_DRAW)
    {
      bed_yard_view_nudge_drawn (self, (BedPoint){ dx, dy }, turn);
      return TRUE;
    }
  if (self->hold != BED_HOLD_KIND
      && (self->mode == BED_YARD_LOOK || is_busy (self) || !choose_keyed (self)))
    return FALSE;
  bed_yard_view_nudge (self, (BedPoint){ dx, dy }, turn);
  return TRUE;
}

static gboolean
arrow (BedYardView *self, int east, int north, GdkModifierType state)
{
  double step = state & GDK_SHIFT_MASK ? self->yard->aisle : bed_yard_view_grid (self);

  if (state & GDK_ALT_MASK)
    {
      bed_yard_view_pan (self, -east * PAN_STEP, north * PAN_STEP);
      return TRUE;
    }
  /* Arrows without anything to move must not send the keyboard elsewhere. */
  nudge (self, east * step, north * step, 0);
  return TRUE;
}

static gboolean
let_go_key (BedYardView *self)
{
  g_autoptr (GArray) none = bed_things_new ();

  if (self->hold != BED_HOLD_NOTHING)
    {
      bed_yard_view_let_go (self);
      return TRUE;
    }
  if (self->chosen->len == 0)
    return FALSE;
  bed_yard_view_choose (self, none);
  return TRUE;
}

static gboolean
open_key (BedYardView *self)
{
  if (self->hold == BED_HOLD_KIND || self->hold == BED_HOLD_DRAW || self->nudge_source)
    {
      bed_yard_view_set_down (self);
      return TRUE;
    }
  if (self->hold != BED_HOLD_NOTHING || !choose_keyed (self) || self->chosen->len != 1)
    return FALSE;
  BedThing thing = g_array_index (self->chosen, BedThing, 0);
  g_signal_emit_by_name (self, "opened", (guint) thing.kind, thing.id);
  return TRUE;
}

/* Space: what has the ring is chosen too, or no more; of what is drawn a point is set; held while
 * dragging it pans. */
static gboolean
toggle_ring (BedYardView *self)
{
  int at = bed_yard_view_find_focused (self);

  if (self->hold == BED_HOLD_DRAW && bed_yard_view_is_many (self))
    bed_yard_view_set_point (self);
  if (at < 0 || bed_yard_view_has_new (self))
    return FALSE;
  bed_yard_view_set_down (self);
  g_autoptr (GArray) things = g_array_copy (self->chosen);
  bed_things_toggle (things, &g_array_index (self->walk, BedThing, at));
  bed_yard_view_choose (self, things);
  return TRUE;
}

static gboolean
act (BedYardView *self, const char *signal)
{
  if (self->mode == BED_YARD_LOOK || self->hold != BED_HOLD_NOTHING || !choose_keyed (self))
    return FALSE;
  g_signal_emit_by_name (self, signal);
  return TRUE;
}

/* The keyboard goes on to what is after or before the drawing. */
static gboolean
leave (BedYardView *self, GtkDirectionType direction)
{
  self->is_leaving = TRUE;
  g_signal_emit_by_name (self, "move-focus", direction);
  self->is_leaving = FALSE;
  return TRUE;
}

/* To the first or the last of what Tab walks. */
static gboolean
go_to_end (BedYardView *self, gboolean is_last)
{
  guint n = self->spots->len;

  return n > 0 && gtk_widget_grab_focus (self->spots->pdata[is_last ? n - 1 : 0]);
}

static gboolean
look_key (BedYardView *self, guint key)
{
  switch (key)
    {
    case GDK_KEY_plus:
    case GDK_KEY_equal:
    case GDK_KEY_KP_Add:
      bed_yard_view_zoom (self, ZOOM_STEP);
      return TRUE;
    case GDK_KEY_minus:
    case GDK_KEY_KP_Subtract:
      bed_yard_view_zoom (self, 1 / ZOOM_STEP);
      return TRUE;
    case GDK_KEY_period:
    case GDK_KEY_KP_Decimal:
      bed_yard_view_fit (self);
      return TRUE;
    default:
      return FALSE;
    }
}

/* What is written: the start of a number or of a code, which the hand line takes on. */
static gboolean
type_key (BedYardView *self, guint key)
{
  gunichar c = gdk_keyval_to_unicode (key);

  if (!g_unichar_isalnum (c))
    return FALSE;
  g_signal_emit_by_name (self, "typed", (guint) c);
  return TRUE;
}

static gboolean
control_key (BedYardView *self, guint key)
{
  if (key == GDK_KEY_Tab || key == GDK_KEY_KP_Tab)
    return leave (self, GTK_DIR_TAB_FORWARD);
  if (key == GDK_KEY_ISO_Left_Tab)
    return leave (self, GTK_DIR_TAB_BACKWARD);
  if (key == GDK_KEY_a && self->hold == BED_HOLD_NOTHING)
    bed_yard_view_choose_all (self);
  else if (key == GDK_KEY_d)
    return act (self, "duplicate");
  else
    return FALSE;
  return TRUE;
}

static gboolean
hand_key (BedYardView *self, guint key)
{
  switch (key)
    {
    case GDK_KEY_bracketleft:
      return nudge (self, 0, 0, TURN_STEP);
    case GDK_KEY_bracketright:
      return nudge (self, 0, 0, -TURN_STEP);
    case GDK_KEY_braceleft:
      return nudge (self, 0, 0, TURN_FINE);
    case GDK_KEY_braceright:
      return nudge (self, 0, 0, -TURN_FINE);
    case GDK_KEY_Escape:
      return let_go_key (self);
    case GDK_KEY_Return:
    case GDK_KEY_KP_Enter:
      return open_key (self);
    case GDK_KEY_Home:
    case GDK_KEY_KP_Home:
    case GDK_KEY_End:
    case GDK_KEY_KP_End:
      return go_to_end (self, key == GDK_KEY_End || key == GDK_KEY_KP_End);
    case GDK_KEY_BackSpace:
      return bed_yard_view_unset_point (self);
    case GDK_KEY_Delete:
    case GDK_KEY_KP_Delete:
      return act (self, "remove");
    default:
      return look_key (self, key) || type_key (self, key);
    }
}

static gboolean
key_cb (BedYardView *self, guint key, guint code, GdkModifierType state)
{
  if (!self->scene)
    return FALSE;
  switch (key)
    {
    case GDK_KEY_Left:
    case GDK_KEY_KP_Left:
      return arrow (self, -1, 0, state);
    case GDK_KEY_Right:
    case GDK_KEY_KP_Right:
      return arrow (self, 1, 0, state);
    case GDK_KEY_Up:
    case GDK_KEY_KP_Up:
      return arrow (self, 0, 1, state);
    case GDK_KEY_Down:
    case GDK_KEY_KP_Down:
      return arrow (self, 0, -1, state);
    case GDK_KEY_space:
      /* Told apart from the start of a pan when it is let go. */
      self->space_used = self->space && self->space_used;
      self->space = TRUE;
      return TRUE;
    default:
      break;
    }
  if (state & GDK_ALT_MASK)
    return FALSE;
  return state & GDK_CONTROL_MASK ? control_key (self, key) : hand_key (self, key);
}

static void
key_released_cb (BedYardView *self, guint key)
{
  if (key != GDK_KEY_space || !self->space)
    return;
  self->space = FALSE;
  if (!self->space_used)
    toggle_ring (self);
  self->space_used = FALSE;
}

/* Leaving the drawing sets what was nudged down at once: nothing waits unseen; and the ring goes.
 */
static void
leave_cb (BedYardView *self)
{
  self->space = self->space_used = FALSE;
  gtk_widget_queue_draw (GTK_WIDGET (self));
  if (self->nudge_source)
    bed_yard_view_set_down (self);
}

void
bed_yard_view_init_keys (BedYardView *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();
  GtkEventController *focus = gtk_event_controller_focus_new ();

  g_signal_connect_swapped (keys, "key-pressed", G_CALLBACK (key_cb), self);
  g_signal_connect_swapped (keys, "key-released", G_CALLBACK (key_released_cb), self);
  g_signal_connect_swapped (focus, "leave", G_CALLBACK (leave_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
  gtk_widget_add_controller (GTK_WIDGET (self), focus);
}
