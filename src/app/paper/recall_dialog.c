#include "app/paper/recall_dialog.h"

#include <adwaita.h>
#include <glib/gi18n.h>

#include "app/paper/paper_dialog.h"
#include "app/widgets/build.h"
#include "app/widgets/topic.h"

/* Lives as long as its window. */
typedef struct
{
  GtkWidget *window, *inside, *entry, *fault;
  BedFarm *farm;
} Ask;

static void
free_ask (gpointer data)
{
  Ask *self = data;

  g_object_unref (self->farm);
  g_free (self);
}

static void
answered_cb (Ask *self)
{
  const char *text = gtk_editable_get_text (GTK_EDITABLE (self->entry));
  g_autoptr (GError) error = NULL;
  g_autofree char *day = NULL;
  BedRecallOf of;

  if (!bed_recall_find (self->farm, text, &of, &day, &error))
    {
      gtk_label_set_label (GTK_LABEL (self->fault), error->message);
      return;
    }
  BedPrintOffer offer
      = { .what = BED_PRINT_RECALL, .subject = of.id, .of = of.kind, .day = of.text };
  bed_paper_dialog_show (self->inside, self->farm, &offer, 1);
  gtk_window_destroy (GTK_WINDOW (self->window));
}

static void
changed_cb (Ask *self)
{
  gtk_label_set_label (GTK_LABEL (self->fault), NULL);
}

/* Public */

void
bed_recall_show (GtkWidget *inside, BedFarm *farm, BedKind kind, gint64 id)
{
  g_return_if_fail (BED_IS_FARM (farm) && id != 0);
  BedPrintOffer offer = { .what = BED_PRINT_RECALL, .subject = id, .of = kind };

  bed_paper_dialog_show (inside, farm, &offer, 1);
}

void
bed_recall_show_day (GtkWidget *inside, BedFarm *farm, const char *day)
{
  g_return_if_fail (BED_IS_FARM (farm) && day != NULL);
  BedPrintOffer offer = { .what = BED_PRINT_RECALL, .of = BED_KIND_PICK, .day = day };

  bed_paper_dialog_show (inside, farm, &offer, 1);
}

void
bed_recall_ask_for (GtkWidget *inside, BedFarm *farm)
{
  g_return_if_fail (BED_IS_FARM (farm));
  Ask *self = g_new0 (Ask, 1);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  GtkWidget *button;

  self->farm = g_object_ref (farm);
  self->inside = inside;
  self->window = adw_window_new ();
  self->entry = gtk_entry_new ();
  self->fault = bed_words_new (NULL, "error");
  gtk_box_append (GTK_BOX (box),
                  bed_words_new (_ ("A code of a lot, log, batch, spawn lot, felling "
                                    "or soak, a day of picking, or a water"),
                                 NULL));
  gtk_box_append (GTK_BOX (box), bed_named (self->entry, _ ("Code, day or water")));
  gtk_box_append (GTK_BOX (box), self->fault);
  button = bed_button_add (box, _ ("Show recall"), G_CALLBACK (answered_cb), self);
  gtk_widget_add_css_class (button, "suggested-action");
  g_signal_connect_swapped (self->entry, "activate", G_CALLBACK (answered_cb), self);
  g_signal_connect_swapped (self->entry, "changed", G_CALLBACK (changed_cb), self);
  g_object_set_data_full (G_OBJECT (self->window), "ask", self, free_ask);
  bed_window_build (self->window, inside, _ ("Recall"), bed_styled (box, "page"));
  bed_topic_set (self->window, "recall");
  bed_window_close_on_escape (self->window);
  bed_window_set_size (self->window, 420, -1);
  gtk_window_present (GTK_WINDOW (self->window));
}
