#pragma once

#include "model/sheet/rows.h"

/* Between the files of this folder only. */

/* No sheet of a farm is wider or longer; both are what the common spreadsheets hold. */
#define BED_ROWS_MOST_CELLS 16384
#define BED_ROWS_MOST_ROWS 1048576
/* Bytes of text in one row. */
#define BED_ROWS_MOST_TEXT (32 << 20)
/* Merged ranges of a sheet; of one, the columns and the bytes of text that its other cells are
 * given: they are heads and names, and the work grows with them. */
#define BED_MERGED_MOST 5000
#define BED_MERGED_MOST_COLUMNS 64
#define BED_MERGED_LONGEST 1000

/* --- bytes: rows_source.c --------------------------------------------------------- */

typedef struct _BedSource BedSource;

BedSource *bed_source_new_file (const char *path, GError **error);
BedSource *bed_source_new_bytes (GBytes *bytes);
void bed_source_free (BedSource *self);
guint64 bed_source_get_size (BedSource *self);
/* At most @n bytes from @at on; 0 at the end, -1 and errno when they cannot be read. */
gssize bed_source_read (BedSource *self, guint64 at, void *bytes, gsize n);

/* --- a row on its way: rows_line.c ------------------------------------------------ */

typedef struct
{
  GString *texts; /* of the cells, each with its NUL */
  GArray *cells;  /* BedCell; while they come, their text is an offset */
  BedSheetRow row;
} BedLine;

void bed_line_init (BedLine *self);
void bed_line_clear (BedLine *self);
void bed_line_begin (BedLine *self, guint line);
/* The cell's text is what was appended to @texts from @start on. */
void bed_line_end_cell (BedLine *self, gsize start, BedCellKind kind, guint line);
void bed_line_add (BedLine *self, const char *text, BedCellKind kind);
/* Empty cells up to @n. */
void bed_line_pad (BedLine *self, guint n);
const BedSheetRow *bed_line_finish (BedLine *self);

/* --- text: rows_decode.c, rows_split.c, rows_dialect.c ------------------------------ */

/* Bytes to UTF-8, a block at a time. */
typedef struct
{
  BedSource *source;
  BedEncoding encoding;
  guint64 at;
  GString *text; /* decoded and not yet taken */
  gboolean ended;
  gboolean broken; /* what follows @text is no such text */
  gboolean failed; /* it could not be read; errno */
} BedDecoder;

void bed_decoder_init (BedDecoder *self, BedSource *source, BedEncoding encoding);
void bed_decoder_clear (BedDecoder *self);
/* More of it at the end of @text. */
void bed_decoder_more (BedDecoder *self);
/* By a byte order mark alone. */
BedEncoding bed_decoder_find_mark (BedSource *source);
/* Looks through the whole source. */
BedEncoding bed_decoder_find_encoding (BedSource *source, BedSure *sure);

typedef enum
{
  BED_SPLIT_ROW,  /* a row is whole */
  BED_SPLIT_MORE, /* the text ends within it */
  BED_SPLIT_QUOTE,
  BED_SPLIT_WIDE,
  BED_SPLIT_LONG,
} BedRowSplit;

/* Text to rows. */
typedef struct
{
  BedReading reading;
  guint8 special[256]; /* bytes that end a stretch of a cell */
  BedLine line;
  int state;
  gsize start, kept; /* of the cell: where it begins, and what of it stays though it is space */
  guint begun_on;    /* line of the cell */
  guint at_line;
  gboolean carriage; /* a CR was last: an LF belongs to it */
} BedSplitter;

void bed_splitter_init (BedSplitter *self, const BedReading *reading);
void bed_splitter_clear (BedSplitter *self);
/* Takes what it can from @text; *@taken says how much. @last: nothing follows. */
typedef enum
{
  BED_TEXT_GOES_ON,
  BED_TEXT_IS_LAST,
} BedTextEnd;
BedRowSplit bed_splitter_feed (BedSplitter *self, const char *text, gsize length, BedTextEnd end,
                               gsize *taken);

/* Readings of @text in the order of their scores (element BedCandidate), the encoding left out;
 * there is always one. */
GArray *bed_dialect_find (const char *text, gsize length, BedTextEnd end);

/* --- formats ------------------------------------------------------------------------ */

/* What rows.c asks of a format. */
typedef struct
{
  gboolean (*begin) (BedRows *self, guint sheet, GError **error);
  const BedSheetRow *(*next) (BedRows *self, GError **error);
  void (*clear) (BedRows *self);
} BedRowsClass;

typedef struct
{
  char *name;
  char *part; /* of the archive, or NULL */
  BedRowSight sight;
} BedRowsSheet;

struct _BedRows
{
  BedRowsFormat format;
  const BedRowsClass *klass;
  BedSource *source;
  GArray *sheets; /* BedRowsSheet */
  guint sheet;    /* chosen */
  BedReading reading;
  BedSure encoding_sure, delimiter_sure;
  GArray *candidates;
  guint line, column; /* of the last error */
  gpointer state;     /* of the format */
};

void bed_rows_add_sheet (BedRows *self, const char *name, const char *part, BedRowSight sight);
const BedSheetRow *bed_rows_fail (BedRows *self, guint line, guint column, GError **error, int code,
                                  const char *message);
/* The same of an error that is there already. */
const BedSheetRow *bed_rows_stop (BedRows *self, guint line);
/* The first sheet that is shown. */
gboolean bed_rows_choose_first (BedRows *self, GError **error);

/* rows_text.c: @reading as it was asked for. */
gboolean bed_rows_open_text (BedRows *self, const BedReading *reading, GError **error);

/* rows_book.c, rows_xlsx.c, rows_ods.c */
gboolean bed_rows_open_book (BedRows *self, GError **error);
gboolean bed_rows_open_xlsx (BedRows *self, GError **error);
gboolean bed_rows_open_ods (BedRows *self, GError **error);
