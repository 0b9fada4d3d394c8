#include "app/yard/yard_view_private.h"

#include <adwaita.h>
#include <glib/gi18n.h>
#include <math.h>

#include "app/desk/style_palette.h"
#include "app/widgets/build.h"
#include "app/widgets/plot.h"
#include "app/yard/yard_spot.h"
#include "model/farm/kinds.h"
#include "model/farm/say.h"
#include "science/units.h"

#define TEXT_SIZE 11.0
#define FIT_MARGIN 24.0

/* Looking about is over when the view was still for this long. */
#define REST 150 /* ms */

G_DEFINE_FINAL_TYPE (BedYardView, bed_yard_view, GTK_TYPE_WIDGET)

static void
bed_yard_view_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  BedYardView *self = BED_YARD_VIEW (widget);

  if (!self->scene || self->view.width <= 0)
    return;
  gtk_snapshot_push_clip (
      snapshot, &GRAPHENE_RECT_INIT (0, 0, (float) self->view.width, (float) self->view.height));
  bed_yard_view_draw (self, snapshot);
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
      const BedShape *shape
          = bed_thing_find_shape (self->index, &g_array_index (self->walk, BedThing, i));
      BedExtent extent = bed_shape_extent (shape);
      BedPoint at
          = bed_viewport_to_screen (&self->view, (BedPoint){ extent.x, extent.y + extent.height });
      float left = floorf ((float) at.x), top = floorf ((float) at.y);
      double right = ceil (at.x + extent.width * self->view.scale);
      double bottom = ceil (at.y + extent.height * self->view.scale);
      gtk_widget_measure (self->spots->pdata[i], GTK_ORIENTATION_HORIZONTAL, -1, NULL, NULL, NULL,
                          NULL);
      gtk_widget_allocate (self->spots->pdata[i], (int) MAX (1, right - left),
                           (int) MAX (1, bottom - top), -1,
                           gsk_transform_translate (NULL, &GRAPHENE_POINT_INIT (left, top)));
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
  double scale = self->view.scale, was = self->view.width;

  self->view.width = width;
  self->view.height = height;
  if (self->scene && !self->own_view && width > 0 && height > 0)
    {
      BedExtent extent = bed_yard_bounds (self->scene);
      bed_viewport_fit (&self->view, &extent, FIT_MARGIN);
    }
  if (!self->zoomed_source && (scale != self->view.scale || was != width))
    self->zoomed_source = g_idle_add (zoomed_cb, self);
  if (self->scene)
    allocate_spots (self);
}

/* Tab walks what stands there, from the first when coming in, from the last when coming back; by
 * Ctrl+Tab one leaves all of it at once. */
static gboolean
bed_yard_view_focus (GtkWidget *widget, GtkDirectionType direction)
{
  BedYardView *self = BED_YARD_VIEW (widget);
  int n = (int) self->spots->len, at = bed_yard_view_find_focused (self);
  gboolean inside = at >= 0 || gtk_widget_is_focus (widget);

  if (self->is_leaving || (direction != GTK_DIR_TAB_FORWARD && direction != GTK_DIR_TAB_BACKWARD))
    return FALSE;
  if (n == 0)
    return !inside && gtk_widget_grab_focus (widget);
  if (direction == GTK_DIR_TAB_FORWARD)
    at = at + 1;
  else
    at = inside ? MAX (at, 0) - 1 : n - 1;
  return at >= 0 && at < n && gtk_widget_grab_focus (self->spots->pdata[at]);
}

static const BedThing *
get_thing (BedYardView *self, GtkWidget *spot)
{
  for (guint i = 0; i < self->spots->len; i++)
    if (self->spots->pdata[i] == spot)
      return &g_array_index (self->walk, BedThing, i);
  return NULL;
}

/* Brings the box in sight; nothing moves when it is. */
static void
show_extent (BedYardView *self, const BedExtent *extent)
{
  BedPoint low = bed_viewport_to_screen (&self->view, (BedPoint){ extent->x, extent->y });
  BedPoint high = bed_viewport_to_screen (
      &self->view, (BedPoint){ extent->x + extent->width, extent->y + extent->height });
  double dx = 0, dy = 0;

  if (self->view.width <= 0)
    return;
  if (low.x < 0)
    dx = FIT_MARGIN - low.x;
  else if (high.x > self->view.width)
    dx = self->view.width - FIT_MARGIN - high.x;
  if (high.y < 0)
    dy = FIT_MARGIN - high.y;
  else if (low.y > self->view.height)
    dy = self->view.height - FIT_MARGIN - low.y;
  if (dx != 0 || dy != 0)
    bed_yard_view_pan (self, dx, dy);
}

static void
spot_focused_cb (BedYardView *self, GtkWidget *spot)
{
  const BedThing *thing = get_thing (self, spot);
  const BedShape *shape = thing ? bed_thing_find_shape (self->index, thing) : NULL;

  gtk_widget_queue_draw (GTK_WIDGET (self));
  if (!shape)
    return;
  BedExtent extent = bed_shape_extent (shape);
  show_extent (self, &extent);
}

static void
spot_pressed_cb (BedYardView *self, GtkWidget *spot)
{
  const BedThing *thing = get_thing (self, spot);
  g_autoptr (GArray) one = bed_things_new ();

  if (!thing)
    return;
  g_array_append_vals (one, thing, 1);
  gtk_widget_grab_focus (spot);
  bed_yard_view_choose (self, one);
}

/* "2.0 from the west, …" */
static char *
say_where (BedYardView *self, BedPoint at, double turn)
{
  double unit = bed_yard_unit (self->style.system);

  /* TRANSLATORS: two lengths in the unit that follows them ("m"), then an angle */
  return bed_say (_ ("%.1f from the west, %.1f from the south (%s), "
                     "turned %.0f degrees"),
                  at.x / unit, at.y / unit,
                  bed_measure_unit (BED_MEASURE_LENGTH_LONG, self->style.system),
                  turn * 180 / G_PI);
}

static void
name_stack (BedYardView *self, GtkWidget *spot, const BedYardStack *stack)
{
  const BedField *field = bed_kind_find_field (BED_KIND_STACK, "kind", NULL);
  g_autofree char *contents = bed_yard_stack_contents (stack);
  const char *kind = bed_field_choice_label (field, bed_stack_kind_key (stack->kind));
  g_autofree char *name = g_strdup_printf ("%s, %s, %s", stack->name, kind, contents);
  g_autofree char *where
      = say_where (self, (BedPoint){ stack->pose.x, stack->pose.y }, stack->pose.turn);
  g_autofree char *advice = bed_yard_view_dup_advice (self, stack->id);
  g_autofree char *description = g_strjoin (*advice ? ". " : "", where, advice, NULL);

  bed_yard_spot_set_words (BED_YARD_SPOT (spot), name, description);
}

static void
name_feature (BedYardView *self, GtkWidget *spot, const BedShape *shape)
{
  const BedYardFeature *feature = self->yard->features->pdata[shape->owner];
  const BedField *field = bed_kind_find_field (BED_KIND_FEATURE, "kind", NULL);
  const char *word = bed_field_choice_label (field, bed_feature_kind_key (feature->kind));
  g_autofree char *size = bed_ground_describe (&feature->ground, &self->notation);
  g_autofree char *name = feature->label
                              ? g_strdup_printf ("%s, %s, %s", feature->label, word, size)
                              : g_strdup_printf ("%s, %s", word, size);
  BedExtent extent = bed_shape_extent (shape);
  g_autofree char *where = say_where (
      self, (BedPoint){ extent.x + extent.width / 2, extent.y + extent.height / 2 }, 0);

  bed_yard_spot_set_words (BED_YARD_SPOT (spot), name, where);
}

void
bed_yard_view_name_spot (BedYardView *self, guint i)
{
  const BedThing *thing = &g_array_index (self->walk, BedThing, i);
  const BedShape *shape = bed_thing_find_shape (self->index, thing);

  if (thing->kind == BED_THING_STACK)
    name_stack (self, self->spots->pdata[i], self->yard->stacks->pdata[shape->owner]);
  else
    name_feature (self, self->spots->pdata[i], shape);
}

static GtkWidget *
spot_new (BedYardView *self)
{
  GtkWidget *spot = bed_yard_spot_new (0);

  gtk_widget_set_parent (spot, GTK_WIDGET (self));
  g_signal_connect_swapped (spot, "focused", G_CALLBACK (spot_focused_cb), self);
  g_signal_connect_swapped (spot, "pressed", G_CALLBACK (spot_pressed_cb), self);
  return spot;
}

/* The spots by the thing they were of, which go when nobody takes them. */
static GHashTable *
take_spots (BedYardView *self)
{
  GHashTable *by_thing = bed_things_table_new ();

  for (guint i = 0; i < self->spots->len; i++)
    g_hash_table_insert (by_thing, &g_array_index (self->walk, BedThing, i), self->spots->pdata[i]);
  return by_thing;
}

/* A spot for each thing, in the order they are walked; those that stay keep the keyboard. */
static void
update_spots (BedYardView *self)
{
  g_autoptr (GHashTable) by_thing = take_spots (self);
  g_autoptr (GPtrArray) old = g_steal_pointer (&self->spots);
  g_autoptr (GArray) walked G_GNUC_UNUSED = g_steal_pointer (&self->walk); /* holds the keys */

  self->spots = g_ptr_array_sized_new (old->len);
  self->walk = self->scene ? bed_things_in_order (self->scene) : bed_things_new ();
  for (guint i = 0; i < self->walk->len; i++)
    {
      const BedThing *thing = &g_array_index (self->walk, BedThing, i);
      GtkWidget *spot = g_hash_table_lookup (by_thing, thing);
      GtkWidget *before = i > 0 ? self->spots->pdata[i - 1] : NULL;
      if (spot)
        g_hash_table_remove (by_thing, thing);
      else
        spot = spot_new (self);
      if (gtk_widget_get_prev_sibling (spot) != before)
        gtk_widget_insert_after (spot, GTK_WIDGET (self), before);
      g_ptr_array_add (self->spots, spot);
      bed_yard_view_name_spot (self, i);
    }
  GHashTableIter iter;
  gpointer spot;
  g_hash_table_iter_init (&iter, by_thing);
  while (g_hash_table_iter_next (&iter, NULL, &spot))
    gtk_widget_unparent (spot);
}

static gboolean
query_tooltip_cb (BedYardView *self, int x, int y, gboolean keyboard, GtkTooltip *tooltip)
{
  if (!self->scene || keyboard || self->hold != BED_HOLD_NOTHING)
    return FALSE;
  BedThing thing
      = bed_things_hit (self->scene, bed_viewport_to_world (&self->view, (BedPoint){ x, y }), 0);
  gint64 warned = bed_yard_view_hit_advice (self, (BedPoint){ x, y });
  int index = warned                          ? bed_yard_view_find (self, warned)
              : thing.kind == BED_THING_STACK ? bed_yard_view_find (self, thing.id)
                                              : -1;
  if (index < 0 || thing.id == bed_yard_view_get_selected (self)) /* the panel says it all */
    return FALSE;
  const BedYardStack *stack = self->yard->stacks->pdata[index];
  g_autofree char *said = warned ? bed_yard_view_dup_advice (self, warned)
                                 : bed_yard_stack_contents (stack);
  g_autofree char *text = g_strdup_printf ("%s\n%s", stack->name, said);
  gtk_tooltip_set_text (tooltip, text);
  return TRUE;
}

/* All of it looks otherwise. */
static void
restyle (BedYardView *self)
{
  if (self->tiles)
    bed_yard_tiles_refresh (self->tiles);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
palette_cb (BedYardView *self)
{
  self->style.palette = bed_style_palette ();
  restyle (self);
}

/* The letters may be other ones. */
static void
bed_yard_view_css_changed (GtkWidget *widget, GtkCssStyleChange *change)
{
  BedYardView *self = BED_YARD_VIEW (widget);

  GTK_WIDGET_CLASS (bed_yard_view_parent_class)->css_changed (widget, change);
  double size = TEXT_SIZE * bed_plot_growth (widget);
  if (size == self->style.text_size)
    return;
  self->style.text_size = size;
  g_clear_pointer (&self->names, bed_yard_names_free);
  if (self->scene)
    self->names = bed_yard_names_new (self->scene, &self->style);
  restyle (self);
}

/* --- type ----------------------------------------------------------------------- */

static void
free_yard (BedYardView *self)
{
  bed_yard_view_stop_looking (self);
  g_clear_pointer (&self->names, bed_yard_names_free);
  g_clear_pointer (&self->index, g_hash_table_unref);
  g_clear_pointer (&self->scene, bed_scene_free);
  g_clear_pointer (&self->yard, bed_yard_free);
}

static void
bed_yard_view_dispose (GObject *object)
{
  BedYardView *self = BED_YARD_VIEW (object);

  bed_yard_view_let_go (self);
  g_clear_handle_id (&self->zoomed_source, g_source_remove);
  g_clear_handle_id (&self->rest_source, g_source_remove);
  free_yard (self);
  update_spots (self);
  g_clear_pointer (&self->tiles, bed_yard_tiles_free);
  G_OBJECT_CLASS (bed_yard_view_parent_class)->dispose (object);
}

static void
bed_yard_view_finalize (GObject *object)
{
  BedYardView *self = BED_YARD_VIEW (object);

  g_ptr_array_unref (self->spots);
  g_array_unref (self->walk);
  g_array_unref (self->chosen);
  g_array_unref (self->ground.points);
  g_clear_pointer (&self->from.points, g_array_unref);
  g_clear_pointer (&self->drawn, g_hash_table_unref);
  g_clear_pointer (&self->looks, g_hash_table_unref);
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
  widget_class->css_changed = bed_yard_view_css_changed;
  bed_signal_new (BED_TYPE_YARD_VIEW, "chosen", 0);
  bed_signal_new (BED_TYPE_YARD_VIEW, "opened", 2, G_TYPE_UINT, G_TYPE_INT64);
  bed_signal_new (BED_TYPE_YARD_VIEW, "carried", 1, G_TYPE_POINTER);
  bed_signal_new (BED_TYPE_YARD_VIEW, "built", 2, G_TYPE_UINT, G_TYPE_POINTER);
  bed_signal_new (BED_TYPE_YARD_VIEW, "logs-dropped", 2, G_TYPE_INT64, G_TYPE_POINTER);
  bed_signal_new (BED_TYPE_YARD_VIEW, "drawn", 2, G_TYPE_UINT, G_TYPE_POINTER);
  bed_signal_new (BED_TYPE_YARD_VIEW, "shaped", 2, G_TYPE_INT64, G_TYPE_POINTER);
  bed_signal_new (BED_TYPE_YARD_VIEW, "remove", 0);
  bed_signal_new (BED_TYPE_YARD_VIEW, "duplicate", 0);
  bed_signal_new (BED_TYPE_YARD_VIEW, "typed", 1, G_TYPE_UINT);
  bed_signal_new (BED_TYPE_YARD_VIEW, "advised", 0);
  bed_signal_new (BED_TYPE_YARD_VIEW, "hand", 0);
  bed_signal_new (BED_TYPE_YARD_VIEW, "zoomed", 0);
  gtk_widget_class_set_css_name (widget_class, "yard");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_LIST);
}

static void
bed_yard_view_init (BedYardView *self)
{
  self->spots = g_ptr_array_new ();
  self->walk = bed_things_new ();
  self->chosen = bed_things_new ();
  self->type = bed_typesetter_new ();
  self->ground.points = g_array_new (FALSE, FALSE, sizeof (BedPoint));
  self->mode = BED_YARD_CHANGE;
  self->notation = (BedNotation){ BED_SYSTEM_METRIC, '.', 2 };
  self->style
      = (BedYardStyle){ .type = self->type, .text_size = TEXT_SIZE, .detail = BED_DETAIL_BY_SCALE };
  gtk_widget_set_overflow (GTK_WIDGET (self), GTK_OVERFLOW_HIDDEN);
  gtk_widget_set_has_tooltip (GTK_WIDGET (self), TRUE);
  gtk_widget_set_focusable (GTK_WIDGET (self), TRUE);
  g_signal_connect (self, "query-tooltip", G_CALLBACK (query_tooltip_cb), NULL);
  g_signal_connect_object (adw_style_manager_get_default (), "notify::dark",
                           G_CALLBACK (palette_cb), self, G_CONNECT_SWAPPED);
  palette_cb (self);
  bed_yard_view_init_input (self);
  bed_yard_view_init_keys (self);
}

/* --- shared with the hand ------------------------------------------------------- */

int
bed_yard_view_find (BedYardView *self, gint64 stack)
{
  const BedShape *shape = self->index && stack ? bed_thing_find_shape (
                              self->index, &(BedThing){ BED_THING_STACK, stack })
                                               : NULL;

  return shape ? (int) shape->owner : -1;
}

int
bed_yard_view_find_focused (BedYardView *self)
{
  GtkWidget *focused = gtk_widget_get_focus_child (GTK_WIDGET (self));

  for (guint i = 0; focused && i < self->spots->len; i++)
    if (self->spots->pdata[i] == focused)
      return gtk_widget_is_focus (focused) ? (int) i : -1;
  return -1;
}

void
bed_yard_view_focus_thing (BedYardView *self, const BedThing *thing)
{
  int at = bed_things_find (self->walk, thing);

  gtk_widget_grab_focus (at < 0 ? GTK_WIDGET (self) : self->spots->pdata[at]);
}

double
bed_yard_view_grid (BedYardView *self)
{
  return self->style.system == BED_SYSTEM_US ? bed_yard_unit (BED_SYSTEM_US) / 4 : 0.1;
}

static gboolean
rest_cb (gpointer data)
{
  BedYardView *self = data;

  self->rest_source = 0;
  gtk_widget_queue_allocate (GTK_WIDGET (self));
  return G_SOURCE_REMOVE;
}

void
bed_yard_view_view_changed (BedYardView *self)
{
  self->own_view = TRUE;
  if (self->picture)
    bed_yard_view_take_picture (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
  g_clear_handle_id (&self->rest_source, g_source_remove);
  self->rest_source = g_timeout_add (REST, rest_cb, self);
  g_signal_emit_by_name (self, "zoomed");
}

/* --- public --------------------------------------------------------------------- */

GtkWidget *
bed_yard_view_new (void)
{
  return g_object_new (BED_TYPE_YARD_VIEW, NULL);
}

static void
use_yard (BedYardView *self, BedYard *yard)
{
  self->yard = yard;
  if (!yard)
    return;
  self->scene = bed_scene_new (yard);
  self->scene->grid = bed_yard_view_grid (self);
  self->index = bed_things_index (self->scene);
  self->names = bed_yard_names_new (self->scene, &self->style);
  bed_yard_view_begin_looking (self);
}

void
bed_yard_view_set_yard (BedYardView *self, BedYard *yard)
{
  g_return_if_fail (BED_IS_YARD_VIEW (self));
  guint n = self->chosen->len;

  if (!yard || !self->yard || yard->id != self->yard->id)
    {
      self->own_view = FALSE;
      g_clear_pointer (&self->drawn, g_hash_table_unref);
      g_clear_pointer (&self->looks, g_hash_table_unref);
    }
  bed_yard_view_let_go (self);
  self->on_handle = FALSE;
  free_yard (self);
  use_yard (self, yard);
  update_spots (self);
  g_autofree char *name = g_strdup_printf (_ ("Yard %s"), yard && yard->name ? yard->name : "");
  bed_named (GTK_WIDGET (self), name);
  if (self->tiles)
    bed_yard_view_show_changes (self);
  bed_things_keep (self->chosen, self->index);
  if (self->chosen->len != n)
    g_signal_emit_by_name (self, "chosen");
  gtk_widget_queue_allocate (GTK_WIDGET (self));
  bed_yard_view_hand_changed (self);
}

BedYard *
bed_yard_view_get_yard (BedYardView *self)
{
  g_return_val_if_fail (BED_IS_YARD_VIEW (self), NULL);
  return self->yard;
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
  if (self->drawn)
    bed_yard_view_note_drawn (self);
  restyle (self);
}

void
bed_yard_view_set_notation (BedYardView *self, const BedNotation *notation)
{
  g_return_if_fail (BED_IS_YARD_VIEW (self));
  self->notation = *notation;
  self->style.system = notation->system;
}

void
bed_yard_view_set_mode (BedYardView *self, BedYardMode mode)
{
  g_return_if_fail (BED_IS_YARD_VIEW (self));
  self->mode = mode;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

const GArray *
bed_yard_view_get_chosen (BedYardView *self)
{
  g_return_val_if_fail (BED_IS_YARD_VIEW (self), NULL);
  return self->chosen;
}

void
bed_yard_view_choose (BedYardView *self, const GArray *things)
{
  g_return_if_fail (BED_IS_YARD_VIEW (self));
  if (bed_things_are_same (things, self->chosen))
    return;
  g_array_set_size (self->chosen, 0);
  if (things->len > 0)
    g_array_append_vals (self->chosen, things->data, things->len);
  g_signal_emit_by_name (self, "chosen");
  bed_yard_view_hand_changed (self);
}

void
bed_yard_view_choose_all (BedYardView *self)
{
  g_return_if_fail (BED_IS_YARD_VIEW (self));
  bed_yard_view_choose (self, self->walk);
}

gint64
bed_yard_view_get_selected (BedYardView *self)
{
  g_return_val_if_fail (BED_IS_YARD_VIEW (self), 0);
  BedThing one = bed_things_get_only (self->chosen);

  return one.kind == BED_THING_STACK ? one.id : 0;
}

void
bed_yard_view_select (BedYardView *self, gint64 stack)
{
  g_autoptr (GArray) things = bed_things_new ();
  BedThing thing = { BED_THING_STACK, stack };

  if (stack)
    g_array_append_val (things, thing);
  bed_yard_view_choose (self, things);
}

void
bed_yard_view_show_chosen (BedYardView *self)
{
  g_return_if_fail (BED_IS_YARD_VIEW (self));
  if (self->chosen->len == 0 || !self->index)
    return;
  BedExtent extent = bed_group_extent (self->scene, self->chosen);
  show_extent (self, &extent);
}

void
bed_yard_view_focus_selected (BedYardView *self)
{
  g_return_if_fail (BED_IS_YARD_VIEW (self));
  BedThing thing = { BED_THING_STACK, bed_yard_view_get_selected (self) };

  bed_yard_view_focus_thing (self, &thing);
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
bed_yard_view_pan (BedYardView *self, double dx, double dy)
{
  g_return_if_fail (BED_IS_YARD_VIEW (self));
  bed_viewport_pan (&self->view, dx, dy);
  bed_yard_view_view_changed (self);
}

void
bed_yard_view_fit (BedYardView *self)
{
  g_return_if_fail (BED_IS_YARD_VIEW (self));
  self->own_view = FALSE;
  gtk_widget_queue_allocate (GTK_WIDGET (self));
}

double
bed_yard_view_get_scale (BedYardView *self)
{
  g_return_val_if_fail (BED_IS_YARD_VIEW (self), 0);
  return self->view.scale;
}
