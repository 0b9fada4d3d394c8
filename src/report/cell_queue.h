#pragma once

#include <glib.h>
#include <xlsxwriter.h>

G_BEGIN_DECLS

/* What goes into a cell. The texts are borrowed. */
typedef struct
{
  lxw_row_t row;
  lxw_col_t column;
  lxw_format *format;
  const char *formula; /* NULL: a value */
  const char *text;    /* NULL: the number */
  double number;       /* NAN: an empty cell; of a formula, an empty text */
} BedCellValue;

lxw_error bed_cell_write (lxw_worksheet *worksheet, const BedCellValue *cell);

/* The rows of a long table on their way into a sheet. Half the time of a big workbook is spent
 * in libxlsxwriter and half in asking the farm and working out the formulas, so a thread writes
 * what is already known while the next rows are being asked for. A short table is written when
 * it ends, without a thread.
 *
 * Between new and end nobody else may touch the sheet. A few thousand cells are kept at most:
 * who is faster waits. */
typedef struct _BedCellQueue BedCellQueue;

BedCellQueue *bed_cell_queue_new (lxw_worksheet *worksheet);

/* Copies @cell. */
void bed_cell_queue_add (BedCellQueue *self, const BedCellValue *cell);

/* Waits until all is written, and frees @self. Returns the first failure of libxlsxwriter. */
lxw_error bed_cell_queue_end (BedCellQueue *self);

G_END_DECLS
