#pragma once

#include "print/page/qr.h"
#include "print/page/text.h"

/* A sheet to carry out on a board, fill in with a pencil and type in again: a
 * title, boxes for what is true of the whole sheet, perhaps a figure and
 * cautions, and a table whose columns stand in the order the form takes them
 * in. Cells with nothing in them are tall enough for a cold hand. */

typedef enum
{
  BED_COLUMN_TEXT,   /* printed or written, from the left */
  BED_COLUMN_NUMBER, /* printed or written, to the right */
  BED_COLUMN_CODE,   /* printed with its QR code */
} BedColumnKind;

typedef struct
{
  const char *head;
  const char *unit; /* "cm"; for a choice "A · B · C"; or NULL */
  double weight;    /* share of the width among the columns */
  BedColumnKind kind;
} BedSheetColumn;

/* What is true of the whole sheet: printed when known, else a line to write on. */
typedef struct
{
  const char *label;
  const char *value;   /* or NULL */
  const char *unit;    /* at the end of the line, or NULL */
  const char *choices; /* words to ring, "dormant · bud swell", or NULL */
} BedSheetBox;

/* Draws the figure in the box. */
typedef gboolean (*BedDrawFigure) (cairo_t *cr, const BedBox *box, gpointer data, GError **error);

typedef struct
{
  double height; /* points */
  BedDrawFigure draw;
  gpointer data;
  GDestroyNotify free_data;
} BedSheetFigure;

typedef struct _BedFieldSheet BedFieldSheet;

/* All texts are copied. @subtitle: farm and day, may be NULL. */
BedFieldSheet *bed_field_sheet_new (const char *title, const char *subtitle);
void bed_field_sheet_free (BedFieldSheet *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedFieldSheet, bed_field_sheet_free)

/* The code of what the sheet is about (a batch, a felling), upper right. */
void bed_field_sheet_set_code (BedFieldSheet *self, const char *code);
void bed_field_sheet_add_box (BedFieldSheet *self, const BedSheetBox *box);

/* The next box begins a row: what belongs together stands together. */
void bed_field_sheet_end_boxes (BedFieldSheet *self);

void bed_field_sheet_add_column (BedFieldSheet *self, const BedSheetColumn *column);
void bed_field_sheet_add_caution (BedFieldSheet *self, const char *caution);

/* Once. */
void bed_field_sheet_set_figure (BedFieldSheet *self, const BedSheetFigure *figure);

/* One cell for each column, NULL for an empty one. */
void bed_field_sheet_add_row (BedFieldSheet *self, const char *const *cells);

guint bed_field_sheet_get_n_columns (const BedFieldSheet *self);

/* The pages of @self (taken over in any case): its rows, then empty ones, at
 * least @empty_rows, down to the foot of the last page. */
BedDocument *bed_field_sheet_document_new (BedFieldSheet *self, const BedPaper *paper,
                                           guint empty_rows);
