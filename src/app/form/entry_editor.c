#include "app/form/editor.h"

#include "app/widgets/build.h"
#include "model/farm/kinds.h"
#include "model/farm/value.h"

#define LEAST_CHARS 8 /* where there is little room */

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

/* As wide as what is typed into it: a number, a date or a length in words of its unit, a text. */
static int
get_chars (const BedField *field)
{
  switch (field->type)
    {
    case BED_FIELD_DATE:
      return 10;
    case BED_FIELD_MEASURE:
      return field->measure == BED_MEASURE_PERCENT
                     || (field->measure == BED_MEASURE_COUNT && field->highest <= 9999)
                 ? 4
                 : 10;
    case BED_FIELD_TEXT:
      return field->longest <= 40 ? 10 : 24; /* a code */
    case BED_FIELD_MOMENT:
      return 16;
    case BED_FIELD_NOTE:
    case BED_FIELD_CHOICE:
    case BED_FIELD_REFERENCE:
    default:
      return 24;
    }
}

static void
add_unit (BedEntryEditor *self, const char *unit)
{
  GtkWidget *label = bed_label_new (unit, "unit");

  gtk_label_set_width_chars (GTK_LABEL (label), 4);
  gtk_box_append (GTK_BOX (self->box), label);
}

GtkWidget *
bed_entry_editor_new (BedFarm *farm, const BedField *field)
{
  BedEntryEditor *self = g_object_new (BED_TYPE_ENTRY_EDITOR, NULL);
  const char *unit = bed_value_get_unit (farm, field);
  int chars = get_chars (field);

  self->box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  self->entry = gtk_entry_new ();
  gtk_box_append (GTK_BOX (self->box), self->entry);
  bed_editor_set_content (BED_EDITOR (self), self->box, self->entry);
  g_signal_connect_swapped (self->entry, "changed", G_CALLBACK (bed_editor_edited), self);
  gtk_editable_set_width_chars (GTK_EDITABLE (self->entry), MIN (chars, LEAST_CHARS));
  gtk_editable_set_max_width_chars (GTK_EDITABLE (self->entry), chars);
  if (field->type == BED_FIELD_MEASURE)
    {
      gtk_widget_add_css_class (self->entry, "numeric");
      gtk_entry_set_input_hints (GTK_ENTRY (self->entry), GTK_INPUT_HINT_NO_SPELLCHECK);
    }
  if (unit && *unit)
    add_unit (self, unit);
  return GTK_WIDGET (self);
}
