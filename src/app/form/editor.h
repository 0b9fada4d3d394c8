#pragma once

#include "app/widgets/part.h"

/* The part of a field one types into. All speak text, as bed_value_parse() reads
 * it: an entry its text, a choice its key, a reference the name of the record.
 *
 * Signals:
 *   "edited" ()  the person changed the text; not sent by bed_editor_set_text()
 *   "done" ()    a small form of its own put the value in: there is nothing left to type here */
#define BED_TYPE_EDITOR (bed_editor_get_type ())
G_DECLARE_DERIVABLE_TYPE (BedEditor, bed_editor, BED, EDITOR, BedPart)

typedef enum
{
  BED_EDITOR_GO_ON, /* Enter: to the next field */
  BED_EDITOR_STAY,  /* Enter had something to do here */
} BedEditorEnter;

struct _BedEditorClass
{
  BedPartClass parent_class;

  const char *(*get_text) (BedEditor *self);
  void (*set_text) (BedEditor *self, const char *text);
  BedEditorEnter (*enter) (BedEditor *self); /* NULL: always GO_ON */
};

/* The editor for a field of that type. */
GtkWidget *bed_editor_new (BedFarm *farm, const BedField *field);

/* Borrowed until the next change; never NULL. */
const char *bed_editor_get_text (BedEditor *self);
void bed_editor_set_text (BedEditor *self, const char *text);

/* The widget that takes focus and carries the accessible name. */
GtkWidget *bed_editor_get_focus_widget (BedEditor *self);

BedEditorEnter bed_editor_enter (BedEditor *self);

/* For implementations. Takes @content, which is @focus or holds it. */
void bed_editor_set_content (BedEditor *self, GtkWidget *content, GtkWidget *focus);

/* The same: send "edited", but not while bed_editor_set_text() is at work, and "done". */
void bed_editor_edited (BedEditor *self);
void bed_editor_done (BedEditor *self);

/* The implementations. */
GtkWidget *bed_entry_editor_new (BedFarm *farm, const BedField *field);
GtkWidget *bed_note_editor_new (void);
GtkWidget *bed_year_day_editor_new (void);
GtkWidget *bed_choice_editor_new (const BedField *field);
GtkWidget *bed_reference_editor_new (BedFarm *farm, const BedField *field);
