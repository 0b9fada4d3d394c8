#pragma once

#include "model/farm/farm.h"
#include <gtk/gtk.h>

/* A button that puts logs into a stack: those that are named, on a day, with the action
 * yard.put-logs (their ids and the day, type (axs)); or a whole batch that has logs lying nowhere,
 * the youngest first, with yard.put (its id, type x). Both are of what the button is put in. */
GtkWidget *bed_yard_put_new (BedFarm *farm);

/* Of the parameter of yard.put-logs: the logs (gint64), and the day, borrowed from it. */
GArray *bed_yard_put_dup_logs (GVariant *parameter, const char **day);
