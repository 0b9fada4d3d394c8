#include "science/argument.h"
#include "science/yield.h"

#include <math.h>

static void
assert_sound (const BedInterval *interval)
{
  g_assert_true (isfinite (interval->estimate) && isfinite (interval->low)
                 && isfinite (interval->high));
  if (interval->known == BED_KNOWN_INTERVAL)
    {
      g_assert_cmpfloat (interval->low, <=, interval->estimate);
      g_assert_cmpfloat (interval->estimate, <=, interval->high);
      g_assert_cmpfloat (interval->low, >=, 0);
    }
  else
    g_assert_true (interval->low <= interval->estimate && interval->high >= interval->estimate
                   && interval->high <= interval->low);
}

static BedYields *
sum_up (const BedYieldRecord *records, gsize n, guint n_groups)
{
  g_autoptr (GError) error = NULL;
  BedYields *yields = bed_yields_new (records, n, n_groups, 0.8, &error);

  g_assert_no_error (error);
  for (guint g = 0; g < n_groups; g++)
    {
      assert_sound (&yields->groups[g].own);
      assert_sound (&yields->groups[g].shrunk);
    }
  return yields;
}

static void
test_nothing (void)
{
  g_autoptr (BedYields) none = sum_up (NULL, 0, 0);
  g_assert_cmpfloat (none->mean_kg, ==, 0);
  g_autoptr (BedYields) empty = sum_up (NULL, 0, 3);
  g_assert_cmpint (empty->groups[1].own.known, ==, BED_KNOWN_NOTHING);
  g_assert_cmpint (empty->groups[1].shrunk.known, ==, BED_KNOWN_NOTHING);
}

static void
test_one_log (void)
{
  const BedYieldRecord one = { 1, 1, 0.4 };
  g_autoptr (BedYields) yields = sum_up (&one, 1, 2);

  g_assert_cmpint (yields->groups[1].own.known, ==, BED_KNOWN_POINT);
  g_assert_cmpfloat (yields->groups[1].shrunk.estimate, ==, 0.4);
  g_assert_cmpint (yields->groups[0].own.known, ==, BED_KNOWN_NOTHING);
  g_assert_cmpint (yields->groups[0].shrunk.known, ==, BED_KNOWN_POINT);
  g_assert_cmpfloat (yields->groups[0].shrunk.estimate, ==, 0.4);
}

static void
test_one_log_each (void)
{
  const BedYieldRecord records[] = { { 0, 1, 0.4 }, { 1, 1, 0.8 } };
  g_autoptr (BedYields) yields = sum_up (records, 2, 2);

  /* Nothing tells the groups from the luck of the log. */
  g_assert_cmpint (yields->groups[0].shrunk.known, ==, BED_KNOWN_POINT);
  g_assert_cmpfloat (yields->groups[1].shrunk.estimate, ==, 0.8);
}

static void
test_zeros (void)
{
  const BedYieldRecord records[] = { { 0, 1, 0 }, { 0, 1, 0 }, { 1, 5, 0 }, { 1, 1, 0 } };
  g_autoptr (BedYields) yields = sum_up (records, 4, 3);

  for (guint g = 0; g < 3; g++)
    {
      g_assert_cmpfloat (yields->groups[g].shrunk.estimate, ==, 0);
      g_assert_cmpint (yields->groups[g].shrunk.known, ==, BED_KNOWN_POINT);
    }
}

static void
test_one_group (void)
{
  const BedYieldRecord records[] = { { 0, 1, 0.2 }, { 0, 1, 0.4 }, { 0, 1, 0.6 } };
  g_autoptr (BedYields) yields = sum_up (records, 3, 1);

  g_assert_cmpfloat_with_epsilon (yields->groups[0].own.estimate, 0.4, 1e-12);
  /* 0.4 +- t(0.9, 2) 0.2 / sqrt 3 */
  g_assert_cmpfloat_with_epsilon (yields->groups[0].own.high, 0.4 + 1.885618 * 0.2 / sqrt (3),
                                  1e-6);
  g_assert_cmpfloat (yields->groups[0].shrunk.high, ==, yields->groups[0].own.high);
}

/* Groups less different than logs are: all one mean, and still an interval. */
static void
test_no_variance_between (void)
{
  const BedYieldRecord records[] = { { 0, 1, 0.1 }, { 0, 1, 0.9 }, { 1, 1, 0.9 },
                                     { 1, 1, 0.2 }, { 2, 1, 0.1 }, { 2, 1, 0.8 } };
  g_autoptr (BedYields) yields = sum_up (records, 6, 4);

  g_assert_cmpfloat (yields->variance_between, ==, 0);
  for (guint g = 0; g < 4; g++)
    {
      g_assert_cmpfloat_with_epsilon (yields->groups[g].shrunk.estimate, 0.5, 1e-12);
      g_assert_cmpint (yields->groups[g].shrunk.known, ==, BED_KNOWN_INTERVAL);
      g_assert_cmpfloat (yields->groups[g].shrunk.high, >, 0.51);
    }
}

static void
test_no_variance_within (void)
{
  const BedYieldRecord records[] = { { 0, 1, 0.25 }, { 0, 1, 0.25 }, { 1, 1, 0.5 }, { 1, 1, 0.5 } };
  g_autoptr (BedYields) yields = sum_up (records, 4, 2);

  g_assert_cmpfloat_with_epsilon (yields->groups[0].shrunk.estimate, 0.25, 1e-12);
  g_assert_cmpfloat_with_epsilon (yields->groups[1].shrunk.estimate, 0.5, 1e-12);
}

/* Order and numbering of records change nothing; shrinking never passes the mean. */
static void
test_properties (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (5);

  for (int run = 0; run < 500; run++)
    {
      BedYieldRecord records[40], turned[40];
      gsize n = (gsize) g_rand_int_range (rand, 1, 41);
      guint n_groups = (guint) g_rand_int_range (rand, 1, 8);
      for (gsize i = 0; i < n; i++)
        {
          guint group = (guint) g_rand_int_range (rand, 0, (gint32) n_groups);
          double logs = g_rand_int_range (rand, 1, 20);
          records[i] = (BedYieldRecord){ group, logs, logs * g_rand_double (rand) };
          turned[n - 1 - i] = records[i];
          turned[n - 1 - i].group = n_groups - 1 - group;
        }
      g_autoptr (BedYields) yields = sum_up (records, n, n_groups);
      g_autoptr (BedYields) other = sum_up (turned, n, n_groups);
      for (guint g = 0; g < n_groups; g++)
        {
          const BedYieldGroup *one = &yields->groups[g];
          const BedYieldGroup *two = &other->groups[n_groups - 1 - g];
          double off = one->own.estimate - yields->mean_kg;
          double shrunk = one->shrunk.estimate - yields->mean_kg;
          g_assert_cmpfloat_with_epsilon (one->shrunk.estimate, two->shrunk.estimate, 1e-9);
          g_assert_cmpfloat_with_epsilon (one->shrunk.high, two->shrunk.high, 1e-9);
          g_assert_cmpfloat_with_epsilon (one->own.low, two->own.low, 1e-9);
          if (one->records > 0)
            g_assert_true (fabs (shrunk) <= fabs (off) + 1e-12 && shrunk * off >= -1e-12);
        }
    }
}

/* Logs weighed together tell the mean as logs weighed alone. */
static void
test_together (void)
{
  const BedYieldRecord alone[] = { { 0, 1, 0.2 }, { 0, 1, 0.4 }, { 1, 1, 0.3 }, { 1, 1, 0.9 } };
  const BedYieldRecord together[] = { { 0, 2, 0.6 }, { 1, 2, 1.2 } };
  g_autoptr (BedYields) one = sum_up (alone, 4, 2);
  g_autoptr (BedYields) other = sum_up (together, 2, 2);

  for (guint g = 0; g < 2; g++)
    g_assert_cmpfloat_with_epsilon (one->groups[g].own.estimate, other->groups[g].own.estimate,
                                    1e-12);
}

static double
normal (GRand *rand)
{
  return sqrt (-2 * log (1 - g_rand_double (rand))) * cos (2 * G_PI * g_rand_double (rand));
}

/* How often the interval holds the group's true mean; and how far off the two
 * estimates are. Eight groups of 2 to 16 logs, means 5 +- spread, logs +- 1. */
static void
simulate (double spread, double *own_hits, double *shrunk_hits, double *gain)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (12345);
  const int sets = 2500;
  const guint n_groups = 8;
  double own = 0, shrunk = 0, own_error = 0, shrunk_error = 0;

  for (int set = 0; set < sets; set++)
    {
      BedYieldRecord records[8 * 16];
      double truth[8];
      gsize n = 0;
      for (guint g = 0; g < n_groups; g++)
        {
          truth[g] = 5 + spread * normal (rand);
          for (guint i = 0; i < 2 + 2 * g; i++)
            records[n++] = (BedYieldRecord){ g, 1, fmax (0, truth[g] + normal (rand)) };
        }
      g_autoptr (BedYields) yields = bed_yields_new (records, n, n_groups, 0.8, NULL);
      for (guint g = 0; g < n_groups; g++)
        {
          const BedYieldGroup *group = &yields->groups[g];
          own += group->own.low <= truth[g] && truth[g] <= group->own.high;
          shrunk += group->shrunk.low <= truth[g] && truth[g] <= group->shrunk.high;
          own_error += pow (group->own.estimate - truth[g], 2);
          shrunk_error += pow (group->shrunk.estimate - truth[g], 2);
        }
    }
  *own_hits = own / sets / n_groups;
  *shrunk_hits = shrunk / sets / n_groups;
  *gain = own_error / shrunk_error;
}

/* A group's own interval is exact: 20,000 intervals, bound 3 sqrt (p (1 - p) / N).
 * The drawn-in one is approximate and must not promise more than it keeps; nor be
 * idly wide (where groups do not differ at all it allows that they might). Drawing
 * in must bring the estimates nearer to the truth. */
static void
test_coverage (void)
{
  const double bound = 3 * sqrt (0.8 * 0.2 / 20000);
  const double spreads[] = { 0, 0.3, 1 };

  for (gsize i = 0; i < G_N_ELEMENTS (spreads); i++)
    {
      double own, shrunk, gain;
      simulate (spreads[i], &own, &shrunk, &gain);
      g_test_message ("spread %.1f: own %.4f, drawn in %.4f, error ratio %.2f", spreads[i], own,
                      shrunk, gain);
      g_assert_cmpfloat_with_epsilon (own, 0.8, bound);
      g_assert_cmpfloat (shrunk, >, 0.8 - bound);
      g_assert_cmpfloat (shrunk, <, spreads[i]> 0 ? 0.92 : 0.98);
      g_assert_cmpfloat (gain, >, 1.05);
    }
}

static void
test_refused (void)
{
  const struct
  {
    BedYieldRecord record;
    double level;
    const char *argument;
  } table[] = {
    { { 2, 1, 1 }, 0.8, "group:" },       { { 0, 0, 1 }, 0.8, "logs:" },
    { { 0, -1, 1 }, 0.8, "logs:" },       { { 0, NAN, 1 }, 0.8, "logs:" },
    { { 0, INFINITY, 1 }, 0.8, "logs:" }, { { 0, 1, -1 }, 0.8, "mass_kg:" },
    { { 0, 1, NAN }, 0.8, "mass_kg:" },   { { 0, 1, 1 }, 0, "level:" },
    { { 0, 1, 1 }, 1, "level:" },         { { 0, 1, 1 }, NAN, "level:" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (table); i++)
    {
      g_autoptr (GError) error = NULL;
      g_assert_null (bed_yields_new (&table[i].record, 1, 2, table[i].level, &error));
      g_assert_true (error->domain == BED_SCIENCE_ERROR);
      g_assert_true (g_str_has_prefix (error->message, table[i].argument));
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/yield/nothing", test_nothing);
  g_test_add_func ("/yield/one-log", test_one_log);
  g_test_add_func ("/yield/one-log-each", test_one_log_each);
  g_test_add_func ("/yield/zeros", test_zeros);
  g_test_add_func ("/yield/one-group", test_one_group);
  g_test_add_func ("/yield/no-variance-between", test_no_variance_between);
  g_test_add_func ("/yield/no-variance-within", test_no_variance_within);
  g_test_add_func ("/yield/properties", test_properties);
  g_test_add_func ("/yield/together", test_together);
  g_test_add_func ("/yield/coverage", test_coverage);
  g_test_add_func ("/yield/refused", test_refused);
  return g_test_run ();
}
