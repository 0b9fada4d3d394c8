#include "app/widgets/trouble.h"

#include <glib/gi18n.h>

#include "app/widgets/build.h"

GtkWidget *
bed_trouble_new (BedFarm *farm)
{
  GtkWidget *box;
  GtkWidget *said = gtk_label_new (NULL);
  GtkWidget *again = gtk_button_new_with_label (_ ("Try again"));

  gtk_label_set_wrap (GTK_LABEL (said), TRUE);
  gtk_label_set_max_width_chars (GTK_LABEL (said), 60);
  gtk_widget_set_halign (again, GTK_ALIGN_CENTER);
  g_signal_connect_object (again, "clicked", G_CALLBACK (bed_farm_ask_again), farm,
                           G_CONNECT_SWAPPED);
  box = bed_styled (bed_column_new (12, said, again, NULL), "section");
  gtk_widget_set_visible (box, FALSE);
  return box;
}

void
bed_trouble_say (GtkWidget *trouble, const GError *error)
{
  GtkWidget *said = gtk_widget_get_first_child (trouble);

  if (error)
    {
      /* Translators: why it could not: a whole sentence. */
      g_autofree char *text = g_strdup_printf (_ ("This could not be read. %s"), error->message);
      gtk_label_set_label (GTK_LABEL (said), text);
    }
  gtk_widget_set_visible (trouble, error != NULL);
}
