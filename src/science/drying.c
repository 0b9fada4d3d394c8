#include "science/drying.h"

#include <gsl/gsl_cdf.h>
#include <math.h>
#include <stdlib.h>

#include "science/argument.h"

/* Prior of the rate: median and spread of its logarithm, so that 5 % lie below
 * 0.003 and 5 % above 0.012 per day. */
#define PRIOR_MEDIAN 0.006
#define PRIOR_SPREAD 0.4214 /* ln 2 / 1.645 */

#define RATES 121 /* grid over 4 spreads to either side */
#define LEVELS 11 /* of the start value, at equal steps of probability */
#define MASSES 7  /* of the dry mass, at equal steps of probability */

typedef struct
{
  double rate;
  double level;  /* M0 - rest, mean given the rate */
  double spread; /* of it */
  double weight;
} Hypothesis;

typedef struct
{
  double value;
  double weight;
} Weighted;

static gboolean
check_fit (const BedWeighing *weighings, gsize n, const BedDryingSetting *setting, GError **error)
{
  if (!bed_argument_between ("weighings", (double) n, 1, 1000, error)
      || !bed_argument_between ("rest", setting->rest_pct, 0, 40, error)
      || !bed_argument_between ("alarm", setting->alarm_pct, setting->rest_pct + 0.5, 300, error)
      || !bed_argument_between ("noise", setting->noise_pct, 0.01, 50, error)
      || !bed_argument_between ("spread of the dry mass", setting->dry_spread, 0, 0.3, error))
    return FALSE;
  for (gsize i = 0; i < n; i++)
    if (!bed_argument_between ("day", weighings[i].day, -1e5, 1e6, error)
        || !bed_argument_between ("moisture", weighings[i].pct, 0, 400, error))
      return FALSE;
  return TRUE;
}

/* Sum of squares left about the best curve of one rate, with that curve's level. */
static double
misfit (const BedWeighing *weighings, gsize n, double rest, double start, Hypothesis *h,
        double *info)
{
  double xx = 0, xy = 0, yy = 0;

  for (gsize i = 0; i < n; i++)
    {
      double x = exp (-h->rate * (weighings[i].day - start)), y = weighings[i].pct - rest;
      xx += x * x;
      xy += x * y;
      yy += y * y;
    }
  h->level = xy / xx;
  *info = xx;
  return MAX (yy - xy * xy / xx, 0);
}

static double
rate_at (int i)
{
  return PRIOR_MEDIAN * exp (PRIOR_SPREAD * 4 * (2.0 * i / (RATES - 1) - 1));
}

/* The noise claimed, or the scatter seen about the best curve when that is more. */
static double
noise_of (const BedWeighing *weighings, gsize n, const BedDryingSetting *setting, double start)
{
  double least = INFINITY;

  for (int i = 0; i < RATES; i++)
    {
      Hypothesis h = { .rate = rate_at (i) };
      double info;
      least = MIN (least, misfit (weighings, n, setting->rest_pct, start, &h, &info));
    }
  return n > 2 ? MAX (setting->noise_pct, sqrt (least / (double) (n - 2))) : setting->noise_pct;
}

/* What the moistures were, had the log @share times the dry mass they were reckoned with. */
static void
shift (const BedWeighing *weighings, gsize n, double share, BedWeighing *shifted)
{
  for (gsize i = 0; i < n; i++)
    shifted[i] = (BedWeighing){ weighings[i].day, MAX ((100 + weighings[i].pct) / share - 100, 0) };
}

/* Weights are logarithms. */
static void
weigh_rates (const BedWeighing *weighings, gsize n, const BedDryingSetting *setting, double noise,
             double start, Hypothesis *hypotheses)
{

  for (int i = 0; i < RATES; i++)
    {
      Hypothesis *h = &hypotheses[i];
      double info, z = 4 * (2.0 * i / (RATES - 1) - 1);

      h->rate = rate_at (i);
      double left = misfit (weighings, n, setting->rest_pct, start, h, &info);
      h->spread = noise / sqrt (info);
      h->weight = -left / (2 * noise * noise) - log (info) / 2 - z * z / 2;
    }
}

static int
count_masses (const BedDryingSetting *setting)
{
  return setting->dry_spread > 0 ? MASSES : 1;
}

static void
weigh_masses (const BedWeighing *weighings, gsize n, const BedDryingSetting *setting, double start,
              Hypothesis *hypotheses)
{
  g_autofree BedWeighing *shifted = g_new (BedWeighing, n);
  double noise = noise_of (weighings, n, setting, start), best = -INFINITY;

  const int masses = count_masses (setting);

  for (int i = 0; i < masses; i++)
    {
      double z = gsl_cdf_ugaussian_Pinv ((i + 0.5) / masses);

      shift (weighings, n, exp (setting->dry_spread * z), shifted);
      weigh_rates (shifted, n, setting, noise, start, hypotheses + i * RATES);
    }
  for (int i = 0; i < masses * RATES; i++)
    best = MAX (best, hypotheses[i].weight);
  for (int i = 0; i < masses * RATES; i++)
    hypotheses[i].weight = exp (hypotheses[i].weight - best);
}

static int
compare (const void *a, const void *b)
{
  double x = ((const Weighted *) a)->value, y = ((const Weighted *) b)->value;

  return (x > y) - (x < y);
}

/* The value below which @share of the weight lies; @all sorted by value. */
static double
quantile (const Weighted *all, gsize n, double share)
{
  double total = 0, sum = 0;

  for (gsize i = 0; i < n; i++)
    total += all[i].weight;
  for (gsize i = 0; i < n; i++)
    {
      sum += all[i].weight;
      if (sum >= share * total)
        return all[i].value;
    }
  return all[n - 1].value;
}

static void
summarise (const Hypothesis *hypotheses, const BedDryingSetting *setting, double start, double last,
           BedDrying *drying)
{
  const int n = count_masses (setting) * RATES;
  g_autofree Weighted *days = g_new (Weighted, n * LEVELS);
  g_autofree Weighted *nows = g_new (Weighted, n * LEVELS);
  g_autofree Weighted *rates = g_new (Weighted, n);
  double now = 0, total = 0, floor_pct = setting->alarm_pct - setting->rest_pct;

  for (int i = 0; i < n; i++)
    {
      const Hypothesis *h = &hypotheses[i];
      double left = exp (-h->rate * (last - start));

      rates[i] = (Weighted){ h->rate, h->weight };
      now += h->weight * h->level * left;
      total += h->weight;
      for (int j = 0; j < LEVELS; j++)
        {
          double level = h->level + h->spread * gsl_cdf_ugaussian_Pinv ((j + 0.5) / LEVELS);
          /* A level at or under rest has long passed the alarm. */
          double day = start + log (MAX (level, 1e-3) / floor_pct) / h->rate;
          days[i * LEVELS + j] = (Weighted){ day, h->weight };
          nows[i * LEVELS + j] = (Weighted){ setting->rest_pct + level * left, h->weight };
        }
    }
  qsort (days, n * LEVELS, sizeof *days, compare);
  qsort (nows, n * LEVELS, sizeof *nows, compare);
  qsort (rates, n, sizeof *rates, compare);
  drying->rate = quantile (rates, n, 0.5);
  drying->rate_low = quantile (rates, n, 0.1);
  drying->rate_high = quantile (rates, n, 0.9);
  drying->now_low_pct = quantile (nows, n * LEVELS, 0.1);
  drying->now_high_pct = quantile (nows, n * LEVELS, 0.9);
  drying->now_pct = setting->rest_pct + now / total;
  drying->alarm_day = quantile (days, n * LEVELS, 0.5);
  drying->alarm_day_early = quantile (days, n * LEVELS, 0.1);
  drying->alarm_day_late = quantile (days, n * LEVELS, 0.9);
}

gboolean
bed_drying_fit (const BedWeighing *weighings, gsize n, const BedDryingSetting *setting,
                BedDrying *drying, GError **error)
{
  g_return_val_if_fail (setting != NULL && drying != NULL, FALSE);
  g_return_val_if_fail (weighings != NULL || n == 0, FALSE);
  if (!check_fit (weighings, n, setting, error))
    return FALSE;
  g_autofree Hypothesis *hypotheses = g_new (Hypothesis, MASSES * RATES);
  double first = INFINITY, last = -INFINITY;

  for (gsize i = 0; i < n; i++)
    {
      first = MIN (first, weighings[i].day);
      last = MAX (last, weighings[i].day);
    }
  weigh_masses (weighings, n, setting, first, hypotheses);
  summarise (hypotheses, setting, first, last, drying);
  return TRUE;
}

/* A soak */

static double
scatter_of (const BedSoaking *soaks, gsize n, const BedSoakFit *fit)
{
  double squares = 0, gain = 0;

  for (gsize i = 0; i < n; i++)
    {
      bed_soak_gain (fit, soaks[i].hours, &gain, NULL);
      squares += (soaks[i].gain_pct - gain) * (soaks[i].gain_pct - gain);
    }
  return sqrt (squares / (double) n);
}

static gboolean
has_three_lengths (const BedSoaking *soaks, gsize n)
{
  double first = soaks[0].hours, second = NAN;

  for (gsize i = 1; i < n; i++)
    {
      if (soaks[i].hours == first || soaks[i].hours == second)
        continue;
      if (!isnan (second))
        return TRUE;
      second = soaks[i].hours;
    }
  return FALSE;
}

/* t/gain is a straight line in t: least squares. FALSE when the line is no soak. */
static gboolean
fit_peleg (const BedSoaking *soaks, gsize n, BedSoakFit *fit)
{
  double x = 0, y = 0, xx = 0, xy = 0, count = 0;

  for (gsize i = 0; i < n; i++)
    if (soaks[i].gain_pct > 0)
      {
        double t = soaks[i].hours, ratio = t / soaks[i].gain_pct;
        x += t;
        y += ratio;
        xx += t * t;
        xy += t * ratio;
        count++;
      }
  double det = count * xx - x * x;
  if (count < 3 || det <= 0)
    return FALSE;
  fit->k2 = (count * xy - x * y) / det;
  fit->k1 = (y - fit->k2 * x) / count;
  return fit->k1 > 0 && fit->k2 > 0;
}

gboolean
bed_soak_fit (const BedSoaking *soaks, gsize n, BedSoakFit *fit, GError **error)
{
  g_return_val_if_fail (fit != NULL && (soaks != NULL || n == 0), FALSE);
  double root = 0, hours = 0;

  if (!bed_argument_between ("soaks", (double) n, 1, 10000, error))
    return FALSE;
  for (gsize i = 0; i < n; i++)
    {
      if (!bed_argument_between ("hours", soaks[i].hours, 0.05, 240, error)
          || !bed_argument_between ("gain", soaks[i].gain_pct, -50, 300, error))
        return FALSE;
      root += soaks[i].gain_pct * sqrt (soaks[i].hours);
      hours += soaks[i].hours;
    }
  *fit = (BedSoakFit){ .per_root_hour = root / hours };
  fit->scatter_pct = scatter_of (soaks, n, fit);
  BedSoakFit peleg = *fit;
  if (has_three_lengths (soaks, n) && fit_peleg (soaks, n, &peleg))
    {
      peleg.scatter_pct = scatter_of (soaks, n, &peleg);
      if (peleg.scatter_pct < fit->scatter_pct)
        *fit = peleg;
    }
  return TRUE;
}

gboolean
bed_soak_gain (const BedSoakFit *fit, double hours, double *gain_pct, GError **error)
{
  g_return_val_if_fail (fit != NULL && gain_pct != NULL, FALSE);
  if (!bed_argument_between ("hours", hours, 0, 240, error))
    return FALSE;
  *gain_pct = fit->k1 > 0 ? hours / (fit->k1 + fit->k2 * hours) : fit->per_root_hour * sqrt (hours);
  return TRUE;
}
