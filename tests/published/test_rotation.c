/* Rest between soaks: D. B. Hill, University of Kentucky FOR-85 (seen): soaking
 * 12 logs every week on a nine-week cycle takes 9 groups of 12, 108 logs. S.
 * Gabriel, "How many mushroom logs do I need?", 2012 (seen): with eight weeks of
 * rest one log a week needs 8 logs, four a week 32. The toy season with its
 * optimum of 2.00 is our own, solved by GLPK and by exhaustive search. */
#include "science/rotation.h"

static double
cost_of_steady (guint logs, guint rest, guint a_week)
{
  BedRotationWeek weeks[40];
  const double lags[] = { 1 };
  BedRotationGroup group = { "yard", logs, 0.25, 1, 40, FALSE };
  BedRotationProblem problem = {
    .groups = &group,
    .n_groups = 1,
    .weeks = weeks,
    .n_weeks = G_N_ELEMENTS (weeks),
    .lag_shares = lags,
    .n_lags = 1,
    .tank_logs = a_week,
    .rest_weeks = rest,
    .shortfall_weight = 1,
    .surplus_weight = 1,
    .time_limit_ms = BED_ROTATION_TIME_LIMIT_MS,
  };

  for (gsize week = 0; week < G_N_ELEMENTS (weeks); week++)
    weeks[week] = (BedRotationWeek){ week > 0 ? 0.25 * a_week : 0, FALSE };
  g_autoptr (BedRotationPlan) plan = bed_rotation_plan_new (&problem, NULL);
  return plan->cost;
}

static void
test_logs_needed (void)
{
  g_assert_cmpfloat_with_epsilon (cost_of_steady (108, 9, 12), 0, 1e-9);
  g_assert_cmpfloat (cost_of_steady (107, 9, 12), >, 0.2);
  g_assert_cmpfloat_with_epsilon (cost_of_steady (8, 8, 1), 0, 1e-9);
  g_assert_cmpfloat (cost_of_steady (7, 8, 1), >, 0.2);
  g_assert_cmpfloat_with_epsilon (cost_of_steady (32, 8, 4), 0, 1e-9);
  g_assert_cmpfloat (cost_of_steady (31, 8, 4), >, 0.2);
}

static void
test_toy (gconstpointer data)
{
  gboolean whole = GPOINTER_TO_INT (data);
  const double lags[] = { 0.6, 0.4 };
  const BedRotationGroup groups[] = {
    { "A", 20, 0.25, 1, 8, whole },
    { "B", 20, 0.25, 1, 8, whole },
    { "C", 20, 0.25, 1, 8, whole },
  };
  BedRotationWeek weeks[8];
  BedRotationProblem problem = {
    .groups = groups,
    .n_groups = 3,
    .weeks = weeks,
    .n_weeks = 8,
    .lag_shares = lags,
    .n_lags = 2,
    .tank_logs = 20,
    .rest_weeks = 3,
    .shortfall_weight = 1,
    .surplus_weight = 1,
    .time_limit_ms = BED_ROTATION_TIME_LIMIT_MS,
  };

  for (int week = 0; week < 8; week++)
    weeks[week] = (BedRotationWeek){ week > 0 ? 5 : 0, FALSE };
  g_autoptr (BedRotationPlan) plan = bed_rotation_plan_new (&problem, NULL);
  g_assert_cmpfloat_with_epsilon (plan->cost, 2.00, 1e-9);
  g_assert_cmpfloat_with_epsilon (plan->bound, 2.00, 1e-9);
  g_assert_cmpint (plan->status, ==, BED_ROTATION_OPTIMAL);
  g_assert_cmpfloat_with_epsilon (plan->harvest_kg[1], 3, 1e-9);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/rotation/logs-needed", test_logs_needed);
  g_test_add_data_func ("/rotation/toy-split", GINT_TO_POINTER (FALSE), test_toy);
  g_test_add_data_func ("/rotation/toy-whole", GINT_TO_POINTER (TRUE), test_toy);
  return g_test_run ();
}
