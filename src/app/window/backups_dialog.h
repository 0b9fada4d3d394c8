#pragma once

#include "app/window/window.h"

G_BEGIN_DECLS

/* The copies of the farm at @path, over @window: when each was made and what was last done in
 * it; to look into, to put in the farm's place, to make one more, to choose where they lie.
 * The farm need not be open, nor sound, nor there. */
void bed_backups_dialog_show (BedWindow *window, const char *path);

/* Asks, and puts @copy in the place of the farm at @path; every window that shows that farm
 * shows it anew. @over is closed when it is done, unless it is @window itself. */
void bed_backups_restore (BedWindow *window, GtkWindow *over, const char *path, const char *copy);

G_END_DECLS
