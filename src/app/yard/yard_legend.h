#pragma once

#include "print/yard/yard_draw.h"
#include <gtk/gtk.h>

/* What the colours of the yard say: a log end and a word for each batch, or for
 * each stage, that there is, with its number of logs. A batch is a button with the action
 * yard.batch (its code, type s) of what it is put in. */
GtkWidget *bed_yard_legend_new (const BedYard *yard, BedColourBy colour_by);
