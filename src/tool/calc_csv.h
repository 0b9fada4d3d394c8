#pragma once

#include <glib.h>

#include "tool/calc_command.h"

G_BEGIN_DECLS

/* A small table of numbers for a calc command: RFC 4180, the first row names the
 * columns, in any order. Rows are counted as a spreadsheet counts them, the head
 * being row 1. */

typedef struct
{
  const char *name;
  BedCalcNeed need; /* of the column; a cell may still be empty where it is read so */
} BedCalcColumn;

typedef struct _BedCalcTable BedCalcTable;

/* Reads @path; @columns ends with one without a name. Errors: G_FILE_ERROR when the
 * file cannot be read; BED_CALC_ERROR when it is not such a table, a column is
 * missing, unknown or there twice, or no row follows.
 * Returns: (transfer full) free with bed_calc_table_free(). */
BedCalcTable *bed_calc_table_read (const char *path, const BedCalcColumn *columns, GError **error);
void bed_calc_table_free (BedCalcTable *table);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedCalcTable, bed_calc_table_free)

guint bed_calc_table_n_rows (BedCalcTable *table);

/* The cell as written, "" when it is empty or its column is not there. Borrowed. */
const char *bed_calc_table_text (BedCalcTable *table, guint row, const char *column);

/* The cell as a plain decimal number; an error that names file, row and column. */
gboolean bed_calc_table_number (BedCalcTable *table, guint row, const char *column, double *value,
                                GError **error);

/* The same for a whole number from 0 up; an empty cell is @fallback. */
gboolean bed_calc_table_count (BedCalcTable *table, guint row, const char *column, guint fallback,
                               guint *value, GError **error);

G_END_DECLS
