#include "report/pen.h"

#include "model/farm/functions.h"
#include "model/farm/query.h"

#include <glib/gi18n-lib.h>
#include <math.h>

enum
{
  COLUMN_LABEL,
  COLUMN_VALUE,
  COLUMN_UNIT,
  COLUMN_NOTE
};

/* Helpers */

static BedFigureId
find_figure (const BedBookFigure *figure)
{
  BedFigureId id = bed_figure_find (BED_FIGURE_OF_SEASON, figure->key);

  g_assert (id < BED_N_FIGURES); /* a sheet names a figure that there is not */
  return id;
}

/* A figure is as fine as the table of figures has it, here as on the pages. */
static int
decimals_of (const BedBookFigure *figure)
{
  const BedFigure *known = figure->key ? bed_figure_get (find_figure (figure)) : NULL;

  return known && known->measure != BED_MEASURE_MONEY ? (int) known->decimals : BED_BOOK_USUAL;
}

static void
write_figure_value (BedPen *pen, const BedBookFigure *figure, BedStyle style)
{
  int decimals = decimals_of (figure);
  BedScope scope = { .book = pen->book, .row = pen->row };
  g_autofree char *name = figure->key ? g_strconcat ("figure_", figure->key, NULL)
                                      : g_strdup (figure->name);
  BedCells cells = { .sheet = _ (pen->sheet->name),
                     .name = name,
                     .row = pen->row,
                     .last = pen->row,
                     .column = COLUMN_VALUE };
  g_autoptr (BedExpression) live = bed_live_new (figure->expression, figure->formula, &scope);
  double value = figure->expression ? bed_expression_value (live, &scope)
                                    : bed_book_ask (pen->book, figure->sql, figure->cell);

  if (style == BED_STYLE_INPUT)
    value = bed_book_said (pen->book, figure->cell,
                           nearbyint (value * pen->book->factors[figure->cell]), &decimals);
  lxw_format *format = bed_book_format (pen->book, figure->cell, style, decimals);
  if (live)
    bed_pen_live (pen, COLUMN_VALUE, bed_expression_text (live, &scope), value, format);
  else
    bed_pen_number (pen, COLUMN_VALUE, value, format);
  if (name)
    bed_book_name (pen->book, &cells, &(BedSums){ .sum = value, .most = value });
}

static void
write_text_answer (BedPen *pen, const BedBookFigure *figure)
{
  g_autoptr (BedQuery) q = bed_book_query (pen->book, figure->sql);
  lxw_format *format
      = bed_book_format (pen->book, BED_BOOK_CELL_TEXT, BED_STYLE_FIGURE, BED_BOOK_USUAL);

  g_autofree char *text = bed_query_next (q) ? g_strdup (bed_query_text (q, 0)) : NULL;
  if (!bed_query_finish (q, pen->book->error ? NULL : &pen->book->error))
    return;
  bed_book_check (pen->book, worksheet_merge_range (pen->worksheet, pen->row, COLUMN_VALUE,
                                                    pen->row, BED_NOTE_COLUMNS - 1, "", format));
  bed_pen_text (pen, COLUMN_VALUE, text, format);
}

/* Public */

gboolean
bed_book_figure_is_heading (const BedBookFigure *figure)
{
  return !figure->sql && !figure->expression && !figure->key;
}

const char *
bed_book_figure_get_label (BedBook *book, const BedBookFigure *figure)
{
  return bed_book_word (book,
                        figure->key ? bed_figure_get (find_figure (figure))->label : figure->label);
}

void
bed_pen_seasons (BedPen *pen)
{
  BedBook *book = pen->book;
  lxw_format *look = book->looks[BED_LOOK_HEAD_RIGHT];

  for (int i = COLUMN_LABEL; i <= BED_COLUMN_BEFORE; i++)
    {
      int season = book->plan->season - (i == BED_COLUMN_BEFORE);
      g_autofree char *name = bed_season_dup_name (book->farm, season);

      bed_pen_text (pen, i, i == COLUMN_VALUE || i == BED_COLUMN_BEFORE ? name : NULL, look);
    }
  pen->row++;
}

void
bed_pen_figure (BedPen *pen, const BedBookFigure *figure)
{
  lxw_format **looks = pen->book->looks;
  BedStyle style = figure->style == BED_STYLE_BODY ? BED_STYLE_FIGURE : figure->style;
  gboolean strong = style == BED_STYLE_STRONG;

  if (bed_book_figure_is_heading (figure))
    {
      bed_pen_text (pen, COLUMN_LABEL, bed_book_word (pen->book, figure->label),
                    looks[BED_LOOK_HEADING]);
      pen->row++;
      return;
    }
  /* Charts beside figures are as high as their rows, so those must not shrink to fit. */
  bed_book_check (pen->book, worksheet_set_row (pen->worksheet, pen->row, BED_ROW_HEIGHT, NULL));
  bed_pen_text (pen, COLUMN_LABEL, bed_book_figure_get_label (pen->book, figure),
                looks[strong ? BED_LOOK_LABEL_STRONG : BED_LOOK_LABEL]);
  if (figure->cell == BED_BOOK_CELL_TEXT)
    {
      write_text_answer (pen, figure);
      pen->row++;
      return;
    }
  write_figure_value (pen, figure, style);
  bed_pen_text (pen, COLUMN_UNIT, pen->book->units[figure->cell], looks[BED_LOOK_UNIT]);
  if (figure->before)
    bed_pen_number (pen, BED_COLUMN_BEFORE, bed_book_ask (pen->book, figure->before, figure->cell),
                    bed_book_format (pen->book, figure->cell, style, BED_BOOK_USUAL));
  if (figure->note)
    bed_pen_text (pen, COLUMN_NOTE, bed_book_word (pen->book, figure->note), looks[BED_LOOK_UNIT]);
  pen->row++;
}
