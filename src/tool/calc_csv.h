#pragma once

#include <gio/gio.h>

#include "science/units.h"

/* Inside the room: small tables handed to calc commands. RFC 4180, UTF-8, first line
 * the names of the columns, in any order; others are passed over. */

G_BEGIN_DECLS

typedef struct
{
  char *path;
  GPtrArray *rows; /* GStrv of the columns asked for; "" where an optional one is absent */
  GArray *lines;   /* int, the line each row stands on */
  char **units;    /* the `F` of a head `min (F)`; "" for none */
  char **columns;
} BedCalcTable;

/* @columns ends with NULL; a name that begins with ? may be absent. NULL and an error
 * (BED_CALC_ERROR for a fault in the table, `file:line:column: what`) otherwise. Free
 * with bed_calc_table_free(). */
BedCalcTable *bed_calc_table_read (const char *path, const char *const *columns, GError **error);

void bed_calc_table_free (BedCalcTable *table);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedCalcTable, bed_calc_table_free)

/* The text of one field, borrowed. */
const char *bed_calc_table_text (const BedCalcTable *table, guint row, int column);

/* The field as a measure, in its stored unit; errors name file, line and column. */
gboolean bed_calc_table_measure (const BedCalcTable *table, guint row, int column,
                                 BedMeasure measure, gint64 *value, GError **error);

/* The field as a date YYYY-MM-DD. */
gboolean bed_calc_table_date (const BedCalcTable *table, guint row, int column, GDate *date,
                              GError **error);

/* The field as a plain number. */
gboolean bed_calc_table_number (const BedCalcTable *table, guint row, int column, double *value,
                                GError **error);

/* Sets BED_CALC_ERROR_USAGE, `file:line:column: what`. Always FALSE. */
gboolean bed_calc_table_refuse (const BedCalcTable *table, guint row, int column,
                                const char *what, GError **error);

G_END_DECLS
