#include "app/yard/yard_stood.h"

#include <glib/gi18n.h>

#include "app/form/quick.h"
#include "app/host/host.h"
#include "app/widgets/build.h"
#include "model/farm/query.h"
#include "model/farm/value.h"

/* One of those places, for its two buttons. */
typedef struct
{
  BedFarm *farm; /* borrowed: the form this is part of holds it */
  gint64 id;
  char *where;
} Stood;

static void
stood_free (gpointer data, GClosure *closure)
{
  Stood *stood = data;

  g_free (stood->where);
  g_free (stood);
}

static void
change_cb (GtkWidget *button, Stood *stood)
{
  bed_quick_change (button, stood->farm, BED_KIND_STOOD, stood->id);
}

static void
remove_cb (GtkWidget *button, Stood *stood)
{
  g_autoptr (BedEdit) edit = bed_edit_new (stood->farm);
  /* TRANSLATORS: of a stack: an area, and since when until when it stood there */
  g_autofree char *sentence = g_strdup_printf (_ ("Took out an earlier place: %s"), stood->where);
  g_autoptr (GError) error = NULL;

  bed_edit_remove (edit, BED_KIND_STOOD, stood->id);
  if (!bed_host_commit (button, edit, sentence, &error))
    bed_host_say_error (button, error);
}

static void
listen (GtkWidget *button, GCallback clicked, const Stood *stood)
{
  Stood *own = g_memdup2 (stood, sizeof *stood);

  own->where = g_strdup (stood->where);
  g_signal_connect_data (button, "clicked", clicked, own, stood_free, 0);
}

/* "Upper yard · 1 Mar 2026 – 5 Apr 2026" */
static char *
dup_where (BedQuery *q)
{
  g_autofree char *since = bed_query_text (q, 2) ? bed_date_format (bed_query_text (q, 2))
                                                 : g_strdup ("…");
  g_autofree char *until = bed_date_format (bed_query_text (q, 3));

  return g_strdup_printf ("%s · %s – %s", bed_query_text (q, 1), since, until);
}

static GtkWidget *
row_new (const Stood *stood)
{
  GtkWidget *change = bed_styled (gtk_button_new_with_label (stood->where), "flat");
  GtkWidget *away = bed_icon_button_new ("user-trash-symbolic", _ ("Take this place out"));
  GtkWidget *label = gtk_button_get_child (GTK_BUTTON (change));

  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_widget_set_hexpand (change, TRUE);
  gtk_widget_set_tooltip_text (change, _ ("Change where it stood, or until when"));
  listen (change, G_CALLBACK (change_cb), stood);
  listen (away, G_CALLBACK (remove_cb), stood);
  return bed_row_new (6, change, away, NULL);
}

GtkWidget *
bed_yard_stood_new (BedFarm *farm, gint64 stack)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  g_autoptr (GError) error = NULL;
  g_autoptr (BedQuery) q = bed_query_new (
      farm, "SELECT s.id, a.name, p.since, s.until FROM stood s JOIN area a ON a.id = s.area"
            " JOIN stack_place p ON p.stack = s.stack AND p.until = s.until AND p.area = s.area"
            " WHERE s.stack = ?1 ORDER BY s.until DESC");

  bed_query_bind_int (q, 1, stack);
  while (bed_query_next (q))
    {
      g_autofree char *where = dup_where (q);
      Stood stood = { farm, bed_query_int (q, 0), where };
      if (!gtk_widget_get_first_child (box))
        gtk_box_append (GTK_BOX (box), bed_words_new (_ ("Where it stood before"), "heading"));
      gtk_box_append (GTK_BOX (box), row_new (&stood));
    }
  if (!bed_query_finish (q, &error))
    gtk_box_append (GTK_BOX (box), bed_words_new (error->message, "error"));
  return box;
}
