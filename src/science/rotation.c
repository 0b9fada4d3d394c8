#include "science/rotation.h"

#include "science/argument.h"
#include "science/rotation_private.h"

#include <float.h>
#include <math.h>
#include <stdlib.h>

#define MOST_GROUPS 500
#define MOST_WEEKS 104
#define MOST_LAGS 26
#define MOST_LOGS 100000
#define MOST_KG 1e6

static gboolean
check_group (const BedRotationProblem *problem, gsize index, GError **error)
{
  const BedRotationGroup *group = &problem->groups[index];
  g_autofree char *name = group->name != NULL ? g_strdup (group->name)
                                              : g_strdup_printf ("%" G_GSIZE_FORMAT, index + 1);
  g_autofree char *logs = g_strdup_printf ("group %s: logs", name);
  g_autofree char *kg = g_strdup_printf ("group %s: kg_per_log", name);
  g_autofree char *first = g_strdup_printf ("group %s: first_week", name);

  if (!bed_argument_between (logs, group->logs, 1, MOST_LOGS, error)
      || !bed_argument_between (kg, group->kg_per_log, 0, MOST_KG, error)
      || !bed_argument_between (first, group->first_week, 1, problem->n_weeks, error))
    return FALSE;
  if (group->last_week < group->first_week)
    g_set_error (error, BED_SCIENCE_ERROR, BED_SCIENCE_ERROR_ARGUMENT,
                 "group %s: last_week %u comes before first_week %u", name, group->last_week,
                 group->first_week);
  else if (group->whole && group->logs > problem->tank_logs)
    g_set_error (error, BED_SCIENCE_ERROR, BED_SCIENCE_ERROR_NO_ANSWER,
                 "group %s: it may not be split, and its %u logs do not fit the tank, which "
                 "holds %u",
                 name, group->logs, problem->tank_logs);
  else
    return TRUE;
  return FALSE;
}

static gboolean
check_weights (const BedRotationProblem *problem, GError **error)
{
  if (!bed_argument_between ("shortfall", problem->shortfall_weight, 0, MOST_KG, error)
      || !bed_argument_between ("surplus", problem->surplus_weight, 0, MOST_KG, error))
    return FALSE;
  if (problem->shortfall_weight <= 0 && problem->surplus_weight <= 0)
    return bed_science_refuse (error, BED_SCIENCE_ERROR_ARGUMENT,
                               "shortfall: it and surplus weigh nothing, so every plan is as good");
  return TRUE;
}

static gboolean
check_lags (const BedRotationProblem *problem, GError **error)
{
  double sum = 0;

  for (gsize lag = 0; lag < problem->n_lags; lag++)
    {
      if (!bed_argument_between ("lags", problem->lag_shares[lag], 0, 1, error))
        return FALSE;
      sum += problem->lag_shares[lag];
    }
  if (fabs (sum - 1) > 1e-6)
    return bed_science_refuse (error, BED_SCIENCE_ERROR_ARGUMENT,
                               "lags: the shares of the harvest must sum to 1");
  return TRUE;
}

static gboolean
check_problem (const BedRotationProblem *problem, GError **error)
{
  if (!bed_argument_between ("groups", problem->n_groups, 1, MOST_GROUPS, error)
      || !bed_argument_between ("weeks", problem->n_weeks, 1, MOST_WEEKS, error)
      || !bed_argument_between ("lags", problem->n_lags, 1, MOST_LAGS, error)
      || !bed_argument_between ("tank", problem->tank_logs, 1, MOST_LOGS, error)
      || !bed_argument_between ("rest", problem->rest_weeks, 1, DBL_MAX, error)
      || !bed_argument_between ("time_limit_ms", problem->time_limit_ms, 1, 600000, error)
      || !check_weights (problem, error) || !check_lags (problem, error))
    return FALSE;
  for (gsize week = 0; week < problem->n_weeks; week++)
    {
      g_autofree char *name = g_strdup_printf ("week %" G_GSIZE_FORMAT ": demand_kg", week + 1);
      if (!bed_argument_between (name, problem->weeks[week].demand_kg, 0, MOST_KG, error))
        return FALSE;
    }
  for (gsize group = 0; group < problem->n_groups; group++)
    if (!check_group (problem, group, error))
      return FALSE;
  return TRUE;
}

static RotationClass
class_of (const BedRotationProblem *problem, const BedRotationGroup *group)
{
  guint unit_logs = group->whole ? group->logs : 1;

  return (RotationClass){
    .units = group->logs / unit_logs,
    .unit_logs = unit_logs,
    .unit_kg = group->kg_per_log * unit_logs,
    .first = group->first_week - 1,
    .last = (guint) MIN (group->last_week, problem->n_weeks) - 1,
    .rest = group->rest_weeks,
  };
}

/* Everything but how many units there are. A whole group of one log is a log. */
static int
compare_kinds (const void *a, const void *b)
{
  const RotationClass *one = a;
  const RotationClass *other = b;

  if (one->unit_kg < other->unit_kg || one->unit_kg > other->unit_kg)
    return one->unit_kg > other->unit_kg ? -1 : 1;
  if (one->unit_logs != other->unit_logs)
    return one->unit_logs < other->unit_logs ? -1 : 1;
  if (one->first != other->first)
    return one->first < other->first ? -1 : 1;
  if (one->last != other->last)
    return one->last < other->last ? -1 : 1;
  return one->rest < other->rest ? -1 : one->rest > other->rest;
}

/* Groups alike become one class, in an order that only what they are decides. */
static void
set_classes (Rotation *rotation)
{
  const BedRotationProblem *problem = rotation->problem;

  for (gsize g = 0; g < problem->n_groups; g++)
    rotation->classes[g] = class_of (problem, &problem->groups[g]);
  qsort (rotation->classes, problem->n_groups, sizeof *rotation->classes, compare_kinds);
  for (gsize g = 0; g < problem->n_groups; g++)
    {
      RotationClass *last = &rotation->classes[MAX (rotation->n_classes, 1) - 1];
      if (rotation->n_classes > 0 && compare_kinds (last, &rotation->classes[g]) == 0)
        last->units += rotation->classes[g].units;
      else
        rotation->classes[rotation->n_classes++] = rotation->classes[g];
    }
}

static int
compare_soaks (const void *a, const void *b)
{
  const BedSoak *one = a;
  const BedSoak *other = b;

  if (one->week != other->week)
    return one->week < other->week ? -1 : 1;
  return one->group < other->group ? -1 : one->group > other->group;
}

/* How many of the units from @start on, counted round @all, lie in one group's
 * stretch of them: @own units from @offset. */
static guint
count_own (guint start, guint units, guint all, guint offset, guint own)
{
  guint count = 0;

  for (guint turn = 0; turn <= 1; turn++)
    {
      guint low = MAX (start, offset + turn * all);
      guint high = MIN (start + units, offset + own + turn * all);
      if (high > low)
        count += high - low;
    }
  return count;
}

/* The units of a class stand in a ring, group after group, and are soaked in
 * turn: so each is soaked again only when all others have been, which the window
 * makes rest_weeks or more. */
static void
add_soaks (GArray *soaks, const Soaking *soaking, guint class)
{
  const Rotation *rotation = soaking->rotation;
  const BedRotationProblem *problem = rotation->problem;
  const RotationClass *kind = &rotation->classes[class];
  guint offset = 0;

  for (guint g = 0; g < problem->n_groups; g++)
    {
      RotationClass own = class_of (problem, &problem->groups[g]);
      if (compare_kinds (&own, kind) != 0)
        continue;
      guint start = 0;
      for (guint week = 0; week < rotation->n_weeks; week++)
        {
          guint units = *soaking_at (soaking, class, week);
          guint mine = count_own (start, units, kind->units, offset, own.units);
          BedSoak soak = { week + 1, g, mine * kind->unit_logs };
          if (mine > 0)
            g_array_append_val (soaks, soak);
          start = (start + units) % kind->units;
        }
      offset += own.units;
    }
}

static BedRotationPlan *
make_plan (const Soaking *soaking, double bound, double greedy_cost)
{
  const Rotation *rotation = soaking->rotation;
  BedRotationPlan *plan = g_new0 (BedRotationPlan, 1);

  plan->cost = soaking_cost (soaking);
  plan->greedy_cost = greedy_cost;
  /* What the solver's tolerance leaves above the cost is no gap. */
  double slack = 1e-6 * MAX (1, plan->cost);
  plan->bound = plan->cost - bound <= slack ? plan->cost : bound;
  plan->status = plan->cost > plan->bound ? BED_ROTATION_NEAR : BED_ROTATION_OPTIMAL;
  plan->harvest_kg = g_memdup2 (soaking->harvest, rotation->n_weeks * sizeof (double));
  plan->soaks = g_array_new (FALSE, FALSE, sizeof (BedSoak));
  for (guint class = 0; class < rotation->n_classes; class ++)
    add_soaks (plan->soaks, soaking, class);
  g_array_sort (plan->soaks, compare_soaks);
  return plan;
}

BedRotationPlan *
bed_rotation_plan_new (const BedRotationProblem *problem, GError **error)
{
  g_return_val_if_fail (problem != NULL, NULL);
  if (!check_problem (problem, error))
    return NULL;
  g_autofree RotationClass *classes = g_new0 (RotationClass, problem->n_groups);
  Rotation rotation = {
    .problem = problem,
    .classes = classes,
    .n_weeks = (guint) problem->n_weeks,
    .rest = (guint) MIN (problem->rest_weeks, problem->n_weeks),
    .deadline = g_get_monotonic_time () + (gint64) problem->time_limit_ms * 1000,
  };
  set_classes (&rotation);
  g_autoptr (Soaking) soaking = soaking_new (&rotation);

  soaking_fill_greedily (soaking);
  double greedy_cost = soaking_cost (soaking);
  double bound = rotation_solve (&rotation, soaking);
  return make_plan (soaking, bound, greedy_cost);
}

void
bed_rotation_plan_free (BedRotationPlan *plan)
{
  if (plan == NULL)
    return;
  g_array_unref (plan->soaks);
  g_free (plan->harvest_kg);
  g_free (plan);
}

void
bed_rotation_harvest (const double *soaked_kg, gsize n_weeks, const double *lag_shares,
                      gsize n_lags, double *harvest_kg)
{
  g_return_if_fail (n_weeks == 0 || (soaked_kg != NULL && harvest_kg != NULL));
  g_return_if_fail (n_lags == 0 || lag_shares != NULL);

  for (gsize week = 0; week < n_weeks; week++)
    {
      harvest_kg[week] = 0;
      for (gsize lag = 0; lag < n_lags && lag < week; lag++)
        harvest_kg[week] += soaked_kg[week - lag - 1] * lag_shares[lag];
    }
}
