#include "app/yard/yard_put.h"

#include <glib/gi18n.h>

#include "app/widgets/build.h"
#include "app/widgets/compat.h"
#include "model/farm/query.h"
#include "model/farm/say.h"
#include "model/farm/source.h"
#include "model/farm/value.h"

#define CHARS 22 /* of the names */

/* Lives as long as its popover. */
typedef struct
{
  BedFarm *farm; /* borrowed: held by what the button is put in */
  GtkWidget *names;
  GtkWidget *day;
  GtkWidget *said; /* how many and since when, or what is wrong */
  GtkWidget *batches;
} Put;

static GtkWidget *
row_new (BedQuery *q)
{
  guint n = (guint) bed_query_int (q, 2);
  g_autofree char *text
      = bed_say (ngettext ("%s · %u log", "%s · %u logs", n), bed_query_text (q, 1), n);
  GtkWidget *button = bed_styled (bed_action_button_new (text, "yard.put"), "flat");

  gtk_actionable_set_action_target (GTK_ACTIONABLE (button), "x", bed_query_int (q, 0));
  return button;
}

static void
show_batches (Put *self)
{
  g_autoptr (BedQuery) q
      = bed_query_new (self->farm, "SELECT b.id, b.code, count (*) FROM batch b JOIN log_waiting w"
                                   " ON w.batch = b.id"
                                   " GROUP BY b.id ORDER BY b.inoculated_on DESC, b.code LIMIT 20");
  g_autoptr (GError) error = NULL;

  bed_box_clear (self->batches);
  while (bed_query_next (q))
    gtk_box_append (GTK_BOX (self->batches), row_new (q));
  if (!bed_query_finish (q, &error))
    {
      bed_box_clear (self->batches);
      gtk_box_append (GTK_BOX (self->batches), bed_words_new (error->message, "error"));
    }
}

static const char *
get_text (GtkWidget *entry)
{
  return gtk_editable_get_text (GTK_EDITABLE (entry));
}

static void
say (Put *self, const char *text, const GError *error)
{
  gtk_label_set_label (GTK_LABEL (self->said), error ? error->message : text);
  if (error)
    gtk_widget_add_css_class (self->said, "error");
  else
    gtk_widget_remove_css_class (self->said, "error");
}

static char *
read_day (Put *self, GError **error)
{
  return bed_date_parse (get_text (self->day), bed_farm_get_today (self->farm), error);
}

static void
typed_cb (Put *self)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) logs = bed_source_find_logs (self->farm, get_text (self->names), &error);
  g_autofree char *day = logs ? read_day (self, &error) : NULL;
  g_autofree char *since = day ? bed_date_format_whole (day) : NULL;
  g_autofree char *text = NULL;

  if (day)
    /* Translators: logs that are put into a stack, and the day. */
    text = bed_say (ngettext ("%u log, %s", "%u logs, %s", logs->len), logs->len, since);
  say (self, text, error);
}

static void
put_cb (Put *self)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) logs = bed_source_find_logs (self->farm, get_text (self->names), &error);
  g_autofree char *day = logs ? read_day (self, &error) : NULL;

  if (!day)
    say (self, NULL, error);
  else if (!logs->len)
    gtk_widget_grab_focus (self->names);
  else
    gtk_widget_activate_action (
        self->names, "yard.put-logs", "(@axs)",
        g_variant_new_fixed_array (G_VARIANT_TYPE_INT64, logs->data, logs->len, sizeof (gint64)),
        day);
}

/* The day stays from put to put; the names are those of one. */
static void
shown_cb (Put *self)
{
  if (!*get_text (self->day))
    {
      g_autofree char *today = bed_date_format (bed_farm_get_today (self->farm));

      gtk_editable_set_text (GTK_EDITABLE (self->day), today);
    }
  gtk_editable_set_text (GTK_EDITABLE (self->names), "");
  typed_cb (self);
  show_batches (self);
  gtk_widget_grab_focus (self->names);
}

static GtkWidget *
entry_new (Put *self, const char *name, int chars)
{
  GtkWidget *entry = bed_named (gtk_entry_new (), name);

  gtk_editable_set_width_chars (GTK_EDITABLE (entry), chars);
  g_signal_connect_swapped (entry, "changed", G_CALLBACK (typed_cb), self);
  g_signal_connect_swapped (entry, "activate", G_CALLBACK (put_cb), self);
  return entry;
}

static GtkWidget *
content_new (Put *self)
{
  self->said = bed_words_new (NULL, "caption");
  gtk_label_set_max_width_chars (GTK_LABEL (self->said), CHARS);
  self->names = entry_new (self, _ ("Logs, stacks or batches to put here"), CHARS);
  bed_entry_hint (self->names, _ ("Logs, stacks or batches"));
  self->day = entry_new (self, _ ("Since"), 11);
  self->batches = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  return bed_column_new (6, self->names,
                         bed_row_new (6, bed_label_new (_ ("Since"), NULL), self->day,
                                      bed_button_new (_ ("Put here"), G_CALLBACK (put_cb), self),
                                      NULL),
                         self->said, self->batches, NULL);
}

GtkWidget *
bed_yard_put_new (BedFarm *farm)
{
  GtkWidget *popover = gtk_popover_new ();
  GtkWidget *button = bed_styled (gtk_menu_button_new (), "suggested-action");
  Put *self = g_new0 (Put, 1);

  self->farm = farm;
  gtk_popover_set_child (GTK_POPOVER (popover), content_new (self));
  g_object_set_data_full (G_OBJECT (popover), "put", self, g_free);
  g_signal_connect_swapped (popover, "map", G_CALLBACK (shown_cb), self);
  gtk_menu_button_set_label (GTK_MENU_BUTTON (button), _ ("_Put logs here"));
  gtk_menu_button_set_use_underline (GTK_MENU_BUTTON (button), TRUE);
  gtk_menu_button_set_popover (GTK_MENU_BUTTON (button), popover);
  bed_name_menu_button (button);
  return button;
}

GArray *
bed_yard_put_dup_logs (GVariant *parameter, const char **day)
{
  g_autoptr (GVariant) ids = g_variant_get_child_value (parameter, 0);
  GArray *logs = g_array_new (FALSE, FALSE, sizeof (gint64));
  gsize n;
  gconstpointer first = g_variant_get_fixed_array (ids, &n, sizeof (gint64));

  g_variant_get_child (parameter, 1, "&s", day);
  return g_array_append_vals (logs, first, (guint) n);
}
