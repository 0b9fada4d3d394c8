#pragma once

#include "science/statistics.h"

/* How long logs last.
 *
 * Product-limit estimate: E. L. Kaplan, P. Meier, "Nonparametric estimation from
 * incomplete observations", J. Am. Stat. Assoc. 53:457-481, 1958; its standard
 * error: M. Greenwood, The Natural Duration of Cancer, 1926. The interval is the
 * exact one of Clopper and Pearson (Biometrika 26:404-413, 1934) for the number
 * of logs that would have the same variance without logs lost from sight: F. J.
 * Dorey, E. L. Korn, Statistics in Medicine 6:679-687, 1987 (all from memory).
 * It stays inside 0 to 1 and is honest before the first and after the last loss. */

typedef struct
{
  double age;       /* when retired, or to now; any one unit (years), >= 0 */
  gboolean retired; /* spent, rotted or overrun; FALSE when alive, sold or lost from sight */
} BedLogLife;

/* The curve from @age to the next step. */
typedef struct
{
  double age;
  guint at_risk; /* known to be alive just before @age */
  guint retired; /* at @age */
  double standard_error;
  BedInterval survival; /* share of logs alive past @age */
} BedSurvivalStep;

/* The steps at which logs were retired, in order of age; none when none were.
 * Of logs of one age those still alive count as at risk at it.
 *
 * Returns: (transfer full) an array of BedSurvivalStep; NULL with @error when an
 * age is negative or not a number, or @level is not a level. */
GArray *bed_survival_curve (const BedLogLife *lives, gsize n_lives, double level, GError **error);

/* The share alive past @age, 1 before the first step. Past the oldest log seen
 * the curve is only its last step. */
double bed_survival_at (const GArray *curve, double age);

/* The share of logs alive at @age that will be alive at @later >= @age; 0 when
 * none was ever seen to reach @age. */
double bed_survival_ratio (const GArray *curve, double age, double later);
