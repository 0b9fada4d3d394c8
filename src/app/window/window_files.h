#pragma once

#include "app/window/window.h"

G_BEGIN_DECLS

/* Farm files as asked for from the menu; what goes wrong is said over the window. */
void bed_window_files_open (BedWindow *window);
void bed_window_files_copy (BedWindow *window);

/* Its copies; and, of a copy, putting it in the place of its farm. */
void bed_window_files_backups (BedWindow *window);
void bed_window_files_restore (BedWindow *window);

/* Says why the file at @path could not be opened, and offers its copies where one would help. */
void bed_window_files_say_unopened (BedWindow *window, const char *path, const GError *error);

/* A farm to try things on: a file among the temporary ones, thrown away by the system. */
void bed_window_files_demo (BedWindow *window);

/* Asks before typing is lost; then @then. */
void bed_window_files_leave (BedWindow *window, void (*then) (BedWindow *window));

G_END_DECLS
