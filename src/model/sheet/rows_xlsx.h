#pragma once

#include "model/sheet/rows_number.h"
#include "model/sheet/rows_part.h"

/* A merged range: its cells are as its first one. */
typedef struct
{
  guint top, left, bottom, right; /* from 1 */
  char *text;                     /* of the first cell, or NULL */
  BedCellKind kind;
} BedMerged;

/* A sheet of an .xlsx being read. */
typedef struct
{
  BedBookPart *part;
  BedEpoch epoch;
  GArray *looks;     /* guint8 of BedNumberLook, by the number of the style */
  GString *shared;   /* texts one after the other, each with its NUL */
  GArray *shared_at; /* gsize: where each begins */
  GArray *merged;    /* BedMerged by their tops */
  guint first_open;  /* none before it reaches the row */
  BedLine line;
} BedXlsx;

/* The state of a text with runs: `si` of the shared ones, `is` of a cell. */
typedef struct
{
  gboolean in_text, in_reading;
} BedXlsxText;

/* rows_xlsx_book.c: where the workbook is, as the archive says or as is usual. */
char *bed_xlsx_find_book (BedSource *source);
/* Adds the sheets. */
gboolean bed_xlsx_read_book (BedRows *self, const char *name, GError **error);
/* Epoch, looks, shared texts. */
gboolean bed_xlsx_read_beside (BedXlsx *self, BedSource *source, const char *book, GError **error);
void bed_xlsx_append_text (GString *to, const char *text);
/* Appends what the step brings; TRUE at the end of the text. */
gboolean bed_xlsx_text_step (BedXlsxText *self, BedBookPart *part, BedPartStep step, GString *to);

/* rows_merged.c */
gboolean bed_merged_read (BedXlsx *self, BedSource *source, const char *sheet, GError **error);
void bed_merged_fill (BedXlsx *self);
/* "BC12" -> column 55, row 12, each from 1; 0 where there is none of it. */
void bed_xlsx_read_place (const char *text, guint *column, guint *row);
