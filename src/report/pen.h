#pragma once

#include "report/book_sheet.h"
#include "report/expression.h"

/* Cells of one sheet, written from the top down: in constant memory a row that
 * has been left cannot be written any more. */
typedef struct
{
  BedBook *book;
  lxw_worksheet *worksheet;
  const BedBookSheet *sheet;
  lxw_row_t row; /* the one being written */
  char date[12]; /* the last one written, and its day number */
  double serial;
} BedPen;

#define BED_FIRST_BLOCK_ROW 3
#define BED_LINE_HEIGHT 12.0 /* points */
#define BED_ROW_HEIGHT 15.75

/* People's text: always a string cell, always whole UTF-8, never too long for one. */
void bed_pen_text (BedPen *pen, lxw_col_t column, const char *text, lxw_format *format);

/* NAN leaves the cell empty. */
void bed_pen_number (BedPen *pen, lxw_col_t column, double value, lxw_format *format);

/* A formula with the value cached in it; NAN: an empty text, in the cache too. */
void bed_pen_live (BedPen *pen, lxw_col_t column, const char *formula, double value,
                   lxw_format *format);

/* YYYY-MM-DD as a day number; what is no date stays text. */
void bed_pen_date (BedPen *pen, lxw_col_t column, const char *date, lxw_format *format);

/* Returns the value it wrote. */
double bed_pen_expression (BedPen *pen, const BedScope *scope, lxw_col_t column,
                           BedExpression *expression, lxw_format *format);

/* How many lines a text takes in a column of that many characters: programs do
 * not agree on making room for wrapped text by themselves. */
double bed_text_lines (const char *text, int width);

/* A whole sheet: sheet_write.c. */
void bed_book_sheet_write (BedBook *book, lxw_worksheet *worksheet, const BedBookSheet *sheet);

/* The two kinds of block: sheet_table.c, sheet_figures.c. */
void bed_pen_table (BedPen *pen, const BedBlock *block);
void bed_pen_figure (BedPen *pen, const BedBookFigure *figure);
const char *bed_book_figure_get_label (const BedBookFigure *figure); /* translated, borrowed */
gboolean bed_book_figure_is_heading (const BedBookFigure *figure);
