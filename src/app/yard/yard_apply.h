#pragma once

#include "yard/moves.h"

#include <gtk/gtk.h>

/* Commits @change through the window of @inside, with its toast; says @error instead when it is
 * NULL. Takes @change. TRUE when it was written. */
gboolean bed_yard_apply (GtkWidget *inside, BedYardChange *change, GError **error);
