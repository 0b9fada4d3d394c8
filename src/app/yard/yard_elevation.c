#include "app/yard/yard_elevation.h"

#include <adwaita.h>
#include <glib/gi18n.h>
#include <math.h>

#include "app/widgets/build.h"
#include "app/yard/yard_spot.h"
#include "science/units.h"

#define TEXT_SIZE 11.0
#define MARGIN 6.0

struct _BedYardElevation
{
  GtkWidget parent_instance;
  BedFacesFlow flow;
  const BedYardStack *stack; /* borrowed */
  BedElevation *elevation;
  BedNotation notation;
  BedTypesetter *type;
  BedYardStyle style;
  BedViewport view;
  BedYardMode mode;
  GskRenderNode *still; /* all but the ring and what is in the hand; NULL: to be drawn anew */
  GPtrArray *spots;     /* GtkWidget of each end, borrowed */
  int at;               /* the end with the frame, or -1 */
  int lifted;           /* the end whose log is in the hand, or -1 */
};

G_DEFINE_FINAL_TYPE (BedYardElevation, bed_yard_elevation, GTK_TYPE_WIDGET)

/* --- what is where -------------------------------------------------------------- */

static const BedBar *
get_bar (BedYardElevation *self, int end)
{
  return end >= 0 && self->elevation ? bed_elevation_get_bar (self->elevation, (guint) end) : NULL;
}

static const BedYardLog *
get_log (BedYardElevation *self, int end)
{
  const BedBar *bar = get_bar (self, end);
  return bar ? bar->log : NULL;
}

static int
hit (BedYardElevation *self, double x, double y)
{
  BedPoint at = bed_viewport_to_world (&self->view, (BedPoint){ x, y });

  return self->elevation ? bed_elevation_hit (self->elevation, at) : -1;
}

static void
forget_still (BedYardElevation *self)
{
  g_clear_pointer (&self->still, gsk_render_node_unref);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
go_to (BedYardElevation *self, int end)
{
  const BedYardLog *log = get_log (self, end);

  if (end == self->at)
    return;
  self->at = end;
  gtk_widget_queue_draw (GTK_WIDGET (self));
  g_signal_emit_by_name (self, "log-selected", log ? log->id : G_GINT64_CONSTANT (0));
}

static void
set_lifted (BedYardElevation *self, int end)
{
  self->lifted = end;
  forget_still (self);
}

/* Sets the log in the hand, or one dropped from elsewhere, down at @end. */
static void
set_down (BedYardElevation *self, gint64 log, int end)
{
  const BedBar *bar = get_bar (self, end);
  guint tier = bar ? bar->tier : 0, slot = bar ? bar->slot : 0;

  set_lifted (self, -1);
  g_signal_emit_by_name (self, "log-moved", log, tier, slot);
}

/* --- drawing -------------------------------------------------------------------- */

static GskRenderNode *
draw_still (BedYardElevation *self)
{
  GtkSnapshot *snapshot = gtk_snapshot_new ();
  BedElevationDrawing drawing = { self->elevation, &self->style, self->view, self->lifted };
  graphene_rect_t bounds
      = GRAPHENE_RECT_INIT (0, 0, (float) self->view.width, (float) self->view.height);
  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &bounds);

  bed_elevation_draw (cr, &drawing);
  cairo_destroy (cr);
  return gtk_snapshot_free_to_node (snapshot);
}

static cairo_t *
begin_end (BedYardElevation *self, GtkSnapshot *snapshot, const BedLogEnd *it, double *radius)
{
  BedPoint at = bed_viewport_to_screen (&self->view, it->middle);
  double r = it->radius * self->view.scale, out = r + 16;
  graphene_rect_t bounds = GRAPHENE_RECT_INIT ((float) (at.x - out), (float) (at.y - out),
                                               (float) (2 * out), (float) (2 * out));
  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &bounds);

  cairo_translate (cr, at.x, at.y);
  *radius = r;
  return cr;
}

/* A ring around the place that has the frame. */
static void
draw_ring (BedYardElevation *self, GtkSnapshot *snapshot, const BedLogEnd *at)
{
  double radius;
  cairo_t *cr = begin_end (self, snapshot, at, &radius);

  cairo_arc (cr, 0, 0, radius + 2.5, 0, 2 * G_PI);
  bed_colour_stroke (cr, &self->style.palette->accent, 1, 2.5);
  cairo_destroy (cr);
}

/* The log in the hand hovers, a little raised, over the place it would go to. */
static void
draw_hand (BedYardElevation *self, GtkSnapshot *snapshot, const BedLogEnd *at)
{
  const BedYardLog *log = get_log (self, self->lifted);
  double radius;

  if (!log)
    return;
  double own = log->diameter / 2 * self->view.scale;
  cairo_t *cr = begin_end (self, snapshot, at, &radius);
  cairo_arc (cr, 2, 3, own, 0, 2 * G_PI);
  cairo_set_source_rgba (cr, 0, 0, 0, 0.3);
  cairo_fill (cr);
  bed_log_end_draw (cr, log, (BedPoint){ -1, -5 }, own, &self->style);
  cairo_destroy (cr);
}

static void
bed_yard_elevation_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  BedYardElevation *self = BED_YARD_ELEVATION (widget);

  if (!self->elevation)
    return;
  const BedLogEnd *at = self->at >= 0 ? bed_elevation_end (self->elevation, self->at) : NULL;
  if (!self->still)
    self->still = draw_still (self);
  gtk_snapshot_append_node (snapshot, self->still);
  if (at && self->lifted >= 0)
    draw_hand (self, snapshot, at);
  if (at)
    draw_ring (self, snapshot, at);
}

/* --- size and spots ------------------------------------------------------------- */

/* As high as the faces are at the width given, within reason. */
static void
bed_yard_elevation_measure (GtkWidget *widget, GtkOrientation orientation, int for_size,
                            int *minimum, int *natural, int *minimum_baseline,
                            int *natural_baseline)
{
  BedYardElevation *self = BED_YARD_ELEVATION (widget);
  double width = for_size > 0 ? for_size : 320;

  *minimum = orientation == GTK_ORIENTATION_HORIZONTAL ? 200 : 120;
  *natural = 320;
  if (orientation == GTK_ORIENTATION_VERTICAL && self->elevation && self->elevation->width > 0)
    *natural = (int) CLAMP ((width - 2 * MARGIN) * self->elevation->height / self->elevation->width
                                + 2 * MARGIN,
                            120, 900);
  *natural = MAX (*natural, *minimum);
}

static GtkSizeRequestMode
bed_yard_elevation_get_request_mode (GtkWidget *widget)
{
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

static void
allocate_spot (BedYardElevation *self, guint i)
{
  const BedLogEnd *end = bed_elevation_end (self->elevation, i);
  BedPoint at = bed_viewport_to_screen (&self->view, end->middle);
  double r = MAX (1, end->radius * self->view.scale);
  graphene_point_t corner = GRAPHENE_POINT_INIT ((float) (at.x - r), (float) (at.y - r));

  gtk_widget_measure (self->spots->pdata[i], GTK_ORIENTATION_HORIZONTAL, -1, NULL, NULL, NULL,
                      NULL);
  gtk_widget_allocate (self->spots->pdata[i], (int) (2 * r), (int) (2 * r), -1,
                       gsk_transform_translate (NULL, &corner));
}

static void
bed_yard_elevation_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  BedYardElevation *self = BED_YARD_ELEVATION (widget);

  self->view.width = width;
  self->view.height = height;
  g_clear_pointer (&self->still, gsk_render_node_unref);
  if (!self->elevation || width <= 0 || height <= 0)
    return;
  BedExtent extent = { 0, 0, self->elevation->width, self->elevation->height };
  bed_viewport_fit (&self->view, &extent, MARGIN);
  for (guint i = 0; i < self->spots->len; i++)
    allocate_spot (self, i);
}

static void
spot_focused_cb (BedYardElevation *self, BedYardSpot *spot)
{
  go_to (self, (int) bed_yard_spot_get_id (spot));
}

static void
pick_or_drop (BedYardElevation *self)
{
  const BedYardLog *log = get_log (self, self->lifted >= 0 ? self->lifted : self->at);

  if (!log || self->mode == BED_YARD_LOOK)
    return;
  if (self->lifted < 0)
    set_lifted (self, self->at);
  else if (self->at == self->lifted)
    set_lifted (self, -1);
  else
    set_down (self, log->id, self->at);
}

static void
spot_pressed_cb (BedYardElevation *self, BedYardSpot *spot)
{
  go_to (self, (int) bed_yard_spot_get_id (spot));
  pick_or_drop (self);
}

static void
name_spot (BedYardElevation *self, GtkWidget *spot, guint i)
{
  const BedBar *bar = bed_elevation_get_bar (self->elevation, i);
  const BedYardLog *log = bar->log;
  g_autofree char *name
      = log ? g_strdup_printf (_ ("Tier %u, slot %u, log %s"), bar->tier, bar->slot, log->code)
            : g_strdup_printf (_ ("Tier %u, slot %u, free"), bar->tier, bar->slot);
  g_autofree char *size = log ? bed_measure_format_unit_said (BED_MEASURE_LENGTH, &self->notation,
                                                              llround (log->diameter * 1e6))
                              : g_strdup ("");

  bed_yard_spot_set_words (BED_YARD_SPOT (spot), name, size);
}

static void
update_spots (BedYardElevation *self)
{
  guint n = self->elevation ? self->elevation->ends->len : 0;

  while (self->spots->len > n)
    gtk_widget_unparent (g_ptr_array_steal_index (self->spots, self->spots->len - 1));
  while (self->spots->len < n)
    {
      GtkWidget *spot = bed_yard_spot_new (self->spots->len);
      gtk_widget_set_parent (spot, GTK_WIDGET (self));
      g_signal_connect_swapped (spot, "focused", G_CALLBACK (spot_focused_cb), self);
      g_signal_connect_swapped (spot, "pressed", G_CALLBACK (spot_pressed_cb), self);
      g_ptr_array_add (self->spots, spot);
    }
  for (guint i = 0; i < n; i++)
    name_spot (self, self->spots->pdata[i], i);
}

/* Tab comes in to the place with the frame and goes out again: arrows walk inside. */
static gboolean
bed_yard_elevation_focus (GtkWidget *widget, GtkDirectionType direction)
{
  BedYardElevation *self = BED_YARD_ELEVATION (widget);

  if (gtk_widget_get_focus_child (widget) || self->spots->len == 0)
    return FALSE;
  return gtk_widget_grab_focus (self->spots->pdata[MAX (self->at, 0)]);
}

/* --- keys and pointer ----------------------------------------------------------- */

static gboolean
step (BedYardElevation *self, BedDirection direction)
{
  guint next = bed_elevation_step (self->elevation, (guint) self->at, direction);

  gtk_widget_grab_focus (self->spots->pdata[next]);
  return TRUE;
}

static gboolean
take_out_key (BedYardElevation *self)
{
  const BedYardLog *log = get_log (self, self->at);

  if (!log || self->mode == BED_YARD_LOOK)
    return FALSE;
  set_lifted (self, -1);
  g_signal_emit_by_name (self, "log-taken-out", log->id);
  return TRUE;
}

static gboolean
key_cb (BedYardElevation *self, guint key, guint code, GdkModifierType state)
{
  if (!self->elevation || self->at < 0 || state & (GDK_CONTROL_MASK | GDK_ALT_MASK))
    return FALSE;
  switch (key)
    {
    case GDK_KEY_Left:
      return step (self, BED_TO_LEFT);
    case GDK_KEY_Right:
      return step (self, BED_TO_RIGHT);
    case GDK_KEY_Up:
      return step (self, BED_TO_UP);
    case GDK_KEY_Down:
      return step (self, BED_TO_DOWN);
    case GDK_KEY_Return:
    case GDK_KEY_KP_Enter:
      pick_or_drop (self);
      return TRUE;
    case GDK_KEY_Escape:
      if (self->lifted < 0)
        return FALSE;
      set_lifted (self, -1);
      return TRUE;
    case GDK_KEY_Delete:
      return take_out_key (self);
    default:
      return FALSE;
    }
}

static void
click_cb (BedYardElevation *self, int n_press, double x, double y)
{
  int end = hit (self, x, y);

  if (end >= 0)
    gtk_widget_grab_focus (self->spots->pdata[end]);
  else
    go_to (self, -1);
}

static GdkContentProvider *
drag_prepare_cb (BedYardElevation *self, double x, double y)
{
  int end = hit (self, x, y);
  const BedYardLog *log = get_log (self, end);

  if (!log || self->mode == BED_YARD_LOOK)
    return NULL;
  go_to (self, end);
  return gdk_content_provider_new_typed (G_TYPE_INT64, log->id);
}

/* The picture under the pointer is the log's own end. */
static void
drag_begin_cb (BedYardElevation *self, GdkDrag *drag, GtkDragSource *source)
{
  const BedYardLog *log = get_log (self, self->at);

  if (!log)
    return;
  double radius = log->diameter / 2 * self->view.scale;
  graphene_size_t size = GRAPHENE_SIZE_INIT ((float) (2 * radius), (float) (2 * radius));
  GtkSnapshot *snapshot = gtk_snapshot_new ();
  cairo_t *cr
      = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, size.width, size.height));
  bed_log_end_draw (cr, log, (BedPoint){ radius, radius }, radius, &self->style);
  cairo_destroy (cr);
  g_autoptr (GdkPaintable) picture = gtk_snapshot_free_to_paintable (snapshot, &size);
  gtk_drag_source_set_icon (source, picture, (int) radius, (int) radius);
  set_lifted (self, self->at);
}

static void
drag_end_cb (BedYardElevation *self)
{
  set_lifted (self, -1);
}

static gboolean
drop_cb (BedYardElevation *self, const GValue *value, double x, double y)
{
  if (!self->stack || self->mode == BED_YARD_LOOK)
    return FALSE;
  set_down (self, g_value_get_int64 (value), hit (self, x, y));
  return TRUE;
}

static gboolean
query_tooltip_cb (BedYardElevation *self, int x, int y, gboolean keyboard, GtkTooltip *tooltip)
{
  const BedBar *bar = get_bar (self, hit (self, x, y));

  if (!bar || keyboard)
    return FALSE;
  g_autofree char *text = g_strdup_printf (
      _ ("%s\nTier %u, slot %u"), bar->log ? bar->log->code : _ ("Free"), bar->tier, bar->slot);
  gtk_tooltip_set_text (tooltip, text);
  return TRUE;
}

static void
palette_cb (BedYardElevation *self)
{
  gboolean dark = adw_style_manager_get_dark (adw_style_manager_get_default ());

  self->style.palette = bed_palette_get (dark ? BED_PALETTE_DARK : BED_PALETTE_LIGHT);
  forget_still (self);
}

/* --- type ----------------------------------------------------------------------- */

static void
bed_yard_elevation_dispose (GObject *object)
{
  BedYardElevation *self = BED_YARD_ELEVATION (object);

  g_clear_pointer (&self->elevation, bed_elevation_free);
  update_spots (self);
  g_clear_pointer (&self->still, gsk_render_node_unref);
  G_OBJECT_CLASS (bed_yard_elevation_parent_class)->dispose (object);
}

static void
bed_yard_elevation_finalize (GObject *object)
{
  BedYardElevation *self = BED_YARD_ELEVATION (object);

  g_ptr_array_unref (self->spots);
  bed_typesetter_free (self->type);
  G_OBJECT_CLASS (bed_yard_elevation_parent_class)->finalize (object);
}

static void
bed_yard_elevation_class_init (BedYardElevationClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = bed_yard_elevation_dispose;
  G_OBJECT_CLASS (klass)->finalize = bed_yard_elevation_finalize;
  widget_class->snapshot = bed_yard_elevation_snapshot;
  widget_class->measure = bed_yard_elevation_measure;
  widget_class->get_request_mode = bed_yard_elevation_get_request_mode;
  widget_class->size_allocate = bed_yard_elevation_size_allocate;
  widget_class->focus = bed_yard_elevation_focus;
  bed_signal_new (BED_TYPE_YARD_ELEVATION, "log-selected", 1, G_TYPE_INT64);
  bed_signal_new (BED_TYPE_YARD_ELEVATION, "log-moved", 3, G_TYPE_INT64, G_TYPE_UINT, G_TYPE_UINT);
  bed_signal_new (BED_TYPE_YARD_ELEVATION, "log-taken-out", 1, G_TYPE_INT64);
  gtk_widget_class_set_css_name (widget_class, "elevation");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_LIST);
}

static void
add_controllers (BedYardElevation *self)
{
  GtkWidget *widget = GTK_WIDGET (self);
  GtkEventController *keys = gtk_event_controller_key_new ();
  GtkGesture *click = gtk_gesture_click_new ();
  GtkDragSource *source = gtk_drag_source_new ();
  GtkDropTarget *drop = gtk_drop_target_new (G_TYPE_INT64, GDK_ACTION_MOVE);

  g_signal_connect_swapped (keys, "key-pressed", G_CALLBACK (key_cb), self);
  gtk_widget_add_controller (widget, keys);
  g_signal_connect_swapped (click, "pressed", G_CALLBACK (click_cb), self);
  gtk_widget_add_controller (widget, GTK_EVENT_CONTROLLER (click));
  gtk_drag_source_set_actions (source, GDK_ACTION_MOVE);
  g_signal_connect_swapped (source, "prepare", G_CALLBACK (drag_prepare_cb), self);
  g_signal_connect_swapped (source, "drag-begin", G_CALLBACK (drag_begin_cb), self);
  g_signal_connect_swapped (source, "drag-end", G_CALLBACK (drag_end_cb), self);
  gtk_widget_add_controller (widget, GTK_EVENT_CONTROLLER (source));
  g_signal_connect_swapped (drop, "drop", G_CALLBACK (drop_cb), self);
  gtk_widget_add_controller (widget, GTK_EVENT_CONTROLLER (drop));
}

static void
bed_yard_elevation_init (BedYardElevation *self)
{
  self->spots = g_ptr_array_new ();
  self->type = bed_typesetter_new ();
  self->style = (BedYardStyle){ .type = self->type, .text_size = TEXT_SIZE };
  self->at = self->lifted = -1;
  self->mode = BED_YARD_CHANGE;
  gtk_widget_set_has_tooltip (GTK_WIDGET (self), TRUE);
  g_signal_connect (self, "query-tooltip", G_CALLBACK (query_tooltip_cb), NULL);
  g_signal_connect_object (adw_style_manager_get_default (), "notify::dark",
                           G_CALLBACK (palette_cb), self, G_CONNECT_SWAPPED);
  palette_cb (self);
  add_controllers (self);
}

/* --- public --------------------------------------------------------------------- */

GtkWidget *
bed_yard_elevation_new (BedFacesFlow flow)
{
  BedYardElevation *self = g_object_new (BED_TYPE_YARD_ELEVATION, NULL);

  self->flow = flow;
  return GTK_WIDGET (self);
}

void
bed_yard_elevation_set_stack (BedYardElevation *self, const BedYardStack *stack,
                              const BedNotation *notation)
{
  g_return_if_fail (BED_IS_YARD_ELEVATION (self));
  gint64 framed = bed_yard_elevation_get_log (self);

  g_clear_pointer (&self->elevation, bed_elevation_free);
  self->stack = stack;
  self->lifted = self->at = -1;
  if (notation)
    self->notation = *notation;
  if (stack)
    {
      self->elevation = bed_elevation_new (stack, self->flow);
      update_spots (self); /* without a stack they stay: the keyboard waits for the next one */
    }
  if (stack && framed)
    self->at = bed_elevation_find_log (self->elevation, framed);
  g_autofree char *name
      = g_strdup_printf (_ ("Elevation of %s"), stack && stack->name ? stack->name : "");
  bed_named (GTK_WIDGET (self), name);
  forget_still (self);
  gtk_widget_queue_resize (GTK_WIDGET (self));
}

void
bed_yard_elevation_set_colour_by (BedYardElevation *self, BedColourBy colour_by)
{
  g_return_if_fail (BED_IS_YARD_ELEVATION (self));
  self->style.colour_by = colour_by;
  forget_still (self);
}

void
bed_yard_elevation_set_mode (BedYardElevation *self, BedYardMode mode)
{
  g_return_if_fail (BED_IS_YARD_ELEVATION (self));
  self->mode = mode;
  set_lifted (self, -1);
}

gint64
bed_yard_elevation_get_log (BedYardElevation *self)
{
  g_return_val_if_fail (BED_IS_YARD_ELEVATION (self), 0);
  const BedYardLog *log = get_log (self, self->at);

  return log ? log->id : 0;
}

void
bed_yard_elevation_select_log (BedYardElevation *self, gint64 log)
{
  g_return_if_fail (BED_IS_YARD_ELEVATION (self));
  if (self->elevation)
    go_to (self, bed_elevation_find_log (self->elevation, log));
}
