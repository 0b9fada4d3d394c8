#include "science/statistics.h"

#include "science/argument.h"

#include <gsl/gsl_cdf.h>

gboolean
bed_level_check (double level, GError **error)
{
  return bed_argument_between ("level", level, 0.01, 0.999, error);
}

double
bed_t_quantile (double p, double freedom)
{
  g_return_val_if_fail (p > 0 && p < 1 && freedom > 0, 0);
  return gsl_cdf_tdist_Pinv (p, freedom);
}

BedInterval
bed_interval_t (double estimate, double spread, double freedom, double level)
{
  if (spread <= 0)
    return (BedInterval){ BED_KNOWN_POINT, estimate, estimate, estimate };
  double half = bed_t_quantile (0.5 + level / 2, freedom) * spread;

  return (BedInterval){
    .known = BED_KNOWN_INTERVAL,
    .estimate = estimate,
    .low = MAX (0, estimate - half),
    .high = estimate + half,
  };
}
