#include "app/form/editor.h"

#include <glib/gi18n.h>

#include "app/widgets/build.h"
#include "app/widgets/drop_down.h"
#include "model/farm/kinds.h"

/* One of a few words. The key counts, never the position: GtkDropDown selects
 * another row by itself when its model changes (GTK 4.8), so the model is made
 * once. Position 0 is unset. */
struct _BedChoiceEditor
{
  BedEditor parent_instance;
  GtkWidget *drop;
  const BedField *field;
};

#define BED_TYPE_CHOICE_EDITOR (bed_choice_editor_get_type ())
G_DECLARE_FINAL_TYPE (BedChoiceEditor, bed_choice_editor, BED, CHOICE_EDITOR, BedEditor)

BED_DEFINE_TYPE (BedChoiceEditor, bed_choice_editor, BED_TYPE_EDITOR)

static const char *
get_text (BedEditor *editor)
{
  BedChoiceEditor *self = BED_CHOICE_EDITOR (editor);
  guint at = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->drop));

  return at == 0 || at == GTK_INVALID_LIST_POSITION ? "" : self->field->choices[at - 1].key;
}

/* @text is a key or, as bed_value_dup_text() gives it, the word. */
static guint
find (BedChoiceEditor *self, const char *text)
{
  const BedChoice *choices = self->field->choices;

  for (guint i = 0; choices[i].key; i++)
    if (g_strcmp0 (choices[i].key, text) == 0
        || g_strcmp0 (bed_choice_get_word (&choices[i]), text) == 0)
      return i + 1;
  return 0;
}

static void
set_text (BedEditor *editor, const char *text)
{
  BedChoiceEditor *self = BED_CHOICE_EDITOR (editor);

  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->drop), find (self, text));
}

static gboolean
open_cb (GtkWidget *widget, GVariant *parameters, gpointer user_data)
{
  return gtk_widget_activate (BED_CHOICE_EDITOR (widget)->drop);
}

/* A letter takes the next choice that begins with it, without opening the list. */
static gboolean
key_pressed_cb (BedChoiceEditor *self, guint keyval, guint keycode, GdkModifierType state)
{
  gunichar letter = g_unichar_tolower (gdk_keyval_to_unicode (keyval));
  const BedChoice *choices = self->field->choices;
  guint n = 0, at = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->drop));

  if (!g_unichar_isalnum (letter) || (state & (GDK_CONTROL_MASK | GDK_ALT_MASK)))
    return GDK_EVENT_PROPAGATE;
  while (choices[n].key)
    n++;
  for (guint step = 1; step <= n; step++)
    {
      guint i = (at - 1 + step + n) % n;

      if (g_unichar_tolower (g_utf8_get_char (bed_choice_get_word (&choices[i]))) == letter)
        {
          gtk_drop_down_set_selected (GTK_DROP_DOWN (self->drop), i + 1);
          return GDK_EVENT_STOP;
        }
    }
  return GDK_EVENT_PROPAGATE;
}

/* The chosen word is cut off where there is little room; those to choose from are not. */
static void
cut_off (GtkDropDown *drop)
{
  g_autoptr (GtkListItemFactory) chosen = bed_text_factory_new (PANGO_ELLIPSIZE_END);

  gtk_drop_down_set_list_factory (drop, gtk_drop_down_get_factory (drop));
  gtk_drop_down_set_factory (drop, chosen);
}

static void
bed_choice_editor_class_init (BedChoiceEditorClass *klass)
{
  BED_EDITOR_CLASS (klass)->get_text = get_text;
  BED_EDITOR_CLASS (klass)->set_text = set_text;
  gtk_widget_class_add_binding (GTK_WIDGET_CLASS (klass), GDK_KEY_Down, GDK_ALT_MASK, open_cb,
                                NULL);
}

GtkWidget *
bed_choice_editor_new (const BedField *field)
{
  g_return_val_if_fail (field->type == BED_FIELD_CHOICE, NULL);
  BedChoiceEditor *self = g_object_new (BED_TYPE_CHOICE_EDITOR, NULL);
  g_autoptr (GtkStringList) words = gtk_string_list_new (NULL);
  GtkEventController *keys = gtk_event_controller_key_new ();

  self->drop = bed_drop_down_new (NULL, NULL);
  cut_off (GTK_DROP_DOWN (self->drop));
  bed_editor_set_content (BED_EDITOR (self), self->drop, self->drop);
  g_signal_connect_swapped (self->drop, "notify::selected", G_CALLBACK (bed_editor_edited), self);
  g_signal_connect_swapped (keys, "key-pressed", G_CALLBACK (key_pressed_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
  self->field = field;
  gtk_string_list_append (words, "–");
  for (const BedChoice *c = field->choices; c->key; c++)
    gtk_string_list_append (words, bed_choice_get_word (c));
  gtk_drop_down_set_model (GTK_DROP_DOWN (self->drop), G_LIST_MODEL (words));
  return GTK_WIDGET (self);
}
