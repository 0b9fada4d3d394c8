#pragma once

#include "tool/calc/calc_command.h"

/* Inside the room: small tables handed to calc commands, read as import reads its files.
 * The first line names the columns, in any order; others are passed over. */

typedef struct _BedCalcTable BedCalcTable;

/* The table that @option names. @columns ends with NULL; a name that begins with ? may be
 * absent. NULL and an error otherwise: BED_CALC_ERROR for a fault in the table,
 * `file:line:column: what`, G_FILE_ERROR for a file that cannot be read. Free with
 * bed_calc_table_free(). */
BedCalcTable *bed_calc_table_read (BedCalc *calc, const char *option, const char *const *columns,
                                   GError **error);

void bed_calc_table_free (BedCalcTable *table);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedCalcTable, bed_calc_table_free)

/* Rows beside the head. */
guint bed_calc_table_length (const BedCalcTable *table);

/* The text of one field, borrowed; "" where an optional column is absent. */
const char *bed_calc_table_text (const BedCalcTable *table, guint row, int column);

/* The field as a measure, in the unit of bed_calc_scale(); errors name file, line and column. */
gboolean bed_calc_table_value (const BedCalcTable *table, guint row, int column, BedMeasure measure,
                               double *value, GError **error);

/* The field as a date YYYY-MM-DD. */
gboolean bed_calc_table_date (const BedCalcTable *table, guint row, int column, GDate *date,
                              GError **error);

/* The field as a plain number. */
gboolean bed_calc_table_number (const BedCalcTable *table, guint row, int column, double *value,
                                GError **error);

/* Sets BED_CALC_ERROR_USAGE, `file:line:column: name: what`. Always FALSE. */
gboolean bed_calc_table_refuse (const BedCalcTable *table, guint row, int column, const char *what,
                                GError **error);
