#include "report/kept.h"

#include <math.h>

struct _BedIndex
{
  GHashTable *sums; /* key -> double */
  GString *key;     /* the one being made */
};

/* Helpers */

static guint
count_cells (const BedKept *kept)
{
  return kept->numbers ? kept->numbers->len : kept->texts->len;
}

static gboolean
meets (const BedCondition *condition, guint i)
{
  const BedKept *column = condition->column;

  if (condition->test == BED_TEST_ABOVE)
    return column->numbers && g_array_index (column->numbers, double, i) > condition->number;
  if (condition->test == BED_TEST_BELOW)
    return column->numbers && g_array_index (column->numbers, double, i) < condition->number;
  gboolean equal = column->numbers
                       ? !condition->text
                             && g_array_index (column->numbers, double, i) == condition->number
                       : g_strcmp0 (column->texts->pdata[i], condition->text) == 0;
  return equal == (condition->test == BED_TEST_EQUAL);
}

static void
append_key (GString *key, const char *text, double number)
{
  if (text)
    g_string_append (key, text);
  else
    g_string_append_printf (key, "%.15g", number);
  g_string_append_c (key, '\x1f');
}

/* What does not vary is met. */
static gboolean
counts (const BedCondition *conditions, guint n, guint i)
{
  for (guint c = 0; c < n; c++)
    if (!conditions[c].varies && !meets (&conditions[c], i))
      return FALSE;
  return TRUE;
}

/* Rows of one batch or one lot follow each other. */
static gboolean
is_as_before (const BedCondition *conditions, guint n, guint i)
{
  for (guint c = 0; c < n; c++)
    {
      const BedKept *column = conditions[c].column;

      if (conditions[c].varies
          && (!column->texts || column->texts->pdata[i] != column->texts->pdata[i - 1]))
        return FALSE;
    }
  return TRUE;
}

static double *
find_sum (BedIndex *index, const BedCondition *conditions, guint n, guint i)
{
  g_string_truncate (index->key, 0);
  for (guint c = 0; c < n; c++)
    if (conditions[c].varies)
      {
        const BedKept *column = conditions[c].column;

        append_key (index->key, column->texts ? column->texts->pdata[i] : NULL,
                    column->numbers ? g_array_index (column->numbers, double, i) : 0);
      }
  double *sum = g_hash_table_lookup (index->sums, index->key->str);
  if (!sum)
    {
      sum = g_new0 (double, 1);
      g_hash_table_insert (index->sums, g_strdup (index->key->str), sum);
    }
  return sum;
}

/* Public */

BedKept *
bed_kept_new (BedBookCell cell)
{
  BedKept *kept = g_new0 (BedKept, 1);

  if (bed_cell_is_text (cell))
    kept->texts = g_ptr_array_new ();
  else
    kept->numbers = g_array_new (FALSE, FALSE, sizeof (double));
  return kept;
}

void
bed_kept_free (BedKept *kept)
{
  g_clear_pointer (&kept->texts, g_ptr_array_unref);
  g_clear_pointer (&kept->numbers, g_array_unref);
  g_free (kept);
}

double
bed_kept_scan (const BedKept *values, const BedCondition *conditions, guint n)
{
  double sum = 0;

  for (guint i = 0; i < count_cells (conditions[0].column); i++)
    {
      double value = values ? g_array_index (values->numbers, double, i) : 1;
      guint met = 0;

      while (met < n && meets (&conditions[met], i))
        met++;
      if (met == n && !isnan (value))
        sum += value;
    }
  return sum;
}

BedIndex *
bed_index_new (const BedKept *values, const BedCondition *conditions, guint n)
{
  BedIndex *index = g_new0 (BedIndex, 1);
  double *sum = NULL;
  guint last = 0;

  index->sums = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  index->key = g_string_new (NULL);
  for (guint i = 0; i < count_cells (conditions[0].column); i++)
    {
      double value = values ? g_array_index (values->numbers, double, i) : 1;

      /* A cell without a number adds nothing. */
      if (isnan (value) || !counts (conditions, n, i))
        continue;
      if (!sum || last + 1 != i || !is_as_before (conditions, n, i))
        sum = find_sum (index, conditions, n, i);
      *sum += value;
      last = i;
    }
  return index;
}

void
bed_index_free (BedIndex *index)
{
  g_hash_table_unref (index->sums);
  g_string_free (index->key, TRUE);
  g_free (index);
}

double
bed_index_find (BedIndex *index, const BedCondition *conditions, guint n)
{
  g_string_truncate (index->key, 0);
  for (guint c = 0; c < n; c++)
    if (conditions[c].varies)
      append_key (index->key, conditions[c].text, conditions[c].number);
  const double *sum = g_hash_table_lookup (index->sums, index->key->str);
  return sum ? *sum : 0;
}
