/* O. L. Davies, P. L. Goldsmith (eds.), Statistical Methods in Research and
 * Production, 4th ed. 1972, the dyestuff data; means of the batches by the predicted
 * effects over their share, as printed for data set Dyestuff of the R package lme4 (seen). */
#include "science/crop_compare.h"

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
  BedCropBatch batches[30];

  for (guint i = 0; i < 30; i++)
    batches[i] = (BedCropBatch){ i / 5, 2024, 1, dyestuff[i / 5][i % 5] };
  g_autofree BedCropLevel *levels = bed_crop_compare (batches, 30, 6, 0.95, NULL);
  for (guint g = 0; g < 6; g++)
    {
      g_assert_cmpint (levels[g].told, ==, BED_CROP_COMPARED);
      g_assert_cmpfloat_with_epsilon (levels[g].kg.estimate, 1527.5 + effects[g] / 0.782527, 1e-3);
      /* 49.5101 is the printed deviation within a batch: t(0.975, 24) 49.5101 / sqrt 5 = 45.70; in
       * proportion to the mean it is a little more of a large one. */
      g_assert_cmpfloat_with_epsilon (levels[g].kg.high - levels[g].kg.estimate, 45.70, 4);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/crop-compare/dyestuff", test_dyestuff);
  return g_test_run ();
}
