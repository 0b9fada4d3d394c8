#pragma once

#include "model/farm/farm.h"

/* What each log gave from the day @first to @last, mg by id (gint64 -> double): as the view
 * pick_log shares what is picked of a stack or a batch together, but of all logs at once. Logs that
 * gave nothing are not in it. Owned; NULL when the farm cannot be read. */
GHashTable *bed_log_crop_read (BedFarm *farm, const char *first, const char *last, GError **error);
