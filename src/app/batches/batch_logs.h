#pragma once

#include "app/widgets/part.h"
#include "model/farm/farm.h"
#include <gtk/gtk.h>

/* The logs of a batch: their list, and what is done to those chosen in it.
 *
 * Signal "log-opened" (gint64 log): Enter on one, or a double click. */
#define BED_TYPE_BATCH_LOGS (bed_batch_logs_get_type ())
G_DECLARE_FINAL_TYPE (BedBatchLogs, bed_batch_logs, BED, BATCH_LOGS, BedPart)

BedBatchLogs *bed_batch_logs_new (BedFarm *farm);
void bed_batch_logs_show (BedBatchLogs *self, gint64 batch);

/* Selects the log and gives the list the keyboard; FALSE when it is not of that batch. */
gboolean bed_batch_logs_show_log (BedBatchLogs *self, gint64 log);
