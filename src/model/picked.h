#pragma once

#include "model/farm.h"

G_BEGIN_DECLS

/* Who gave what was picked: picks of a stack or a batch divided over its logs, as the
 * views pick_log and batch_day divide them, but all of it in one walk over the picks. For
 * whole farms; for one batch or log ask the views.
 *
 * Up to the end of the season that began in year @season, masses in mg, fractions kept, into
 * tables that last as long as the farm is open, or until this is called again:
 *
 *   crop_log (log, own, share, earlier)     this season from the log itself, its part of picks
 *                                           of its stack or batch, and all earlier seasons;
 *                                           logs that gave nothing are not in it
 *   crop_batch (batch, season, mass)        what the batch gave in each season
 *   crop_part (stack, picked_on, batch, part)  this season: which part of the picks of a stack
 *                                           on a day each batch has; batch 0: logs without one
 *
 * They hold what the farm held then: call it again once the farm has changed. */
gboolean bed_picked_read (BedFarm *farm, int season, GError **error);

G_END_DECLS
