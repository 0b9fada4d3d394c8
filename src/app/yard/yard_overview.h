#pragma once

#include "model/farm/farm.h"
#include "print/yard/yard_draw.h"
#include "yard/advice.h"
#include <gtk/gtk.h>

/* The yard as a whole: what its colours say, and which stacks are worth a look,
 * each a button with the action yard.select (its id, type x) of what it is put
 * in; and how many more stacks fit in. @looks: BedStackLook by the gint64 of its stack;
 * NULL: not yet known. Borrows @scene: it has to go before that. */
GtkWidget *bed_yard_overview_new (const BedScene *scene, BedColourBy colour_by, GHashTable *looks,
                                  BedFarm *farm);

/* Fills @box with what the trade warns of; NULL: not yet known. */
void bed_yard_advice_fill (GtkWidget *box, const BedStackLook *look);
