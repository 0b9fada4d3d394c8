/* What goes through the queue comes out as if it had been written at once, however much it is. */
#include <glib/gstdio.h>
#include <math.h>

#include "report/cell_queue.h"

#define COLUMNS 5

/* By one value of each kind. */
static BedCellValue
make_cell (guint i, char *text, gsize size, lxw_format *format)
{
  BedCellValue cell
      = { .row = i / COLUMNS, .column = i % COLUMNS, .format = format, .number = i / 7.0 };

  g_snprintf (text, size, "%c%u", i % 2 ? '=' : 'L', i);
  if (cell.column == 1)
    cell.text = text;
  if (cell.column == 2)
    cell.number = NAN;
  if (cell.column >= 3)
    cell.formula = text;
  if (cell.column == 4 && i % 3 == 0)
    cell.number = NAN;
  return cell;
}

static void
write_book (const char *path, guint n, gboolean queued)
{
  lxw_workbook_options options = { .constant_memory = LXW_TRUE };
  lxw_workbook *book = workbook_new_opt (path, &options);
  lxw_worksheet *sheet = workbook_add_worksheet (book, NULL);
  lxw_format *format = workbook_add_format (book);
  lxw_doc_properties properties = { .created = 1000000000 };
  BedCellQueue *queue = queued ? bed_cell_queue_new (sheet) : NULL;

  workbook_set_properties (book, &properties);
  for (guint i = 0; i < n; i++)
    {
      char text[32];
      BedCellValue cell = make_cell (i, text, sizeof text, format);

      if (queued)
        bed_cell_queue_add (queue, &cell);
      else
        g_assert_cmpint (bed_cell_write (sheet, &cell), ==, LXW_NO_ERROR);
    }
  if (queued)
    g_assert_cmpint (bed_cell_queue_end (queue), ==, LXW_NO_ERROR);
  g_assert_cmpint (workbook_close (book), ==, LXW_NO_ERROR);
}

static GBytes *
read_book (const char *folder, guint n, gboolean queued)
{
  g_autofree char *path = g_build_filename (folder, "book.xlsx", NULL);
  char *content;
  gsize size;

  write_book (path, n, queued);
  g_assert_true (g_file_get_contents (path, &content, &size, NULL));
  g_unlink (path);
  return g_bytes_new_take (content, size);
}

/* None, few, one batch to the cell, a cell more, and so many that the thread is waited for. */
static void
test_same (void)
{
  const guint numbers[] = { 0, 1, 2047, 2048, 2049, 3 * 2048, 100000 };
  g_autofree char *folder = g_dir_make_tmp ("queue-XXXXXX", NULL);

  for (guint i = 0; i < G_N_ELEMENTS (numbers); i++)
    {
      g_autoptr (GBytes) queued = read_book (folder, numbers[i], TRUE);
      g_autoptr (GBytes) direct = read_book (folder, numbers[i], FALSE);

      g_assert_true (g_bytes_equal (queued, direct));
    }
  g_rmdir (folder);
}

/* A failure in the middle is told at the end, with a thread and without one. */
static void
test_failure (void)
{
  const guint numbers[] = { 10, 10000 };

  for (guint k = 0; k < G_N_ELEMENTS (numbers); k++)
    {
      g_autofree char *folder = g_dir_make_tmp ("queue-XXXXXX", NULL);
      g_autofree char *path = g_build_filename (folder, "book.xlsx", NULL);
      lxw_workbook *book = workbook_new (path);
      BedCellQueue *queue = bed_cell_queue_new (workbook_add_worksheet (book, NULL));

      for (guint i = 0; i < numbers[k]; i++)
        {
          BedCellValue cell = { .row = i == 5 ? LXW_ROW_MAX : i, .number = 1 };

          bed_cell_queue_add (queue, &cell);
        }
      g_assert_cmpint (bed_cell_queue_end (queue), ==, LXW_ERROR_WORKSHEET_INDEX_OUT_OF_RANGE);
      lxw_workbook_free (book);
      g_rmdir (folder);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/report/cell_queue/same", test_same);
  g_test_add_func ("/report/cell_queue/failure", test_failure);
  return g_test_run ();
}
