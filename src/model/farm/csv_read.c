#include "model/farm/csv_read.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "model/farm/say.h"

/* Bytes of a message before and after what is left out of it. */
#define MOST_QUOTED 1000
/* Cells that are held at once, 12 bytes each and their texts. A few bytes of a workbook may stand
 * for as many as they like. */
#define MOST_CELLS 10000000

/* --- faults and guards --------------------------------------------------------- */

void
bed_csv_fault_free (BedCsvFault *fault)
{
  g_free (fault->file);
  g_free (fault->message);
  g_free (fault);
}

static char *
dup_place (const BedCsvFault *fault)
{
  if (fault->line == 0)
    return g_strdup (fault->file);
  if (fault->column == 0)
    return g_strdup_printf ("%s:%u", fault->file, fault->line);
  return g_strdup_printf ("%s:%u:%u", fault->file, fault->line, fault->column);
}

char *
bed_csv_fault_dup_text (const BedCsvFault *fault)
{
  g_autofree char *place = dup_place (fault);

  if (fault->more == 0)
    return g_strdup_printf ("%s: %s", place, fault->message);
  /* Translators: place, what is wrong; how many more, number of the last line. */
  return bed_say (ngettext ("%s: %s (And %u more like it, in line %u.)",
                            "%s: %s (And %u more like it, the last in line %u.)", fault->more),
                  place, fault->message, fault->more, fault->to_line);
}

/* Takes over @message. One that quotes a cell of megabytes keeps its beginning and its end,
 * which say what is wrong and what would be right. */
static char *
shorten (char *message)
{
  gsize length = strlen (message);

  if (length <= 2 * MOST_QUOTED)
    return message;
  const char *end = message + length - MOST_QUOTED;
  while ((*end & 0xc0) == 0x80)
    end++;
  const char *begun = g_utf8_find_prev_char (message, message + MOST_QUOTED);
  char *shown = g_strdup_printf ("%.*s … %s", (int) (begun - message), message, end);
  g_free (message);
  return shown;
}

void
bed_csv_add_fault (GPtrArray *faults, BedFaultSeverity severity, const char *file, guint line,
                   guint column, char *message)
{
  BedCsvFault *fault = g_new (BedCsvFault, 1);

  *fault = (BedCsvFault){ severity, g_strdup (file), line, column, shorten (message), 0, 0 };
  g_ptr_array_add (faults, fault);
}

static gboolean
is_dangerous (const char *text)
{
  return *text && strchr ("=+-@\t\r\n", *text);
}

char *
bed_csv_guard (const char *text)
{
  return is_dangerous (text + strspn (text, "'")) ? g_strconcat ("'", text, NULL) : g_strdup (text);
}

const char *
bed_csv_unguard (const char *cell)
{
  return *cell == '\'' && is_dangerous (cell + strspn (cell, "'")) ? cell + 1 : cell;
}

/* --- rows ------------------------------------------------------------------------ */

void
bed_csv_row_clear (BedCsvRow *row)
{
  g_free (row->cells);
  g_free (row->lines);
}

static void
row_free (BedCsvRow *row)
{
  bed_csv_row_clear (row);
  g_free (row);
}

void
bed_csv_table_free (BedCsvTable *table)
{
  g_string_chunk_free (table->texts);
  g_ptr_array_unref (table->rows);
  g_free (table);
}

gboolean
bed_csv_row_is_blank (const BedSheetRow *from)
{
  for (guint i = 0; i < from->n_cells; i++)
    if (from->cells[i].kind != BED_CELL_EMPTY)
      return FALSE;
  return TRUE;
}

void
bed_csv_row_take (BedCsvRow *row, const BedSheetRow *from)
{
  row->line = from->line;
  row->n_cells = from->n_cells;
  row->cells = g_renew (const char *, row->cells, from->n_cells);
  row->lines = g_renew (guint, row->lines, from->n_cells);
  for (guint i = 0; i < from->n_cells; i++)
    {
      row->cells[i] = from->cells[i].kind == BED_CELL_EMPTY ? "" : from->cells[i].text;
      row->lines[i] = from->cells[i].line;
    }
}

static void
add_row (BedCsvTable *table, const BedSheetRow *from)
{
  BedCsvRow *row = g_new0 (BedCsvRow, 1);

  bed_csv_row_take (row, from);
  for (guint i = 0; i < row->n_cells; i++)
    if (*row->cells[i])
      row->cells[i] = g_string_chunk_insert (table->texts, row->cells[i]);
    else
      row->cells[i] = "";
  g_ptr_array_add (table->rows, row);
}

/* --- files ------------------------------------------------------------------------ */

gboolean
bed_csv_take_error (GError *why, GError **error)
{
  gboolean failed = g_error_matches (why, BED_ROWS_ERROR, BED_ROWS_ERROR_FAILED)
                    || g_error_matches (why, BED_ROWS_ERROR, BED_ROWS_ERROR_NOT_FOUND);

  if (failed)
    g_set_error_literal (error, BED_FARM_ERROR,
                         why->code == BED_ROWS_ERROR_NOT_FOUND ? BED_FARM_ERROR_NOT_FOUND
                                                               : BED_FARM_ERROR_FAILED,
                         why->message);
  return failed;
}

BedCsvTable *
bed_csv_table_take (BedRows *rows, const char *path, GPtrArray *faults, GError **error)
{
  g_autoptr (BedCsvTable) table = g_new0 (BedCsvTable, 1);
  g_autoptr (GError) why = NULL;
  const BedSheetRow *row;
  gsize cells = 0;

  table->texts = g_string_chunk_new (1 << 16);
  table->rows = g_ptr_array_new_with_free_func ((GDestroyNotify) row_free);
  while (cells <= MOST_CELLS && (row = bed_rows_next (rows, &why)))
    if (!bed_csv_row_is_blank (row))
      {
        add_row (table, row);
        cells += row->n_cells;
      }
  if (why && bed_csv_take_error (why, error))
    return NULL;
  if (why)
    bed_csv_add_fault (faults, BED_FAULT_ERROR, path, bed_rows_get_line (rows),
                       bed_rows_get_column (rows), g_strdup (why->message));
  else if (cells > MOST_CELLS)
    bed_csv_add_fault (faults, BED_FAULT_ERROR, path, row->line, 0,
                       g_strdup (_ ("Up to here the file has more than 10,000,000 cells. Split it, "
                                    "and delete the columns that are not needed.")));
  else if (table->rows->len == 0)
    bed_csv_add_fault (faults, BED_FAULT_ERROR, path, 1, 0,
                       g_strdup (_ ("The file is empty. Its first line must name the fields.")));
  else
    return g_steal_pointer (&table);
  return NULL;
}

/* As this program writes them. */
static const BedReading own = { BED_ENCODING_UTF_8, ',', '"', 0 };

BedCsvTable *
bed_csv_table_parse (const char *path, const char *bytes, gsize length, GPtrArray *faults)
{
  g_autoptr (GBytes) held = g_bytes_new_static (bytes, length);
  g_autoptr (BedRows) rows = bed_rows_open_bytes (held, &own, NULL);

  return bed_csv_table_take (rows, path, faults, NULL);
}

BedCsvTable *
bed_csv_table_read (const char *path, GPtrArray *faults, GError **error)
{
  g_autoptr (GError) why = NULL;
  g_autoptr (BedRows) rows = bed_rows_open_file (path, &own, &why);

  if (rows)
    return bed_csv_table_take (rows, path, faults, error);
  if (!bed_csv_take_error (why, error))
    bed_csv_add_fault (faults, BED_FAULT_ERROR, path, 1, 0, g_strdup (why->message));
  return NULL;
}
