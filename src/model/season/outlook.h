#pragma once

#include "model/farm/farm.h"

/* Season @season of the farm (the year it began) reckoned up, with what the science of the crop
 * says at its end: in tables that last as long as the farm is open, or until this is called
 * again. For the whole farm at once, as a workbook asks; for one batch or log ask the views.
 * Masses in mg, fractions kept, money in minor units.
 *
 *   season_log (log, size, stack, stood, lives, own, share, earlier, strain, dry)  every log:
 *       diameter class 1 to 3 by the mean of both ends over bark; where it lay when the season
 *       ended, NULL for nowhere; whether it stood inoculated in the season, and at its end; this
 *       season's picks from the log itself, its part of the picks of its stack or batch, and all
 *       earlier seasons; strain, '-' for none known; dry wood without bark, NULL where the wood's
 *       density is not known
 *   size_class (size, above, below)  from which diameter on a log is of the class, and to which,
 *       um; NULL where nothing bounds it
 *   season_batch (batch, wood, stood, lives)  batches with logs: the name of their wood, or that
 *       it is mixed; how many stood inoculated in the season, and at its end; batch 0: no batch
 *   log_span (since, until, logs)  logs inoculated by the end, by their first season and the one
 *       they were retired in, 9999 for none
 *   crop_day (day, mass)  what was picked on each day until the end, totals of no week left out
 *   crop_batch (batch, season, mass)  what the batch gave in each season; batch 0: logs
 *       without one, and stacks without logs
 *   crop_part (stack, picked_on, batch, part)  this season: which part of the picks of a stack
 *       on a day each batch has; batch 0: logs without one
 *   lot_source (lot, batch, felling)  where the logs come from that a lot of this season was
 *       picked from; batch 0: logs without one
 *   kind_yield (wood, strain, batches, told, mass, low, high)  what a log of the kind gives in a
 *       season; told: in words whether it can be compared with others (crop.h)
 *   log_survival (age, at_risk, retired, survival, low, high)  shares of logs alive past each
 *       season of life, fractions (science/survival.h); sold and lost logs are no losses
 *   season_coming (season, expected, low, high, unseen)  the seasons after this one, from the
 *       logs alive now and no others; unseen: the share of ages not on record yet (crop.h)
 *   log_coming (age, mass)  what a log gives at each age in a usual season, by the same model
 *   season_past (season, logs, picked, sold, minutes, income_fresh, income_dried, bought, stock,
 *       spawn, labour, equipment)  the seasons up to this one as bed_season_read() has them
 *   season_week (monday, expected)  its weeks, and what the soaks gave reason to expect in them by
 *       what was known at the season's end, or today; from the running week on by the soak plan
 *   batch_year (batch, year, materials, labour)  a batch's own cost by year of its life, 0 the
 *       season of inoculation and whatever was spent before it (science/budget.h)
 *
 * An interval not known has low and high NULL. The tables hold what the farm held then: call
 * it again once the farm has changed. */
gboolean bed_outlook_read (BedFarm *farm, int season, GError **error);

/* Kinds of fewer logs are not divided by size. Common practice, no source. */
#define BED_OUTLOOK_LOGS_LEAST 5
