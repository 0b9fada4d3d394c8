/* bench-report FARM FOLDER RUNS PYTHON BENCH: the season workbook, against libxlsxwriter alone
 * writing the same cells, formulas, values and formats from memory, in constant memory too. What
 * is above 1 is what asking the farm and making the formulas costs. */
#include <fcntl.h>
#include <glib/gstdio.h>
#include <stdlib.h>
#include <unistd.h>
#include <xlsxwriter.h>

#include "bench.h"
#include "report/workbook.h"

#define SEASON 2026
#define MOST_STYLES 512

typedef struct
{
  int sheet;
  lxw_row_t row;
  lxw_col_t column;
  char kind;
  int style;
  double number;
  const char *text;    /* into the dump */
  const char *formula; /* into the dump */
} Cell;

/* Helpers */

/* The least of what it has taken so far: elapsed, and of the processors together. */
typedef struct
{
  double elapsed, cpu;
} Times;

static void
note_times (Times *times, double start, double cpu_start)
{
  times->elapsed = MIN (times->elapsed, bench_now () - start);
  times->cpu = MIN (times->cpu, bench_cpu () - cpu_start);
}

static double
file_size (const char *path)
{
  GStatBuf status;

  g_assert_cmpint (g_stat (path, &status), ==, 0);
  return status.st_size;
}

static GArray *
read_cells (char *dump)
{
  GArray *cells = g_array_new (FALSE, TRUE, sizeof (Cell));

  for (char *line = dump, *next; line && *line; line = next)
    {
      Cell cell = { 0 };
      char *field[7] = { line };
      int n = 1;

      next = strchr (line, '\n');
      if (next)
        *next++ = '\0';
      for (char *p = line; *p && n < 7; p++)
        if (*p == '\t')
          {
            *p = '\0';
            field[n++] = p + 1;
          }
      /* A formula follows in the cells that have one. */
      if (n < 6)
        g_error ("a cell of %d fields", n);
      cell = (Cell){ .sheet = atoi (field[0]),
                     .row = atoi (field[1]),
                     .column = atoi (field[2]),
                     .kind = *field[3],
                     .style = atoi (field[4]),
                     .text = field[5],
                     .number = g_ascii_strtod (field[5], NULL),
                     .formula = field[6] };
      g_array_append_val (cells, cell);
    }
  return cells;
}

static void
write_cell (lxw_worksheet *sheet, const Cell *cell, lxw_format *format)
{
  switch (cell->kind)
    {
    case 'n':
      worksheet_write_number (sheet, cell->row, cell->column, cell->number, format);
      break;
    case 's':
      worksheet_write_string (sheet, cell->row, cell->column, cell->text, format);
      break;
    case 'f':
      worksheet_write_formula_num (sheet, cell->row, cell->column, cell->formula, format,
                                   cell->number);
      break;
    case 't':
      worksheet_write_formula_str (sheet, cell->row, cell->column, cell->formula, format,
                                   cell->text);
      break;
    default:
      worksheet_write_blank (sheet, cell->row, cell->column, format);
    }
}

static void
write_bare (const char *path, GArray *cells)
{
  lxw_workbook_options options = { .constant_memory = LXW_TRUE };
  lxw_workbook *book = workbook_new_opt (path, &options);
  lxw_format *formats[MOST_STYLES] = { NULL };
  lxw_worksheet *sheet = NULL;
  int current = -1;

  for (int i = 0; i < MOST_STYLES; i++)
    {
      formats[i] = workbook_add_format (book);
      format_set_font_size (formats[i], 5 + i / 10.0);
    }
  for (guint i = 0; i < cells->len; i++)
    {
      const Cell *cell = &g_array_index (cells, Cell, i);

      for (; current < cell->sheet; current++)
        sheet = workbook_add_worksheet (book, NULL);
      write_cell (sheet, cell, formats[cell->style % MOST_STYLES]);
    }
  g_assert_cmpint (workbook_close (book), ==, LXW_NO_ERROR);
}

/* As the report is before it takes the old one's place. */
static void
put_on_disk (const char *path)
{
  int file = g_open (path, O_RDWR | O_CLOEXEC, 0);

  g_assert_cmpint (fsync (file), ==, 0);
  close (file);
}

static void
time_report (BedFarm *farm, const char *path, Times *times)
{
  const BedWorkbookPlan plan = { .season = SEASON, .path = path };
  g_autoptr (GError) error = NULL;
  double start = bench_now (), cpu_start = bench_cpu ();

  bed_workbook_write (farm, &plan, &error);
  g_assert_no_error (error);
  note_times (times, start, cpu_start);
}

static void
time_bare (GArray *cells, const char *path, Times *times)
{
  double start = bench_now (), cpu_start = bench_cpu ();

  write_bare (path, cells);
  put_on_disk (path);
  note_times (times, start, cpu_start);
}

static GArray *
read_book (BedFarm *farm, char **argv, const char *book, char **dump)
{
  g_autofree char *list = g_strconcat (book, ".cells", NULL);
  g_autofree char *command
      = g_strdup_printf ("%s %s/xlsx_cells.py %s %s", argv[4], argv[5], book, list);
  Times ignored = { 0 };
  int status;

  time_report (farm, book, &ignored);
  g_assert_true (g_spawn_command_line_sync (command, NULL, NULL, &status, NULL) && status == 0);
  g_assert_true (g_file_get_contents (list, dump, NULL, NULL));
  g_unlink (list);
  return read_cells (*dump);
}

int
main (int argc, char **argv)
{
  g_autoptr (GError) error = NULL;

  if (argc != 6)
    return 2;
  g_autofree char *book = g_build_filename (argv[2], "season.xlsx", NULL);
  g_autofree char *bare = g_build_filename (argv[2], "bare.xlsx", NULL);
  g_autofree char *dump = NULL, *what = NULL;
  g_autoptr (BedFarm) farm = bed_farm_open (argv[1], &error);
  g_assert_no_error (error);
  bed_farm_fix_clock (farm, "2026-11-20T12:00", 1);
  g_autoptr (GArray) cells = read_book (farm, argv, book, &dump);
  Times ours = { G_MAXDOUBLE, G_MAXDOUBLE }, alone = ours;

  /* In turn, so that what else the machine does falls on both. */
  for (int i = 0; i < atoi (argv[3]); i++)
    {
      time_bare (cells, bare, &alone);
      time_report (farm, book, &ours);
    }
  /* The same cells make much the same file: else it is no comparison. */
  g_assert_cmpfloat (file_size (bare), >, 0.8 * file_size (book));
  what = g_strdup_printf ("the season's workbook, %u cells", cells->len);
  bench_row (&(BenchRow){ "workbook", what, ours.elapsed, alone.elapsed, "s" });
  bench_row (
      &(BenchRow){ "workbook-cpu", "the same, all processors together", ours.cpu, alone.cpu, "s" });
  g_unlink (book);
  g_unlink (bare);
  return 0;
}
