#pragma once

#include "app/widgets/figures.h"
#include <gtk/gtk.h>

G_BEGIN_DECLS

/* What most pages are put together from. */

/* The top of a page: its figures, @extra (may be NULL) at the right, a line under both. */
GtkWidget *bed_page_head_new (BedFigures *figures, GtkWidget *extra);

/* The switch between the parts of a page that share @stack. */
GtkWidget *bed_page_switch_new (GtkStack *stack);

/* @content under a plain heading. */
GtkWidget *bed_section_new (const char *heading, GtkWidget *content);

/* A label at the left that wraps; @style may be NULL. */
GtkWidget *bed_words_new (const char *text, const char *style);

/* @content in a column for reading, that scrolls. */
GtkWidget *bed_reading_new (GtkWidget *content);

/* Takes every child out of @box. */
void bed_box_clear (GtkWidget *box);

G_END_DECLS
