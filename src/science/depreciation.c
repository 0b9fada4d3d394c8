#include "science/depreciation.h"

#include <math.h>

#define PARTS_PER_WHOLE 10000.0
/* Of a unit: a half that came out of divisions a hair short is rounded as a half. */
#define GUARD 1e-6

/* Of what is left a share each year, never below the salvage; the straight line of what is left
 * over the years left where that is more. */
static double
decline (double times, double price, double salvage, guint life, guint years)
{
  double share = fmin (1, times / life), left = price - salvage;

  for (guint year = 0; year < years; year++)
    left -= fmax (fmin (share * (left + salvage), left), left / (life - year));
  return price - salvage - left;
}

double
bed_write_off_times (BedWriteOff way)
{
  static const double times[BED_N_WRITE_OFFS] = {
    [BED_WRITE_OFF_STRAIGHT] = 1,
    [BED_WRITE_OFF_DECLINING_150] = 1.5,
    [BED_WRITE_OFF_DECLINING_200] = 2,
  };

  return way < BED_N_WRITE_OFFS ? times[way] : 1;
}

gint64
bed_written_off (BedWriteOff way, gint64 price, gint64 salvage, guint life, guint part, guint years)
{
  double lost = (double) price - salvage, times = bed_write_off_times (way);

  if (!(lost > 0) || years == 0)
    return 0;
  if (years < life && way == BED_WRITE_OFF_STRAIGHT)
    lost = lost * years / life;
  else if (years < life && way == BED_WRITE_OFF_DIGITS)
    lost = lost * years * (2.0 * life + 1 - years) / (life * (life + 1.0));
  else if (years < life)
    lost = decline (times, price, salvage, life, years);
  return floor (lost * part / PARTS_PER_WHOLE + 0.5 + GUARD);
}
