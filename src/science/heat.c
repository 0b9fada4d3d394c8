#include "science/heat.h"

#include <math.h>

#include "science/argument.h"

/* Mean height of the wave m + a sin t above @threshold, where it is above. */
static double
above (double mean, double amplitude, double threshold)
{
  if (threshold <= mean - amplitude)
    return mean - threshold;
  if (threshold >= mean + amplitude)
    return 0;
  double t = asin ((threshold - mean) / amplitude);
  return ((mean - threshold) * (G_PI_2 - t) + amplitude * cos (t)) / G_PI;
}

gboolean
bed_heat_day (double least, double most, double lower, double upper, double *degree_days,
              GError **error)
{
  g_return_val_if_fail (degree_days != NULL, FALSE);
  if (!bed_argument_between ("least (C)", least, -80, 80, error)
      || !bed_argument_between ("most (C)", most, least, 80, error)
      || !bed_argument_between ("lower (C)", lower, -80, 80, error)
      || !bed_argument_between ("upper (C)", upper, lower, 80, error))
    return FALSE;
  double mean = (most + least) / 2, amplitude = (most - least) / 2;

  /* The six cases of the paper are the heat above one line less that above the other. */
  *degree_days = above (mean, amplitude, lower) - above (mean, amplitude, upper);
  return TRUE;
}
