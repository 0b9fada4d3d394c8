#pragma once

#include "app/form/form.h"
#include "app/host/typing.h"

/* For form.c, form_groups.c and form_parts.c only. */

#define BED_FORM_GAP 12 /* px, between groups of fields */

struct _BedForm
{
  BedPart parent_instance;
  BedFarm *farm;
  const BedFormSpec *spec;
  BedFormThen then;
  BedRecord *draft;
  BedRecord *original;
  GPtrArray *rows; /* BedFieldRow, in Enter's order; owned by the widget tree */
  BedRecord *next; /* to begin with once somebody agrees that the typing is left, or NULL */
  gboolean typed;  /* since the draft was given */
  gboolean behind; /* a change of the draft still to be told of */
  gboolean tried;  /* to save: what is missing is now said at the fields too */
  char *sentence;  /* of the save under way, or NULL */
  guint n_own;     /* rows of the form's own record; those after it are of others */
  guint check_source;
  GtkWidget *title;
  GtkWidget *kept; /* seen while what was typed before stands there again */
  GtkWidget *fields;
  GtkWidget *pages;  /* of the fields; NULL: all are on one */
  GtkWidget *page;   /* groups are added to it: the last of them, else the fields */
  GtkWidget *beside; /* fields and aside */
  GtkWidget *caution;
  GtkWidget *message;
  GtkWidget *save;
  GtkWidget *anew; /* keeps what is typed of a record that was removed elsewhere */
  GtkWidget *last; /* in the tree of the form, or NULL */
  char *refusal;   /* of bed_form_refuse(), while saving */
};

/* Adds a row for each field of it. */
void bed_form_add_group (BedForm *self, const BedFormGroup *group);

/* What is typed in the row, done with it or chosen at it, is the form's. */
void bed_form_listen (BedForm *self, BedFieldRow *row);

/* Cells of several records go to where sheets come in; lines of an address are one text. */
gboolean bed_form_row_pasted_cb (BedFieldRow *row, const char *text, BedForm *self);

/* Checks it some moments after the last key. */
void bed_form_check_soon (BedForm *self);

/* Of the commit of @record, owned by the caller: the one that was set, else the spec's. */
char *bed_form_dup_sentence (BedForm *self, BedRecord *record);

/* What is typed in it, in words. */
void bed_form_typing_init (BedTypingInterface *iface);
