#pragma once

#include <cairo.h>
#include <glib.h>

#include "science/measure.h"

/* Paper: a number of pages of one size and a function that draws one of them.
 * The print dialog, the PDF file and the pictures are doors to the same pages.
 *
 * Units on the page are points (1/72 in), origin at the upper left corner. */

#define BED_PRINT_ERROR (bed_print_error_quark ())
GQuark bed_print_error_quark (void);

typedef enum
{
  BED_PRINT_ERROR_TEXT,   /* a text does not fit its place; the message names both */
  BED_PRINT_ERROR_CODE,   /* a QR code cannot be read at that size, or holds too much */
  BED_PRINT_ERROR_SHEET,  /* a sheet of labels that does not fit its page, or is not described */
  BED_PRINT_ERROR_EMPTY,  /* nothing to print */
  BED_PRINT_ERROR_AMOUNT, /* more than there is, or nothing said of how much */
  BED_PRINT_ERROR_FILE,   /* no such kind of file, or one that does not take so many pages */
  BED_PRINT_ERROR_DRAW,   /* the drawing library failed; the message is its own */
} BedPrintError;

#define BED_POINTS_PER_MM (72.0 / 25.4)

/* One rectangle of the page, points. */
typedef struct
{
  double x, y, width, height;
} BedBox;

/* A sheet of paper, points. */
typedef struct
{
  double width, height;
} BedPaper;

extern const BedPaper bed_paper_a4;     /* 210 x 297 mm, ISO 216 */
extern const BedPaper bed_paper_letter; /* 8.5 x 11 in, ANSI/ASME Y14.1 size A */

/* The one in most printers of the locale; where that is of no country, of those units. */
BedPaper bed_paper_usual (BedSystem system);

/* Draws page @page (from 0). FALSE with BED_PRINT_ERROR when it cannot. */
typedef gboolean (*BedDrawPage) (cairo_t *cr, guint page, gpointer data, GError **error);

/* What must be said before the pages are printed, once all were drawn; NULL when nothing is. */
typedef char *(*BedDupNote) (gpointer data);

typedef struct _BedDocument BedDocument;

typedef struct
{
  const char *title; /* shown by PDF readers and print queues; copied */
  BedPaper paper;
  guint n_pages; /* at least 1 */
  BedDrawPage draw;
  gpointer data; /* handed to draw; the document frees it with free_data */
  GDestroyNotify free_data;
  BedDupNote dup_note; /* or NULL */
} BedDocumentSpec;

/* Free with bed_document_free(). */
BedDocument *bed_document_new (const BedDocumentSpec *spec);
void bed_document_free (BedDocument *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedDocument, bed_document_free)

/* The pages of several documents of one paper (element BedDocument, at least one) one after the
 * other, called as the first; takes the array over. */
BedDocument *bed_document_join_new (GPtrArray *documents);

/* Borrowed from the document. */
const char *bed_document_get_title (const BedDocument *self);
const BedPaper *bed_document_get_paper (const BedDocument *self);
guint bed_document_get_n_pages (const BedDocument *self);

/* Draws one page (from 0) on any cairo context whose unit is the point. FALSE with
 * BED_PRINT_ERROR, here and below. */
gboolean bed_document_draw (BedDocument *self, cairo_t *cr, guint page, GError **error);

/* Whether every page can be drawn: a print dialog asks before it opens. */
gboolean bed_document_check (BedDocument *self, GError **error);

/* What of it is not printed as it was asked for: lines that a label has no room for, letters that
 * no font here has. Known once the document was checked; NULL for nothing. */
char *bed_document_dup_note (BedDocument *self);

/* Writes every page to @path, which is replaced only when all went well.
 * Refused where nothing may be written (model/output.h), here and below.
 * @created (YYYY-MM-DDTHH:MM) is the date written into the file, so that the
 * same pages make the same bytes; NULL leaves it to the clock. */
gboolean bed_document_write_pdf (BedDocument *self, const char *path, const char *created,
                                 GError **error);

/* One page as a picture, on white; @dpi: dots per inch, 36 to 1200. Free the surface with
 * cairo_surface_destroy(). */
cairo_surface_t *bed_document_picture_new (BedDocument *self, guint page, double dpi,
                                           GError **error);
gboolean bed_document_write_png (BedDocument *self, guint page, double dpi, const char *path,
                                 GError **error);
gboolean bed_document_write_svg (BedDocument *self, guint page, const char *path, GError **error);

/* By the ending of @path: every page to .pdf, the only one to .png (BED_DOCUMENT_DPI) or .svg.
 * FALSE with BED_PRINT_ERROR_FILE for another ending, or more pages than one picture shows. */
#define BED_DOCUMENT_DPI 300
gboolean bed_document_write (BedDocument *self, const char *path, const char *created,
                             GError **error);
