#include "app/window/shortcuts.h"

#include <adwaita.h>
#include <glib/gi18n.h>

#include "app/desk/page_parts.h"
#include "app/widgets/build.h"
#include "app/widgets/topic.h"

static void
add_key (GtkWidget *grid, int at, const BedPageKey *which, GtkSizeGroup *keys)
{
  GtkWidget *what = bed_label_new (_ (which->title), NULL);
  GtkWidget *key, *cell;
  g_autofree char *label = NULL;
  guint keyval;
  GdkModifierType modifiers;

  if (!gtk_accelerator_parse (which->accelerator, &keyval, &modifiers))
    return;
  label = gtk_accelerator_get_label (keyval, modifiers);
  key = bed_styled (gtk_label_new (label), "key");
  gtk_widget_set_halign (key, GTK_ALIGN_START);
  cell = bed_row_new (0, key, NULL);
  gtk_label_set_wrap (GTK_LABEL (what), TRUE);
  gtk_size_group_add_widget (keys, cell);
  gtk_grid_attach (GTK_GRID (grid), cell, 0, at, 1, 1);
  gtk_grid_attach (GTK_GRID (grid), what, 1, at, 1, 1);
}

static const BedPageKey everywhere[] = {
  { "Return", N_ ("In a form: the next field; from the last one save, and the next record") },
  { "<Control>Return", N_ ("In a form: save, and the next record") },
  { "<Control>s", N_ ("In a form: save and close") },
  { "Escape", N_ ("In a form: cancel; what you typed is kept") },
  { "Page_Down", N_ ("In a form: the next group of fields") },
  { "<Alt>Down", N_ ("Open the choices of a field") },
  { "<Shift>Return", N_ ("A new line in a note") },
  { "Delete", N_ ("In a table: remove what is chosen") },
  { "<Shift>F10", N_ ("In a table: open, change, remove, sort") },
  { NULL, NULL },
};

/* The keys of all are one column: @first. */
static void
add_keys (GtkWidget *column, const char *heading, const BedPageKey *keys, GtkSizeGroup *first)
{
  GtkWidget *grid = bed_grid_new (24, 9);
  int at = 0;

  for (const BedPageKey *k = keys; k->accelerator; k++)
    add_key (grid, at++, k, first);
  gtk_box_append (GTK_BOX (column), bed_section_new (heading, grid));
}

/* --- public ------------------------------------------------------------------------ */

void
bed_shortcuts_show (GtkWidget *inside, const BedPageKey *keys, BedPage *page)
{
  g_autoptr (GtkSizeGroup) first = gtk_size_group_new (GTK_SIZE_GROUP_HORIZONTAL);
  GtkWidget *window = adw_window_new ();
  GtkWidget *column = bed_styled (gtk_box_new (GTK_ORIENTATION_VERTICAL, 24), "page");

  if (page && BED_PAGE_GET_CLASS (page)->keys)
    add_keys (column, _ ("This page"), BED_PAGE_GET_CLASS (page)->keys, first);
  add_keys (column, _ ("Forms and tables"), everywhere, first);
  add_keys (column, _ ("Everywhere"), keys, first);
  bed_window_build (window, inside, _ ("Keyboard shortcuts"),
                    bed_named (bed_scrolled_new (column), _ ("Keyboard shortcuts")));
  bed_window_close_on_escape (window);
  bed_topic_set (window, "keys");
  /* Beside what it is about, which can be used meanwhile. */
  gtk_window_set_modal (GTK_WINDOW (window), FALSE);
  bed_window_set_size (window, 480, 600);
  gtk_window_present (GTK_WINDOW (window));
}
