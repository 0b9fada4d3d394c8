#pragma once

#include <gtk/gtk.h>

/* Asks, and puts @copy in the place of the farm at @path; every window that shows that farm
 * shows it anew. @over is closed when it is done, unless it is @window itself. */
void bed_restore_flow_begin (GtkWindow *window, GtkWindow *over, const char *path,
                             const char *copy);
