#include "fuzz_rows.h"

#include <string.h>

#include "fuzz.h"

static void
assert_row (BedRows *rows, const BedSheetRow *row, guint before)
{
  g_assert_cmpuint (row->line, >, before);
  g_assert_cmpuint (row->n_cells, <=, 16384);
  for (guint i = 0; i < row->n_cells; i++)
    {
      const BedCell *cell = &row->cells[i];
      g_assert_true (g_utf8_validate (cell->text, -1, NULL));
      g_assert_cmpint (cell->kind == BED_CELL_EMPTY, ==, *cell->text == '\0');
      g_assert_cmpuint (cell->line, >=, row->line);
    }
}

static guint
read_sheet (BedRows *rows)
{
  g_autoptr (GError) error = NULL;
  const BedSheetRow *row;
  guint n = 0, before = 0;

  while ((row = bed_rows_next (rows, &error)))
    {
      assert_row (rows, row, before);
      before = row->line;
      n++;
    }
  if (error)
    fuzz_assert_said (error);
  return n;
}

guint
fuzz_rows_read (GBytes *bytes, const BedReading *reading)
{
  g_autoptr (GBytes) taken = bytes;
  g_autoptr (GError) error = NULL;
  g_autoptr (BedRows) rows = bed_rows_open_bytes (taken, reading, &error);
  guint n = 0;

  if (!rows)
    {
      fuzz_assert_said (error);
      return 0;
    }
  for (guint i = 0; i < MIN (bed_rows_get_n_sheets (rows), 4); i++)
    {
      g_autoptr (GError) why = NULL;
      g_assert_true (g_utf8_validate (bed_rows_get_sheet_name (rows, i), -1, NULL));
      if (bed_rows_choose_sheet (rows, i, &why))
        n += read_sheet (rows);
      else
        fuzz_assert_said (why);
    }
  return n;
}
