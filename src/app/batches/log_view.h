#pragma once

#include "app/widgets/part.h"
#include "model/farm/farm.h"
#include <gtk/gtk.h>

/* One log: what it is and where, what it gave, and what is done to it: Weigh, Print tag,
 * Retire, Change. Takes the place of the batches while it is open.
 *
 * Signal "left": back to the batch (Esc, Back). */
#define BED_TYPE_LOG_VIEW (bed_log_view_get_type ())
G_DECLARE_FINAL_TYPE (BedLogView, bed_log_view, BED, LOG_VIEW, BedPart)

BedLogView *bed_log_view_new (BedFarm *farm);

void bed_log_view_show (BedLogView *self, gint64 log);

/* The log shown, or 0. */
gint64 bed_log_view_get_log (BedLogView *self);

/* The farm changed: reads the log again. */
gboolean bed_log_view_refresh (BedLogView *self, GError **error);
