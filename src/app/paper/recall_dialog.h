#pragma once

#include "model/season/recall.h"
#include <gtk/gtk.h>

/* The recall of a record on its sheet, in the print dialog over @inside. */
void bed_recall_show (GtkWidget *inside, BedFarm *farm, BedKind kind, gint64 id);

/* Of all that was picked on @day, YYYY-MM-DD. */
void bed_recall_show_day (GtkWidget *inside, BedFarm *farm, const char *day);

/* Asks for a code, a day or a water first. */
void bed_recall_ask_for (GtkWidget *inside, BedFarm *farm);
