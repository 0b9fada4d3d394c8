/* The season workbook of a big farm, against libxlsxwriter alone writing the
 * same cells, formulas, values and formats from memory, in constant memory too.
 * What is above 1 is what asking the farm and making the formulas costs. The target is of the
 * time a person waits; what the processors did together is told beside it. */
#include <glib/gstdio.h>
#include <sqlite3.h>
#include <sys/resource.h>
#include <xlsxwriter.h>

#include "model/demo.h"
#include "model/query.h"
#include "report/workbook.h"

#define LOGS 20000
#define PICKS 200000
#define YEARS 6
#define SEASON 2026
#define RUNS 7
#define TARGET 1.3
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

/* Of all processors together. */
static double
cpu_seconds (void)
{
  struct rusage usage;

  getrusage (RUSAGE_SELF, &usage);
  return usage.ru_utime.tv_sec + usage.ru_stime.tv_sec
         + (usage.ru_utime.tv_usec + usage.ru_stime.tv_usec) / 1e6;
}

static double
seconds (void)
{
  return g_get_monotonic_time () / 1e6;
}

/* The least of what it has taken so far: elapsed, and of the processors. */
typedef struct
{
  double elapsed, cpu;
} Times;

static void
note_times (Times *times, double start, double cpu_start)
{
  times->elapsed = MIN (times->elapsed, seconds () - start);
  times->cpu = MIN (times->cpu, cpu_seconds () - cpu_start);
}

static double
file_size (const char *path)
{
  GStatBuf status;

  g_assert_cmpint (g_stat (path, &status), ==, 0);
  return status.st_size;
}

/* The demo's grower picks by the stack; as many more picks, of single logs, as are missing
 * to @PICKS, on the days there are picks. Straight into the file: it is a bench. */
static void
add_picks (const char *path)
{
  sqlite3 *db;
  char *message = NULL;
  g_autofree char *sql = g_strdup_printf (
    "WITH RECURSIVE again (n) AS (SELECT 1 UNION ALL SELECT n + 1 FROM again WHERE n < 40)"
    " INSERT INTO pick (picked_on, log, grade, mass, lot)"
    " SELECT p.picked_on, p.log, p.grade, p.mass + a.n * 1000, p.lot FROM pick p, again a"
    " WHERE p.log IS NOT NULL LIMIT max (0, %d - (SELECT count (*) FROM pick))",
    PICKS);

  g_assert_cmpint (sqlite3_open (path, &db), ==, SQLITE_OK);
  if (sqlite3_exec (db, sql, NULL, NULL, &message) != SQLITE_OK)
    g_error ("%s", message);
  sqlite3_close (db);
}

static BedFarm *
make_farm (const char *path)
{
  const BedDemoPlan plan = { .logs = LOGS, .years = YEARS, .seed = 1, .today = "2026-11-20" };
  g_autoptr (GError) error = NULL;
  g_autoptr (BedFarm) farm = bed_demo_new (path, &plan, &error);

  g_assert_no_error (error);
  g_clear_object (&farm);
  add_picks (path);
  farm = bed_farm_open (path, &error);
  g_assert_no_error (error);
  bed_farm_fix_clock (farm, "2026-11-20T12:00", 1);
  return g_steal_pointer (&farm);
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
      if (n < 7)
        g_error ("a cell of %d fields", n);
      cell = (Cell) { .sheet = atoi (field[0]), .row = atoi (field[1]), .column = atoi (field[2]),
                      .kind = *field[3], .style = atoi (field[4]), .text = field[5],
                      .number = g_ascii_strtod (field[5], NULL), .formula = field[6] };
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

static void
time_report (BedFarm *farm, const char *path, Times *times)
{
  const BedWorkbookPlan plan = { .season = SEASON, .path = path };
  g_autoptr (GError) error = NULL;
  double start = seconds (), cpu_start = cpu_seconds ();

  bed_workbook_write (farm, &plan, &error);
  g_assert_no_error (error);
  note_times (times, start, cpu_start);
}

static void
time_bare (GArray *cells, const char *path, Times *times)
{
  double start = seconds (), cpu_start = cpu_seconds ();

  write_bare (path, cells);
  note_times (times, start, cpu_start);
}

int
main (void)
{
  g_autofree char *folder = g_dir_make_tmp ("bench-XXXXXX", NULL);
  g_autofree char *path = g_build_filename (folder, "farm.bedlog", NULL);
  g_autofree char *book = g_build_filename (folder, "season.xlsx", NULL);
  g_autofree char *bare = g_build_filename (folder, "bare.xlsx", NULL);
  g_autofree char *list = g_build_filename (folder, "cells", NULL);
  g_autoptr (BedFarm) farm = make_farm (path);
  Times ours = { G_MAXDOUBLE, G_MAXDOUBLE }, alone = ours;
  g_autofree char *command
    = g_strdup_printf ("%s %s %s %s", PYTHON, BENCH "/xlsx_cells.py", book, list);
  g_autofree char *dump = NULL;
  g_autoptr (GArray) cells = NULL;
  int status;
  double ratio;

  time_report (farm, book, &ours);
  g_assert_true (g_spawn_command_line_sync (command, NULL, NULL, &status, NULL) && status == 0);
  g_assert_true (g_file_get_contents (list, &dump, NULL, NULL));
  cells = read_cells (dump);
  /* In turn, so that what else the machine does falls on both. */
  for (int i = 0; i < RUNS; i++)
    {
      time_bare (cells, bare, &alone);
      time_report (farm, book, &ours);
    }
  /* The same cells make much the same file: else it is no comparison. */
  g_assert_cmpfloat (file_size (bare), >, 0.8 * file_size (book));
  ratio = ours.elapsed / alone.elapsed;
  g_print ("report: %" G_GINT64_FORMAT " logs, %" G_GINT64_FORMAT " picks, %u cells: %.2f s, "
           "libxlsxwriter alone %.2f s, ratio %.2f (target %.1f); of all processors %.2f s to "
           "%.2f s, %.2f\n",
           bed_farm_count (farm, BED_KIND_LOG), bed_farm_count (farm, BED_KIND_PICK), cells->len,
           ours.elapsed, alone.elapsed, ratio, TARGET, ours.cpu, alone.cpu, ours.cpu / alone.cpu);
  g_clear_object (&farm);
  for (char **p = (char *[]){ path, book, bare, list, NULL }; *p; p++)
    g_unlink (*p);
  g_rmdir (folder);
  return ratio <= TARGET ? 0 : 1;
}
