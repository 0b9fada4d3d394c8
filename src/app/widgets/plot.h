#pragma once

#include <gtk/gtk.h>

/* What the charts draw with: colours for the style in use, and text at a place. */

typedef struct
{
  GdkRGBA ink;   /* figures */
  GdkRGBA dim;   /* words of an axis */
  GdkRGBA line;  /* axes and grid */
  GdkRGBA bark;  /* what was done, picked, spent */
  GdkRGBA paper; /* words on bark */
  GdkRGBA wood;  /* what is planned, and the lighter second */
  GdkRGBA water; /* what is soaking, and limits */
  GdkRGBA shade; /* a band */
} BedInk;

/* Light or dark, as libadwaita has it now. Static. */
const BedInk *bed_ink_get (void);

/* What @chart draws by itself, in its size, in the ink of a white sheet whatever the style; NULL
 * when it draws nothing; (transfer full). */
GskRenderNode *bed_ink_draw_on_paper (GtkWidget *chart);

/* Makes @widget draw itself anew when the style turns light or dark. */
void bed_ink_follow (GtkWidget *widget);

/* Charts are drawn in px of the usual letters, and all of it grows with the letters of the widget:
 * by how much, and at the beginning of a snapshot, once. Where one reads from right to left a chart
 * does so, too: it is drawn as always, and x is counted from the right. */
float bed_plot_growth (GtkWidget *widget);
void bed_plot_begin (GtkWidget *widget, GtkSnapshot *snapshot);

/* Turns what is drawn from @x on, @width wide, the other way where one reads from right to left:
 * within a chart, what has a right and a left of its own. A text needs none. */
void bed_plot_turn (GtkWidget *widget, GtkSnapshot *snapshot, float x, float width);

/* To draw in a chart with Cairo, which GTK 4.8 does not do by OpenGL where it is turned. */
cairo_t *bed_plot_cairo (GtkWidget *widget, GtkSnapshot *snapshot);

/* Turns the whole of a drawing with Cairo that is no such chart. */
void bed_plot_turn_cairo (GtkWidget *widget, cairo_t *cr);

/* Calls @fit with @widget whenever letters have another size: what was once given in them is given
 * anew. */
void bed_letters_follow (gpointer widget, void (*fit) (gpointer widget));

/* The size of @widget in these, lengths from and to px of the screen, and where @px from the left
 * of the widget is in the chart. */
float bed_plot_width (GtkWidget *widget);
float bed_plot_height (GtkWidget *widget);
float bed_plot_from_px (GtkWidget *widget, double px);
float bed_plot_x_from_px (GtkWidget *widget, double px);
int bed_plot_to_px (GtkWidget *widget, double length);

/* To measure a text in them; @size is relative to the usual letters. Owned by the caller. */
PangoLayout *bed_plot_layout_new (GtkWidget *widget, const char *text, float size);

typedef struct
{
  float x, y;  /* of the text's place; y is the middle of the line */
  float align; /* 0: begins at x, 0.5: centred on it, 1: ends there */
  float size;  /* relative to the usual letters */
  float width; /* longest, px, then cut with an ellipsis; 0: any */
  const GdkRGBA *colour;
} BedPlotText;

/* Draws one line of text; its width, px. */
float bed_plot_text (GtkSnapshot *snapshot, GtkWidget *widget, const char *text,
                     const BedPlotText *how);

void bed_plot_box (GtkSnapshot *snapshot, float x, float y, float width, float height,
                   const GdkRGBA *colour);

/* A box with only its outline drawn, 1 px. */
void bed_plot_frame (GtkSnapshot *snapshot, float x, float y, float width, float height,
                     const GdkRGBA *colour);

/* The least of 1, 2, 2.5 and 5 times a power of ten at which @n steps reach @most. */
double bed_plot_step (double most, int n);
