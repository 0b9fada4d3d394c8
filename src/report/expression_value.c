/* What an expression comes to in a row. */
#include "report/expression_private.h"

#include "science/invest.h"
#include "science/statistics.h"

#include <math.h>
#include <string.h>

#define MAX_CONDITIONS 5

/* Functions */

/* Half away from zero, on the decimal value the reader sees: 15.025 is kept as
 * 15.02499999999999… and must become 15.03, as it does in a spreadsheet. */
static double
round_decimals (const double *x)
{
  double scale = pow (10, x[1]);
  double scaled = x[0] * scale;
  double nearest = round (scaled);

  if (fabs (fabs (scaled - nearest) - 0.5) < 1e-9 * fmax (1, fabs (scaled)))
    return copysign (floor (fabs (scaled) + 0.5 + 1e-9), scaled) / scale;
  return nearest / scale;
}

static double
take_if_known (const double *x)
{
  return isfinite (x[0]) ? x[0] : x[1];
}

static double
take_larger (const double *x)
{
  return isnan (x[1]) ? NAN : fmax (x[0], x[1]);
}

static double
take_root (const double *x)
{
  return sqrt (x[0]);
}

static double
take_exponential (const double *x)
{
  return exp (x[0]);
}

static double
take_logarithm (const double *x)
{
  return x[0] > 0 ? log (x[0]) : NAN;
}

/* The two-sided quantile a spreadsheet calls TINV. */
static double
invert_t (const double *x)
{
  return x[1] >= 1 ? bed_t_quantile (1 - x[0] / 2, x[1]) : NAN;
}

/* What 1 costs a year over x[1] years at x[0], as PMT (rate, years, -1). */
static double
pay_yearly (const double *x)
{
  double yearly;

  g_assert (x[2] == -1);
  return bed_capital_recovery (1, 0, x[0], x[1], &yearly, NULL) ? yearly : NAN;
}

/* Helpers */

static const BedSums *
find_sums (const BedScope *scope, const char *name)
{
  const BedSums *sums = g_hash_table_lookup (scope->book->sums, name);

  if (!sums)
    g_error ("no name %s yet", name);
  return sums;
}

/* A cell of text, empty or not, is asked for as text. */
static BedCondition
ask_condition (const BedWhere *where, const BedScope *scope)
{
  BedCondition condition = where->condition;

  if (where->number)
    condition.number = bed_node_value (where->number, scope);
  if (!condition.varies)
    return condition;
  condition.number = scope->values[where->column];
  if (condition.column->texts)
    condition.text = scope->texts[where->column] ? scope->texts[where->column] : "";
  return condition;
}

static double
find_where (BedNode *node, const BedScope *scope)
{
  BedCondition conditions[MAX_CONDITIONS];
  guint n = node->wheres->len;
  gboolean ordered = FALSE;

  g_assert (n <= MAX_CONDITIONS);
  for (guint i = 0; i < n; i++)
    {
      conditions[i] = ask_condition (&g_array_index (node->wheres, BedWhere, i), scope);
      ordered |= conditions[i].test == BED_TEST_BELOW;
    }
  if (ordered)
    return bed_kept_scan (node->values, conditions, n);
  if (!node->index)
    node->index = bed_index_new (node->values, conditions, n);
  return bed_index_find (node->index, conditions, n);
}

static double
call (BedNode *node, const BedScope *scope)
{
  double arguments[BED_MAX_ARGUMENTS] = { 0 };

  for (guint i = 0; i < BED_MAX_ARGUMENTS && node->arguments[i]; i++)
    arguments[i] = bed_node_value (node->arguments[i], scope);
  return node->function (arguments);
}

/* For the parts */

BedFunction
bed_function_find (const char *word)
{
  static const struct
  {
    const char *word;
    BedFunction function;
  } functions[] = {
    { "ROUND", round_decimals }, { "IFERROR", take_if_known }, { "MAX", take_larger },
    { "SQRT", take_root },       { "EXP", take_exponential },  { "LN", take_logarithm },
    { "TINV", invert_t },        { "PMT", pay_yearly },
  };

  for (guint i = 0; i < G_N_ELEMENTS (functions); i++)
    if (g_str_equal (word, functions[i].word))
      return functions[i].function;
  return NULL;
}

double
bed_node_value (BedNode *node, const BedScope *scope)
{
  BedNode **of = node->arguments;
  double by;

  switch (node->kind)
    {
    case BED_NODE_NUMBER:
      return node->number;
    case BED_NODE_CELL:
      return scope->values[node->column];
    case BED_NODE_RUNNING:
      return scope->sums[node->column].sum + scope->values[node->column];
    case BED_NODE_NAME:
      return find_sums (scope, node->name)->sum;
    case BED_NODE_MOST:
      return find_sums (scope, node->name)->most;
    case BED_NODE_COUNT:
      return find_sums (scope, node->name)->count;
    case BED_NODE_NEGATE:
      return -bed_node_value (of[0], scope);
    case BED_NODE_ADD:
      return bed_node_value (of[0], scope) + bed_node_value (of[1], scope);
    case BED_NODE_SUBTRACT:
      return bed_node_value (of[0], scope) - bed_node_value (of[1], scope);
    case BED_NODE_MULTIPLY:
      return bed_node_value (of[0], scope) * bed_node_value (of[1], scope);
    case BED_NODE_DIVIDE:
      by = bed_node_value (of[1], scope);
      return by == 0 ? NAN : bed_node_value (of[0], scope) / by;
    case BED_NODE_CALL:
      return call (node, scope);
    case BED_NODE_WHERE:
      return find_where (node, scope);
    default:
      g_assert_not_reached ();
    }
}
