#include "tool/calc/calc_csv.h"

#include <string.h>

#include "model/farm/csv_read.h"
#include "science/units.h"

struct _BedCalcTable
{
  char *path;
  BedCsvTable *csv;
  char **columns;
  char **units; /* the `F` of a head `min (F)`; "" for none */
  int *places;  /* in the file, from 0; -1: an optional column that is absent */
};

/* `min (F)` is column min in F. */
static gboolean
match_head (const char *cell, const char *column, char **unit)
{
  g_autofree char *head = g_strstrip (g_strdup (cell));
  gsize n = strlen (column);

  if (g_ascii_strncasecmp (head, column, n) != 0)
    return FALSE;
  const char *rest = head + n + strspn (head + n, " ");
  gsize length = strlen (rest);
  if (length == 0)
    *unit = g_strdup ("");
  else if (rest[0] == '(' && rest[length - 1] == ')')
    *unit = g_strndup (rest + 1, length - 2);
  else
    return FALSE;
  return TRUE;
}

static int
find_column (const BedCsvRow *head, const char *column, char **unit)
{
  for (guint i = 0; i < head->n_cells; i++)
    if (match_head (head->cells[i], column, unit))
      return (int) i;
  *unit = g_strdup ("");
  return -1;
}

static gboolean
find_columns (BedCalcTable *table, const char *const *columns, GError **error)
{
  const BedCsvRow *head = table->csv->rows->pdata[0];

  for (int i = 0; columns[i]; i++)
    {
      gboolean optional = columns[i][0] == '?';

      table->columns[i] = g_strdup (columns[i] + optional);
      table->places[i] = find_column (head, table->columns[i], &table->units[i]);
      if (table->places[i] >= 0 || optional)
        continue;
      return bed_calc_refuse (error, "%s:%u: no column “%s”", table->path, head->line,
                              table->columns[i]);
    }
  return TRUE;
}

/* Reads the file; what is wrong with it as CSV is one error of one or more lines. */
static BedCsvTable *
read_csv (const char *path, GError **error)
{
  g_autoptr (GPtrArray) faults
      = g_ptr_array_new_with_free_func ((GDestroyNotify) bed_csv_fault_free);
  g_autoptr (GError) why = NULL;
  BedCsvTable *csv = bed_csv_table_read (path, faults, &why);

  if (why)
    g_set_error_literal (error, G_FILE_ERROR, G_FILE_ERROR_FAILED, why->message);
  else if (csv == NULL)
    {
      g_autofree char *text = bed_csv_fault_dup_text (faults->pdata[0]);
      g_set_error_literal (error, BED_CALC_ERROR, BED_CALC_ERROR_USAGE, text);
    }
  return csv;
}

static const BedCsvRow *
row_at (const BedCalcTable *table, guint row)
{
  return table->csv->rows->pdata[row + 1];
}

BedCalcTable *
bed_calc_table_read (BedCalc *calc, const char *option, const char *const *columns, GError **error)
{
  g_autoptr (BedCalcTable) table = g_new0 (BedCalcTable, 1);
  guint n = g_strv_length ((char **) columns);

  table->path = g_strdup (bed_calc_text (calc, option));
  table->columns = g_new0 (char *, n + 1);
  table->units = g_new0 (char *, n + 1);
  table->places = g_new0 (int, n + 1);
  table->csv = read_csv (table->path, error);
  return table->csv && find_columns (table, columns, error) ? g_steal_pointer (&table) : NULL;
}

void
bed_calc_table_free (BedCalcTable *table)
{
  if (table == NULL)
    return;
  g_free (table->path);
  g_clear_pointer (&table->csv, bed_csv_table_free);
  g_strfreev (table->columns);
  g_strfreev (table->units);
  g_free (table->places);
  g_free (table);
}

guint
bed_calc_table_length (const BedCalcTable *table)
{
  return table->csv->rows->len - 1;
}

const char *
bed_calc_table_text (const BedCalcTable *table, guint row, int column)
{
  const BedCsvRow *cells = row_at (table, row);
  int place = table->places[column];

  return place >= 0 && place < (int) cells->n_cells ? cells->cells[place] : "";
}

gboolean
bed_calc_table_refuse (const BedCalcTable *table, guint row, int column, const char *what,
                       GError **error)
{
  const BedCsvRow *cells = row_at (table, row);
  int place = table->places[column];
  guint line = place >= 0 && place < (int) cells->n_cells ? cells->lines[place] : cells->line;

  return bed_calc_refuse (error, "%s:%u:%d: %s: %s", table->path, line, place + 1,
                          table->columns[column], what);
}

gboolean
bed_calc_table_value (const BedCalcTable *table, guint row, int column, BedMeasure measure,
                      double *value, GError **error)
{
  static const BedNotation notation = { BED_SYSTEM_METRIC, '.', 2 };
  g_autoptr (GError) local = NULL;
  gint64 stored;

  if (!bed_measure_parse_in (measure, &notation, table->units[column],
                             bed_calc_table_text (table, row, column), &stored, &local))
    return bed_calc_table_refuse (table, row, column, local->message, error);
  *value = (double) stored / bed_calc_scale (measure);
  return TRUE;
}

gboolean
bed_calc_table_date (const BedCalcTable *table, guint row, int column, GDate *date, GError **error)
{
  return bed_calc_read_date (bed_calc_table_text (table, row, column), date)
         || bed_calc_table_refuse (table, row, column, "is not a date; write 2026-05-18", error);
}

gboolean
bed_calc_table_number (const BedCalcTable *table, guint row, int column, double *value,
                       GError **error)
{
  return bed_calc_read_number (bed_calc_table_text (table, row, column), value)
         || bed_calc_table_refuse (table, row, column, "is not a number; write for example 62.5",
                                   error);
}
