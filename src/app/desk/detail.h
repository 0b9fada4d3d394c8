#pragma once

#include "model/farm/farm.h"
#include <gtk/gtk.h>

/* One record read beside its list (BedBrowserSpec), put together anew whenever it is shown. */
GtkWidget *bed_detail_new (BedFarm *farm);

/* Borrowed. */
BedFarm *bed_detail_get_farm (GtkWidget *detail);

/* Nothing but the head of @record; @line as bed_browser_head_new() takes it. */
void bed_detail_begin (GtkWidget *detail, BedRecord *record, const char *line);

/* As a part of its own. Takes the widget. */
void bed_detail_add (GtkWidget *detail, GtkWidget *content);
