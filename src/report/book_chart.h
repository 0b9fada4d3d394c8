#pragma once

#include "report/book.h"

/* Native charts over named columns, in the workbook's own look: bars for
 * amounts, dots with whiskers where @low and @high are given. */
typedef struct
{
  const char *title;  /* N_() */
  const char *labels; /* names of columns already written: "Weeks_week" */
  const char *values;
  const char *expected; /* pale bars behind, or NULL */
  const char *low;
  const char *high;
  int every;        /* a label for each so many bars, 0 for all */
  BedBookCell cell; /* what the values are: its unit stands at the axis */
  lxw_row_t row;
  lxw_col_t column;
  int width; /* pixels at 96 to the inch */
  int height;
} BedBookChart;

void bed_book_chart_draw (BedBook *book, lxw_worksheet *worksheet, const BedBookChart *chart);
