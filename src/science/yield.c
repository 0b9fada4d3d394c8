#include "science/yield.h"

#include "science/argument.h"

#include <math.h>

/* The analysis of variance, weighted by logs: a record of n logs together has
 * the variance of one log over n. */
typedef struct
{
  guint records;
  guint groups; /* with records */
  double logs;
  double between;       /* variance of the groups, kg2 */
  double within;        /* variance of one log, kg2 */
  double error_between; /* variance of the estimate of between, kg4 */
  double error_within;  /* kg4 */
  double mean;
  double error_mean;    /* kg2 */
  double balanced_logs; /* n0: the group size of balanced data like these */
} Variances;

static gboolean
check_records (const BedYieldRecord *records, gsize n_records, guint n_groups, GError **error)
{
  for (gsize i = 0; i < n_records; i++)
    {
      if (records[i].group >= n_groups)
        return bed_science_refuse (error, BED_SCIENCE_ERROR_ARGUMENT,
                                   "group: %u is not below the number of groups, %u",
                                   records[i].group, n_groups);
      if (!bed_argument_positive ("logs", records[i].logs, error)
          || !bed_argument_between ("logs", records[i].logs, 1e-6, 1e9, error)
          || !bed_argument_between ("mass_kg", records[i].mass_kg, 0, 1e9, error))
        return FALSE;
    }
  return TRUE;
}

static double
per_log (const BedYieldRecord *record)
{
  return record->mass_kg / record->logs;
}

static double
mean_of (const BedYieldGroup *group)
{
  return group->mass_kg / group->logs;
}

/* @squares: this group's sum of squares about its mean, weighted by logs. */
static void
add_own (BedYieldGroup *group, double squares, double level)
{
  double mean = mean_of (group);

  if (group->records == 1)
    group->own = (BedInterval){ BED_KNOWN_POINT, mean, mean, mean };
  else
    group->own = bed_interval_t (mean, sqrt (squares / (group->records - 1) / group->logs),
                                 group->records - 1, level);
}

/* The groups' mean, each weighted by how well it is known. Where nothing is
 * known to vary, by its logs. */
static void
find_mean (const BedYields *yields, Variances *v)
{
  double weights = 0;
  double sum = 0;
  gboolean flat = v->between <= 0 && v->within <= 0;

  for (guint g = 0; g < yields->n_groups; g++)
    {
      const BedYieldGroup *group = &yields->groups[g];
      if (group->records == 0)
        continue;
      double weight = flat ? group->logs : 1 / (v->between + v->within / group->logs);
      weights += weight;
      sum += weight * mean_of (group);
    }
  v->mean = weights > 0 ? sum / weights : 0;
  v->error_mean = flat || weights <= 0 ? 0 : 1 / weights;
}

/* Expected mean squares of unbalanced one-way data: E(MSB) = within + n0 between.
 * Their variances are those of balanced data of n0 logs a group. */
static Variances
find_variances (const BedYields *yields, const double *squares)
{
  Variances v = { 0 };
  double sum_squares = 0;
  double logs_squared = 0;
  double mass = 0;
  double between_squares = 0;

  for (guint g = 0; g < yields->n_groups; g++)
    {
      const BedYieldGroup *group = &yields->groups[g];
      v.records += group->records;
      v.groups += group->records > 0;
      v.logs += group->logs;
      mass += group->mass_kg;
      logs_squared += group->logs * group->logs;
      sum_squares += squares[g];
    }
  for (guint g = 0; g < yields->n_groups; g++)
    if (yields->groups[g].records > 0)
      between_squares += yields->groups[g].logs
                         * pow (mean_of (&yields->groups[g]) - mass / v.logs, 2);
  if (v.records > v.groups)
    {
      v.within = sum_squares / (v.records - v.groups);
      v.error_within = 2 * v.within * v.within / (v.records - v.groups);
    }
  if (v.groups > 1 && v.records > v.groups)
    {
      double mean_square = between_squares / (v.groups - 1);
      v.balanced_logs = (v.logs - logs_squared / v.logs) / (v.groups - 1);
      v.between = MAX (0, (mean_square - v.within) / v.balanced_logs);
      v.error_between
          = (2 * pow (v.within + v.balanced_logs * v.between, 2) / (v.groups - 1) + v.error_within)
            / pow (v.balanced_logs, 2);
    }
  find_mean (yields, &v);
  return v;
}

/* The mean squared error of a drawn-in mean: g1 the prediction, g2 the common
 * mean, g3 (twice) the variances being estimates themselves. @noise is the
 * variance of the group's own mean. */
static double
find_error (const Variances *v, double noise)
{
  double total = v->between + noise;

  if (total <= 0)
    return 0;
  double keep = v->between / total;
  double per_log_share = v->within > 0 ? noise / v->within : 0;
  double covariance = v->balanced_logs > 0 ? -v->error_within / v->balanced_logs : 0;
  double g1 = keep * noise;
  double g2 = pow (1 - keep, 2) * v->error_mean;
  double spread = v->within * v->within * v->error_between
                  + v->between * v->between * v->error_within
                  - 2 * v->within * v->between * covariance;
  double g3 = per_log_share * per_log_share / pow (total, 3) * spread;
  return g1 + g2 + 2 * g3;
}

/* Nothing within a group is known to vary, or there is one group: no drawing in. */
static void
add_shrunk (BedYieldGroup *group, const Variances *v, double level)
{
  if (v->records == 0)
    return;
  if (v->groups < 2 || v->records == v->groups)
    {
      if (group->records > 0)
        group->shrunk = group->own;
      else
        group->shrunk = (BedInterval){ BED_KNOWN_POINT, v->mean, v->mean, v->mean };
      return;
    }
  if (group->records == 0)
    {
      group->shrunk
          = bed_interval_t (v->mean, sqrt (v->between + v->error_mean), v->groups - 1, level);
      return;
    }
  double noise = v->within / group->logs;
  double keep = v->between + noise > 0 ? v->between / (v->between + noise) : 0;
  double estimate = v->mean + keep * (mean_of (group) - v->mean);
  group->shrunk
      = bed_interval_t (estimate, sqrt (find_error (v, noise)), v->records - v->groups, level);
}

BedYields *
bed_yields_new (const BedYieldRecord *records, gsize n_records, guint n_groups, double level,
                GError **error)
{
  g_return_val_if_fail (records != NULL || n_records == 0, NULL);
  if (!bed_level_check (level, error) || !check_records (records, n_records, n_groups, error))
    return NULL;
  g_autoptr (BedYields) yields = g_new0 (BedYields, 1);
  g_autofree double *squares = g_new0 (double, n_groups);
  yields->groups = g_new0 (BedYieldGroup, n_groups);
  yields->n_groups = n_groups;

  for (gsize i = 0; i < n_records; i++)
    {
      BedYieldGroup *group = &yields->groups[records[i].group];
      group->records++;
      group->logs += records[i].logs;
      group->mass_kg += records[i].mass_kg;
    }
  for (gsize i = 0; i < n_records; i++)
    squares[records[i].group]
        += records[i].logs
           * pow (per_log (&records[i]) - mean_of (&yields->groups[records[i].group]), 2);

  Variances variances = find_variances (yields, squares);
  for (guint g = 0; g < n_groups; g++)
    {
      BedYieldGroup *group = &yields->groups[g];
      if (group->records > 0)
        add_own (group, squares[g], level);
      add_shrunk (group, &variances, level);
    }
  yields->mean_kg = variances.mean;
  yields->variance_between = variances.between;
  yields->variance_within = variances.within;
  return g_steal_pointer (&yields);
}

void
bed_yields_free (BedYields *yields)
{
  if (yields == NULL)
    return;
  g_free (yields->groups);
  g_free (yields);
}
