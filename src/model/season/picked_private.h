#pragma once

#include "model/season/season_logs_private.h"

/* Divides what was picked over the logs, as the views pick_log and batch_day divide it, but all
 * of it in one walk over the picks: a hundred thousand of them through the views take minutes.
 * Fills in what the logs of @all gave, and the tables season_log, crop_day, crop_batch, crop_part
 * and lot_source (outlook.h), which are made and empty. */
gboolean bed_picked_read (BedSeasonLogs *all, GError **error);
