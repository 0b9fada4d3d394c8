/* Which logs are in a soak is not a field: it is a line of names below the fields, saved as
 * soaked records together with the soak. */
#include "app/soaking/soak_form.h"

#include <glib/gi18n.h>

#include "app/desk/page_parts.h"
#include "app/form/forms.h"
#include "model/farm/query.h"
#include "model/farm/say.h"
#include "model/farm/source.h"

#define NAME "bed-soak-logs"
#define OFFERED 8

typedef struct
{
  BedForm *form; /* borrowed: the form owns this */
  BedFarm *farm;
  gint64 soak; /* of the stored record that is being changed, or 0 */
  GtkWidget *entry;
  GtkWidget *said;    /* how many, or what was not understood */
  GtkWidget *offered; /* groups that may be soaked now */
} SoakLogs;

static void
free_logs (SoakLogs *logs)
{
  g_object_unref (logs->farm);
  g_free (logs);
}

static const char *
get_text (SoakLogs *logs)
{
  return gtk_editable_get_text (GTK_EDITABLE (logs->entry));
}

/* --- what is said of the line ---------------------------------------------------- */

static char *
dup_count (SoakLogs *logs, guint n)
{
  gint64 holds = bed_record_get_int (bed_farm_get_settings (logs->farm), "tank_capacity");

  if (!n)
    return g_strdup (_ ("Stacks, batches or log codes, with commas between: Crib 4, 26A-017"));
  if (holds)
    /* Translators: logs in the soak, logs the tank holds. */
    return bed_say (
        g_dngettext (GETTEXT_PACKAGE, "%u log; the tank holds %d", "%u logs; the tank holds %d", n),
        n, (int) holds);
  return bed_say (g_dngettext (GETTEXT_PACKAGE, "%u log", "%u logs", n), n);
}

static void
say (SoakLogs *logs, const char *text, const GError *error)
{
  gtk_label_set_label (GTK_LABEL (logs->said), error ? error->message : text);
  if (error)
    gtk_widget_add_css_class (logs->said, "error");
  else
    gtk_widget_remove_css_class (logs->said, "error");
  gtk_accessible_update_property (GTK_ACCESSIBLE (logs->entry), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                  error ? error->message : text, -1);
}

static void
show_count (SoakLogs *logs)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) found = bed_source_find_logs (logs->farm, get_text (logs), &error);
  g_autofree char *count = dup_count (logs, found ? found->len : 0);

  say (logs, count, error);
}

static void
entry_changed_cb (SoakLogs *logs)
{
  bed_form_touch (logs->form);
  show_count (logs);
}

/* --- groups to take with one click -------------------------------------------------- */

static void
take_cb (GtkButton *button, SoakLogs *logs)
{
  const char *name = g_object_get_data (G_OBJECT (button), "bed-name");
  const char *typed = get_text (logs);
  g_autofree char *text = *typed ? g_strdup_printf ("%s, %s", typed, name) : g_strdup (name);

  gtk_editable_set_text (GTK_EDITABLE (logs->entry), text);
  gtk_widget_grab_focus (logs->entry);
  gtk_editable_set_position (GTK_EDITABLE (logs->entry), -1);
}

/* As due_rules.c: no totems, and no mushroom that is not forced. */
#define READY                                                                                      \
  "SELECT coalesce (k.name, f.batch_code) AS name, count (*)"                                      \
  " FROM log_forced f LEFT JOIN stack k ON k.id = f.stack"                                         \
  " WHERE f.inside = 0 AND f.ready_on <= bed_today () GROUP BY 1"                                  \
  " ORDER BY max (CASE WHEN f.put_in IS NOT NULL THEN f.ready_on END), 1 LIMIT ?1"

static void
offer_groups (SoakLogs *logs)
{
  g_autoptr (BedQuery) q = bed_query_new (logs->farm, READY);
  g_autoptr (GError) error = NULL;
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (logs->offered)))
    gtk_flow_box_remove (GTK_FLOW_BOX (logs->offered), child);
  bed_query_bind_int (q, 1, OFFERED);
  while (bed_query_next (q))
    {
      const char *name = bed_query_text (q, 0);
      /* Translators: name of a stack or batch, logs of it that may be soaked. */
      g_autofree char *label = bed_say (_ ("%s (%d)"), name, (int) bed_query_int (q, 1));
      GtkWidget *button = gtk_button_new_with_label (label);
      g_object_set_data_full (G_OBJECT (button), "bed-name", g_strdup (name), g_free);
      g_signal_connect (button, "clicked", G_CALLBACK (take_cb), logs);
      gtk_flow_box_append (GTK_FLOW_BOX (logs->offered), button);
      gtk_widget_set_focusable (gtk_widget_get_parent (button), FALSE);
    }
  gtk_widget_set_visible (gtk_widget_get_parent (logs->offered),
                          gtk_widget_get_first_child (logs->offered) != NULL);
  if (!bed_query_finish (q, &error))
    say (logs, NULL, error);
}

/* --- with the record ------------------------------------------------------------------ */

/* Without it being typing. */
static void
fill_entry (SoakLogs *logs, const char *names)
{
  g_signal_handlers_block_by_func (logs->entry, entry_changed_cb, logs);
  gtk_editable_set_text (GTK_EDITABLE (logs->entry), names);
  g_signal_handlers_unblock_by_func (logs->entry, entry_changed_cb, logs);
}

static gboolean
show_stored (SoakLogs *logs)
{
  g_autoptr (BedQuery) q
      = bed_query_new (logs->farm, "SELECT log FROM soaked WHERE soak = ?1 ORDER BY id");
  g_autoptr (GArray) ids = g_array_new (FALSE, FALSE, sizeof (gint64));

  bed_query_bind_int (q, 1, logs->soak);
  while (bed_query_next (q))
    {
      gint64 id = bed_query_int (q, 0);
      g_array_append_val (ids, id);
    }
  g_autofree char *names = bed_query_finish (q, NULL) ? bed_source_dup_names (logs->farm, ids)
                                                      : NULL;
  fill_entry (logs, names ? names : "");
  return names != NULL;
}

/* "draft-changed" also comes when the form begins with another record. */
static void
draft_changed_cb (BedForm *form, SoakLogs *logs)
{
  BedRecord *original = bed_form_get_original (form);

  if (g_object_get_data (G_OBJECT (original), NAME))
    return;
  g_object_set_data (G_OBJECT (original), NAME, logs);
  logs->soak = bed_record_get_id (original);
  /* Said by the form, which reads, and which comes again. */
  if (!show_stored (logs))
    g_object_set_data (G_OBJECT (original), NAME, NULL);
  show_count (logs);
  offer_groups (logs);
}

static void
set_sentence (BedForm *form, BedRecord *soak, guint n)
{
  const char *tank = bed_record_get_text (soak, "tank");
  /* Translators: number of logs, name of the tank. */
  g_autofree char *sentence
      = bed_say (g_dngettext (GETTEXT_PACKAGE, "Soaked %u log in %s", "Soaked %u logs in %s", n), n,
                 tank ? tank : "");

  bed_form_set_sentence (form, sentence);
}

/* Logs no longer named are taken out of the soak, those new to it put in. */
static void
gather_cb (BedForm *form, BedEdit *edit, BedRecord *soak, SoakLogs *logs)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) named = bed_source_find_logs (logs->farm, get_text (logs), &error);
  g_autoptr (GHashTable) wanted = g_hash_table_new (NULL, NULL);
  g_autoptr (BedQuery) q = bed_query_new (logs->farm, "SELECT id, log FROM soaked WHERE soak = ?1");

  if (!named || !named->len)
    {
      bed_form_refuse (form, error ? error->message : _ ("Which logs went in is missing."));
      return;
    }
  if (!logs->soak)
    set_sentence (form, soak, named->len);
  for (guint i = 0; i < named->len; i++)
    g_hash_table_add (wanted, GSIZE_TO_POINTER (g_array_index (named, gint64, i)));
  bed_query_bind_int (q, 1, logs->soak);
  while (bed_query_next (q))
    if (!g_hash_table_remove (wanted, GSIZE_TO_POINTER (bed_query_int (q, 1))))
      bed_edit_remove (edit, BED_KIND_SOAKED, bed_query_int (q, 0));
  if (!bed_query_finish (q, &error))
    {
      bed_form_refuse (form, error->message);
      return;
    }
  for (guint i = 0; i < named->len; i++)
    {
      gint64 id = g_array_index (named, gint64, i);
      if (!g_hash_table_contains (wanted, GSIZE_TO_POINTER (id)))
        continue;
      g_autoptr (BedRecord) soaked = bed_record_new (BED_KIND_SOAKED);
      bed_record_set_int (soaked, "soak", bed_record_get_id (soak));
      bed_record_set_int (soaked, "log", id);
      bed_edit_put (edit, soaked);
    }
}

/* From the last field above, Enter comes here; from here it saves. */
static void
entry_activate_cb (SoakLogs *logs)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) found = bed_source_find_logs (logs->farm, get_text (logs), &error);

  if (found)
    bed_form_save (logs->form, BED_FORM_THEN_LEAVE);
}

static GtkWidget *
make_offered (SoakLogs *logs)
{
  logs->offered = gtk_flow_box_new ();
  gtk_flow_box_set_selection_mode (GTK_FLOW_BOX (logs->offered), GTK_SELECTION_NONE);
  gtk_flow_box_set_max_children_per_line (GTK_FLOW_BOX (logs->offered), 6);
  bed_named (logs->offered, _ ("Ready to soak"));
  return bed_column_new (6, bed_words_new (_ ("Ready to soak:"), "dim-label"), logs->offered, NULL);
}

static GtkWidget *
make_below (SoakLogs *logs)
{
  logs->entry = gtk_entry_new ();
  logs->said = bed_styled (bed_words_new (NULL, "dim-label"), "caption");
  bed_named (logs->entry, _ ("Logs"));
  g_signal_connect_swapped (logs->entry, "changed", G_CALLBACK (entry_changed_cb), logs);
  g_signal_connect_swapped (logs->entry, "activate", G_CALLBACK (entry_activate_cb), logs);
  return bed_section_new (_ ("Logs"),
                          bed_column_new (6, logs->entry, logs->said, make_offered (logs), NULL));
}

BedForm *
bed_soak_form_new (BedFarm *farm)
{
  BedForm *form = bed_form_new (farm, bed_forms_get_spec (BED_KIND_SOAK));
  SoakLogs *logs = g_new0 (SoakLogs, 1);

  logs->form = form;
  logs->farm = g_object_ref (farm);
  g_object_set_data_full (G_OBJECT (form), NAME, logs, (GDestroyNotify) free_logs);
  bed_form_set_below (form, make_below (logs));
  bed_form_set_last (form, logs->entry);
  bed_form_set_then (form, BED_FORM_THEN_LEAVE);
  g_signal_connect (form, "draft-changed", G_CALLBACK (draft_changed_cb), logs);
  g_signal_connect (form, "gather", G_CALLBACK (gather_cb), logs);
  draft_changed_cb (form, logs);
  return form;
}

void
bed_soak_form_offer_logs (BedForm *form, const char *names)
{
  SoakLogs *logs = g_object_get_data (G_OBJECT (form), NAME);

  g_return_if_fail (logs != NULL && names != NULL);
  if (bed_form_has_typing (form))
    return;
  fill_entry (logs, names);
  show_count (logs);
}
