#include "app/window/recent_list.h"

#include <adwaita.h>
#include <glib/gi18n.h>
#include <string.h>

#include "app/widgets/build.h"
#include "app/window/recent.h"

#define ROWS 5     /* more are in the menu */
#define LONGEST 32 /* characters of a name */

/* --- on the first page ---------------------------------------------------------------- */

static void fill (GtkWidget *bin);

static void
forget_cb (GtkWidget *button)
{
  GtkWidget *bin = gtk_widget_get_ancestor (button, ADW_TYPE_BIN);

  bed_recent_forget (g_object_get_data (G_OBJECT (button), "path"));
  fill (bin);
  gtk_widget_child_focus (gtk_widget_get_parent (bin), GTK_DIR_TAB_FORWARD);
}

static GtkWidget *
make_row (const BedRecentFarm *farm)
{
  GtkWidget *row = adw_action_row_new ();
  GtkWidget *forget = bed_icon_button_new ("window-close-symbolic", _ ("Take out of this list"));
  g_autofree char *words = bed_recent_dup_words (farm->path);

  adw_preferences_row_set_use_markup (ADW_PREFERENCES_ROW (row), FALSE);
  adw_preferences_row_set_title (ADW_PREFERENCES_ROW (row), farm->name ? farm->name : words);
  adw_action_row_set_subtitle (ADW_ACTION_ROW (row), words);
  adw_action_row_set_subtitle_lines (ADW_ACTION_ROW (row), 1);
  adw_action_row_set_title_lines (ADW_ACTION_ROW (row), 1);
  gtk_list_box_row_set_activatable (GTK_LIST_BOX_ROW (row), TRUE);
  gtk_actionable_set_action_name (GTK_ACTIONABLE (row), "win.open-recent");
  gtk_actionable_set_action_target_value (GTK_ACTIONABLE (row),
                                          g_variant_new_bytestring (farm->path));
  gtk_widget_set_valign (forget, GTK_ALIGN_CENTER);
  g_object_set_data_full (G_OBJECT (forget), "path", g_strdup (farm->path), g_free);
  g_signal_connect (forget, "clicked", G_CALLBACK (forget_cb), NULL);
  adw_action_row_add_suffix (ADW_ACTION_ROW (row), forget);
  return row;
}

static void
fill (GtkWidget *bin)
{
  g_autoptr (GPtrArray) farms = bed_recent_list ();
  GtkWidget *list = farms->len ? bed_styled (gtk_list_box_new (), "boxed-list") : NULL;

  for (guint i = 0; i < MIN (farms->len, ROWS); i++)
    gtk_list_box_append (GTK_LIST_BOX (list), make_row (farms->pdata[i]));
  if (list)
    {
      gtk_list_box_set_selection_mode (GTK_LIST_BOX (list), GTK_SELECTION_NONE);
      bed_named (list, _ ("Recent farms"));
    }
  adw_bin_set_child (ADW_BIN (bin), list);
}

/* --- in the menu ------------------------------------------------------------------------ */

static gboolean
is_named_twice (GPtrArray *farms, const BedRecentFarm *farm)
{
  guint n = 0;

  for (guint i = 0; i < farms->len; i++)
    n += g_strcmp0 (((BedRecentFarm *) farms->pdata[i])->name, farm->name) == 0;
  return n > 1;
}

/* The menu is as wide as the longest of them. */
static char *
dup_cut (const char *words)
{
  g_autofree char *front = g_utf8_substring (words, 0, MIN (LONGEST, g_utf8_strlen (words, -1)));

  return g_strconcat (front, strlen (front) < strlen (words) ? "…" : "", NULL);
}

/* An underline in it is none of a menu's. */
static char *
dup_label (GPtrArray *farms, const BedRecentFarm *farm)
{
  g_autofree char *folder = g_path_get_dirname (farm->path);
  g_autofree char *inner = g_filename_display_basename (folder);
  g_autofree char *file = g_filename_display_basename (farm->path);
  g_autofree char *name = dup_cut (farm->name ? farm->name : file);
  g_autoptr (GString) label = g_string_new (name);

  if (is_named_twice (farms, farm))
    g_string_append_printf (label, " (%s/%s)", inner, file);
  g_string_replace (label, "_", "__", 0);
  return g_string_free (g_steal_pointer (&label), FALSE);
}

static GMenu *
make_menu (GPtrArray *farms)
{
  g_autoptr (GMenu) rows = g_menu_new ();
  g_autoptr (GMenu) clear = g_menu_new ();
  GMenu *menu = g_menu_new ();

  for (guint i = 0; i < farms->len; i++)
    {
      const BedRecentFarm *farm = farms->pdata[i];
      g_autofree char *label = dup_label (farms, farm);
      g_autoptr (GMenuItem) item = g_menu_item_new (label, NULL);

      g_menu_item_set_action_and_target_value (item, "win.open-recent",
                                               g_variant_new_bytestring (farm->path));
      g_menu_append_item (rows, item);
    }
  g_menu_append (clear, _ ("_Clear this list"), "win.clear-recent");
  g_menu_append_section (menu, NULL, G_MENU_MODEL (rows));
  g_menu_append_section (menu, NULL, G_MENU_MODEL (clear));
  return menu;
}

/* It is the one of the section's items that is a menu. */
static void
put_menu (GMenu *section)
{
  g_autoptr (GPtrArray) farms = bed_recent_list ();
  g_autoptr (GMenu) menu = farms->len ? make_menu (farms) : NULL;
  int last = g_menu_model_get_n_items (G_MENU_MODEL (section)) - 1;
  g_autoptr (GMenuModel) there
      = g_menu_model_get_item_link (G_MENU_MODEL (section), last, G_MENU_LINK_SUBMENU);

  if (there)
    g_menu_remove (section, last);
  if (menu)
    g_menu_append_submenu (section, _ ("Rec_ent farms"), G_MENU_MODEL (menu));
}

/* --- public ----------------------------------------------------------------------------- */

GtkWidget *
bed_recent_list_new (void)
{
  GtkWidget *bin = adw_bin_new ();

  g_signal_connect (bin, "map", G_CALLBACK (fill), NULL);
  fill (bin);
  return bin;
}

void
bed_recent_menu_follow (GtkWidget *button, GMenu *section)
{
  g_signal_connect_object (gtk_menu_button_get_popover (GTK_MENU_BUTTON (button)), "map",
                           G_CALLBACK (put_menu), section, G_CONNECT_SWAPPED);
  put_menu (section);
}
