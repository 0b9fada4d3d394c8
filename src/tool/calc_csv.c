#include "tool/calc_csv.h"

#include <csv.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "tool/calc_command.h"

#define MAX_BYTES (64 * 1024 * 1024)

typedef struct
{
  GPtrArray *records; /* GPtrArray of char * */
  GPtrArray *current;
  GArray *lines;      /* of each record */
  int line;
} Reading;

static void
field_cb (void *field, size_t length, void *data)
{
  Reading *reading = data;

  g_ptr_array_add (reading->current, g_strndup (field, length));
}

static void
record_cb (int end, void *data)
{
  Reading *reading = data;

  if (reading->current->len > 0)
    {
      g_ptr_array_add (reading->records, reading->current);
      g_array_append_val (reading->lines, reading->line);
      reading->current = g_ptr_array_new_with_free_func (g_free);
    }
}

/* libcsv keeps no line numbers: it is fed line by line, so that every record ends in
 * the line being fed. */
static gboolean
split (Reading *reading, const char *text, gsize length)
{
  struct csv_parser parser;
  gboolean good = csv_init (&parser, CSV_STRICT | CSV_STRICT_FINI | CSV_APPEND_NULL) == 0;

  for (gsize at = 0; good && at < length;)
    {
      const char *end = memchr (text + at, '\n', length - at);
      gsize n = end ? (gsize) (end - (text + at)) + 1 : length - at;
      reading->line++;
      good = csv_parse (&parser, text + at, n, field_cb, record_cb, reading) == n;
      at += n;
    }
  good = good && csv_fini (&parser, field_cb, record_cb, reading) == 0;
  csv_free (&parser);
  return good;
}

/* `min (F)` is column min in F. */
static gboolean
match_head (const char *head, const char *column, char **unit)
{
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
find_column (const GPtrArray *head, const char *column, char **unit)
{
  for (guint i = 0; i < head->len; i++)
    if (match_head (g_strstrip (g_ptr_array_index (head, i)), column, unit))
      return (int) i;
  return -1;
}

static gboolean
find_columns (const GPtrArray *head, const char *const *columns, BedCalcTable *table, int *places,
              GError **error)
{
  for (int i = 0; columns[i]; i++)
    {
      gboolean optional = columns[i][0] == '?';

      table->columns[i] = g_strdup (columns[i] + optional);
      places[i] = find_column (head, table->columns[i], &table->units[i]);
      if (places[i] < 0 && !optional)
        {
          g_set_error (error, BED_CALC_ERROR, BED_CALC_ERROR_USAGE, "%s:1: no column “%s”",
                       table->path, table->columns[i]);
          return FALSE;
        }
      if (places[i] < 0)
        table->units[i] = g_strdup ("");
    }
  return TRUE;
}

static void
take_rows (const Reading *reading, const int *places, BedCalcTable *table)
{
  guint n = g_strv_length (table->columns);

  for (guint i = 1; i < reading->records->len; i++)
    {
      const GPtrArray *record = g_ptr_array_index (reading->records, i);
      char **row = g_new0 (char *, n + 1);

      for (guint c = 0; c < n; c++)
        row[c] = g_strdup (places[c] >= 0 && places[c] < (int) record->len
                               ? g_ptr_array_index (record, places[c])
                               : "");
      g_ptr_array_add (table->rows, row);
      g_array_append_val (table->lines, g_array_index (reading->lines, int, i));
    }
}

static BedCalcTable *
build (const char *path, const char *const *columns, const Reading *reading, GError **error)
{
  g_autoptr (BedCalcTable) table = g_new0 (BedCalcTable, 1);
  guint n = g_strv_length ((char **) columns);
  g_autofree int *places = g_new0 (int, n + 1);

  table->path = g_strdup (path);
  table->rows = g_ptr_array_new_with_free_func ((GDestroyNotify) g_strfreev);
  table->lines = g_array_new (FALSE, FALSE, sizeof (int));
  table->columns = g_new0 (char *, n + 1);
  table->units = g_new0 (char *, n + 1);
  if (reading->records->len == 0)
    {
      g_set_error (error, BED_CALC_ERROR, BED_CALC_ERROR_USAGE, "%s:1: the file is empty", path);
      return NULL;
    }
  if (!find_columns (g_ptr_array_index (reading->records, 0), columns, table, places, error))
    return NULL;
  take_rows (reading, places, table);
  return g_steal_pointer (&table);
}

BedCalcTable *
bed_calc_table_read (const char *path, const char *const *columns, GError **error)
{
  g_autoptr (GFile) file = g_file_new_for_commandline_arg (path);
  g_autofree char *text = NULL;
  gsize length = 0;

  if (!g_file_load_contents (file, NULL, &text, &length, NULL, error))
    return NULL;
  const char *start = g_str_has_prefix (text, "\xef\xbb\xbf") ? text + 3 : text;
  length -= (gsize) (start - text);
  if (length > MAX_BYTES || !g_utf8_validate (start, (gssize) length, NULL))
    {
      g_set_error (error, BED_CALC_ERROR, BED_CALC_ERROR_USAGE,
                   "%s: is too large, or not UTF-8 text", path);
      return NULL;
    }
  g_autoptr (GPtrArray) records
      = g_ptr_array_new_with_free_func ((GDestroyNotify) g_ptr_array_unref);
  g_autoptr (GArray) lines = g_array_new (FALSE, FALSE, sizeof (int));
  Reading reading = { records, g_ptr_array_new_with_free_func (g_free), lines, 0 };
  BedCalcTable *table = NULL;

  if (split (&reading, start, length))
    table = build (path, columns, &reading, error);
  else
    g_set_error (error, BED_CALC_ERROR, BED_CALC_ERROR_USAGE,
                 "%s:%d: a quoted field is not closed as it should be", path, reading.line);
  g_ptr_array_unref (reading.current);
  return table;
}

void
bed_calc_table_free (BedCalcTable *table)
{
  if (table == NULL)
    return;
  g_free (table->path);
  g_clear_pointer (&table->rows, g_ptr_array_unref);
  g_clear_pointer (&table->lines, g_array_unref);
  g_strfreev (table->columns);
  g_strfreev (table->units);
  g_free (table);
}

const char *
bed_calc_table_text (const BedCalcTable *table, guint row, int column)
{
  return ((char **) g_ptr_array_index (table->rows, row))[column];
}

gboolean
bed_calc_table_refuse (const BedCalcTable *table, guint row, int column, const char *what,
                       GError **error)
{
  g_set_error (error, BED_CALC_ERROR, BED_CALC_ERROR_USAGE, "%s:%d:%s: %s", table->path,
               g_array_index (table->lines, int, row), table->columns[column], what);
  return FALSE;
}

gboolean
bed_calc_table_measure (const BedCalcTable *table, guint row, int column, BedMeasure measure,
                        gint64 *value, GError **error)
{
  static const BedNotation notation = { BED_SYSTEM_METRIC, '.', 2 };
  g_autoptr (GError) local = NULL;

  if (bed_measure_parse_in (measure, &notation, table->units[column],
                            bed_calc_table_text (table, row, column), value, &local))
    return TRUE;
  return bed_calc_table_refuse (table, row, column, local->message, error);
}

gboolean
bed_calc_table_date (const BedCalcTable *table, guint row, int column, GDate *date,
                     GError **error)
{
  const char *text = bed_calc_table_text (table, row, column);
  int y, m, d, n = 0;

  if (sscanf (text, "%4d-%2d-%2d%n", &y, &m, &d, &n) != 3 || text[n] != '\0'
      || !g_date_valid_dmy ((GDateDay) CLAMP (d, 0, 255), m, (GDateYear) CLAMP (y, 0, 9999)))
    return bed_calc_table_refuse (table, row, column, "is not a date; write 2026-05-18", error);
  g_date_set_dmy (date, (GDateDay) d, m, (GDateYear) y);
  return TRUE;
}

gboolean
bed_calc_table_number (const BedCalcTable *table, guint row, int column, double *value,
                       GError **error)
{
  const char *text = bed_calc_table_text (table, row, column);
  char *end = NULL;

  *value = g_ascii_strtod (text, &end);
  /* strtod also takes nan, inf and hexadecimal: letters have no place here. */
  if (end != text && *end == '\0' && isfinite (*value) && !strpbrk (text, "xXnN"))
    return TRUE;
  return bed_calc_table_refuse (table, row, column, "is not a number; write for example 62.5",
                                error);
}
