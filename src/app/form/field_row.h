#pragma once

#include "app/form/editor.h"
#include "model/farm/edit.h"
#include <gtk/gtk.h>

/* One field of a form: label, the editor beside it, and one line under it that always keeps
 * its height: the fault, else what was understood, else the help. */
#define BED_TYPE_FIELD_ROW (bed_field_row_get_type ())
G_DECLARE_FINAL_TYPE (BedFieldRow, bed_field_row, BED, FIELD_ROW, GtkWidget)

/* Which of two values stays. */
typedef enum
{
  BED_FIELD_ROW_MINE,
  BED_FIELD_ROW_THEIRS,
} BedFieldRowSide;

/* Signals:
 *   "settled" (guint)      a button of a torn row was pressed (BedFieldRowSide)
 *   "edited" ()            the draft follows what was typed
 *   "done" ()              the editor needs no more typing: on to the next
 *   "entered" () gboolean  Enter; TRUE from a handler: the form stays at this row
 *   "pasted" (char *) gboolean  several cells; TRUE from a handler: they are taken */
BedFieldRow *bed_field_row_new (BedFarm *farm, const BedField *field);

/* Where several fields stand in one line: over the editor there is more room for it. */
void bed_field_row_put_label_above (BedFieldRow *self);

const BedField *bed_field_row_get_field (BedFieldRow *self);
BedEditor *bed_field_row_get_editor (BedFieldRow *self);

/* What is typed goes into @draft (referenced); shows the draft's value. */
void bed_field_row_set_draft (BedFieldRow *self, BedRecord *draft);

/* Borrowed; NULL before one was set. */
BedRecord *bed_field_row_get_draft (BedFieldRow *self);

/* What the row says where its text is more than one value: in words what was understood (transfer
 * full), or NULL and @error. */
typedef char *(*BedFieldRowReader) (const char *text, gpointer user_data, GError **error);

/* Text that holds more than the field: @reader takes it in the place of the draft, whose field is
 * unset by it. */
void bed_field_row_set_reader (BedFieldRow *self, BedFieldRowReader reader, gpointer user_data);

/* Types @text as a person would. */
void bed_field_row_set_text (BedFieldRow *self, const char *text);

/* Whether the text could be understood; an empty one always can. */
gboolean bed_field_row_is_understood (BedFieldRow *self);

/* What the rules say of the value; NULL message for nothing. */
void bed_field_row_set_fault (BedFieldRow *self, BedFaultSeverity severity, const char *message);

/* Whether an error is said at it. */
gboolean bed_field_row_is_wrong (BedFieldRow *self);

/* The field was changed elsewhere too: says so, and offers both. NULL: it was not. */
void bed_field_row_set_torn (BedFieldRow *self, const char *message);

/* Whether the keyboard is on one of those two buttons. */
gboolean bed_field_row_is_choosing (BedFieldRow *self);

/* Enter, in this row: what the editor and the handlers of "entered" say. */
BedEditorEnter bed_field_row_enter (BedFieldRow *self);
