#include "app/form/editor.h"

#include "model/farm/kinds.h"

G_DEFINE_INTERFACE (BedEditor, bed_editor, GTK_TYPE_WIDGET)

static guint edited_signal;
static guint done_signal;

static void
bed_editor_default_init (BedEditorInterface *iface)
{
  edited_signal = g_signal_new ("edited", BED_TYPE_EDITOR, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                G_TYPE_NONE, 0);
  done_signal = g_signal_new ("done", BED_TYPE_EDITOR, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                              G_TYPE_NONE, 0);
}

GtkWidget *
bed_editor_new (BedFarm *farm, const BedField *field)
{
  switch (field->type)
    {
    case BED_FIELD_NOTE:
      return bed_note_editor_new ();
    case BED_FIELD_CHOICE:
      return bed_choice_editor_new (field);
    case BED_FIELD_REFERENCE:
      return bed_reference_editor_new (farm, field);
    case BED_FIELD_TEXT:
    case BED_FIELD_DATE:
    case BED_FIELD_MOMENT:
    case BED_FIELD_MEASURE:
      return bed_entry_editor_new (farm, field);
    default:
      g_return_val_if_reached (NULL);
    }
}

const char *
bed_editor_get_text (BedEditor *self)
{
  g_return_val_if_fail (BED_IS_EDITOR (self), "");
  return BED_EDITOR_GET_IFACE (self)->get_text (self);
}

void
bed_editor_set_text (BedEditor *self, const char *text)
{
  g_return_if_fail (BED_IS_EDITOR (self));
  BED_EDITOR_GET_IFACE (self)->set_text (self, text ? text : "");
}

GtkWidget *
bed_editor_get_focus_widget (BedEditor *self)
{
  g_return_val_if_fail (BED_IS_EDITOR (self), NULL);
  return BED_EDITOR_GET_IFACE (self)->get_focus_widget (self);
}

BedEditorEnter
bed_editor_enter (BedEditor *self)
{
  BedEditorInterface *iface;

  g_return_val_if_fail (BED_IS_EDITOR (self), BED_EDITOR_GO_ON);
  iface = BED_EDITOR_GET_IFACE (self);
  return iface->enter ? iface->enter (self) : BED_EDITOR_GO_ON;
}

void
bed_editor_edited (BedEditor *self)
{
  g_signal_emit (self, edited_signal, 0);
}

void
bed_editor_done (BedEditor *self)
{
  g_signal_emit (self, done_signal, 0);
}
