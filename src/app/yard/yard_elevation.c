#include "app/yard/yard_elevation_private.h"

#include <adwaita.h>
#include <glib/gi18n.h>
#include <math.h>

#include "app/desk/style_palette.h"
#include "app/widgets/build.h"
#include "app/widgets/plot.h"
#include "app/yard/yard_spot.h"
#include "science/units.h"

#define MARGIN 6.0

G_DEFINE_FINAL_TYPE (BedYardElevation, bed_yard_elevation, GTK_TYPE_WIDGET)

/* --- what is where -------------------------------------------------------------- */

const BedBar *
bed_yard_elevation_bar_at (BedYardElevation *self, int end)
{
  return end >= 0 && self->elevation ? bed_elevation_get_bar (self->elevation, (guint) end) : NULL;
}

const BedYardLog *
bed_yard_elevation_log_at (BedYardElevation *self, int end)
{
  const BedBar *bar = bed_yard_elevation_bar_at (self, end);
  return bar ? bar->log : NULL;
}

int
bed_yard_elevation_hit (BedYardElevation *self, double x, double y)
{
  BedPoint at = bed_viewport_to_world (&self->view, (BedPoint){ x, y });

  return self->elevation ? bed_elevation_hit (self->elevation, at) : -1;
}

void
bed_yard_elevation_forget_still (BedYardElevation *self)
{
  g_clear_pointer (&self->still, gsk_render_node_unref);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
bed_yard_elevation_go_to (BedYardElevation *self, int end)
{
  const BedYardLog *log = bed_yard_elevation_log_at (self, end);

  if (end == self->at)
    return;
  self->at = end;
  gtk_widget_queue_draw (GTK_WIDGET (self));
  g_signal_emit_by_name (self, "log-selected", log ? log->id : G_GINT64_CONSTANT (0));
}

/* --- drawing -------------------------------------------------------------------- */

static GskRenderNode *
draw_still (BedYardElevation *self)
{
  GtkSnapshot *snapshot = gtk_snapshot_new ();
  BedElevationDrawing drawing
      = { self->elevation, &self->style, self->view, self->lifted ? self->chosen : NULL };
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

/* A ring around a place: the one that has the frame, or one that is chosen. */
static void
draw_ring (BedYardElevation *self, GtkSnapshot *snapshot, const BedLogEnd *at, double out)
{
  double radius;
  cairo_t *cr = begin_end (self, snapshot, at, &radius);

  cairo_arc (cr, 0, 0, radius + out, 0, 2 * G_PI);
  bed_colour_stroke (cr, &self->style.palette->accent, 1, 2.5);
  cairo_destroy (cr);
}

static void
draw_chosen (BedYardElevation *self, GtkSnapshot *snapshot)
{
  for (guint i = 0; i < self->elevation->ends->len; i++)
    {
      const BedLogEnd *end = bed_elevation_end (self->elevation, i);
      double radius;
      if (!bed_yard_elevation_is_chosen (self, bed_yard_elevation_log_at (self, (int) i)))
        continue;
      cairo_t *cr = begin_end (self, snapshot, end, &radius);
      cairo_arc (cr, 0, 0, radius, 0, 2 * G_PI);
      bed_colour_fill (cr, &self->style.palette->accent, 0.35);
      cairo_destroy (cr);
      draw_ring (self, snapshot, end, 0.5);
    }
}

/* How many there are, beside a log in the hand. */
void
bed_yard_elevation_draw_count (BedYardElevation *self, cairo_t *cr, double x, double y)
{
  g_autofree char *count = g_strdup_printf ("%u", self->chosen->len);
  double width = bed_text_width (self->type, count, BED_WEIGHT_BOLD, self->style.text_size);

  if (self->chosen->len < 2)
    return;
  cairo_arc (cr, x, y, MAX (9, width / 2 + 4), 0, 2 * G_PI);
  bed_colour_fill (cr, &self->style.palette->accent, 1);
  cairo_set_source_rgb (cr, 1, 1, 1);
  bed_text_show (self->type, cr, count, BED_WEIGHT_BOLD, self->style.text_size, x - width / 2,
                 y + bed_text_cap_height (self->type, self->style.text_size) / 2);
}

/* What is in the hand hovers, a little raised, over the place it would go to. */
static void
draw_hand (BedYardElevation *self, GtkSnapshot *snapshot, const BedLogEnd *at)
{
  int end = bed_elevation_find_log (self->elevation, g_array_index (self->chosen, gint64, 0));
  const BedYardLog *log = bed_yard_elevation_log_at (self, end);
  double radius;

  if (!log)
    return;
  double own = log->diameter / 2 * self->view.scale;
  cairo_t *cr = begin_end (self, snapshot, at, &radius);
  cairo_arc (cr, 2, 3, own, 0, 2 * G_PI);
  cairo_set_source_rgba (cr, 0, 0, 0, 0.3);
  cairo_fill (cr);
  bed_log_end_draw (cr, log, (BedPoint){ -1, -5 }, own, &self->style);
  bed_yard_elevation_draw_count (self, cr, own, -own);
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
  if (!self->lifted)
    draw_chosen (self, snapshot);
  if (at && self->lifted && self->chosen->len > 0)
    draw_hand (self, snapshot, at);
  if (at)
    draw_ring (self, snapshot, at, 3.5);
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

  *minimum = orientation == GTK_ORIENTATION_HORIZONTAL ? 180 : 120;
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
  bed_yard_elevation_go_to (self, (int) bed_yard_spot_get_id (spot));
}

static void
spot_pressed_cb (BedYardElevation *self, BedYardSpot *spot)
{
  bed_yard_elevation_go_to (self, (int) bed_yard_spot_get_id (spot));
  bed_yard_elevation_pick_or_drop (self);
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
query_tooltip_cb (BedYardElevation *self, int x, int y, gboolean keyboard, GtkTooltip *tooltip)
{
  const BedBar *bar = bed_yard_elevation_bar_at (self, bed_yard_elevation_hit (self, x, y));

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
  self->style.palette = bed_style_palette ();
  bed_yard_elevation_forget_still (self);
}

/* The letters may be other ones. */
static void
bed_yard_elevation_css_changed (GtkWidget *widget, GtkCssStyleChange *change)
{
  BedYardElevation *self = BED_YARD_ELEVATION (widget);

  GTK_WIDGET_CLASS (bed_yard_elevation_parent_class)->css_changed (widget, change);
  double size = BED_ELEVATION_TEXT * bed_plot_growth (widget);
  if (size == self->style.text_size)
    return;
  self->style.text_size = size;
  bed_yard_elevation_forget_still (self);
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
  g_array_unref (self->chosen);
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
  widget_class->css_changed = bed_yard_elevation_css_changed;
  bed_signal_new (BED_TYPE_YARD_ELEVATION, "log-selected", 1, G_TYPE_INT64);
  bed_signal_new (BED_TYPE_YARD_ELEVATION, "log-opened", 1, G_TYPE_INT64);
  bed_signal_new (BED_TYPE_YARD_ELEVATION, "logs-chosen", 1, G_TYPE_UINT);
  bed_signal_new (BED_TYPE_YARD_ELEVATION, "logs-moved", 3, G_TYPE_POINTER, G_TYPE_UINT,
                  G_TYPE_UINT);
  bed_signal_new (BED_TYPE_YARD_ELEVATION, "logs-taken-out", 1, G_TYPE_POINTER);
  gtk_widget_class_set_css_name (widget_class, "elevation");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_LIST);
}

static void
bed_yard_elevation_init (BedYardElevation *self)
{
  self->spots = g_ptr_array_new ();
  self->type = bed_typesetter_new ();
  self->style = (BedYardStyle){ .type = self->type, .text_size = BED_ELEVATION_TEXT };
  self->at = self->anchor = -1;
  self->chosen = g_array_new (FALSE, FALSE, sizeof (gint64));
  self->mode = BED_YARD_CHANGE;
  gtk_widget_set_has_tooltip (GTK_WIDGET (self), TRUE);
  g_signal_connect (self, "query-tooltip", G_CALLBACK (query_tooltip_cb), NULL);
  g_signal_connect_object (adw_style_manager_get_default (), "notify::dark",
                           G_CALLBACK (palette_cb), self, G_CONNECT_SWAPPED);
  palette_cb (self);
  bed_yard_elevation_init_input (self);
}

/* --- public --------------------------------------------------------------------- */

GtkWidget *
bed_yard_elevation_new (BedFacesFlow flow)
{
  BedYardElevation *self = g_object_new (BED_TYPE_YARD_ELEVATION, NULL);

  self->flow = flow;
  return GTK_WIDGET (self);
}

/* What lies elsewhere now is chosen no more. */
static void
keep_chosen (BedYardElevation *self)
{
  for (guint i = self->chosen->len; i-- > 0;)
    if (bed_elevation_find_log (self->elevation, g_array_index (self->chosen, gint64, i)) < 0)
      g_array_remove_index (self->chosen, i);
}

void
bed_yard_elevation_set_stack (BedYardElevation *self, const BedYardStack *stack,
                              const BedNotation *notation)
{
  g_return_if_fail (BED_IS_YARD_ELEVATION (self));
  gint64 framed = bed_yard_elevation_get_log (self);

  g_clear_pointer (&self->elevation, bed_elevation_free);
  self->stack = stack;
  self->at = self->anchor = -1;
  self->lifted = FALSE;
  if (notation)
    {
      self->notation = *notation;
      self->style.system = notation->system;
    }
  if (stack)
    {
      self->elevation = bed_elevation_new (stack, self->flow);
      update_spots (self); /* without a stack they stay: the keyboard waits for the next one */
    }
  if (stack && framed)
    self->at = bed_elevation_find_log (self->elevation, framed);
  if (stack)
    keep_chosen (self);
  g_autofree char *name
      = g_strdup_printf (_ ("Elevation of %s"), stack && stack->name ? stack->name : "");
  bed_named (GTK_WIDGET (self), name);
  bed_yard_elevation_forget_still (self);
  gtk_widget_queue_resize (GTK_WIDGET (self));
}

void
bed_yard_elevation_set_colour_by (BedYardElevation *self, BedColourBy colour_by)
{
  g_return_if_fail (BED_IS_YARD_ELEVATION (self));
  self->style.colour_by = colour_by;
  bed_yard_elevation_forget_still (self);
}

void
bed_yard_elevation_set_mode (BedYardElevation *self, BedYardMode mode)
{
  g_return_if_fail (BED_IS_YARD_ELEVATION (self));
  self->mode = mode;
  bed_yard_elevation_set_lifted (self, FALSE);
}

gint64
bed_yard_elevation_get_log (BedYardElevation *self)
{
  g_return_val_if_fail (BED_IS_YARD_ELEVATION (self), 0);
  const BedYardLog *log = bed_yard_elevation_log_at (self, self->at);

  return log ? log->id : 0;
}

void
bed_yard_elevation_select_log (BedYardElevation *self, gint64 log)
{
  g_return_if_fail (BED_IS_YARD_ELEVATION (self));
  if (self->elevation)
    bed_yard_elevation_go_to (self, bed_elevation_find_log (self->elevation, log));
}
