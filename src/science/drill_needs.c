#include "science/drill.h"

#include <math.h>

#include "science/argument.h"

#define FIT_MAX_HOLES 2000
#define FIT_LEAST_PITCH 25.0 /* mm; closer rows are no longer drilled row by row */

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

static gboolean
check_hole (const BedDrill *drill, const BedDrillNorms *norms, BedSpawnForm form, GError **error)
{
  return bed_argument_between ("hole diameter (mm)", drill->hole_diameter, 1, 100, error)
         && bed_argument_between ("hole depth (mm)", drill->hole_depth, 1, 200, error)
         && bed_argument_between ("spawn form", form, 0, BED_N_SPAWN_FORMS - 1, error)
         && bed_argument_between ("spawn g per ml", norms->spawn_g_per_ml[form], 0.01, 5, error);
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

/* The inverse */

typedef struct
{
  BedDrill best;
  double distance;
  guint holes;
} Fit;

/* @drill with @rows rows and @per_row holes in the first, from margin to margin. */
static gboolean
set_spacing (BedDrill *drill, int rows, int per_row)
{
  double mean = (drill->large_diameter + drill->small_diameter) / 2;

  drill->between = G_PI * mean / rows;
  drill->along = (drill->length - 2 * drill->margin) / (per_row - 1);
  return drill->along >= 5 && drill->along <= 2000 && drill->between >= 5 && drill->between <= 2000;
}

/* The rim between a row that starts at the margin and one that starts half a spacing
 * later: the point as far from both, or beside the later one. */
static double
rim (const BedDrill *drill, double pitch)
{
  double m = drill->margin, later = m + drill->along / 2;

  return hypot (m, MIN ((later * later - m * m + pitch * pitch) / (2 * pitch), pitch));
}

/* What the endless pattern would leave inside, and the rim between two rows: no real
 * pattern leaves less. */
static double
bound (const BedDrill *drill, int rows)
{
  double pitch = G_PI * drill->large_diameter / rows, least = INFINITY;

  if (drill->closing != BED_CLOSING_HELIX && rows > 1)
    return MAX (bed_drill_covering (pitch, drill->along, drill->along / 2), rim (drill, pitch));
  for (int k = 0; k <= rows / 2; k++)
    least = MIN (least, bed_drill_covering (pitch, drill->along, drill->along * k / rows));
  return MAX (least, hypot (drill->margin, pitch / 2));
}

static int
max_rows (const BedDrill *drill)
{
  return (int) (G_PI * (drill->large_diameter + drill->small_diameter) / 2
                / FIT_LEAST_PITCH);
}

static gboolean
check_fit (const BedDrill *drill, GError **error)
{
  g_autoptr (BedDrillPlan) plan = NULL;
  BedDrill copy = *drill;

  copy.along = copy.between = 100;
  plan = bed_drill_plan_new (&copy, error);
  if (plan == NULL)
    return FALSE;
  return bed_argument_between ("margin (mm)", drill->margin, 0, drill->length / 2 - 5, error);
}

/* Tries @rows by @per_row; TRUE when the log takes at most @most holes so. */
static gboolean
try_holes (const BedDrill *drill, int rows, int per_row, guint most, Fit *fit)
{
  BedDrill copy = *drill;

  if (!set_spacing (&copy, rows, per_row))
    return FALSE;
  if (bound (&copy, rows) >= fit->distance)
    return TRUE;
  g_autoptr (BedDrillPlan) plan = bed_drill_plan_new (&copy, NULL);
  if (plan == NULL || plan->holes->len > most)
    return FALSE;
  if (plan->farthest.distance < fit->distance)
    *fit = (Fit) { copy, plan->farthest.distance, plan->holes->len };
  return TRUE;
}

/* Tries @rows by @per_row; TRUE when nothing is farther than @covering. */
static gboolean
try_covering (const BedDrill *drill, int rows, int per_row, double covering, Fit *fit)
{
  BedDrill copy = *drill;

  if (!set_spacing (&copy, rows, per_row) || bound (&copy, rows) > covering)
    return FALSE;
  g_autoptr (BedDrillPlan) plan = bed_drill_plan_new (&copy, NULL);
  if (plan == NULL || plan->farthest.distance > covering)
    return FALSE;
  if (plan->holes->len < fit->holes
      || (plan->holes->len == fit->holes && plan->farthest.distance < fit->distance))
    *fit = (Fit) { copy, plan->farthest.distance, plan->holes->len };
  return TRUE;
}

/* Public */

void
bed_drill_norms_init (BedDrillNorms *norms)
{
  g_return_if_fail (norms != NULL);
  /* All of these: common practice, no published source. */
  *norms = (BedDrillNorms) {
    .spawn_g_per_ml = { [BED_SPAWN_SAWDUST] = 0.45, [BED_SPAWN_DOWEL] = 0.75,
                        [BED_SPAWN_THIMBLE] = 0.45, [BED_SPAWN_GRAIN] = 0.70 },
    .wax_g_per_hole = 0.6,
    .wax_g_per_cm2 = 0.06,
    .minutes_per_log = 1.5,
    .drill_minutes = { [BED_DRILL_HAND] = 0.15, [BED_DRILL_GRINDER] = 0.04 },
    .fill_minutes = { [BED_SPAWN_SAWDUST] = 0.07, [BED_SPAWN_DOWEL] = 0.08,
                      [BED_SPAWN_THIMBLE] = 0.05, [BED_SPAWN_GRAIN] = 0.10 },
    .wax_minutes_per_hole = 0.05,
    .wax_minutes_per_end = 0.5,
  };
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

  *needs = (BedDrillNeeds) {
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
  needs->spawn_g = needs->spawn_ml * norms->spawn_g_per_ml[work->form];
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
  double count = spawn_g / (hole_ml (drill) * norms->spawn_g_per_ml[form]);
  *holes = (int) MIN (floor (count + 1e-9), G_MAXINT);
  return TRUE;
}

gboolean
bed_drill_fit_holes (BedDrill *drill, int holes, GError **error)
{
  g_return_val_if_fail (drill != NULL, FALSE);
  if (!bed_argument_between ("holes", holes, 2, FIT_MAX_HOLES, error) || !check_fit (drill, error))
    return FALSE;
  Fit fit = { *drill, INFINITY, 0 };
  int step = drill->closing == BED_CLOSING_EVEN ? 2 : 1;

  for (int rows = step; rows <= MIN (holes, max_rows (drill)); rows += step)
    for (int per_row = holes / rows + 1; per_row >= 2; per_row--)
      if (try_holes (drill, rows, per_row, (guint) holes, &fit))
        break;
  if (fit.holes == 0)
    {
      g_set_error (error, BED_SCIENCE_ERROR, BED_SCIENCE_ERROR_NO_ANSWER,
                   "holes: %d cannot be spread over this log; take more holes or a wider margin",
                   holes);
      return FALSE;
    }
  *drill = fit.best;
  return TRUE;
}

gboolean
bed_drill_fit_covering (BedDrill *drill, double covering, GError **error)
{
  g_return_val_if_fail (drill != NULL, FALSE);
  if (!bed_argument_between ("covering (mm)", covering, 5, 2000, error)
      || !check_fit (drill, error))
    return FALSE;
  Fit fit = { *drill, INFINITY, FIT_MAX_HOLES + 1 };
  int step = drill->closing == BED_CLOSING_EVEN ? 2 : 1;

  for (int rows = step; rows <= max_rows (drill) && drill->margin < covering; rows += step)
    for (int per_row = 2; (per_row - 1) * rows <= (int) fit.holes; per_row++)
      if (try_covering (drill, rows, per_row, covering, &fit))
        break;
  if (fit.holes > FIT_MAX_HOLES)
    {
      g_set_error (error, BED_SCIENCE_ERROR, BED_SCIENCE_ERROR_NO_ANSWER,
                   "covering: no %d holes or fewer in rows at least 25 mm apart bring all of "
                   "the log within %.0f mm; the margin alone leaves %.0f mm at the ends",
                   FIT_MAX_HOLES, covering, drill->margin);
      return FALSE;
    }
  *drill = fit.best;
  return TRUE;
}
