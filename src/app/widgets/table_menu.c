#include "app/widgets/table_menu.h"

#include <glib/gi18n.h>

GMenu *
bed_table_menu_new (const BedTableDeeds *deeds, const BedTableColumn *columns, guint n_columns)
{
  g_return_val_if_fail (deeds != NULL && (columns != NULL || n_columns == 0), NULL);
  GMenu *menu = g_menu_new ();
  g_autoptr (GMenu) rows = g_menu_new ();
  g_autoptr (GMenu) sort = g_menu_new ();

  if (deeds->open)
    g_menu_append (rows, _ ("Open"), "table.open");
  if (deeds->change)
    g_menu_append (rows, _ ("Change"), "table.change");
  if (deeds->remove)
    g_menu_append (rows, _ ("Remove"), "table.remove");
  for (guint i = 0; i < n_columns; i++)
    {
      g_autofree char *up = g_strdup_printf ("table.sort(%d)", (int) i + 1);
      g_autofree char *down = g_strdup_printf ("table.sort(%d)", -(int) i - 1);
      g_autofree char *label = g_strdup_printf (_ ("Sort by %s"), _ (columns[i].title));
      g_autofree char *turned = g_strdup_printf (_ ("%s, last first"), label);

      g_menu_append (sort, label, up);
      g_menu_append (sort, turned, down);
    }
  g_menu_append_section (menu, NULL, G_MENU_MODEL (rows));
  g_menu_append_submenu (menu, _ ("Sort"), G_MENU_MODEL (sort));
  return menu;
}
