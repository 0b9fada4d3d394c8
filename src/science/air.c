#include "science/air.h"

#include <math.h>

#include "science/argument.h"

static double
equilibrium (double t, double h)
{
  double w = 349 + 1.29 * t + 0.0135 * t * t;
  double k = 0.805 + 0.000736 * t - 0.00000273 * t * t;
  double k1 = 6.27 - 0.00938 * t - 0.000303 * t * t;
  double k2 = 1.91 + 0.0407 * t - 0.000293 * t * t;
  double kh = k * h, hydrates = k1 * kh + k1 * k2 * kh * kh;

  /* 1800/W multiplies both terms, not the first alone. */
  return 1800 / w * (kh / (1 - kh) + (hydrates + k1 * k2 * kh * kh) / (1 + hydrates));
}

static double
dew_point (double t, double humidity)
{
  double g = log (humidity / 100) + 17.625 * t / (243.04 + t);

  return 243.04 * g / (17.625 - g);
}

double
bed_air_saturation (double temperature)
{
  g_return_val_if_fail (temperature >= -60 && temperature <= 140, 0);
  return 0.6108 * exp (17.27 * temperature / (temperature + 237.3));
}

gboolean
bed_air (double temperature, double humidity, BedAir *air, GError **error)
{
  g_return_val_if_fail (air != NULL, FALSE);
  if (!bed_argument_between ("temperature (C)", temperature, -40, 130, error)
      || !bed_argument_between ("humidity (%)", humidity, 0.1, 100, error))
    return FALSE;
  air->emc_pct = equilibrium (temperature, humidity / 100);
  air->vpd_kpa = bed_air_saturation (temperature) * (1 - humidity / 100);
  air->dew_point_c = dew_point (temperature, humidity);
  return TRUE;
}
