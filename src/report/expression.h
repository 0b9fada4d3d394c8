#pragma once

#include "report/book.h"

/* Formulas of the workbook, written once and used twice: as the text of a cell
 * and as the value cached in it.
 *
 *   [mass]     the cell of the column "mass" in the same row
 *   [^mass]    the same column's cell in the first row of the table
 *   Picks_mass a name of the workbook: cells or one figure
 *   {line.use.sold}  the word a choice of the field table is shown as, quoted
 *   MINOR      minor units in one of the currency: 100 for cents
 *   TAXED      1 where tax on purchases is a cost, 0 where it is reclaimed; in formulas alone
 *
 * What we can work out ourselves is an expression: numbers, names, + - * / ( ),
 * SUM, MAX, COUNT of a name, SUM ([^x]:[x]) down to this row, MAX (0, x),
 * ROUND (x, d), SQRT (x), EXP (x), LN (x), IFERROR (x, y), TINV (p, n), PMT (i, n, -1), and
 * SUMIFS (values, cells, condition, ...), COUNTIFS (cells, condition, ...) over
 * named columns, a condition being [x], {a.b.c}, a number, ">0", or one of the
 * first two behind "="&, "<>"& or "<"&.
 * An expression with no answer (division by zero) is an empty text, in the cell
 * as in the cache: IFERROR (..., ""). Anything else is a formula whose value the
 * farm is asked for. */

typedef struct
{
  BedBook *book;
  const char *const *names; /* of the columns, NULL for those without; may be NULL */
  const double *values;     /* of the row, NAN where there is none */
  const char *const *texts; /* of the row, NULL where there is none */
  const BedSums *sums;      /* of the rows before this one */
  guint n_names;
  lxw_row_t row;
  lxw_row_t first_row;
} BedScope;

/* Read once for all rows of a column. */
typedef struct _BedExpression BedExpression;

/* @text outlives it; of @scope only the book and the names are looked at. What cannot be read,
 * or names a column that is not there, is a programmer's mistake.
 * Returns: (transfer full) free with bed_expression_free(). */
BedExpression *bed_expression_new (const char *text, const BedScope *scope);
BedExpression *bed_formula_new (const char *text, const BedScope *scope);

/* The one that is not NULL of both; NULL when neither is. */
BedExpression *bed_live_new (const char *expression, const char *formula, const BedScope *scope);
void bed_expression_free (BedExpression *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedExpression, bed_expression_free)

/* In the row of @scope, whose names are those it was made with; NAN when there is no answer,
 * and for a formula. */
double bed_expression_value (BedExpression *self, const BedScope *scope);

/* The text of the cell, with its leading "="; borrowed, until it is asked for again. */
const char *bed_expression_text (BedExpression *self, const BedScope *scope);
