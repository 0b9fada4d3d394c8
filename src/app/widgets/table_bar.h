#pragma once

#include "model/farm/farm.h"
#include <gtk/gtk.h>

/* The drawing of a row that is one whole cut into parts: for BedTableColumn. */
#define BED_TABLE_BAR_PARTS 3

GtkWidget *bed_table_bar_new (BedFarm *farm);

/* @shares from 0 to 1 of the whole, in the order in which they are drawn, dark to light; what they
 * leave is empty. @words: the same, for tooltip and reader. */
void bed_table_bar_set (GtkWidget *bar, const double shares[BED_TABLE_BAR_PARTS],
                        const char *words);
