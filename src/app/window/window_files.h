#pragma once

#include "model/farm/farm.h"
#include <gtk/gtk.h>

/* Farm files as asked for from the menu of @window, which is a host; what goes wrong is said over
 * it. */
void bed_window_files_open (GtkWindow *window);
void bed_window_files_copy (GtkWindow *window);

/* Its copies; and, of a copy, putting it in the place of its farm. */
void bed_window_files_backups (GtkWindow *window);
void bed_window_files_restore (GtkWindow *window);

/* The farm at @path, waited for while another program holds it; NULL when the person gave up, or
 * was told why it cannot be opened, with its copies where one would help. */
BedFarm *bed_window_files_open_farm (GtkWindow *window, const char *path);

/* A farm to try things on, in the user's own units and money, or the window that shows it. It is
 * gone when that is closed. */
void bed_window_files_demo (GtkWindow *window);

/* The window that shows it; NULL: none. */
GtkWindow *bed_window_files_find_demo (void);
