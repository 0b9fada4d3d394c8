#include "simulate.h"
int main (void)
{
  for (double b = 0; b < 0.3; b += 0.25)
    for (double e = 0; e < 0.5; e += 0.3)
      for (int s = 3; s <= 8; s += s == 3 ? 2 : 3)
        {
          SimFarms f = { 600, s, b, e };
          SimForecast a = sim_forecast (&f, 1);
          SimKinds k = sim_kinds (&f, 2);
          g_print ("kinds %u cover %.3f (%.4f) ", k.kinds, k.coverage, k.error);
          g_print ("%d seasons luck %.2f empty %.1f: above %.3f ratio %.3f cover %.3f\n", s, b, e, a.above, a.ratio, a.coverage);
        }
  return 0;
}
