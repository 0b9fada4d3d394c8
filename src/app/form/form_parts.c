/* What others put into a form, and ask of its fields. */
#include "app/form/form_private.h"

#include <glib/gi18n.h>
#include <string.h>

#include "app/form/form_rows.h"
#include "app/host/host.h"
#include "app/widgets/build.h"
#include "model/farm/kind_words.h"
#include "model/farm/kinds.h"
#include "model/farm/value.h"

void
bed_form_open (BedForm *self, BedRecord *record, const char *field)
{
  GtkWidget *stack = gtk_widget_get_parent (GTK_WIDGET (self));

  bed_form_resume (self, record);
  if (GTK_IS_STACK (stack))
    gtk_stack_set_visible_child (GTK_STACK (stack), GTK_WIDGET (self));
  bed_form_focus (self, field);
}

void
bed_form_set_then (BedForm *self, BedFormThen then)
{
  g_return_if_fail (BED_IS_FORM (self));
  self->then = then;
}

BedRecord *
bed_form_get_draft (BedForm *self)
{
  g_return_val_if_fail (BED_IS_FORM (self), NULL);
  return self->draft;
}

BedRecord *
bed_form_get_original (BedForm *self)
{
  g_return_val_if_fail (BED_IS_FORM (self), NULL);
  return self->original;
}

gboolean
bed_form_has_typing (BedForm *self)
{
  g_return_val_if_fail (BED_IS_FORM (self), FALSE);
  return self->typed;
}

void
bed_form_focus (BedForm *self, const char *field)
{
  BedFieldRow *row = field ? bed_form_rows_find (self->rows, field)
                           : bed_form_rows_find_first (self->rows, self->original);

  g_return_if_fail (row != NULL);
  bed_form_row_focus (row);
}

void
bed_form_set_text (BedForm *self, const char *field, const char *text)
{
  BedFieldRow *row = bed_form_rows_find (self->rows, field);

  g_return_if_fail (row != NULL);
  bed_field_row_set_text (row, text);
}

const char *
bed_form_get_text (BedForm *self, const char *field)
{
  BedFieldRow *row = bed_form_rows_find (self->rows, field);

  g_return_val_if_fail (row != NULL, "");
  return bed_editor_get_text (bed_field_row_get_editor (row));
}

void
bed_form_set_aside (BedForm *self, GtkWidget *aside)
{
  GtkWidget *scrolled;

  g_return_if_fail (BED_IS_FORM (self));
  gtk_widget_add_css_class (aside, "aside");
  scrolled = bed_named (bed_scrolled_new (aside), _ ("Reckoned from what is typed"));
  gtk_scrolled_window_set_propagate_natural_width (GTK_SCROLLED_WINDOW (scrolled), TRUE);
  gtk_widget_set_hexpand (scrolled, FALSE); /* what is over belongs to the fields */
  gtk_box_append (GTK_BOX (self->beside), scrolled);
}

void
bed_form_set_below (BedForm *self, GtkWidget *below)
{
  g_return_if_fail (BED_IS_FORM (self));
  gtk_box_append (GTK_BOX (self->fields), below);
}

void
bed_form_add_row (BedForm *self, BedFieldRow *row)
{
  bed_form_add_row_after (self, row, NULL);
}

void
bed_form_add_row_after (BedForm *self, BedFieldRow *row, BedFieldRow *after)
{
  guint at;

  g_return_if_fail (BED_IS_FORM (self) && BED_IS_FIELD_ROW (row));
  if (!after || !g_ptr_array_find (self->rows, after, &at))
    at = self->rows->len - 1;
  bed_form_listen (self, row);
  g_ptr_array_insert (self->rows, (int) at + 1, row);
}

gboolean
bed_form_row_pasted_cb (BedFieldRow *row, const char *text, BedForm *self)
{
  const BedField *field = bed_field_row_get_field (row);

  return (field->type != BED_FIELD_TEXT || strchr (text, '\t'))
         && bed_host_bring_cells (GTK_WIDGET (self), text,
                                  bed_record_get_kind (bed_field_row_get_draft (row)));
}

BedRecord *
bed_form_dup_draft (BedForm *self, BedRecord *draft)
{
  BedRecord *copy = bed_record_copy (draft);

  g_return_val_if_fail (BED_IS_FORM (self), copy);
  g_object_set_data (G_OBJECT (copy), BED_FORM_DRAFT, draft);
  return copy;
}

gboolean
bed_form_is_fault_of (const BedFault *fault, BedRecord *draft)
{
  return fault->record && g_object_get_data (G_OBJECT (fault->record), BED_FORM_DRAFT) == draft;
}

void
bed_form_set_last (BedForm *self, GtkWidget *last)
{
  g_return_if_fail (BED_IS_FORM (self) && GTK_IS_WIDGET (last));
  self->last = last;
}

void
bed_form_set_sentence (BedForm *self, const char *sentence)
{
  g_return_if_fail (BED_IS_FORM (self));
  g_free (self->sentence);
  self->sentence = g_strdup (sentence);
}

void
bed_form_touch (BedForm *self)
{
  g_return_if_fail (BED_IS_FORM (self));
  self->typed = TRUE;
  bed_form_check_soon (self);
}

char *
bed_form_dup_sentence (BedForm *self, BedRecord *record)
{
  if (self->sentence)
    return g_steal_pointer (&self->sentence);
  if (self->spec->dup_sentence)
    return self->spec->dup_sentence (self->farm, record);
  g_autofree char *words = bed_value_dup_words (self->farm, record);
  if (bed_record_get_id (self->original))
    return g_strdup_printf (_ ("Changed %s"), words);
  return g_strdup_printf (_ ("Recorded %s"), words);
}

void
bed_form_refuse (BedForm *self, const char *message)
{
  g_return_if_fail (BED_IS_FORM (self) && message != NULL);
  g_free (self->refusal);
  self->refusal = g_strdup (message);
}

void
bed_form_show_field (BedForm *self, const char *field)
{
  BedFieldRow *row = bed_form_rows_find (self->rows, field);

  g_return_if_fail (row != NULL);
  gtk_widget_set_visible (GTK_WIDGET (row), TRUE);
}

void
bed_form_hide_field (BedForm *self, const char *field)
{
  BedFieldRow *row = bed_form_rows_find (self->rows, field);

  g_return_if_fail (row != NULL);
  if (!gtk_widget_get_visible (GTK_WIDGET (row)))
    return;
  gtk_widget_set_visible (GTK_WIDGET (row), FALSE);
  /* What cannot be seen must not stop a save. */
  if (*bed_editor_get_text (bed_field_row_get_editor (row)))
    bed_field_row_set_text (row, "");
}

/* "felling F26-1" */
static char *
dup_name (BedRecord *record)
{
  return bed_kind_dup_named (bed_record_get_kind (record), bed_record_get_name (record));
}

static char *
dup_typing_words (BedTyping *typing)
{
  BedForm *self = BED_FORM (typing);
  g_autofree char *name = dup_name (self->original);

  if (!self->typed)
    return NULL;
  if (self->spec->title)
    /* Translators: the heading of a form. */
    return g_strdup_printf (_ ("What you typed under “%s” is not saved."), _ (self->spec->title));
  if (bed_record_get_id (self->original))
    /* Translators: "felling F26-1". */
    return g_strdup_printf (_ ("A changed %s is not saved."), name);
  return bed_typing_dup_half (self->spec->kind);
}

void
bed_form_typing_init (BedTypingInterface *iface)
{
  iface->dup_words = dup_typing_words;
}
