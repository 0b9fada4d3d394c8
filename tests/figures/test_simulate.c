/* The simulations in small, with bounds as much wider as fewer farms tell less. */
#include "simulate.h"

#include <math.h>

static const guint seasons[] = { 3, 5, 8 };
static const double lucks[] = { 0, 0.25 };

static void
hold (double value, double low, double high)
{
  g_assert_cmpfloat (value, >=, low);
  g_assert_cmpfloat (value, <=, high);
}

static void
test_forecast (void)
{
  for (gsize s = 0; s < G_N_ELEMENTS (seasons); s++)
    for (gsize l = 0; l < G_N_ELEMENTS (lucks); l++)
      for (double empty = 0; empty < 0.5; empty += 0.3)
        {
          const SimFarms farms = { 100, seasons[s], lucks[l], empty };
          SimForecast one = sim_forecast (&farms, 7);

          g_test_message ("%u seasons, luck %.2f, empty %.1f: above %.3f, ratio %.3f, inside %.3f",
                          seasons[s], lucks[l], empty, one.above, one.ratio, one.coverage);
          hold (one.above, 0.35, 0.65);
          hold (one.ratio, 0.85, 1.15);
          hold (one.coverage, 0.65, 0.95);
        }
}

static void
test_kinds (void)
{
  for (gsize s = 0; s < G_N_ELEMENTS (seasons); s++)
    for (gsize l = 0; l < G_N_ELEMENTS (lucks); l++)
      for (double empty = 0; empty < 0.5; empty += 0.3)
        {
          const SimFarms farms = { 300, seasons[s], lucks[l], empty };
          SimKinds kinds = sim_kinds (&farms, 7);

          g_test_message ("%u seasons, luck %.2f, empty %.1f: %u intervals, inside %.3f +- %.3f",
                          seasons[s], lucks[l], empty, kinds.kinds, kinds.coverage, kinds.error);
          g_assert_cmpuint (kinds.kinds, >, 200);
          hold (kinds.coverage, 0.8 - 4 * kinds.error, 0.8 + 4 * kinds.error);
        }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/figures/forecast", test_forecast);
  g_test_add_func ("/figures/kinds", test_kinds);
  return g_test_run ();
}
