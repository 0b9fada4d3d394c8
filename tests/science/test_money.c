#include "science/argument.h"
#include "science/budget.h"
#include "science/depreciation.h"
#include "science/invest.h"

#include <math.h>

static void
assert_refused (gboolean done, GError **error, const char *argument)
{
  g_assert_false (done);
  g_assert_nonnull (*error);
  g_assert_true ((*error)->domain == BED_SCIENCE_ERROR);
  if (!g_str_has_prefix ((*error)->message, argument))
    g_error ("\"%s\" does not begin with \"%s\"", (*error)->message, argument);
  g_clear_error (error);
}

static void
assert_rates (const double *flows, gsize n, const double *expected, guint n_expected)
{
  g_autoptr (GArray) rates = bed_return_rates (flows, n, NULL);

  g_assert_nonnull (rates);
  g_assert_cmpuint (rates->len, ==, n_expected);
  for (guint i = 0; i < n_expected; i++)
    g_assert_cmpfloat_with_epsilon (g_array_index (rates, double, i), expected[i], 1e-7);
}

#define FLOWS(...) (const double[]){ __VA_ARGS__ }, sizeof ((double[]){ __VA_ARGS__ }) / 8

static void
test_rates (void)
{
  assert_rates (FLOWS (-100, 110), FLOWS (0.10));
  assert_rates (FLOWS (-100, 100), FLOWS (0.0));
  assert_rates (FLOWS (-100, 50), FLOWS (-0.5));
  assert_rates (FLOWS (100, 200), NULL, 0);
  assert_rates (FLOWS (-100), NULL, 0);
  assert_rates (FLOWS (-100, 0, 0), NULL, 0);
  assert_rates (FLOWS (0, 0, -100, 110, 0), FLOWS (0.10));
  /* (x - 1.1)(x - 1.2), in x = 1 + r: two rates; and with no root at all. */
  assert_rates (FLOWS (-100, 230, -132), FLOWS (0.10, 0.20));
  assert_rates (FLOWS (-100, 200, -150), NULL, 0);
  /* (x - 1.25)^2: the value touches zero without crossing. */
  assert_rates (FLOWS (-16, 40, -25), FLOWS (0.25));
  assert_rates (FLOWS (16, -40, 25), FLOWS (0.25));
  /* (x - 0.7)^2 (x - 1.3)^2 */
  assert_rates (FLOWS (-1, 4, -5.82, 3.64, -0.8281), FLOWS (-0.3, 0.3));
  /* (x - 0.5)(x - 1)(x - 2): one below, one at and one above zero. */
  assert_rates (FLOWS (2, -7, 7, -2), FLOWS (-0.5, 0, 1));
}

/* A polynomial with known roots has them found, and the value is zero there. */
static void
test_rates_random (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (11);

  for (int run = 0; run < 2000; run++)
    {
      double flows[6] = { 1 };
      double roots[5];
      gsize n = (gsize) g_rand_int_range (rand, 1, 6);
      double root = 0.3;
      for (gsize i = 0; i < n; i++)
        {
          root += g_rand_double_range (rand, 0.05, 0.5);
          roots[i] = root - 1;
          for (gsize j = i + 1; j > 0; j--)
            flows[j] -= flows[j - 1] * root;
        }
      g_autoptr (GArray) rates = bed_return_rates (flows, n + 1, NULL);
      g_assert_cmpuint (rates->len, ==, n);
      for (gsize i = 0; i < n; i++)
        {
          double value;
          double rate = g_array_index (rates, double, i);
          g_assert_cmpfloat_with_epsilon (rate, roots[i], 1e-6);
          g_assert_true (bed_present_value (flows, n + 1, rate, &value, NULL));
          g_assert_cmpfloat_with_epsilon (value, 0, 1e-6);
        }
    }
}

static guint
count_between (const GArray *rates, double low, double high)
{
  guint count = 0;

  for (guint i = 0; i < rates->len; i++)
    count += g_array_index (rates, double, i) > low && g_array_index (rates, double, i) <= high;
  return count;
}

/* Against a scan: where the value changes sign between two rates there is an odd
 * number of roots, elsewhere an even one. */
static void
test_rates_scan (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (29);

  for (int run = 0; run < 300; run++)
    {
      double flows[25];
      gsize n = (gsize) g_rand_int_range (rand, 2, 26);
      double before, after;
      for (gsize i = 0; i < n; i++)
        flows[i] = g_rand_int_range (rand, -100, 101) + 0.5;
      g_autoptr (GArray) rates = bed_return_rates (flows, n, NULL);
      g_assert_true (bed_present_value (flows, n, -0.8, &before, NULL));
      for (double rate = -0.8; rate < 4; rate += 0.02)
        {
          g_assert_true (bed_present_value (flows, n, rate + 0.02, &after, NULL));
          g_assert_cmpint (count_between (rates, rate, rate + 0.02) % 2, ==,
                           (before < 0) != (after < 0));
          before = after;
        }
    }
}

/* Fifty years of a log yard: one outlay, then returns. A scan finds one sign change. */
static void
test_rates_long (void)
{
  double flows[50];
  double value;

  flows[0] = -10000;
  for (int i = 1; i < 50; i++)
    flows[i] = 700 - 5 * i;
  g_autoptr (GArray) rates = bed_return_rates (flows, 50, NULL);
  g_assert_cmpuint (rates->len, ==, 1);
  g_assert_true (bed_present_value (flows, 50, g_array_index (rates, double, 0), &value, NULL));
  g_assert_cmpfloat_with_epsilon (value, 0, 1e-6);
}

static void
test_payback (void)
{
  const struct
  {
    double flows[4];
    double years;
  } table[] = {
    { { -100, 50, 50, 0 }, 2 },    { { -100, 40, 40, 40 }, 2.5 }, { { -100, 10, 10, 10 }, -1 },
    { { 5, 1, 1, 1 }, 0 },         { { 0, -5, 10, 0 }, 0 },       { { -100, -20, 240, 0 }, 1.5 },
    { { -100, 100, -50, 50 }, 1 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (table); i++)
    {
      double years;
      g_assert_true (bed_payback (table[i].flows, 4, &years, NULL));
      g_assert_cmpfloat_with_epsilon (years, table[i].years, 1e-12);
    }
}

/* Paying the recovery each year, with the salvage at the end, has present value 0. */
static void
test_recovery_pays (void)
{
  for (int percent = 0; percent <= 30; percent += 3)
    {
      double flows[13], yearly, value;
      g_assert_true (bed_capital_recovery (5000, 800, percent / 100.0, 12, &yearly, NULL));
      flows[0] = -5000;
      for (int i = 1; i <= 12; i++)
        flows[i] = yearly;
      flows[12] += 800;
      g_assert_true (bed_present_value (flows, 13, percent / 100.0, &value, NULL));
      g_assert_cmpfloat_with_epsilon (value, 0, 1e-8);
    }
}

/* A batch in our own invented yard, reckoned by hand. */
static void
test_batch (void)
{
  const BedBatchPurchase purchases[] = { { 0, 12000 }, { 0, -500 }, { 2, 333 } };
  const BedBatchWork work[] = { { 0, 615, 1800 }, { 1, 1, 1799 }, { 3, 0, 0 } };
  BedBatchLife life = {
    .purchases = purchases,
    .n_purchases = 3,
    .work = work,
    .n_work = 3,
    .years = 4,
    .logs = 40,
    .marketable_kg = 50,
  };
  g_autoptr (BedBatchCosts) costs = bed_batch_costs_new (&life, NULL);

  g_assert_cmpuint (costs->n_years, ==, 4);
  g_assert_cmpint (costs->by_year[0].materials, ==, 11500);
  g_assert_cmpint (costs->by_year[0].labour, ==, 18450);
  g_assert_cmpint (costs->by_year[1].labour, ==, 30); /* 29.98 */
  g_assert_cmpint (costs->whole.total, ==, 11500 + 333 + 18450 + 30);
  g_assert_cmpfloat_with_epsilon (costs->per_log, costs->whole.total / 40.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (costs->per_kg, costs->whole.total / 50.0, 1e-9);

  life.logs = 0;
  life.marketable_kg = 0;
  g_autoptr (BedBatchCosts) bare = bed_batch_costs_new (&life, NULL);
  g_assert_cmpfloat (bare->per_log, ==, -1);
  g_assert_cmpfloat (bare->per_kg, ==, -1);
}

static void
assert_batch_refused (const BedBatchLife *life, const char *argument)
{
  g_autoptr (GError) error = NULL;
  BedBatchCosts *costs = bed_batch_costs_new (life, &error);

  assert_refused (costs != NULL, &error, argument);
}

static void
test_batch_refused (void)
{
  const BedBatchPurchase late = { 4, 1 };
  const BedBatchPurchase huge = { 0, G_MAXINT64 };
  const BedBatchWork work[] = { { 4, 1, 1 }, { 0, -1, 1 }, { 0, 1, -1 }, { 0, G_MAXINT64, 2 } };

  assert_batch_refused (&(BedBatchLife){ .years = 0 }, "years:");
  assert_batch_refused (&(BedBatchLife){ .years = 51 }, "years:");
  assert_batch_refused (&(BedBatchLife){ .years = 4, .marketable_kg = -1 }, "marketable_kg:");
  assert_batch_refused (&(BedBatchLife){ .years = 4, .marketable_kg = NAN }, "marketable_kg:");
  assert_batch_refused (&(BedBatchLife){ .years = 4, .purchases = &late, .n_purchases = 1 },
                        "purchases:");
  assert_batch_refused (&(BedBatchLife){ .years = 4, .purchases = &huge, .n_purchases = 1 },
                        "purchases:");
  for (gsize i = 0; i < G_N_ELEMENTS (work); i++)
    assert_batch_refused (&(BedBatchLife){ .years = 4, .work = &work[i], .n_work = 1 }, "work:");
}

static void
test_overflow_refused (void)
{
  g_autofree BedBatchPurchase *purchases = g_new (BedBatchPurchase, 2000);
  BedBatchLife life = { .years = 1, .purchases = purchases, .n_purchases = 2000 };

  for (int i = 0; i < 2000; i++)
    purchases[i] = (BedBatchPurchase){ 0, G_GINT64_CONSTANT (1) << 53 };
  assert_batch_refused (&life, "amount:");
}

static void
test_invest_refused (void)
{
  const struct
  {
    double cost, salvage, rate, years;
    const char *argument;
  } assets[] = {
    { -1, 0, 0.1, 5, "cost:" },       { NAN, 0, 0.1, 5, "cost:" },
    { INFINITY, 0, 0.1, 5, "cost:" }, { 10, 11, 0.1, 5, "salvage:" },
    { 10, NAN, 0.1, 5, "salvage:" },  { 10, 0, -0.1, 5, "rate:" },
    { 10, 0, NAN, 5, "rate:" },       { 10, 0, 11, 5, "rate:" },
    { 10, 0, 0.1, 0, "years:" },      { 10, 0, 0.1, -2, "years:" },
    { 10, 0, 0.1, NAN, "years:" },    { 10, 0, 0.1, 1e9, "years:" },
  };
  const struct
  {
    double flow, rate;
    gsize n;
    const char *argument;
  } values[] = {
    { NAN, 0.1, 2, "flows:" }, { INFINITY, 0.1, 2, "flows:" }, { 1, 0.1, 0, "flows:" },
    { 1, 0.1, 201, "flows:" }, { 1, -1, 2, "rate:" },          { 1, -5, 2, "rate:" },
    { 1, NAN, 2, "rate:" },    { 1, 1e9, 2, "rate:" },
  };
  g_autoptr (GError) error = NULL;
  double result;

  for (gsize i = 0; i < G_N_ELEMENTS (assets); i++)
    assert_refused (bed_capital_recovery (assets[i].cost, assets[i].salvage, assets[i].rate,
                                          assets[i].years, &result, &error),
                    &error, assets[i].argument);
  for (gsize i = 0; i < G_N_ELEMENTS (values); i++)
    {
      double flows[201];
      for (int j = 0; j < 201; j++)
        flows[j] = values[i].flow;
      assert_refused (bed_present_value (flows, values[i].n, values[i].rate, &result, &error),
                      &error, values[i].argument);
    }
  assert_refused (bed_return_rates (FLOWS (0, 0, 0), &error) != NULL, &error, "flows:");
  assert_refused (bed_return_rates (FLOWS (1, NAN), &error) != NULL, &error, "flows:");
  assert_refused (bed_payback (FLOWS (1, NAN), &result, &error), &error, "flows:");
  double steep[200];
  for (int i = 0; i < 200; i++)
    steep[i] = 1;
  assert_refused (bed_present_value (steep, 200, -0.9999, &result, &error), &error, "rate:");
}

static void
test_budget_refused (void)
{
  g_autoptr (GError) error = NULL;
  BedBreakEven even;
  BedBudget budget;
  const BedBudgetLines good = { 95, 16, 0, 480, 540, 200, 42, 58 };
  const struct
  {
    gsize at;
    const char *argument;
  } lines[] = {
    { G_STRUCT_OFFSET (BedBudgetLines, quantity_kg), "quantity:" },
    { G_STRUCT_OFFSET (BedBudgetLines, price_per_kg), "price:" },
    { G_STRUCT_OFFSET (BedBudgetLines, other_returns), "other_returns:" },
    { G_STRUCT_OFFSET (BedBudgetLines, materials), "materials:" },
    { G_STRUCT_OFFSET (BedBudgetLines, labour), "labour:" },
    { G_STRUCT_OFFSET (BedBudgetLines, depreciation), "depreciation:" },
    { G_STRUCT_OFFSET (BedBudgetLines, interest), "interest:" },
    { G_STRUCT_OFFSET (BedBudgetLines, overhead), "overhead:" },
  };
  const double nonsense[] = { -1, NAN, INFINITY };

  for (gsize i = 0; i < G_N_ELEMENTS (lines); i++)
    for (gsize j = 0; j < G_N_ELEMENTS (nonsense); j++)
      {
        BedBudgetLines bad = good;
        G_STRUCT_MEMBER (double, &bad, lines[i].at) = nonsense[j];
        assert_refused (bed_budget (&bad, &budget, &error), &error, lines[i].argument);
      }
  assert_refused (bed_break_even (-1, 0, 1, 1, &even, &error), &error, "fixed:");
  assert_refused (bed_break_even (0, NAN, 1, 1, &even, &error), &error, "variable:");
  assert_refused (bed_break_even (0, 0, 0, 1, &even, &error), &error, "price:");
  assert_refused (bed_break_even (0, 0, 1, 0, &even, &error), &error, "quantity:");

  BedBudgetLines firewood = good;
  firewood.other_returns = 5000;
  g_assert_true (bed_budget (&firewood, &budget, NULL));
  g_assert_cmpfloat (budget.break_even.price_total, ==, 0);
}

/* --- depreciation ------------------------------------------------------------------------- */

static void
expect_charges (BedWriteOff way, gint64 salvage, guint part, const gint64 *charges)
{
  for (guint year = 1; year <= 6; year++)
    g_assert_cmpint (bed_written_off (way, 1000, salvage, 5, part, year)
                         - bed_written_off (way, 1000, salvage, 5, part, year - 1),
                     ==, charges[year - 1]);
}

/* By hand: 1000 over 5 years, the last year after its life. */
static void
test_depreciation (void)
{
  static const gint64 straight[] = { 180, 180, 180, 180, 180, 0 };
  static const gint64 digits[] = { 300, 240, 180, 120, 60, 0 };
  /* 0.4 of 1000, 600, 360, 216; then only 29.6 are left above 100. */
  static const gint64 twice[] = { 400, 240, 144, 86, 30, 0 };
  /* 0.4 of them, then 216 and twice 108. */
  static const gint64 twice_to_nothing[] = { 400, 240, 144, 108, 108, 0 };
  /* 0.3 of 1000, 700, 490; then the 243 above 100 in two years, 121.5 being more than 102.9. */
  static const gint64 half_more[] = { 300, 210, 147, 122, 121, 0 };
  static const gint64 half_used[] = { 150, 120, 90, 60, 30, 0 };

  expect_charges (BED_WRITE_OFF_STRAIGHT, 100, 10000, straight);
  expect_charges (BED_WRITE_OFF_DIGITS, 100, 10000, digits);
  expect_charges (BED_WRITE_OFF_DIGITS, 100, 5000, half_used);
  expect_charges (BED_WRITE_OFF_DECLINING_200, 100, 10000, twice);
  expect_charges (BED_WRITE_OFF_DECLINING_200, 0, 10000, twice_to_nothing);
  expect_charges (BED_WRITE_OFF_DECLINING_150, 100, 10000, half_more);
  /* Worth as much in the end, or more: nothing is lost. */
  g_assert_cmpint (bed_written_off (BED_WRITE_OFF_DIGITS, 100, 100, 5, 10000, 3), ==, 0);
  g_assert_cmpint (bed_written_off (BED_WRITE_OFF_DECLINING_150, 100, 120, 5, 10000, 9), ==, 0);
}

/* What is charged over any life is what is lost, to the minor unit, and no year gives back. */
static void
test_depreciation_random (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (46);

  for (int run = 0; run < 2000; run++)
    {
      BedWriteOff way = run % BED_N_WRITE_OFFS;
      gint64 price = g_rand_int_range (rand, 0, run % 3 ? 200000 : G_MAXINT32);
      gint64 salvage = g_rand_boolean (rand) ? g_rand_double (rand) * price : 0, sum = 0;
      guint life = g_rand_int_range (rand, 1, 101);
      guint part = g_rand_boolean (rand) ? 10000 : g_rand_int_range (rand, 0, 10001);

      for (guint year = 1; year <= life + 2; year++)
        {
          gint64 charge = bed_written_off (way, price, salvage, life, part, year)
                          - bed_written_off (way, price, salvage, life, part, year - 1);
          g_assert_cmpint (charge, >=, 0);
          g_assert_true (year <= life || charge == 0);
          sum += charge;
        }
      g_assert_cmpint (sum, ==, ((price - salvage) * part + 5000) / 10000);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/money/depreciation", test_depreciation);
  g_test_add_func ("/money/depreciation-random", test_depreciation_random);
  g_test_add_func ("/money/rates", test_rates);
  g_test_add_func ("/money/rates-random", test_rates_random);
  g_test_add_func ("/money/rates-scan", test_rates_scan);
  g_test_add_func ("/money/rates-long", test_rates_long);
  g_test_add_func ("/money/payback", test_payback);
  g_test_add_func ("/money/recovery-pays", test_recovery_pays);
  g_test_add_func ("/money/batch", test_batch);
  g_test_add_func ("/money/batch-refused", test_batch_refused);
  g_test_add_func ("/money/overflow-refused", test_overflow_refused);
  g_test_add_func ("/money/invest-refused", test_invest_refused);
  g_test_add_func ("/money/budget-refused", test_budget_refused);
  return g_test_run ();
}
