#pragma once

#include "app/form/field_row.h"
#include "model/farm/edit.h"
#include "model/farm/farm.h"
#include <gtk/gtk.h>

/* A form for one record: groups of fields by name, everything else (label, unit,
 * choices, limits, help) from the table of fields. A long one has pages. Enter goes to the next
 * field and from the last one saves and begins the next record with ->kept kept; Page Down goes on
 * at the next heading; Ctrl+S and the button save and leave, Ctrl+Enter saves and begins the next
 * from any field; Esc leaves with the typing kept. The button says what is missing. What is typed
 * stays when a save is refused.
 *
 * Signals:
 *   "draft-changed" ()             after each key that changed the draft: live totals follow it
 *   "begun" ()                     another record was put in: rows of others begin anew too
 *   "gather" (BedEdit *, BedRecord *)  while saving, before the commit: put what belongs with it
 *   "check" (BedEdit *, BedRecord *)   the same while one types, to find what is wrong with it
 *   "faults" (GPtrArray *)         what is wrong was said at the rows (element BedFault): say the
 *                                  rest where it is seen
 *   "saved" (BedRecord *)          written; comes before "left" or the next record
 *   "left" ()                      Esc, Cancel, or saved with nothing to follow */
#define BED_TYPE_FORM (bed_form_get_type ())
G_DECLARE_FINAL_TYPE (BedForm, bed_form, BED, FORM, BedPart)

#define BED_FORM_GROUP_MOST 8

typedef struct
{
  const char *heading;                         /* N_() or NULL */
  const char *fields[BED_FORM_GROUP_MOST + 1]; /* at most seven reads well; NULL ends */
  const char *page; /* N_(): the group begins a page of its own; NULL: goes on */
} BedFormGroup;

typedef struct
{
  BedKind kind;
  const char *title; /* N_(); NULL: "New felling", "Change felling F26-1" */
  const BedFormGroup *groups;
  guint n_groups;
  /* A field without which there is no such record: left empty, nothing is written, and what was
   * stored is removed; what others put in "gather" is saved all the same. NULL: none. */
  const char *lacking;
  const char *const *kept; /* fields that repeat from record to record; NULL-ended, may be NULL */
  /* The sentence of the commit, owned by the caller; NULL: "Recorded felling F26-1". */
  char *(*dup_sentence) (BedFarm *farm, BedRecord *record);
} BedFormSpec;

/* @spec is static. The form begins with an empty new record. */
BedForm *bed_form_new (BedFarm *farm, const BedFormSpec *spec);

typedef enum
{
  BED_FORM_THEN_LEAVE,
  BED_FORM_THEN_NEXT,
} BedFormThen;

/* What Enter from the last field leads to: NEXT unless set, but LEAVE after changing a stored
 * record. */
void bed_form_set_then (BedForm *self, BedFormThen then);

/* Begins with a copy of @record: a stored one is changed, one with id 0 is added. What was
 * typed before is gone. */
void bed_form_edit (BedForm *self, BedRecord *record);

/* As bed_form_edit(), but typing that was left unsaved stays: that of the same stored record, or of
 * a new one that refers to what @record does. Typing about another record is asked about, at the
 * form, which the caller brings in view. NULL: a new record. */
void bed_form_resume (BedForm *self, BedRecord *record);

/* The same in view: the stack it may stand in shows it, and the keyboard is in @field as
 * bed_form_focus() gives it. */
void bed_form_open (BedForm *self, BedRecord *record, const char *field);

/* What has been understood so far; borrowed. Fields with a fault are unset. */
BedRecord *bed_form_get_draft (BedForm *self);

/* The record as it was given, before typing, or the first draft; borrowed. */
BedRecord *bed_form_get_original (BedForm *self);

/* Types @text into a field, as a person would. */
void bed_form_set_text (BedForm *self, const char *field, const char *text);
const char *bed_form_get_text (BedForm *self, const char *field);

/* A box for rows as those of a group stand: in two columns where there is room. */
GtkWidget *bed_form_columns_new (void);

/* A panel beside the fields (computed results) or below them (further lines of the same sheet).
 * Takes the widget. */
void bed_form_set_aside (BedForm *self, GtkWidget *aside);
void bed_form_set_below (BedForm *self, GtkWidget *below);

/* Adds to Enter's round a row of another kind of record that is written with this one (see
 * "gather"); the row is somewhere in the aside or below, and has its own draft. */
void bed_form_add_row (BedForm *self, BedFieldRow *row);

/* The same, right after @after; NULL: as the last. */
void bed_form_add_row_after (BedForm *self, BedFieldRow *row, BedFieldRow *after);

/* A copy of the @draft of such rows, to put in "gather": what is wrong with it is then said at
 * its own rows, and a refused save leaves the draft without an id that is not stored.
 * (transfer full). */
BedRecord *bed_form_dup_draft (BedForm *self, BedRecord *draft);

/* Where Enter goes after the last row, before it saves: something in the aside or below that is
 * not a field. From there whoever made it calls bed_form_save(). */
void bed_form_set_last (BedForm *self, GtkWidget *last);

/* Something that is not a field was typed into: it counts as typing, and is checked. */
void bed_form_touch (BedForm *self);

/* Finds what is wrong now, and not some moments after the last key. */
void bed_form_check (BedForm *self);

/* Whether the fault is about a record that was put as bed_form_dup_draft() of @draft. */
gboolean bed_form_is_fault_of (const BedFault *fault, BedRecord *draft);

/* Refuses this one save, from a handler of "gather"; the focus goes to the last. */
void bed_form_refuse (BedForm *self, const char *message);

/* The sentence of this one save, from a handler of "gather", which knows what else is in it. */
void bed_form_set_sentence (BedForm *self, const char *sentence);

/* Fields that make no sense now are hidden (and saved unset). */
void bed_form_show_field (BedForm *self, const char *field);
void bed_form_hide_field (BedForm *self, const char *field);

/* To the named field; NULL: to where typing begins, which is past a name or code that a new
 * record has already. */
void bed_form_focus (BedForm *self, const char *field);

/* Whether there is typing that was not saved. */
gboolean bed_form_has_typing (BedForm *self);

/* FALSE when refused; the faults stand at their fields. */
gboolean bed_form_save (BedForm *self, BedFormThen then);
