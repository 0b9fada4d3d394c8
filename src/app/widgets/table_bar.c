#include "app/widgets/table_bar.h"

#include <string.h>

#include "app/widgets/build.h"
#include "app/widgets/plot.h"

#define WIDTH 60 /* px, least */
#define HEIGHT 10
#define SHARES "bed-shares"

static void
draw_cb (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  const BedInk *ink = bed_ink_get ();
  const GdkRGBA *colours[BED_TABLE_BAR_PARTS] = { &ink->bark, &ink->wood, &ink->line };
  const double *shares = data;
  double x = 0;

  bed_plot_turn_cairo (GTK_WIDGET (area), cr);
  gdk_cairo_set_source_rgba (cr, &ink->line);
  cairo_rectangle (cr, 0.5, 0.5, width - 1, height - 1);
  cairo_set_line_width (cr, 1);
  cairo_stroke (cr);
  for (guint i = 0; i < BED_TABLE_BAR_PARTS; i++)
    {
      double wide = MIN (shares[i], 1) * width;
      gdk_cairo_set_source_rgba (cr, colours[i]);
      cairo_rectangle (cr, x, 0, wide, height);
      cairo_fill (cr);
      x += wide;
    }
}

GtkWidget *
bed_table_bar_new (BedFarm *farm)
{
  GtkWidget *area
      = g_object_new (GTK_TYPE_DRAWING_AREA, "accessible-role", GTK_ACCESSIBLE_ROLE_IMG, NULL);
  double *shares = g_new0 (double, BED_TABLE_BAR_PARTS);

  gtk_drawing_area_set_content_width (GTK_DRAWING_AREA (area), WIDTH);
  gtk_drawing_area_set_content_height (GTK_DRAWING_AREA (area), HEIGHT);
  gtk_drawing_area_set_draw_func (GTK_DRAWING_AREA (area), draw_cb, shares, g_free);
  g_object_set_data (G_OBJECT (area), SHARES, shares);
  gtk_widget_set_valign (area, GTK_ALIGN_CENTER);
  bed_ink_follow (area);
  return area;
}

void
bed_table_bar_set (GtkWidget *bar, const double shares[BED_TABLE_BAR_PARTS], const char *words)
{
  memcpy (g_object_get_data (G_OBJECT (bar), SHARES), shares, BED_TABLE_BAR_PARTS * sizeof *shares);
  bed_named (bar, words);
  gtk_widget_set_tooltip_text (bar, words);
  gtk_widget_queue_draw (bar);
}
