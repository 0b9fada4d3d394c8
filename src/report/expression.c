#include "report/expression.h"

#include "report/kept.h"
#include "science/invest.h"
#include "science/statistics.h"

#include <math.h>
#include <string.h>

#define MAX_ARGUMENTS 3
#define MAX_CONDITIONS 5

typedef struct
{
  const char *at;
  const BedScope *scope;
} Reader;

static double read_sum (Reader *reader);

/* Helpers */

static guint
find_column (const BedScope *scope, const char *name, gsize length)
{
  for (guint i = 0; i < scope->n_names; i++)
    if (scope->names[i] && strlen (scope->names[i]) == length
        && strncmp (scope->names[i], name, length) == 0)
      return i;
  g_error ("no column [%.*s]", (int)length, name);
}

static const BedSums *
find_sums (const BedScope *scope, const char *name)
{
  const BedSums *sums = g_hash_table_lookup (scope->book->sums, name);

  if (!sums)
    g_error ("no name %s yet", name);
  return sums;
}

/* Half away from zero, on the decimal value the reader sees: 15.025 is kept as
 * 15.02499999999999… and must become 15.03, as it does in a spreadsheet. */
static double
round_decimals (double value, double decimals)
{
  double scale = pow (10, decimals);
  double scaled = value * scale;
  double nearest = round (scaled);

  if (fabs (fabs (scaled - nearest) - 0.5) < 1e-9 * fmax (1, fabs (scaled)))
    return copysign (floor (fabs (scaled) + 0.5 + 1e-9), scaled) / scale;
  return nearest / scale;
}

/* The two-sided quantile a spreadsheet calls TINV. */
static double
t_inverse (double p, double freedom)
{
  return freedom >= 1 ? bed_t_quantile (1 - p / 2, freedom) : NAN;
}

/* What 1 costs a year over @years at @rate, as PMT (rate, years, -1). */
static double
payment (double rate, double years)
{
  double yearly;

  return bed_capital_recovery (1, 0, rate, years, &yearly, NULL) ? yearly : NAN;
}

static void
skip_space (Reader *reader)
{
  while (*reader->at == ' ')
    reader->at++;
}

static gboolean
take (Reader *reader, char c)
{
  skip_space (reader);
  if (*reader->at != c)
    return FALSE;
  reader->at++;
  return TRUE;
}

static void
expect (Reader *reader, char c)
{
  if (!take (reader, c))
    g_error ("expected %c at '%s'", c, reader->at);
}

static char *
read_word (Reader *reader)
{
  const char *start = reader->at;

  while (g_ascii_isalnum (*reader->at) || *reader->at == '_')
    reader->at++;
  return g_strndup (start, reader->at - start);
}

static guint
read_column (Reader *reader)
{
  const char *end = strchr (reader->at, ']');
  guint column = find_column (reader->scope, reader->at, end - reader->at);

  reader->at = end + 1;
  return column;
}

/* [^x]:[x]): the column down to this row. */
static double
read_running (Reader *reader)
{
  guint column;

  expect (reader, '[');
  expect (reader, '^');
  read_column (reader);
  expect (reader, ':');
  expect (reader, '[');
  column = read_column (reader);
  expect (reader, ')');
  return reader->scope->sums[column].sum + reader->scope->values[column];
}

static const BedKept *
find_kept (Reader *reader)
{
  g_autofree char *name = NULL;
  const BedKept *kept;

  skip_space (reader);
  name = read_word (reader);
  kept = g_hash_table_lookup (reader->scope->book->kept, name);
  if (!kept)
    g_error ("no column %s yet", name);
  return kept;
}

/* "line.use.sold" -> "sold", as it is shown. */
static const char *
get_choice (const char *path, gsize length)
{
  g_autofree char *whole = g_strndup (path, length);
  g_auto (GStrv) parts = g_strsplit (whole, ".", 3);
  const BedField *field = bed_kind_find_field (bed_kind_from_name (parts[0]), parts[1], NULL);

  for (const BedChoice *choice = field->choices; choice->key; choice++)
    if (g_str_equal (choice->key, parts[2]))
      return bed_field_choice_label (field, choice->key);
  g_error ("no choice %s", whole);
}

static void
read_operand (Reader *reader, BedCondition *condition)
{
  if (take (reader, '['))
    {
      guint column = read_column (reader);

      condition->varies = TRUE;
      condition->number = reader->scope->values[column];
      /* A cell of text, empty or not, is asked for as text. */
      if (condition->column->texts)
        condition->text = reader->scope->texts[column] ? reader->scope->texts[column] : "";
    }
  else if (take (reader, '{'))
    {
      const char *end = strchr (reader->at, '}');

      condition->text = get_choice (reader->at, end - reader->at);
      reader->at = end + 1;
    }
  else
    condition->number = read_sum (reader);
}

static BedCondition
read_condition (Reader *reader)
{
  BedCondition condition = { .test = BED_TEST_EQUAL, .column = find_kept (reader) };

  expect (reader, ',');
  if (take (reader, '"'))
    {
      const char *end = strchr (reader->at, '"');

      condition.test = g_str_has_prefix (reader->at, "<>") ? BED_TEST_DIFFERS
                       : *reader->at == '<'                ? BED_TEST_BELOW
                       : *reader->at == '>'                ? BED_TEST_ABOVE
                                                           : BED_TEST_EQUAL;
      if (condition.test == BED_TEST_ABOVE)
        condition.number = g_ascii_strtod (reader->at + 1, NULL);
      reader->at = end + 1;
      if (!take (reader, '&'))
        return condition;
    }
  read_operand (reader, &condition);
  return condition;
}

/* An index is made once for each place in the program that asks, and found again
 * by that place: expressions are static text. */
static double
read_conditional (Reader *reader, gboolean sums)
{
  GHashTable *indexes = reader->scope->book->indexes;
  const char *place = reader->at;
  const BedKept *values = NULL;
  BedCondition conditions[MAX_CONDITIONS];
  guint n = 0;
  gboolean ordered = FALSE;
  BedIndex *index;

  if (sums)
    {
      values = find_kept (reader);
      expect (reader, ',');
    }
  do
    {
      g_assert (n < MAX_CONDITIONS);
      conditions[n] = read_condition (reader);
      ordered |= conditions[n++].test == BED_TEST_BELOW;
    }
  while (take (reader, ','));
  expect (reader, ')');
  if (ordered)
    return bed_kept_scan (values, conditions, n);
  index = g_hash_table_lookup (indexes, place);
  if (!index)
    {
      index = bed_index_new (values, conditions, n);
      g_hash_table_insert (indexes, (gpointer)place, index);
    }
  return bed_index_find (index, conditions, n);
}

/* SUM, MAX and COUNT take the name of cells, not a value; MAX (0, x) is the other MAX. */
static gboolean
read_aggregate (Reader *reader, const char *word, double *value)
{
  g_autofree char *name = NULL;
  const BedSums *sums;

  if (!g_str_equal (word, "SUM") && !g_str_equal (word, "MAX") && !g_str_equal (word, "COUNT"))
    return FALSE;
  skip_space (reader);
  if (g_ascii_isdigit (*reader->at))
    return FALSE;
  if (*reader->at == '[')
    {
      *value = read_running (reader);
      return TRUE;
    }
  name = read_word (reader);
  sums = find_sums (reader->scope, name);
  *value = *word == 'S' ? sums->sum : *word == 'M' ? sums->most : sums->count;
  expect (reader, ')');
  return TRUE;
}

static double
read_call (Reader *reader, const char *word)
{
  double arguments[MAX_ARGUMENTS] = { 0 };
  guint n = 0;
  double value;

  if (g_str_equal (word, "SUMIFS"))
    return read_conditional (reader, TRUE);
  if (g_str_has_prefix (word, "COUNTIF"))
    return read_conditional (reader, FALSE);
  if (read_aggregate (reader, word, &value))
    return value;
  do
    {
      g_assert (n < MAX_ARGUMENTS);
      arguments[n++] = read_sum (reader);
    }
  while (take (reader, ','));
  expect (reader, ')');
  if (g_str_equal (word, "ROUND"))
    return round_decimals (arguments[0], arguments[1]);
  if (g_str_equal (word, "IFERROR"))
    return isfinite (arguments[0]) ? arguments[0] : arguments[1];
  if (g_str_equal (word, "MAX"))
    return isnan (arguments[1]) ? NAN : fmax (arguments[0], arguments[1]);
  if (g_str_equal (word, "SQRT"))
    return sqrt (arguments[0]);
  if (g_str_equal (word, "EXP"))
    return exp (arguments[0]);
  if (g_str_equal (word, "LN"))
    return arguments[0] > 0 ? log (arguments[0]) : NAN;
  if (g_str_equal (word, "TINV"))
    return t_inverse (arguments[0], arguments[1]);
  if (g_str_equal (word, "PMT") && arguments[2] == -1)
    return payment (arguments[0], arguments[1]);
  g_error ("no function %s", word);
}

static double
read_value (Reader *reader)
{
  g_autofree char *word = NULL;

  skip_space (reader);
  if (take (reader, '-'))
    return -read_value (reader);
  if (take (reader, '('))
    {
      double inside = read_sum (reader);

      expect (reader, ')');
      return inside;
    }
  if (take (reader, '['))
    return reader->scope->values[read_column (reader)];
  if (g_ascii_isdigit (*reader->at))
    {
      char *end;
      double number = g_ascii_strtod (reader->at, &end);

      reader->at = end;
      return number;
    }
  word = read_word (reader);
  if (take (reader, '('))
    return read_call (reader, word);
  if (g_str_equal (word, "MINOR"))
    return bed_book_minor_units (reader->scope->book);
  return find_sums (reader->scope, word)->sum;
}

static double
read_product (Reader *reader)
{
  double value = read_value (reader);

  for (;;)
    {
      if (take (reader, '*'))
        value *= read_value (reader);
      else if (take (reader, '/'))
        {
          double by = read_value (reader);

          value = by == 0 ? NAN : value / by;
        }
      else
        return value;
    }
}

static double
read_sum (Reader *reader)
{
  double value = read_product (reader);

  for (;;)
    {
      if (take (reader, '+'))
        value += read_product (reader);
      else if (take (reader, '-'))
        value -= read_product (reader);
      else
        return value;
    }
}

static void
append_cell (GString *text, const BedScope *scope, const char *name, gsize length)
{
  gboolean first = *name == '^';
  guint column = find_column (scope, name + first, length - first);
  char letters[LXW_MAX_COL_NAME_LENGTH];

  lxw_col_to_name (letters, column, first);
  g_string_append_printf (text, first ? "%s$%u" : "%s%u", letters,
                          (first ? scope->first_row : scope->row) + 1);
}

/* A name with a star in it means itself in a condition, not all names like it. */
static void
append_condition_cell (GString *text, const BedScope *scope, const char *name, gsize length)
{
  guint column = find_column (scope, name, length);
  gboolean wild = scope->texts && scope->texts[column] && strpbrk (scope->texts[column], "~*?");

  g_string_append (text, wild ? "SUBSTITUTE(SUBSTITUTE(SUBSTITUTE(" : "");
  append_cell (text, scope, name, length);
  g_string_append (text, wild ? ",\"~\",\"~~\"),\"*\",\"~*\"),\"?\",\"~?\")" : "");
}

static void
append_text (GString *text, const char *formula, const BedScope *scope)
{
  for (const char *p = formula; *p; p++)
    {
      const char *end = *p == '[' ? strchr (p, ']') : *p == '{' ? strchr (p, '}') : NULL;

      if (*p == '[' && p > formula && p[-1] == '&')
        append_condition_cell (text, scope, p + 1, end - p - 1);
      else if (*p == '[')
        append_cell (text, scope, p + 1, end - p - 1);
      else if (*p == '{')
        g_string_append_printf (text, "\"%s\"", get_choice (p + 1, end - p - 1));
      else if (g_str_has_prefix (p, "MINOR"))
        {
          g_string_append_printf (text, "%" G_GINT64_FORMAT, bed_book_minor_units (scope->book));
          end = p + strlen ("MINOR") - 1;
        }
      else
        g_string_append_c (text, *p);
      if (end)
        p = end;
    }
}

/* Public */

double
bed_expression_value (const char *expression, const BedScope *scope)
{
  Reader reader = { .at = expression, .scope = scope };
  double value = read_sum (&reader);

  skip_space (&reader);
  if (*reader.at)
    g_error ("cannot read '%s' in '%s'", reader.at, expression);
  return isfinite (value) ? value : NAN;
}

char *
bed_expression_text (const char *expression, const BedScope *scope)
{
  GString *text = g_string_new ("=");
  gboolean may_fail = strchr (expression, '/') != NULL;

  g_string_append (text, may_fail ? "IFERROR(" : "");
  append_text (text, expression, scope);
  g_string_append (text, may_fail ? ",\"\")" : "");
  return g_string_free (text, FALSE);
}

char *
bed_formula_text (const char *formula, const BedScope *scope)
{
  GString *text = g_string_new ("=");

  append_text (text, formula, scope);
  return g_string_free (text, FALSE);
}
