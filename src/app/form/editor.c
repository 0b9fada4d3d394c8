#include "app/form/editor.h"

#include "app/widgets/build.h"
#include "model/farm/kinds.h"

typedef struct
{
  GtkWidget *focus; /* in the content */
  gboolean filling; /* bed_editor_set_text() is at work */
} BedEditorPrivate;

G_DEFINE_ABSTRACT_TYPE_WITH_PRIVATE (BedEditor, bed_editor, BED_TYPE_PART)

static void
bed_editor_class_init (BedEditorClass *klass)
{
  bed_signal_new (BED_TYPE_EDITOR, "edited", 0);
  bed_signal_new (BED_TYPE_EDITOR, "done", 0);
}

static void
bed_editor_init (BedEditor *self)
{
}

static BedEditorPrivate *
get_private (BedEditor *self)
{
  return bed_editor_get_instance_private (self);
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
      return field->year_day ? bed_year_day_editor_new () : bed_entry_editor_new (farm, field);
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
  return BED_EDITOR_GET_CLASS (self)->get_text (self);
}

void
bed_editor_set_text (BedEditor *self, const char *text)
{
  g_return_if_fail (BED_IS_EDITOR (self));
  get_private (self)->filling = TRUE;
  BED_EDITOR_GET_CLASS (self)->set_text (self, text ? text : "");
  get_private (self)->filling = FALSE;
}

GtkWidget *
bed_editor_get_focus_widget (BedEditor *self)
{
  g_return_val_if_fail (BED_IS_EDITOR (self), NULL);
  return get_private (self)->focus;
}

BedEditorEnter
bed_editor_enter (BedEditor *self)
{
  g_return_val_if_fail (BED_IS_EDITOR (self), BED_EDITOR_GO_ON);
  BedEditorClass *klass = BED_EDITOR_GET_CLASS (self);

  return klass->enter ? klass->enter (self) : BED_EDITOR_GO_ON;
}

void
bed_editor_set_content (BedEditor *self, GtkWidget *content, GtkWidget *focus)
{
  bed_part_set_child (BED_PART (self), content);
  get_private (self)->focus = focus;
}

void
bed_editor_edited (BedEditor *self)
{
  if (!get_private (self)->filling)
    g_signal_emit_by_name (self, "edited");
}

void
bed_editor_done (BedEditor *self)
{
  g_signal_emit_by_name (self, "done");
}
