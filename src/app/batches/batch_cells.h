#pragma once

#include "model/farm/list.h"
#include <gtk/gtk.h>

/* The drawings of a batch in a list, for BedTableColumn: its mark and code; its life from
 * inoculation to spent, over one scale for all, as high as its logs live; the weeks of a year, over
 * one scale, too. Rows of batch_summary. */
GtkWidget *bed_batch_cell_mark_new (BedFarm *farm);
void bed_batch_cell_mark_show (GtkWidget *cell, BedRow *row);
GtkWidget *bed_batch_cell_life_new (BedFarm *farm);
void bed_batch_cell_life_show (GtkWidget *cell, BedRow *row);
GtkWidget *bed_batch_cell_weeks_new (BedFarm *farm);
void bed_batch_cell_weeks_show (GtkWidget *cell, BedRow *row);
