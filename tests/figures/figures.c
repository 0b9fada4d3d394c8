/* The simulations whole: a table of Markdown for docs/figures.md (./dev figures writes it there).
 */
#include "simulate.h"

#include <math.h>

#define FARMS 1500

static const char *
judge (gboolean within)
{
  return within ? "yes" : "missed";
}

static void
print_forecasts (guint seasons, double luck, double empty)
{
  const SimFarms farms = { FARMS, seasons, luck, empty };
  SimForecast one = sim_forecast (&farms, 1);
  gboolean within = one.above >= 0.42 && one.above <= 0.58 && one.ratio >= 0.93 && one.ratio <= 1.07
                    && one.coverage >= 0.72 && one.coverage <= 0.88;

  g_print ("| %u | %.2f | %.0f %% | %.3f | %.3f | %.3f | %s |\n", seasons, luck, empty * 100,
           one.above, one.ratio, one.coverage, judge (within));
}

static void
print_kinds (guint seasons, double luck, double empty)
{
  const SimFarms farms = { FARMS, seasons, luck, empty };
  SimKinds kinds = sim_kinds (&farms, 2);

  g_print ("| %u | %.2f | %.0f %% | %u | %.3f | %.4f | %s |\n", seasons, luck, empty * 100,
           kinds.kinds, kinds.coverage, kinds.error,
           judge (fabs (kinds.coverage - 0.8) <= 3 * kinds.error));
}

static void
print_all (void (*print) (guint seasons, double luck, double empty))
{
  static const guint seasons[] = { 3, 5, 8 };
  static const double lucks[] = { 0, 0.25 }, empties[] = { 0, 0.3 };

  for (gsize e = 0; e < G_N_ELEMENTS (empties); e++)
    for (gsize l = 0; l < G_N_ELEMENTS (lucks); l++)
      for (gsize s = 0; s < G_N_ELEMENTS (seasons); s++)
        print (seasons[s], lucks[l], empties[e]);
}

int
main (void)
{
  g_print ("What is expected of the season to come, of %d farms each:\n\n", FARMS);
  g_print ("| past seasons | batch luck | batches' seasons empty | truth above the middle |"
           " median of truth over the middle | inside the 80 %% interval | within |\n"
           "|---|---|---|---|---|---|---|\n");
  print_all (print_forecasts);
  g_print ("\nThe comparison of kinds, of %d farms each:\n\n", FARMS);
  g_print ("| past seasons | batch luck | batches' seasons empty | intervals |"
           " true level inside the 80 %% interval | standard error | within three of it |\n"
           "|---|---|---|---|---|---|---|\n");
  print_all (print_kinds);
  return 0;
}
