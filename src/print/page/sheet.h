#pragma once

#include "print/page/document.h"
#include "science/measure.h"
#include <glib.h>

/* Sheets of labels, described by their dimensions alone. Millimetres.
 *
 * The given ones are data/label-sheets.csv. US sheets: the measures in the public
 * template data of a general label-printing library; A4 sheets: the same labels
 * centred on ISO 216 A4 (own calculation, within 1 mm of published templates);
 * one and two to a page, and the rolls: our own. Published origins of one sheet
 * differ by up to a millimetre, hence the offsets and the test page.
 */
typedef struct
{
  char *key;  /* "letter-3x10": what the tool is told */
  char *name; /* "Letter, 3 x 10, 2.625 x 1 in": what people choose by */
  double page_width, page_height;
  guint columns, rows;
  double label_width, label_height;
  double pitch_x, pitch_y; /* from a label's edge to the same edge of the next */
  double left, top;        /* margins of the first label */
} BedSheet;

/* Where on the sheet to begin and how far the printer is off. */
typedef struct
{
  guint start;               /* the first label used, from 1, row by row; 0 is taken as 1 */
  double offset_x, offset_y; /* mm to the right and down, at most BED_SHEET_MOST_OFFSET */
} BedSheetPlace;

#define BED_SHEET_MOST_OFFSET 20.0

void bed_sheet_free (BedSheet *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedSheet, bed_sheet_free)

/* The given sheets, element BedSheet, owned by the caller. */
GPtrArray *bed_sheet_list_new (void);

/* Sheets of a CSV with the columns of data/label-sheets.csv, unit mm or in, no
 * quotes. NULL with BED_PRINT_ERROR_SHEET naming the line, the column and what
 * would be right. */
GPtrArray *bed_sheet_list_parse (const char *csv, GError **error);

/* The given sheets and behind them the user's own: a file as above at @path, or none yet.
 * NULL with BED_PRINT_ERROR_SHEET or G_FILE_ERROR, the path before what is wrong. */
GPtrArray *bed_sheet_list_new_with (const char *path, GError **error);

/* Adds a sheet of those measures to the user's own at @path, written in inches or
 * millimetres; its name is what people choose it by, its key is not looked at. The new key,
 * owned by the caller, or NULL with BED_PRINT_ERROR_SHEET when the labels do not fit the
 * page or the name is none, G_FILE_ERROR when it cannot be kept. */
char *bed_sheet_own_add (const char *path, const BedSheet *sheet, BedSystem system, GError **error);

/* The sheet of that key (ignoring case), borrowed, or NULL with a list of the keys there are. */
const BedSheet *bed_sheet_list_find (GPtrArray *sheets, const char *key, GError **error);

/* Whether the labels fit the page, do not overlap and can be counted:
 * 2 * margin + (n - 1) * pitch + size <= page in both directions, to 1 mm, and
 * the last label on the page, to 0.01 mm. */
gboolean bed_sheet_check (const BedSheet *self, GError **error);

/* Whether @place is on the sheet. */
gboolean bed_sheet_check_place (const BedSheet *self, const BedSheetPlace *place, GError **error);

/* Its page, points; how many of them @n_labels take from @place on. */
BedPaper bed_sheet_get_paper (const BedSheet *self);
guint bed_sheet_get_n_pages (const BedSheet *self, const BedSheetPlace *place, guint n_labels);

/* Where label @index (from 0, in the order printed) lies on its page, points. */
BedBox bed_sheet_get_label_box (const BedSheet *self, const BedSheetPlace *place, guint index);

/* The label, from 1, that is the next free one after @n_labels. */
guint bed_sheet_get_next_start (const BedSheet *self, const BedSheetPlace *place, guint n_labels);

/* The labels of that page: the first and the one after the last, of @n_labels. */
void bed_sheet_get_page_range (const BedSheet *self, const BedSheetPlace *place, guint page,
                               guint n_labels, guint *first, guint *end);

/* The sheet as it is to be seen, not printed: outlines of its labels, those before the first
 * crossed out, and @over (taken over; pages made for it) on them; NULL: their numbers. */
BedDocument *bed_sheet_preview_new (const BedSheet *self, const BedSheetPlace *place,
                                    BedDocument *over);

/* One page with the outline of the first label alone and a bar in it, to lay over the sheet against
 * the light or to print on it: it spoils one label. */
BedDocument *bed_sheet_test_page_new (const BedSheet *self, const BedSheetPlace *place,
                                      GError **error);
