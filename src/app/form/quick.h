#pragma once

#include "model/farm/farm.h"
#include <gtk/gtk.h>

/* @id is 0 when nothing was made. */
typedef void (*BedQuickMade) (gint64 id, const char *name, gpointer user_data);

/* A small form over the window for a record that another one refers to and that
 * is not there yet; its name field begins as @name. @made is called once, while
 * @owner lives. */
void bed_quick_new (GtkWidget *owner, BedFarm *farm, BedKind kind, const char *name,
                    BedQuickMade made, gpointer user_data);

/* The same for a new record, begun as @draft, that stands on no page of its own. */
void bed_quick_add (GtkWidget *owner, BedFarm *farm, BedRecord *draft);

/* The same for a stored record that stands on no page of its own. When it is gone that is said. */
void bed_quick_change (GtkWidget *owner, BedFarm *farm, BedKind kind, gint64 id);
