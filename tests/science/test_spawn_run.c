#include "science/spawn_run.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

/* No check: the prior's own quantiles. */
static void
test_prior (void)
{
  BedSpawnPrior prior;
  BedSpawnRun run;

  g_assert_true (bed_spawn_prior (BED_STRAIN_WIDE, BED_WOOD_DENSE, &prior, NULL));
  g_assert_cmpfloat_with_epsilon (prior.early, 182.4, 1e-9);
  g_assert_cmpfloat_with_epsilon (prior.late, 364.8, 1e-9);
  g_assert_true (bed_spawn_run (&prior, NULL, 0, 100, &run, NULL));
  g_assert_cmpfloat_with_epsilon (run.full, prior.likely, 1);
  g_assert_cmpfloat_with_epsilon (run.full_early, prior.early, 4);
  g_assert_cmpfloat_with_epsilon (run.full_late, prior.late, 6);
  g_assert_cmpfloat (run.pct_low, <, run.pct);
  g_assert_cmpfloat (run.pct, <, run.pct_high);
}

/* Checks that agree narrow the answer and move it their way. */
static void
test_checks (void)
{
  BedSpawnPrior prior = { 260, 180, 360 };
  BedSpawnCheck checks[] = { { 60, 15 }, { 120, 30 }, { 200, 50 } };
  BedSpawnRun before, after;

  g_assert_true (bed_spawn_run (&prior, NULL, 0, 200, &before, NULL));
  g_assert_true (bed_spawn_run (&prior, checks, 3, 200, &after, NULL));
  g_assert_cmpfloat (after.full, >, before.full);
  g_assert_cmpfloat (after.full, <, 400);
  g_assert_cmpfloat (after.full_late - after.full_early, <, before.full_late - before.full_early);
  /* All white at the ends long before: done. */
  BedSpawnCheck done[] = { { 150, 100 }, { 170, 100 }, { 190, 100 } };
  g_assert_true (bed_spawn_run (&prior, done, 3, 200, &after, NULL));
  g_assert_cmpfloat (after.pct, ==, 100);
  g_assert_cmpfloat (after.full, <, 190);
}

/* Batches drawn from the prior and checked with error. Linear, root, logistic. */
static double
grow (int law, double share)
{
  const double k = 8;
  double from = 1 / (1 + exp (k / 2)), to = 1 / (1 + exp (-k / 2));

  share = MIN (share, 1);
  if (law == 1)
    return 100 * sqrt (share);
  return law == 2 ? 100 * (1 / (1 + exp (-k * (share - 0.5))) - from) / (to - from) : 100 * share;
}

/* Whatever law the spawn grows by, the interval holds the day in at least 72 of a hundred. */
static void
cover_law (int law)
{
  BedSpawnPrior prior = { 260, 260 / exp (1.2816 * 0.3), 260 * exp (1.2816 * 0.3) };
  const int n = 900;
  int held = 0;

  for (int i = 0; i < n; i++)
    {
      double z = gsl_cdf_ugaussian_Pinv (g_test_rand_double_range (1e-6, 1 - 1e-6));
      double full = 260 * exp (0.3 * z);
      BedSpawnCheck checks[3];
      BedSpawnRun run;

      for (int c = 0; c < 3; c++)
        {
          double noise = gsl_cdf_ugaussian_Pinv (g_test_rand_double_range (1e-6, 1 - 1e-6));
          checks[c].effort = 50 * (c + 1);
          checks[c].pct = CLAMP (grow (law, checks[c].effort / full) + 10 * noise, 0, 100);
        }
      g_assert_true (bed_spawn_run (&prior, checks, 3, 150, &run, NULL));
      held += full >= run.full_early && full <= run.full_late;
    }
  g_test_message ("law %d: %d of %d held", law, held, n);
  g_assert_cmpfloat (held / (double) n, >=, 0.72);
  g_assert_cmpfloat (held / (double) n, <=, 0.95);
}

static void
test_coverage (void)
{
  for (int law = 0; law <= 2; law++)
    cover_law (law);
}

static void
test_days (void)
{
  const double daily[] = { 0, 10, 10, 10 };
  int day;

  g_assert_true (bed_spawn_day (100, 100, daily, 4, &day, NULL));
  g_assert_cmpint (day, ==, 0);
  g_assert_true (bed_spawn_day (100, 115, daily, 4, &day, NULL));
  g_assert_cmpint (day, ==, 3);
  g_assert_true (bed_spawn_day (100, 131, daily, 4, &day, NULL));
  g_assert_cmpint (day, ==, -1);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/spawn-run/prior", test_prior);
  g_test_add_func ("/spawn-run/checks", test_checks);
  g_test_add_func ("/spawn-run/coverage", test_coverage);
  g_test_add_func ("/spawn-run/days", test_days);
  return g_test_run ();
}
