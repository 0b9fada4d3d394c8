#include "app/form/editor.h"

#include "model/farm/kinds.h"
#include "model/farm/value.h"

/* Text, measures and dates: one line, with the unit dim beside it. */
struct _BedEntryEditor
{
  GtkWidget parent_instance;
  GtkWidget *entry;
  GtkWidget *unit;
};

#define BED_TYPE_ENTRY_EDITOR (bed_entry_editor_get_type ())
G_DECLARE_FINAL_TYPE (BedEntryEditor, bed_entry_editor, BED, ENTRY_EDITOR, GtkWidget)

static void editor_init (BedEditorInterface *iface);

G_DEFINE_FINAL_TYPE_WITH_CODE (BedEntryEditor, bed_entry_editor, GTK_TYPE_WIDGET,
                               G_IMPLEMENT_INTERFACE (BED_TYPE_EDITOR, editor_init))

static const char *
get_text (BedEditor *editor)
{
  return gtk_editable_get_text (GTK_EDITABLE (BED_ENTRY_EDITOR (editor)->entry));
}

static void
set_text (BedEditor *editor, const char *text)
{
  BedEntryEditor *self = BED_ENTRY_EDITOR (editor);

  g_signal_handlers_block_by_func (self->entry, bed_editor_edited, self);
  gtk_editable_set_text (GTK_EDITABLE (self->entry), text);
  g_signal_handlers_unblock_by_func (self->entry, bed_editor_edited, self);
}

static GtkWidget *
get_focus_widget (BedEditor *editor)
{
  return BED_ENTRY_EDITOR (editor)->entry;
}

static void
editor_init (BedEditorInterface *iface)
{
  iface->get_text = get_text;
  iface->set_text = set_text;
  iface->get_focus_widget = get_focus_widget;
}

static void
bed_entry_editor_dispose (GObject *object)
{
  BedEntryEditor *self = BED_ENTRY_EDITOR (object);

  g_clear_pointer (&self->entry, gtk_widget_unparent);
  g_clear_pointer (&self->unit, gtk_widget_unparent);
  G_OBJECT_CLASS (bed_entry_editor_parent_class)->dispose (object);
}

static void
bed_entry_editor_class_init (BedEntryEditorClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = bed_entry_editor_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BOX_LAYOUT);
}

static void
bed_entry_editor_init (BedEntryEditor *self)
{
  GtkLayoutManager *layout = gtk_widget_get_layout_manager (GTK_WIDGET (self));

  gtk_box_layout_set_spacing (GTK_BOX_LAYOUT (layout), 6);
  self->entry = gtk_entry_new ();
  gtk_widget_set_hexpand (self->entry, TRUE);
  gtk_widget_set_parent (self->entry, GTK_WIDGET (self));
  g_signal_connect_swapped (self->entry, "changed", G_CALLBACK (bed_editor_edited), self);
}

GtkWidget *
bed_entry_editor_new (BedFarm *farm, const BedField *field)
{
  BedEntryEditor *self = g_object_new (BED_TYPE_ENTRY_EDITOR, NULL);
  const char *unit = bed_value_get_unit (farm, field);

  gtk_editable_set_width_chars (GTK_EDITABLE (self->entry), 8);
  if (field->type == BED_FIELD_MEASURE)
    {
      gtk_widget_add_css_class (self->entry, "numeric");
      gtk_entry_set_input_hints (GTK_ENTRY (self->entry), GTK_INPUT_HINT_NO_SPELLCHECK);
    }
  if (unit && *unit)
    {
      self->unit = gtk_label_new (unit);
      gtk_label_set_xalign (GTK_LABEL (self->unit), 0);
      gtk_label_set_width_chars (GTK_LABEL (self->unit), 4);
      gtk_widget_add_css_class (self->unit, "dim-label");
      gtk_widget_set_parent (self->unit, GTK_WIDGET (self));
    }
  return GTK_WIDGET (self);
}
