#include "science/apportion.h"
#include "science/argument.h"
#include "science/budget.h"
#include "science/invest.h"
#include "tool/calc/calc_command.h"

#include <math.h>
#include <string.h>

#define MOST_DECIMALS 9

/* invest */

static const BedCalcOption invest_options[]
    = { OPTION_TEXT ("flows", REQUIRED, NULL,
                     "of money, one a year, in positive, the first now: -1000,400,700"),
        OPTION_TEXT ("rate", REQUIRED, NULL, "of interest a year: 0.08 or 8%"),
        { NULL } };

/* A bare 8 is more likely eight percent than eight hundred: it is not guessed at. */
static gboolean
read_rate (BedCalc *calc, double *rate, GError **error)
{
  const char *text = bed_calc_text (calc, "rate");
  char *end = NULL;

  *rate = g_ascii_strtod (text, &end);
  gboolean percent = strcmp (end, "%") == 0;
  if (end == text || !isfinite (*rate) || (*end != '\0' && !percent))
    return bed_calc_refuse (error, "--rate: “%s” is not a rate; write 0.08 or 8%%", text);
  if (percent)
    *rate /= 100;
  else if (*rate >= 1)
    return bed_calc_refuse (error,
                            "--rate: “%s” could be a percentage or a fraction; write %s%% for the "
                            "percentage",
                            text, text);
  return TRUE;
}

static void
add_rates (BedCalc *calc, const GArray *rates)
{
  const char *count = rates->len == 0 ? "none" : rates->len == 1 ? "one" : "several";

  bed_calc_add_double (calc, "irr", BED_CALC_PLAIN,
                       rates->len == 1 ? g_array_index (rates, double, 0) : NAN);
  bed_calc_add_text (calc, "irr_count", count);
  bed_calc_begin_list (calc, "irr_all", BED_CALC_PLAIN);
  for (guint i = 0; i < rates->len; i++)
    bed_calc_add_double (calc, NULL, BED_CALC_PLAIN, g_array_index (rates, double, i));
  bed_calc_end_list (calc);
}

static gboolean
run_invest (BedCalc *calc, GError **error)
{
  g_autoptr (GArray) list = bed_calc_list (calc, "flows", error);
  double rate, value, years;

  if (list == NULL || !read_rate (calc, &rate, error))
    return FALSE;
  const double *flows = (const double *) (gpointer) list->data;
  g_autoptr (GArray) rates = bed_return_rates (flows, list->len, error);
  if (rates == NULL || !bed_present_value (flows, list->len, rate, &value, error)
      || !bed_payback (flows, list->len, &years, error))
    return FALSE;
  bed_calc_add_double (calc, "npv", BED_CALC_PLAIN, value);
  add_rates (calc, rates);
  bed_calc_add_double (calc, "payback_years", BED_CALC_PLAIN, years < 0 ? NAN : years);
  return TRUE;
}

const BedCalcCommand bed_calc_invest
    = { "invest", "present value, rates of return and payback of yearly flows of money", NULL,
        invest_options, run_invest };

/* breakeven */

static const BedCalcOption break_even_options[]
    = { OPTION_NUMBER ("fixed", REQUIRED, NULL, "costs that stay whatever is picked"),
        OPTION_NUMBER ("variable", REQUIRED, NULL, "costs of the whole quantity, not of one unit"),
        OPTION_NUMBER ("price", REQUIRED, NULL, "of one unit"),
        OPTION_NUMBER ("quantity", REQUIRED, NULL, "expected to be sold"),
        { NULL } };

static gboolean
run_break_even (BedCalc *calc, GError **error)
{
  BedBreakEven result;

  if (!bed_break_even (bed_calc_value (calc, "fixed"), bed_calc_value (calc, "variable"),
                       bed_calc_value (calc, "price"), bed_calc_value (calc, "quantity"), &result,
                       error))
    return FALSE;
  bed_calc_add_double (calc, "price_variable", BED_CALC_PLAIN, result.price_variable);
  bed_calc_add_double (calc, "price_total", BED_CALC_PLAIN, result.price_total);
  bed_calc_add_double (calc, "quantity_variable", BED_CALC_PLAIN, result.quantity_variable);
  bed_calc_add_double (calc, "quantity_total", BED_CALC_PLAIN, result.quantity_total);
  bed_calc_add_double (calc, "cushion", BED_CALC_PLAIN, result.cushion);
  bed_calc_add_double (calc, "cushion_pct", BED_CALC_PLAIN, 100 * result.cushion_share);
  return TRUE;
}

const BedCalcCommand bed_calc_break_even
    = { "breakeven", "the price and the quantity that pay the variable costs, and all costs", NULL,
        break_even_options, run_break_even };

/* budget */

static const BedCalcOption budget_options[]
    = { OPTION_NUMBER ("quantity", REQUIRED, NULL, "kg that can be sold"),
        OPTION_NUMBER ("price", REQUIRED, NULL, "of one kg"),
        OPTION_NUMBER ("other", OPTIONAL, "0", "returns beside the crop, as firewood"),
        OPTION_NUMBER ("materials", OPTIONAL, "0", "spawn, wax, logs bought"),
        OPTION_NUMBER ("labour", OPTIONAL, "0", "hours at their rate, the family's too"),
        OPTION_NUMBER ("equipment", OPTIONAL, "0",
                       "what it cost to buy; a year of its straight line is charged"),
        OPTION_NUMBER ("salvage", OPTIONAL, "0", "what it will fetch in the end"),
        OPTION_NUMBER ("life", OPTIONAL, "10", "of the equipment, years"),
        OPTION_NUMBER ("interest", OPTIONAL, "0", "on the capital in the equipment"),
        OPTION_NUMBER ("overhead", OPTIONAL, "0", "of the farm, this crop's share"),
        { NULL } };

static void
add_budget (BedCalc *calc, const BedBudgetLines *lines, const BedBudget *budget)
{
  bed_calc_add_double (calc, "gross", BED_CALC_PLAIN, budget->gross);
  bed_calc_add_double (calc, "variable", BED_CALC_PLAIN, budget->variable);
  bed_calc_add_double (calc, "depreciation", BED_CALC_PLAIN, lines->depreciation);
  bed_calc_add_double (calc, "fixed", BED_CALC_PLAIN, budget->fixed);
  bed_calc_add_double (calc, "return_over_variable", BED_CALC_PLAIN, budget->return_over_variable);
  bed_calc_add_double (calc, "return_to_management", BED_CALC_PLAIN, budget->return_to_management);
  bed_calc_add_double (calc, "return_to_labour_and_management", BED_CALC_PLAIN,
                       budget->return_to_labour_and_management);
  bed_calc_add_double (calc, "price_variable", BED_CALC_PLAIN, budget->break_even.price_variable);
  bed_calc_add_double (calc, "price_total", BED_CALC_PLAIN, budget->break_even.price_total);
}

static gboolean
run_budget (BedCalc *calc, GError **error)
{
  BedBudgetLines lines = { .quantity_kg = bed_calc_value (calc, "quantity"),
                           .price_per_kg = bed_calc_value (calc, "price"),
                           .other_returns = bed_calc_value (calc, "other"),
                           .materials = bed_calc_value (calc, "materials"),
                           .labour = bed_calc_value (calc, "labour"),
                           .interest = bed_calc_value (calc, "interest"),
                           .overhead = bed_calc_value (calc, "overhead") };
  BedBudget budget;

  if (!bed_straight_line (bed_calc_value (calc, "equipment"), bed_calc_value (calc, "salvage"),
                          bed_calc_value (calc, "life"), &lines.depreciation, error)
      || !bed_budget (&lines, &budget, error))
    return FALSE;
  add_budget (calc, &lines, &budget);
  return TRUE;
}

const BedCalcCommand bed_calc_budget
    = { "budget", "one year of the crop: returns over costs, and the price that pays them", NULL,
        budget_options, run_budget };

/* share */

static const BedCalcOption share_options[]
    = { OPTION_TEXT ("total", REQUIRED, NULL, "to divide, in whole minor units (cents)"),
        OPTION_TEXT ("weights", REQUIRED, NULL, "to divide it by: 3,2,2 or 18,27,54.5"),
        { NULL } };

static gsize
count_decimals (const char *word)
{
  const char *point = strchr (word, '.');

  return point ? strlen (point + 1) : 0;
}

/* The decimal as a whole number of 10^-@decimals: exact, as a double is not. */
static gboolean
read_weight (const char *word, gsize decimals, guint64 *weight, GError **error)
{
  g_autoptr (GString) digits = g_string_new (word);
  gsize point = strcspn (word, ".");
  gsize own = count_decimals (word);

  if (own > MOST_DECIMALS)
    return bed_calc_refuse (error, "--weights: “%s” has more than %d decimals", word,
                            MOST_DECIMALS);
  if (word[point] == '.')
    g_string_erase (digits, (gssize) point, 1);
  for (; own < decimals; own++)
    g_string_append_c (digits, '0');
  if (!g_ascii_isdigit (*word)
      || !g_ascii_string_to_unsigned (digits->str, 10, 0, G_MAXUINT64, weight, NULL))
    return bed_calc_refuse (error,
                            "--weights: “%s” is not a number from 0 up; write a list such as "
                            "3,2,2.5",
                            word);
  return TRUE;
}

static GArray *
read_weights (BedCalc *calc, GError **error)
{
  g_auto (GStrv) words = g_strsplit (bed_calc_text (calc, "weights"), ",", -1);
  g_autoptr (GArray) weights = g_array_new (FALSE, FALSE, sizeof (guint64));
  gsize decimals = 0;

  for (char **word = words; *word; word++)
    decimals = MAX (decimals, count_decimals (g_strstrip (*word)));
  for (char **word = words; *word; word++)
    {
      guint64 weight;
      if (!read_weight (*word, decimals, &weight, error))
        return NULL;
      g_array_append_val (weights, weight);
    }
  return g_steal_pointer (&weights);
}

static gboolean
run_share (BedCalc *calc, GError **error)
{
  gint64 total;
  const char *text = bed_calc_text (calc, "total");

  if (!g_ascii_string_to_signed (text, 10, G_MININT64, G_MAXINT64, &total, NULL))
    return bed_calc_refuse (error, "--total: “%s” is not a whole number; write 12345 for 123.45",
                            text);
  g_autoptr (GArray) weights = read_weights (calc, error);
  if (weights == NULL)
    return FALSE;
  g_autofree gint64 *parts = g_new (gint64, weights->len);
  if (!bed_apportion (total, (const guint64 *) (gpointer) weights->data, weights->len, parts,
                      error))
    return FALSE;
  bed_calc_begin_list (calc, "parts", BED_CALC_PLAIN);
  for (guint i = 0; i < weights->len; i++)
    bed_calc_add_int (calc, NULL, parts[i]);
  bed_calc_end_list (calc);
  return TRUE;
}

const BedCalcCommand bed_calc_share
    = { "share", "a total divided by weights so that the parts sum to it exactly", NULL,
        share_options, run_share };
