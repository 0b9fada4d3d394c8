/* University of California Statewide IPM Program, degree-day output for station
 * OJAI.C, 2016, single sine, horizontal cutoff, 12 and 33 C; the first days that
 * touch every case but the outer two (SEEN, printed to two decimals). Method: G. L.
 * Baskerville, P. Emin, Ecology 50 (1969) 514-517. */
#include "science/heat.h"

static void
test_ojai (void)
{
  const struct
  {
    double least, most, dd;
  } days[] = {
    { 7.8, 19.4, 2.72 },   { 4.4, 22.2, 3.51 },  { 3.3, 18.9, 2.05 },
    { 10.0, 21.7, 4.21 },  { 6.1, 15.0, 0.77 },  { 10.6, 32.2, 9.55 },
    { 17.8, 32.2, 13.00 }, { 16.1, 26.1, 9.10 }, { 8.9, 17.2, 1.89 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (days); i++)
    {
      double dd;
      g_assert_true (bed_heat_day (days[i].least, days[i].most, 12, 33, &dd, NULL));
      g_assert_cmpfloat_with_epsilon (dd, days[i].dd, 0.0051);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/uc-ipm/ojai", test_ojai);
  return g_test_run ();
}
