#pragma once

#include "app/form/field_row.h"

/* The rows of a form in Enter's order: finding one, and giving it the keyboard. @rows are
 * BedFieldRow. */

/* On a copy of a draft: the draft it was made of, a pointer to compare only. */
#define BED_FORM_DRAFT "bed-form-draft"

/* The style of the stack of its pages. */
#define BED_FORM_PAGES "form-pages"

/* The first row of that field, or NULL. */
BedFieldRow *bed_form_rows_find (GPtrArray *rows, const char *field);

/* Where typing @record begins: past the name of a new one that stands there already or that is
 * given by itself. */
BedFieldRow *bed_form_rows_find_first (GPtrArray *rows, BedRecord *record);

/* Where the fault is said: at the row of the very record it is about, when several have that
 * field; NULL: at none. */
BedFieldRow *bed_form_rows_find_fault (GPtrArray *rows, const BedFault *fault);

/* The first row whose text was not understood, or NULL. */
BedFieldRow *bed_form_rows_find_misread (GPtrArray *rows);

/* Place of the row that has the keyboard; the number of rows when none has, or when what it has
 * opened takes the keys. */
guint bed_form_rows_find_focused (GPtrArray *rows);

void bed_form_row_focus (BedFieldRow *row);

/* The next row that is seen; @at may be -1. FALSE when there is none. */
gboolean bed_form_rows_focus_after (GPtrArray *rows, int at);

/* The same where @record is the next of several of the same day: past what they have in common,
 * @kept (NULL-ended, may be NULL). */
BedFieldRow *bed_form_rows_find_next (GPtrArray *rows, BedRecord *record, const char *const *kept);

/* The first row of the group after (@step 1) or before (-1) that of row @at; FALSE when there is
 * none. Rows of a group share their parent. */
gboolean bed_form_rows_focus_group (GPtrArray *rows, int at, int step);
