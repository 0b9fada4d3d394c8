#include "app/yard/yard_elevation_private.h"

void
bed_yard_elevation_set_lifted (BedYardElevation *self, gboolean lifted)
{
  self->lifted = lifted;
  bed_yard_elevation_forget_still (self);
}

/* --- choosing ------------------------------------------------------------------- */

gboolean
bed_yard_elevation_is_chosen (BedYardElevation *self, const BedYardLog *log)
{
  for (guint i = 0; log && i < self->chosen->len; i++)
    if (g_array_index (self->chosen, gint64, i) == log->id)
      return TRUE;
  return FALSE;
}

static void
chosen_changed (BedYardElevation *self)
{
  gtk_widget_queue_draw (GTK_WIDGET (self));
  g_signal_emit_by_name (self, "logs-chosen", self->chosen->len);
}

static void
add_log (BedYardElevation *self, int end)
{
  const BedYardLog *log = bed_yard_elevation_log_at (self, end);

  if (log && !bed_yard_elevation_is_chosen (self, log))
    g_array_append_val (self->chosen, log->id);
}

/* It and no other; a free place: none. */
static void
choose_only (BedYardElevation *self, int end)
{
  g_array_set_size (self->chosen, 0);
  add_log (self, end);
  self->anchor = end;
  chosen_changed (self);
}

static void
choose_more (BedYardElevation *self, int end)
{
  const BedYardLog *log = bed_yard_elevation_log_at (self, end);
  guint n = self->chosen->len;

  for (guint i = 0; log && i < self->chosen->len; i++)
    if (g_array_index (self->chosen, gint64, i) == log->id)
      g_array_remove_index (self->chosen, i--);
  if (self->chosen->len == n)
    add_log (self, end);
  self->anchor = end;
  chosen_changed (self);
}

/* All from the anchor to it, as the places are numbered. */
static void
choose_range (BedYardElevation *self, int end)
{
  int from = self->anchor >= 0 ? self->anchor : end;

  g_array_set_size (self->chosen, 0);
  for (int i = MIN (from, end); i <= MAX (from, end); i++)
    add_log (self, i);
  chosen_changed (self);
}

/* Sets what is in the hand, or was dropped from elsewhere, down at @end. */
static void
set_down (BedYardElevation *self, const GArray *logs, int end)
{
  const BedBar *bar = bed_yard_elevation_bar_at (self, end);
  guint tier = bar ? bar->tier : 0, slot = bar ? bar->slot : 0;

  bed_yard_elevation_set_lifted (self, FALSE);
  g_signal_emit_by_name (self, "logs-moved", logs, tier, slot);
}

/* Enter: what is chosen, or the log with the frame, comes into the hand, and is set down. */
void
bed_yard_elevation_pick_or_drop (BedYardElevation *self)
{
  const BedYardLog *log = bed_yard_elevation_log_at (self, self->at);

  if (self->mode == BED_YARD_LOOK)
    return;
  if (!self->lifted)
    {
      if (log && !bed_yard_elevation_is_chosen (self, log))
        choose_only (self, self->at);
      if (log)
        bed_yard_elevation_set_lifted (self, TRUE);
    }
  else if (self->chosen->len == 1 && bed_yard_elevation_is_chosen (self, log))
    bed_yard_elevation_set_lifted (self, FALSE);
  else
    {
      g_autoptr (GArray) logs = g_array_copy (self->chosen);
      set_down (self, logs, self->at);
    }
}

/* --- keys and pointer ----------------------------------------------------------- */

static gboolean
step (BedYardElevation *self, BedDirection direction, gboolean shift)
{
  guint next = bed_elevation_step (self->elevation, (guint) self->at, direction);

  if (shift && self->anchor < 0)
    self->anchor = self->at;
  gtk_widget_grab_focus (self->spots->pdata[next]);
  if (shift && !self->lifted)
    choose_range (self, (int) next);
  return TRUE;
}

static gboolean
take_out_key (BedYardElevation *self)
{
  g_autoptr (GArray) logs = g_array_copy ((GArray *) bed_yard_elevation_get_chosen (self));

  if (logs->len == 0 || self->mode == BED_YARD_LOOK)
    return FALSE;
  bed_yard_elevation_set_lifted (self, FALSE);
  g_signal_emit_by_name (self, "logs-taken-out", logs);
  return TRUE;
}

static gboolean
let_go_key (BedYardElevation *self)
{
  if (self->lifted)
    bed_yard_elevation_set_lifted (self, FALSE);
  else if (self->chosen->len > 1)
    choose_only (self, self->at);
  else
    return FALSE;
  return TRUE;
}

static gboolean
key_cb (BedYardElevation *self, guint key, guint code, GdkModifierType state)
{
  gboolean shift = (state & GDK_SHIFT_MASK) != 0;

  if (!self->elevation || self->at < 0 || state & GDK_ALT_MASK)
    return FALSE;
  if (state & GDK_CONTROL_MASK)
    {
      if (key == GDK_KEY_a)
        bed_yard_elevation_choose (self, BED_LOGS_ALL);
      return key == GDK_KEY_a;
    }
  switch (key)
    {
    case GDK_KEY_Left:
      return step (self, BED_TO_LEFT, shift);
    case GDK_KEY_Right:
      return step (self, BED_TO_RIGHT, shift);
    case GDK_KEY_Up:
      return step (self, BED_TO_UP, shift);
    case GDK_KEY_Down:
      return step (self, BED_TO_DOWN, shift);
    case GDK_KEY_space:
      choose_more (self, self->at);
      return TRUE;
    case GDK_KEY_Return:
    case GDK_KEY_KP_Enter:
      bed_yard_elevation_pick_or_drop (self);
      return TRUE;
    case GDK_KEY_Escape:
      return let_go_key (self);
    case GDK_KEY_Delete:
    case GDK_KEY_KP_Delete:
      return take_out_key (self);
    default:
      return FALSE;
    }
}

/* A log that is chosen with others stays so until the button is let go: it may be dragged. */
static void
press_cb (BedYardElevation *self, int n_press, double x, double y, GtkEventController *click)
{
  int end = bed_yard_elevation_hit (self, x, y);
  GdkModifierType state = gtk_event_controller_get_current_event_state (click);

  if (end < 0)
    {
      bed_yard_elevation_go_to (self, -1);
      choose_only (self, -1);
      return;
    }
  gtk_widget_grab_focus (self->spots->pdata[end]);
  if (n_press == 2 && bed_yard_elevation_log_at (self, end))
    g_signal_emit_by_name (self, "log-opened", bed_yard_elevation_log_at (self, end)->id);
  else if (state & GDK_SHIFT_MASK)
    choose_range (self, end);
  else if (state & GDK_CONTROL_MASK)
    choose_more (self, end);
  else if (!bed_yard_elevation_is_chosen (self, bed_yard_elevation_log_at (self, end)))
    choose_only (self, end);
}

static void
release_cb (BedYardElevation *self, int n_press, double x, double y, GtkEventController *click)
{
  int end = bed_yard_elevation_hit (self, x, y);
  GdkModifierType state = gtk_event_controller_get_current_event_state (click);

  if (end >= 0 && !(state & (GDK_SHIFT_MASK | GDK_CONTROL_MASK)) && self->chosen->len > 1)
    choose_only (self, end);
}

static GdkContentProvider *
drag_prepare_cb (BedYardElevation *self, double x, double y)
{
  int end = bed_yard_elevation_hit (self, x, y);
  const BedYardLog *log = bed_yard_elevation_log_at (self, end);

  if (!log || self->mode == BED_YARD_LOOK)
    return NULL;
  if (!bed_yard_elevation_is_chosen (self, log))
    choose_only (self, end);
  bed_yard_elevation_go_to (self, end);
  g_autoptr (GBytes) logs = g_bytes_new (self->chosen->data, self->chosen->len * sizeof (gint64));
  return gdk_content_provider_new_typed (G_TYPE_BYTES, logs);
}

/* The picture under the pointer is the log's own end, and how many go with it. */
static void
drag_begin_cb (BedYardElevation *self, GdkDrag *drag, GtkDragSource *source)
{
  const BedYardLog *log = bed_yard_elevation_log_at (self, self->at);

  if (!log)
    return;
  double radius = log->diameter / 2 * self->view.scale, side = 2 * radius + 20;
  graphene_size_t size = GRAPHENE_SIZE_INIT ((float) side, (float) side);
  GtkSnapshot *snapshot = gtk_snapshot_new ();
  cairo_t *cr
      = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, size.width, size.height));
  bed_log_end_draw (cr, log, (BedPoint){ radius, radius + 20 }, radius, &self->style);
  bed_yard_elevation_draw_count (self, cr, 2 * radius + 6, 12);
  cairo_destroy (cr);
  g_autoptr (GdkPaintable) picture = gtk_snapshot_free_to_paintable (snapshot, &size);
  gtk_drag_source_set_icon (source, picture, (int) radius, (int) radius + 20);
  bed_yard_elevation_set_lifted (self, TRUE);
}

static void
drag_end_cb (BedYardElevation *self)
{
  bed_yard_elevation_set_lifted (self, FALSE);
}

static gboolean
drop_cb (BedYardElevation *self, const GValue *value, double x, double y)
{
  if (!self->stack || self->mode == BED_YARD_LOOK)
    return FALSE;
  g_autoptr (GArray) logs = bed_logs_of_value (value);
  set_down (self, logs, bed_yard_elevation_hit (self, x, y));
  return TRUE;
}

void
bed_yard_elevation_init_input (BedYardElevation *self)
{
  GtkWidget *widget = GTK_WIDGET (self);
  GtkEventController *keys = gtk_event_controller_key_new ();
  GtkGesture *click = gtk_gesture_click_new ();
  GtkDragSource *source = gtk_drag_source_new ();
  GtkDropTarget *drop = gtk_drop_target_new (G_TYPE_BYTES, GDK_ACTION_MOVE);

  g_signal_connect_swapped (keys, "key-pressed", G_CALLBACK (key_cb), self);
  gtk_widget_add_controller (widget, keys);
  g_signal_connect_swapped (click, "pressed", G_CALLBACK (press_cb), self);
  g_signal_connect_swapped (click, "released", G_CALLBACK (release_cb), self);
  gtk_widget_add_controller (widget, GTK_EVENT_CONTROLLER (click));
  gtk_drag_source_set_actions (source, GDK_ACTION_MOVE);
  g_signal_connect_swapped (source, "prepare", G_CALLBACK (drag_prepare_cb), self);
  g_signal_connect_swapped (source, "drag-begin", G_CALLBACK (drag_begin_cb), self);
  g_signal_connect_swapped (source, "drag-end", G_CALLBACK (drag_end_cb), self);
  gtk_widget_add_controller (widget, GTK_EVENT_CONTROLLER (source));
  g_signal_connect_swapped (drop, "drop", G_CALLBACK (drop_cb), self);
  gtk_widget_add_controller (widget, GTK_EVENT_CONTROLLER (drop));
}

/* --- public --------------------------------------------------------------------- */

const GArray *
bed_yard_elevation_get_chosen (BedYardElevation *self)
{
  g_return_val_if_fail (BED_IS_YARD_ELEVATION (self), NULL);
  if (self->chosen->len == 0)
    add_log (self, self->at);
  return self->chosen;
}

void
bed_yard_elevation_choose (BedYardElevation *self, BedLogsAlike alike)
{
  g_return_if_fail (BED_IS_YARD_ELEVATION (self));
  const BedBar *framed = bed_yard_elevation_bar_at (self, self->at);

  if (!self->elevation || (alike != BED_LOGS_ALL && (!framed || !framed->log)))
    return;
  g_array_set_size (self->chosen, 0);
  for (guint i = 0; i < self->elevation->ends->len; i++)
    {
      const BedBar *bar = bed_yard_elevation_bar_at (self, (int) i);
      if (alike == BED_LOGS_ALL || (alike == BED_LOGS_OF_TIER && bar->tier == framed->tier)
          || (alike == BED_LOGS_OF_BATCH && bar->log
              && g_strcmp0 (bar->log->batch, framed->log->batch) == 0))
        add_log (self, (int) i);
    }
  chosen_changed (self);
}
