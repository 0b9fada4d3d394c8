#pragma once

#include "print/yard/yard_draw.h"
#include <gtk/gtk.h>

/* The key of the yard, on screen: a log end and a word for each line of bed_yard_key_new(), with
 * its number of logs. A batch is a button with the action yard.batch (its code, type s) of what it
 * is put in. */
GtkWidget *bed_yard_legend_new (const BedYard *yard, BedColourBy by, BedSystem system);
