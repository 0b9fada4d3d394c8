#include "science/evaporation.h"

#include <math.h>

#include "science/argument.h"

#define SOLAR_CONSTANT 0.0820 /* MJ per m2 and minute, FAO 56 eq. 21 */
#define RAIN_COUNTS_MM 2.0
#define HOT_C 24.0
#define HOT_DAYS 7
#define COOL_DAYS 14

gboolean
bed_evaporation_radiation (double latitude, int day, double *radiation, GError **error)
{
  g_return_val_if_fail (radiation != NULL, FALSE);
  if (!bed_argument_between ("latitude", latitude, -90, 90, error)
      || !bed_argument_between ("day", day, 1, 366, error))
    return FALSE;
  double phi = latitude * G_PI / 180, angle = 2 * G_PI * day / 365;
  double distance = 1 + 0.033 * cos (angle);
  double declination = 0.409 * sin (angle - 1.39);
  /* Beyond the polar circles the sun does not set, or does not rise. */
  double sunset = acos (CLAMP (-tan (phi) * tan (declination), -1, 1));

  *radiation
      = 24 * 60 / G_PI * SOLAR_CONSTANT * distance
        * (sunset * sin (phi) * sin (declination) + cos (phi) * cos (declination) * sin (sunset));
  *radiation = MAX (*radiation, 0);
  return TRUE;
}

gboolean
bed_evaporation_reference (double least, double mean, double most, double radiation,
                           double *millimetres, GError **error)
{
  g_return_val_if_fail (millimetres != NULL, FALSE);
  if (!bed_argument_between ("least", least, -80, 80, error)
      || !bed_argument_between ("most", most, least, 80, error)
      || !bed_argument_between ("mean", mean, least, most, error)
      || !bed_argument_between ("radiation", radiation, 0, 60, error))
    return FALSE;
  *millimetres = 0.0023 * MAX (mean + 17.8, 0) * sqrt (most - least) * 0.408 * radiation;
  return TRUE;
}

gboolean
bed_evaporation_deficit (const double *evaporation, const double *rain, gsize n,
                         double *millimetres, GError **error)
{
  g_return_val_if_fail (millimetres != NULL, FALSE);
  g_return_val_if_fail ((evaporation != NULL && rain != NULL) || n == 0, FALSE);
  double sum = 0;

  for (gsize i = 0; i < n; i++)
    {
      if (!bed_argument_between ("evaporation", evaporation[i], 0, 100, error)
          || !bed_argument_between ("rain", rain[i], 0, 2000, error))
        return FALSE;
      sum = MAX (sum + evaporation[i] - (rain[i] < RAIN_COUNTS_MM ? 0 : rain[i]), 0);
    }
  *millimetres = sum;
  return TRUE;
}

gboolean
bed_dry_spell (const BedWeatherDay *days, gsize n, BedDrySpellResult *result, GError **error)
{
  g_return_val_if_fail (result != NULL && (days != NULL || n == 0), FALSE);
  double sum = 0;
  int known = 0;

  for (gsize i = 0; i < n; i++)
    if (!bed_argument_between ("rain", days[i].rain_mm, 0, 2000, error)
        || (!isnan (days[i].most_c)
            && !bed_argument_between ("temperature", days[i].most_c, -80, 80, error)))
      return FALSE;
  *result = (BedDrySpellResult){ 0, NAN, BED_DRY_SPELL_NONE };
  for (gsize i = n; i > 0 && days[i - 1].rain_mm < RAIN_COUNTS_MM; i--)
    {
      result->days++;
      if (!isnan (days[i - 1].most_c))
        {
          sum += days[i - 1].most_c;
          known++;
        }
    }
  if (known > 0)
    result->most_mean = sum / known;
  /* An unknown temperature is taken for a hot one: a log wetted too early loses nothing. */
  int limit = known > 0 && result->most_mean <= HOT_C ? COOL_DAYS : HOT_DAYS;
  if (result->days > limit)
    result->advice = BED_DRY_SPELL_WET;
  else if (result->days == limit)
    result->advice = BED_DRY_SPELL_WATCH;
  return TRUE;
}
