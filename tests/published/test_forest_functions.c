/* D. R. Larsen, Forest Functions, University of Missouri: worked examples of the
 * pages cubic volume, quadratic mean diameter, stand density index (SEEN). */
#include "science/log.h"
#include "science/stand.h"

#define LITRES_PER_FT3 28.316846592
#define M2_HA_PER_FT2_AC (0.09290304 / 0.40468564224)
#define HA_PER_ACRE 0.40468564224

static void
test_volume (void)
{
  const BedLogSize inches = { 12 * 25.4, 10 * 25.4, 16 * 304.8 };
  const BedLogSize metric = { 290, 250, 5000 };
  double litres;

  g_assert_true (bed_log_volume (&inches, &litres, NULL));
  g_assert_cmpfloat_with_epsilon (litres / LITRES_PER_FT3, 10.588, 5e-4);
  g_assert_true (bed_log_volume (&metric, &litres, NULL));
  g_assert_cmpfloat_with_epsilon (litres / 1000, 0.286801, 5e-7);
}

/* 80 ft2/ac of 200 trees/ac: 8.56 in. 200 trees/ac of 12.3 in: index 278.8. */
static void
test_stand (void)
{
  BedStand stand = { 80 * M2_HA_PER_FT2_AC, 200 / HA_PER_ACRE };
  BedStandState state;

  g_assert_true (bed_stand_state (&stand, &state, NULL));
  g_assert_cmpfloat_with_epsilon (state.qmd_cm / 2.54, 8.5638, 5e-4);
  stand.basal_area = 200 * 0.005454154 * 12.3 * 12.3 * M2_HA_PER_FT2_AC;
  g_assert_true (bed_stand_state (&stand, &state, NULL));
  g_assert_cmpfloat_with_epsilon (state.sdi * HA_PER_ACRE, 278.8, 0.05);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/forest-functions/volume", test_volume);
  g_test_add_func ("/forest-functions/stand", test_stand);
  return g_test_run ();
}
