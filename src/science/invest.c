#include "science/invest.h"

#include "science/argument.h"

#include <float.h>
#include <math.h>

#define MOST_FLOWS 200
#define LEAST_RATE (-0.99)
#define MOST_RATE 10.0
#define MOST_YEARS 1000.0

static gboolean
check_flows (const double *flows, gsize n_flows, GError **error)
{
  if (n_flows == 0 || n_flows > MOST_FLOWS)
    return bed_science_refuse (error, BED_SCIENCE_ERROR_ARGUMENT,
                               "flows: there must be 1 to %d of them", MOST_FLOWS);
  for (gsize i = 0; i < n_flows; i++)
    if (!bed_argument_between ("flows", flows[i], -1e15, 1e15, error))
      return FALSE;
  return TRUE;
}

static gboolean
check_asset (double cost, double salvage, double years, GError **error)
{
  return bed_argument_between ("cost", cost, 0, 1e15, error)
         && bed_argument_between ("salvage", salvage, 0, cost, error)
         && bed_argument_positive ("years", years, error)
         && bed_argument_between ("years", years, 0, MOST_YEARS, error);
}

/* c[0] + c[1] x + ... , and how large rounding may make it where it is zero. */
static double
evaluate (const double *c, gsize n, double x, double *noise)
{
  double value = 0;
  double size = 0;

  for (gsize i = n; i-- > 0;)
    {
      value = value * x + c[i];
      size = size * fabs (x) + fabs (c[i]);
    }
  *noise = 4 * (double) n * DBL_EPSILON * size;
  return value;
}

/* The root between @low and @high, where the polynomial is monotonic and its
 * values differ in sign. */
static double
bisect (const double *c, gsize n, double low, double high)
{
  double noise;
  gboolean rising = evaluate (c, n, low, &noise) < 0;

  for (int i = 0; i < 200 && low < high; i++)
    {
      double middle = low + (high - low) / 2;
      if (middle <= low || middle >= high)
        break;
      if ((evaluate (c, n, middle, &noise) < 0) == rising)
        low = middle;
      else
        high = middle;
    }
  return low + (high - low) / 2;
}

static void
add_root (GArray *roots, double x)
{
  if (roots->len == 0 || x - g_array_index (roots, double, roots->len - 1) > 1e-9)
    g_array_append_val (roots, x);
}

/* The roots of a polynomial in (0, 1], smallest first. Between neighbouring
 * roots of its derivative it is monotonic, so each stretch holds one root at
 * most, found by bisection; a turning point on the axis is a double root, which
 * no change of sign would show. */
static GArray *
find_roots (const double *c, gsize n)
{
  GArray *roots = g_array_new (FALSE, FALSE, sizeof (double));

  if (n < 2)
    return roots;
  g_autofree double *derivative = g_new (double, n - 1);
  for (gsize i = 1; i < n; i++)
    derivative[i - 1] = c[i] * (double) i / (double) (n - 1);
  g_autoptr (GArray) turns = find_roots (derivative, n - 1);
  double end = 1;
  g_array_append_val (turns, end);

  double low = 0;
  double noise;
  double at_low = evaluate (c, n, low, &noise);
  for (guint i = 0; i < turns->len; i++)
    {
      double high = g_array_index (turns, double, i);
      double at_high = evaluate (c, n, high, &noise);
      if (fabs (at_high) <= noise)
        add_root (roots, high);
      else if (at_low != 0 && (at_low < 0) != (at_high < 0))
        add_root (roots, bisect (c, n, low, high));
      low = high;
      at_low = fabs (at_high) <= noise ? 0 : at_high;
    }
  return roots;
}

gboolean
bed_straight_line (double cost, double salvage, double years, double *yearly, GError **error)
{
  g_return_val_if_fail (yearly != NULL, FALSE);
  if (!check_asset (cost, salvage, years, error))
    return FALSE;
  *yearly = (cost - salvage) / years;
  return TRUE;
}

gboolean
bed_capital_recovery (double cost, double salvage, double rate, double years, double *yearly,
                      GError **error)
{
  g_return_val_if_fail (yearly != NULL, FALSE);
  if (!check_asset (cost, salvage, years, error)
      || !bed_argument_between ("rate", rate, 0, MOST_RATE, error))
    return FALSE;
  /* i / (1 - (1 + i)^-n) by expm1 and log1p, which keep their digits near zero. */
  double factor = rate > 0 ? rate / -expm1 (-years * log1p (rate)) : 1 / years;
  *yearly = factor * (cost - salvage) + rate * salvage;
  return TRUE;
}

gboolean
bed_present_value (const double *flows, gsize n_flows, double rate, double *value, GError **error)
{
  g_return_val_if_fail (value != NULL, FALSE);
  double sum = 0;

  if (!check_flows (flows, n_flows, error)
      || !bed_argument_between ("rate", rate, LEAST_RATE, MOST_RATE, error))
    return FALSE;
  for (gsize i = n_flows; i-- > 0;)
    sum = sum / (1 + rate) + flows[i];
  if (!isfinite (sum))
    return bed_science_refuse (error, BED_SCIENCE_ERROR_NO_ANSWER,
                               "rate: so near -1 that the value has no bound");
  *value = sum;
  return TRUE;
}

/* With x = 1/(1 + r) the present value is a polynomial in x. Its roots in (0, 1]
 * are the rates from zero up; those of the polynomial read backwards, in
 * y = 1 + r, are the rates below zero. Neither can overflow. */
GArray *
bed_return_rates (const double *flows, gsize n_flows, GError **error)
{
  if (!check_flows (flows, n_flows, error))
    return NULL;
  gsize first = 0;
  while (first < n_flows && flows[first] == 0)
    first++;
  if (first == n_flows)
    {
      g_set_error_literal (error, BED_SCIENCE_ERROR, BED_SCIENCE_ERROR_DATA,
                           "flows: all are zero, so every rate fits");
      return NULL;
    }
  gsize n = n_flows - first;
  while (flows[first + n - 1] == 0)
    n--;

  g_autofree double *backwards = g_new (double, n);
  for (gsize i = 0; i < n; i++)
    backwards[i] = flows[first + n - 1 - i];
  g_autoptr (GArray) below = find_roots (backwards, n);
  g_autoptr (GArray) above = find_roots (flows + first, n);
  GArray *rates = g_array_new (FALSE, FALSE, sizeof (double));
  for (guint i = 0; i < below->len; i++)
    if (g_array_index (below, double, i) < 1 - 1e-9)
      {
        double rate = g_array_index (below, double, i) - 1;
        g_array_append_val (rates, rate);
      }
  for (guint i = above->len; i-- > 0;)
    {
      double rate = 1 / g_array_index (above, double, i) - 1;
      g_array_append_val (rates, rate);
    }
  return rates;
}

gboolean
bed_payback (const double *flows, gsize n_flows, double *years, GError **error)
{
  g_return_val_if_fail (years != NULL, FALSE);
  if (!check_flows (flows, n_flows, error))
    return FALSE;
  double before = flows[0];
  *years = before >= 0 ? 0 : -1;
  for (gsize i = 1; i < n_flows && before < 0; i++)
    {
      double after = before + flows[i];
      if (after >= 0)
        *years = (double) i - 1 + -before / flows[i];
      before = after;
    }
  return TRUE;
}
