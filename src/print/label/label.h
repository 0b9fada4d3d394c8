#pragma once

#include "print/page/qr.h"
#include "print/page/sheet.h"
#include "print/page/text.h"

/* What stands on one label, most of it read with cold hands at arm's length:
 * one thing in large letters, some lines, one QR code with the plain code.
 *
 * The label decides how. Each line has its own size: one that is too long is set smaller, then
 * wrapped, and never makes another small. Short ones stand side by side. Where height runs out the
 * line of the highest rank is left out, then the next, and it is said which; a line of rank 0
 * stays. What still does not fit is refused by name, never cut. */

#define BED_LABEL_MOST_LINES 12

/* The least type, points: common practice, no source. */
#define BED_LABEL_LEAST 7.0

typedef struct
{
  const char *what;    /* of what it tells, should it be left out: "the address" */
  const char *caption; /* small words before the text ("Picked"), or NULL */
  const char *text;
  BedTextWeight weight;
  guint rank;   /* 0: never left out */
  double least; /* size, points; 0: BED_LABEL_LEAST */
  double scale; /* of the other lines' size; 0: 1 */
} BedLabelLine;

typedef enum
{
  BED_LABEL_TAG,
  BED_LABEL_SIGN,
  BED_LABEL_CRATE,
  BED_LABEL_SPAWN,
  BED_N_LABEL_USES
} BedLabelUse;

/* All texts are borrowed. */
typedef struct
{
  BedLabelUse use;      /* neighbours of one use share size and baseline of their headline */
  const char *owner;    /* for messages: "the log tag 26A-017-K" */
  const char *headline; /* bold */
  const char *tail;     /* the rest of the headline in regular weight, or NULL */
  const char *qr;       /* plain content of the code, or NULL for none */
  BedLabelLine lines[BED_LABEL_MOST_LINES];
  guint n_lines;
} BedLabel;

/* How a label is set; points. */
typedef struct
{
  double headline; /* size */
  double size;     /* of the lines that have no reason for another */
  double height;   /* from the top of the headline's capitals to the last baseline */
  guint left_out;  /* a bit for each line, the first the lowest */
} BedLabelFit;

/* Adds a line unless its text is NULL or empty. */
void bed_label_add_line (BedLabel *label, const BedLabelLine *line);

/* How @label is set in @box, no larger than @most, which may be NULL. FALSE with
 * BED_PRINT_ERROR_TEXT naming what has no room, _CODE when there is none for the QR code. */
gboolean bed_label_fit (const BedLabel *label, BedTypesetter *type, const BedBox *box,
                        const BedLabelFit *most, BedLabelFit *fit, GError **error);

/* Draws @label in @box (the whole label, points; the space to the edge is its own) as it was
 * fitted; one with a larger height leaves as much free as its neighbour has text. */
gboolean bed_label_draw (const BedLabel *label, cairo_t *cr, BedTypesetter *type, const BedBox *box,
                         const BedLabelFit *fit, GError **error);

/* One word for the use, to remember its sheet by ("tags"), and the key of the sheet to begin with
 * of the paper that is usual, bed_paper_usual(). Static. */
const char *bed_label_use_get_word (BedLabelUse use);
const char *bed_label_use_get_sheet (BedLabelUse use, BedSystem system);

/* Whether the sheet's labels are large enough for that use: the code reads when it is wet and
 * turned, what must be read stands in its size. FALSE with BED_PRINT_ERROR_SHEET. */
gboolean bed_label_use_check_sheet (BedLabelUse use, const BedSheet *sheet, GError **error);

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
  const char *name;       /* "Crib 4" */
  const char *batches;    /* "26A, 26B": with the stack, what is soaked together */
  const char *mushroom;   /* "Shiitake" */
  const char *strain;     /* "Alder Run 7" */
  const char *wood;       /* "Northern red oak" */
  const char *inoculated; /* "18 Apr 2026" */
  const char *group;      /* the rotation's: "next soak 13 Jul" */
  const char *count;      /* "48 logs" */
  const char *farm;
} BedStackSign;

/* The label on a crate of fresh or dried mushrooms. */
typedef struct
{
  const char *lot;      /* "L260518-1-4" */
  const char *mushroom; /* "Shiitake" */
  const char *latin;    /* "Lentinula edodes" */
  const char *mass;     /* "6.6 lb (3.00 kg)" */
  const char *picked, *packed;
  const char *farm, *address, *contact;
  const char *keep;    /* "Keep cold, 1 to 4 °C" */
  const char *organic; /* the certifier's line, or NULL */
  const char *price;   /* or NULL */
} BedCrateLabel;

/* The label on a bag of spawn in the cold room. */
typedef struct
{
  const char *code; /* "S26-1" */
  const char *strain;
  const char *mushroom;
  const char *supplier, *supplier_lot;
  const char *form;     /* "Sawdust" */
  const char *quantity; /* "2.5 kg" */
  const char *received, *use_by;
  const char *organic; /* "Organic", or NULL */
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
