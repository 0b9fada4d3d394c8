#include "science/drill.h"

#include <math.h>

#include "science/argument.h"
#include "science/drill_cover.h"

/* (1000 - 100) / 150 is 6 and not 5.999... */
#define GUARD 1e-9
#define MAX_HOLES 20000

/* The widest hole that leaves wood beside it: half the log's thin end, and no two holes of a row
 * in one. */
static double
widest (const BedDrill *drill)
{
  return MIN (drill->small_diameter / 2, drill->along);
}

static gboolean
check (const BedDrill *drill, GError **error)
{
  if (!bed_argument_between ("large diameter (mm)", drill->large_diameter, 10, 2000, error)
      || !bed_argument_between ("small diameter (mm)", drill->small_diameter, 10,
                                drill->large_diameter, error)
      || !bed_argument_between ("length (mm)", drill->length, 50, 20000, error)
      || !bed_argument_between ("along (mm)", drill->along, 5, 2000, error)
      || !bed_argument_between ("between (mm)", drill->between, 5, 2000, error)
      || !bed_argument_between ("margin (mm)", drill->margin, 0, drill->length / 2, error)
      || !bed_argument_between ("hole diameter (mm)", drill->hole_diameter, 0, widest (drill),
                                error)
      || !bed_argument_between ("hole depth (mm)", drill->hole_depth, 0, 200, error)
      || !bed_argument_between ("closing", drill->closing, 0, BED_CLOSING_HELIX, error))
    return FALSE;
  double holes = G_PI * drill->large_diameter * drill->length / (drill->along * drill->between);
  if (holes <= MAX_HOLES)
    return TRUE;
  return bed_science_refuse (error, BED_SCIENCE_ERROR_ARGUMENT,
                             "along: so close together a log would take more than %d holes",
                             MAX_HOLES);
}

static int
count_rows (const BedDrill *drill)
{
  double mean = (drill->large_diameter + drill->small_diameter) / 2;
  double wished = G_PI * mean / drill->between;

  if (drill->closing == BED_CLOSING_EVEN)
    return 2 * (int) MAX (1, round (wished / 2));
  return (int) MAX (1, round (wished));
}

/* The helical shift along * k / rows with the smallest covering radius. */
static double
best_helix (double pitch, double along, int rows)
{
  double best = 0, least = INFINITY;

  for (int k = 0; k <= rows / 2; k++)
    {
      double covering = bed_drill_covering (pitch, along, along * k / rows);
      if (covering < least - GUARD)
        {
          least = covering;
          best = along * k / rows;
        }
    }
  return best;
}

static double
phase_of (const BedDrillPlan *plan, BedClosing closing, int row)
{
  if (closing != BED_CLOSING_HELIX)
    return row % 2 ? plan->along / 2 : 0;
  double phase = fmod (row * plan->shift, plan->along);
  return phase > plan->along * (1 - GUARD) ? 0 : phase;
}

static void
place_rows (BedDrillPlan *plan, BedClosing closing)
{
  for (int row = 0; row < plan->rows; row++)
    {
      double phase = phase_of (plan, closing, row);
      double room = plan->length - 2 * plan->margin - phase;

      plan->start[row] = plan->margin + phase;
      plan->per_row[row] = room < -GUARD ? 0 : (int) floor (room / plan->along + GUARD) + 1;
      for (int i = 0; i < plan->per_row[row]; i++)
        {
          BedHole hole = { plan->start[row] + i * plan->along, row * plan->pitch, row, i };
          g_array_append_val (plan->holes, hole);
        }
    }
}

/* Public */

double
bed_drill_covering (double between, double along, double shift)
{
  g_return_val_if_fail (between > 0 && along > 0 && isfinite (shift), 0);
  double ux = along, uy = 0, vx = shift, vy = between;

  /* Lagrange's reduction: subtract the shorter from the longer while it helps. */
  for (;;)
    {
      if (hypot (vx, vy) < hypot (ux, uy))
        {
          double x = ux, y = uy;
          ux = vx;
          uy = vy;
          vx = x;
          vy = y;
        }
      double share = (ux * vx + uy * vy) / (ux * ux + uy * uy);
      double times = round (share);
      /* Exactly half either way is as short: without the guard it would swing for ever. */
      if (fabs (share) <= 0.5 + GUARD)
        break;
      vx -= times * ux;
      vy -= times * uy;
    }
  if (ux * vx + uy * vy < 0)
    {
      vx = -vx;
      vy = -vy;
    }
  return hypot (ux, uy) * hypot (vx, vy) * hypot (ux - vx, uy - vy)
         / (2 * fabs (ux * vy - uy * vx));
}

BedDrillPlan *
bed_drill_plan_new (const BedDrill *drill, GError **error)
{
  g_return_val_if_fail (drill != NULL, NULL);
  if (!check (drill, error))
    return NULL;
  g_autoptr (BedDrillPlan) plan = g_new0 (BedDrillPlan, 1);

  plan->rows = count_rows (drill);
  plan->per_row = g_new0 (int, plan->rows);
  plan->start = g_new0 (double, plan->rows);
  plan->holes = g_array_new (FALSE, FALSE, sizeof (BedHole));
  plan->along = drill->along;
  plan->margin = drill->margin;
  plan->length = drill->length;
  plan->pitch = G_PI * (drill->large_diameter + drill->small_diameter) / 2 / plan->rows;
  plan->pitch_large = G_PI * drill->large_diameter / plan->rows;
  plan->shift = drill->closing == BED_CLOSING_HELIX
                    ? best_helix (plan->pitch_large, drill->along, plan->rows)
                    : drill->along / 2;
  place_rows (plan, drill->closing);
  bed_drill_cover (plan, drill->closing);
  return g_steal_pointer (&plan);
}

void
bed_drill_plan_free (BedDrillPlan *plan)
{
  if (plan == NULL)
    return;
  g_free (plan->per_row);
  g_free (plan->start);
  g_clear_pointer (&plan->holes, g_array_unref);
  g_free (plan);
}
