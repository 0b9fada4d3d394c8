#pragma once

#include "../model/model_test.h"
#include "app/form/field_row.h"
#include <adwaita.h>

/* After GTK: libadwaita, and the desk's style, so that all is as large as users have it. */
void app_begin (void);

/* Runs what is due on the main loop, for @ms at most. */
void app_settle (guint ms);

/* A window of the test that holds @content; destroy it with app_close(). */
GtkWidget *app_show (GtkWidget *content);

/* Closes and asserts that @widget (may be NULL) is finalised. */
void app_close (GtkWidget *window, GtkWidget *widget);

/* Waits until the window is about that wide, as far as what is in it lets it. */
void app_widen (GtkWidget *window, int width);

/* Pastes @text into the entry, as Ctrl+V does. */
void app_paste (GtkWidget *entry, const char *text);

/* The first visible descendant of that type whose label or text is @label, or NULL. */
GtkWidget *app_find_button (GtkWidget *inside, const char *label);
GtkWidget *app_find_label (GtkWidget *inside, const char *part);

/* The first in the tree, seen or not, or NULL: of that type; of that field. */
gpointer app_find_of_type (gpointer inside, GType type);
BedFieldRow *app_find_row (gpointer inside, const char *field);
