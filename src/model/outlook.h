#pragma once

#include "model/farm.h"

G_BEGIN_DECLS

/* What the science of the crop says of a farm at the end of a season, in tables that last
 * as long as the farm is open, or until this is called again; masses in mg, money in minor
 * units. bed_picked_read() of the same season comes first.
 *
 *   kind_yield (wood, strain, size, logs, mass, low, high)  what a log of the kind gave
 *       in the season, drawn towards the mean of all kinds (science/yield.h), evened for the
 *       year of life: a log's mass is taken relative to what the farm's logs of its year
 *       gave. Only logs of years that gave anything. size: '' for all, else the size class
 *   log_survival (age, at_risk, retired, survival, low, high)  shares of logs alive past each
 *       year of life, fractions (science/survival.h); sold and lost logs are no losses
 *   season_coming (season, expected)  the seasons after this one, from the logs alive now and
 *       no others, by what logs of each year of life gave and how many live so long
 *       (science/forecast.h); weather is not in it
 *   batch_year (batch, year, materials, labour)  a batch's own cost by year of its life, 0 the
 *       season of inoculation and whatever was spent before it (science/budget.h)
 *
 * An interval not known has low and high NULL. */
gboolean bed_outlook_read (BedFarm *farm, int season, GError **error);

/* kind_yield alone. */
gboolean bed_outlook_read_kinds (BedFarm *farm, int season, GError **error);

/* Two-sided, of the intervals of kinds and of survival. */
#define BED_OUTLOOK_LEVEL 0.95

/* Kinds of fewer logs are not divided by size. Common practice, no source. */
#define BED_OUTLOOK_LOGS_LEAST 5

/* Size class of a log l by its mean diameter over bark, um, whole centimetres: common practice,
 * no source. */
#define BED_OUTLOOK_SIZE                                                                           \
  "CASE WHEN l.small_diameter + coalesce (l.large_diameter, l.small_diameter) < 200000"            \
  " THEN '1' WHEN l.small_diameter + coalesce (l.large_diameter, l.small_diameter) < 300000"       \
  " THEN '2' ELSE '3' END"

G_END_DECLS
