#pragma once

#include "science/statistics.h"

/* What the next weeks will bring; for seasons see science/crop_model.h.
 *
 * What is expected follows from the logs soaked, by what a soak gives and when
 * (bed_rotation_harvest()). Weather then takes or gives a share
 * of it. The interval comes from how the farm's own past weeks or seasons turned
 * out against what was expected of them, by the same reckoning, at the time: the
 * ratios are taken as log-normal with unknown mean and spread, and a new one lies
 * within exp (m +- t s sqrt (1 + 1/n)), t with n - 1 degrees of freedom. That is
 * exact for any n >= 2 (standard theory, J. Aitchison, J. A. C. Brown, The
 * Lognormal Distribution, 1957, from memory; simulated in tests/science).
 * Where a past ratio is zero the same is done without logarithms, which is an
 * approximation (78 to 79 % of a promised 80 % in simulated yards where one
 * harvest in eight fails).
 *
 * Not allowed for: weeks of one spell of weather are alike, so the interval of a
 * sum of weeks is wider than independent weeks would have it. */

typedef struct
{
  double expected_kg; /* >= 0; a period of which nothing was expected teaches nothing */
  double actual_kg;   /* >= 0 */
} BedForecastPast;

/* Forecasts each of @expected_kg (>= 0) from the ratios of @past; @forecasts has
 * @n_expected places and is filled with the mass as likely exceeded as not and
 * the interval at @level (two-sided), in kg. Without a past period the estimate is what was
 * expected, and with one it is scaled by that one; in both cases no spread is
 * known (BED_KNOWN_POINT). */
gboolean bed_forecast (const BedForecastPast *past, gsize n_past, const double *expected_kg,
                       gsize n_expected, double level, BedInterval *forecasts, GError **error);
