/* The inverse of a drilling plan: the spacing for a number of holes, or for a distance. */
#include "science/drill.h"

#include <math.h>

#include "science/argument.h"

#define MOST_HOLES 2000
#define LEAST_PITCH 25.0 /* mm; closer rows are no longer drilled row by row */
#define RUNAWAY                                                                                    \
  2 /* times the holes for one millimetre: no longer the pattern's doing; our choice */
#define GOLDEN_STEPS 22 /* 0.618^22: the spacing to a few thousandths of a millimetre */

/* A pattern looked at, and how it does. */
typedef struct
{
  BedDrill drill;
  double distance;
  guint holes;
} Fit;

/* @halves: how many half spacings lie between the margins. Even, and the first rows reach both
 * margins while the shifted ones reach neither; odd, and each row reaches one of them. */
typedef struct
{
  const BedDrill *drill;
  int rows, halves;
} Pattern;

static double
along_of (const Pattern *pattern, int halves)
{
  return 2 * (pattern->drill->length - 2 * pattern->drill->margin) / halves;
}

/* FALSE when a plan cannot be that. */
static gboolean
look_at (const Pattern *pattern, double along, Fit *fit)
{
  BedDrill drill = *pattern->drill;

  drill.along = along;
  drill.between = G_PI * (drill.large_diameter + drill.small_diameter) / 2 / pattern->rows;
  g_autoptr (BedDrillPlan) plan = bed_drill_plan_new (&drill, NULL);
  if (plan == NULL)
    return FALSE;
  *fit = (Fit){ drill, plan->farthest.distance, plan->holes->len };
  return TRUE;
}

/* Keeps the better of @best and the pattern at @along; how far its farthest point is, or
 * infinity when it takes other than @holes holes. */
static double
try_along (const Pattern *pattern, double along, guint holes, Fit *best)
{
  Fit fit;

  if (!look_at (pattern, along, &fit) || fit.holes != holes)
    return INFINITY;
  if (fit.distance < best->distance)
    *best = fit;
  return fit.distance;
}

/* Holes drawn a little closer than from margin to margin bring the inside nearer and the far end
 * farther. The farther of the two has one lowest point, and golden section finds it, among
 * spacings that take as many holes. A helix changes its holes row by row: it is left as it is. */
static gboolean
look_for_best (const Pattern *pattern, Fit *best)
{
  const double golden = (sqrt (5) - 1) / 2;
  double low = along_of (pattern, pattern->halves + 1), high = along_of (pattern, pattern->halves);

  if (!look_at (pattern, high, best))
    return FALSE;
  guint holes = best->holes;
  double distance = best->distance;
  /* Where the ends are the farther ones already, closer holes make it worse at once. */
  if (pattern->drill->closing == BED_CLOSING_HELIX
      || try_along (pattern, high - (high - low) / 1000, holes, best) >= distance)
    return TRUE;
  double left = high - golden * (high - low), right = low + golden * (high - low);
  double at_left = try_along (pattern, left, holes, best);
  double at_right = try_along (pattern, right, holes, best);
  for (int i = 0; i < GOLDEN_STEPS; i++)
    if (at_left < at_right)
      {
        high = right, right = left, at_right = at_left;
        left = high - golden * (high - low);
        at_left = try_along (pattern, left, holes, best);
      }
    else
      {
        low = left, left = right, at_left = at_right;
        right = low + golden * (high - low);
        at_right = try_along (pattern, right, holes, best);
      }
  return TRUE;
}

/* The rim between a row that starts at the margin and one that starts half a spacing
 * later: the point as far from both, or beside the later one. */
static double
rim (const BedDrill *drill, double pitch, double along)
{
  double m = drill->margin, later = m + along / 2;

  return hypot (m, MIN ((later * later - m * m + pitch * pitch) / (2 * pitch), pitch));
}

/* What the endless pattern would leave inside, and the rim between two rows: no spacing
 * with as many holes, all closer than from margin to margin, leaves less. */
static double
bound (const Pattern *pattern)
{
  const BedDrill *drill = pattern->drill;
  gboolean helix = drill->closing == BED_CLOSING_HELIX;
  double pitch = G_PI * drill->large_diameter / pattern->rows, least = INFINITY;
  double along = along_of (pattern, helix ? pattern->halves : pattern->halves + 1);

  if (!helix && pattern->rows > 1)
    return MAX (bed_drill_covering (pitch, along, along / 2), rim (drill, pitch, along));
  for (int k = 0; k <= pattern->rows / 2; k++)
    least = MIN (least, bed_drill_covering (pitch, along, along * k / pattern->rows));
  return MAX (least, hypot (drill->margin, pitch / 2));
}

/* Holes it takes; of a helix about as many. */
static int
count (const Pattern *pattern)
{
  int first = pattern->halves / 2 + 1, shifted = (pattern->halves - 1) / 2 + 1;

  return (pattern->rows + 1) / 2 * first + pattern->rows / 2 * shifted;
}

/* One row has none to be shifted against; a helix starts each row somewhere else. */
static gboolean
is_worth_it (const Pattern *pattern)
{
  gboolean odd = pattern->halves % 2 == 1;

  return !odd || (pattern->rows > 1 && pattern->drill->closing != BED_CLOSING_HELIX);
}

static int
most_rows (const BedDrill *drill)
{
  return (int) (G_PI * (drill->large_diameter + drill->small_diameter) / 2 / LEAST_PITCH);
}

static gboolean
check (const BedDrill *drill, GError **error)
{
  g_autoptr (BedDrillPlan) plan = NULL;
  BedDrill copy = *drill;

  copy.along = copy.between = 100;
  plan = bed_drill_plan_new (&copy, error);
  if (plan == NULL)
    return FALSE;
  return bed_argument_between ("margin (mm)", drill->margin, 0, drill->length / 2 - 5, error);
}

static void
take_nearer (const Pattern *pattern, guint most, Fit *best)
{
  Fit fit;

  if (look_for_best (pattern, &fit) && fit.holes <= most && fit.distance < best->distance)
    *best = fit;
}

/* TRUE when it covers the log: with more holes it would too. */
static gboolean
take_fewer (const Pattern *pattern, double covering, Fit *best)
{
  Fit fit;

  if (bound (pattern) > covering || !look_for_best (pattern, &fit) || fit.distance > covering)
    return FALSE;
  if (fit.holes < best->holes || (fit.holes == best->holes && fit.distance < best->distance))
    *best = fit;
  return TRUE;
}

/* The fewest holes that leave no point farther than @covering; more than MOST_HOLES: none do. */
static Fit
fewest (const BedDrill *drill, double covering)
{
  Fit best = { *drill, INFINITY, MOST_HOLES + 1 };
  int step = drill->closing == BED_CLOSING_EVEN ? 2 : 1;

  for (int rows = step; rows <= most_rows (drill) && drill->margin < covering; rows += step)
    for (Pattern p = { drill, rows, 2 }; count (&p) <= (int) best.holes; p.halves++)
      if (is_worth_it (&p) && take_fewer (&p, covering, &best))
        break;
  return best;
}

/* The first whole millimetre after @low that at most MOST_HOLES reach. */
static double
first_reached (const BedDrill *drill, double low)
{
  double high = 2000;

  while (high - low > 1)
    {
      double middle = floor ((low + high) / 2);
      if (fewest (drill, middle).holes <= MOST_HOLES)
        high = middle;
      else
        low = middle;
    }
  return high;
}

/* A millimetre that asks for so many more holes is won from the ends, where the margin is: says
 * from which distance on the pattern helps. */
static gboolean
refuse_runaway (const BedDrill *drill, double covering, guint holes, GError **error)
{
  double from = holes > MOST_HOLES ? first_reached (drill, covering) : covering + 1;
  Fit fit = fewest (drill, from), next = fewest (drill, from + 1);

  for (; fit.holes > RUNAWAY * next.holes; fit = next, next = fewest (drill, from + 1))
    from++;
  if (holes > MOST_HOLES)
    return bed_science_refuse (
        error, BED_SCIENCE_ERROR_NO_ANSWER,
        "covering: no %d holes in rows at least 25 mm apart bring all of the log within %.0f mm, "
        "%u do within %.0f mm; below that only a smaller margin than %.0f mm helps",
        MOST_HOLES, covering, fit.holes, from, drill->margin);
  return bed_science_refuse (
      error, BED_SCIENCE_ERROR_NO_ANSWER,
      "covering: %.0f mm would take %u holes where %.0f mm takes %u; below that only a smaller "
      "margin than %.0f mm helps",
      covering, holes, from, fit.holes, drill->margin);
}

/* Public */

gboolean
bed_drill_fit_holes (BedDrill *drill, int holes, GError **error)
{
  g_return_val_if_fail (drill != NULL, FALSE);
  if (!bed_argument_between ("holes", holes, 2, MOST_HOLES, error) || !check (drill, error))
    return FALSE;
  Fit best = { *drill, INFINITY, 0 };
  int step = drill->closing == BED_CLOSING_EVEN ? 2 : 1;

  for (int rows = step; rows <= MIN (holes, most_rows (drill)); rows += step)
    for (Pattern p = { drill, rows, 2 * (holes / rows) + 2 }; p.halves >= 2; p.halves--)
      {
        if (!is_worth_it (&p) || (drill->closing != BED_CLOSING_HELIX && count (&p) > holes))
          continue;
        if (bound (&p) >= best.distance)
          break;
        take_nearer (&p, (guint) holes, &best);
      }
  if (best.holes == 0)
    return bed_science_refuse (
        error, BED_SCIENCE_ERROR_NO_ANSWER,
        "holes: %d cannot be spread over this log; take more holes or a wider margin", holes);
  *drill = best.drill;
  return TRUE;
}

gboolean
bed_drill_fit_covering (BedDrill *drill, double covering, GError **error)
{
  g_return_val_if_fail (drill != NULL, FALSE);
  if (!bed_argument_between ("covering (mm)", covering, 5, 2000, error) || !check (drill, error))
    return FALSE;
  Fit best = fewest (drill, covering);

  if (best.holes > MOST_HOLES || best.holes > RUNAWAY * fewest (drill, covering + 1).holes)
    return refuse_runaway (drill, covering, best.holes, error);
  *drill = best.drill;
  return TRUE;
}
