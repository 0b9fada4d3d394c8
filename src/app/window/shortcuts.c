#include "app/window/shortcuts.h"

#include <adwaita.h>
#include <glib/gi18n.h>

#include "app/widgets/build.h"
#include "app/widgets/topic.h"

static void
add_key (GtkWidget *grid, int at, const char *accelerator, const char *title)
{
  GtkWidget *what = bed_label_new (title, NULL);
  GtkWidget *key;
  g_autofree char *label = NULL;
  guint keyval;
  GdkModifierType modifiers;

  if (!gtk_accelerator_parse (accelerator, &keyval, &modifiers))
    return;
  label = gtk_accelerator_get_label (keyval, modifiers);
  key = bed_styled (gtk_label_new (label), "key");
  gtk_widget_set_halign (key, GTK_ALIGN_START);
  gtk_label_set_wrap (GTK_LABEL (what), TRUE);
  gtk_grid_attach (GTK_GRID (grid), key, 0, at, 1, 1);
  gtk_grid_attach (GTK_GRID (grid), what, 1, at, 1, 1);
}

static const BedPageKey everywhere[] = {
  { "Return", N_ ("In a form: the next field; from the last one save, and the next record") },
  { "<Control>s", N_ ("In a form: save and close") },
  { "Escape", N_ ("In a form: cancel; what you typed is kept") },
  { "<Alt>Down", N_ ("Open the choices of a field") },
  { "<Shift>Return", N_ ("A new line in a note") },
  { "Delete", N_ ("In a table: remove what is chosen") },
  { "<Shift>F10", N_ ("In a table: open, change, remove, sort") },
  { NULL, NULL },
};

void
bed_shortcuts_show (GtkWidget *inside, const BedAction *actions, guint n, BedPage *page)
{
  GtkWidget *window = adw_window_new ();
  GtkWidget *grid = bed_grid_new (24, 9);
  const BedPageKey *own = page ? BED_PAGE_GET_CLASS (page)->keys : NULL;
  int at = 0;

  for (guint i = 0; i < n; i++)
    if (actions[i].accelerator)
      add_key (grid, at++, actions[i].accelerator, _ (actions[i].title));
  for (const BedPageKey *k = everywhere; k->accelerator; k++)
    add_key (grid, at++, k->accelerator, _ (k->title));
  for (const BedPageKey *k = own; k && k->accelerator; k++)
    add_key (grid, at++, k->accelerator, _ (k->title));
  bed_window_build (
      window, inside, _ ("Keyboard shortcuts"),
      bed_named (bed_scrolled_new (bed_styled (grid, "page")), _ ("Keyboard shortcuts")));
  bed_window_close_on_escape (window);
  bed_topic_set (window, "keys");
  /* Beside what it is about, which can be used meanwhile. */
  gtk_window_set_modal (GTK_WINDOW (window), FALSE);
  bed_window_set_size (window, 480, 600);
  gtk_window_present (GTK_WINDOW (window));
}
