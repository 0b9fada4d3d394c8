#pragma once

#include "print/yard/yard_draw.h"
#include <gtk/gtk.h>

/* What the colours of the yard say: a log end and a word for each batch, or for
 * each stage, that there is, with its number of logs. */
GtkWidget *bed_yard_legend_new (const BedYard *yard, BedColourBy colour_by);
