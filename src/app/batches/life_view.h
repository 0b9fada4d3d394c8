#pragma once

#include "app/widgets/part.h"

/* The life of a log or a batch: one drawing over the days from the felled tree to today, and a list
 * of what it shows. */
#define BED_TYPE_LIFE_VIEW (bed_life_view_get_type ())
G_DECLARE_FINAL_TYPE (BedLifeView, bed_life_view, BED, LIFE_VIEW, BedPart)

BedLifeView *bed_life_view_new (BedFarm *farm);

/* The list, the latest first, for wherever it has room; borrowed. */
GtkWidget *bed_life_view_get_list (BedLifeView *self);

/* FALSE when it could not be read. */
gboolean bed_life_view_show_log (BedLifeView *self, gint64 log, GError **error);
gboolean bed_life_view_show_batch (BedLifeView *self, gint64 batch, GError **error);
