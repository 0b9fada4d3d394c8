#include "science/argument.h"
#include "science/survival.h"

#include <math.h>

static GArray *
curve_of (const BedLogLife *lives, gsize n)
{
  g_autoptr (GError) error = NULL;
  GArray *curve = bed_survival_curve (lives, n, 0.95, &error);

  g_assert_no_error (error);
  return curve;
}

static void
test_little_known (void)
{
  const BedLogLife alive[] = { { 1, FALSE }, { 3, FALSE } };
  g_autoptr (GArray) none = curve_of (NULL, 0);
  g_autoptr (GArray) all_alive = curve_of (alive, 2);

  g_assert_cmpuint (none->len, ==, 0);
  g_assert_cmpfloat (bed_survival_at (none, 5), ==, 1);
  g_assert_cmpuint (all_alive->len, ==, 0);
  g_assert_cmpfloat (bed_survival_ratio (all_alive, 1, 4), ==, 1);
}

static void
test_one_log (void)
{
  const BedLogLife one = { 4, TRUE };
  g_autoptr (GArray) curve = curve_of (&one, 1);
  const BedSurvivalStep *step = &g_array_index (curve, BedSurvivalStep, 0);

  g_assert_cmpuint (curve->len, ==, 1);
  g_assert_cmpfloat (step->survival.estimate, ==, 0);
  g_assert_cmpfloat (step->survival.low, ==, 0);
  g_assert_cmpfloat_with_epsilon (step->survival.high, 0.975, 1e-9); /* exact, none of one */
  g_assert_cmpfloat (bed_survival_at (curve, 3.9), ==, 1);
  g_assert_cmpfloat (bed_survival_at (curve, 4), ==, 0);
  g_assert_cmpfloat (bed_survival_ratio (curve, 5, 6), ==, 0);
}

/* Without logs lost from sight the curve is a count and the interval that of
 * Clopper and Pearson: 7 of 10 alive, 0.3475 to 0.9333 (standard table). */
static void
test_no_loss (void)
{
  BedLogLife lives[10];

  for (int i = 0; i < 10; i++)
    lives[i] = (BedLogLife){ i < 3 ? 2 : 5, TRUE };
  g_autoptr (GArray) curve = curve_of (lives, 10);
  const BedSurvivalStep *first = &g_array_index (curve, BedSurvivalStep, 0);
  const BedSurvivalStep *last = &g_array_index (curve, BedSurvivalStep, 1);
  g_assert_cmpfloat_with_epsilon (first->survival.estimate, 0.7, 1e-12);
  g_assert_cmpfloat_with_epsilon (first->standard_error, sqrt (0.7 * 0.3 / 10), 1e-12);
  g_assert_cmpfloat_with_epsilon (first->survival.low, 0.3475, 5e-5);
  g_assert_cmpfloat_with_epsilon (first->survival.high, 0.9333, 5e-5);
  /* None of ten: 1 - 0.025^(1/10). */
  g_assert_cmpfloat_with_epsilon (last->survival.high, 1 - pow (0.025, 0.1), 1e-9);
}

/* Against the definition, counted anew at every age. */
static double
count_survival (const BedLogLife *lives, gsize n, double age)
{
  double survival = 1;

  for (int at = 0; at <= age; at++)
    {
      double risk = 0, retired = 0;
      for (gsize i = 0; i < n; i++)
        {
          risk += lives[i].age >= at;
          retired += lives[i].retired && fabs (lives[i].age - at) < 0.5;
        }
      if (risk > 0)
        survival *= 1 - retired / risk;
    }
  return survival;
}

static void
test_random (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (3);

  for (int run = 0; run < 500; run++)
    {
      BedLogLife lives[30];
      gsize n = (gsize) g_rand_int_range (rand, 1, 31);
      for (gsize i = 0; i < n; i++)
        lives[i] = (BedLogLife){ g_rand_int_range (rand, 0, 8), g_rand_boolean (rand) };
      g_autoptr (GArray) curve = curve_of (lives, n);
      for (int age = 0; age < 9; age++)
        g_assert_cmpfloat_with_epsilon (bed_survival_at (curve, age),
                                        count_survival (lives, n, age), 1e-12);
      for (guint i = 0; i < curve->len; i++)
        {
          const BedInterval *s = &g_array_index (curve, BedSurvivalStep, i).survival;
          g_assert_true (s->low >= 0 && s->high <= 1);
          g_assert_true (s->low <= s->estimate && s->estimate <= s->high);
          g_assert_true (i == 0
                         || s->estimate
                                < g_array_index (curve, BedSurvivalStep, i - 1).survival.estimate);
        }
    }
}

/* Logs that last 1 to 6 years with equal chance, a third sold at a random age:
 * the interval at 3 years holds the true half at least as often as it says. */
static void
test_coverage (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (8);
  const int sets = 4000;
  int hits = 0;

  for (int set = 0; set < sets; set++)
    {
      BedLogLife lives[25];
      for (int i = 0; i < 25; i++)
        {
          double end = g_rand_int_range (rand, 1, 7);
          double sold = g_rand_int_range (rand, 0, 3) == 0 ? g_rand_double_range (rand, 0, 6) : 9;
          lives[i] = (BedLogLife){ MIN (end, sold), end <= sold };
        }
      g_autoptr (GArray) curve = bed_survival_curve (lives, 25, 0.8, NULL);
      const BedSurvivalStep *at = NULL;
      for (guint i = 0; i < curve->len; i++)
        if (g_array_index (curve, BedSurvivalStep, i).age <= 3)
          at = &g_array_index (curve, BedSurvivalStep, i);
      hits += at != NULL && at->survival.low <= 0.5 && 0.5 <= at->survival.high;
    }
  g_test_message ("survival: %.4f", (double) hits / sets);
  g_assert_cmpfloat ((double) hits / sets, >, 0.8 - 3 * sqrt (0.8 * 0.2 / sets));
  g_assert_cmpfloat ((double) hits / sets, <, 0.92);
}

static void
test_refused (void)
{
  const struct
  {
    double age, level;
    const char *argument;
  } table[] = {
    { -1, 0.8, "age:" }, { NAN, 0.8, "age:" }, { INFINITY, 0.8, "age:" },
    { 1, 0, "level:" },  { 1, 1, "level:" },   { 1, NAN, "level:" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (table); i++)
    {
      g_autoptr (GError) error = NULL;
      const BedLogLife life = { table[i].age, TRUE };
      g_assert_null (bed_survival_curve (&life, 1, table[i].level, &error));
      g_assert_true (error->domain == BED_SCIENCE_ERROR);
      g_assert_true (g_str_has_prefix (error->message, table[i].argument));
    }
}

/* A big farm: for 40,000 logs the interval is that of the normal curve, and there is one. */
static void
test_many_logs (void)
{
  const gsize n = 40000;
  g_autofree BedLogLife *lives = g_new (BedLogLife, n);

  for (gsize i = 0; i < n; i++)
    lives[i] = (BedLogLife){ i % 10 == 0 ? 1 + (double) (i % 300) / 100 : 5, i % 10 == 0 };
  g_autoptr (GArray) curve = bed_survival_curve (lives, n, 0.8, NULL);
  g_assert_nonnull (curve);
  const BedSurvivalStep *last = &g_array_index (curve, BedSurvivalStep, curve->len - 1);
  double spread = 1.2816 * sqrt (0.9 * 0.1 / (double) n);
  g_assert_cmpfloat_with_epsilon (last->survival.estimate, 0.9, 1e-9);
  g_assert_cmpfloat_with_epsilon (last->survival.low, 0.9 - spread, 5e-5);
  g_assert_cmpfloat_with_epsilon (last->survival.high, 0.9 + spread, 5e-5);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/survival/little-known", test_little_known);
  g_test_add_func ("/survival/one-log", test_one_log);
  g_test_add_func ("/survival/no-loss", test_no_loss);
  g_test_add_func ("/survival/random", test_random);
  g_test_add_func ("/survival/coverage", test_coverage);
  g_test_add_func ("/survival/refused", test_refused);
  g_test_add_func ("/survival/many-logs", test_many_logs);
  return g_test_run ();
}
