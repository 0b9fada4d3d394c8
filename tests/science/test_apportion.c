#include "science/apportion.h"
#include "science/argument.h"

#include <stdlib.h>

#define MOST 12

static guint64
random_weight (GRand *rand)
{
  guint64 weight = ((guint64) g_rand_int (rand) << 32) | g_rand_int (rand);

  return g_rand_int_range (rand, 0, 5) == 0 ? 0 : weight >> g_rand_int_range (rand, 0, 60);
}

static gint64
random_total (GRand *rand)
{
  guint64 bits = ((guint64) g_rand_int (rand) << 32) | g_rand_int (rand);

  return (gint64) bits >> g_rand_int_range (rand, 0, 60);
}

/* |part sum(w) - total w| < sum(w): within one unit of the quota; nothing for no weight. */
static void
assert_fair (gint64 total, const guint64 *weights, const gint64 *parts, gsize n)
{
  __int128 sum = 0;
  __int128 all = 0;

  for (gsize i = 0; i < n; i++)
    {
      all += parts[i];
      sum += weights[i];
    }
  g_assert_true (all == total);
  for (gsize i = 0; i < n; i++)
    {
      /* Divided first: the product of two such sums would not fit. */
      __int128 quota = (__int128) total * weights[i] / sum;
      __int128 off = parts[i] - quota;
      g_assert_true (off >= -1 && off <= 1);
      g_assert_true (weights[i] > 0 || parts[i] == 0);
    }
}

static void
test_random (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (20260);

  for (int run = 0; run < 20000; run++)
    {
      guint64 weights[MOST], turned[MOST];
      gint64 parts[MOST], turned_parts[MOST], negative[MOST];
      gsize n = (gsize) g_rand_int_range (rand, 1, MOST + 1);
      gint64 total = random_total (rand);
      guint64 sum = 0;
      for (gsize i = 0; i < n; i++)
        sum |= weights[i] = random_weight (rand);
      if (sum == 0)
        continue;
      g_assert_true (bed_apportion (total, weights, n, parts, NULL));
      assert_fair (total, weights, parts, n);
      if (total > G_MININT64)
        {
          g_assert_true (bed_apportion (-total, weights, n, negative, NULL));
          for (gsize i = 0; i < n; i++)
            g_assert_cmpint (negative[i], ==, -parts[i]);
        }
      /* Weights this large do not tie: turning them round turns the parts. */
      for (gsize i = 0; i < n; i++)
        turned[i] = weights[n - 1 - i];
      g_assert_true (bed_apportion (total, turned, n, turned_parts, NULL));
      for (gsize i = 0; i < n; i++)
        if (labs (turned_parts[n - 1 - i] - parts[i]) > 0)
          g_assert_cmpint (labs (turned_parts[n - 1 - i] - parts[i]), ==, 1);
    }
}

/* No two remainders tie among shares of 101 by distinct weights that sum to a prime. */
static void
test_permutation (void)
{
  const guint64 weights[] = { 5, 11, 17, 23, 47 };
  gint64 parts[5];
  g_autoptr (GRand) rand = g_rand_new_with_seed (7);

  g_assert_true (bed_apportion (101, weights, 5, parts, NULL));
  for (int run = 0; run < 200; run++)
    {
      gsize order[] = { 0, 1, 2, 3, 4 };
      guint64 turned[5];
      gint64 turned_parts[5];
      for (gsize i = 4; i > 0; i--)
        {
          gsize j = (gsize) g_rand_int_range (rand, 0, (gint32) i + 1);
          gsize swap = order[i];
          order[i] = order[j];
          order[j] = swap;
        }
      for (gsize i = 0; i < 5; i++)
        turned[i] = weights[order[i]];
      g_assert_true (bed_apportion (101, turned, 5, turned_parts, NULL));
      for (gsize i = 0; i < 5; i++)
        g_assert_cmpint (turned_parts[i], ==, parts[order[i]]);
    }
}

static void
test_edges (void)
{
  gint64 parts[3];

  g_assert_true (
      bed_apportion (G_MININT64, (guint64[]){ G_MAXUINT64, G_MAXUINT64, 1 }, 3, parts, NULL));
  g_assert_cmpint (parts[0], ==, G_MININT64 / 2);
  g_assert_cmpint (parts[1], ==, G_MININT64 / 2);
  g_assert_cmpint (parts[2], ==, 0);
  g_assert_true (bed_apportion (G_MININT64, (guint64[]){ 1 }, 1, parts, NULL));
  g_assert_cmpint (parts[0], ==, G_MININT64);
  g_assert_true (bed_apportion (0, (guint64[]){ 1, 2 }, 2, parts, NULL));
  g_assert_cmpint (parts[0] + parts[1], ==, 0);
  /* Ties go to the earlier weight. */
  g_assert_true (bed_apportion (-1, (guint64[]){ 0, 1, 1 }, 3, parts, NULL));
  g_assert_cmpint (parts[0], ==, 0);
  g_assert_cmpint (parts[1], ==, -1);
  g_assert_cmpint (parts[2], ==, 0);
}

static void
test_refused (void)
{
  g_autoptr (GError) error = NULL;
  gint64 parts[2];

  g_assert_false (bed_apportion (5, (guint64[]){ 0, 0 }, 2, parts, &error));
  g_assert_error (error, BED_SCIENCE_ERROR, BED_SCIENCE_ERROR_ARGUMENT);
  g_assert_true (g_str_has_prefix (error->message, "weights:"));
  g_clear_error (&error);
  g_assert_false (bed_apportion (5, NULL, 0, NULL, &error));
  g_assert_error (error, BED_SCIENCE_ERROR, BED_SCIENCE_ERROR_ARGUMENT);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/apportion/random", test_random);
  g_test_add_func ("/apportion/permutation", test_permutation);
  g_test_add_func ("/apportion/edges", test_edges);
  g_test_add_func ("/apportion/refused", test_refused);
  return g_test_run ();
}
