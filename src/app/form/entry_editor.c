#include "app/form/editor.h"

#include "app/widgets/build.h"
#include "model/farm/kinds.h"
#include "model/farm/value.h"

/* Text, measures and dates: one line, with the unit dim beside it. */
struct _BedEntryEditor
{
  BedEditor parent_instance;
  GtkWidget *entry;
  GtkWidget *box;
};

#define BED_TYPE_ENTRY_EDITOR (bed_entry_editor_get_type ())
G_DECLARE_FINAL_TYPE (BedEntryEditor, bed_entry_editor, BED, ENTRY_EDITOR, BedEditor)

BED_DEFINE_TYPE (BedEntryEditor, bed_entry_editor, BED_TYPE_EDITOR)

static const char *
get_text (BedEditor *editor)
{
  return gtk_editable_get_text (GTK_EDITABLE (BED_ENTRY_EDITOR (editor)->entry));
}

static void
set_text (BedEditor *editor, const char *text)
{
  gtk_editable_set_text (GTK_EDITABLE (BED_ENTRY_EDITOR (editor)->entry), text);
}

static void
bed_entry_editor_class_init (BedEntryEditorClass *klass)
{
  BED_EDITOR_CLASS (klass)->get_text = get_text;
  BED_EDITOR_CLASS (klass)->set_text = set_text;
}

GtkWidget *
bed_entry_editor_new (BedFarm *farm, const BedField *field)
{
  BedEntryEditor *self = g_object_new (BED_TYPE_ENTRY_EDITOR, NULL);
  const char *unit = bed_value_get_unit (farm, field);

  self->box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  self->entry = gtk_entry_new ();
  gtk_widget_set_hexpand (self->entry, TRUE);
  gtk_box_append (GTK_BOX (self->box), self->entry);
  bed_editor_set_content (BED_EDITOR (self), self->box, self->entry);
  g_signal_connect_swapped (self->entry, "changed", G_CALLBACK (bed_editor_edited), self);
  gtk_editable_set_width_chars (GTK_EDITABLE (self->entry), 8);
  if (field->type == BED_FIELD_MEASURE)
    {
      gtk_widget_add_css_class (self->entry, "numeric");
      gtk_entry_set_input_hints (GTK_ENTRY (self->entry), GTK_INPUT_HINT_NO_SPELLCHECK);
    }
  if (unit && *unit)
    {
      GtkWidget *label = bed_label_new (unit, "dim-label");

      gtk_label_set_width_chars (GTK_LABEL (label), 4);
      gtk_box_append (GTK_BOX (self->box), label);
    }
  return GTK_WIDGET (self);
}
