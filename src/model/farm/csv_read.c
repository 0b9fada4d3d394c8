#include "model/farm/csv_read.h"

#include <csv.h>
#include <errno.h>
#include <glib/gi18n-lib.h>
#include <string.h>

/* Bytes of a message before and after what is left out of it. */
#define MOST_QUOTED 1000

typedef struct
{
  BedCsvTable *table;
  GPtrArray *cells; /* of the row being read, borrowed from table->texts */
  GArray *lines;
  guint line;       /* physical line being fed */
  guint begun_on;   /* line the next cell begins on */
  gboolean between; /* no cell of a row has been seen yet */
} Reader;

/* --- faults and guards --------------------------------------------------------- */

void
bed_csv_fault_free (BedCsvFault *fault)
{
  g_free (fault->file);
  g_free (fault->message);
  g_free (fault);
}

char *
bed_csv_fault_dup_text (const BedCsvFault *fault)
{
  if (fault->line == 0)
    return g_strdup_printf ("%s: %s", fault->file, fault->message);
  if (fault->column == 0)
    return g_strdup_printf ("%s:%u: %s", fault->file, fault->line, fault->message);
  return g_strdup_printf ("%s:%u:%u: %s", fault->file, fault->line, fault->column, fault->message);
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

  *fault = (BedCsvFault){ severity, g_strdup (file), line, column, shorten (message) };
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

static void
row_free (BedCsvRow *row)
{
  g_free (row->cells);
  g_free (row->lines);
  g_free (row);
}

static void
cell_cb (void *bytes, size_t length, void *data)
{
  Reader *self = data;
  const char *text = g_string_chunk_insert_len (self->table->texts, bytes ? bytes : "", length);

  g_ptr_array_add (self->cells, (gpointer) text);
  g_array_append_val (self->lines, self->begun_on);
  self->begun_on = self->line;
  self->between = FALSE;
}

static gboolean
is_blank (GPtrArray *cells)
{
  for (guint i = 0; i < cells->len; i++)
    if (*(const char *) cells->pdata[i])
      return FALSE;
  return TRUE;
}

static void
row_cb (int end, void *data)
{
  Reader *self = data;

  if (!is_blank (self->cells))
    {
      BedCsvRow *row = g_new (BedCsvRow, 1);
      row->line = g_array_index (self->lines, guint, 0);
      row->n_cells = self->cells->len;
      row->cells = g_memdup2 (self->cells->pdata, row->n_cells * sizeof (char *));
      row->lines = g_memdup2 (self->lines->data, row->n_cells * sizeof (guint));
      g_ptr_array_add (self->table->rows, row);
    }
  g_ptr_array_set_size (self->cells, 0);
  g_array_set_size (self->lines, 0);
  self->between = TRUE;
}

/* --- bytes ------------------------------------------------------------------------ */

/* Up to and with the line end: LF, CRLF or a lone CR. */
static gsize
line_length (const char *at, gsize left)
{
  gsize i = 0;

  while (i < left && at[i] != '\n' && at[i] != '\r')
    i++;
  if (i + 1 < left && at[i] == '\r' && at[i + 1] == '\n')
    i++;
  return MIN (i + 1, left);
}

/* libcsv does not say where it is, so it is fed line by line. */
static gboolean
feed (Reader *self, struct csv_parser *parser, const char *bytes, gsize length)
{
  for (gsize done = 0, n; done < length; done += n)
    {
      n = line_length (bytes + done, length - done);
      self->line++;
      if (self->between)
        self->begun_on = self->line;
      if (csv_parse (parser, bytes + done, n, cell_cb, row_cb, self) != n)
        return FALSE;
      /* A quoted first cell may run over lines with no cell ended yet. */
      if (parser->quoted)
        self->between = FALSE;
    }
  return csv_fini (parser, cell_cb, row_cb, self) == 0;
}

static gboolean
check_utf8 (const char *path, const char *bytes, gsize length, GPtrArray *faults)
{
  const char *end;
  guint line = 1;

  if (g_utf8_validate (bytes, length, &end))
    return TRUE;
  for (const char *c = bytes; c < end; c++)
    line += *c == '\n';
  bed_csv_add_fault (faults, BED_FAULT_ERROR, path, line, 0,
                     g_strdup (_ ("This is not UTF-8 text. Save the file as CSV with UTF-8 "
                                  "characters.")));
  return FALSE;
}

static char *
get_contents (const char *path, gsize *length, GError **error)
{
  g_autoptr (GError) why = NULL;
  char *bytes;

  if (g_file_get_contents (path, &bytes, length, &why))
    return bytes;
  /* It names the file and the reason, in the user's language. */
  g_set_error_literal (error, BED_FARM_ERROR,
                       g_error_matches (why, G_FILE_ERROR, G_FILE_ERROR_NOENT)
                           ? BED_FARM_ERROR_NOT_FOUND
                           : BED_FARM_ERROR_FAILED,
                       why->message);
  return NULL;
}

void
bed_csv_table_free (BedCsvTable *table)
{
  g_string_chunk_free (table->texts);
  g_ptr_array_unref (table->rows);
  g_free (table);
}

static BedCsvTable *
parse (const char *path, const char *bytes, gsize length, GPtrArray *faults)
{
  g_autoptr (BedCsvTable) table = g_new0 (BedCsvTable, 1);
  g_autoptr (GPtrArray) cells = g_ptr_array_new ();
  g_autoptr (GArray) lines = g_array_new (FALSE, FALSE, sizeof (guint));
  Reader self = { table, cells, lines, 0, 1, TRUE };
  struct csv_parser parser;

  table->texts = g_string_chunk_new (1 << 16);
  table->rows = g_ptr_array_new_with_free_func ((GDestroyNotify) row_free);
  csv_init (&parser, CSV_STRICT | CSV_STRICT_FINI | CSV_APPEND_NULL);
  gboolean sound = feed (&self, &parser, bytes, length);
  guint column = cells->len + 1;
  csv_free (&parser);
  if (!sound)
    bed_csv_add_fault (faults, BED_FAULT_ERROR, path, self.begun_on, column,
                       g_strdup (_ ("A quotation mark is left open or stands inside a field. Put "
                                    "the whole field in quotation marks and write each one inside "
                                    "it twice.")));
  return sound ? g_steal_pointer (&table) : NULL;
}

BedCsvTable *
bed_csv_table_parse (const char *path, const char *bytes, gsize length, GPtrArray *faults)
{
  if (length >= 3 && memcmp (bytes, "\xef\xbb\xbf", 3) == 0)
    {
      bytes += 3;
      length -= 3;
    }
  if (!check_utf8 (path, bytes, length, faults))
    return NULL;
  BedCsvTable *table = parse (path, bytes, length, faults);
  if (!table || table->rows->len > 0)
    return table;
  bed_csv_add_fault (faults, BED_FAULT_ERROR, path, 1, 0,
                     g_strdup (_ ("The file is empty. Its first line must name the fields.")));
  bed_csv_table_free (table);
  return NULL;
}

BedCsvTable *
bed_csv_table_read (const char *path, GPtrArray *faults, GError **error)
{
  gsize length;
  g_autofree char *bytes = get_contents (path, &length, error);

  return bytes ? bed_csv_table_parse (path, bytes, length, faults) : NULL;
}
