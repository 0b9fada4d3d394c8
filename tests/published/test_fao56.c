/* R. G. Allen, L. S. Pereira, D. Raes, M. Smith, Crop Evapotranspiration, FAO
 * Irrigation and Drainage Paper 56 (1998), worked examples (SEEN in a test file that
 * quotes them; the last line of each says what does not come from the paper). */
#include "science/air.h"
#include "science/evaporation.h"

/* Example 3: 24.5 and 15 C, mean saturation pressure 2.39 kPa. */
static void
test_example_3 (void)
{
  g_assert_cmpfloat_with_epsilon ((bed_air_saturation (24.5) + bed_air_saturation (15)) / 2, 2.39,
                                  5e-3);
  g_assert_cmpfloat_with_epsilon (bed_air_saturation (24.5), 3.075, 5e-4);
}

/* Example 20: vapour pressure at a least temperature of 14.8 C is 1.68 kPa. */
static void
test_example_20 (void)
{
  g_assert_cmpfloat_with_epsilon (bed_air_saturation (14.8), 1.68, 5e-3);
}

/* Example 8: 20 degrees south, day 246, 32.2 MJ. */
static void
test_example_8 (void)
{
  double radiation;

  g_assert_true (bed_evaporation_radiation (-20, 246, &radiation, NULL));
  g_assert_cmpfloat_with_epsilon (radiation, 32.2, 5e-2);
}

/* Hargreaves: 28, 35, 38 C and 38.93715 MJ, 6.1 mm (as quoted from Mehta, 2006). */
static void
test_hargreaves (void)
{
  double mm;

  g_assert_true (bed_evaporation_reference (28, 35, 38, 38.93715, &mm, NULL));
  g_assert_cmpfloat_with_epsilon (mm, 6.1, 5e-2);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/fao56/example-3", test_example_3);
  g_test_add_func ("/fao56/example-8", test_example_8);
  g_test_add_func ("/fao56/example-20", test_example_20);
  g_test_add_func ("/fao56/hargreaves", test_hargreaves);
  return g_test_run ();
}
