#include "science/budget.h"

#include "science/argument.h"

#include <math.h>

#define MOST_MONEY 1e15
#define MOST_YEARS 50u

/* Amounts of one line stay under 2^53, so that a share of one is exact enough
 * and a life of lines cannot overflow unnoticed. */
#define MOST_MINOR (G_GINT64_CONSTANT (1) << 53)

static gboolean
refuse (GError **error, const char *message)
{
  return bed_science_refuse (error, BED_SCIENCE_ERROR_ARGUMENT, "%s", message);
}

static gboolean
check_money (const char *name, double value, GError **error)
{
  return bed_argument_between (name, value, 0, MOST_MONEY, error);
}

static gboolean
add_to (gint64 *sum, gint64 amount, GError **error)
{
  if (__builtin_add_overflow (*sum, amount, sum))
    return refuse (error, "amount: the costs add up to more than can be kept");
  return TRUE;
}

static gboolean
add_purchases (BedBatchCosts *costs, const BedBatchLife *life, GError **error)
{
  for (gsize i = 0; i < life->n_purchases; i++)
    {
      const BedBatchPurchase *purchase = &life->purchases[i];
      if (purchase->year >= life->years)
        return refuse (error, "purchases: a year lies outside the life of the batch");
      if (purchase->amount > MOST_MINOR || purchase->amount < -MOST_MINOR)
        return refuse (error, "purchases: an amount is too large");
      if (!add_to (&costs->by_year[purchase->year].materials, purchase->amount, error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
add_work (BedBatchCosts *costs, const BedBatchLife *life, GError **error)
{
  for (gsize i = 0; i < life->n_work; i++)
    {
      const BedBatchWork *work = &life->work[i];
      gint64 pay;
      if (work->year >= life->years)
        return refuse (error, "work: a year lies outside the life of the batch");
      if (work->minutes < 0)
        return refuse (error, "work: minutes below zero");
      if (work->rate < 0)
        return refuse (error, "work: a rate below zero");
      if (__builtin_mul_overflow (work->minutes, work->rate, &pay) || pay > G_MAXINT64 - 30)
        return refuse (error, "work: minutes times rate is too large");
      if (!add_to (&costs->by_year[work->year].labour, (pay + 30) / 60, error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
add_totals (BedBatchCosts *costs, GError **error)
{
  for (guint year = 0; year < costs->n_years; year++)
    {
      BedBatchCost *cost = &costs->by_year[year];
      if (!add_to (&cost->total, cost->materials, error)
          || !add_to (&cost->total, cost->labour, error)
          || !add_to (&costs->whole.materials, cost->materials, error)
          || !add_to (&costs->whole.labour, cost->labour, error)
          || !add_to (&costs->whole.total, cost->total, error))
        return FALSE;
    }
  return TRUE;
}

gboolean
bed_break_even (double fixed, double variable, double price, double quantity, BedBreakEven *result,
                GError **error)
{
  g_return_val_if_fail (result != NULL, FALSE);
  if (!check_money ("fixed", fixed, error) || !check_money ("variable", variable, error)
      || !bed_argument_positive ("price", price, error)
      || !bed_argument_between ("price", price, 1e-9, MOST_MONEY, error)
      || !bed_argument_positive ("quantity", quantity, error)
      || !bed_argument_between ("quantity", quantity, 1e-9, MOST_MONEY, error))
    return FALSE;
  double total = fixed + variable;
  *result = (BedBreakEven){
    .price_variable = variable / quantity,
    .price_total = total / quantity,
    .quantity_variable = variable / price,
    .quantity_total = total / price,
    .cushion = quantity - total / price,
    .cushion_share = 1 - total / price / quantity,
  };
  return TRUE;
}

gboolean
bed_budget (const BedBudgetLines *lines, BedBudget *budget, GError **error)
{
  g_return_val_if_fail (lines != NULL && budget != NULL, FALSE);
  if (!check_money ("other_returns", lines->other_returns, error)
      || !check_money ("materials", lines->materials, error)
      || !check_money ("labour", lines->labour, error)
      || !check_money ("depreciation", lines->depreciation, error)
      || !check_money ("interest", lines->interest, error)
      || !check_money ("overhead", lines->overhead, error))
    return FALSE;
  BedBudget sums = {
    .gross = lines->quantity_kg * lines->price_per_kg + lines->other_returns,
    .variable = lines->materials + lines->labour,
    .fixed = lines->depreciation + lines->interest + lines->overhead,
  };
  /* Other returns pay the variable costs first, then the fixed ones. */
  double variable = MAX (0, sums.variable - lines->other_returns);
  double total = MAX (0, sums.variable + sums.fixed - lines->other_returns);
  if (!bed_break_even (total - variable, variable, lines->price_per_kg, lines->quantity_kg,
                       &sums.break_even, error))
    return FALSE;
  sums.return_over_variable = sums.gross - sums.variable;
  sums.return_to_management = sums.return_over_variable - sums.fixed;
  sums.return_to_labour_and_management = sums.return_to_management + lines->labour;
  *budget = sums;
  return TRUE;
}

BedBatchCosts *
bed_batch_costs_new (const BedBatchLife *life, GError **error)
{
  g_return_val_if_fail (life != NULL, NULL);
  if (!bed_argument_between ("years", life->years, 1, MOST_YEARS, error)
      || !bed_argument_between ("marketable_kg", life->marketable_kg, 0, MOST_MONEY, error))
    return NULL;
  g_autoptr (BedBatchCosts) costs = g_new0 (BedBatchCosts, 1);
  costs->n_years = life->years;
  costs->by_year = g_new0 (BedBatchCost, life->years);
  if (!add_purchases (costs, life, error) || !add_work (costs, life, error)
      || !add_totals (costs, error))
    return NULL;
  double total = (double) costs->whole.total;
  costs->per_log = life->logs > 0 ? total / life->logs : -1;
  costs->per_kg = life->marketable_kg > 0 ? total / life->marketable_kg : -1;
  return g_steal_pointer (&costs);
}

void
bed_batch_costs_free (BedBatchCosts *costs)
{
  if (costs == NULL)
    return;
  g_free (costs->by_year);
  g_free (costs);
}
