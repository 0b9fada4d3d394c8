#pragma once

#include "model/farm/farm.h"
#include "print/field/field_sheet.h"

/* A sheet to read: parts under headings, each a table whose columns are as wide as what stands in
 * them. On one page where type of 7 points or more makes that possible, else on as many as it
 * takes; where a part begins a page, what is before it is to be on one. */

typedef struct _BedListSheet BedListSheet;

/* All texts are copied. Under the title stand the farm and its day. */
BedListSheet *bed_list_sheet_new (BedFarm *farm, const char *title);
void bed_list_sheet_free (BedListSheet *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedListSheet, bed_list_sheet_free)

/* Columns and rows go to the last part. @heading may be NULL. */
void bed_list_sheet_add_part (BedListSheet *self, const char *heading);
void bed_list_sheet_add_column (BedListSheet *self, const char *head, BedTextAlign align);

/* One cell for each column of the part, NULL for an empty one. */
void bed_list_sheet_add_row (BedListSheet *self, const char *const *cells);

/* A part that is a drawing: as wide as the page and as high as it says. What it holds is freed with
 * the sheet. */
void bed_list_sheet_add_drawing (BedListSheet *self, const char *heading,
                                 const BedSheetFigure *figure);

/* The next part begins a page. */
void bed_list_sheet_begin_page (BedListSheet *self);

/* Takes the last part away if it has neither row nor drawing. */
void bed_list_sheet_drop_empty (BedListSheet *self);

/* The pages of @self, which is taken over. */
BedDocument *bed_list_sheet_document_new (BedListSheet *self, const BedPaper *paper);
