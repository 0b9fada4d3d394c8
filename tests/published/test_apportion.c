/* Largest remainder (A. Hamilton's rule). The division of 10 seats among 100,000
 * votes is the usual textbook example (memory, recomputed); the amounts of money
 * are our own arithmetic. */
#include "science/apportion.h"

static void
assert_parts (gint64 total, const guint64 *weights, const gint64 *expected, gsize n)
{
  gint64 parts[8];

  g_assert_true (bed_apportion (total, weights, n, parts, NULL));
  for (gsize i = 0; i < n; i++)
    g_assert_cmpint (parts[i], ==, expected[i]);
}

static void
test_votes (void)
{
  assert_parts (10, (guint64[]){ 47000, 16000, 15900, 12000, 6000, 3100 },
                (gint64[]){ 5, 2, 1, 1, 1, 0 }, 6);
}

static void
test_money (void)
{
  assert_parts (10000, (guint64[]){ 1, 1, 1 }, (gint64[]){ 3334, 3333, 3333 }, 3);
  assert_parts (10001, (guint64[]){ 3, 2, 2 }, (gint64[]){ 4286, 2858, 2857 }, 3);
  assert_parts (12345, (guint64[]){ 180, 270, 545, 5 }, (gint64[]){ 2222, 3333, 6728, 62 }, 4);
  /* Joint costs of 600.00 by weight and by sales value at split-off. */
  assert_parts (60000, (guint64[]){ 60, 30, 10 }, (gint64[]){ 36000, 18000, 6000 }, 3);
  assert_parts (60000, (guint64[]){ 960, 360, 60 }, (gint64[]){ 41739, 15652, 2609 }, 3);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/apportion/votes", test_votes);
  g_test_add_func ("/apportion/money", test_money);
  return g_test_run ();
}
