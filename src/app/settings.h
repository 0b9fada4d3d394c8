#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* What this desk remembers (not the farm): window size, the last farm. Without an
 * installed schema, as when run from the build folder, nothing is remembered. */

char *bed_settings_dup_last_farm (void);
void bed_settings_set_last_farm (const char *path);

/* Gives the window its last size, and keeps the one it is closed with. */
void bed_settings_restore_window (GtkWindow *window);

G_END_DECLS
