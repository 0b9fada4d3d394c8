#include "report/pen.h"

#include "model/farm/kinds.h"
#include "model/farm/query.h"
#include "report/kept.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

/* A table while its rows are written. */
typedef struct
{
  const BedBlock *block;
  BedBookColumn *columns; /* the block's, with what their fields say */
  BedQuery *query;
  const char **names;
  double *values;
  const char **texts;
  BedSums *sums;
  BedKept **kept;           /* of the columns with a name */
  BedExpression **live;     /* of the columns with a formula or an expression */
  const BedField **choices; /* of the columns that show one */
  BedScope scope;
  int lines; /* of the row's longest text */
} Table;

/* Helpers */

/* "line.use" */
static const BedField *
find_field (const char *path)
{
  g_auto (GStrv) parts = g_strsplit (path, ".", 2);
  const BedField *field = bed_kind_find_field (bed_kind_from_name (parts[0]), parts[1], NULL);

  g_assert (field); /* a sheet names a field that there is not */
  return field;
}

static BedBookCell
cell_of (const BedField *field)
{
  static const BedBookCell cells[] = {
    [BED_MEASURE_MONEY] = BED_BOOK_CELL_MONEY,     [BED_MEASURE_MASS] = BED_BOOK_CELL_MASS,
    [BED_MEASURE_MASS_FINE] = BED_BOOK_CELL_MASS,  [BED_MEASURE_LENGTH] = BED_BOOK_CELL_LENGTH,
    [BED_MEASURE_TIME] = BED_BOOK_CELL_HOURS,      [BED_MEASURE_COUNT] = BED_BOOK_CELL_COUNT,
    [BED_MEASURE_PERCENT] = BED_BOOK_CELL_PERCENT,
  };

  if (field->type == BED_FIELD_MEASURE)
    return cells[field->measure];
  return field->type == BED_FIELD_DATE     ? BED_BOOK_CELL_DATE
         : field->type == BED_FIELD_MOMENT ? BED_BOOK_CELL_MOMENT
                                           : BED_BOOK_CELL_TEXT;
}

/* What the field of a column says, where it shows one; returned where it is a choice. */
static const BedField *
ask_field (BedBookColumn *column)
{
  const BedField *field = column->field ? find_field (column->field) : NULL;

  if (!field)
    return NULL;
  column->title = column->title ? column->title : field->label;
  column->cell = cell_of (field);
  return field->type == BED_FIELD_CHOICE ? field : NULL;
}

static char *
dup_head (BedBook *book, const BedBookColumn *column)
{
  const char *unit = book->units[column->cell];

  const char *title = bed_book_word (book, column->title);

  return *unit ? g_strdup_printf ("%s, %s", title, unit) : g_strdup (title);
}

static lxw_format *
look_of (BedPen *pen, const BedBookColumn *column, int decimals)
{
  return bed_book_format (pen->book, column->cell, column->style, decimals);
}

static void
write_text (BedPen *pen, Table *table, lxw_col_t i)
{
  const BedBookColumn *column = &table->columns[i];
  const char *text = table->texts[i];

  bed_pen_text (pen, i, text, look_of (pen, column, BED_BOOK_USUAL));
  /* Short ones, which are most, need not be measured. */
  if (text && strlen (text) > (gsize) column->width * 2 / 3)
    table->lines = MAX (table->lines, bed_text_lines (text, BED_LETTERS_BODY, column->width));
}

/* Of a cell that holds what the question answered, live or not. */
static void
write_answer (BedPen *pen, Table *table, lxw_col_t i, int answer)
{
  const BedBookColumn *column = &table->columns[i];
  int decimals = BED_BOOK_USUAL;
  const char *text;

  if (bed_cell_is_text (column->cell))
    {
      text = bed_query_text (table->query, answer);
      if (table->choices[i] && text)
        text = bed_field_choice_label (table->choices[i], text);
      table->texts[i] = text;
      if (column->cell != BED_BOOK_CELL_TEXT)
        bed_pen_date (pen, i, text, look_of (pen, column, decimals));
      else
        write_text (pen, table, i);
      return;
    }
  table->values[i] = bed_query_is_null (table->query, answer)
                         ? NAN
                         : bed_query_real (table->query, answer) / pen->book->factors[column->cell];
  if (column->field && !column->formula && !isnan (table->values[i]))
    table->values[i]
        = bed_book_said (pen->book, column->cell, bed_query_real (table->query, answer), &decimals);
  if (column->formula)
    {
      bed_pen_live (pen, i, bed_expression_text (table->live[i], &table->scope), table->values[i],
                    look_of (pen, column, decimals));
      return;
    }
  bed_pen_number (pen, i, table->values[i], look_of (pen, column, decimals));
  /* An empty cell counts as nothing in a sum, as in a spreadsheet. */
  if (isnan (table->values[i]))
    table->values[i] = 0;
  else
    table->sums[i].count += 1;
}

static void
add_to_sums (Table *table)
{
  for (guint i = 0; i < table->block->n_columns; i++)
    {
      BedSums *sums = &table->sums[i];
      gboolean live = table->columns[i].formula || table->columns[i].expression;

      if (isnan (table->values[i]))
        continue;
      sums->sum += table->values[i];
      sums->most = MAX (sums->most, table->values[i]);
      sums->count += live ? 1 : 0;
    }
}

/* Rows of one week, one batch, one lot follow each other. */
static const char *
keep_text (BedPen *pen, const GPtrArray *texts, const char *text)
{
  const char *last = texts->len ? texts->pdata[texts->len - 1] : NULL;

  if (g_strcmp0 (last, text) == 0)
    return last;
  return g_string_chunk_insert_const (pen->book->strings, text);
}

static void
keep_row (BedPen *pen, Table *table)
{
  for (guint i = 0; i < table->block->n_columns; i++)
    {
      BedKept *kept = table->kept[i];
      const char *text = table->texts[i] ? table->texts[i] : "";

      if (kept && kept->numbers)
        g_array_append_val (kept->numbers, table->values[i]);
      else if (kept)
        g_ptr_array_add (kept->texts, (gpointer) keep_text (pen, kept->texts, text));
    }
}

static void
write_row (BedPen *pen, Table *table)
{
  int answer = 0;

  table->lines = 1;
  table->scope.row = pen->row;
  for (guint i = 0; i < table->block->n_columns; i++)
    if (!table->columns[i].expression)
      write_answer (pen, table, i, answer++);
  /* Expressions may look at columns to their right, so they come second. */
  for (guint i = 0; i < table->block->n_columns; i++)
    {
      const BedBookColumn *column = &table->columns[i];

      if (!column->expression)
        continue;
      table->values[i] = bed_pen_expression (pen, &table->scope, i, table->live[i],
                                             look_of (pen, column, BED_BOOK_USUAL));
    }
  if (table->lines > 1)
    bed_book_check (pen->book, worksheet_set_row (pen->worksheet, pen->row,
                                                  table->lines * BED_LINE_HEIGHT + 4, NULL));
  keep_row (pen, table);
  add_to_sums (table);
}

static void
write_sum (BedPen *pen, Table *table, lxw_col_t i, lxw_row_t last)
{
  char letters[LXW_MAX_COL_NAME_LENGTH];
  g_autofree char *formula = NULL;

  lxw_col_to_name (letters, i, FALSE);
  formula
      = g_strdup_printf ("=SUM(%s%u:%s%u)", letters, table->scope.first_row + 1, letters, last + 1);
  bed_pen_live (
      pen, i, formula, table->sums[i].sum,
      bed_book_format (pen->book, table->columns[i].cell, BED_STYLE_TOTAL, BED_BOOK_USUAL));
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
write_totals (BedPen *pen, Table *table, lxw_row_t last)
{
  const BedBlock *block = table->block;

  if (!has_total (block))
    return;
  table->scope.row = pen->row;
  for (guint i = 0; i < block->n_columns; i++)
    table->values[i] = table->sums[i].sum;
  for (guint i = 0; i < block->n_columns; i++)
    {
      const BedBookColumn *column = &table->columns[i];
      lxw_format *format
          = bed_book_format (pen->book, column->cell, BED_STYLE_TOTAL, BED_BOOK_USUAL);

      if (column->style == BED_STYLE_WORKING)
        continue;
      if (column->total == BED_TOTAL_SUM)
        write_sum (pen, table, i, last);
      else if (column->total == BED_TOTAL_SAME)
        bed_pen_expression (pen, &table->scope, i, table->live[i], format);
      else
        bed_pen_text (
            pen, i, i == 0 ? _ ("Total") : NULL,
            bed_book_format (pen->book, BED_BOOK_CELL_TEXT, BED_STYLE_TOTAL, BED_BOOK_USUAL));
    }
  pen->row++;
}

static void
write_heads (BedPen *pen, const Table *table)
{
  guint n = table->block->n_columns;
  int lines = 1;

  for (guint i = 0; i < n; i++)
    {
      g_autofree char *head = dup_head (pen->book, &table->columns[i]);

      lines = MAX (lines, bed_text_lines (head, BED_LETTERS_HEAD, table->columns[i].width));
    }
  bed_book_check (pen->book,
                  worksheet_set_row (pen->worksheet, pen->row, lines * BED_LINE_HEIGHT + 4, NULL));
  for (guint i = 0; i < n; i++)
    {
      const BedBookColumn *column = &table->columns[i];
      gboolean left = bed_cell_is_text (column->cell);
      g_autofree char *head = dup_head (pen->book, column);

      bed_pen_text (pen, i, head, pen->book->looks[left ? BED_LOOK_HEAD : BED_LOOK_HEAD_RIGHT]);
    }
  pen->row++;
}

static void
name_columns (BedPen *pen, Table *table, lxw_row_t last)
{
  for (guint i = 0; i < table->block->n_columns; i++)
    if (table->names[i])
      {
        BedCells cells = { .sheet = _ (pen->sheet->name),
                           .key = table->block->key,
                           .name = table->names[i],
                           .row = table->scope.first_row,
                           .last = last,
                           .column = i };

        bed_book_name (pen->book, &cells, &table->sums[i]);
        g_hash_table_replace (pen->book->kept, g_strdup_printf ("%s_%s", cells.key, cells.name),
                              g_steal_pointer (&table->kept[i]));
      }
}

/* A list too long to print shows its totals under its heads, and how to have the rest. */
static void
set_print (BedPen *pen, const Table *table, lxw_row_t total)
{
  lxw_row_t head = table->scope.first_row - 1;
  guint rows = total - table->scope.first_row;
  gboolean printed = bed_pen_prints (pen, rows);

  if (!printed)
    {
      g_autofree char *note = g_strdup_printf (
          ngettext ("%u row that is not printed. To have it printed, tick “Print long lists” on "
                    "the page Season, or write the workbook with --print-lists.",
                    "%u rows that are not printed. To have them printed, tick “Print long lists” "
                    "on the page Season, or write the workbook with --print-lists.",
                    rows),
          rows);

      bed_pen_across (pen, note, BED_LOOK_NOTE);
      pen->print_from = total;
    }
  if (head == BED_FIRST_BLOCK_ROW && !pen->sheet->one_page)
    bed_book_check (pen->book, worksheet_repeat_rows (pen->worksheet, printed ? head : 0, head));
}

static void
write_rows (BedPen *pen, Table *table)
{
  while (!pen->book->error && bed_query_next (table->query))
    {
      write_row (pen, table);
      bed_book_tick (pen->book);
      pen->row++;
    }
  if (!bed_query_finish (table->query, pen->book->error ? NULL : &pen->book->error))
    return;
  if (pen->row == table->scope.first_row)
    {
      bed_pen_text (pen, 0, _ ("None"), pen->book->looks[BED_LOOK_UNIT]);
      pen->row++;
    }
  lxw_row_t last = pen->row - 1;
  /* Before the totals: in constant memory no range may end above the row being written. */
  if (pen->sheet->n_blocks == 1)
    bed_book_check (pen->book, worksheet_autofilter (pen->worksheet, table->scope.first_row - 1, 0,
                                                     last, table->block->n_columns - 1));
  name_columns (pen, table, last);
  lxw_row_t total = pen->row;
  write_totals (pen, table, last);
  set_print (pen, table, total);
}

/* Public */

int
bed_book_column_width (BedBook *book, const BedBookColumn *column)
{
  BedBookColumn known = *column;

  ask_field (&known);
  g_autofree char *head = dup_head (book, &known);
  return MAX (column->width, bed_word_width (head, BED_LETTERS_HEAD));
}

void
bed_pen_table (BedPen *pen, const BedBlock *block)
{
  g_autoptr (BedQuery) query = bed_book_query (pen->book, block->sql);
  g_autofree BedBookColumn *columns
      = g_memdup2 (block->columns, block->n_columns * sizeof *columns);
  g_autofree const char **names = g_new0 (const char *, block->n_columns);
  g_autofree double *values = g_new0 (double, block->n_columns);
  g_autofree const char **texts = g_new0 (const char *, block->n_columns);
  g_autofree BedSums *sums = g_new0 (BedSums, block->n_columns);
  g_autofree BedKept **kept = g_new0 (BedKept *, block->n_columns);
  g_autofree BedExpression **live = g_new0 (BedExpression *, block->n_columns);
  g_autofree const BedField **choices = g_new0 (const BedField *, block->n_columns);
  Table table = { .block = block,
                  .columns = columns,
                  .query = query,
                  .names = names,
                  .values = values,
                  .texts = texts,
                  .sums = sums,
                  .kept = kept,
                  .live = live,
                  .choices = choices };
  lxw_row_t head = pen->row;

  for (guint i = 0; i < block->n_columns; i++)
    {
      choices[i] = ask_field (&columns[i]);
      columns[i].width = bed_book_column_width (pen->book, &columns[i]);
      if ((names[i] = columns[i].name))
        kept[i] = bed_kept_new (columns[i].cell);
    }
  write_heads (pen, &table);
  table.scope = (BedScope){ .book = pen->book,
                            .names = names,
                            .values = values,
                            .texts = texts,
                            .sums = sums,
                            .n_names = block->n_columns,
                            .first_row = pen->row };
  if (head == BED_FIRST_BLOCK_ROW)
    worksheet_freeze_panes (pen->worksheet, head + 1, 1);
  for (guint i = 0; i < block->n_columns; i++)
    live[i] = bed_live_new (columns[i].expression, columns[i].formula, &table.scope);
  write_rows (pen, &table);
  for (guint i = 0; i < block->n_columns; i++)
    g_clear_pointer (&live[i], bed_expression_free);
}
