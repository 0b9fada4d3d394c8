#include "model/sheet/rows_private.h"

void
bed_line_init (BedLine *self)
{
  self->texts = g_string_new (NULL);
  self->cells = g_array_new (FALSE, FALSE, sizeof (BedCell));
}

void
bed_line_clear (BedLine *self)
{
  g_string_free (self->texts, TRUE);
  g_array_unref (self->cells);
}

void
bed_line_begin (BedLine *self, guint line)
{
  g_string_truncate (self->texts, 0);
  g_array_set_size (self->cells, 0);
  self->row = (BedSheetRow){ .line = line };
}

void
bed_line_end_cell (BedLine *self, gsize start, BedCellKind kind, guint line)
{
  BedCell cell = { GSIZE_TO_POINTER (start), kind, line };

  if (self->texts->len == start)
    cell.kind = BED_CELL_EMPTY;
  g_string_append_c (self->texts, '\0');
  g_array_append_val (self->cells, cell);
}

void
bed_line_add (BedLine *self, const char *text, BedCellKind kind)
{
  gsize start = self->texts->len;

  g_string_append (self->texts, text);
  bed_line_end_cell (self, start, kind, self->row.line);
}

void
bed_line_pad (BedLine *self, guint n)
{
  while (self->cells->len < n)
    bed_line_add (self, "", BED_CELL_EMPTY);
}

const BedSheetRow *
bed_line_finish (BedLine *self)
{
  BedCell *cells = (BedCell *) self->cells->data;

  self->row.n_cells = self->cells->len;
  self->row.cells = cells;
  for (guint i = 0; i < self->cells->len; i++)
    cells[i].text = self->texts->str + GPOINTER_TO_SIZE (cells[i].text);
  return &self->row;
}
