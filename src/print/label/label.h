#pragma once

#include "print/page/qr.h"
#include "print/page/sheet.h"
#include "print/page/text.h"

/* What stands on one label, most of it read with cold hands at arm's length:
 * one thing in large letters, a few lines, one QR code with the plain code.
 *
 * The label decides how: the QR code is as large as the label allows, the
 * headline as large as beside it fits, the lines share one size. Where height
 * runs out the line of the highest rank is left out, then the next; a line of
 * rank 0 stays. What still does not fit is refused, never cut. */

#define BED_LABEL_MOST_LINES 8

typedef struct
{
  const char *caption; /* small words before the text ("Picked"), or NULL */
  const char *text;
  BedTextWeight weight;
  guint rank; /* 0: never left out */
} BedLabelLine;

/* All texts are borrowed. */
typedef struct
{
  const char *owner;    /* for messages: "the log tag 26A-017-K" */
  const char *headline; /* bold */
  const char *tail;     /* the rest of the headline in regular weight, or NULL */
  const char *qr;       /* plain content of the code, or NULL for none */
  BedLabelLine lines[BED_LABEL_MOST_LINES];
  guint n_lines;
} BedLabel;

/* Adds a line unless @text is NULL or empty. */
void bed_label_add_line (BedLabel *label, const BedLabelLine *line);

/* Draws @label in @box (the whole label, points); the space to the edge is its own. */
gboolean bed_label_draw (const BedLabel *label, cairo_t *cr, BedTypesetter *type, const BedBox *box,
                         GError **error);

/* The four kinds. Fields that are NULL or empty are left out; code, name or lot must be there.
 * Dates and amounts come as they are to be read. */

/* The tag nailed or stapled to a log. */
typedef struct
{
  const char *code;   /* "26A-017-K" */
  const char *wood;   /* "Northern red oak" */
  const char *strain; /* strain name */
  const char *date;   /* of inoculation */
} BedLogTag;

/* The sign at a stack. */
typedef struct
{
  const char *name;    /* "Crib 4" */
  const char *kind;    /* "Crib" */
  const char *batches; /* "26A, 26B" */
  const char *count;   /* "48 logs" */
  const char *farm;
} BedStackSign;

/* The label on a crate of fresh or dried mushrooms. */
typedef struct
{
  const char *lot;      /* "L260518-1-4" */
  const char *mushroom; /* "Shiitake" */
  const char *mass;     /* "3.00 kg" */
  const char *picked, *packed;
  const char *farm;
  const char *keep;  /* "Keep cold" */
  const char *price; /* or NULL */
} BedCrateLabel;

/* The label on a bag of spawn in the cold room. */
typedef struct
{
  const char *code; /* "S26-1" */
  const char *strain;
  const char *mushroom;
  const char *form;     /* "Sawdust" */
  const char *quantity; /* "2.5 kg" */
  const char *received, *use_by;
} BedSpawnLabel;

/* Labels of one document; copies what it is given. */
typedef struct _BedLabels BedLabels;

/* @title is copied; free with bed_labels_free(), or hand it to bed_labels_document_new(). */
BedLabels *bed_labels_new (const char *title);
void bed_labels_free (BedLabels *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedLabels, bed_labels_free)

/* One label more, after those there are. */
void bed_labels_add (BedLabels *self, const BedLabel *label);
void bed_labels_add_log_tag (BedLabels *self, const BedLogTag *tag);
void bed_labels_add_stack_sign (BedLabels *self, const BedStackSign *sign);
void bed_labels_add_crate_label (BedLabels *self, const BedCrateLabel *crate);
void bed_labels_add_spawn_label (BedLabels *self, const BedSpawnLabel *spawn);
guint bed_labels_get_n (const BedLabels *self);

/* The pages of @self (taken over in any case) on @sheet. NULL with
 * BED_PRINT_ERROR_EMPTY when there is no label, _SHEET when the sheet or the
 * place on it is wrong. */
BedDocument *bed_labels_document_new (BedLabels *self, const BedSheet *sheet,
                                      const BedSheetPlace *place, GError **error);
