#include "../ask.h"

#include "report_test.h"
#include <math.h>

#include "model/season/crop.h"
#include "model/season/season.h"
#include "science/apportion.h"
#include "science/budget.h"
#include "science/invest.h"
#include "science/survival.h"

/* Helpers */

/* By the views and tables, not by the workbook's own questions. */
static double
ask (Farm *farm, const char *sql)
{
  return ask_one (farm->farm, sql, 0);
}

static char *
wanted (const char *name, double value, double tolerance)
{
  char number[G_ASCII_DTOSTR_BUF_SIZE];
  char about[G_ASCII_DTOSTR_BUF_SIZE];

  g_ascii_dtostr (number, sizeof number, value);
  g_ascii_dtostr (about, sizeof about, tolerance);
  return g_strdup_printf ("%s=%s/%s", name, number, about);
}

static void
expect (Farm *farm, const char *name, double value, double tolerance)
{
  g_autofree char *item = wanted (name, value, tolerance);

  farm_check ("figures", farm->book, item, NULL);
}

#define IN_2026(day) " " day " BETWEEN '2026-01-01' AND '2026-12-31'"

#define CENT 0.0001 /* to the cent, and not by luck */
#define GRAM 0.0000005

static double
ask_money (Farm *farm, const char *sql)
{
  return ask (farm, sql) / 100.0;
}

static double
get_depreciation (void)
{
  double tub;

  /* Of the test farm's equipment only the tub is still in its years of life. */
  g_assert_true (bed_straight_line (1200, 200, 5, &tub, NULL));
  return tub * 0.8;
}

/* Tests */

static void
test_headline (void)
{
  g_autoptr (Farm) farm = farm_new ("metric");
  double picked = ask (farm, "SELECT sum (mass) FROM pick WHERE" IN_2026 ("picked_on")) / 1e6;
  double bought
      = ask_money (farm, "SELECT sum (cost) FROM purchase_paid WHERE" IN_2026 ("bought_on"));
  double labour = ask_money (farm, "SELECT sum (cost) FROM hours_paid WHERE" IN_2026 ("worked_on"));
  double spawn = ask_money (farm, "SELECT c.spawn FROM batch_cost c JOIN batch b"
                                  " ON b.id = c.batch WHERE b.code = '26A'");
  double income = ask_money (farm, "SELECT sum (price) FROM line n JOIN sale v ON v.id = n.sale"
                                   " WHERE" IN_2026 ("v.sold_on"));
  double cost = bought + labour + spawn + get_depreciation ();

  farm_write (farm, 2026);
  g_assert_cmpfloat_with_epsilon (picked, 3.657, 1e-9);
  expect (farm, "figure_picked", picked, GRAM);
  expect (farm, "figure_logs_in_season", 16, 0);
  expect (farm, "figure_picked_per_log", picked / 16, GRAM);
  expect (farm, "Bought", bought, CENT);
  expect (farm, "Work", labour, CENT);
  expect (farm, "Spawn", spawn, CENT);
  expect (farm, "figure_income", income, CENT);
  expect (farm, "figure_cost", cost, CENT);
  expect (farm, "figure_margin", income - cost, CENT);
  expect (farm, "figure_cost_per_log", cost / 16, CENT);
  expect (farm, "figure_cost_per_kg", cost / picked, CENT);
  expect (farm, "Cost_uncharged", 0, CENT);
}

/* The Season page counts with model/season, the workbook by itself: they must agree. */
static void
test_season_page (void)
{
  g_autoptr (Farm) farm = farm_new_demo ();
  /* The demo farm is kept in pounds: what was typed and what is stored, whole milligrams, are half
   * a milligram apart in each entry at most. */
  double picks = ask (farm, "SELECT count (*) FROM pick") * 0.5 / 453592.37;
  double lines = ask (farm, "SELECT count (*) FROM line") * 0.5 / 453592.37;

  for (int season = 2024; season <= 2026; season++)
    {
      BedSeason page;
      g_autoptr (GError) error = NULL;

      g_assert_true (bed_season_read (farm->farm, season, &page, &error));
      farm_write (farm, season);
      expect (farm, "figure_picked", page.picked / 453592.37, picks);
      expect (farm, "Mass_sold", page.sold / 453592.37, lines);
      expect (farm, "figure_logs_in_season", page.logs, 0);
      expect (farm, "figure_hours", page.minutes / 60.0, 1e-6);
      expect (farm, "figure_income", page.income / 100.0, CENT);
      expect (farm, "Bought", page.bought / 100.0, CENT);
      expect (farm, "Spawn", page.spawn / 100.0, CENT);
      expect (farm, "Work", page.labour / 100.0, CENT);
      expect (farm, "Equipment", page.equipment / 100.0, CENT);
      expect (farm, "figure_cost", page.cost / 100.0, CENT);
    }
}

/* Overhead over the logs of three batches, by science/apportion. */
static void
test_shared_costs (void)
{
  g_autoptr (Farm) farm = farm_new ("metric");
  const guint64 logs[] = { 7, 4, 5 };
  gint64 overhead[3], labour[3], equipment[3];
  gint64 pool = 10000 + 25001 - 2550;

  g_assert_true (bed_apportion (pool, logs, 3, overhead, NULL));
  g_assert_true (bed_apportion (2100, logs, 3, labour, NULL));
  g_assert_true (bed_apportion (16000, logs, 3, equipment, NULL));
  farm_write (farm, 2026);
  for (int i = 0; i < 3; i++)
    {
      g_autofree char *row = g_strdup_printf ("%d", i);
      g_autofree char *a = wanted ("Costs_overhead", overhead[i] / 100.0, CENT);
      g_autofree char *b = wanted ("Costs_work", labour[i] / 100.0, CENT);
      g_autofree char *c = wanted ("Costs_tools", equipment[i] / 100.0, CENT);

      farm_check ("column", farm->book, row, a, b, c, NULL);
    }
}

/* The budget's lines, by science/budget. */
static void
test_budget (void)
{
  g_autoptr (Farm) farm = farm_new ("metric");
  BedBudgetLines lines = {
    .quantity_kg = 2.4,
    .price_per_kg = (33.35 + 19.80) / 2.4,
    .other_returns = 9.00,
    .materials = 19.99 + 31.00 + 100.00 - 25.50 + 40.00,
    .overhead = 250.01,
    .depreciation = get_depreciation (),
  };
  BedBudget budget;

  /* Miles to market grow with the crop, for the whole farm or not. */
  scene_add (farm->farm, scene_record (farm->farm, BED_KIND_PURCHASE, "bought_on", "2026-05-20",
                                       "category", "transport", "what", "fuel", "amount", "40.00",
                                       "scope", "overhead", NULL));
  lines.materials += ask_money (farm, "SELECT c.spawn FROM batch_cost c JOIN batch b"
                                      " ON b.id = c.batch WHERE b.code = '26A'");
  lines.labour = ask_money (farm, "SELECT sum (cost) FROM hours_paid WHERE" IN_2026 ("worked_on"));
  g_assert_true (bed_budget (&lines, &budget, NULL));
  farm_write (farm, 2026);
  expect (farm, "Gross_returns", budget.gross, CENT);
  expect (farm, "Variable_costs", budget.variable, CENT);
  expect (farm, "Fixed_costs", budget.fixed, CENT);
  expect (farm, "Return_over_variable", budget.return_over_variable, CENT);
  expect (farm, "Return_to_management", budget.return_to_management, CENT);
  expect (farm, "Return_to_labour", budget.return_to_labour_and_management, CENT);
  expect (farm, "Return_by_log", budget.return_to_management / 16, CENT);
  expect (farm, "Level_variable", budget.break_even.quantity_variable, 1e-6);
  expect (farm, "Level_mass", budget.break_even.quantity_total, 1e-6);
}

/* A pick of 412 g becomes 5,412 g in the file: everything above it follows. */
static void
test_changed_cell (void)
{
  g_autoptr (Farm) farm = farm_new ("metric");
  g_autofree char *changed = g_strconcat (farm->folder, "/changed.xlsx", NULL);
  g_autofree char *again = g_strconcat (farm->folder, "/again.xlsx", NULL);
  g_autofree char *picked = wanted ("figure_picked", 8.657, GRAM);
  g_autofree char *per_log = wanted ("figure_picked_per_log", 8.657 / 16, GRAM);
  g_autofree char *per_mass = wanted ("figure_cost_per_kg", 660.50 / 8.657, CENT);
  g_autofree char *first = wanted ("Batches_mass", 6.42536363636, 1e-9);
  g_autofree char *own = wanted ("Logs_own", 5.412, GRAM);

  farm_write (farm, 2026);
  farm_check ("change", farm->book, changed, "Picks!G5", "5.412", NULL);
  farm_run (REPORT_TESTS "/recalculate.sh", changed, again, NULL);
  farm_check ("figures", again, picked, per_log, per_mass, NULL);
  farm_check ("column", again, "0", first, own, NULL);
}

static GArray *
read_values (Farm *farm, const char *name)
{
  g_auto (GStrv) words = g_strsplit (farm_check ("values", farm->book, name, NULL), " ", -1);
  GArray *values = g_array_new (FALSE, FALSE, sizeof (double));

  for (char **word = words; *word; word++)
    {
      double value = g_ascii_strtod (*word, NULL);

      g_array_append_val (values, value);
    }
  return values;
}

/* What the window shows, bed_crop_new() of the running season, stands in the workbook of the same
 * day. @unit: the farm's unit of mass, kg. */
static void
expect_crop (Farm *farm, double unit)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) alive = NULL;

  farm_write (farm, 2026);
  g_autoptr (BedCrop) crop = bed_crop_new (farm->farm, 2026, &error);
  g_assert_no_error (error);
  g_assert_cmpint (crop->coming[0].kg.known, ==, BED_KNOWN_INTERVAL);
  g_assert_cmpfloat (crop->coming[0].kg.low, <, crop->coming[0].kg.high);
  expect (farm, "Forecast", crop->coming[0].kg.estimate / unit, 1e-6);
  expect (farm, "Forecast_low", crop->coming[0].kg.low / unit, 1e-6);
  expect (farm, "Forecast_high", crop->coming[0].kg.high / unit, 1e-6);
  expect (farm, "First_yield", crop->log_kg[1] / unit, 1e-6);
  alive = read_values (farm, "Survival_alive");
  /* Without a loss the table is one empty row. */
  g_assert_cmpuint (alive->len, ==, MAX (crop->curve->len, 1));
  for (guint i = 0; i < crop->curve->len; i++)
    g_assert_cmpfloat_with_epsilon (
        g_array_index (alive, double, i),
        g_array_index (crop->curve, BedSurvivalStep, i).survival.estimate, 1e-9);
}

static void
test_forecast (void)
{
  g_autoptr (Farm) demo = farm_new_demo ();
  g_autoptr (Farm) one = farm_new ("metric");

  expect_crop (demo, 0.45359237);
  /* Its only season runs. */
  expect_crop (one, 1);
}

static double
sum_values (Farm *farm, const char *name)
{
  g_autoptr (GArray) values = read_values (farm, name);
  double sum = 0;

  for (guint i = 0; i < values->len; i++)
    sum += g_array_index (values, double, i);
  return sum;
}

/* What a batch without single logs gave is no log's: not in what a log gives at an age. */
static void
test_ages_are_of_logs (void)
{
  g_autoptr (Farm) farm = farm_new ("metric");

  farm_write (farm, 2026);
  double before = sum_values (farm, "History_mass"), logs = sum_values (farm, "History_logs");
  scene_add (farm->farm, scene_record (farm->farm, BED_KIND_BATCH, "code", "25Z", "inoculated_on",
                                       "2025-06-01", "method", "drilled", NULL));
  scene_add (farm->farm, scene_record (farm->farm, BED_KIND_PICK, "picked_on", "2026-06-01",
                                       "batch", "25Z", "grade", "A", "mass", "2 kg", NULL));
  farm_write (farm, 2026);
  g_assert_cmpfloat (before, >, 0);
  g_assert_cmpfloat_with_epsilon (sum_values (farm, "History_mass"), before, 1e-9);
  g_assert_cmpfloat_with_epsilon (sum_values (farm, "History_logs"), logs, 1e-9);
}

/* Each batch's years of life add up to what SQL says it cost alone. */
static void
test_batch_years (void)
{
  g_autoptr (Farm) farm = farm_new_demo ();
  g_autoptr (GArray) years = NULL;
  g_autoptr (GArray) whole = NULL;
  double cost = ask_money (farm, "SELECT sum (c.bought + c.spawn + c.labour) FROM batch_cost c");
  double sum = 0;

  farm_write (farm, 2026);
  years = read_values (farm, "Life_cost");
  whole = read_values (farm, "Spent_cost");
  g_assert_cmpuint (years->len, ==, whole->len);
  for (guint i = 0; i < years->len; i++)
    {
      g_assert_cmpfloat_with_epsilon (g_array_index (years, double, i),
                                      g_array_index (whole, double, i), CENT);
      sum += g_array_index (years, double, i);
    }
  g_assert_cmpfloat (sum, >, 0);
  g_assert_cmpfloat_with_epsilon (sum, cost, CENT);
}

/* The first of the seasons to come is the season the headline expects. */
static void
test_outlook (void)
{
  g_autoptr (Farm) farm = farm_new_demo ();
  g_autoptr (GArray) outlook = NULL;

  farm_write (farm, 2026);
  outlook = read_values (farm, "Outlook_expected");
  g_assert_cmpuint (outlook->len, ==, 3);
  g_assert_cmpfloat (g_array_index (outlook, double, 0), >, 0);
  expect (farm, "Forecast", g_array_index (outlook, double, 0), 1e-6);
}

static double
read_figure (Farm *farm, const char *name)
{
  g_autoptr (GArray) values = read_values (farm, name);

  return g_array_index (values, double, 0);
}

/* What to make next season, worked out by hand from the tables it says it comes from. */
static void
expect_plan (Farm *farm, int season)
{
  g_autoptr (GArray) yield = NULL;
  g_autoptr (GArray) alive = NULL;
  g_autoptr (GArray) lasted = NULL;
  g_autoptr (GArray) ages = NULL;
  g_autoptr (GArray) turned = NULL;
  double wanted, life = 0, yearly, late, missing;

  farm_write (farm, season);
  yield = read_values (farm, "Ages_yield");
  alive = read_values (farm, "Ages_alive");
  lasted = read_values (farm, "Survival_alive");
  ages = read_values (farm, "Survival_age");
  turned = read_values (farm, "Outlook_expected");
  wanted = read_figure (farm, "Wanted");
  for (guint age = 0; age < yield->len; age++)
    {
      double before = 1;

      /* A year without a loss has no row. */
      for (guint i = 0; i < ages->len && g_array_index (ages, double, i) < age; i++)
        before = g_array_index (lasted, double, i);
      g_assert_cmpfloat_with_epsilon (g_array_index (alive, double, age), before, 1e-9);
      life += before * g_array_index (yield, double, age);
    }
  missing = MAX (0, wanted - g_array_index (turned, double, 1));
  late = missing / read_figure (farm, "First_yield");
  yearly = wanted / life;
  g_assert_cmpfloat (wanted, >, 0);
  expect (farm, "Life_yield", life, 1e-6);
  expect (farm, "Missing_after", missing, 1e-6);
  expect (farm, "Logs_wanted", ceil (MAX (yearly, late) - 1e-5), 1e-6);
}

static void
test_plan (void)
{
  g_autoptr (Farm) enough = farm_new_demo ();
  g_autoptr (Farm) too_few = farm_new ("metric");
  g_autoptr (BedRecord) settings = bed_farm_load (enough->farm, BED_KIND_FARM, 1, NULL);

  /* Of a pound a week, through the half year that soaks go on, the farm has enough. */
  bed_record_set_int (settings, "weekly_demand", 453592);
  g_assert_true (bed_edit_put_one (enough->farm, settings, "Changed the farm", NULL));
  expect_plan (enough, 2024);
  g_assert_cmpfloat (read_figure (enough, "Missing_after"), ==, 0);
  expect_plan (too_few, 2026);
  g_assert_cmpfloat (read_figure (too_few, "Missing_after"), >, 0);
}

/* Each kind's level is the one the window shows, within its interval. */
static void
test_kinds (void)
{
  g_autoptr (Farm) farm = farm_new_demo ();
  g_autoptr (BedCrop) crop = bed_crop_new (farm->farm, 2026, NULL);
  g_autoptr (GArray) levels = NULL;
  g_autoptr (GArray) low = NULL;
  g_autoptr (GArray) high = NULL;
  double sheet = 0, page = 0;

  farm_write (farm, 2026);
  levels = read_values (farm, "Kinds_level");
  low = read_values (farm, "Kinds_level_low");
  high = read_values (farm, "Kinds_level_high");
  g_assert_cmpuint (crop->groups->len, >=, 2);
  for (guint i = 0; i < crop->groups->len; i++)
    page += ((BedCropGroup *) crop->groups->pdata[i])->kg.estimate / 0.45359237;
  for (guint i = 0; i < levels->len; i++)
    {
      /* A kind too young to give anything has none. */
      if (isnan (g_array_index (levels, double, i)))
        continue;
      g_assert_cmpfloat (g_array_index (low, double, i), <=, g_array_index (levels, double, i));
      g_assert_cmpfloat (g_array_index (high, double, i), >=, g_array_index (levels, double, i));
      sheet += g_array_index (levels, double, i);
    }
  g_assert_cmpfloat_with_epsilon (sheet, page, 1e-6);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/report/figures/headline", test_headline);
  g_test_add_func ("/report/figures/season-page", test_season_page);
  g_test_add_func ("/report/figures/shared-costs", test_shared_costs);
  g_test_add_func ("/report/figures/budget", test_budget);
  g_test_add_func ("/report/figures/forecast", test_forecast);
  g_test_add_func ("/report/figures/ages-are-of-logs", test_ages_are_of_logs);
  g_test_add_func ("/report/figures/batch-years", test_batch_years);
  g_test_add_func ("/report/figures/outlook", test_outlook);
  g_test_add_func ("/report/figures/plan", test_plan);
  g_test_add_func ("/report/figures/kinds", test_kinds);
  g_test_add_func ("/report/figures/changed-cell", test_changed_cell);
  return g_test_run ();
}
