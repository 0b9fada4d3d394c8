#pragma once

#include <gtk/gtk.h>

/* Gives @widget (may be NULL) the keyboard: to what in it had it last, with its text as it was
 * left, else to where it begins. FALSE when nothing in it takes it. */
gboolean bed_enter (GtkWidget *widget);
