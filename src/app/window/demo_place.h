#pragma once

#include <glib.h>

/* Where demo farms lie: each in a folder of its own below the user's cache, held by a lock as long
 * as its program runs. Nothing of it stays: it goes with the place, and that of a program that was
 * killed when another begins. */
typedef struct _BedDemoPlace BedDemoPlace;

BedDemoPlace *bed_demo_place_new (GError **error);

/* Borrowed; there is no file there yet. */
const char *bed_demo_place_get_path (const BedDemoPlace *self);

/* Removes the folder with all that is in it. */
void bed_demo_place_free (BedDemoPlace *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedDemoPlace, bed_demo_place_free)

/* Removes what programs that are no more have left. */
void bed_demo_place_sweep (void);
