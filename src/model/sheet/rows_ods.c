#include <glib/gi18n-lib.h>
#include <string.h>

#include "model/sheet/rows_number.h"
#include "model/sheet/rows_part.h"

/* The rows of a sheet of an .ods (OpenDocument 1.3 part 3, 9). All sheets are in one file of the
 * archive; cells and rows that are alike stand once, with their number. */

#define CONTENT "content.xml"
#define MOST_SHEETS 1024
/* Rows that are not empty and are said to be there so often are no records. */
#define MOST_ALIKE 10000
/* A sheet lies in document-content, body, spreadsheet: others are in a link or a drawing. */
#define DEPTH_OF_SHEET 3

typedef struct
{
  char *text;
  BedCellKind kind;
  guint column, columns, rows_left; /* a merged range, below its first row */
} Merged;

typedef struct
{
  BedBookPart *part;
  BedLine line;
  guint row;   /* number of the last one read */
  guint alike; /* rows as the last one that are still to come */
  GArray *merged;

  /* of the cell being read */
  guint repeated, empty_before;
  guint columns, rows;
  BedCellKind kind;
  GString *value, *said; /* as it is stored, and as it is shown */
  guint paragraphs;      /* of the cell, begun */
  gboolean in_paragraph;
  int aside;        /* depth of a note in the cell, or 0 */
  const char *over; /* what bound was crossed, in a sentence, or NULL */
} Ods;

static void
clear_merged (gpointer merged)
{
  g_free (((Merged *) merged)->text);
}

static void
ods_clear (BedRows *rows)
{
  Ods *self = rows->state;

  if (!self)
    return;
  g_clear_pointer (&self->part, bed_part_free);
  g_array_unref (self->merged);
  bed_line_clear (&self->line);
  g_string_free (self->value, TRUE);
  g_string_free (self->said, TRUE);
  g_clear_pointer (&rows->state, g_free);
}

/* --- which there are -------------------------------------------------------------------- */

/* A style of a sheet that is not shown. */
static void
take_style (BedBookPart *part, char **style, GHashTable *hidden)
{
  if (bed_part_is (part, "style"))
    {
      g_free (*style);
      *style = g_strdup (bed_part_get (part, "name"));
    }
  else if (bed_part_is (part, "table-properties") && *style)
    {
      const char *display = bed_part_get (part, "display");
      if (display && strcmp (display, "false") == 0)
        g_hash_table_add (hidden, g_strdup (*style));
    }
}

static gboolean
is_sheet (BedBookPart *part)
{
  return bed_part_get_depth (part) == DEPTH_OF_SHEET && bed_part_is (part, "table");
}

static gboolean
list_sheets (BedRows *rows, GError **error)
{
  g_autoptr (GHashTable) hidden = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  g_autoptr (BedBookPart) part = bed_part_open (rows->source, CONTENT, error);
  g_autofree char *style = NULL;
  BedPartStep step = BED_PART_WRONG;

  while (part && (step = bed_part_next (part, error)) < BED_PART_DONE)
    {
      if (step != BED_PART_BEGIN)
        continue;
      take_style (part, &style, hidden);
      if (!is_sheet (part))
        continue;
      const char *name = bed_part_get (part, "name"), *of = bed_part_get (part, "style-name");
      gboolean is_hidden = of && g_hash_table_contains (hidden, of);
      bed_rows_add_sheet (rows, name ? name : "", NULL, is_hidden ? BED_ROW_HIDDEN : BED_ROW_SHOWN);
      if (rows->sheets->len <= MOST_SHEETS)
        continue;
      g_set_error (error, BED_ROWS_ERROR, BED_ROWS_ERROR_BOUND,
                   _ ("The workbook has more than %d sheets. Save the one with the records by "
                      "itself."),
                   MOST_SHEETS);
      return FALSE;
    }
  return step == BED_PART_DONE;
}

static gboolean
begin (BedRows *rows, guint sheet, GError **error)
{
  Ods *self = g_new0 (Ods, 1);
  BedPartStep step = BED_PART_WRONG;
  guint passed = 0;

  rows->state = self;
  bed_line_init (&self->line);
  self->value = g_string_new (NULL);
  self->said = g_string_new (NULL);
  self->merged = g_array_new (FALSE, FALSE, sizeof (Merged));
  g_array_set_clear_func (self->merged, clear_merged);
  self->part = bed_part_open (rows->source, CONTENT, error);
  while (self->part && (step = bed_part_next (self->part, error)) < BED_PART_DONE)
    if (step == BED_PART_BEGIN && is_sheet (self->part) && passed++ == sheet)
      return TRUE;
  return FALSE;
}

/* --- values ----------------------------------------------------------------------------- */

/* PT14H30M00S or P1DT2H: 14:30, 26:00. */
static void
append_time (GString *to, const char *text)
{
  gint64 seconds = 0;

  for (const char *c = text; *c;)
    {
      char *end;
      double number = g_ascii_strtod (c, &end);
      if (end == c)
        {
          c++;
          continue;
        }
      number = CLAMP (number, 0, 1e9);
      seconds += *end == 'D'   ? number * 86400
                 : *end == 'H' ? number * 3600
                 : *end == 'M' ? number * 60
                 : *end == 'S' ? number + 0.5
                               : 0;
      c = *end ? end + 1 : end;
    }
  bed_number_append_time (to, MIN (seconds, G_MAXINT));
}

/* 2026-05-18T14:30:00.000 -> 2026-05-18T14:30; a midnight is a date. */
static void
append_date (GString *to, const char *text)
{
  const char *time = strchr (text, 'T');
  gsize length = time ? (gsize) (time - text) : strlen (text);

  if (time && strncmp (time, "T00:00:00", 9) != 0)
    {
      const char *seconds = strlen (time) >= 9 && time[6] == ':' ? time + 6 : NULL;
      length += seconds && strncmp (seconds, ":00", 3) == 0 ? 6 : MIN (strlen (time), 9);
    }
  g_string_append_len (to, text, length);
}

static void
append_number (GString *to, const char *text, gboolean percent)
{
  char *end;
  double number = g_ascii_strtod (text, &end);

  if (*end)
    g_string_append (to, text);
  else
    bed_number_append (to, number, percent ? BED_LOOK_PERCENT : BED_LOOK_NUMBER, BED_EPOCH_1900);
}

/* What the cell says that it is, before its content is read. */
static void
read_value (Ods *self)
{
  const char *type = bed_part_get (self->part, "value-type"), *value;

  self->kind = BED_CELL_TEXT;
  if (!type)
    return;
  if (strcmp (type, "date") == 0 && (value = bed_part_get (self->part, "date-value")))
    {
      self->kind = BED_CELL_DATE;
      append_date (self->value, value);
    }
  else if (strcmp (type, "time") == 0 && (value = bed_part_get (self->part, "time-value")))
    {
      self->kind = BED_CELL_TIME;
      append_time (self->value, value);
    }
  else if (strcmp (type, "boolean") == 0 && (value = bed_part_get (self->part, "boolean-value")))
    {
      self->kind = BED_CELL_TRUTH;
      g_string_append (self->value, strcmp (value, "true") == 0 ? "TRUE" : "FALSE");
    }
  else if (strcmp (type, "string") == 0 && (value = bed_part_get (self->part, "string-value")))
    g_string_append (self->value, value);
  else if ((value = bed_part_get (self->part, "value")))
    {
      gboolean percent = strcmp (type, "percentage") == 0;
      self->kind = percent ? BED_CELL_PERCENT : BED_CELL_NUMBER;
      append_number (self->value, value, percent);
    }
}

/* #DIV/0!, #N/A, Err:502 are shown of a formula that came to nothing; it is a text by its type, or
 * nought. */
static gboolean
is_error (const char *said)
{
  return g_str_has_prefix (said, "Err:")
         || (*said == '#'
             && (said[strlen (said) - 1] == '!' || strcmp (said, "#N/A") == 0
                 || strcmp (said, "#NAME?") == 0));
}

/* --- a cell ------------------------------------------------------------------------------ */

static void
begin_cell (Ods *self)
{
  gboolean covered = bed_part_is (self->part, "covered-table-cell");

  self->repeated
      = bed_part_get_count (self->part, "number-columns-repeated", 1, BED_ROWS_MOST_CELLS + 1);
  self->columns
      = covered ? 1
                : bed_part_get_count (self->part, "number-columns-spanned", 1, BED_ROWS_MOST_CELLS);
  self->rows
      = covered ? 1 : bed_part_get_count (self->part, "number-rows-spanned", 1, BED_ROWS_MOST_ROWS);
  g_string_truncate (self->value, 0);
  g_string_truncate (self->said, 0);
  self->paragraphs = 0;
  self->in_paragraph = FALSE;
  self->aside = 0;
  read_value (self);
}

/* What the cells of a merged range are as, in this row and those below. */
static void
begin_merged (Ods *self, const char *text, BedCellKind kind)
{
  Merged merged = { NULL, kind, self->line.cells->len - 1,
                    MIN (self->columns, BED_MERGED_MOST_COLUMNS), self->rows };

  if (strlen (text) > BED_MERGED_LONGEST)
    return;
  if (self->merged->len == BED_MERGED_MOST)
    self->over = _ ("More than 5,000 ranges of the sheet are merged. Take them apart, or save the "
                    "sheet as CSV.");
  merged.text = g_strdup (text);
  g_array_append_val (self->merged, merged);
}

static void
end_cell (Ods *self)
{
  gboolean error = is_error (self->said->str);
  const char *text = error || !self->value->len ? self->said->str : self->value->str;
  BedCellKind kind = error ? BED_CELL_ERROR : self->value->len ? self->kind : BED_CELL_TEXT;

  if (!*text)
    {
      self->empty_before = MIN (self->empty_before + self->repeated, BED_ROWS_MOST_CELLS + 1);
      return;
    }
  if (self->line.cells->len + self->empty_before + self->repeated > BED_ROWS_MOST_CELLS)
    {
      self->over = _ ("The row has more than 16,384 cells, which no sheet of a farm has.");
      return;
    }
  bed_line_pad (&self->line, self->line.cells->len + self->empty_before);
  self->empty_before = 0;
  for (guint i = 0; i < self->repeated && self->line.texts->len <= BED_ROWS_MOST_TEXT; i++)
    bed_line_add (&self->line, text, kind);
  if (self->columns > 1 || self->rows > 1)
    begin_merged (self, text, kind);
}

/* An element in a cell: paragraphs, and in them what stands for space. */
static void
begin_inside (Ods *self)
{
  if (self->aside)
    return;
  if (bed_part_is (self->part, "annotation") || bed_part_is (self->part, "shapes")
      || bed_part_is (self->part, "ruby-text"))
    self->aside = bed_part_is_empty (self->part) ? 0 : bed_part_get_depth (self->part);
  else if (bed_part_is (self->part, "p"))
    {
      if (self->paragraphs++ > 0)
        g_string_append_c (self->said, '\n');
      self->in_paragraph = !bed_part_is_empty (self->part);
    }
  else if (bed_part_is (self->part, "line-break"))
    g_string_append_c (self->said, '\n');
  else if (bed_part_is (self->part, "tab"))
    g_string_append_c (self->said, '\t');
  else if (bed_part_is (self->part, "s"))
    for (guint n = bed_part_get_count (self->part, "c", 1, 1000); n > 0; n--)
      g_string_append_c (self->said, ' ');
}

static gboolean
is_cell (BedBookPart *part)
{
  return bed_part_is (part, "table-cell") || bed_part_is (part, "covered-table-cell");
}

/* --- a row ------------------------------------------------------------------------------- */

static void
fill_merged (Ods *self)
{
  BedLine *line = &self->line;

  for (guint i = 0; i < self->merged->len;)
    {
      Merged *merged = &g_array_index (self->merged, Merged, i);

      bed_line_pad (line, MIN (merged->column + merged->columns, BED_ROWS_MOST_CELLS));
      gsize start = line->texts->len;
      g_string_append_len (line->texts, merged->text, strlen (merged->text) + 1);
      for (guint c = merged->column; c < merged->column + merged->columns && c < line->cells->len;
           c++)
        {
          BedCell *cell = &g_array_index (line->cells, BedCell, c);
          if (cell->kind == BED_CELL_EMPTY)
            *cell = (BedCell){ GSIZE_TO_POINTER (start), merged->kind, line->row.line };
        }
      if (--merged->rows_left == 0)
        g_array_remove_index (self->merged, i);
      else
        i++;
    }
}

/* One step of a row; FALSE at its end. */
static gboolean
take_step (Ods *self, BedPartStep step, int depth_of_row, gboolean *in_cell)
{
  if (step == BED_PART_TEXT)
    {
      if (*in_cell && self->in_paragraph && !self->aside)
        g_string_append (self->said, bed_part_get_text (self->part));
      return TRUE;
    }
  int depth = bed_part_get_depth (self->part);
  if (step == BED_PART_BEGIN && depth == depth_of_row + 1 && is_cell (self->part))
    {
      begin_cell (self);
      *in_cell = !bed_part_is_empty (self->part);
      if (!*in_cell)
        end_cell (self);
    }
  else if (step == BED_PART_BEGIN && *in_cell)
    begin_inside (self);
  else if (step == BED_PART_END && depth == self->aside)
    self->aside = 0;
  else if (step == BED_PART_END && !self->aside && bed_part_is (self->part, "p"))
    self->in_paragraph = FALSE;
  else if (step == BED_PART_END && depth == depth_of_row + 1 && is_cell (self->part))
    {
      end_cell (self);
      *in_cell = FALSE;
    }
  return !(step == BED_PART_END && depth == depth_of_row);
}

static gboolean
fail_bound (BedRows *rows, GError **error, const char *message)
{
  bed_rows_fail (rows, ((Ods *) rows->state)->line.row.line, 0, error, BED_ROWS_ERROR_BOUND,
                 message);
  return FALSE;
}

/* Cells and what is merged into them; FALSE on error. */
static gboolean
read_cells (BedRows *rows, GError **error)
{
  Ods *self = rows->state;
  int depth = bed_part_get_depth (self->part);
  gboolean in_cell = FALSE;
  BedPartStep step;

  self->empty_before = 0;
  for (gboolean more = !bed_part_is_empty (self->part); more;)
    {
      GError *why = NULL;
      if ((step = bed_part_next (self->part, &why)) >= BED_PART_DONE)
        {
          g_propagate_error (error, why);
          bed_rows_stop (rows, self->line.row.line);
          return FALSE;
        }
      more = take_step (self, step, depth, &in_cell);
      if (self->line.texts->len > BED_ROWS_MOST_TEXT || self->said->len > BED_ROWS_MOST_TEXT)
        self->over = _ ("The row is longer than 32 MB, which no row of a farm is.");
      if (self->over)
        return fail_bound (rows, error, self->over);
    }
  return TRUE;
}

/* A row that begins where the part is: *@found says whether it holds anything. */
static gboolean
read_row (BedRows *rows, gboolean *found, GError **error)
{
  Ods *self = rows->state;
  guint n = bed_part_get_count (self->part, "number-rows-repeated", 1, BED_ROWS_MOST_ROWS + 1);
  const char *visibility = bed_part_get (self->part, "visibility");
  gboolean is_hidden = visibility && strcmp (visibility, "visible") != 0;

  bed_line_begin (&self->line, self->row + 1);
  self->line.row.sight = is_hidden ? BED_ROW_HIDDEN : BED_ROW_SHOWN;
  if (!read_cells (rows, error))
    return FALSE;
  fill_merged (self);
  *found = self->line.cells->len > 0;
  self->alike = *found ? n - 1 : 0;
  self->row += *found ? 1 : n;
  if (*found && n > MOST_ALIKE)
    return fail_bound (rows, error,
                       _ ("The row is there more than 10,000 times over, which no record of a farm "
                          "is. Delete those that are too many."));
  if (*found && self->row > BED_ROWS_MOST_ROWS)
    return fail_bound (rows, error,
                       _ ("The sheet has more than 1,048,576 rows. Split it, or save it as CSV."));
  return TRUE;
}

static const BedSheetRow *
next (BedRows *rows, GError **error)
{
  Ods *self = rows->state;
  GError *why = NULL;
  BedPartStep step;
  gboolean found;

  if (self->alike > 0)
    {
      self->alike--;
      self->line.row.line = ++self->row;
      for (guint i = 0; i < self->line.cells->len; i++)
        g_array_index (self->line.cells, BedCell, i).line = self->row;
      return &self->line.row;
    }
  while ((step = bed_part_next (self->part, &why)) < BED_PART_DONE)
    {
      if (step == BED_PART_END && is_sheet (self->part))
        return NULL;
      if (step != BED_PART_BEGIN || !bed_part_is (self->part, "table-row"))
        continue;
      if (!read_row (rows, &found, error))
        return NULL;
      if (found)
        return bed_line_finish (&self->line);
    }
  if (!why)
    return NULL;
  g_propagate_error (error, why);
  return bed_rows_stop (rows, self->row);
}

static const BedRowsClass ods_class = { begin, next, ods_clear };

gboolean
bed_rows_open_ods (BedRows *self, GError **error)
{
  self->format = BED_ROWS_ODS;
  self->klass = &ods_class;
  return list_sheets (self, error) && bed_rows_choose_first (self, error);
}
