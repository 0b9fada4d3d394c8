#pragma once

#include <gtk/gtk.h>

/* What hurts, beside the work: a sign and words that are never dim. Hidden while there are none. */
GtkWidget *bed_caution_line_new (const char *words);
void bed_caution_line_set (GtkWidget *line, const char *words);
