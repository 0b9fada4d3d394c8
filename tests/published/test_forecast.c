/* The log-normal interval for one new value (J. Aitchison, J. A. C. Brown, The
 * Lognormal Distribution, 1957, from memory): 0.6 0.9 1.1 0.4 2.1 0.8, whose
 * median is 0.85808 and 95 % interval 0.18013 to 4.08755 (own, recomputed). */
#include "science/crop_model.h"
#include "science/forecast.h"

static void
test_log_normal (void)
{
  const BedForecastPast past[]
      = { { 1, 0.6 }, { 1, 0.9 }, { 1, 1.1 }, { 10, 4 }, { 2, 4.2 }, { 5, 4 } };
  const double expected[] = { 1, 100 };
  BedInterval forecasts[2];

  g_assert_true (bed_forecast (past, G_N_ELEMENTS (past), expected, 2, 0.95, forecasts, NULL));
  g_assert_cmpint (forecasts[0].known, ==, BED_KNOWN_INTERVAL);
  g_assert_cmpfloat_with_epsilon (forecasts[0].estimate, 0.85808, 5e-6);
  g_assert_cmpfloat_with_epsilon (forecasts[0].low, 0.18013, 5e-6);
  g_assert_cmpfloat_with_epsilon (forecasts[0].high, 4.08755, 5e-6);
  g_assert_cmpfloat_with_epsilon (forecasts[1].high, 408.755, 5e-4);
}

/* The shape of a log's life 1:2:2:1 (Maryland Cooperative Extension, Shiitake
 * Mushrooms Enterprise, Rural Enterprise Series, c. 2000, seen): years 2 and 3
 * bring twice what 1 and 4 do, a third of it each. A farm that saw one year takes the rest of it
 * from there: 100 logs gave 100/6 kg in their first. */
static void
test_life_shape (void)
{
  const BedCropCell first = { .age = 1, .season = 2024, .logs = 100, .kg = 100.0 / 6, .share = 1 };
  const double percent[] = { 16.7, 33.3, 33.3, 16.7 };
  g_autoptr (BedCropModel) model = bed_crop_model_new (&first, 1, NULL);

  for (guint year = 0; year < 4; year++)
    g_assert_cmpfloat_with_epsilon (100 * bed_crop_model_log (model, year + 1), percent[year],
                                    0.05);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/forecast/log-normal", test_log_normal);
  g_test_add_func ("/forecast/life-shape", test_life_shape);
  return g_test_run ();
}
