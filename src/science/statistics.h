#pragma once

#include <glib.h>

/* The few statistics the crop's questions share. */

/* How much of an interval is known. A farm's first season has no spread, and a
 * new strain has no mean either: the page says so instead of showing a guess. */
typedef enum
{
  BED_KNOWN_NOTHING, /* no observation: estimate, low and high are 0 */
  BED_KNOWN_POINT,   /* an estimate without a spread: low = high = estimate */
  BED_KNOWN_INTERVAL,
} BedKnown;

/* An estimate and the interval around it, in the unit of what is estimated. */
typedef struct
{
  BedKnown known;
  double estimate;
  double low;
  double high;
} BedInterval;

/* A level of confidence is a fraction, 0.01 to 0.999; the error names "level". */
gboolean bed_level_check (double level, GError **error);

/* Student's t: the value with probability @p below it, for @freedom degrees of
 * freedom > 0 and 0 < @p < 1. By GSL. Programming errors are criticals: @p and
 * @freedom come from code, never from a person. */
double bed_t_quantile (double p, double freedom);

/* @estimate +- t spread, cut off below zero: every quantity here is a mass or
 * a ratio of masses. @level is two-sided. No spread at all is not certainty (ten
 * young logs gave nothing; so they do): it is a point. */
BedInterval bed_interval_t (double estimate, double spread, double freedom, double level);
