#include "science/rotation_private.h"

#include <math.h>
#include <string.h>

/* The volume algorithm: F. Barahona, R. Anbil, "The volume algorithm: producing primal solutions
 * with a subgradient method", Mathematical Programming 87:385-399, 2000, from memory, also its
 * numbers but for SLOW_GAIN, which was tried. Where kilograms and places in the tank have a price,
 * every class is on its own and its best weeks are found one after the other; what that leaves
 * short of demand or over the tank says where the prices should go, and the mean of the schedules
 * on the way comes near a plan. */

/* Counting turns instead of time gives the same plan on every machine. */
#define LEAST_TURNS 200 /* however late it is */
#define MOST_TURNS 1500
#define RED_TURNS 20 /* without a better bound until the steps are made shorter */
#define SLOW_TURNS 100
#define SLOW_GAIN 0.002
#define SHORTER 0.66
#define LONGER 1.1
#define SMALLEST_SHARE 1e-4

/* A price for every week's kilogram and for every week's place in the tank. */
typedef struct
{
  const Rotation *rotation;
  double kg; /* of a log in the mean: a place is reckoned as that, so that the steps of both fit */
  double *units; /* of one turn, n_classes x n_weeks */
  double *best;  /* of a schedule from a week on; n_weeks + 1 */
} Market;

static double
get_worth (const Rotation *rotation, const double *prices, guint week)
{
  const BedRotationProblem *problem = rotation->problem;
  double worth = 0;

  for (guint lag = 0; lag < problem->n_lags && week + lag + 1 < rotation->n_weeks; lag++)
    worth += problem->lag_shares[lag] * prices[week + lag + 1];
  return worth;
}

/* The weeks in which every unit of @class is best soaked, a rest apart, into @market's units. What
 * they are worth. */
static double
schedule (Market *market, guint class, const double *worth, const double *places)
{
  const Rotation *rotation = market->rotation;
  const RotationClass *kind = &rotation->classes[class];
  guint rest = rotation_rest (rotation, class), end = kind->last + 1;
  double *best = market->best, *units = market->units + class * rotation->n_weeks;

  best[end] = 0;
  for (guint week = end; week-- > kind->first;)
    {
      double gain = rotation_is_open (rotation, class, week)
                        ? kind->unit_kg * worth[week] - kind->unit_logs * places[week]
                              + best[MIN (week + rest, end)]
                        : 0;
      best[week] = MAX (best[week + 1], gain);
    }
  memset (units, 0, rotation->n_weeks * sizeof *units);
  for (guint week = kind->first; week < end;)
    if (best[week] > best[week + 1])
      {
        units[week] = kind->units;
        week += rest;
      }
    else
      week++;
  return kind->units * best[kind->first];
}

/* What is short of demand and over the tank in this turn: where each price should go. */
static void
find_slope (const Market *market, double *slope)
{
  const Rotation *rotation = market->rotation;
  const BedRotationProblem *problem = rotation->problem;
  guint n = rotation->n_weeks;
  g_autofree double *kg = g_new0 (double, MAX (n, 1));
  g_autofree double *harvest = g_new0 (double, MAX (n, 1));

  for (guint week = 0; week < n; week++)
    slope[n + week] = -(double) problem->tank_logs;
  for (guint class = 0; class < rotation->n_classes; class ++)
    for (guint week = rotation->classes[class].first; week <= rotation->classes[class].last; week++)
      {
        double soaked = market->units[class * n + week];

        kg[week] += soaked * rotation->classes[class].unit_kg;
        slope[n + week] += soaked * rotation->classes[class].unit_logs;
      }
  bed_rotation_harvest (kg, n, problem->lag_shares, problem->n_lags, harvest);
  for (guint week = 0; week < n; week++)
    {
      slope[week] = problem->weeks[week].demand_kg - harvest[week];
      slope[n + week] *= market->kg;
    }
}

/* No plan costs less than this, whatever the prices. */
static double
find_bound (Market *market, const double *prices, double *slope)
{
  const Rotation *rotation = market->rotation;
  guint n = rotation->n_weeks;
  g_autofree double *worth = g_new (double, MAX (n, 1));
  double bound = 0;

  for (guint week = 0; week < n; week++)
    {
      worth[week] = get_worth (rotation, prices, week);
      bound += prices[week] * rotation->problem->weeks[week].demand_kg
               - prices[n + week] * rotation->problem->tank_logs;
    }
  for (guint class = 0; class < rotation->n_classes; class ++)
    bound -= schedule (market, class, worth, prices + n);
  find_slope (market, slope);
  return bound;
}

static double
dot (const double *one, const double *other, guint n)
{
  double sum = 0;

  for (guint i = 0; i < n; i++)
    sum += one[i] * other[i];
  return sum;
}

/* A step along @slope; a kilogram is worth no more than being short of it costs, and no less than
 * being over; a place costs something or nothing. */
static void
step (const Market *market, const double *from, const double *slope, double length, double *to)
{
  const Rotation *rotation = market->rotation;
  guint n = rotation->n_weeks;

  for (guint i = 0; i < n; i++)
    to[i] = CLAMP (from[i] + length * slope[i], -rotation->problem->surplus_weight,
                   rotation->problem->shortfall_weight);
  for (guint i = n; i < 2 * n; i++)
    to[i] = MAX (from[i] + length * market->kg * slope[i], 0);
}

/* The share of the new turn that makes the mean slope shortest. */
static double
find_share (const double *mean, const double *now, guint n, double most)
{
  double away = 0, along = 0;

  for (guint i = 0; i < n; i++)
    {
      away += (mean[i] - now[i]) * (mean[i] - now[i]);
      along += mean[i] * (mean[i] - now[i]);
    }
  return away > 0 ? CLAMP (along / away, most / 10, most) : most;
}

static double
find_mean_kg (const Rotation *rotation)
{
  double kg = 0, logs = 0;

  for (guint class = 0; class < rotation->n_classes; class ++)
    {
      const RotationClass *kind = &rotation->classes[class];

      kg += kind->units * kind->unit_kg;
      logs += (double) kind->units * kind->unit_logs;
    }
  return kg / logs;
}

/* How the steps go: shorter when they lead nowhere, and the mean slower to change. */
typedef struct
{
  double pace, most, before;
  guint red;
} Pace;

static void
set_pace (Pace *pace, guint turn, double bound, gboolean better, gboolean along)
{
  pace->red = better ? 0 : pace->red + 1;
  if (better && along)
    pace->pace = MIN (pace->pace * LONGER, 2);
  if (pace->red >= RED_TURNS)
    {
      pace->pace *= SHORTER;
      pace->red = 0;
    }
  if (turn % SLOW_TURNS > 0)
    return;
  if (bound - pace->before < SLOW_GAIN * fabs (bound))
    pace->most = MAX (pace->most / 2, SMALLEST_SHARE);
  pace->before = bound;
}

static void
move_mean (double *mean, const double *now, gsize n, double share)
{
  for (gsize i = 0; i < n; i++)
    mean[i] += share * (now[i] - mean[i]);
}

double
rotation_price (const Rotation *rotation, double cost, double *units)
{
  guint n = 2 * rotation->n_weeks;
  gsize all = (gsize) rotation->n_classes * rotation->n_weeks;
  g_autofree double *own = g_new0 (double, MAX (all, 1));
  g_autofree double *best = g_new0 (double, rotation->n_weeks + 1);
  g_autofree double *centre = g_new0 (double, MAX (n, 1));
  g_autofree double *prices = g_new0 (double, MAX (n, 1));
  g_autofree double *mean = g_new0 (double, MAX (n, 1));
  g_autofree double *slope = g_new0 (double, MAX (n, 1));
  Market market = { rotation, find_mean_kg (rotation), own, best };
  Pace pace = { .pace = 1, .most = 0.1 };

  for (guint week = 0; week < rotation->n_weeks; week++)
    centre[week] = rotation->problem->shortfall_weight;
  double bound = find_bound (&market, centre, mean);
  memcpy (units, own, all * sizeof *units);
  for (guint turn = 1; turn <= LEAST_TURNS || (turn <= MOST_TURNS && !rotation_is_late (rotation));
       turn++)
    {
      double size = dot (mean, mean, n);
      if (size <= 0)
        break;
      step (&market, centre, mean, pace.pace * (cost - bound) / size, prices);
      double now = find_bound (&market, prices, slope);
      double share = find_share (mean, slope, n, pace.most);
      gboolean better = now > bound, along = dot (mean, slope, n) > 0;
      move_mean (units, own, all, share);
      move_mean (mean, slope, n, share);
      if (better)
        {
          bound = now;
          memcpy (centre, prices, n * sizeof *centre);
        }
      set_pace (&pace, turn, bound, better, along);
    }
  return MAX (bound, 0);
}
