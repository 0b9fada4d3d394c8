#pragma once

#include "app/widgets/part.h"
#include "model/farm/farm.h"
#include <gtk/gtk.h>

/* One batch: Plan | Logs | Care | Crop | Cost. */
#define BED_TYPE_BATCH_DETAIL (bed_batch_detail_get_type ())
G_DECLARE_FINAL_TYPE (BedBatchDetail, bed_batch_detail, BED, BATCH_DETAIL, BedPart)

GtkWidget *bed_batch_detail_new (BedFarm *farm);
gboolean bed_batch_detail_show (GtkWidget *detail, gint64 batch, GError **error);

/* From now on with the part that is seen: a plan asks what all other batches took. Before it is
 * called, the first frame goes without. FALSE when the farm cannot be read. */
gboolean bed_batch_detail_show_whole (BedBatchDetail *self, GError **error);

/* At once, for somebody goes to one of its parts. */
void bed_batch_detail_open_parts (BedBatchDetail *self);

/* Selects the log in the list of logs; FALSE when it is not of that batch. */
gboolean bed_batch_detail_show_log (BedBatchDetail *self, gint64 log);

/* The stack of its five parts; borrowed. */
GtkStack *bed_batch_detail_get_parts (BedBatchDetail *self);
