#pragma once

#include "model/farm/farm.h"
#include <gtk/gtk.h>

/* Where stack @stack stood before it was moved, the latest first, each to be changed or taken out;
 * nothing when it never was. */
GtkWidget *bed_yard_stood_new (BedFarm *farm, gint64 stack);
