#pragma once

#include <adwaita.h>

/* Holds a list that is one stop of Tab: arrows walk its rows, Tab leaves it. GTK 4.8
 * walks every row. */
#define BED_TYPE_ONE_STOP (bed_one_stop_get_type ())
G_DECLARE_FINAL_TYPE (BedOneStop, bed_one_stop, BED, ONE_STOP, AdwBin)
