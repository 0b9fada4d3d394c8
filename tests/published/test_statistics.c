/* Student's t in its usual table (standard; recomputed), and quantiles by
 * definition 7 of R. J. Hyndman, Y. Fan, The American Statistician 50:361-365,
 * 1996 (definition from memory; values own). */
#include "science/statistics.h"

static void
test_t (void)
{
  static const double p[] = { 0.75, 0.90, 0.95, 0.975, 0.99, 0.995 };
  static const struct
  {
    double freedom;
    double t[6];
  } table[] = {
    { 1, { 1.0000, 3.0777, 6.3138, 12.7062, 31.8205, 63.6567 } },
    { 2, { 0.8165, 1.8856, 2.9200, 4.3027, 6.9646, 9.9248 } },
    { 3, { 0.7649, 1.6377, 2.3534, 3.1824, 4.5407, 5.8409 } },
    { 4, { 0.7407, 1.5332, 2.1318, 2.7764, 3.7469, 4.6041 } },
    { 5, { 0.7267, 1.4759, 2.0150, 2.5706, 3.3649, 4.0321 } },
    { 8, { 0.7064, 1.3968, 1.8595, 2.3060, 2.8965, 3.3554 } },
    { 10, { 0.6998, 1.3722, 1.8125, 2.2281, 2.7638, 3.1693 } },
    { 20, { 0.6870, 1.3253, 1.7247, 2.0860, 2.5280, 2.8453 } },
    { 30, { 0.6828, 1.3104, 1.6973, 2.0423, 2.4573, 2.7500 } },
    { 120, { 0.6765, 1.2886, 1.6577, 1.9799, 2.3578, 2.6174 } },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (table); i++)
    for (int j = 0; j < 6; j++)
      g_assert_cmpfloat_with_epsilon (bed_t_quantile (p[j], table[i].freedom), table[i].t[j],
                                      5.1e-5);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/statistics/t", test_t);
  return g_test_run ();
}
