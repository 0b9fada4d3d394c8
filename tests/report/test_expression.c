#include "report_test.h"

#include "report/expression.h"

#include <math.h>

/* A row of three columns, a and b numbers and c without one. */
static const char *const names[] = { "a", "b", "c" };
static const double row[] = { 6, 0.5, NAN };

typedef struct
{
  const char *expression;
  double value; /* NAN: none */
  const char *text;
} Case;

static const Case cases[] = {
  { "1+2*3", 7, "=1+2*3" },
  { "(1+2)*3-4", 5, "=(1+2)*3-4" },
  { "-[a]+2", -4, "=-A4+2" },
  { "[a]/[b]", 12, "=IFERROR(A4/B4,\"\")" },
  { "[a]/0", NAN, "=IFERROR(A4/0,\"\")" },
  { "[a]*[c]/2", NAN, "=IFERROR(A4*C4/2,\"\")" },
  { "SUM(Picks_mass)-Season", 40 - 2026, "=SUM(Picks_mass)-Season" },
  { "MAX(Picks_mass)+COUNT(Picks_mass)", 28, "=MAX(Picks_mass)+COUNT(Picks_mass)" },
  { "MAX(0,[a]-7)", 0, "=MAX(0,A4-7)" },
  { "MAX(0,7-[a])", 1, "=MAX(0,7-A4)" },
  { "IFERROR([a]/0,[b])", 0.5, "=IFERROR(IFERROR(A4/0,B4),\"\")" },
  /* A half is a half also where the binary number lies below it: 15.025 h of 1. */
  { "ROUND(15.025,2)", 15.03, "=ROUND(15.025,2)" },
  { "ROUND(-15.025,2)", -15.03, "=ROUND(-15.025,2)" },
  { "ROUND(1.005*1000,0)", 1005, "=ROUND(1.005*1000,0)" },
  { "ROUND(2.4999,0)", 2, "=ROUND(2.4999,0)" },
};

typedef struct
{
  BedBook book;
  BedScope scope;
} Fixture;

static void
add_sums (BedBook *book, const char *name, BedSums sums)
{
  g_hash_table_replace (book->sums, g_strdup (name), g_memdup2 (&sums, sizeof sums));
}

static void
set_up (Fixture *f, gconstpointer data)
{
  f->book.sums = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  add_sums (&f->book, "Picks_mass", (BedSums){ .sum = 40, .most = 25, .count = 3 });
  add_sums (&f->book, "Season", (BedSums){ .sum = 2026 });
  f->scope = (BedScope){
    .book = &f->book, .names = names, .values = row, .n_names = 3, .row = 3, .first_row = 1
  };
}

static void
tear_down (Fixture *f, gconstpointer data)
{
  g_hash_table_unref (f->book.sums);
}

static double
work_out (Fixture *f, const char *text)
{
  g_autoptr (BedExpression) expression = bed_expression_new (text, &f->scope);

  return bed_expression_value (expression, &f->scope);
}

static void
test_cases (Fixture *f, gconstpointer data)
{
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (BedExpression) expression = bed_expression_new (cases[i].expression, &f->scope);
      double value = bed_expression_value (expression, &f->scope);

      if (isnan (cases[i].value))
        g_assert_true (isnan (value));
      else
        g_assert_cmpfloat_with_epsilon (value, cases[i].value, 1e-12);
      g_assert_cmpstr (bed_expression_text (expression, &f->scope), ==, cases[i].text);
    }
}

/* Student's t: standard tables, two-sided 5 %, 1, 5 and 120 degrees of freedom. */
static void
test_tinv (Fixture *f, gconstpointer data)
{
  g_assert_cmpfloat_with_epsilon (work_out (f, "TINV(0.05,1)"), 12.7062, 5e-5);
  g_assert_cmpfloat_with_epsilon (work_out (f, "TINV(0.05,5)"), 2.5706, 5e-5);
  g_assert_cmpfloat_with_epsilon (work_out (f, "TINV(0.05,120)"), 1.9799, 5e-5);
  g_assert_true (isnan (work_out (f, "TINV(0.05,0)")));
}

/* Capital recovery factors, worked out from the definition: 5 % 15 years, 10 % 5 years. */
static void
test_pmt (Fixture *f, gconstpointer data)
{
  g_assert_cmpfloat_with_epsilon (work_out (f, "PMT(0.05,15,-1)"), 0.096342, 5e-7);
  g_assert_cmpfloat_with_epsilon (work_out (f, "PMT(0.1,5,-1)"), 0.263797, 5e-7);
  g_assert_cmpfloat_with_epsilon (work_out (f, "PMT(0,4,-1)"), 0.25, 1e-12);
}

static void
test_formula (Fixture *f, gconstpointer data)
{
  g_autoptr (BedExpression) formula
      = bed_formula_new ("SUMIFS(Sales_price,Sales_use,{line.use.sold})+SUM([^b]:[b])", &f->scope);

  g_assert_true (isnan (bed_expression_value (formula, &f->scope)));
  g_assert_cmpstr (bed_expression_text (formula, &f->scope), ==,
                   "=SUMIFS(Sales_price,Sales_use,\"sold\")+SUM($B$2:B4)");
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add ("/report/expression/cases", Fixture, NULL, set_up, test_cases, tear_down);
  g_test_add ("/report/expression/tinv", Fixture, NULL, set_up, test_tinv, tear_down);
  g_test_add ("/report/expression/pmt", Fixture, NULL, set_up, test_pmt, tear_down);
  g_test_add ("/report/expression/formula", Fixture, NULL, set_up, test_formula, tear_down);
  return g_test_run ();
}
