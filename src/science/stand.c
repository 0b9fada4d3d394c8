#include "science/stand.h"

#include <math.h>

#include "science/argument.h"

#define HA_PER_ACRE 0.40468564224
#define CM_PER_INCH 2.54

static gboolean
check (const BedStand *stand, GError **error)
{
  return bed_argument_between ("basal area (m2/ha)", stand->basal_area, 0.1, 200, error)
         && bed_argument_between ("trees (per ha)", stand->trees, 1, 100000, error);
}

/* Gingrich's tree-area ratio, per acre and inches. 0.00317 and not the 0.00307 that
 * is also in print: only the former gives 95 % for 150 trees and 115 ft2 as read
 * off his chart. */
static double
stocking (const BedStand *stand, double qmd_inch)
{
  double trees = stand->trees * HA_PER_ACRE;
  double mean = MAX (-0.259 + 0.973 * qmd_inch, 0);

  return trees * (-0.00507 + 0.01698 * mean + 0.00317 * qmd_inch * qmd_inch);
}

gboolean
bed_stand_state (const BedStand *stand, BedStandState *state, GError **error)
{
  g_return_val_if_fail (stand != NULL && state != NULL, FALSE);
  if (!check (stand, error))
    return FALSE;
  state->qmd_cm = sqrt (stand->basal_area / stand->trees / G_PI * 4) * 100;
  state->sdi = stand->trees * pow (state->qmd_cm / 25.4, 1.605);
  state->stocking_pct = MAX (stocking (stand, state->qmd_cm / CM_PER_INCH), 0);
  return TRUE;
}

gboolean
bed_stand_thin (const BedStand *stand, double residual, BedThinning *thinning, GError **error)
{
  g_return_val_if_fail (stand != NULL && thinning != NULL, FALSE);
  if (!check (stand, error)
      || !bed_argument_between ("residual (m2/ha)", residual, 0.1, 200, error))
    return FALSE;
  double left = MIN (residual, stand->basal_area) / stand->basal_area;
  BedStand after = { stand->basal_area * left, MAX (stand->trees * left, 1) };

  thinning->remove_basal_area = stand->basal_area * (1 - left);
  thinning->remove_trees = stand->trees * (1 - left);
  thinning->share_pct = 100 * (1 - left);
  return bed_stand_state (&after, &thinning->after, error);
}
