#include "science/survival.h"

#include "science/argument.h"

#include <float.h>
#include <gsl/gsl_cdf.h>
#include <math.h>
#include <stdlib.h>

static int
compare_ages (const void *a, const void *b)
{
  double one = ((const BedLogLife *) a)->age;
  double other = ((const BedLogLife *) b)->age;

  return (one > other) - (one < other);
}

/* The quantile by halving: GSL's own inverse does not converge for the parameters of some
 * thousands of logs, and ends the program. */
static double
invert_beta (double p, double a, double b)
{
  double low = 0, high = 1;

  for (int i = 0; i < 60; i++)
    {
      double middle = (low + high) / 2;

      if (gsl_cdf_beta_P (middle, a, b) < p)
        low = middle;
      else
        high = middle;
    }
  return (low + high) / 2;
}

/* Clopper and Pearson for @alive of @n, both of which may be broken numbers. */
static BedInterval
find_interval (double survival, double n, double level)
{
  double tail = (1 - level) / 2;
  double alive = survival * n;
  double dead = n - alive;
  BedInterval interval = { BED_KNOWN_INTERVAL, survival, 0, 1 };

  if (survival > 0)
    interval.low = invert_beta (tail, alive, dead + 1);
  if (survival < 1)
    interval.high = invert_beta (1 - tail, alive + 1, dead);
  return interval;
}

/* Logs without loss from sight that would leave the same variance. When the last
 * one falls the variance is zero, and those before the step still stand for it. */
static double
find_size (double survival, double variance, double before)
{
  return variance > 0 ? MAX (1, survival * (1 - survival) / variance) : before;
}

GArray *
bed_survival_curve (const BedLogLife *lives, gsize n_lives, double level, GError **error)
{
  g_return_val_if_fail (lives != NULL || n_lives == 0, NULL);
  if (!bed_level_check (level, error))
    return NULL;
  for (gsize i = 0; i < n_lives; i++)
    if (!bed_argument_between ("age", lives[i].age, 0, DBL_MAX, error))
      return NULL;
  g_autofree BedLogLife *sorted = g_memdup2 (lives, n_lives * sizeof *lives);
  if (n_lives > 0)
    qsort (sorted, n_lives, sizeof *sorted, compare_ages);

  GArray *curve = g_array_new (FALSE, FALSE, sizeof (BedSurvivalStep));
  double survival = 1;
  double greenwood = 0;
  double size = (double) n_lives;
  for (gsize i = 0, next; i < n_lives; i = next)
    {
      BedSurvivalStep step = { .age = sorted[i].age, .at_risk = (guint) (n_lives - i) };
      for (next = i; next < n_lives && sorted[next].age <= step.age; next++)
        step.retired += !!sorted[next].retired;
      if (step.retired == 0)
        continue;
      guint left = step.at_risk - step.retired;
      survival *= (double) left / step.at_risk;
      if (left > 0)
        greenwood += (double) step.retired / step.at_risk / left;
      double variance = survival * survival * greenwood;
      size = find_size (survival, variance, size);
      step.standard_error = sqrt (variance);
      step.survival = find_interval (survival, size, level);
      g_array_append_val (curve, step);
    }
  return curve;
}

double
bed_survival_at (const GArray *curve, double age)
{
  g_return_val_if_fail (curve != NULL, 0);
  double survival = 1;

  for (guint i = 0; i < curve->len; i++)
    {
      const BedSurvivalStep *step = &g_array_index (curve, BedSurvivalStep, i);
      if (step->age > age)
        break;
      survival = step->survival.estimate;
    }
  return survival;
}

double
bed_survival_ratio (const GArray *curve, double age, double later)
{
  g_return_val_if_fail (later >= age, 0);
  double now = bed_survival_at (curve, age);

  return now > 0 ? bed_survival_at (curve, later) / now : 0;
}
