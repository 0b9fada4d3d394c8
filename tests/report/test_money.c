/* What a season's money does in the workbook: whose cost it is, and what a price is. */
#include "../ask.h"

#include "report_test.h"

#define CHECK REPORT_TESTS "/xlsx_check.py"
#define CENT 0.0001

/* Helpers */

/* In the cell of that name, or @row rows below it. */
static void
expect (Farm *farm, const char *name, int row, double value)
{
  char number[G_ASCII_DTOSTR_BUF_SIZE];
  g_autofree char *at = g_strdup_printf ("%d", row);
  g_autofree char *item
      = g_strdup_printf ("%s=%s/0.0001", name, g_ascii_dtostr (number, sizeof number, value));

  farm_run (PYTHON, CHECK, "column", farm->book, at, item, NULL);
}

/* In December, for the batch inoculated in March: 2 h at 18.00, and wood for 40.00. */
static void
work_in_winter (Farm *farm)
{
  scene_add (farm->farm, scene_record (farm->farm, BED_KIND_HOURS, "worked_on", "2025-12-10",
                                       "task", "hauling", "minutes", "2 h", "batch", "26A", NULL));
  scene_add (farm->farm, scene_record (farm->farm, BED_KIND_PURCHASE, "bought_on", "2025-12-11",
                                       "category", "logs", "what", "oak bolts", "amount", "40.00",
                                       "scope", "batch", "batch", "26A", NULL));
}

/* Tests */

/* What was done for a batch in the winter before is its cost in that season, not that of the
 * batches that were there, nor of nobody. */
static void
test_winter_before (void)
{
  g_autoptr (Farm) farm = farm_new ("metric");

  work_in_winter (farm);
  farm_write (farm, 2025);
  expect (farm, "Cost_uncharged", 0, 0);
  expect (farm, "Pool_labour", 0, 0);
  /* 24A, 25A and then 26A, which has no logs yet. */
  expect (farm, "Costs_work", 0, 0);
  expect (farm, "Costs_direct", 2, 40);
  expect (farm, "Costs_labour", 2, 36);
  expect (farm, "Costs_total", 2, 76);
  expect (farm, "Costs_new", 2, 0);
  expect (farm, "Spent_cost", 2, 76);
  expect (farm, "Life_made_of", 2, 40);
  expect (farm, "Life_made_by", 2, 36);
  expect (farm, "Life_cost", 2, 76);
  expect (farm, "Making_this_season", 2, 76);
  expect (farm, "Making_earlier", 2, 0);
}

/* A year later it is in what the batch has cost in all, on every sheet that says so. */
static void
test_winter_after (void)
{
  g_autoptr (Farm) farm = farm_new ("metric");
  double alone, own;

  work_in_winter (farm);
  alone = ask_one (farm->farm,
                   "SELECT c.bought + c.spawn + c.labour FROM batch_cost c JOIN batch b"
                   " ON b.id = c.batch WHERE b.code = '26A'",
                   0)
          / 100.0;
  own = alone - 76;
  farm_write (farm, 2026);
  expect (farm, "Spent_before", 2, 76);
  expect (farm, "Spent_cost", 2, alone);
  expect (farm, "Life_cost", 2, alone);
  expect (farm, "Making_earlier", 2, 76);
  expect (farm, "Making_this_season", 2, own);
  farm_write (farm, 2027);
  expect (farm, "Making_earlier", 2, alone);
  expect (farm, "Making_charge", 2, alone / 4);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/report/money/winter-before", test_winter_before);
  g_test_add_func ("/report/money/winter-after", test_winter_after);
  return g_test_run ();
}
