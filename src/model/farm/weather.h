#pragma once

#include "model/farm/farm.h"
#include "science/evaporation.h"

/* How long the yard has been dry, by the rain and temperatures written down. A day without
 * an entry had no rain. */

typedef enum
{
  BED_WEATHER_UNKNOWN,  /* no rain written down for more than a month */
  BED_WEATHER_BY_DAYS,  /* days without rain: D. B. Hill, University of Kentucky FOR-85 */
  BED_WEATHER_BY_WATER, /* and what the air took: the farm's latitude and temperatures are known */
} BedWeatherRule;

typedef struct
{
  BedWeatherRule rule;
  int days;           /* without rain that counts (2 mm), up to today; at most 60 */
  double most_mean_c; /* mean of their highest temperatures; NAN where not known */
  double taken_mm;    /* by the air since the wood was wet; BY_WATER only */
  BedDrySpell advice;
} BedWeatherDry;

/* The dry spell today. By water: science/evaporation.h, where temperatures are known of four
 * in five of the last 60 days, a missing one taken like the one before. Then the advice is by
 * the water alone. FALSE and an error when the farm cannot be read. */
gboolean bed_weather_dry_read (BedFarm *farm, BedWeatherDry *dry, GError **error);

/* "9 dry days, daily mean up to 26 °C", "9 dry days; 38 mm evaporated"; (transfer full). */
char *bed_weather_dry_dup_words (BedFarm *farm, const BedWeatherDry *dry);
