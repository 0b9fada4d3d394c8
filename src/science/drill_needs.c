#include "science/drill.h"

#include <math.h>

#include "science/argument.h"

static gboolean
is_loose (BedSpawnForm form)
{
  return form == BED_SPAWN_SAWDUST || form == BED_SPAWN_GRAIN;
}

static double
hole_ml (const BedDrill *drill)
{
  return G_PI / 4 * drill->hole_diameter * drill->hole_diameter * drill->hole_depth / 1000;
}

/* Of one hole, with what is lost beside it. */
static double
hole_g (const BedDrill *drill, const BedDrillNorms *norms, BedSpawnForm form)
{
  return hole_ml (drill) * norms->spawn_g_per_ml[form]
         * (is_loose (form) ? 1 + norms->spawn_loss : 1);
}

static gboolean
check_hole (const BedDrill *drill, const BedDrillNorms *norms, BedSpawnForm form, GError **error)
{
  return bed_argument_between ("hole diameter (mm)", drill->hole_diameter, 1, 100, error)
         && bed_argument_between ("hole depth (mm)", drill->hole_depth, 1, 200, error)
         && bed_argument_between ("spawn form", form, 0, BED_N_SPAWN_FORMS - 1, error)
         && bed_argument_between ("spawn g per ml", norms->spawn_g_per_ml[form], 0.01, 20, error)
         && bed_argument_between ("spawn loss", norms->spawn_loss, 0, 2, error)
         && bed_argument_between ("spawn spread", norms->spawn_spread, 0, 0.95, error);
}

static gboolean
check_norms (const BedDrillNorms *norms, const BedDrillWork *work, GError **error)
{
  return bed_argument_between ("tool", work->tool, 0, BED_N_DRILL_TOOLS - 1, error)
         && bed_argument_between ("seal", work->seal, 0, BED_SEAL_HOLES_AND_ENDS, error)
         && bed_argument_between ("wax g per hole", norms->wax_g_per_hole, 0, 100, error)
         && bed_argument_between ("wax g per cm2", norms->wax_g_per_cm2, 0, 10, error)
         && bed_argument_between ("minutes per log", norms->minutes_per_log, 0, 600, error)
         && bed_argument_between ("drill minutes", norms->drill_minutes[work->tool], 0, 60, error)
         && bed_argument_between ("fill minutes", norms->fill_minutes[work->form], 0, 60, error)
         && bed_argument_between ("wax minutes per hole", norms->wax_minutes_per_hole, 0, 60, error)
         && bed_argument_between ("wax minutes per end", norms->wax_minutes_per_end, 0, 60, error);
}

/* Public */

void
bed_drill_norms_init (BedDrillNorms *norms)
{
  g_return_if_fail (norms != NULL);
  /* All of these: common practice, no published source. Sawdust is packed hard, and with the
   * loss a bag of 5 to 5.5 lb fills 20 to 25 logs of 5 in by 40 in (from memory; no leaflet with
   * bags a log was found): 103 g a log, between 91 and 125. */
  *norms = (BedDrillNorms){
    .spawn_g_per_ml = { [BED_SPAWN_SAWDUST] = 0.85,
                        [BED_SPAWN_DOWEL] = 0.75,
                        [BED_SPAWN_THIMBLE] = 0.45,
                        [BED_SPAWN_GRAIN] = 0.70 },
    .spawn_loss = 0.3,
    .spawn_spread = 0.2,
    .wax_g_per_hole = 0.6,
    .wax_g_per_cm2 = 0.06,
    .minutes_per_log = 1.5,
    .drill_minutes = { [BED_DRILL_HAND] = 0.15, [BED_DRILL_GRINDER] = 0.04 },
    .fill_minutes = { [BED_SPAWN_SAWDUST] = 0.07,
                      [BED_SPAWN_DOWEL] = 0.08,
                      [BED_SPAWN_THIMBLE] = 0.05,
                      [BED_SPAWN_GRAIN] = 0.10 },
    .wax_minutes_per_hole = 0.05,
    .wax_minutes_per_end = 0.5,
  };
}

void
bed_drill_norms_scale (BedDrillNorms *norms, const BedDrillShare *share)
{
  g_return_if_fail (norms != NULL && share != NULL);
  double wax = share->wax > 0 ? share->wax : 1, minutes = share->minutes > 0 ? share->minutes : 1;

  for (int form = 0; form < BED_N_SPAWN_FORMS; form++)
    {
      norms->fill_minutes[form] *= minutes;
      if (share->spawn > 0)
        norms->spawn_g_per_ml[form] *= share->spawn;
    }
  if (share->spawn > 0)
    norms->spawn_spread = CLAMP (
        MAX (share->spawn_high / share->spawn - 1, 1 - share->spawn_low / share->spawn), 0, 0.95);
  for (int tool = 0; tool < BED_N_DRILL_TOOLS; tool++)
    norms->drill_minutes[tool] *= minutes;
  norms->minutes_per_log *= minutes;
  norms->wax_minutes_per_hole *= minutes;
  norms->wax_minutes_per_end *= minutes;
  norms->wax_g_per_hole *= wax;
  norms->wax_g_per_cm2 *= wax;
}

void
bed_drill_norms_measure (BedDrillNorms *norms, const BedDrillPace *pace)
{
  const double ends_cm2 = 2 * G_PI / 4 * pow (BED_DRILL_USUAL_DIAMETER / 10, 2);

  g_return_if_fail (norms != NULL && pace != NULL);
  for (int tool = 0; pace->holes_drilled > 0 && tool < BED_N_DRILL_TOOLS; tool++)
    norms->drill_minutes[tool] = 1 / pace->holes_drilled;
  for (int form = 0; form < BED_N_SPAWN_FORMS; form++)
    {
      if (pace->holes_filled > 0)
        norms->fill_minutes[form] = 1 / pace->holes_filled;
      if (pace->spawn_g_litre > 0)
        norms->spawn_g_per_ml[form] = pace->spawn_g_litre / 1000;
    }
  if (pace->holes_waxed > 0)
    norms->wax_minutes_per_hole = 1 / pace->holes_waxed;
  if (pace->ends_waxed > 0)
    norms->wax_minutes_per_end = 1 / pace->ends_waxed;
  /* The loss brings the density of common practice to what bags fill; of spawn that was weighed
   * nothing is known to be lost but what the grower keeps in reserve for it. */
  if (pace->spawn_g_litre > 0)
    norms->spawn_loss = 0;
  if (pace->logs_handled > 0)
    norms->minutes_per_log = 60 / pace->logs_handled;
  if (pace->wax_g_100_holes > 0)
    norms->wax_g_per_hole = pace->wax_g_100_holes / 100;
  if (pace->wax_g_ends > 0)
    norms->wax_g_per_cm2 = pace->wax_g_ends / ends_cm2;
}

gboolean
bed_drill_needs (const BedDrill *drill, int holes, const BedDrillWork *work,
                 const BedDrillNorms *norms, BedDrillNeeds *needs, GError **error)
{
  g_return_val_if_fail (drill && work && norms && needs, FALSE);
  if (!bed_argument_between ("holes", holes, 0, 20000, error)
      || !bed_argument_between ("large diameter (mm)", drill->large_diameter, 10, 2000, error)
      || !bed_argument_between ("small diameter (mm)", drill->small_diameter, 10, 2000, error)
      || !check_hole (drill, norms, work->form, error) || !check_norms (norms, work, error))
    return FALSE;
  double ends_cm2 = G_PI / 400
                    * (drill->large_diameter * drill->large_diameter
                       + drill->small_diameter * drill->small_diameter);
  gboolean ends = work->seal == BED_SEAL_HOLES_AND_ENDS;

  *needs = (BedDrillNeeds){
    .holes = holes,
    .pieces = is_loose (work->form) ? 0 : holes,
    .spawn_ml = holes * hole_ml (drill),
    .wax_g = holes * norms->wax_g_per_hole + (ends ? ends_cm2 * norms->wax_g_per_cm2 : 0),
    .handle_minutes = norms->minutes_per_log,
    .drill_minutes = holes * norms->drill_minutes[work->tool],
    .fill_minutes = holes * norms->fill_minutes[work->form],
    .wax_minutes = holes * norms->wax_minutes_per_hole
                   + (ends ? 2 * norms->wax_minutes_per_end : 0),
  };
  needs->spawn_g = holes * hole_g (drill, norms, work->form);
  needs->spawn_low_g = needs->spawn_g * (1 - norms->spawn_spread);
  needs->spawn_high_g = needs->spawn_g * (1 + norms->spawn_spread);
  needs->minutes = needs->handle_minutes + needs->drill_minutes + needs->fill_minutes
                   + needs->wax_minutes;
  return TRUE;
}

gboolean
bed_drill_holes_for_spawn (const BedDrill *drill, BedSpawnForm form, double spawn_g,
                           const BedDrillNorms *norms, int *holes, GError **error)
{
  g_return_val_if_fail (drill && norms && holes, FALSE);
  if (!bed_argument_between ("spawn", spawn_g, 0, 1e6, error)
      || !check_hole (drill, norms, form, error))
    return FALSE;
  double count = spawn_g / hole_g (drill, norms, form);
  *holes = (int) MIN (floor (count + 1e-9), G_MAXINT);
  return TRUE;
}
