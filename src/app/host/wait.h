#pragma once

#include <gtk/gtk.h>

/* Does what may find the farm in use by another program; FALSE with BUSY then. */
typedef gboolean (*BedAttempt) (gpointer data, GError **error);

/* Tries until it is no longer BUSY. From the second try on a small window over @window says what
 * @heading says, and offers to give up: FALSE with the BUSY of the last try. The desk stays
 * alive meanwhile, and takes no other input: what is typed stays as it is. */
gboolean bed_wait (GtkWindow *window, const char *heading, BedAttempt attempt, gpointer data,
                   GError **error);

/* The same for what writes to the farm that the window of @inside shows. */
gboolean bed_wait_to_write (GtkWidget *inside, BedAttempt attempt, gpointer data, GError **error);

/* Whether one is waiting now: nobody else's work comes in between. */
gboolean bed_wait_is_on (void);
