#include "science/argument.h"
#include "science/rotation_private.h"

#include "rotation_model.h"

#include <math.h>
#include <string.h>

#define MOST_GROUPS 6
#define MOST_WEEKS 60

/* A random season with the room it needs. */
typedef struct
{
  BedRotationProblem problem;
  BedRotationGroup groups[MOST_GROUPS];
  BedRotationWeek weeks[MOST_WEEKS];
  double lags[3];
} Season;

typedef struct
{
  guint groups, weeks, logs;
  double whole; /* share of groups that may not be split */
} Size;

static void
make_season (Season *season, GRand *rand, const Size *size)
{
  guint tank = (guint) g_rand_int_range (rand, 1, 2 * (gint32) size->logs + 1);

  memset (season, 0, sizeof *season);
  for (guint g = 0; g < size->groups; g++)
    {
      BedRotationGroup *group = &season->groups[g];
      group->whole = g_rand_double (rand) < size->whole;
      group->logs = (guint) g_rand_int_range (rand, 1, (gint32) size->logs + 1);
      if (group->whole)
        group->logs = MIN (group->logs, tank);
      group->kg_per_log = g_rand_int_range (rand, 0, 8) / 8.0;
      group->first_week = (guint) g_rand_int_range (rand, 1, (gint32) size->weeks + 1);
      group->last_week = group->first_week;
      group->last_week += (guint) g_rand_int_range (rand, 0, (gint32) size->weeks);
    }
  for (guint w = 0; w < size->weeks; w++)
    season->weeks[w] = (BedRotationWeek){ g_rand_int_range (rand, 0, 12) / 4.0,
                                          g_rand_int_range (rand, 0, 8) == 0 };
  season->lags[0] = g_rand_int_range (rand, 0, 5) / 4.0;
  season->lags[1] = 1 - season->lags[0];
  season->problem = (BedRotationProblem){
    .groups = season->groups,
    .n_groups = size->groups,
    .weeks = season->weeks,
    .n_weeks = size->weeks,
    .lag_shares = season->lags,
    .n_lags = 2,
    .tank_logs = tank,
    .rest_weeks = (guint) g_rand_int_range (rand, 1, 5),
    .shortfall_weight = g_rand_int_range (rand, 1, 4),
    .surplus_weight = g_rand_int_range (rand, 0, 3),
    .time_limit_ms = 10000,
  };
}

static BedRotationPlan *
plan_of (const BedRotationProblem *problem)
{
  g_autoptr (GError) error = NULL;
  BedRotationPlan *plan = bed_rotation_plan_new (problem, &error);

  g_assert_no_error (error);
  return plan;
}

/* What a grid of soaks (groups x weeks, logs) costs; -1 when it is not allowed.
 * Written anew from the words of the header. */
static double
cost_of (const BedRotationProblem *problem, const guint *logs)
{
  double cost = 0;

  for (gsize g = 0; g < problem->n_groups; g++)
    for (gsize w = 0; w < problem->n_weeks; w++)
      {
        const BedRotationGroup *group = &problem->groups[g];
        guint here = logs[g * problem->n_weeks + w];
        guint rest = group->rest_weeks ? group->rest_weeks : problem->rest_weeks;
        guint window = 0;
        for (gsize k = w; k < problem->n_weeks && k < w + rest; k++)
          window += logs[g * problem->n_weeks + k];
        if (window > group->logs
            || (here > 0
                && (w + 1 < group->first_week || w + 1 > group->last_week
                    || problem->weeks[w].closed || (group->whole && here != group->logs))))
          return -1;
      }
  for (gsize w = 0; w < problem->n_weeks; w++)
    {
      guint tank = 0;
      double harvest = 0;
      for (gsize g = 0; g < problem->n_groups; g++)
        {
          tank += logs[g * problem->n_weeks + w];
          for (gsize lag = 1; lag <= problem->n_lags && lag <= w; lag++)
            harvest += logs[g * problem->n_weeks + w - lag] * problem->groups[g].kg_per_log
                       * problem->lag_shares[lag - 1];
        }
      if (tank > problem->tank_logs)
        return -1;
      double over = harvest - problem->weeks[w].demand_kg;
      cost += over > 0 ? over * problem->surplus_weight : -over * problem->shortfall_weight;
    }
  return cost;
}

/* The plan is allowed, costs what it says, beats greedy and not its bound. */
static void
assert_sound (const BedRotationProblem *problem, const BedRotationPlan *plan)
{
  g_autofree guint *logs = g_new0 (guint, problem->n_groups * problem->n_weeks);

  for (guint i = 0; i < plan->soaks->len; i++)
    {
      const BedSoak *soak = &g_array_index (plan->soaks, BedSoak, i);
      guint *place = &logs[soak->group * problem->n_weeks + soak->week - 1];
      g_assert_cmpuint (*place, ==, 0);
      g_assert_cmpuint (soak->logs, >, 0);
      *place = soak->logs;
    }
  g_assert_cmpfloat_with_epsilon (cost_of (problem, logs), plan->cost, 1e-6);
  g_assert_cmpfloat (plan->cost, <=, plan->greedy_cost);
  g_assert_cmpfloat (plan->bound, <=, plan->cost);
  g_assert_cmpint (plan->status == BED_ROTATION_OPTIMAL, ==, plan->cost - plan->bound <= 0);
}

/* Every grid of soaks, one place after the other. */
static double
search_all (const BedRotationProblem *problem, guint *logs, gsize place, double best)
{
  if (place == problem->n_groups * problem->n_weeks)
    {
      double cost = cost_of (problem, logs);
      return cost >= 0 && cost < best ? cost : best;
    }
  const BedRotationGroup *group = &problem->groups[place / problem->n_weeks];
  guint step = group->whole ? group->logs : 1;
  for (guint here = 0; here <= group->logs; here += step)
    {
      logs[place] = here;
      best = search_all (problem, logs, place + 1, best);
    }
  logs[place] = 0;
  return best;
}

/* 150 small seasons of split, whole and mixed groups against every plan there is. */
static void
test_exhaustive (void)
{
  const Size sizes[] = { { 2, 4, 2, 0 }, { 3, 4, 4, 1 }, { 2, 5, 2, 0.5 } };
  g_autoptr (GRand) rand = g_rand_new_with_seed (77);

  for (int run = 0; run < 150; run++)
    {
      Season season;
      guint logs[MOST_GROUPS * MOST_WEEKS] = { 0 };
      make_season (&season, rand, &sizes[run % 3]);
      /* In half of them each strain has a rest of its own. */
      for (guint g = 0; g < season.problem.n_groups && run % 2; g++)
        season.groups[g].rest_weeks = (guint) g_rand_int_range (rand, 0, 5);
      g_autoptr (BedRotationPlan) plan = plan_of (&season.problem);
      assert_sound (&season.problem, plan);
      double best = search_all (&season.problem, logs, 0, G_MAXDOUBLE);
      g_assert_cmpfloat_with_epsilon (plan->cost, best, 1e-6);
      g_assert_cmpfloat_with_epsilon (plan->bound, best, 1e-6);
      g_assert_cmpint (plan->status, ==, BED_ROTATION_OPTIMAL);
    }
}

/* Larger seasons against an independent model and solver. */
static void
test_glpsol (void)
{
  const Size sizes[] = { { 3, 10, 12, 0 }, { 5, 10, 8, 1 }, { 4, 12, 10, 0.5 } };
  g_autoptr (GRand) rand = g_rand_new_with_seed (4711);
  int proved = 0;

  if (!model_can_run ())
    {
      g_test_skip ("glpsol is not installed");
      return;
    }
  for (int run = 0; run < 30; run++)
    {
      Season season;
      ModelAnswer answer;
      make_season (&season, rand, &sizes[run % 3]);
      g_autoptr (BedRotationPlan) plan = plan_of (&season.problem);
      assert_sound (&season.problem, plan);
      g_assert_true (model_solve (&season.problem, MODEL_WHOLE, 10, &answer));
      if (!answer.proved)
        continue;
      proved++;
      g_assert_cmpfloat (plan->cost, >=, answer.cost - 1e-6);
      g_assert_cmpfloat (plan->bound, <=, answer.cost + 1e-6);
      if (plan->status == BED_ROTATION_OPTIMAL)
        g_assert_cmpfloat_with_epsilon (plan->cost, answer.cost, 1e-5);
      else
        g_assert_cmpfloat (plan->cost, <=, answer.cost * 1.05 + 0.05);
    }
  g_test_message ("%d of 30 proved by glpsol", proved);
  g_assert_cmpint (proved, >=, 25);
}

static void
test_random (void)
{
  const Size sizes[] = { { 6, 20, 10, 0.3 }, { 1, 1, 3, 0 }, { 6, 30, 30, 0 }, { 4, 40, 6, 1 } };
  g_autoptr (GRand) rand = g_rand_new_with_seed (2);

  for (int run = 0; run < 40; run++)
    {
      Season season;
      make_season (&season, rand, &sizes[run % 4]);
      g_autoptr (BedRotationPlan) plan = plan_of (&season.problem);
      assert_sound (&season.problem, plan);
    }
}

static guint
logs_in (const BedRotationPlan *plan, guint group, guint week)
{
  for (guint i = 0; i < plan->soaks->len; i++)
    {
      const BedSoak *soak = &g_array_index (plan->soaks, BedSoak, i);
      if (soak->group == group && soak->week == week)
        return soak->logs;
    }
  return 0;
}

/* A season as farms have them: groups of one size class of logs each, demand in
 * step with the tank. */
static void
make_farm (GRand *rand, BedRotationProblem *problem, BedRotationGroup *groups,
           BedRotationWeek *weeks)
{
  gint32 fifths = (gint32) problem->n_weeks / 5;

  for (gsize g = 0; g < problem->n_groups; g++)
    groups[g] = (BedRotationGroup){
      .logs = (guint) g_rand_int_range (rand, 5, MIN (45, (gint32) problem->tank_logs)),
      .kg_per_log = g_rand_int_range (rand, 100, 400) / 1000.0,
      .first_week = 1 + (guint) g_rand_int_range (rand, 0, 2 * fifths),
      .last_week = (guint) g_rand_int_range (rand, 3 * fifths, 5 * fifths + 1),
      .whole = groups[g].whole,
    };
  for (gsize w = 0; w < problem->n_weeks; w++)
    weeks[w].demand_kg = w < 3 ? 0 : problem->tank_logs * g_rand_double_range (rand, 0.1, 0.3);
}

/* Whole groups leave a gap that exchanges of single groups do not close. Filling
 * stretches of weeks anew must bring the cost of such seasons well down: from 114
 * to 91 in these three, when this was written. */
static void
test_replan (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (900);
  double before = 0, after = 0;

  for (int run = 0; run < 3; run++)
    {
      BedRotationGroup groups[30] = { 0 };
      BedRotationWeek weeks[40] = { 0 };
      RotationClass classes[30];
      const double lags[] = { 0.6, 0.4 };
      BedRotationProblem problem = { groups, 30, weeks, 40, lags, 2, 40, 8, 1, 1, 1000 };
      make_farm (rand, &problem, groups, weeks);
      for (guint g = 0; g < 30; g++)
        classes[g] = (RotationClass){ 1, groups[g].logs, groups[g].logs * groups[g].kg_per_log,
                                      groups[g].first_week - 1, groups[g].last_week - 1 };
      Rotation rotation = { &problem, classes, 30, 40, 8, G_MAXINT64 };
      g_autoptr (Soaking) soaking = soaking_new (&rotation);
      soaking_fill_greedily (soaking);
      soaking_improve (soaking);
      before += soaking_cost (soaking);
      soaking_replan (soaking);
      after += soaking_cost (soaking);
      /* Prices bound whole groups as well. */
      double units[30 * 40];
      double bound = rotation_price (&rotation, soaking_cost (soaking), units);
      g_assert_cmpfloat (bound, <=, soaking_cost (soaking));
      g_assert_cmpfloat (bound, >, 0);
    }
  g_test_message ("improved %.3f, planned anew %.3f", before, after);
  g_assert_cmpfloat (after, <, 0.93 * before);
}

/* Groups given in another order get the same plan: made distinct by their kg. */
static void
test_permutation (void)
{
  const Size size = { 5, 16, 12, 0.4 };
  g_autoptr (GRand) rand = g_rand_new_with_seed (31);

  for (int run = 0; run < 20; run++)
    {
      Season season, turned;
      make_season (&season, rand, &size);
      for (guint g = 0; g < 5; g++)
        season.groups[g].kg_per_log += 0.001 * (g + 1);
      turned = season;
      turned.problem.groups = turned.groups;
      turned.problem.weeks = turned.weeks;
      turned.problem.lag_shares = turned.lags;
      for (guint g = 0; g < 5; g++)
        turned.groups[g] = season.groups[(g * 2 + 3) % 5];
      g_autoptr (BedRotationPlan) plan = plan_of (&season.problem);
      g_autoptr (BedRotationPlan) other = plan_of (&turned.problem);
      g_assert_cmpfloat_with_epsilon (plan->cost, other->cost, 1e-12);
      g_assert_cmpfloat_with_epsilon (plan->greedy_cost, other->greedy_cost, 1e-12);
      for (guint g = 0; g < 5; g++)
        for (guint week = 1; week <= 16; week++)
          g_assert_cmpuint (logs_in (plan, (g * 2 + 3) % 5, week), ==, logs_in (other, g, week));
    }
}

/* Splitting a divisible group in two changes nothing but the names. */
static void
test_alike_groups (void)
{
  const Size size = { 3, 16, 20, 0 };
  g_autoptr (GRand) rand = g_rand_new_with_seed (6);

  for (int run = 0; run < 10; run++)
    {
      Season season, halved;
      make_season (&season, rand, &size);
      season.groups[0].logs = 20;
      halved = season;
      halved.groups[0].logs = 13;
      halved.groups[3] = halved.groups[0];
      halved.groups[3].logs = 7;
      halved.problem.groups = halved.groups;
      halved.problem.n_groups = 4;
      halved.problem.weeks = halved.weeks;
      halved.problem.lag_shares = halved.lags;
      g_autoptr (BedRotationPlan) plan = plan_of (&season.problem);
      g_autoptr (BedRotationPlan) other = plan_of (&halved.problem);
      assert_sound (&halved.problem, other);
      g_assert_cmpfloat_with_epsilon (plan->cost, other->cost, 1e-12);
    }
}

/* No log is soaked twice within the rest when the longest-rested go in first. */
static void
test_log_by_log (void)
{
  const Size size = { 4, 30, 15, 0 };
  g_autoptr (GRand) rand = g_rand_new_with_seed (12);
  Season season;

  make_season (&season, rand, &size);
  season.problem.rest_weeks = 4;
  g_autoptr (BedRotationPlan) plan = plan_of (&season.problem);
  g_assert_cmpuint (plan->soaks->len, >, 5);
  for (guint g = 0; g < 4; g++)
    {
      int last[15];
      guint next = 0;
      for (guint log = 0; log < 15; log++)
        last[log] = -99;
      for (guint week = 1; week <= 30; week++)
        for (guint n = logs_in (plan, g, week); n > 0; n--)
          {
            g_assert_cmpint ((int) week - last[next], >=, 4);
            last[next] = (int) week;
            next = (next + 1) % season.groups[g].logs;
          }
    }
}

/* The target of the largest season a farm will plan; the budget is ten times what
 * was measured, so that only a change of kind fails it. */
static void
test_large (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (100);
  BedRotationGroup groups[100] = { 0 };
  BedRotationWeek weeks[52] = { 0 };
  const double lags[] = { 0.6, 0.4 };
  BedRotationProblem problem = {
    .groups = groups,
    .n_groups = 100,
    .weeks = weeks,
    .n_weeks = 52,
    .lag_shares = lags,
    .n_lags = 2,
    .tank_logs = 250,
    .rest_weeks = 8,
    .shortfall_weight = 1,
    .surplus_weight = 1,
    .time_limit_ms = 20000,
  };

  make_farm (rand, &problem, groups, weeks);
  gint64 start = g_get_monotonic_time ();
  g_autoptr (BedRotationPlan) plan = plan_of (&problem);
  double seconds = (double) (g_get_monotonic_time () - start) / G_USEC_PER_SEC;
  g_test_message ("%.3f s, cost %.3f, bound %.3f, greedy %.3f", seconds, plan->cost, plan->bound,
                  plan->greedy_cost);
  assert_sound (&problem, plan);
  g_assert_cmpfloat (plan->cost - plan->bound, <, 0.01 * plan->cost);
  g_assert_cmpfloat (seconds, <, 10);

  /* In a second: measured 0.5 s and optimal to 0.1 %; on a busy machine the bound by prices. */
  problem.time_limit_ms = BED_ROTATION_TIME_LIMIT_MS;
  start = g_get_monotonic_time ();
  g_autoptr (BedRotationPlan) second = plan_of (&problem);
  seconds = (double) (g_get_monotonic_time () - start) / G_USEC_PER_SEC;
  g_test_message ("%.3f s, cost %.3f, bound %.3f", seconds, second->cost, second->bound);
  assert_sound (&problem, second);
  g_assert_cmpfloat (second->cost - second->bound, <, 0.05 * second->bound);
  g_assert_cmpfloat (seconds, <, 4);

  /* Out of time there is still a plan, and a bound that is true. */
  problem.time_limit_ms = 1;
  g_autoptr (BedRotationPlan) hasty = plan_of (&problem);
  assert_sound (&problem, hasty);
  g_assert_cmpfloat (hasty->bound, <=, plan->cost);
  g_assert_cmpfloat (hasty->bound, >, 0.5 * plan->bound);
}

/* The most that may be asked: within a twentieth of its bound in a second when this was written (27
 * % before there were prices), and on a busy machine in the time given here. */
static void
test_largest (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (500);
  static BedRotationGroup groups[500];
  static BedRotationWeek weeks[104];
  const double lags[] = { 0.6, 0.4 };
  BedRotationProblem problem = {
    .groups = groups,
    .n_groups = 500,
    .weeks = weeks,
    .n_weeks = 104,
    .lag_shares = lags,
    .n_lags = 2,
    .tank_logs = 1250,
    .rest_weeks = 8,
    .shortfall_weight = 1,
    .surplus_weight = 1,
    .time_limit_ms = 8000,
  };

  make_farm (rand, &problem, groups, weeks);
  gint64 start = g_get_monotonic_time ();
  g_autoptr (BedRotationPlan) plan = plan_of (&problem);
  double seconds = (double) (g_get_monotonic_time () - start) / G_USEC_PER_SEC;
  g_test_message ("%.3f s, cost %.3f, bound %.3f", seconds, plan->cost, plan->bound);
  assert_sound (&problem, plan);
  g_assert_cmpfloat (plan->cost - plan->bound, <, 0.05 * plan->bound);
  g_assert_cmpfloat (seconds, <, 10);

  /* However late it is. */
  problem.time_limit_ms = 1;
  g_autoptr (BedRotationPlan) hasty = plan_of (&problem);
  assert_sound (&problem, hasty);
  g_assert_cmpfloat (hasty->cost - hasty->bound, <, 0.2 * hasty->bound);
  g_assert_cmpfloat (hasty->bound, <=, plan->cost);
}

static gpointer
plan_cb (gpointer problem)
{
  return plan_of (problem);
}

/* Each thread has an environment of GLPK's to itself: plans made at once do not
 * disturb one another. */
static void
test_threads (void)
{
  const Size size = { 5, 14, 10, 0.5 };
  g_autoptr (GRand) rand = g_rand_new_with_seed (41);
  Season season;
  GThread *threads[4];

  make_season (&season, rand, &size);
  g_autoptr (BedRotationPlan) alone = plan_of (&season.problem);
  for (int i = 0; i < 4; i++)
    threads[i] = g_thread_new ("plan", plan_cb, &season.problem);
  for (int i = 0; i < 4; i++)
    {
      g_autoptr (BedRotationPlan) plan = g_thread_join (threads[i]);
      assert_sound (&season.problem, plan);
      g_assert_cmpfloat_with_epsilon (plan->cost, alone->cost, 1e-12);
      g_assert_cmpfloat_with_epsilon (plan->bound, alone->bound, 1e-12);
    }
}

static void
test_harvest (void)
{
  const double soaked[] = { 5, 0, 10, 20 };
  const double lags[] = { 0.6, 0.4 };
  const double expected[] = { 0, 3, 2, 6 };
  double harvest[4];

  bed_rotation_harvest (soaked, 4, lags, 2, harvest);
  for (int week = 0; week < 4; week++)
    g_assert_cmpfloat_with_epsilon (harvest[week], expected[week], 1e-12);
}

/* Nothing to do, and nothing that can be done, are plans too. */
static void
test_idle (void)
{
  BedRotationGroup group = { "A", 5, 0, 1, 9, FALSE };
  BedRotationWeek weeks[] = { { 1, TRUE }, { 2, TRUE } };
  const double lags[] = { 1 };
  BedRotationProblem problem = { &group, 1, weeks, 2, lags, 1, 5, 4000000000, 1, 0, 1000 };
  g_autoptr (BedRotationPlan) closed = plan_of (&problem);

  g_assert_cmpuint (closed->soaks->len, ==, 0);
  g_assert_cmpfloat (closed->cost, ==, 3);
  g_assert_cmpint (closed->status, ==, BED_ROTATION_OPTIMAL);
  weeks[0] = weeks[1] = (BedRotationWeek){ 0, FALSE };
  g_autoptr (BedRotationPlan) idle = plan_of (&problem);
  g_assert_cmpuint (idle->soaks->len, ==, 0);
  g_assert_cmpfloat (idle->cost, ==, 0);
}

static void
assert_refused (const BedRotationProblem *problem, const char *words)
{
  g_autoptr (GError) error = NULL;

  g_assert_null (bed_rotation_plan_new (problem, &error));
  g_assert_true (error->domain == BED_SCIENCE_ERROR);
  if (strstr (error->message, words) == NULL)
    g_error ("\"%s\" does not say \"%s\"", error->message, words);
}

static void
test_refused_problem (void)
{
  const BedRotationGroup group = { "A", 5, 0.2, 1, 2, FALSE };
  const BedRotationWeek weeks[] = { { 1, FALSE }, { 2, FALSE } };
  const double lags[] = { 1 }, short_lags[] = { 0.5 }, bad_lags[] = { NAN };
  const BedRotationProblem good = { &group, 1, weeks, 2, lags, 1, 5, 2, 1, 1, 1000 };
  const BedRotationWeek bad_weeks[] = { { 1, FALSE }, { -2, FALSE } };
  const BedRotationWeek no_weeks[] = { { NAN, FALSE }, { 2, FALSE } };
  BedRotationProblem bad;

#define REFUSED(member, value, words)                                                              \
  (bad = good, bad.member = (value), assert_refused (&bad, words))
  REFUSED (n_groups, 0, "groups:");
  REFUSED (n_weeks, 0, "weeks:");
  REFUSED (n_weeks, 105, "weeks:");
  REFUSED (n_lags, 0, "lags:");
  REFUSED (lag_shares, short_lags, "lags: the shares of the harvest must sum to 1");
  REFUSED (lag_shares, bad_lags, "lags:");
  REFUSED (tank_logs, 0, "tank:");
  REFUSED (rest_weeks, 0, "rest:");
  REFUSED (time_limit_ms, 0, "time_limit_ms:");
  REFUSED (shortfall_weight, -1, "shortfall:");
  REFUSED (shortfall_weight, NAN, "shortfall:");
  REFUSED (surplus_weight, INFINITY, "surplus:");
  REFUSED (weeks, bad_weeks, "week 2: demand_kg:");
  REFUSED (weeks, no_weeks, "week 1: demand_kg:");
#undef REFUSED
  bad = good;
  bad.shortfall_weight = bad.surplus_weight = 0;
  assert_refused (&bad, "shortfall:");
}

static void
test_refused_group (void)
{
  const struct
  {
    BedRotationGroup group;
    const char *words;
  } table[] = {
    { { "A", 0, 0.2, 1, 2, FALSE }, "group A: logs:" },
    { { "A", 5, -1, 1, 2, FALSE }, "group A: kg_per_log:" },
    { { "A", 5, NAN, 1, 2, FALSE }, "group A: kg_per_log:" },
    { { "A", 5, 0.2, 0, 2, FALSE }, "group A: first_week:" },
    { { "A", 5, 0.2, 3, 4, FALSE }, "group A: first_week:" },
    { { NULL, 5, 0.2, 2, 1, FALSE }, "group 1: last_week 1 comes before first_week 2" },
    { { "A", 6, 0.2, 1, 2, TRUE }, "its 6 logs do not fit the tank, which holds 5" },
  };
  const BedRotationWeek weeks[] = { { 1, FALSE }, { 2, FALSE } };
  const double lags[] = { 1 };

  for (gsize i = 0; i < G_N_ELEMENTS (table); i++)
    {
      BedRotationProblem problem = { &table[i].group, 1, weeks, 2, lags, 1, 5, 2, 1, 1, 1000 };
      assert_refused (&problem, table[i].words);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/rotation/exhaustive", test_exhaustive);
  g_test_add_func ("/rotation/glpsol", test_glpsol);
  g_test_add_func ("/rotation/random", test_random);
  g_test_add_func ("/rotation/replan", test_replan);
  g_test_add_func ("/rotation/permutation", test_permutation);
  g_test_add_func ("/rotation/alike-groups", test_alike_groups);
  g_test_add_func ("/rotation/log-by-log", test_log_by_log);
  g_test_add_func ("/rotation/large", test_large);
  g_test_add_func ("/rotation/largest", test_largest);
  g_test_add_func ("/rotation/threads", test_threads);
  g_test_add_func ("/rotation/harvest", test_harvest);
  g_test_add_func ("/rotation/idle", test_idle);
  g_test_add_func ("/rotation/refused-problem", test_refused_problem);
  g_test_add_func ("/rotation/refused-group", test_refused_group);
  return g_test_run ();
}
