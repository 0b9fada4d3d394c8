#pragma once

#include <gtk/gtk.h>

/* Cells of another program, pasted where one line is typed: an entry would take the first of them
 * and drop the others without a word. */

/* Whether the text of several cells was taken; else it is pasted as any text. */
typedef gboolean (*BedCellsPasted) (const char *text, gpointer user_data);

/* @entry is a GtkEditable; @user_data lives as long. */
void bed_cells_watch (GtkWidget *entry, BedCellsPasted pasted, gpointer user_data);

/* Lines of cells (element GStrv, stripped) without blank ones, and without a first one that has no
 * figure in it: those are heads. */
GPtrArray *bed_cells_split (const char *text);

/* Whether the cells are taken in; else they stay where they are typed. */
typedef gboolean (*BedCellsTake) (gpointer user_data, char **cells);

/* One line after the other out of @waiting, up to the first that is not taken in, which is out of
 * it too. How many were taken. */
guint bed_cells_take (GPtrArray *waiting, BedCellsTake take, gpointer user_data);
