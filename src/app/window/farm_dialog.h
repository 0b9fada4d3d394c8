#pragma once

#include "app/window/window.h"

G_BEGIN_DECLS

/* Name, units and money of a farm: asked for a new one, then where to keep it. */
void bed_farm_dialog_new_farm (BedWindow *window);

/* The same of the open one, with all its settings. */
void bed_farm_dialog_change (BedWindow *window);

G_END_DECLS
