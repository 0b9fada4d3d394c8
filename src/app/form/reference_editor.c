#include "app/form/editor.h"

#include <glib/gi18n.h>

#include "app/form/forms.h"
#include "app/form/quick.h"
#include "app/host/host.h"
#include "app/widgets/build.h"
#include "app/widgets/suggest.h"
#include "model/farm/kind_words.h"
#include "model/farm/kinds.h"
#include "model/farm/query.h"

#define MOST 40 /* suggestions; typing another letter is quicker than reading more */

/* A record by its name: type to find it among those there are; when it is not
 * there, a small form makes it on the spot. */
struct _BedReferenceEditor
{
  BedEditor parent_instance;
  BedFarm *farm;
  BedKind kind;
  GtkWidget *entry;
  BedSuggest *suggest;
  gboolean making; /* the small form is open */
};

#define BED_TYPE_REFERENCE_EDITOR (bed_reference_editor_get_type ())
G_DECLARE_FINAL_TYPE (BedReferenceEditor, bed_reference_editor, BED, REFERENCE_EDITOR, BedEditor)

BED_DEFINE_TYPE (BedReferenceEditor, bed_reference_editor, BED_TYPE_EDITOR)

enum
{
  TAG_THERE,
  TAG_NEW,
};

/* id, name, detail; ?1 is what is typed. What comes first is what is most likely meant. */
static const char *const questions[BED_N_KINDS] = {
  [BED_KIND_WOOD] = "SELECT id, common_name, latin_name FROM wood"
                    " WHERE bed_found (common_name || ' ' || coalesce (latin_name, '')"
                    " || bed_names ('wood', latin_name), ?1) ORDER BY common_name",
  [BED_KIND_STAND] = "SELECT id, name, grows FROM stand WHERE bed_found (name, ?1) ORDER BY name",
  [BED_KIND_FELLING] = "SELECT id, code, felled_on || ' ' || wood_name FROM felling_summary"
                       " WHERE bed_found (code || ' ' || wood_name, ?1)"
                       " ORDER BY felled_on DESC, id DESC",
  [BED_KIND_MUSHROOM] = "SELECT id, common_name, latin_name FROM mushroom"
                        " WHERE bed_found (common_name || ' ' || latin_name"
                        " || bed_names ('mushroom', latin_name), ?1) ORDER BY common_name",
  [BED_KIND_STRAIN] = "SELECT t.id, t.name, m.common_name FROM strain t"
                      " JOIN mushroom m ON m.id = t.mushroom"
                      " WHERE bed_found (t.name || ' ' || m.common_name, ?1) ORDER BY t.name",
  [BED_KIND_SPAWN] = "SELECT id, code, strain_name || ', ' || form FROM spawn_left"
                     " WHERE bed_found (code || ' ' || strain_name, ?1)"
                     " ORDER BY received_on DESC",
  [BED_KIND_BATCH] = "SELECT id, code, coalesce (wood_name || ', ', '') || inoculated_on"
                     " FROM batch_summary"
                     " WHERE bed_found (code || ' ' || coalesce (wood_name, ''), ?1)"
                     " ORDER BY inoculated_on DESC, id DESC",
  [BED_KIND_LOG] = "SELECT l.id, l.code, w.common_name FROM log l"
                   " JOIN felling f ON f.id = l.felling JOIN wood w ON w.id = f.wood"
                   " WHERE bed_found (l.code, ?1) ORDER BY l.code",
  [BED_KIND_AREA] = "SELECT id, name, shade_kind FROM area WHERE bed_found (name, ?1)"
                    " ORDER BY name",
  [BED_KIND_STACK] = "SELECT k.id, k.name, a.name FROM stack k JOIN area a ON a.id = k.area"
                     " WHERE bed_found (k.name, ?1) ORDER BY k.taken_down_on IS NOT NULL, k.name",
  [BED_KIND_SOAK] = "SELECT id, code, tank || ', ' || put_in FROM soak WHERE bed_found (code, ?1)"
                    " ORDER BY put_in DESC",
  [BED_KIND_LOT] = "SELECT id, code, picked_on FROM lot WHERE bed_found (code, ?1)"
                   " ORDER BY picked_on DESC, id DESC",
  [BED_KIND_BUYER] = "SELECT id, name, kind FROM buyer WHERE bed_found (name, ?1) ORDER BY name",
  [BED_KIND_SALE] = "SELECT id, code, sold_on FROM sale WHERE bed_found (code, ?1)"
                    " ORDER BY sold_on DESC",
};

static const char *
get_text (BedEditor *editor)
{
  return gtk_editable_get_text (GTK_EDITABLE (BED_REFERENCE_EDITOR (editor)->entry));
}

static void changed_cb (BedReferenceEditor *self);

static void
set_text (BedEditor *editor, const char *text)
{
  BedReferenceEditor *self = BED_REFERENCE_EDITOR (editor);

  g_signal_handlers_block_by_func (self->entry, changed_cb, self);
  gtk_editable_set_text (GTK_EDITABLE (self->entry), text);
  gtk_editable_set_position (GTK_EDITABLE (self->entry), -1);
  g_signal_handlers_unblock_by_func (self->entry, changed_cb, self);
}

static BedEditorEnter
enter (BedEditor *editor)
{
  BedReferenceEditor *self = BED_REFERENCE_EDITOR (editor);

  bed_suggest_take (self->suggest);
  return self->making ? BED_EDITOR_STAY : BED_EDITOR_GO_ON;
}

/* TRUE when one of them is called exactly @text. */
static gboolean
list_those_there (BedReferenceEditor *self, const char *text)
{
  g_autofree char *sql = g_strdup_printf ("%s LIMIT %d", questions[self->kind], MOST);
  g_autoptr (BedQuery) query = bed_query_new (self->farm, sql);
  g_autoptr (GError) error = NULL;
  gboolean exact = FALSE;

  bed_query_bind_text (query, 1, text);
  while (bed_query_next (query))
    {
      BedSuggestion there = { TAG_THERE, bed_query_int (query, 0), bed_query_text (query, 1),
                              bed_query_text (query, 2) };

      exact = exact || g_ascii_strcasecmp (there.text, text) == 0;
      bed_suggest_add (self->suggest, &there);
    }
  if (!bed_query_finish (query, &error))
    bed_host_say_error (GTK_WIDGET (self), error);
  return exact || error; /* what may be there is not made anew */
}

/* Logs come with a batch or from a sheet, not one by one. */
static gboolean
can_make (BedReferenceEditor *self)
{
  return bed_forms_get_spec (self->kind) && self->kind != BED_KIND_LOG
         && self->kind != BED_KIND_STACK;
}

static void
suggest (BedReferenceEditor *self)
{
  const char *text = get_text (BED_EDITOR (self));
  gboolean exact;

  bed_suggest_clear (self->suggest);
  exact = list_those_there (self, text);
  if (!exact && *text && can_make (self))
    {
      /* Translators: "New strain", a name. */
      g_autofree char *offer
          = g_strdup_printf (_ ("%s “%s”…"), bed_kind_get_new (self->kind), text);

      bed_suggest_add (self->suggest, &(BedSuggestion){ TAG_NEW, 0, offer, NULL });
    }
  bed_suggest_present (self->suggest);
}

static void
changed_cb (BedReferenceEditor *self)
{
  if (gtk_widget_get_mapped (GTK_WIDGET (self)) && questions[self->kind])
    suggest (self);
  bed_editor_edited (BED_EDITOR (self));
}

static void
made_cb (gint64 id, const char *name, gpointer user_data)
{
  BedReferenceEditor *self = BED_REFERENCE_EDITOR (user_data);

  self->making = FALSE;
  if (id)
    {
      set_text (BED_EDITOR (self), name);
      bed_editor_edited (BED_EDITOR (self));
    }
  gtk_widget_grab_focus (self->entry);
  if (id)
    bed_editor_done (BED_EDITOR (self));
}

static void
chosen_cb (BedReferenceEditor *self, guint tag, gint64 id, const char *text)
{
  if (tag == TAG_NEW)
    {
      self->making = TRUE;
      bed_quick_new (GTK_WIDGET (self), self->farm, self->kind, get_text (BED_EDITOR (self)),
                     made_cb, self);
      return;
    }
  set_text (BED_EDITOR (self), text);
  bed_editor_edited (BED_EDITOR (self));
}

static gboolean
open_cb (GtkWidget *widget, GVariant *parameters, gpointer user_data)
{
  BedReferenceEditor *self = BED_REFERENCE_EDITOR (widget);

  bed_suggest_clear (self->suggest);
  list_those_there (self, "");
  if (bed_farm_count (self->farm, self->kind) == 0)
    bed_suggest_say (self->suggest,
                     can_make (self) ? _ ("None yet: type a name to add one") : _ ("None yet"));
  bed_suggest_present (self->suggest);
  return GDK_EVENT_STOP;
}

static void
icon_press_cb (BedReferenceEditor *self)
{
  gtk_widget_grab_focus (self->entry);
  open_cb (GTK_WIDGET (self), NULL, NULL);
}

static void
bed_reference_editor_class_init (BedReferenceEditorClass *klass)
{
  BED_EDITOR_CLASS (klass)->get_text = get_text;
  BED_EDITOR_CLASS (klass)->set_text = set_text;
  BED_EDITOR_CLASS (klass)->enter = enter;
  gtk_widget_class_add_binding (GTK_WIDGET_CLASS (klass), GDK_KEY_Down, GDK_ALT_MASK, open_cb,
                                NULL);
}

GtkWidget *
bed_reference_editor_new (BedFarm *farm, const BedField *field)
{
  BedReferenceEditor *self = g_object_new (BED_TYPE_REFERENCE_EDITOR, NULL);

  self->entry = gtk_entry_new ();
  gtk_editable_set_width_chars (GTK_EDITABLE (self->entry), 8);
  gtk_entry_set_icon_from_icon_name (GTK_ENTRY (self->entry), GTK_ENTRY_ICON_SECONDARY,
                                     "pan-down-symbolic");
  gtk_entry_set_icon_tooltip_text (GTK_ENTRY (self->entry), GTK_ENTRY_ICON_SECONDARY,
                                   _ ("Choose (Alt+Down)"));
  gtk_editable_set_max_width_chars (GTK_EDITABLE (self->entry), 24);
  bed_editor_set_content (BED_EDITOR (self), self->entry, self->entry);
  self->suggest = bed_suggest_new (GTK_WIDGET (self), self->entry);
  g_signal_connect_swapped (self->entry, "changed", G_CALLBACK (changed_cb), self);
  g_signal_connect_swapped (self->entry, "icon-press", G_CALLBACK (icon_press_cb), self);
  g_signal_connect_swapped (self->suggest, "chosen", G_CALLBACK (chosen_cb), self);
  self->farm = bed_part_hold (BED_PART (self), farm);
  self->kind = field->refers;
  return GTK_WIDGET (self);
}
