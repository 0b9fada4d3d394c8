#include "science/forecast.h"

#include "science/argument.h"

#include <math.h>

#define MOST_KG 1e9

/* How past periods turned out, on the scale of logarithms unless one gave nothing. */
typedef struct
{
  guint n;
  gboolean logarithms;
  double mean;
  double spread; /* standard deviation */
} Ratios;

static gboolean
check_kg (const char *name, double kg, GError **error)
{
  return bed_argument_between (name, kg, 0, MOST_KG, error);
}

static gboolean
counts (const BedForecastPast *past)
{
  return past->expected_kg > 0;
}

static double
value_of (const Ratios *ratios, const BedForecastPast *past)
{
  double ratio = past->actual_kg / past->expected_kg;

  return ratios->logarithms ? log (ratio) : ratio;
}

static Ratios
find_ratios (const BedForecastPast *past, gsize n_past)
{
  Ratios ratios = { .logarithms = TRUE };
  double squares = 0;

  for (gsize i = 0; i < n_past; i++)
    {
      ratios.n += counts (&past[i]);
      if (counts (&past[i]) && past[i].actual_kg <= 0)
        ratios.logarithms = FALSE;
    }
  for (gsize i = 0; i < n_past; i++)
    if (counts (&past[i]))
      ratios.mean += value_of (&ratios, &past[i]) / ratios.n;
  for (gsize i = 0; i < n_past; i++)
    if (counts (&past[i]))
      squares += pow (value_of (&ratios, &past[i]) - ratios.mean, 2);
  if (ratios.n > 1)
    ratios.spread = sqrt (squares / (ratios.n - 1));
  return ratios;
}

static BedInterval
find_ratio (const Ratios *ratios, double level)
{
  if (ratios->n == 0)
    return (BedInterval){ BED_KNOWN_POINT, 1, 1, 1 };
  double centre = ratios->logarithms ? exp (ratios->mean) : ratios->mean;
  if (ratios->n == 1 || ratios->spread <= 0)
    return (BedInterval){ BED_KNOWN_POINT, centre, centre, centre };
  double spread = ratios->spread * sqrt (1 + 1.0 / ratios->n);
  if (!ratios->logarithms)
    return bed_interval_t (centre, spread, ratios->n - 1, level);
  double factor = exp (bed_t_quantile (0.5 + level / 2, ratios->n - 1) * spread);
  return (BedInterval){ BED_KNOWN_INTERVAL, centre, centre / factor, centre * factor };
}

gboolean
bed_forecast (const BedForecastPast *past, gsize n_past, const double *expected_kg,
              gsize n_expected, double level, BedInterval *forecasts, GError **error)
{
  g_return_val_if_fail (past != NULL || n_past == 0, FALSE);
  g_return_val_if_fail ((expected_kg != NULL && forecasts != NULL) || n_expected == 0, FALSE);
  if (!bed_level_check (level, error))
    return FALSE;
  for (gsize i = 0; i < n_past; i++)
    if (!check_kg ("past expected_kg", past[i].expected_kg, error)
        || !check_kg ("past actual_kg", past[i].actual_kg, error))
      return FALSE;
  for (gsize i = 0; i < n_expected; i++)
    if (!check_kg ("expected_kg", expected_kg[i], error))
      return FALSE;

  Ratios ratios = find_ratios (past, n_past);
  BedInterval ratio = find_ratio (&ratios, level);
  if (!isfinite (ratio.high) || !isfinite (ratio.high * MOST_KG))
    return bed_science_refuse (error, BED_SCIENCE_ERROR_NO_ANSWER,
                               "past: the periods differ so much that no interval can be given");
  for (gsize i = 0; i < n_expected; i++)
    forecasts[i] = (BedInterval){
      .known = ratio.known,
      .estimate = expected_kg[i] * ratio.estimate,
      .low = expected_kg[i] * ratio.low,
      .high = expected_kg[i] * ratio.high,
    };
  return TRUE;
}
