#pragma once

#include <gtk/gtk.h>

/* The farms that were open last, to open again: win.open-recent with the path (ay) of each. */

/* For the first page: a row each, and a button there that takes it out of the list. Empty where
 * there are none; read anew whenever it is seen. */
GtkWidget *bed_recent_list_new (void);

/* The same as a menu in the last place of @section, read anew whenever the menu of @button, which
 * has that section, is opened; none while there is nothing for it. */
void bed_recent_menu_follow (GtkWidget *button, GMenu *section);
