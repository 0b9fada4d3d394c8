#pragma once

#include <gtk/gtk.h>

/* Presents @window and comes back when it was painted, so that what then takes its time, as the
 * reading of a large farm, is not waited for in front of nothing. Of a window that was painted
 * before, at once; also when it is closed meanwhile or nothing asks for a frame of it. */
void bed_first_frame (GtkWindow *window);
