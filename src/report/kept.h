#pragma once

#include "report/book_cell.h"
#include <glib.h>

/* The cells of a named column, kept in memory so that SUMIFS and COUNTIFS over
 * them can be worked out as they will be in the workbook. */
typedef struct
{
  GArray *numbers;  /* double, or NULL for a column of text */
  GPtrArray *texts; /* const char *, in the book's strings, so that equal texts are the same
                     * pointer; "" where a cell is empty */
} BedKept;

BedKept *bed_kept_new (BedBookCell cell);
void bed_kept_free (BedKept *kept);

/* One condition: a column, and what its cells must be. */
typedef struct
{
  enum
  {
    BED_TEST_EQUAL,
    BED_TEST_DIFFERS,
    BED_TEST_ABOVE,
    BED_TEST_BELOW
  } test;
  const BedKept *column;
  gboolean varies;  /* with the row that asks: part of the key */
  const char *text; /* NULL: a number is meant */
  double number;
} BedCondition;

/* The sum (or, with @values NULL, the number) of cells that meet every condition, by
 * looking at each: for conditions that vary by more than what they equal. */
double bed_kept_scan (const BedKept *values, const BedCondition *conditions, guint n);

/* Cells that meet what does not vary, summed and counted by what does. */
typedef struct _BedIndex BedIndex;

/* @values NULL counts. */
BedIndex *bed_index_new (const BedKept *values, const BedCondition *conditions, guint n);
void bed_index_free (BedIndex *index);
double bed_index_find (BedIndex *index, const BedCondition *conditions, guint n);
