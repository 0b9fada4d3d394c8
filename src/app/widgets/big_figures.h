#pragma once

#include <gtk/gtk.h>

typedef struct
{
  const char *value;    /* NULL: a dash */
  const char *unit;     /* NULL: none */
  const char *caption;  /* translated */
  const char *sentence; /* translated: exactly what it is, as its tooltip; NULL: none */
} BedPageFigure;

/* The answer at the top of a page: a few figures big enough to read from a chair
 * back, unit small beside, what it is underneath. Each is a group with an accessible
 * name: "Picked: 100.2 lb". */
GtkWidget *bed_big_figures_new (void);

/* Under a whole number: @one or @many, both N_(). */
const char *bed_count_words (const char *number, const char *one, const char *many);

/* Puts @n figures in the place of those there were. Copies. */
void bed_big_figures_set (GtkWidget *box, const BedPageFigure *figures, guint n);
