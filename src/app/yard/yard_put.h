#pragma once

#include "model/farm/farm.h"
#include <gtk/gtk.h>

/* A button that offers the batches that have logs lying nowhere, the youngest first, each with the
 * action yard.put (its id, type x) of what it is put in. */
GtkWidget *bed_yard_put_new (BedFarm *farm);
