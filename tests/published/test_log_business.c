/* What has been published of farms that grow on logs, added up again. All figures
 * seen.
 *
 * Final report of project ONE14-214, Sustainable Agriculture Research and
 * Education, 2014: bolts, prices and income of 51 farms.
 * Report 2012 of project LNE10-298: target of 100 logs a farm.
 * Cornell Small Farms, Outdoor Production: a yard of 1000 logs from year four.
 * Ministry of Agriculture, Forestry and Fisheries, Japan: survey of farms in the
 * years 2006 and 2008, thousand yen a farm, as reported by a farming paper on 13
 * February 2008 and 29 December 2009. */
#include "science/budget.h"

static BedBudget
budget_of (double quantity, double price, double costs)
{
  BedBudgetLines lines = { .quantity_kg = quantity, .price_per_kg = price, .materials = costs };
  BedBudget budget;

  g_assert_true (bed_budget (&lines, &budget, NULL));
  return budget;
}

/* Pounds here, where the names say kg: only the unit of the price differs. */
static void
test_income (void)
{
  g_assert_cmpfloat_with_epsilon (budget_of (17968, 16, 0).gross, 287488, 1e-6);
  g_assert_cmpfloat_with_epsilon (budget_of (17968, 16, 0).gross / 51, 5637, 0.5);
  g_assert_cmpfloat_with_epsilon (budget_of (59575, 16, 0).gross, 953200, 1e-6);
  g_assert_cmpfloat_with_epsilon (budget_of (59575, 11, 0).gross, 655325, 1e-6);
  g_assert_cmpfloat_with_epsilon (budget_of (100, 12, 0).gross, 1200, 1e-6);
}

/* 1,040 lb and 12,480 USD a year are 12.00 USD a lb; set against the 4,740 USD it
 * took to establish the yard, 395 lb pay for it (own). */
static void
test_yard (void)
{
  BedBudget yard = budget_of (1040, 12, 4740);

  g_assert_cmpfloat_with_epsilon (yard.gross, 12480, 1e-6);
  g_assert_cmpfloat_with_epsilon (yard.break_even.quantity_total, 395, 1e-9);
}

static void
test_japan (void)
{
  const struct
  {
    double revenue, costs, income, percent;
  } farms[] = {
    { 2958, 2545, 413, 14.0 }, { 1407, 1318, 89, 6.3 }, { 9190, 6974, 2216, 24.1 },
    { 2786, 2518, 268, -1 },   { 1693, 1425, 268, -1 }, { 9306, 7187, 2119, -1 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (farms); i++)
    {
      BedBudget budget = budget_of (1, farms[i].revenue, farms[i].costs);
      g_assert_cmpfloat_with_epsilon (budget.return_to_management, farms[i].income, 1e-9);
      if (farms[i].percent > 0)
        g_assert_cmpfloat_with_epsilon (100 * budget.break_even.cushion_share, farms[i].percent,
                                        0.05);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/log-business/income", test_income);
  g_test_add_func ("/log-business/yard", test_yard);
  g_test_add_func ("/log-business/japan", test_japan);
  return g_test_run ();
}
