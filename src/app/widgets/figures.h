#pragma once

#include <gtk/gtk.h>

/* The answer at the top of a page: a few figures big enough to read from a chair
 * back, unit small beside, what it is underneath. */
#define BED_TYPE_FIGURES (bed_figures_get_type ())
G_DECLARE_FINAL_TYPE (BedFigures, bed_figures, BED, FIGURES, GtkWidget)

typedef struct
{
  const char *value;   /* NULL: a dash */
  const char *unit;    /* NULL: none */
  const char *caption; /* translated */
} BedPageFigure;

BedFigures *bed_figures_new (void);

/* Under a whole number: @one or @many, both N_(). */
const char *bed_count_words (const char *number, const char *one, const char *many);

/* Puts @n figures in the place of those there were. Copies. */
void bed_figures_set (BedFigures *self, const BedPageFigure *figures, guint n);
