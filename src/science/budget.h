#pragma once

#include <glib.h>

/* What the crop cost and what it must bring.
 *
 * Conventions of the enterprise budget: R. Van Tassell and others, Cornhusker
 * Economics (University of Nebraska, 2020); A. Smith, University of Georgia, on
 * enterprise budgets; Michigan State University E-3410 (2020). A bottom line is
 * named after what was not charged. */

/* Where money in and out are level. Amounts in any one currency, quantities in
 * any one unit (kg): the prices come out per that unit. */
typedef struct
{
  double price_variable;    /* price that pays the variable costs of the quantity */
  double price_total;       /* price that pays all costs */
  double quantity_variable; /* quantity that pays the variable costs at the price */
  double quantity_total;    /* quantity that pays all costs */
  double cushion;           /* quantity - quantity_total: may be negative */
  double cushion_share;     /* cushion / quantity */
} BedBreakEven;

/* @fixed and @variable are whole costs (not per unit), @price per unit of
 * @quantity. Costs >= 0, price and quantity > 0. */
gboolean bed_break_even (double fixed, double variable, double price, double quantity,
                         BedBreakEven *result, GError **error);

/* One year of one enterprise; money in any one currency, all >= 0. */
typedef struct
{
  double quantity_kg; /* marketable */
  double price_per_kg;
  double other_returns; /* by-products: spent logs as firewood */
  double materials;
  double labour; /* hours, the family's too, at their rate */
  double depreciation;
  double interest; /* on the capital in the equipment */
  double overhead;
} BedBudgetLines;

typedef struct
{
  double gross;
  double variable; /* materials and labour */
  double fixed;    /* depreciation, interest, overhead */
  double return_over_variable;
  double return_to_management;            /* all but management was charged */
  double return_to_labour_and_management; /* the hours given back */
  BedBreakEven break_even; /* costs less other returns, which the crop need not earn */
} BedBudget;

/* Error when a line is negative or nothing is sold at any price (the break-even
 * would divide by zero); other returns above the costs bring a break-even of 0. */
gboolean bed_budget (const BedBudgetLines *lines, BedBudget *budget, GError **error);

/* One outlay of a batch, its own or its share (bed_apportion()) of a common one. */
typedef struct
{
  guint year;    /* of the batch's life, 0 = the year of inoculation */
  gint64 amount; /* minor units; negative for money back */
} BedBatchPurchase;

typedef struct
{
  guint year;
  gint64 minutes; /* >= 0 */
  gint64 rate;    /* minor units an hour, >= 0 */
} BedBatchWork;

typedef struct
{
  const BedBatchPurchase *purchases;
  gsize n_purchases;
  const BedBatchWork *work;
  gsize n_work;
  guint years;          /* length of life charged, 1 to 50, the year of inoculation included */
  guint logs;           /* inoculated; 0 when not known */
  double marketable_kg; /* sold or for sale, over the life so far; 0 when none */
} BedBatchLife;

/* Minor units. total = materials + labour. */
typedef struct
{
  gint64 materials;
  gint64 labour;
  gint64 total;
} BedBatchCost;

typedef struct
{
  BedBatchCost *by_year; /* n_years of them */
  guint n_years;
  BedBatchCost whole; /* the exact sum of by_year */
  double per_log;     /* minor units; -1 when no logs are known */
  double per_kg;      /* minor units; -1 when nothing was sold: also the break-even price */
} BedBatchCosts;

/* Adds up what a batch cost, year by year of its life. Hours are rounded to the
 * nearest minor unit line by line, halves away from zero, as on a wage slip. Error
 * when a line's year is outside the life, or an amount is impossible or too large for
 * 63 bits. What the year of inoculation cost is earned back over the bearing years:
 * bed_capital_recovery() spreads it.
 *
 * Returns: (transfer full) free with bed_batch_costs_free(). */
BedBatchCosts *bed_batch_costs_new (const BedBatchLife *life, GError **error);
void bed_batch_costs_free (BedBatchCosts *costs);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedBatchCosts, bed_batch_costs_free)
