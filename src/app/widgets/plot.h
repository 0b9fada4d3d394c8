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

typedef struct
{
  float x, y;  /* of the text's place; y is the middle of the line */
  float align; /* 0: begins at x, 0.5: centred on it, 1: ends there */
  float size;  /* relative to the widget's font */
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
