#include "tool/calc_csv.h"

#include <csv.h>
#include <math.h>
#include <string.h>

struct _BedCalcTable
{
  char *name;      /* of the file, for messages */
  GPtrArray *rows; /* GPtrArray of text; the first is the head */
  GPtrArray *row;  /* being read */
};

static gboolean G_GNUC_PRINTF (2, 3)
refuse (GError **error, const char *format, ...)
{
  va_list args;

  va_start (args, format);
  g_autofree char *message = g_strdup_vprintf (format, args);
  va_end (args);
  g_set_error_literal (error, BED_CALC_ERROR, BED_CALC_ERROR_USAGE, message);
  return FALSE;
}

static void
cell_cb (void *cell, size_t length, void *data)
{
  BedCalcTable *table = data;
  g_autofree char *text = g_strndup (cell, length);

  g_ptr_array_add (table->row, g_strdup (g_strstrip (text)));
}

static void
row_cb (int last, void *data)
{
  BedCalcTable *table = data;

  g_ptr_array_add (table->rows, table->row);
  table->row = g_ptr_array_new_with_free_func (g_free);
}

static GPtrArray *
row_at (BedCalcTable *table, guint row)
{
  return g_ptr_array_index (table->rows, row);
}

/* The place of @column in the head, or -1. */
static int
find_column (BedCalcTable *table, const char *column)
{
  GPtrArray *head = row_at (table, 0);

  for (guint i = 0; i < head->len; i++)
    if (strcmp (g_ptr_array_index (head, i), column) == 0)
      return (int) i;
  return -1;
}

static gboolean
parse (BedCalcTable *table, const char *text, gsize length, GError **error)
{
  struct csv_parser parser;

  if (csv_init (&parser, CSV_STRICT | CSV_STRICT_FINI) != 0)
    g_error ("out of memory");
  gboolean done = csv_parse (&parser, text, length, cell_cb, row_cb, table) == length
                  && csv_fini (&parser, cell_cb, row_cb, table) == 0;
  csv_free (&parser);
  if (!done)
    return refuse (error, "%s: row %u: a quotation mark is out of place", table->name,
                   table->rows->len + 1);
  return TRUE;
}

static gboolean
is_known (const BedCalcColumn *columns, const char *name)
{
  for (const BedCalcColumn *column = columns; column->name; column++)
    if (strcmp (column->name, name) == 0)
      return TRUE;
  return FALSE;
}

static gboolean
check_head (BedCalcTable *table, const BedCalcColumn *columns, GError **error)
{
  if (table->rows->len < 2)
    return refuse (error, "%s: a row of column names and at least one row of values are needed",
                   table->name);
  GPtrArray *head = row_at (table, 0);
  for (guint i = 0; i < head->len; i++)
    {
      const char *name = g_ptr_array_index (head, i);
      if (!is_known (columns, name))
        return refuse (error, "%s: there is no column “%s” here", table->name, name);
      if (find_column (table, name) != (int) i)
        return refuse (error, "%s: column “%s” is there twice", table->name, name);
    }
  for (const BedCalcColumn *column = columns; column->name; column++)
    if (column->need == BED_CALC_REQUIRED && find_column (table, column->name) < 0)
      return refuse (error, "%s: column “%s” is missing", table->name, column->name);
  for (guint row = 1; row < table->rows->len; row++)
    if (row_at (table, row)->len != head->len)
      return refuse (error, "%s: row %u has %u cells where the head has %u", table->name, row + 1,
                     row_at (table, row)->len, head->len);
  return TRUE;
}

BedCalcTable *
bed_calc_table_read (const char *path, const BedCalcColumn *columns, GError **error)
{
  g_return_val_if_fail (path != NULL && columns != NULL, NULL);
  g_autofree char *text = NULL;
  gsize length;

  if (!g_file_get_contents (path, &text, &length, error))
    return NULL;
  g_autoptr (BedCalcTable) table = g_new0 (BedCalcTable, 1);
  table->name = g_path_get_basename (path);
  table->rows = g_ptr_array_new_with_free_func ((GDestroyNotify) g_ptr_array_unref);
  table->row = g_ptr_array_new_with_free_func (g_free);
  if (!g_utf8_validate_len (text, length, NULL))
    {
      refuse (error, "%s: the text is not UTF-8", table->name);
      return NULL;
    }
  /* Spreadsheets put a byte order mark in front. */
  gsize mark = g_str_has_prefix (text, "\xef\xbb\xbf") ? 3 : 0;
  if (!parse (table, text + mark, length - mark, error) || !check_head (table, columns, error))
    return NULL;
  return g_steal_pointer (&table);
}

void
bed_calc_table_free (BedCalcTable *table)
{
  if (table == NULL)
    return;
  g_free (table->name);
  g_ptr_array_unref (table->rows);
  g_ptr_array_unref (table->row);
  g_free (table);
}

guint
bed_calc_table_n_rows (BedCalcTable *table)
{
  g_return_val_if_fail (table != NULL, 0);
  return table->rows->len - 1;
}

const char *
bed_calc_table_text (BedCalcTable *table, guint row, const char *column)
{
  g_return_val_if_fail (row < bed_calc_table_n_rows (table), "");
  int place = find_column (table, column);

  return place < 0 ? "" : g_ptr_array_index (row_at (table, row + 1), place);
}

gboolean
bed_calc_table_number (BedCalcTable *table, guint row, const char *column, double *value,
                       GError **error)
{
  const char *text = bed_calc_table_text (table, row, column);
  char *end = NULL;

  *value = g_ascii_strtod (text, &end);
  /* strtod also takes hexadecimal, nan and inf. */
  if (*text == '\0' || *end != '\0' || !isfinite (*value) || strpbrk (text, "xX"))
    return refuse (error, "%s: row %u: %s: “%s” is not a number; write for example 12.5",
                   table->name, row + 2, column, text);
  return TRUE;
}

gboolean
bed_calc_table_count (BedCalcTable *table, guint row, const char *column, guint fallback,
                      guint *value, GError **error)
{
  const char *text = bed_calc_table_text (table, row, column);
  guint64 count = fallback;

  if (*text != '\0' && !g_ascii_string_to_unsigned (text, 10, 0, G_MAXUINT, &count, NULL))
    return refuse (error, "%s: row %u: %s: “%s” is not a whole number from 0 up", table->name,
                   row + 2, column, text);
  *value = (guint) count;
  return TRUE;
}
