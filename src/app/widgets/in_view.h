#pragma once

#include <gtk/gtk.h>

/* Scrolls so that all of @widget is seen: GTK itself scrolls to what has the keyboard alone. Not
 * before it has its place: in an idle. */
void bed_bring_in_view (GtkWidget *widget);
