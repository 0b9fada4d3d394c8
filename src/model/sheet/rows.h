#pragma once

#include <glib.h>

/* A file of rows of cells, as other programs write them: text with a delimiter, .xlsx, .ods. What
 * it is is told by its bytes, not by its name. Rows are read one after the other and nothing of
 * the file is kept but the texts that an .xlsx shares, so memory does not grow with it; nothing
 * of it is run or followed (no formula, no entity, no link), and its size is bounded. */
typedef struct _BedRows BedRows;

#define BED_ROWS_ERROR (bed_rows_error_quark ())
GQuark bed_rows_error_quark (void);

typedef enum
{
  BED_ROWS_ERROR_NOT_FOUND, /* no such file */
  BED_ROWS_ERROR_FAILED,    /* it cannot be read */
  BED_ROWS_ERROR_INVALID,   /* its bytes are wrong: bed_rows_get_line() and _column() say where */
  BED_ROWS_ERROR_BOUND,     /* larger than a sheet of a farm can be */
} BedRowsError;

typedef enum
{
  BED_ROWS_TEXT,
  BED_ROWS_XLSX,
  BED_ROWS_ODS,
} BedRowsFormat;

typedef enum
{
  BED_ENCODING_FOUND, /* by the bytes */
  BED_ENCODING_UTF_8,
  BED_ENCODING_UTF_16LE,
  BED_ENCODING_UTF_16BE,
  BED_ENCODING_WINDOWS_1252,
  BED_ENCODING_LATIN_1,
} BedEncoding;

typedef enum
{
  BED_SURE_TOLD,    /* the file says so itself: a byte order mark, a line "sep=;" */
  BED_SURE_CHECKED, /* every byte fits, and would hardly by chance */
  BED_SURE_GUESSED, /* what is usual */
  BED_SURE_FORCED,  /* whoever opened it said so */
} BedSure;

/* How the bytes of a text are read. */
typedef struct
{
  BedEncoding encoding;
  char delimiter; /* 0: it, the quote and the escape are found */
  char quote;     /* 0: none */
  char escape;    /* before a quote inside a quoted cell; 0: the quote is written twice */
} BedReading;

/* A reading, and how well it does on the first part of the file: bed_rows_get_candidates(). */
typedef struct
{
  BedReading reading;
  double score;     /* row patterns x kinds of cells; the more the better, no scale */
  guint rows;       /* that were looked at, blank ones apart */
  guint rows_alike; /* of them with @width cells, the commonest number */
  guint width;
} BedCandidate;

/* What the file says that a cell is. Cells of a text file are BED_CELL_TEXT or empty. */
typedef enum
{
  BED_CELL_EMPTY,
  BED_CELL_TEXT,
  BED_CELL_NUMBER,  /* with a point, no groups: "1234.5" */
  BED_CELL_PERCENT, /* "35%" */
  BED_CELL_DATE,    /* "2026-05-18", or "2026-05-18T14:30" with a time of day */
  BED_CELL_TIME,    /* "14:30", or of a duration "36:30"; seconds where there are any */
  BED_CELL_TRUTH,   /* "TRUE", "FALSE" */
  BED_CELL_ERROR,   /* "#DIV/0!" */
} BedCellKind;

typedef struct
{
  const char *text; /* UTF-8, never NULL */
  BedCellKind kind;
  guint line; /* it begins on: of the text, or the number of the row */
} BedCell;

typedef enum
{
  BED_ROW_SHOWN,
  BED_ROW_HIDDEN, /* by hand or by a filter */
} BedRowSight;

/* Borrowed until the next row is read. */
typedef struct
{
  guint line; /* physical line of a text, number of the row in a sheet; from 1 */
  guint n_cells;
  const BedCell *cells;
  BedRowSight sight;
} BedSheetRow;

/* @reading NULL or of noughts: all is found. @path may be a pipe. NULL on error. */
BedRows *bed_rows_open_file (const char *path, const BedReading *reading, GError **error);
BedRows *bed_rows_open_bytes (GBytes *bytes, const BedReading *reading, GError **error);
void bed_rows_free (BedRows *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedRows, bed_rows_free)

BedRowsFormat bed_rows_get_format (BedRows *self);

/* Sheets in their order; a text has one without a name. */
guint bed_rows_get_n_sheets (BedRows *self);
const char *bed_rows_get_sheet_name (BedRows *self, guint sheet);
BedRowSight bed_rows_get_sheet_sight (BedRows *self, guint sheet);

/* Reads this sheet from its first row on; the first one shown is chosen at opening. */
gboolean bed_rows_choose_sheet (BedRows *self, guint sheet, GError **error);
guint bed_rows_get_sheet (BedRows *self);
/* By its name, without regard to case. */
gboolean bed_rows_choose_sheet_named (BedRows *self, const char *name, GError **error);

/* Reads a text again from its beginning in this way. */
gboolean bed_rows_read_as (BedRows *self, const BedReading *reading, GError **error);

/* How a text is read, and how sure it is; all noughts for a workbook. */
const BedReading *bed_rows_get_reading (BedRows *self);
BedSure bed_rows_get_encoding_sure (BedRows *self);
BedSure bed_rows_get_delimiter_sure (BedRows *self);
/* Readings that the first part of a text allows, best first; empty when one was forced at opening.
 */
const BedCandidate *bed_rows_get_candidates (BedRows *self, guint *n);

/* The next row, blank ones too; NULL at the end, or with @error. */
const BedSheetRow *bed_rows_next (BedRows *self, GError **error);

/* Where the last error of bed_rows_next() is: line, and cell from 1 or 0 for none. */
guint bed_rows_get_line (BedRows *self);
guint bed_rows_get_column (BedRows *self);

/* "utf-8", "UTF-16", "windows-1252", "latin1" and their like; BED_ENCODING_FOUND for another. */
BedEncoding bed_encoding_from_name (const char *name);
/* As people write it: "Windows-1252". */
const char *bed_encoding_get_name (BedEncoding encoding);
