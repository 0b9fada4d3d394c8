/* The rotation against glpsol on the same model, side by side in one run: how
 * long and how good. Seasons are random, of fixed seeds. */
#include "bench.h"
#include "rotation_model.h"

#include <math.h>

#define GLPSOL_SECONDS 15

typedef struct
{
  guint groups;
  guint weeks;
  guint tank;
  gboolean whole;
} Size;

static BedRotationProblem
make_problem (const Size *size)
{
  static const double lags[] = { 0.6, 0.4 };
  g_autoptr (GRand) rand = g_rand_new_with_seed (size->groups);
  BedRotationGroup *groups = g_new0 (BedRotationGroup, size->groups);
  BedRotationWeek *weeks = g_new0 (BedRotationWeek, size->weeks);
  gint32 fifths = (gint32) size->weeks / 5;

  for (guint g = 0; g < size->groups; g++)
    groups[g] = (BedRotationGroup){
      .logs = (guint) g_rand_int_range (rand, 5, 45),
      .kg_per_log = g_rand_int_range (rand, 100, 400) / 1000.0,
      .first_week = 1 + (guint) g_rand_int_range (rand, 0, 2 * fifths),
      .last_week = (guint) g_rand_int_range (rand, 3 * fifths, 5 * fifths + 1),
      .whole = size->whole,
    };
  for (guint w = 0; w < size->weeks; w++)
    weeks[w]
        = (BedRotationWeek){ w < 3 ? 0 : size->tank * 0.2 * g_rand_double_range (rand, 0.5, 1.5),
                             w % 13 == 12 };
  return (BedRotationProblem){
    .groups = groups,
    .n_groups = size->groups,
    .weeks = weeks,
    .n_weeks = size->weeks,
    .lag_shares = lags,
    .n_lags = 2,
    .tank_logs = size->tank,
    .rest_weeks = 8,
    .shortfall_weight = 1,
    .surplus_weight = 1,
    .time_limit_ms = BED_ROTATION_TIME_LIMIT_MS,
  };
}

static void
measure (const Size *size)
{
  BedRotationProblem problem = make_problem (size);
  ModelAnswer relaxed = { 0 };
  ModelAnswer whole = { 0 };
  gint64 start = g_get_monotonic_time ();
  g_autoptr (BedRotationPlan) plan = bed_rotation_plan_new (&problem, NULL);
  double seconds = (double) (g_get_monotonic_time () - start) / G_USEC_PER_SEC;

  g_autofree char *size_text = g_strdup_printf ("%u groups, %u weeks, %s", size->groups,
                                                size->weeks, size->whole ? "whole" : "split");
  g_autofree char *bound
      = g_strdup_printf ("soak plan of %s, beside glpsol's linear bound", size_text);
  g_autofree char *solved
      = g_strdup_printf ("soak plan of %s, beside glpsol's whole numbers", size_text);
  g_autofree char *cost
      = g_strdup_printf ("cost of that plan, beside glpsol's after %d s at most", GLPSOL_SECONDS);

  if (model_solve (&problem, MODEL_RELAXED, GLPSOL_SECONDS, &relaxed))
    bench_row (&(BenchRow){ "rotation-time", bound, seconds, relaxed.seconds, "s" });
  if (!model_solve (&problem, MODEL_WHOLE, GLPSOL_SECONDS, &whole))
    whole.cost = NAN;
  bench_row (&(BenchRow){ "rotation-time", solved, seconds, whole.seconds, "s" });
  bench_row (&(BenchRow){ "rotation-cost", cost, plan->cost, whole.cost, "kg" });
  g_free ((gpointer) problem.groups);
  g_free ((gpointer) problem.weeks);
}

int
main (void)
{
  const Size sizes[] = {
    { 6, 20, 45, TRUE },
    { 20, 26, 60, TRUE },
    { 20, 26, 60, FALSE },
    { 100, 52, 250, FALSE },
  };

  if (!model_can_run ())
    return 77;
  for (gsize i = 0; i < G_N_ELEMENTS (sizes); i++)
    measure (&sizes[i]);
  return 0;
}
