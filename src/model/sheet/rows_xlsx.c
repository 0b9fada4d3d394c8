#include "model/sheet/rows_xlsx.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/* The rows of a sheet of an .xlsx (ECMA-376 part 1, 18.3): a cell says its kind and style, and has
 * a value; a formula has the value it came to when it was saved. */

typedef enum
{
  IN_SHEET,
  IN_ROW,
  IN_CELL,
  IN_VALUE,
} Place;

static void
xlsx_clear (BedRows *rows)
{
  BedXlsx *self = rows->state;

  if (!self)
    return;
  g_clear_pointer (&self->part, bed_part_free);
  g_clear_pointer (&self->looks, g_array_unref);
  g_clear_pointer (&self->shared_at, g_array_unref);
  g_clear_pointer (&self->merged, g_array_unref);
  g_string_free (self->shared, TRUE);
  bed_line_clear (&self->line);
  g_clear_pointer (&rows->state, g_free);
}

static gboolean
begin (BedRows *rows, guint sheet, GError **error)
{
  BedXlsx *self = g_new0 (BedXlsx, 1);
  const char *part = g_array_index (rows->sheets, BedRowsSheet, sheet).part;
  g_autofree char *book = bed_xlsx_find_book (rows->source);

  rows->state = self;
  bed_line_init (&self->line);
  if (!bed_xlsx_read_beside (self, rows->source, book, error)
      || !bed_merged_read (self, rows->source, part, error))
    return FALSE;
  self->part = bed_part_open (rows->source, part, error);
  return self->part != NULL;
}

/* --- a cell ------------------------------------------------------------------------------ */

typedef struct
{
  char type[16]; /* n, s, b, e, str, inlineStr, d */
  BedNumberLook look;
  guint column;
  GString *value;
  BedXlsxText text;
  gboolean in_value;
} Cell;

static void
end_cell (BedXlsx *self, Cell *cell)
{
  BedLine *line = &self->line;
  const char *value = cell->value->str;
  BedCellKind kind = BED_CELL_TEXT;

  /* Cells with a look and no value may go on to the end of the sheet. */
  if (!*value)
    return;
  bed_line_pad (line, cell->column - 1);
  gsize start = line->texts->len;
  if (strcmp (cell->type, "s") == 0)
    {
      guint64 at = g_ascii_strtoull (value, NULL, 10);
      if (at < self->shared_at->len)
        g_string_append (line->texts,
                         self->shared->str + g_array_index (self->shared_at, gsize, at));
    }
  else if (strcmp (cell->type, "b") == 0)
    {
      g_string_append (line->texts, strcmp (value, "1") == 0 ? "TRUE" : "FALSE");
      kind = BED_CELL_TRUTH;
    }
  else if (strcmp (cell->type, "n") == 0)
    {
      char *end;
      double number = g_ascii_strtod (value, &end);
      if (*end)
        g_string_append (line->texts, value);
      else
        kind = bed_number_append (line->texts, number, cell->look, self->epoch);
    }
  else
    {
      g_string_append (line->texts, value);
      kind = strcmp (cell->type, "e") == 0   ? BED_CELL_ERROR
             : strcmp (cell->type, "d") == 0 ? BED_CELL_DATE
                                             : BED_CELL_TEXT;
    }
  bed_line_end_cell (line, start, kind, line->row.line);
}

static void
begin_cell (BedXlsx *self, Cell *cell)
{
  const char *type = bed_part_get (self->part, "t"), *place = bed_part_get (self->part, "r");
  guint style = bed_part_get_count (self->part, "s", 0, G_MAXINT), row;

  g_strlcpy (cell->type, type ? type : "n", sizeof cell->type);
  cell->look = style < self->looks->len ? g_array_index (self->looks, guint8, style)
                                        : BED_LOOK_NUMBER;
  cell->column++;
  if (place)
    {
      bed_xlsx_read_place (place, &cell->column, &row);
      cell->column = MAX (cell->column, self->line.cells->len + 1);
    }
  g_string_truncate (cell->value, 0);
  cell->text = (BedXlsxText){ 0 };
  cell->in_value = FALSE;
}

/* FALSE at the end of the row. */
static gboolean
take_step (BedXlsx *self, Cell *cell, BedPartStep step)
{
  gboolean end = step == BED_PART_END || (step == BED_PART_BEGIN && bed_part_is_empty (self->part));

  if (strcmp (cell->type, "inlineStr") == 0)
    bed_xlsx_text_step (&cell->text, self->part, step, cell->value);
  if (step == BED_PART_TEXT)
    {
      if (cell->in_value && strcmp (cell->type, "inlineStr") != 0)
        bed_xlsx_append_text (cell->value, bed_part_get_text (self->part));
      return TRUE;
    }
  if (bed_part_is (self->part, "v"))
    cell->in_value = !end;
  else if (bed_part_is (self->part, "c"))
    {
      if (step == BED_PART_BEGIN)
        begin_cell (self, cell);
      if (end && cell->column <= BED_ROWS_MOST_CELLS)
        end_cell (self, cell);
    }
  return !(end && bed_part_is (self->part, "row"));
}

/* --- a row ------------------------------------------------------------------------------- */

static gboolean
begin_row (BedXlsx *self)
{
  guint before = self->line.row.line;
  const char *hidden = bed_part_get (self->part, "hidden");

  bed_line_begin (&self->line,
                  bed_part_get_count (self->part, "r", before + 1, BED_ROWS_MOST_ROWS + 1));
  if (hidden && (strcmp (hidden, "1") == 0 || strcmp (hidden, "true") == 0))
    self->line.row.sight = BED_ROW_HIDDEN;
  return self->line.row.line <= BED_ROWS_MOST_ROWS && self->line.row.line > before;
}

static const BedSheetRow *
read_row (BedRows *rows, GError **error)
{
  BedXlsx *self = rows->state;
  g_autoptr (GString) value = g_string_new (NULL);
  Cell cell = { .value = value };
  GError *why = NULL;
  BedPartStep step;

  for (gboolean more = !bed_part_is_empty (self->part); more;)
    {
      if ((step = bed_part_next (self->part, &why)) >= BED_PART_DONE)
        {
          g_propagate_error (error, why);
          return bed_rows_stop (rows, self->line.row.line);
        }
      more = take_step (self, &cell, step);
      if (cell.column > BED_ROWS_MOST_CELLS || self->line.texts->len > BED_ROWS_MOST_TEXT
          || value->len > BED_ROWS_MOST_TEXT)
        return bed_rows_fail (rows, self->line.row.line, 0, error, BED_ROWS_ERROR_BOUND,
                              _ ("The row has more than 16,384 cells or 32 MB, which no row of a "
                                 "farm has."));
    }
  bed_merged_fill (self);
  return bed_line_finish (&self->line);
}

static const BedSheetRow *
next (BedRows *rows, GError **error)
{
  BedXlsx *self = rows->state;
  GError *why = NULL;
  BedPartStep step;

  while ((step = bed_part_next (self->part, &why)) < BED_PART_DONE)
    {
      if (step != BED_PART_BEGIN || !bed_part_is (self->part, "row"))
        continue;
      if (begin_row (self))
        return read_row (rows, error);
      return bed_rows_fail (rows, self->line.row.line, 0, error, BED_ROWS_ERROR_BOUND,
                            _ ("The rows are not in their order, or are more than 1,048,576. Save "
                               "the sheet again, or as CSV."));
    }
  if (!why)
    return NULL;
  g_propagate_error (error, why);
  return bed_rows_stop (rows, self->line.row.line);
}

static const BedRowsClass xlsx_class = { begin, next, xlsx_clear };

gboolean
bed_rows_open_xlsx (BedRows *self, GError **error)
{
  g_autofree char *book = bed_xlsx_find_book (self->source);

  self->format = BED_ROWS_XLSX;
  self->klass = &xlsx_class;
  return bed_xlsx_read_book (self, book, error) && bed_rows_choose_first (self, error);
}
