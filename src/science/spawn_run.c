#include "science/spawn_run.h"

#include <math.h>
#include <stdlib.h>

#include "science/argument.h"

#define CHECK_NOISE 10.0   /* points; two people judging one end face differ by so much */
#define TEN_PERCENT 1.2816 /* standard normal, 90 % */
#define STEPS 401
#define CELLS (STEPS * SHAPES)
#define MONTH 30.4

/* The ends whiten as effort / full to a power that nobody knows: early and slowing, as warmth does,
 * or late and fast. Alike likely; our own, no source. */
#define SHAPES 5
static const double shapes[SHAPES] = { 0.5, 0.7, 1, 1.5, 2.2 };

typedef struct
{
  double value;
  double weight;
} Weighted;

static gboolean
check_prior (const BedSpawnPrior *prior, GError **error)
{
  return bed_argument_between ("likely", prior->likely, 1, 1e6, error)
         && bed_argument_between ("early", prior->early, 0.5, prior->likely, error)
         && bed_argument_between ("late", prior->late, prior->likely, 1e7, error)
         && bed_argument_positive ("late less early", prior->late - prior->early, error);
}

/* Full colonisation at step @i of a grid over 5 spreads of its logarithm. */
static double
full_at (const BedSpawnPrior *prior, double spread, int i)
{
  return prior->likely * exp (spread * 5 * (2.0 * i / (STEPS - 1) - 1));
}

static double
colour (double effort, double full, double shape)
{
  return 100 * pow (MIN (effort / full, 1), shape);
}

static double
log_weight (const BedSpawnCheck *checks, gsize n, double full, double shape, int i)
{
  double z = 5 * (2.0 * i / (STEPS - 1) - 1), sum = -z * z / 2;

  for (gsize c = 0; c < n; c++)
    {
      double miss = (checks[c].pct - colour (checks[c].effort, full, shape)) / CHECK_NOISE;
      sum -= miss * miss / 2;
    }
  return sum;
}

static int
compare (const void *a, const void *b)
{
  double x = ((const Weighted *) a)->value, y = ((const Weighted *) b)->value;

  return (x > y) - (x < y);
}

/* The value below which @share of the weight lies; @all sorted by value. */
static double
quantile (const Weighted *all, double total, double share)
{
  double sum = 0;

  for (int i = 0; i < CELLS; i++)
    {
      sum += all[i].weight;
      if (sum >= share * total)
        return all[i].value;
    }
  return all[CELLS - 1].value;
}

static void
summarise (Weighted *fulls, Weighted *colours, double total, BedSpawnRun *run)
{
  qsort (fulls, CELLS, sizeof *fulls, compare);
  qsort (colours, CELLS, sizeof *colours, compare);
  run->full = quantile (fulls, total, 0.5);
  run->full_early = quantile (fulls, total, 0.1);
  run->full_late = quantile (fulls, total, 0.9);
  run->pct = quantile (colours, total, 0.5);
  run->pct_low = quantile (colours, total, 0.1);
  run->pct_high = quantile (colours, total, 0.9);
}

gboolean
bed_spawn_prior (BedStrainType strain, BedWoodPace pace, BedSpawnPrior *prior, GError **error)
{
  g_return_val_if_fail (prior != NULL, FALSE);
  if (!bed_argument_between ("strain type", strain, 0, BED_N_STRAINS - 1, error)
      || !bed_argument_between ("wood pace", pace, 0, BED_WOOD_QUICK, error))
    return FALSE;
  double least = strain == BED_STRAIN_COLD ? 12 : 6, most = strain == BED_STRAIN_COLD ? 18 : 12;
  double factor = pace == BED_WOOD_QUICK ? 5.0 / 6 : 1;

  prior->early = least * MONTH * factor;
  prior->late = most * MONTH * factor;
  prior->likely = sqrt (prior->early * prior->late);
  return TRUE;
}

gboolean
bed_spawn_run (const BedSpawnPrior *prior, const BedSpawnCheck *checks, gsize n, double effort,
               BedSpawnRun *run, GError **error)
{
  g_return_val_if_fail (prior != NULL && run != NULL && (checks != NULL || n == 0), FALSE);
  if (!check_prior (prior, error) || !bed_argument_between ("effort", effort, 0, 1e6, error)
      || !bed_argument_between ("checks", (double) n, 0, 1000, error))
    return FALSE;
  for (gsize i = 0; i < n; i++)
    if (!bed_argument_between ("effort of a check", checks[i].effort, 0, 1e6, error)
        || !bed_argument_between ("colonised", checks[i].pct, 0, 100, error))
      return FALSE;
  double spread = log (prior->late / prior->early) / (2 * TEN_PERCENT);
  double best = -INFINITY, total = 0;
  g_autofree Weighted *fulls = g_new (Weighted, CELLS);
  g_autofree Weighted *colours = g_new (Weighted, CELLS);

  for (int i = 0; i < CELLS; i++)
    {
      double full = full_at (prior, spread, i / SHAPES), shape = shapes[i % SHAPES];
      fulls[i] = (Weighted){ full, log_weight (checks, n, full, shape, i / SHAPES) };
      colours[i].value = colour (effort, full, shape);
      best = MAX (best, fulls[i].weight);
    }
  for (int i = 0; i < CELLS; i++)
    total += colours[i].weight = fulls[i].weight = exp (fulls[i].weight - best);
  summarise (fulls, colours, total, run);
  return TRUE;
}

gboolean
bed_spawn_day (double effort, double wanted, const double *daily, gsize n, int *day, GError **error)
{
  g_return_val_if_fail (day != NULL && (daily != NULL || n == 0), FALSE);
  if (!bed_argument_between ("effort", effort, 0, 1e6, error)
      || !bed_argument_between ("wanted", wanted, 0, 1e7, error)
      || !bed_argument_between ("days", (double) n, 0, 100000, error))
    return FALSE;
  for (gsize i = 0; i < n; i++)
    if (!bed_argument_between ("daily", daily[i], 0, 1000, error))
      return FALSE;
  *day = effort >= wanted ? 0 : -1;
  for (gsize i = 0; i < n && *day < 0; i++)
    {
      effort += daily[i];
      if (effort >= wanted)
        *day = (int) i + 1;
    }
  return TRUE;
}
