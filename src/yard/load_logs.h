#pragma once

#include "model/farm/farm.h"
#include "model/farm/query.h"
#include "yard/yard.h"

/* A new log of columns 1 to 6 of @q: id, code, code of its batch, batch, length and greatest
 * diameter; @marks as bed_marks_get() has them. Owned by the caller. */
BedYardLog *bed_yard_log_read (BedQuery *q, GHashTable *marks);

/* Into the stacks of @yard what lay in them at the end of @date, each number asked once for all of
 * them. FALSE when the farm cannot be read. */
gboolean bed_yard_load_logs (BedYard *yard, BedFarm *farm, const char *date, GError **error);

/* The stage of each log of @yard at the end of that day and when it was last soaked:
 * BedYardLog.stage and .soaked are not known before. Asked once for all of them, and not again of a
 * @yard that has them. FALSE when the farm cannot be read. */
gboolean bed_yard_load_stages (BedYard *yard, BedFarm *farm, const char *date, GError **error);

/* How moist each log of @yard was when it was last weighed by that day; one that was not weighed is
 * as the sample logs of its batch were: BedYardLog.moisture is not known before. FALSE when the
 * farm cannot be read. */
gboolean bed_yard_load_moisture (BedYard *yard, BedFarm *farm, const char *date, GError **error);

/* What each log of @yard gave in the season of @date up to that day, which takes a while of its
 * own: BedYardLog.picked is not known before. FALSE when the farm cannot be read. */
gboolean bed_yard_load_picked (BedYard *yard, BedFarm *farm, const char *date, GError **error);
