#include "app/form/quick.h"

#include <adwaita.h>
#include <glib/gi18n.h>

#include "app/form/forms.h"
#include "app/host/host.h"
#include "app/host/typing.h"
#include "app/widgets/build.h"
#include "model/farm/given.h"
#include "model/farm/kind_words.h"
#include "model/farm/kinds.h"
#include "model/farm/value.h"
#include "model/season/draft.h"

#define WIDTH 620 /* px, room for two columns */

typedef struct
{
  BedQuickMade made;
  gpointer user_data;
  GtkWidget *owner; /* weak */
  gint64 id;
  char *name;
} Quick;

static void
quick_free (gpointer data)
{
  Quick *quick = data;

  g_clear_weak_pointer (&quick->owner);
  g_free (quick->name);
  g_free (quick);
}

static void
saved_cb (Quick *quick, BedRecord *record, BedForm *form)
{
  const BedKindInfo *info = bed_kind_get_info (bed_record_get_kind (record));

  quick->id = bed_record_get_id (record);
  g_free (quick->name);
  quick->name = g_strdup (bed_record_get_text (record, info->key));
}

static gboolean
close_request_cb (GtkWindow *window, Quick *quick)
{
  if (quick->owner)
    quick->made (quick->id, quick->name, quick->user_data);
  return FALSE;
}

/* The name was typed where the form was asked for, and stands there still. */
static void
begin (BedForm *form, BedFarm *farm, BedKind kind, const char *name)
{
  g_autoptr (BedRecord) given = kind == BED_KIND_WOOD ? bed_given_new_wood (farm, name) : NULL;
  g_autoptr (BedRecord) record = bed_draft_new (farm, kind);
  const char *key = bed_kind_get_info (kind)->key;

  if (given)
    bed_form_edit (form, given);
  else if (bed_value_parse (farm, record, key, name, NULL))
    bed_form_edit (form, record);
  else
    bed_form_set_text (form, key, name);
}

static BedForm *
form_new (GtkWidget *window, GtkWidget *owner, BedFarm *farm, BedKind kind, const char *title)
{
  BedForm *form = bed_forms_new (farm, kind);

  bed_window_build (window, owner, title, GTK_WIDGET (form));
  bed_window_set_size (window, WIDTH, -1); /* as high as the form */
  g_signal_connect_swapped (form, "left", G_CALLBACK (gtk_window_close), window);
  bed_typing_guard (GTK_WINDOW (window));
  bed_form_set_then (form, BED_FORM_THEN_LEAVE);
  return form;
}

void
bed_quick_new (GtkWidget *owner, BedFarm *farm, BedKind kind, const char *name, BedQuickMade made,
               gpointer user_data)
{
  g_return_if_fail (bed_forms_get_spec (kind) && bed_kind_get_info (kind)->key);
  GtkWidget *window = adw_window_new ();
  Quick *quick = g_new0 (Quick, 1);
  BedForm *form = form_new (window, owner, farm, kind, bed_kind_get_new (kind));
  quick->made = made;
  quick->user_data = user_data;
  g_set_weak_pointer (&quick->owner, owner);
  g_object_set_data_full (G_OBJECT (window), "quick", quick, quick_free);
  g_signal_connect_swapped (form, "saved", G_CALLBACK (saved_cb), quick);
  g_signal_connect (window, "close-request", G_CALLBACK (close_request_cb), quick);
  begin (form, farm, kind, name);
  gtk_window_present (GTK_WINDOW (window));
  bed_form_focus (form, NULL);
}

static void
open_form (GtkWidget *owner, BedFarm *farm, BedRecord *record, const char *title)
{
  GtkWidget *window = adw_window_new ();
  BedForm *form = form_new (window, owner, farm, bed_record_get_kind (record), title);

  bed_form_edit (form, record);
  gtk_window_present (GTK_WINDOW (window));
  bed_form_focus (form, NULL);
}

void
bed_quick_change (GtkWidget *owner, BedFarm *farm, BedKind kind, gint64 id)
{
  g_autoptr (BedRecord) record = bed_host_load (owner, farm, kind, id);

  g_return_if_fail (bed_forms_get_spec (kind));
  if (!record)
    return;
  g_autofree char *title = bed_kind_dup_change (kind, bed_record_get_name (record));
  open_form (owner, farm, record, title);
}

void
bed_quick_add (GtkWidget *owner, BedFarm *farm, BedRecord *draft)
{
  BedKind kind = bed_record_get_kind (draft);

  g_return_if_fail (bed_forms_get_spec (kind));
  open_form (owner, farm, draft, bed_kind_get_new (kind));
}
