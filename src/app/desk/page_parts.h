#pragma once

#include <gtk/gtk.h>

/* What most pages are put together from. */

/* @content under a plain heading. */
GtkWidget *bed_section_new (const char *heading, GtkWidget *content);

/* A label at the left that wraps; @style may be NULL. */
GtkWidget *bed_words_new (const char *text, const char *style);

/* @content in a column for reading, that scrolls. */
GtkWidget *bed_reading_new (GtkWidget *content);

/* Takes every child out of @box. */
void bed_box_clear (GtkWidget *box);
