#pragma once

#include <gtk/gtk.h>

/* What a part of a window is about, a word for F1: "soaking", "felling". @topic is copied. */
void bed_topic_set (GtkWidget *widget, const char *topic);

/* The topic of the innermost part around the keyboard in @window that has one, else the window's,
 * else that of the window it lies over; NULL where there is none. Borrowed. */
const char *bed_topic_find (GtkWindow *window);
