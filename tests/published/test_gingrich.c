/* S. F. Gingrich, Measuring and evaluating stocking and stand density in upland
 * hardwood forests in the central states, Forest Science 13 (1967) 38-53: his chart
 * as read in a class exercise (SEEN-2): 150 trees and 115 ft2 an acre are 95 %; a
 * stand of 90 ft2 with a B-line of 65 ft2 may lose 25 ft2. */
#include "science/stand.h"

#define M2_HA_PER_FT2_AC (0.09290304 / 0.40468564224)
#define HA_PER_ACRE 0.40468564224

static void
test_chart (void)
{
  BedStand stand = { 115 * M2_HA_PER_FT2_AC, 150 / HA_PER_ACRE };
  BedStandState state;
  BedThinning thinning;

  g_assert_true (bed_stand_state (&stand, &state, NULL));
  g_assert_cmpfloat_with_epsilon (state.stocking_pct, 95, 0.5);
  stand.basal_area = 90 * M2_HA_PER_FT2_AC;
  g_assert_true (bed_stand_thin (&stand, 65 * M2_HA_PER_FT2_AC, &thinning, NULL));
  g_assert_cmpfloat_with_epsilon (thinning.remove_basal_area / M2_HA_PER_FT2_AC, 25, 1e-9);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/gingrich/chart", test_chart);
  return g_test_run ();
}
