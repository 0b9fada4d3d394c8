/* O. L. Davies, P. L. Goldsmith (eds.), Statistical Methods in Research and
 * Production, 4th ed. 1972, the dyestuff data; REML estimates and predicted
 * effects as printed for data set Dyestuff of the R package lme4 (seen). */
#include "science/yield.h"

#include <math.h>

static const double dyestuff[6][5] = {
  { 1545, 1440, 1440, 1520, 1580 }, { 1540, 1555, 1490, 1560, 1495 },
  { 1595, 1550, 1605, 1510, 1560 }, { 1445, 1440, 1595, 1465, 1545 },
  { 1595, 1630, 1515, 1635, 1625 }, { 1520, 1455, 1450, 1480, 1445 },
};

static void
test_dyestuff (void)
{
  const double effects[] = { -17.6069, 0.3913, 28.5622, -23.0845, 56.7332, -44.9953 };
  BedYieldRecord records[30];

  for (guint i = 0; i < 30; i++)
    records[i] = (BedYieldRecord){ i / 5, 1, dyestuff[i / 5][i % 5] };
  g_autoptr (BedYields) yields = bed_yields_new (records, 30, 6, 0.95, NULL);
  g_assert_cmpfloat_with_epsilon (yields->mean_kg, 1527.5, 1e-9);
  g_assert_cmpfloat_with_epsilon (yields->variance_between, 1764.05, 0.005);
  g_assert_cmpfloat_with_epsilon (sqrt (yields->variance_within), 49.5101, 5e-5);
  for (guint g = 0; g < 6; g++)
    {
      double effect = yields->groups[g].shrunk.estimate - yields->mean_kg;
      double own = yields->groups[g].own.estimate - yields->mean_kg;
      g_assert_cmpfloat_with_epsilon (effect, effects[g], 5e-5);
      g_assert_cmpfloat_with_epsilon (effect / own, 0.782527, 5e-7);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/yield/dyestuff", test_dyestuff);
  return g_test_run ();
}
