#pragma once

#include <gtk/gtk.h>

/* One of the yard's drawings alone in a window, under the hand. */
typedef struct
{
  GtkWidget *window;
  GtkWidget *view;
} YardDesk;

/* Shows ->view, 800 by 600 px; nothing has the keyboard. */
void yard_desk_show (YardDesk *desk);

/* Closes it, and asserts that ->view is finalised. */
void yard_desk_close (YardDesk *desk);

/* The first of that type; the view owns it. */
gpointer yard_desk_find (YardDesk *desk, GType type);

/* Whether the key was of use. */
gboolean yard_desk_press (YardDesk *desk, guint key, GdkModifierType state);
