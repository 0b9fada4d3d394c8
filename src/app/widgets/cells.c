#include "app/widgets/cells.h"

#include <string.h>

typedef struct
{
  GtkWidget *entry;
  BedCellsPasted pasted;
  gpointer user_data;
} Watch;

/* As an entry pastes. */
static void
insert (GtkEditable *entry, const char *text)
{
  gtk_editable_delete_selection (entry);
  int at = gtk_editable_get_position (entry);
  gtk_editable_insert_text (entry, text, -1, &at);
  gtk_editable_set_position (entry, at);
}

static void
read_cb (GObject *clipboard, GAsyncResult *result, gpointer data)
{
  g_autoptr (GtkWidget) entry = data;
  const Watch *watch = g_object_get_data (G_OBJECT (entry), "cells");
  g_autofree char *text = gdk_clipboard_read_text_finish (GDK_CLIPBOARD (clipboard), result, NULL);

  if (!text || !gtk_widget_get_root (entry))
    return;
  g_strchomp (text);
  if (!strpbrk (text, "\n\t") || !watch->pasted (text, watch->user_data))
    insert (GTK_EDITABLE (entry), text);
}

static void
paste_cb (GtkWidget *text, Watch *watch)
{
  g_signal_stop_emission_by_name (text, "paste-clipboard");
  if (gtk_editable_get_editable (GTK_EDITABLE (watch->entry)))
    gdk_clipboard_read_text_async (gtk_widget_get_clipboard (text), NULL, read_cb,
                                   g_object_ref (watch->entry));
}

void
bed_cells_watch (GtkWidget *entry, BedCellsPasted pasted, gpointer user_data)
{
  g_return_if_fail (GTK_IS_EDITABLE (entry) && pasted != NULL);
  Watch *watch = g_new (Watch, 1);

  *watch = (Watch){ entry, pasted, user_data };
  g_object_set_data_full (G_OBJECT (entry), "cells", watch, g_free);
  g_signal_connect (gtk_editable_get_delegate (GTK_EDITABLE (entry)), "paste-clipboard",
                    G_CALLBACK (paste_cb), watch);
}

static char **
split_line (const char *line)
{
  char **cells = g_strsplit (line, "\t", -1);

  for (guint i = 0; cells[i]; i++)
    g_strstrip (cells[i]);
  return cells;
}

GPtrArray *
bed_cells_split (const char *text)
{
  g_return_val_if_fail (text != NULL, NULL);
  g_auto (GStrv) lines = g_strsplit (text, "\n", -1);
  GPtrArray *split = g_ptr_array_new_with_free_func ((GDestroyNotify) g_strfreev);

  for (guint i = 0; lines[i]; i++)
    if (strspn (lines[i], " \t\r") < strlen (lines[i])
        && (split->len > 0 || !lines[i + 1] || strpbrk (lines[i], "0123456789")))
      g_ptr_array_add (split, split_line (lines[i]));
  return split;
}

guint
bed_cells_take (GPtrArray *waiting, BedCellsTake take, gpointer user_data)
{
  guint taken = 0;

  while (waiting->len > 0)
    {
      g_auto (GStrv) cells = g_ptr_array_steal_index (waiting, 0);
      if (!take (user_data, cells))
        break;
      taken++;
    }
  return taken;
}
