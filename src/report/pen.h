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
  lxw_row_t row;        /* the one being written */
  lxw_row_t print_from; /* the first one printed */
  lxw_col_t used;       /* columns printed */
  int width;            /* of them all, characters */
  gboolean two_wide;    /* on two pages side by side */
  char date[20];        /* the last one written, and its day number */
  double serial;
} BedPen;

#define BED_FIRST_BLOCK_ROW 3
#define BED_LINE_HEIGHT 12.0 /* points */
#define BED_ROW_HEIGHT 15.75
#define BED_NOTE_COLUMNS 8 /* a text or a note beside a figure runs on to here */

/* People's text: always a string cell, always whole UTF-8, never too long for one. */
void bed_pen_text (BedPen *pen, lxw_col_t column, const char *text, lxw_format *format);

/* NAN leaves the cell empty. */
void bed_pen_number (BedPen *pen, lxw_col_t column, double value, lxw_format *format);

/* A formula with the value cached in it; NAN: an empty text, in the cache too. */
void bed_pen_live (BedPen *pen, lxw_col_t column, const char *formula, double value,
                   lxw_format *format);

/* YYYY-MM-DD, a time of day behind it or not, as a day number; what is no date stays text. */
void bed_pen_date (BedPen *pen, lxw_col_t column, const char *date, lxw_format *format);

/* Returns the value it wrote. */
double bed_pen_expression (BedPen *pen, const BedScope *scope, lxw_col_t column,
                           BedExpression *expression, lxw_format *format);

/* How many lines a text of that size takes, wrapped in columns @width characters wide together:
 * programs do not agree on making room for wrapped text by themselves. */
typedef enum
{
  BED_LETTERS_BODY,
  BED_LETTERS_HEAD, /* bold */
  BED_LETTERS_TITLE,
} BedLetters;

int bed_text_lines (const char *text, BedLetters letters, int width);

/* The least width that breaks none of its words. */
int bed_word_width (const char *text, BedLetters letters);

/* Text across all columns printed, as high as it needs; the next row is begun. */
void bed_pen_across (BedPen *pen, const char *text, BedLook look);

/* Whether the entries of a list of so many rows are printed. */
gboolean bed_pen_prints (const BedPen *pen, guint rows);

/* A whole sheet: sheet_write.c. */
void bed_book_sheet_write (BedBook *book, lxw_worksheet *worksheet, const BedBookSheet *sheet);

/* The two kinds of block: sheet_table.c, sheet_figures.c. A column is so wide that no word of its
 * head is broken. */
int bed_book_column_width (BedBook *book, const BedBookColumn *column);
void bed_pen_table (BedPen *pen, const BedBlock *block);
void bed_pen_seasons (BedPen *pen); /* the row of their heads */
void bed_pen_figure (BedPen *pen, const BedBookFigure *figure);
const char *bed_book_figure_get_label (BedBook *book, const BedBookFigure *figure); /* translated */
gboolean bed_book_figure_is_heading (const BedBookFigure *figure);
