#pragma once

#include <glib.h>

/* Money over years: depreciation, capital recovery, present value, rate of
 * return, payback.
 *
 * Money is in any one unit, rates are fractions for one year (0.05 is 5 %),
 * flows are one a year with the first one now, in being positive.
 *
 * Sources: W. Edwards, Estimating Farm Machinery Costs, Iowa State University
 * Ag Decision Maker A3-29 (capital recovery with a salvage value; the wording of
 * the inputs seen, the formula from memory); the present value and rate of
 * return are the textbook definitions, checked in tests/published. */

/* What a thing loses in one year by the straight line: (cost - salvage) / years.
 * Needs cost >= salvage >= 0 and years > 0. */
gboolean bed_straight_line (double cost, double salvage, double years, double *yearly,
                            GError **error);

/* The level yearly payment that repays @cost less what @salvage is worth, with
 * interest at @rate: CRF (cost - salvage) + rate salvage, where
 * CRF = i (1 + i)^n / ((1 + i)^n - 1), and 1/n at a rate of zero.
 * Needs cost >= salvage >= 0, rate from 0 to 10, years > 0. */
gboolean bed_capital_recovery (double cost, double salvage, double rate, double years,
                               double *yearly, GError **error);

/* The present value of @flows, the first one now and therefore not discounted.
 * (A spreadsheet's NPV discounts its first flow by a year.) Needs at least one
 * flow, -0.99 <= rate <= 10; error NO_ANSWER when the result is beyond a double. */
gboolean bed_present_value (const double *flows, gsize n_flows, double rate, double *value,
                            GError **error);

/* Every rate above -1 at which the present value of @flows is zero, smallest
 * first: none, one, or several, for flows that change sign more than once may
 * have several, and then no single one of them is "the" return.
 *
 * Returns: (transfer full) an array of double; NULL with @error when there are
 * no flows, more than 200, all zero, or one is not a number. */
GArray *bed_return_rates (const double *flows, gsize n_flows, GError **error);

/* When the running sum of @flows first reaches zero, in years from the first
 * flow, linear inside the year. @years is -1 when it never does, and 0 when
 * the first flow is not an outlay. */
gboolean bed_payback (const double *flows, gsize n_flows, double *years, GError **error);
