#include "app/yard/yard_view_private.h"

#include <adwaita.h>
#include <glib/gi18n.h>
#include <math.h>

#include "app/widgets/build.h"
#include "app/yard/yard_spot.h"
#include "model/farm/kinds.h"
#include "science/units.h"

#define TEXT_SIZE 11.0
#define FIT_MARGIN 36.0
#define HANDLE_OUT 20.0 /* how far the turning handle stands off the footprint, px */

G_DEFINE_FINAL_TYPE (BedYardView, bed_yard_view, GTK_TYPE_WIDGET)

/* --- what is drawn -------------------------------------------------------------- */

/* The area, its features and every stack but the one in the hand: kept as a node until the
 * scene, the view, the colours or the hand change. */
static GskRenderNode *
draw_still (BedYardView *self)
{
  GtkSnapshot *snapshot = gtk_snapshot_new ();
  graphene_rect_t bounds
      = GRAPHENE_RECT_INIT (0, 0, (float) self->view.width, (float) self->view.height);
  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &bounds);
  BedPlan plan = { self->scene, &self->style, self->view };

  bed_plan_draw (cr, &plan, self->moving);
  cairo_destroy (cr);
  self->still_without = self->moving;
  return gtk_snapshot_free_to_node (snapshot);
}

static graphene_rect_t
bounds_of (const BedPoint *points, guint n, double margin)
{
  double left = G_MAXDOUBLE, right = -G_MAXDOUBLE, top = G_MAXDOUBLE, bottom = -G_MAXDOUBLE;

  for (guint i = 0; i < n; i++)
    {
      left = MIN (left, points[i].x);
      right = MAX (right, points[i].x);
      top = MIN (top, points[i].y);
      bottom = MAX (bottom, points[i].y);
    }
  return GRAPHENE_RECT_INIT ((float) floor (left - margin), (float) floor (top - margin),
                             (float) ceil (right - left + 2 * margin + 1),
                             (float) ceil (bottom - top + 2 * margin + 1));
}

/* Begins a drawing that holds those points. */
static cairo_t *
draw_over (GtkSnapshot *snapshot, const BedPoint *points, guint n, double margin)
{
  graphene_rect_t bounds = bounds_of (points, n, margin);

  return gtk_snapshot_append_cairo (snapshot, &bounds);
}

static void
get_corners (BedYardView *self, const BedScene *scene, int index, BedPoint corners[4])
{
  const BedYardStack *stack = scene->yard->stacks->pdata[index];
  const BedPose *pose = index == self->moving ? &self->pose : &stack->pose;

  bed_yard_footprint (scene, (guint) index, pose, corners);
  for (guint i = 0; i < 4; i++)
    corners[i] = bed_viewport_to_screen (&self->view, corners[i]);
}

/* The selected stack's frame, its handle, and the frame of the one with the keyboard. */
static void
draw_frame (BedYardView *self, GtkSnapshot *snapshot, int index, const BedPoint *handle)
{
  const BedScene *scene = bed_yard_view_hand_scene (self);
  BedPoint corners[5];

  get_corners (self, scene, index, corners);
  corners[4] = handle ? *handle : corners[0];
  cairo_t *cr = draw_over (snapshot, corners, 5, 10);
  for (guint i = 0; i < 4; i++)
    cairo_line_to (cr, corners[i].x, corners[i].y);
  cairo_close_path (cr);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  bed_colour_stroke (cr, &self->style.palette->accent, handle ? 1 : 0.6, 2);
  if (handle)
    {
      cairo_move_to (cr, (corners[1].x + corners[2].x) / 2, (corners[1].y + corners[2].y) / 2);
      cairo_line_to (cr, handle->x, handle->y);
      cairo_set_line_width (cr, 1.5);
      cairo_stroke (cr);
      cairo_arc (cr, handle->x, handle->y, 5, 0, 2 * G_PI);
      cairo_fill (cr);
    }
  cairo_destroy (cr);
}

/* The stack in the hand: its own picture, carried to where it would stand. */
static void
draw_moving (BedYardView *self, GtkSnapshot *snapshot)
{
  const BedScene *scene = bed_yard_view_hand_scene (self);
  const BedYardStack *stack = scene->yard->stacks->pdata[self->moving];
  BedPlan plan = { scene, &self->style, self->view };
  BedPoint corners[4];
  BedPoint was = bed_viewport_to_screen (&self->view, (BedPoint){ stack->pose.x, stack->pose.y });
  BedPoint is = bed_viewport_to_screen (&self->view, (BedPoint){ self->pose.x, self->pose.y });

  get_corners (self, scene, self->moving, corners);
  cairo_t *cr = draw_over (snapshot, corners, 4, 12);
  cairo_translate (cr, is.x, is.y);
  cairo_rotate (cr, -(self->pose.turn - stack->pose.turn)); /* the screen's y runs down */
  cairo_translate (cr, -was.x, -was.y);
  bed_plan_draw_stack (cr, &plan, (guint) self->moving);
  cairo_destroy (cr);
}

/* How far it is to the nearest other stack, along a line. */
static void
draw_distance (BedYardView *self, GtkSnapshot *snapshot)
{
  BedMeasurement found;
  int other = bed_yard_nearest (bed_yard_view_hand_scene (self), (guint) self->moving, &self->pose,
                                &found);

  if (other < 0 || found.distance > 4 || found.distance < 0.01)
    return;
  BedPoint ends[] = { bed_viewport_to_screen (&self->view, found.from),
                      bed_viewport_to_screen (&self->view, found.to) };
  cairo_t *cr = draw_over (snapshot, ends, 2, 60);
  cairo_move_to (cr, ends[0].x, ends[0].y);
  cairo_line_to (cr, ends[1].x, ends[1].y);
  bed_colour_stroke (cr, &self->style.palette->accent, 1, 1.5);
  g_autofree char *label
      = g_strdup_printf ("%.1f %s", found.distance / bed_yard_unit (self->style.system),
                         bed_measure_unit (BED_MEASURE_LENGTH_LONG, self->style.system));
  double width = bed_text_width (self->type, label, BED_WEIGHT_BOLD, TEXT_SIZE);
  bed_colour_set (cr, &self->style.palette->text, 1);
  bed_text_show (self->type, cr, label, BED_WEIGHT_BOLD, TEXT_SIZE,
                 (ends[0].x + ends[1].x - width) / 2, (ends[0].y + ends[1].y) / 2 - 5);
  cairo_destroy (cr);
}

/* The corner under the pointer shows that it can be taken. */
static void
draw_corner (BedYardView *self, GtkSnapshot *snapshot)
{
  const BedPoint *point = bed_corner_get_point (self->yard, &self->corner);

  if (!point)
    return;
  BedPoint at = bed_viewport_to_screen (&self->view, *point);
  cairo_t *cr = draw_over (snapshot, &at, 1, 10);
  cairo_rectangle (cr, at.x - 5, at.y - 5, 10, 10);
  bed_colour_set (cr, &self->style.palette->accent, 0.3);
  cairo_fill_preserve (cr);
  bed_colour_stroke (cr, &self->style.palette->accent, 1, 2);
  cairo_destroy (cr);
}

static void
bed_yard_view_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  BedYardView *self = BED_YARD_VIEW (widget);
  int selected = bed_yard_view_find (self, self->selected);
  int focused = bed_yard_view_find_focused (self);
  BedPoint handle;

  if (!self->scene)
    return;
  if (self->still && self->still_without != self->moving)
    g_clear_pointer (&self->still, gsk_render_node_unref);
  if (!self->still)
    self->still = draw_still (self);
  gtk_snapshot_push_clip (
      snapshot, &GRAPHENE_RECT_INIT (0, 0, (float) self->view.width, (float) self->view.height));
  gtk_snapshot_append_node (snapshot, self->still);
  if (self->moving >= 0)
    {
      draw_moving (self, snapshot);
      draw_distance (self, snapshot);
    }
  if (self->beside >= 0 && self->moving >= 0)
    draw_frame (self, snapshot, self->beside, NULL);
  if (self->hold == BED_HOLD_KIND)
    draw_frame (self, snapshot, self->moving, NULL);
  else if (focused >= 0 && focused != selected && gtk_widget_has_visible_focus (widget))
    draw_frame (self, snapshot, focused, NULL);
  if (selected >= 0)
    draw_frame (self, snapshot, selected, bed_yard_view_handle (self, &handle) ? &handle : NULL);
  if (self->on_corner)
    draw_corner (self, snapshot);
  gtk_snapshot_pop (snapshot);
}

/* --- size and spots ------------------------------------------------------------- */

static void
bed_yard_view_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                       int *natural, int *minimum_baseline, int *natural_baseline)
{
  *minimum = orientation == GTK_ORIENTATION_HORIZONTAL ? 240 : 200;
  *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? 720 : 540;
}

static void
allocate_spots (BedYardView *self)
{
  for (guint i = 0; i < self->spots->len; i++)
    {
      BedPoint corners[4];
      get_corners (self, self->scene, (int) i, corners);
      graphene_rect_t bounds = bounds_of (corners, 4, 0);
      GskTransform *at = gsk_transform_translate (NULL, &bounds.origin);
      gtk_widget_measure (self->spots->pdata[i], GTK_ORIENTATION_HORIZONTAL, -1, NULL, NULL, NULL,
                          NULL);
      gtk_widget_allocate (self->spots->pdata[i], (int) MAX (1, bounds.size.width),
                           (int) MAX (1, bounds.size.height), -1, at);
    }
}

/* Whoever shows the scale asks for a new size: not while this one is being given its own. */
static gboolean
zoomed_cb (gpointer data)
{
  BedYardView *self = data;

  self->zoomed_source = 0;
  g_signal_emit_by_name (self, "zoomed");
  return G_SOURCE_REMOVE;
}

static void
bed_yard_view_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  BedYardView *self = BED_YARD_VIEW (widget);

  if (self->view.width != width || self->view.height != height)
    {
      self->view.width = width;
      self->view.height = height;
      g_clear_pointer (&self->still, gsk_render_node_unref);
    }
  if (self->scene && !self->own_view && width > 0 && height > 0)
    {
      BedExtent extent = bed_yard_bounds (self->scene);
      double scale = self->view.scale;
      bed_viewport_fit (&self->view, &extent, FIT_MARGIN);
      g_clear_pointer (&self->still, gsk_render_node_unref);
      if (!self->zoomed_source && scale != self->view.scale)
        self->zoomed_source = g_idle_add (zoomed_cb, self);
    }
  if (self->scene)
    allocate_spots (self);
}

/* Tab walks the stacks, from the first when coming in, from the last when coming back. */
static gboolean
bed_yard_view_focus (GtkWidget *widget, GtkDirectionType direction)
{
  BedYardView *self = BED_YARD_VIEW (widget);
  int n = (int) self->spots->len, at = bed_yard_view_find_focused (self);
  gboolean inside = at >= 0 || gtk_widget_is_focus (widget);

  if (direction != GTK_DIR_TAB_FORWARD && direction != GTK_DIR_TAB_BACKWARD)
    return FALSE;
  if (n == 0)
    return !inside && gtk_widget_grab_focus (widget);
  if (direction == GTK_DIR_TAB_FORWARD)
    at = at + 1;
  else
    at = inside ? MAX (at, 0) - 1 : n - 1;
  return at >= 0 && at < n && gtk_widget_grab_focus (self->spots->pdata[at]);
}

static void
spot_focused_cb (BedYardView *self)
{
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
spot_pressed_cb (BedYardView *self, BedYardSpot *spot)
{
  gtk_widget_grab_focus (GTK_WIDGET (spot));
  bed_yard_view_select (self, bed_yard_spot_get_id (spot));
}

static void
name_spot (BedYardView *self, GtkWidget *spot, const BedYardStack *stack)
{
  const BedField *field = bed_kind_find_field (BED_KIND_STACK, "kind", NULL);
  g_autofree char *contents = bed_yard_stack_contents (stack);
  const char *kind = bed_field_choice_label (field, bed_stack_kind_key (stack->kind));
  g_autofree char *name = g_strdup_printf ("%s, %s, %s", stack->name, kind, contents);
  double unit = bed_yard_unit (self->style.system);
  /* TRANSLATORS: two lengths in the unit that follows them ("m"), then an angle */
  g_autofree char *where
      = g_strdup_printf (_ ("%.1f from the west, %.1f from the south (%s), "
                            "turned %.0f degrees"),
                         stack->pose.x / unit, stack->pose.y / unit,
                         bed_measure_unit (BED_MEASURE_LENGTH_LONG, self->style.system),
                         stack->pose.turn * 180 / G_PI);

  bed_yard_spot_set_words (BED_YARD_SPOT (spot), name, where);
}

/* A spot for each stack; those that stay keep the keyboard. */
static void
update_spots (BedYardView *self)
{
  g_autoptr (GPtrArray) old = g_steal_pointer (&self->spots);

  self->spots = g_ptr_array_new ();
  for (guint i = 0; self->yard && i < self->yard->stacks->len; i++)
    {
      const BedYardStack *stack = self->yard->stacks->pdata[i];
      GtkWidget *spot = NULL;
      for (guint j = 0; j < old->len && !spot; j++)
        if (bed_yard_spot_get_id (old->pdata[j]) == stack->id)
          spot = g_ptr_array_steal_index (old, j);
      if (!spot)
        {
          spot = bed_yard_spot_new (stack->id);
          gtk_widget_set_parent (spot, GTK_WIDGET (self));
          g_signal_connect_swapped (spot, "focused", G_CALLBACK (spot_focused_cb), self);
          g_signal_connect_swapped (spot, "pressed", G_CALLBACK (spot_pressed_cb), self);
        }
      name_spot (self, spot, stack);
      g_ptr_array_add (self->spots, spot);
    }
  for (guint j = 0; j < old->len; j++)
    gtk_widget_unparent (old->pdata[j]);
}

static gboolean
query_tooltip_cb (BedYardView *self, int x, int y, gboolean keyboard, GtkTooltip *tooltip)
{
  if (!self->scene || keyboard || self->hold != BED_HOLD_NOTHING)
    return FALSE;
  int index
      = bed_yard_hit (self->scene, bed_viewport_to_world (&self->view, (BedPoint){ x, y }), 0);
  if (index < 0)
    return FALSE;
  const BedYardStack *stack = self->yard->stacks->pdata[index];
  if (stack->id == self->selected) /* the panel says it all */
    return FALSE;
  g_autofree char *contents = bed_yard_stack_contents (stack);
  g_autofree char *text = g_strdup_printf ("%s\n%s", stack->name, contents);
  gtk_tooltip_set_text (tooltip, text);
  return TRUE;
}

static void
palette_cb (BedYardView *self)
{
  gboolean dark = adw_style_manager_get_dark (adw_style_manager_get_default ());

  self->style.palette = bed_palette_get (dark ? BED_PALETTE_DARK : BED_PALETTE_LIGHT);
  bed_yard_view_ground_changed (self);
}

/* --- type ----------------------------------------------------------------------- */

static void
free_yard (BedYardView *self)
{
  g_clear_pointer (&self->scene, bed_scene_free);
  g_clear_pointer (&self->yard, bed_yard_free);
}

static void
bed_yard_view_dispose (GObject *object)
{
  BedYardView *self = BED_YARD_VIEW (object);

  bed_yard_view_let_go (self);
  g_clear_handle_id (&self->zoomed_source, g_source_remove);
  free_yard (self);
  update_spots (self);
  g_clear_pointer (&self->still, gsk_render_node_unref);
  G_OBJECT_CLASS (bed_yard_view_parent_class)->dispose (object);
}

static void
bed_yard_view_finalize (GObject *object)
{
  BedYardView *self = BED_YARD_VIEW (object);

  g_ptr_array_unref (self->spots);
  bed_typesetter_free (self->type);
  G_OBJECT_CLASS (bed_yard_view_parent_class)->finalize (object);
}

static void
bed_yard_view_class_init (BedYardViewClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = bed_yard_view_dispose;
  G_OBJECT_CLASS (klass)->finalize = bed_yard_view_finalize;
  widget_class->snapshot = bed_yard_view_snapshot;
  widget_class->measure = bed_yard_view_measure;
  widget_class->size_allocate = bed_yard_view_size_allocate;
  widget_class->focus = bed_yard_view_focus;
  bed_signal_new (BED_TYPE_YARD_VIEW, "selected", 1, G_TYPE_INT64);
  bed_signal_new (BED_TYPE_YARD_VIEW, "opened", 1, G_TYPE_INT64);
  bed_signal_new (BED_TYPE_YARD_VIEW, "moved", 2, G_TYPE_INT64, G_TYPE_POINTER);
  bed_signal_new (BED_TYPE_YARD_VIEW, "built", 2, G_TYPE_UINT, G_TYPE_POINTER);
  bed_signal_new (BED_TYPE_YARD_VIEW, "log-dropped", 2, G_TYPE_INT64, G_TYPE_INT64);
  bed_signal_new (BED_TYPE_YARD_VIEW, "shaped", 2, G_TYPE_POINTER, G_TYPE_POINTER);
  bed_signal_new (BED_TYPE_YARD_VIEW, "zoomed", 0);
  gtk_widget_class_set_css_name (widget_class, "yard");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_LIST);
}

static void
bed_yard_view_init (BedYardView *self)
{
  self->spots = g_ptr_array_new ();
  self->type = bed_typesetter_new ();
  self->moving = self->beside = -1;
  self->mode = BED_YARD_CHANGE;
  self->style = (BedYardStyle){ .type = self->type, .text_size = TEXT_SIZE };
  gtk_widget_set_overflow (GTK_WIDGET (self), GTK_OVERFLOW_HIDDEN);
  gtk_widget_set_has_tooltip (GTK_WIDGET (self), TRUE);
  gtk_widget_set_focusable (GTK_WIDGET (self), TRUE);
  g_signal_connect (self, "query-tooltip", G_CALLBACK (query_tooltip_cb), NULL);
  g_signal_connect_object (adw_style_manager_get_default (), "notify::dark",
                           G_CALLBACK (palette_cb), self, G_CONNECT_SWAPPED);
  palette_cb (self);
  bed_yard_view_init_input (self);
}

/* --- shared with the input ------------------------------------------------------ */

int
bed_yard_view_find (BedYardView *self, gint64 stack)
{
  guint index;

  return self->yard && stack && bed_yard_find_stack (self->yard, stack, &index) ? (int) index : -1;
}

int
bed_yard_view_find_focused (BedYardView *self)
{
  for (guint i = 0; i < self->spots->len; i++)
    if (gtk_widget_is_focus (self->spots->pdata[i]))
      return (int) i;
  return -1;
}

const BedScene *
bed_yard_view_hand_scene (BedYardView *self)
{
  return self->new_scene ? self->new_scene : self->scene;
}

double
bed_yard_view_grid (BedYardView *self)
{
  return self->style.system == BED_SYSTEM_US ? bed_yard_unit (BED_SYSTEM_US) / 4 : 0.1;
}

gboolean
bed_yard_view_handle (BedYardView *self, BedPoint *at)
{
  int index = bed_yard_view_find (self, self->selected);
  BedPoint corners[4];

  if (index < 0 || self->mode == BED_YARD_LOOK || self->hold == BED_HOLD_KIND)
    return FALSE;
  get_corners (self, self->scene, index, corners);
  const BedYardStack *stack = self->yard->stacks->pdata[index];
  double turn = index == self->moving ? self->pose.turn : stack->pose.turn;
  at->x = (corners[1].x + corners[2].x) / 2 + HANDLE_OUT * cos (turn);
  at->y = (corners[1].y + corners[2].y) / 2 - HANDLE_OUT * sin (turn);
  return TRUE;
}

void
bed_yard_view_ground_changed (BedYardView *self)
{
  g_clear_pointer (&self->still, gsk_render_node_unref);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
bed_yard_view_view_changed (BedYardView *self)
{
  self->own_view = TRUE;
  bed_yard_view_ground_changed (self);
  gtk_widget_queue_allocate (GTK_WIDGET (self));
  g_signal_emit_by_name (self, "zoomed");
}

/* --- public --------------------------------------------------------------------- */

GtkWidget *
bed_yard_view_new (void)
{
  return g_object_new (BED_TYPE_YARD_VIEW, NULL);
}

void
bed_yard_view_set_yard (BedYardView *self, BedYard *yard)
{
  g_return_if_fail (BED_IS_YARD_VIEW (self));
  if (!yard || !self->yard || yard->id != self->yard->id)
    self->own_view = FALSE;
  bed_yard_view_let_go (self);
  self->on_corner = FALSE;
  free_yard (self);
  self->yard = yard;
  self->scene = yard ? bed_scene_new (yard) : NULL;
  if (yard)
    self->scene->grid = bed_yard_view_grid (self);
  update_spots (self);
  g_autofree char *name = g_strdup_printf (_ ("Yard %s"), yard && yard->name ? yard->name : "");
  bed_named (GTK_WIDGET (self), name);
  if (bed_yard_view_find (self, self->selected) < 0)
    bed_yard_view_select (self, 0);
  gtk_widget_queue_allocate (GTK_WIDGET (self));
  bed_yard_view_ground_changed (self);
}

const BedScene *
bed_yard_view_get_scene (BedYardView *self)
{
  g_return_val_if_fail (BED_IS_YARD_VIEW (self), NULL);
  return self->scene;
}

void
bed_yard_view_set_colour_by (BedYardView *self, BedColourBy colour_by)
{
  g_return_if_fail (BED_IS_YARD_VIEW (self));
  self->style.colour_by = colour_by;
  bed_yard_view_ground_changed (self);
}

void
bed_yard_view_set_system (BedYardView *self, BedSystem system)
{
  g_return_if_fail (BED_IS_YARD_VIEW (self));
  self->style.system = system;
  bed_yard_view_ground_changed (self);
}

void
bed_yard_view_set_mode (BedYardView *self, BedYardMode mode)
{
  g_return_if_fail (BED_IS_YARD_VIEW (self));
  self->mode = mode;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

gint64
bed_yard_view_get_selected (BedYardView *self)
{
  g_return_val_if_fail (BED_IS_YARD_VIEW (self), 0);
  return self->selected;
}

void
bed_yard_view_select (BedYardView *self, gint64 stack)
{
  g_return_if_fail (BED_IS_YARD_VIEW (self));
  if (stack == self->selected)
    return;
  self->selected = stack;
  gtk_widget_queue_draw (GTK_WIDGET (self));
  g_signal_emit_by_name (self, "selected", stack);
}

void
bed_yard_view_focus_selected (BedYardView *self)
{
  g_return_if_fail (BED_IS_YARD_VIEW (self));
  int index = bed_yard_view_find (self, self->selected);

  gtk_widget_grab_focus (index < 0 ? GTK_WIDGET (self) : self->spots->pdata[index]);
}

void
bed_yard_view_zoom (BedYardView *self, double factor)
{
  g_return_if_fail (BED_IS_YARD_VIEW (self));
  bed_viewport_zoom (&self->view, factor,
                     (BedPoint){ self->view.width / 2, self->view.height / 2 });
  bed_yard_view_view_changed (self);
}

void
bed_yard_view_fit (BedYardView *self)
{
  g_return_if_fail (BED_IS_YARD_VIEW (self));
  self->own_view = FALSE;
  bed_yard_view_ground_changed (self);
  gtk_widget_queue_allocate (GTK_WIDGET (self));
}

double
bed_yard_view_get_scale (BedYardView *self)
{
  g_return_val_if_fail (BED_IS_YARD_VIEW (self), 0);
  return self->view.scale;
}
