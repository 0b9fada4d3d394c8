#pragma once

#include <gtk/gtk.h>

/* The copies of the farm at @path, over @window: when each was made and what was last done in
 * it; to look into, to put in the farm's place, to make one more, to choose where they lie.
 * The farm need not be open, nor sound, nor there. */
void bed_backups_dialog_show (GtkWindow *window, const char *path);
