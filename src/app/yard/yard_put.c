#include "app/yard/yard_put.h"

#include <glib/gi18n.h>

#include "app/widgets/build.h"
#include "model/farm/query.h"

static GtkWidget *
row_new (BedQuery *q)
{
  guint n = (guint) bed_query_int (q, 2);
  g_autofree char *text
      = g_strdup_printf (ngettext ("%s · %u log", "%s · %u logs", n), bed_query_text (q, 1), n);
  GtkWidget *button = bed_styled (bed_action_button_new (text, "yard.put"), "flat");

  gtk_actionable_set_action_target (GTK_ACTIONABLE (button), "x", bed_query_int (q, 0));
  return button;
}

/* The farm is held by what this is put in. */
static void
fill_cb (GtkWidget *list, BedFarm *farm)
{
  g_autoptr (BedQuery) q
      = bed_query_new (farm, "SELECT b.id, b.code, count (*) FROM batch b JOIN log_waiting w"
                             " ON w.batch = b.id"
                             " GROUP BY b.id ORDER BY b.inoculated_on DESC, b.code LIMIT 20");
  g_autoptr (GError) error = NULL;

  bed_box_clear (list);
  while (bed_query_next (q))
    gtk_box_append (GTK_BOX (list), row_new (q));
  if (!bed_query_finish (q, &error))
    {
      bed_box_clear (list);
      gtk_box_append (GTK_BOX (list), bed_words_new (error->message, "error"));
    }
  else if (!gtk_widget_get_first_child (list))
    gtk_box_append (GTK_BOX (list),
                    bed_words_new (_ ("Every log lies in a stack already."), "dim-label"));
}

GtkWidget *
bed_yard_put_new (BedFarm *farm)
{
  GtkWidget *popover = gtk_popover_new (), *list = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *button = bed_styled (gtk_menu_button_new (), "suggested-action");

  gtk_popover_set_child (GTK_POPOVER (popover), list);
  g_signal_connect (list, "map", G_CALLBACK (fill_cb), farm);
  gtk_menu_button_set_label (GTK_MENU_BUTTON (button), _ ("Put logs here"));
  gtk_menu_button_set_popover (GTK_MENU_BUTTON (button), popover);
  return button;
}
