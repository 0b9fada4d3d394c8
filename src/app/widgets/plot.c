#include "app/widgets/plot.h"

#include <adwaita.h>
#include <math.h>

#define USUAL_LETTERS (40 / 3.f) /* px: those of 10 points at 96 dpi */

#define RGB(c)                                                                                     \
  {                                                                                                \
    ((c) >> 16 & 255) / 255.f, ((c) >> 8 & 255) / 255.f, ((c) &255) / 255.f, 1                     \
  }
#define RGBA(c, a)                                                                                 \
  {                                                                                                \
    ((c) >> 16 & 255) / 255.f, ((c) >> 8 & 255) / 255.f, ((c) &255) / 255.f, a                     \
  }

static const BedInk light = {
  .ink = RGB (0x2a2622),
  .dim = RGB (0x6b655d),
  .line = RGBA (0x2a2622, 0.16f),
  .bark = RGB (0x6b4a32),
  .paper = RGB (0xffffff),
  .wood = RGB (0xd9c3a3),
  .water = RGB (0x2f6f9f),
  .shade = RGBA (0x6b4a32, 0.10f),
};

static const BedInk dark = {
  .ink = RGB (0xf0ebe4),
  .dim = RGB (0xc6beb3),
  .line = RGBA (0xf0ebe4, 0.18f),
  .bark = RGB (0xc09a74),
  .paper = RGB (0x1f1a15),
  .wood = RGB (0x6a5642),
  .water = RGB (0x6fb2dd),
  .shade = RGBA (0xc09a74, 0.14f),
};

static gboolean on_paper;

const BedInk *
bed_ink_get (void)
{
  return !on_paper && adw_style_manager_get_dark (adw_style_manager_get_default ()) ? &dark
                                                                                    : &light;
}

GskRenderNode *
bed_ink_draw_on_paper (GtkWidget *chart)
{
  GtkSnapshot *snapshot = gtk_snapshot_new ();

  on_paper = TRUE;
  GTK_WIDGET_GET_CLASS (chart)->snapshot (chart, snapshot);
  on_paper = FALSE;
  return gtk_snapshot_free_to_node (snapshot);
}

void
bed_ink_follow (GtkWidget *widget)
{
  g_signal_connect_object (adw_style_manager_get_default (), "notify::dark",
                           G_CALLBACK (gtk_widget_queue_draw), widget, G_CONNECT_SWAPPED);
}

float
bed_plot_growth (GtkWidget *widget)
{
  PangoContext *context = gtk_widget_get_pango_context (widget);
  const PangoFontDescription *font = pango_context_get_font_description (context);

  return (float) pango_font_description_get_size (font) / PANGO_SCALE / USUAL_LETTERS;
}

void
bed_letters_follow (gpointer widget, void (*fit) (gpointer widget))
{
  static const char *const of[] = { "notify::gtk-xft-dpi", "notify::gtk-font-name" };

  for (guint i = 0; i < G_N_ELEMENTS (of); i++)
    g_signal_connect_object (gtk_settings_get_default (), of[i], G_CALLBACK (fit), widget,
                             G_CONNECT_SWAPPED);
}

static void
turn_cairo (GtkWidget *widget, cairo_t *cr, double width)
{
  if (gtk_widget_get_direction (widget) != GTK_TEXT_DIR_RTL)
    return;
  cairo_translate (cr, width, 0);
  cairo_scale (cr, -1, 1);
}

void
bed_plot_begin (GtkWidget *widget, GtkSnapshot *snapshot)
{
  float growth = bed_plot_growth (widget);

  gtk_snapshot_scale (snapshot, growth, growth);
  bed_plot_turn (widget, snapshot, 0, bed_plot_width (widget));
}

void
bed_plot_turn (GtkWidget *widget, GtkSnapshot *snapshot, float x, float width)
{
  if (gtk_widget_get_direction (widget) != GTK_TEXT_DIR_RTL)
    return;
  gtk_snapshot_translate (snapshot, &GRAPHENE_POINT_INIT (2 * x + width, 0));
  gtk_snapshot_scale (snapshot, -1, 1);
}

cairo_t *
bed_plot_cairo (GtkWidget *widget, GtkSnapshot *snapshot)
{
  float width = bed_plot_width (widget), height = bed_plot_height (widget);

  gtk_snapshot_save (snapshot);
  bed_plot_turn (widget, snapshot, 0, width);
  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, width, height));
  gtk_snapshot_restore (snapshot);
  turn_cairo (widget, cr, width);
  return cr;
}

void
bed_plot_turn_cairo (GtkWidget *widget, cairo_t *cr)
{
  turn_cairo (widget, cr, gtk_widget_get_width (widget));
}

float
bed_plot_width (GtkWidget *widget)
{
  return gtk_widget_get_width (widget) / bed_plot_growth (widget);
}

float
bed_plot_height (GtkWidget *widget)
{
  return gtk_widget_get_height (widget) / bed_plot_growth (widget);
}

float
bed_plot_from_px (GtkWidget *widget, double px)
{
  return (float) px / bed_plot_growth (widget);
}

float
bed_plot_x_from_px (GtkWidget *widget, double px)
{
  gboolean turned = gtk_widget_get_direction (widget) == GTK_TEXT_DIR_RTL;

  return bed_plot_from_px (widget, turned ? gtk_widget_get_width (widget) - px : px);
}

int
bed_plot_to_px (GtkWidget *widget, double length)
{
  return (int) ceil (length * bed_plot_growth (widget) - 1e-3);
}

PangoLayout *
bed_plot_layout_new (GtkWidget *widget, const char *text, float size)
{
  PangoLayout *layout = gtk_widget_create_pango_layout (widget, text);
  PangoContext *context = pango_layout_get_context (layout);
  PangoFontDescription *font
      = pango_font_description_copy (pango_context_get_font_description (context));

  pango_font_description_set_absolute_size (font, USUAL_LETTERS * size * PANGO_SCALE);
  pango_layout_set_font_description (layout, font);
  pango_font_description_free (font);
  return layout;
}

float
bed_plot_text (GtkSnapshot *snapshot, GtkWidget *widget, const char *text, const BedPlotText *how)
{
  g_autoptr (PangoLayout) layout
      = bed_plot_layout_new (widget, text, how->size > 0 ? how->size : 1);
  PangoRectangle box;

  if (how->width > 0)
    {
      pango_layout_set_width (layout, how->width * PANGO_SCALE);
      pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_END);
    }
  pango_layout_get_pixel_extents (layout, NULL, &box);
  float x = roundf (how->x - box.width * how->align);
  gtk_snapshot_save (snapshot);
  bed_plot_turn (widget, snapshot, x, box.width);
  gtk_snapshot_translate (snapshot,
                          &GRAPHENE_POINT_INIT (x - box.x, roundf (how->y - box.height / 2.f)));
  gtk_snapshot_append_layout (snapshot, layout, how->colour);
  gtk_snapshot_restore (snapshot);
  return box.width;
}

void
bed_plot_box (GtkSnapshot *snapshot, float x, float y, float width, float height,
              const GdkRGBA *colour)
{
  gtk_snapshot_append_color (snapshot, colour, &GRAPHENE_RECT_INIT (x, y, width, height));
}

void
bed_plot_frame (GtkSnapshot *snapshot, float x, float y, float width, float height,
                const GdkRGBA *colour)
{
  GskRoundedRect outline;
  float widths[4] = { 1, 1, 1, 1 };
  GdkRGBA colours[4] = { *colour, *colour, *colour, *colour };

  gsk_rounded_rect_init_from_rect (&outline, &GRAPHENE_RECT_INIT (x, y, width, height), 2);
  gtk_snapshot_append_border (snapshot, &outline, widths, colours);
}

double
bed_plot_step (double most, int n)
{
  static const double steps[] = { 1, 2, 2.5, 5, 10 };
  double power = most > 0 ? pow (10, floor (log10 (most / n))) : 1;

  for (guint i = 0; i < G_N_ELEMENTS (steps); i++)
    if (steps[i] * power * n >= most * (1 - 1e-9))
      return steps[i] * power;
  return 10 * power;
}
