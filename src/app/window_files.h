#pragma once

#include "app/window.h"

G_BEGIN_DECLS

/* Farm files as asked for from the menu; what goes wrong is said over the window. */
void bed_window_files_open (BedWindow *window);
void bed_window_files_copy (BedWindow *window);

/* A farm to try things on: a file among the temporary ones, thrown away by the system. */
void bed_window_files_demo (BedWindow *window);

G_END_DECLS
