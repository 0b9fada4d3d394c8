#pragma once

#include "model/farm/edit.h"
#include "model/sheet/rows.h"

/* One thing wrong in a CSV, or worth knowing (a warning: done all the same). */
typedef struct
{
  BedFaultSeverity severity;
  char *file;   /* as it was named to the import */
  guint line;   /* physical, from 1, the head is line 1; 0 for the whole file */
  guint column; /* field number, from 1; 0 for the whole line */
  char *message;
  guint more;    /* others, further down in the column, that are the same but for names and
                    numbers, and are not told of one by one */
  guint to_line; /* of the last of them */
} BedCsvFault;

void bed_csv_fault_free (BedCsvFault *fault);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedCsvFault, bed_csv_fault_free)

/* "log.csv:4:2: what is wrong", for people; owned by the caller. */
char *bed_csv_fault_dup_text (const BedCsvFault *fault);

/* A CSV file as it stands: rows of cells with the physical line each begins on. For
 * the model room only. */
typedef struct
{
  guint line;
  guint n_cells;
  const char **cells; /* never NULL */
  guint *lines;       /* of each cell: a quoted one before it may hold line ends */
} BedCsvRow;

/* One row after the other in the same @row: texts are borrowed from @from. */
gboolean bed_csv_row_is_blank (const BedSheetRow *from);
void bed_csv_row_take (BedCsvRow *row, const BedSheetRow *from);
void bed_csv_row_clear (BedCsvRow *row);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (BedCsvRow, bed_csv_row_clear)

typedef struct
{
  GStringChunk *texts;
  GPtrArray *rows; /* BedCsvRow; the first is the head */
} BedCsvTable;

/* The rows that are left in @rows. NULL with an error when the file cannot be read; NULL
 * without one, and faults, when its bytes are wrong. Empty lines, and lines of nothing but
 * commas (which spreadsheets leave), are passed over. */
BedCsvTable *bed_csv_table_take (BedRows *rows, const char *path, GPtrArray *faults,
                                 GError **error);

/* Hands the error of a file that is not there or cannot be read up as one of the farm's;
 * FALSE and nothing done when it is about the file's bytes. */
gboolean bed_csv_take_error (GError *why, GError **error);

/* The same of a file as this program writes them: UTF-8, commas. */
BedCsvTable *bed_csv_table_read (const char *path, GPtrArray *faults, GError **error);

/* The same of @length bytes in memory; @path names them in the faults. */
BedCsvTable *bed_csv_table_parse (const char *path, const char *bytes, gsize length,
                                  GPtrArray *faults);
void bed_csv_table_free (BedCsvTable *table);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedCsvTable, bed_csv_table_free)

void bed_csv_add_fault (GPtrArray *faults, BedFaultSeverity severity, const char *file, guint line,
                        guint column, char *message);

/* Text cells that a spreadsheet would take for a formula (first character = + - @ tab
 * or a line end: OWASP, CSV Injection) carry an apostrophe in front, as do those that
 * begin with apostrophes followed by one of these, so that the guard can be taken off
 * without a doubt. Numbers are known by their field and never guarded. */
char *bed_csv_guard (const char *text);
const char *bed_csv_unguard (const char *cell);
