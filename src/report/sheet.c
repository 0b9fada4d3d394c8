#include "report/sheet.h"

#include "model/query.h"
#include "report/expression.h"
#include "report/kept.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#define WIDTH_LABEL 40
#define WIDTH_VALUE 15
#define WIDTH_UNIT 10
#define WIDTH_OTHER 9     /* of a column nobody set */
#define WIDTH_NOTES 92    /* of a sheet of notes alone */
#define NOTE_COLUMNS 8    /* a note beside a figure runs on to here */
#define WIDTH_PORTRAIT 130 /* characters that still read well on an upright page */
#define WIDTH_LANDSCAPE 200
#define LINE_HEIGHT 12.0 /* points */
#define ROW_HEIGHT 15.75
#define FIRST_BLOCK_ROW 3
#define LONGEST_TEXT 8000 /* characters; a cell holds 32,767 UTF-16 units */

enum { PAPER_LETTER = 1, PAPER_A4 = 9 };
enum { COLUMN_LABEL, COLUMN_VALUE, COLUMN_UNIT, COLUMN_NOTE };

/* Where the next cell goes. */
typedef struct
{
  BedBook *book;
  lxw_worksheet *worksheet;
  const BedSheet *sheet;
  lxw_row_t row;
} Pen;

/* A table while its rows are written. */
typedef struct
{
  const BedBlock *block;
  BedQuery *query;
  const char **names;
  double *values;
  const char **texts;
  BedSums *sums;
  BedKept **kept; /* of the columns with a name */
  BedScope scope;
} Table;

/* Helpers: single cells */

static int
read_digits (const char *text, int n)
{
  int value = 0;

  for (int i = 0; i < n; i++)
    value = g_ascii_isdigit (text[i]) && value >= 0 ? value * 10 + text[i] - '0' : -1;
  return value;
}

/* Days since 1899-12-30, how spreadsheets count days after February 1900. By hand:
 * a workbook has a hundred thousand dates, and sscanf() takes its time. */
static gboolean
read_serial (const char *date, double *serial)
{
  const guint32 zero = 693594; /* g_date_get_julian() of that day */
  int year, month, day;
  GDate d;

  if (strlen (date) != 10)
    return FALSE;
  year = read_digits (date, 4);
  month = read_digits (date + 5, 2);
  day = read_digits (date + 8, 2);
  if (year < 1901 || month < 1 || day < 1 || !g_date_valid_dmy (day, month, year))
    return FALSE;
  g_date_clear (&d, 1);
  g_date_set_dmy (&d, day, month, year);
  *serial = g_date_get_julian (&d) - zero;
  return TRUE;
}

/* People's text: always a string cell, always whole UTF-8, never too long for one. */
static void
write_text (Pen *pen, lxw_col_t column, const char *text, lxw_format *format)
{
  g_autofree char *valid = NULL;
  lxw_error code;

  if (!text || !*text)
    code = worksheet_write_blank (pen->worksheet, pen->row, column, format);
  else if (strlen (text) < LONGEST_TEXT && g_utf8_validate (text, -1, NULL))
    code = worksheet_write_string (pen->worksheet, pen->row, column, text, format);
  else
    {
      g_autofree char *whole = g_utf8_make_valid (text, -1);

      valid = g_utf8_strlen (whole, -1) > LONGEST_TEXT ? g_utf8_substring (whole, 0, LONGEST_TEXT)
                                                       : g_strdup (whole);
      code = worksheet_write_string (pen->worksheet, pen->row, column, valid, format);
    }
  bed_book_check (pen->book, code);
}

static void
write_number (Pen *pen, lxw_col_t column, double value, lxw_format *format)
{
  bed_book_check (pen->book, isnan (value)
                               ? worksheet_write_blank (pen->worksheet, pen->row, column, format)
                               : worksheet_write_number (pen->worksheet, pen->row, column, value,
                                                         format));
}

/* Without a value the cell is an empty text, in the cache too. */
static void
write_live (Pen *pen, lxw_col_t column, const char *formula, double value, lxw_format *format)
{
  bed_book_check (pen->book,
                  isnan (value) ? worksheet_write_formula_str (pen->worksheet, pen->row, column,
                                                               formula, format, "")
                                : worksheet_write_formula_num (pen->worksheet, pen->row, column,
                                                               formula, format, value));
}

static void
write_date (Pen *pen, lxw_col_t column, const char *date, lxw_format *format)
{
  double serial;

  if (date && read_serial (date, &serial))
    write_number (pen, column, serial, format);
  else
    write_text (pen, column, date, format);
}

/* Helpers: tables */

static const char *
get_choice_label (const char *path, const char *key)
{
  g_auto (GStrv) parts = NULL;
  const BedField *field;

  if (!key)
    return NULL;
  parts = g_strsplit (path, ".", 2);
  field = bed_kind_find_field (bed_kind_from_name (parts[0]), parts[1], NULL);
  return bed_field_choice_label (field, key);
}

/* Of a cell that holds what the question answered, live or not. */
static void
write_answer (Pen *pen, Table *table, lxw_col_t i, int answer)
{
  const BedColumn *column = &table->block->columns[i];
  lxw_format *format = pen->book->formats[column->cell][column->style];
  const char *text;

  if (column->cell == BED_CELL_TEXT || column->cell == BED_CELL_DATE)
    {
      text = bed_query_text (table->query, answer);
      if (column->choice)
        text = get_choice_label (column->choice, text);
      table->texts[i] = text;
      if (column->cell == BED_CELL_DATE)
        write_date (pen, i, text, format);
      else
        write_text (pen, i, text, format);
      return;
    }
  table->values[i] = bed_query_is_null (table->query, answer)
                       ? NAN
                       : bed_query_real (table->query, answer) / pen->book->factors[column->cell];
  if (column->formula)
    {
      g_autofree char *formula = bed_formula_text (column->formula, &table->scope);

      write_live (pen, i, formula, table->values[i], format);
      return;
    }
  write_number (pen, i, table->values[i], format);
  /* An empty cell counts as nothing in a sum, as in a spreadsheet. */
  if (isnan (table->values[i]))
    table->values[i] = 0;
  else
    table->sums[i].count += 1;
}

/* Gives the value it wrote. */
static double
write_expression (Pen *pen, const BedScope *scope, lxw_col_t i, const char *expression,
                  lxw_format *format)
{
  g_autofree char *text = bed_expression_text (expression, scope);
  double value = bed_expression_value (expression, scope);

  write_live (pen, i, text, value, format);
  return value;
}

static void
add_to_sums (Table *table)
{
  for (guint i = 0; i < table->block->n_columns; i++)
    {
      BedSums *sums = &table->sums[i];
      gboolean live = table->block->columns[i].formula || table->block->columns[i].expression;

      if (isnan (table->values[i]))
        continue;
      sums->sum += table->values[i];
      sums->most = MAX (sums->most, table->values[i]);
      sums->count += live ? 1 : 0;
    }
}

static void
keep_row (Pen *pen, Table *table)
{
  for (guint i = 0; i < table->block->n_columns; i++)
    if (table->kept[i] && table->kept[i]->numbers)
      g_array_append_val (table->kept[i]->numbers, table->values[i]);
    else if (table->kept[i])
      g_ptr_array_add (table->kept[i]->texts,
                       g_string_chunk_insert_const (pen->book->strings,
                                                    table->texts[i] ? table->texts[i] : ""));
}

static void
write_row (Pen *pen, Table *table)
{
  int answer = 0;

  table->scope.row = pen->row;
  for (guint i = 0; i < table->block->n_columns; i++)
    if (!table->block->columns[i].expression)
      write_answer (pen, table, i, answer++);
  /* Expressions may look at columns to their right, so they come second. */
  for (guint i = 0; i < table->block->n_columns; i++)
    {
      const BedColumn *column = &table->block->columns[i];

      if (!column->expression)
        continue;
      table->values[i] = write_expression (pen, &table->scope, i, column->expression,
                                           pen->book->formats[column->cell][column->style]);
    }
  keep_row (pen, table);
  add_to_sums (table);
}

static void
write_sum (Pen *pen, Table *table, lxw_col_t i, lxw_row_t last)
{
  char letters[LXW_MAX_COL_NAME_LENGTH];
  g_autofree char *formula = NULL;

  lxw_col_to_name (letters, i, FALSE);
  formula = g_strdup_printf ("=SUM(%s%u:%s%u)", letters, table->scope.first_row + 1, letters,
                             last + 1);
  write_live (pen, i, formula, table->sums[i].sum,
              pen->book->formats[table->block->columns[i].cell][BED_STYLE_TOTAL]);
}

static gboolean
has_total (const BedBlock *block)
{
  for (guint i = 0; i < block->n_columns; i++)
    if (block->columns[i].total != BED_TOTAL_NONE)
      return TRUE;
  return FALSE;
}

static void
write_totals (Pen *pen, Table *table, lxw_row_t last)
{
  const BedBlock *block = table->block;

  if (!has_total (block))
    return;
  table->scope.row = pen->row;
  for (guint i = 0; i < block->n_columns; i++)
    table->values[i] = table->sums[i].sum;
  for (guint i = 0; i < block->n_columns; i++)
    {
      const BedColumn *column = &block->columns[i];
      lxw_format *format = pen->book->formats[column->cell][BED_STYLE_TOTAL];

      if (column->style == BED_STYLE_WORKING)
        continue;
      if (column->total == BED_TOTAL_SUM)
        write_sum (pen, table, i, last);
      else if (column->total == BED_TOTAL_SAME)
        write_expression (pen, &table->scope, i, column->expression, format);
      else
        write_text (pen, i, i == 0 ? _ ("Total") : NULL,
                    pen->book->formats[BED_CELL_TEXT][BED_STYLE_TOTAL]);
    }
  pen->row++;
}

static char *
dup_head (BedBook *book, const BedColumn *column)
{
  const char *unit = book->units[column->cell];

  return *unit ? g_strdup_printf ("%s, %s", _ (column->title), unit) : g_strdup (_ (column->title));
}

/* Programs do not agree on making room for wrapped heads by themselves. */
static double
count_lines (const char *head, int width)
{
  g_auto (GStrv) words = g_strsplit (head, " ", -1);
  int lines = 1;
  int used = 0;

  for (char **word = words; *word; word++)
    {
      int length = g_utf8_strlen (*word, -1);

      if (used > 0 && used + 1 + length > width)
        {
          lines++;
          used = 0;
        }
      used += length + (used > 0);
    }
  return lines;
}

static void
write_heads (Pen *pen, const BedBlock *block)
{
  double lines = 1;

  for (guint i = 0; i < block->n_columns; i++)
    {
      g_autofree char *head = dup_head (pen->book, &block->columns[i]);

      lines = MAX (lines, count_lines (head, block->columns[i].width * 1.1));
    }
  bed_book_check (pen->book, worksheet_set_row (pen->worksheet, pen->row, lines * LINE_HEIGHT + 4,
                                                NULL));
  for (guint i = 0; i < block->n_columns; i++)
    {
      const BedColumn *column = &block->columns[i];
      gboolean left = column->cell == BED_CELL_TEXT || column->cell == BED_CELL_DATE;
      g_autofree char *head = dup_head (pen->book, column);

      write_text (pen, i, head, pen->book->looks[left ? BED_LOOK_HEAD : BED_LOOK_HEAD_RIGHT]);
    }
  pen->row++;
}

static BedQuery *
new_query (BedBook *book, const char *sql)
{
  BedQuery *q = bed_query_new (book->farm, sql);

  if (strstr (sql, "?1"))
    bed_query_bind_text (q, 1, book->first);
  if (strstr (sql, "?2"))
    bed_query_bind_text (q, 2, book->end);
  if (strstr (sql, "?3"))
    bed_query_bind_int (q, 3, book->plan->season);
  return q;
}

static void
name_columns (Pen *pen, Table *table, lxw_row_t last)
{
  for (guint i = 0; i < table->block->n_columns; i++)
    if (table->names[i])
      {
        BedCells cells = { .sheet = _ (pen->sheet->name), .key = table->block->key,
                           .name = table->names[i], .row = table->scope.first_row, .last = last,
                           .column = i };

        bed_book_name (pen->book, &cells, &table->sums[i]);
        g_hash_table_replace (pen->book->kept,
                              g_strdup_printf ("%s_%s", cells.key, cells.name),
                              g_steal_pointer (&table->kept[i]));
      }
}

static void
write_rows (Pen *pen, Table *table)
{
  lxw_row_t last;

  while (!pen->book->error && bed_query_next (table->query))
    {
      write_row (pen, table);
      bed_book_tick (pen->book);
      pen->row++;
    }
  bed_query_finish (table->query, pen->book->error ? NULL : &pen->book->error);
  if (pen->row == table->scope.first_row)
    {
      write_text (pen, 0, _ ("None"), pen->book->looks[BED_LOOK_UNIT]);
      pen->row++;
    }
  last = pen->row - 1;
  /* Before the totals: in constant memory no range may end above the row being written. */
  if (pen->sheet->n_blocks == 1)
    bed_book_check (pen->book,
                    worksheet_autofilter (pen->worksheet, table->scope.first_row - 1, 0, last,
                                          table->block->n_columns - 1));
  name_columns (pen, table, last);
  write_totals (pen, table, last);
}

static void
write_table (Pen *pen, const BedBlock *block)
{
  g_autoptr (BedQuery) query = new_query (pen->book, block->sql);
  g_autofree const char **names = g_new0 (const char *, block->n_columns);
  g_autofree double *values = g_new0 (double, block->n_columns);
  g_autofree const char **texts = g_new0 (const char *, block->n_columns);
  g_autofree BedSums *sums = g_new0 (BedSums, block->n_columns);
  g_autofree BedKept **kept = g_new0 (BedKept *, block->n_columns);
  Table table = { .block = block, .query = query, .names = names, .values = values,
                  .texts = texts, .sums = sums, .kept = kept };
  lxw_row_t head = pen->row;

  for (guint i = 0; i < block->n_columns; i++)
    if ((names[i] = block->columns[i].name))
      kept[i] = bed_kept_new (block->columns[i].cell);
  write_heads (pen, block);
  table.scope = (BedScope) { .book = pen->book, .names = names, .values = values,
                             .texts = texts, .sums = sums, .n_names = block->n_columns, .first_row = pen->row };
  if (head == FIRST_BLOCK_ROW)
    {
      worksheet_freeze_panes (pen->worksheet, head + 1, 1);
      bed_book_check (pen->book, worksheet_repeat_rows (pen->worksheet, head, head));
    }
  write_rows (pen, &table);
}

/* Helpers: figures and notes */

static void
write_figure_value (Pen *pen, const BedFigure *figure, BedStyle style)
{
  lxw_format *format = pen->book->formats[figure->cell][style];
  BedScope scope = { .book = pen->book, .row = pen->row };
  BedCells cells = { .sheet = _ (pen->sheet->name), .name = figure->name, .row = pen->row,
                     .last = pen->row, .column = COLUMN_VALUE };
  BedSums sums = { 0 };

  if (figure->expression)
    {
      sums.sum = write_expression (pen, &scope, COLUMN_VALUE, figure->expression, format);
    }
  else
    {
      g_autofree char *formula = figure->formula ? bed_formula_text (figure->formula, &scope)
                                                 : NULL;

      sums.sum = bed_book_ask (pen->book, figure->sql, figure->cell);
      if (formula)
        write_live (pen, COLUMN_VALUE, formula, sums.sum, format);
      else
        write_number (pen, COLUMN_VALUE, sums.sum, format);
    }
  sums.most = sums.sum;
  if (figure->name)
    bed_book_name (pen->book, &cells, &sums);
}

static void
write_text_answer (Pen *pen, const BedFigure *figure)
{
  g_autoptr (BedQuery) q = new_query (pen->book, figure->sql);
  lxw_format *format = pen->book->formats[BED_CELL_TEXT][BED_STYLE_FIGURE];

  if (bed_query_next (q))
    write_text (pen, COLUMN_VALUE, bed_query_text (q, 0), format);
  bed_query_finish (q, pen->book->error ? NULL : &pen->book->error);
}

static gboolean
is_heading (const BedFigure *figure)
{
  return !figure->sql && !figure->expression;
}

static void
write_figure (Pen *pen, const BedFigure *figure)
{
  lxw_format **looks = pen->book->looks;
  BedStyle style = figure->style == BED_STYLE_BODY ? BED_STYLE_FIGURE : figure->style;
  gboolean strong = style == BED_STYLE_STRONG;

  if (is_heading (figure))
    {
      write_text (pen, COLUMN_LABEL, _ (figure->label), looks[BED_LOOK_HEADING]);
      pen->row++;
      return;
    }
  /* Charts beside figures are as high as their rows, so those must not shrink to fit. */
  bed_book_check (pen->book, worksheet_set_row (pen->worksheet, pen->row, ROW_HEIGHT, NULL));
  write_text (pen, COLUMN_LABEL, _ (figure->label),
              looks[strong ? BED_LOOK_LABEL_STRONG : BED_LOOK_LABEL]);
  if (figure->cell == BED_CELL_TEXT)
    write_text_answer (pen, figure);
  else
    write_figure_value (pen, figure, style);
  write_text (pen, COLUMN_UNIT, pen->book->units[figure->cell], looks[BED_LOOK_UNIT]);
  if (figure->note)
    write_text (pen, COLUMN_NOTE, _ (figure->note), looks[BED_LOOK_UNIT]);
  pen->row++;
}

static void
write_notes (Pen *pen, const char *const *notes)
{
  for (; *notes; notes++)
    {
      bed_book_check (pen->book,
                      worksheet_set_row (pen->worksheet, pen->row,
                                         count_lines (_ (*notes), WIDTH_NOTES) * LINE_HEIGHT + 8,
                                         NULL));
      write_text (pen, 0, _ (*notes), pen->book->looks[BED_LOOK_NOTE]);
      pen->row++;
    }
}

/* Helpers: the sheet as a page */

/* Columns up to the first working step, and how wide they are together. */
static lxw_col_t
set_widths (Pen *pen)
{
  const int figures[] = { WIDTH_LABEL, WIDTH_VALUE, WIDTH_UNIT };
  int widths[64] = { 0 };
  lxw_col_t used = 1;
  int sum = 0;

  for (guint b = 0; b < pen->sheet->n_blocks; b++)
    {
      const BedBlock *block = &pen->sheet->blocks[b];
      gboolean noted = FALSE;

      for (guint i = 0; i < block->n_columns; i++)
        {
          widths[i] = MAX (widths[i], block->columns[i].width);
          if (block->columns[i].style != BED_STYLE_WORKING)
            used = MAX (used, i + 1);
        }
      for (guint i = 0; i < block->n_figures; i++)
        noted |= block->figures[i].note != NULL;
      for (guint i = 0; block->n_figures && i < G_N_ELEMENTS (figures); i++)
        widths[i] = MAX (widths[i], figures[i]);
      if (block->n_figures)
        used = MAX (used, noted ? NOTE_COLUMNS : 3);
      if (block->notes && pen->sheet->n_blocks == 1)
        widths[0] = WIDTH_NOTES;
    }
  for (lxw_col_t i = 0; i < G_N_ELEMENTS (widths); i++)
    {
      if (widths[i])
        bed_book_check (pen->book, worksheet_set_column (pen->worksheet, i, i, widths[i], NULL));
      sum += i < used ? MAX (widths[i], WIDTH_OTHER) : 0;
    }
  if (sum > WIDTH_PORTRAIT || pen->sheet->draw)
    worksheet_set_landscape (pen->worksheet);
  if (sum > WIDTH_LANDSCAPE)
    {
      worksheet_fit_to_pages (pen->worksheet, 2, 0);
      bed_book_check (pen->book, worksheet_repeat_columns (pen->worksheet, 0, 0));
    }
  return used;
}

static void
set_page (Pen *pen)
{
  BedBook *book = pen->book;
  const char *farm = bed_record_get_text (bed_farm_get_settings (book->farm), "name");
  g_autofree char *brief = g_utf8_substring (farm, 0, MIN (g_utf8_strlen (farm, -1), 60));
  g_auto (GStrv) parts = g_strsplit (brief, "&", -1);
  g_autofree char *escaped = g_strjoinv ("&&", parts);
  g_autofree char *season = g_strdup_printf (_ ("season %d"), book->plan->season);
  g_autofree char *footer = g_strdup_printf ("&L&9%s, %s&C&9&A&R&9&P / &N", escaped, season);
  BedSystem system = bed_farm_get_notation (book->farm)->system;

  worksheet_set_paper (pen->worksheet, system == BED_SYSTEM_US ? PAPER_LETTER : PAPER_A4);
  worksheet_set_margins (pen->worksheet, 0.5, 0.5, 0.5, 0.7);
  worksheet_fit_to_pages (pen->worksheet, 1, 0);
  worksheet_center_horizontally (pen->worksheet);
  worksheet_set_default_row (pen->worksheet, ROW_HEIGHT, LXW_FALSE);
  worksheet_gridlines (pen->worksheet, LXW_HIDE_ALL_GRIDLINES);
  bed_book_check (book, worksheet_set_footer (pen->worksheet, footer));
}

static void
write_top (Pen *pen)
{
  BedBook *book = pen->book;
  const char *farm = bed_record_get_text (bed_farm_get_settings (book->farm), "name");
  g_autofree char *title = g_strdup_printf ("%s · %s %d", _ (pen->sheet->name), farm,
                                            book->plan->season);

  bed_book_check (book, worksheet_set_row (pen->worksheet, 0, 26, NULL));
  write_text (pen, 0, title, book->looks[BED_LOOK_TITLE]);
  pen->row++;
  write_text (pen, 0, _ (pen->sheet->question), book->looks[BED_LOOK_QUESTION]);
  pen->row = FIRST_BLOCK_ROW;
}

/* Public */

void
bed_sheet_write (BedBook *book, lxw_worksheet *worksheet, const BedSheet *sheet)
{
  Pen pen = { .book = book, .worksheet = worksheet, .sheet = sheet };
  lxw_col_t used;

  bed_book_tell (book, _ (sheet->name));
  if (book->error)
    return;
  set_page (&pen);
  used = set_widths (&pen);
  write_top (&pen);
  for (guint b = 0; b < sheet->n_blocks && !book->error; b++)
    {
      const BedBlock *block = &sheet->blocks[b];

      if (b > 0)
        pen.row++;
      if (block->heading)
        {
          write_text (&pen, 0, _ (block->heading), book->looks[BED_LOOK_HEADING]);
          pen.row++;
        }
      if (block->columns)
        write_table (&pen, block);
      for (guint i = 0; i < block->n_figures && !book->error; i++)
        {
          if (i > 0 && is_heading (&block->figures[i]))
            pen.row++;
          write_figure (&pen, &block->figures[i]);
        }
      if (block->notes)
        write_notes (&pen, block->notes);
    }
  if (sheet->draw && !book->error)
    sheet->draw (book, worksheet, pen.row);
  else
    bed_book_check (book, worksheet_print_area (worksheet, 0, 0, pen.row - 1, used - 1));
}
