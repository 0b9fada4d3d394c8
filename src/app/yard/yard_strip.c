#include "app/yard/yard_strip.h"

#include <glib/gi18n.h>

#include "app/desk/style_palette.h"
#include "app/widgets/build.h"
#include "app/yard/yard_view.h"
#include "model/farm/kinds.h"
#include "model/farm/query.h"
#include "print/yard/yard_draw.h"
#include "yard/ground.h"

#define SKETCH_WIDTH 46
#define SKETCH_HEIGHT 26
#define GROUND_SIZE 20

struct _BedYardStrip
{
  BedPart parent_instance;
  GtkWidget *scroller;
  GtkWidget *areas;    /* GtkListBox */
  GtkWidget *features; /* GtkListBox */
  GtkWidget *builds;
  GtkWidget *draws;
  GPtrArray *words; /* GtkWidget hidden where there is little room; borrowed */
};

G_DEFINE_FINAL_TYPE (BedYardStrip, bed_yard_strip, BED_TYPE_PART)

/* --- rows ----------------------------------------------------------------------- */

static void
set_row_id (GtkWidget *row, gint64 id)
{
  g_object_set_data_full (G_OBJECT (row), "id", g_memdup2 (&id, sizeof id), g_free);
}

static gint64
get_row_id (GtkListBoxRow *row)
{
  const gint64 *id = g_object_get_data (G_OBJECT (row), "id");
  return id ? *id : 0;
}

static GtkWidget *
row_new (const char *name, gint64 id)
{
  GtkWidget *row = gtk_list_box_row_new (), *label = gtk_label_new (name);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_lines (GTK_LABEL (label), 3);
  bed_cut_off (label);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), label);
  bed_named (row, name);
  gtk_widget_set_tooltip_text (row, name); /* where there is no room for it */
  set_row_id (row, id);
  return row;
}

static void
clear_list (GtkWidget *list)
{
  GtkWidget *row;

  while ((row = gtk_widget_get_first_child (list)))
    gtk_list_box_remove (GTK_LIST_BOX (list), row);
}

static void
area_activated_cb (BedYardStrip *self, GtkListBoxRow *row)
{
  g_signal_emit_by_name (self, "area", get_row_id (row));
}

static void
feature_activated_cb (BedYardStrip *self, GtkListBoxRow *row)
{
  g_signal_emit_by_name (self, "feature", get_row_id (row));
}

static void
new_area_cb (BedYardStrip *self)
{
  g_signal_emit_by_name (self, "edit", BED_KIND_AREA, G_GINT64_CONSTANT (0));
}

static void
edit_area_cb (BedYardStrip *self)
{
  GtkListBoxRow *row = gtk_list_box_get_selected_row (GTK_LIST_BOX (self->areas));

  if (row)
    g_signal_emit_by_name (self, "edit", BED_KIND_AREA, get_row_id (row));
}

/* --- kinds ---------------------------------------------------------------------- */

static void
draw_sketch_cb (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  BedYardStyle style = { bed_style_palette (), NULL, BED_COLOUR_BY_BATCH, 11 };
  BedBox box = { 0, 0, width, height };

  bed_stack_sketch_draw (cr, GPOINTER_TO_UINT (data), &box, &style);
}

static void
build_clicked_cb (GtkWidget *button, BedYardStrip *self)
{
  g_signal_emit_by_name (self, "build",
                         GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (button), "kind")));
}

static GdkContentProvider *
build_prepare_cb (GtkDragSource *source, double x, double y, gpointer kind)
{
  return gdk_content_provider_new_typed (G_TYPE_UINT, GPOINTER_TO_UINT (kind));
}

/* What is dragged looks like what it will be. */
static void
build_drag_begin_cb (GtkDragSource *source, GdkDrag *drag, GtkWidget *sketch)
{
  g_autoptr (GdkPaintable) picture = gtk_widget_paintable_new (sketch);

  gtk_drag_source_set_icon (source, picture, SKETCH_WIDTH / 2, SKETCH_HEIGHT / 2);
}

static GtkWidget *
build_new (BedYardStrip *self, BedStackKind kind)
{
  const BedField *field = bed_kind_find_field (BED_KIND_STACK, "kind", NULL);
  const char *word = bed_field_choice_label (field, bed_stack_kind_key (kind));
  /* TRANSLATORS: "Build: crib" */
  g_autofree char *name = g_strdup_printf (_ ("Build: %s"), word);
  GtkWidget *button = bed_styled (gtk_button_new (), "flat");
  GtkWidget *sketch
      = bed_sketch_new (SKETCH_WIDTH, SKETCH_HEIGHT, draw_sketch_cb, GUINT_TO_POINTER (kind), NULL);
  GtkDragSource *source = gtk_drag_source_new ();

  GtkWidget *label = gtk_label_new (word);
  g_ptr_array_add (self->words, label);
  gtk_button_set_child (GTK_BUTTON (button), bed_row_new (9, sketch, label, NULL));
  gtk_widget_set_tooltip_text (button, _ ("Press, then click where it stands; or drag it there"));
  bed_named (button, name);
  g_object_set_data (G_OBJECT (button), "kind", GUINT_TO_POINTER (kind));
  g_signal_connect_object (button, "clicked", G_CALLBACK (build_clicked_cb), self, 0);
  gtk_drag_source_set_actions (source, GDK_ACTION_COPY);
  g_signal_connect (source, "prepare", G_CALLBACK (build_prepare_cb), GUINT_TO_POINTER (kind));
  g_signal_connect_object (source, "drag-begin", G_CALLBACK (build_drag_begin_cb), sketch, 0);
  gtk_widget_add_controller (button, GTK_EVENT_CONTROLLER (source));
  return button;
}

/* --- ground --------------------------------------------------------------------- */

/* The area itself. */
static void
draw_outline (cairo_t *cr, const BedPalette *palette, guint kind, const BedExtent *box)
{
  static const BedPoint free_corners[]
      = { { 0.1, 0.9 }, { 0.9, 0.8 }, { 0.75, 0.2 }, { 0.2, 0.1 } };
  static const BedPoint square_corners[]
      = { { 0.1, 0.9 }, { 0.9, 0.9 }, { 0.9, 0.5 }, { 0.5, 0.5 }, { 0.5, 0.1 }, { 0.1, 0.1 } };
  gboolean square = kind == BED_DRAW_SQUARE_OUTLINE;
  const BedPoint *corners = square ? square_corners : free_corners;

  for (guint i = 0; i < (square ? G_N_ELEMENTS (square_corners) : G_N_ELEMENTS (free_corners)); i++)
    cairo_line_to (cr, corners[i].x * box->width, corners[i].y * box->height);
  cairo_close_path (cr);
  bed_colour_set (cr, &palette->ground, 1);
  cairo_fill_preserve (cr);
  bed_colour_stroke (cr, &palette->edge, 1, 1.5);
}

/* The picture of a thing of usual size. */
static void
draw_ground_cb (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  BedYardStyle style = { .palette = bed_style_palette (), .text_size = 11 };
  guint kind = GPOINTER_TO_UINT (data);

  if (kind >= BED_DRAW_OUTLINE)
    {
      draw_outline (cr, style.palette, kind, &(BedExtent){ 0, 0, width, height });
      return;
    }
  g_autoptr (BedYard) yard = bed_yard_new (1, 1);
  BedYardFeature *feature = bed_yard_feature_new (kind);

  bed_ground_set_usual (&feature->ground, feature->kind, (BedPoint){ 0, 0 });
  if (feature->ground.form == BED_GROUND_BAND)
    g_array_append_vals (feature->ground.points, &(BedPoint){ 3, 0 }, 1);
  g_ptr_array_add (yard->features, feature);
  g_autoptr (BedScene) scene = bed_scene_new (yard);
  const BedShape *shape = &g_array_index (scene->shapes, BedShape, 0);
  BedExtent extent = bed_shape_extent (shape);
  BedPlan plan = { scene, &style, { .width = width, .height = height } };
  bed_viewport_fit (&plan.view, &extent, 2);
  bed_feature_draw (cr, &plan, shape);
}

static void
draw_clicked_cb (GtkWidget *button, BedYardStrip *self)
{
  g_signal_emit_by_name (self, "draw",
                         GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (button), "kind")));
}

static const char *
name_drawn (guint kind)
{
  if (kind == BED_DRAW_OUTLINE)
    return _ ("outline");
  if (kind == BED_DRAW_SQUARE_OUTLINE)
    return _ ("right-angled outline");
  return bed_field_choice_label (bed_kind_find_field (BED_KIND_FEATURE, "kind", NULL),
                                 bed_feature_kind_key (kind));
}

static GtkWidget *
draw_new (BedYardStrip *self, guint kind)
{
  const char *word = name_drawn (kind);
  /* TRANSLATORS: "Draw: path" */
  g_autofree char *name = g_strdup_printf (_ ("Draw: %s"), word);
  GtkWidget *button = bed_styled (gtk_button_new (), "flat");
  GtkWidget *picture
      = bed_sketch_new (GROUND_SIZE, GROUND_SIZE, draw_ground_cb, GUINT_TO_POINTER (kind), NULL);

  /* TRANSLATORS: an outline with right angles, where there is little room */
  GtkWidget *label = bed_line_new (kind == BED_DRAW_SQUARE_OUTLINE ? _ ("at 90°") : word, NULL);
  g_ptr_array_add (self->words, label);
  gtk_button_set_child (GTK_BUTTON (button), bed_row_new (4, picture, label, NULL));
  gtk_widget_set_tooltip_text (button, name);
  bed_named (button, name);
  g_object_set_data (G_OBJECT (button), "kind", GUINT_TO_POINTER (kind));
  g_signal_connect_object (button, "clicked", G_CALLBACK (draw_clicked_cb), self, 0);
  return button;
}

static void
tape_cb (BedYardStrip *self)
{
  g_signal_emit_by_name (self, "tape");
}

static GtkWidget *
tape_new (BedYardStrip *self)
{
  GtkWidget *button = bed_styled (gtk_button_new (), "flat");
  GtkWidget *label = bed_line_new (_ ("measure"), NULL);

  g_ptr_array_add (self->words, label);
  gtk_button_set_child (
      GTK_BUTTON (button),
      bed_row_new (4, gtk_image_new_from_icon_name ("object-flip-horizontal-symbolic"), label,
                   NULL));
  bed_named (button, _ ("Measure"));
  gtk_widget_set_tooltip_text (button, _ ("Measure: drag from one place to another, or type both"));
  g_signal_connect_object (button, "clicked", G_CALLBACK (tape_cb), self, G_CONNECT_SWAPPED);
  return button;
}

static GtkWidget *
make_draws (BedYardStrip *self)
{
  GtkWidget *grid = bed_grid_new (0, 0);

  gtk_grid_set_column_homogeneous (GTK_GRID (grid), TRUE);
  for (guint kind = 0; kind <= BED_DRAW_SQUARE_OUTLINE; kind++)
    gtk_grid_attach (GTK_GRID (grid), draw_new (self, kind), (int) (kind % 2), (int) (kind / 2), 1,
                     1);
  guint last = BED_DRAW_SQUARE_OUTLINE + 1;
  gtk_grid_attach (GTK_GRID (grid), tape_new (self), (int) (last % 2), (int) (last / 2), 1, 1);
  return grid;
}

/* --- type ----------------------------------------------------------------------- */

static GtkWidget *
heading_new (BedYardStrip *self, const char *text)
{
  GtkWidget *label = bed_line_new (text, "heading");

  g_ptr_array_add (self->words, label);

  gtk_widget_set_margin_start (label, 6);
  gtk_widget_set_margin_top (label, 6);
  return label;
}

static GtkWidget *
list_new (const char *name)
{
  return bed_named (bed_styled (gtk_list_box_new (), "navigation-sidebar"), name);
}

static void
fill (BedYardStrip *self, GtkWidget *box)
{
  GtkWidget *edit = bed_icon_button_new ("document-edit-symbolic", _ ("Change this area"));
  GtkWidget *add = bed_icon_button_new ("list-add-symbolic", _ ("New area"));
  GtkWidget *head = bed_row_new (0, heading_new (self, _ ("Areas")), edit, add, NULL);

  gtk_widget_set_hexpand (gtk_widget_get_first_child (head), TRUE);
  g_signal_connect_object (edit, "clicked", G_CALLBACK (edit_area_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (add, "clicked", G_CALLBACK (new_area_cb), self, G_CONNECT_SWAPPED);
  gtk_box_append (GTK_BOX (box), head);
  self->areas = list_new (_ ("Areas"));
  g_signal_connect_object (self->areas, "row-activated", G_CALLBACK (area_activated_cb), self,
                           G_CONNECT_SWAPPED);
  gtk_box_append (GTK_BOX (box), self->areas);

  gtk_box_append (GTK_BOX (box), heading_new (self, _ ("Build")));
  self->builds = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  for (guint kind = 0; kind < BED_N_STACKS; kind++)
    gtk_box_append (GTK_BOX (self->builds), build_new (self, kind));
  gtk_box_append (GTK_BOX (box), self->builds);

  self->draws = make_draws (self);
  gtk_box_append (GTK_BOX (box), heading_new (self, _ ("Draw")));
  gtk_box_append (GTK_BOX (box), self->draws);
  gtk_box_append (GTK_BOX (box), heading_new (self, _ ("Trees, paths, water")));
  self->features = list_new (_ ("Trees, paths, water"));
  gtk_list_box_set_selection_mode (GTK_LIST_BOX (self->features), GTK_SELECTION_NONE);
  g_signal_connect_object (self->features, "row-activated", G_CALLBACK (feature_activated_cb), self,
                           G_CONNECT_SWAPPED);
  gtk_box_append (GTK_BOX (box), self->features);
}

static void
bed_yard_strip_finalize (GObject *object)
{
  g_ptr_array_unref (BED_YARD_STRIP (object)->words);
  G_OBJECT_CLASS (bed_yard_strip_parent_class)->finalize (object);
}

static void
bed_yard_strip_class_init (BedYardStripClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = bed_yard_strip_finalize;
  bed_signal_new (BED_TYPE_YARD_STRIP, "area", 1, G_TYPE_INT64);
  bed_signal_new (BED_TYPE_YARD_STRIP, "edit", 2, G_TYPE_UINT, G_TYPE_INT64);
  bed_signal_new (BED_TYPE_YARD_STRIP, "feature", 1, G_TYPE_INT64);
  bed_signal_new (BED_TYPE_YARD_STRIP, "build", 1, G_TYPE_UINT);
  bed_signal_new (BED_TYPE_YARD_STRIP, "draw", 1, G_TYPE_UINT);
  bed_signal_new (BED_TYPE_YARD_STRIP, "tape", 0);
}

static void
bed_yard_strip_init (BedYardStrip *self)
{
  GtkWidget *box = bed_styled (gtk_box_new (GTK_ORIENTATION_VERTICAL, 3), "yard-strip");

  self->words = g_ptr_array_new ();
  fill (self, box);
  self->scroller = bed_scrolled_new (box);
  bed_styled (self->scroller, "yard-words");
  bed_part_set_child (BED_PART (self), self->scroller);
}

/* --- public --------------------------------------------------------------------- */

GtkWidget *
bed_yard_strip_new (void)
{
  return g_object_new (BED_TYPE_YARD_STRIP, NULL);
}

void
bed_yard_strip_set_look (BedYardStrip *self, BedStripLook look)
{
  g_return_if_fail (BED_IS_YARD_STRIP (self));
  gboolean words = look == BED_STRIP_WORDS;

  for (guint i = 0; i < self->words->len; i++)
    gtk_widget_set_visible (self->words->pdata[i], words);
  gtk_widget_remove_css_class (self->scroller, words ? "yard-icons" : "yard-words");
  gtk_widget_add_css_class (self->scroller, words ? "yard-words" : "yard-icons");
}

static gboolean
set_areas (BedYardStrip *self, BedFarm *farm, gint64 chosen, GError **error)
{
  g_autoptr (BedQuery) q = bed_query_new (farm, "SELECT id, name FROM area ORDER BY name");

  clear_list (self->areas);
  while (bed_query_next (q))
    {
      GtkWidget *row = row_new (bed_query_text (q, 1), bed_query_int (q, 0));
      gtk_list_box_append (GTK_LIST_BOX (self->areas), row);
      if (bed_query_int (q, 0) == chosen)
        gtk_list_box_select_row (GTK_LIST_BOX (self->areas), GTK_LIST_BOX_ROW (row));
    }
  return bed_query_finish (q, error);
}

static void
set_features (BedYardStrip *self, const BedYard *yard)
{
  const BedField *field = bed_kind_find_field (BED_KIND_FEATURE, "kind", NULL);

  clear_list (self->features);
  for (guint i = 0; yard && i < yard->features->len; i++)
    {
      const BedYardFeature *feature = yard->features->pdata[i];
      const char *word = bed_field_choice_label (field, bed_feature_kind_key (feature->kind));
      gboolean says_more = feature->label && g_strcmp0 (feature->label, word) != 0;
      g_autofree char *name = says_more ? g_strdup_printf ("%s · %s", word, feature->label)
                                        : g_strdup (word);
      gtk_list_box_append (GTK_LIST_BOX (self->features), row_new (name, feature->id));
    }
}

gboolean
bed_yard_strip_set (BedYardStrip *self, BedFarm *farm, const BedYard *yard, GError **error)
{
  g_return_val_if_fail (BED_IS_YARD_STRIP (self), FALSE);
  set_features (self, yard);
  gboolean change = yard && !bed_farm_get_read_only_why (farm);
  gtk_widget_set_sensitive (self->builds, change);
  gtk_widget_set_sensitive (self->draws, change);
  return set_areas (self, farm, yard ? yard->id : 0, error);
}
