/* Sheets of other programs, on their way to the page that reads them. */
#include "app/window/window_private.h"

#include <glib/gi18n.h>

#include "app/desk/parts_page.h"
#include "app/host/host.h"
#include "app/import/import_page.h"
#include "app/widgets/compat.h"
#include "app/window/farm_dialog.h"

/* And what lies within. */
static guint64
with_inner (guint64 kinds)
{
  if (kinds & BED_KIND_BIT (BED_KIND_SALE))
    kinds |= BED_KIND_BIT (BED_KIND_LINE);
  if (kinds & BED_KIND_BIT (BED_KIND_BATCH))
    kinds |= BED_KIND_BIT (BED_KIND_LOG);
  return kinds;
}

/* What is pasted is rather of the kind that is seen than of another. */
static guint64
find_kinds (BedWindow *self)
{
  BedPage *page = bed_window_get_page (self);
  guint64 kinds = BED_IS_PARTS_PAGE (page) ? bed_parts_page_get_kinds (BED_PARTS_PAGE (page)) : 0;

  if (!kinds && page)
    kinds = BED_PAGE_GET_CLASS (page)->kinds;
  return with_inner (kinds);
}

static void
open_sheet (BedWindow *self, const BedImportSource *source)
{
  BedPage *page = bed_window_show_page (self, "import") ? bed_window_get_page (self) : NULL;

  if (BED_IS_IMPORT_PAGE (page))
    bed_import_page_open (BED_IMPORT_PAGE (page), source);
}

static void
open_cells (BedWindow *self, const char *text, guint64 kinds, const char *back)
{
  g_autoptr (GBytes) bytes = g_bytes_new (text, strlen (text));
  const BedImportSource source = { NULL, bytes, _ ("Copied cells"), kinds, back };

  open_sheet (self, &source);
}

static void
open_path (BedWindow *self, const char *path)
{
  g_autofree char *name = g_filename_display_basename (path);
  const BedImportSource source = { .path = path, .name = name };

  if (self->farm)
    {
      open_sheet (self, &source);
      return;
    }
  g_free (self->waiting_sheet);
  self->waiting_sheet = g_strdup (path);
  bed_farm_dialog_new_farm (GTK_WINDOW (self));
}

static void
chosen_cb (const char *path, gpointer data)
{
  g_autoptr (BedWindow) self = data;

  if (path)
    open_path (self, path);
}

static void
pasted_cb (GObject *clipboard, GAsyncResult *result, gpointer data)
{
  g_autoptr (BedWindow) self = data;
  g_autofree char *text = gdk_clipboard_read_text_finish (GDK_CLIPBOARD (clipboard), result, NULL);

  if (!self->farm)
    return;
  if (!text || !*text)
    {
      bed_host_say (GTK_WIDGET (self), _ ("There are no copied cells to bring in"));
      return;
    }
  open_cells (self, text, find_kinds (self), NULL);
}

/* By its name alone: looking into a farm that is open, and closing it again, would give up SQLite's
 * locks on it. */
static gboolean
is_farm (const char *path)
{
  g_autofree char *name = g_ascii_strdown (path, -1);

  return g_str_has_suffix (name, ".bedlog");
}

/* A farm is opened, a sheet brought in: of several sheets the first. */
static gboolean
dropped_cb (GtkDropTarget *target, const GValue *value, double x, double y, BedWindow *self)
{
  g_autofree char *sheet = NULL;
  gboolean taken = FALSE;

  for (GSList *l = g_value_get_boxed (value); l; l = l->next)
    {
      g_autofree char *path = g_file_get_path (l->data);

      taken = TRUE;
      if (!path || is_farm (path))
        bed_window_open_file (self, l->data);
      else if (!sheet)
        sheet = g_steal_pointer (&path);
    }
  if (sheet)
    open_path (self, sheet);
  return taken;
}

/* --- public ------------------------------------------------------------------------ */

void
bed_window_import_choose (GtkWindow *window)
{
  BedFileAsk ask = { _ ("Bring in a sheet"), _ ("Read"), NULL, NULL, NULL };

  bed_ask_open_file (GTK_WIDGET (window), &ask, chosen_cb, g_object_ref (window));
}

void
bed_window_import_paste (GtkWindow *window)
{
  gdk_clipboard_read_text_async (gtk_widget_get_clipboard (GTK_WIDGET (window)), NULL, pasted_cb,
                                 g_object_ref (window));
}

gboolean
bed_window_import_cells (BedWindow *self, const char *text, BedKind kind)
{
  const char *page = gtk_stack_get_visible_child_name (GTK_STACK (self->pages));

  if (!self->farm || bed_farm_get_read_only_why (self->farm))
    return FALSE;
  open_cells (self, text, with_inner (BED_KIND_BIT (kind)), page);
  return TRUE;
}

void
bed_window_import_take_drops (GtkWindow *window)
{
  GtkDropTarget *target = gtk_drop_target_new (GDK_TYPE_FILE_LIST, GDK_ACTION_COPY);

  g_signal_connect (target, "drop", G_CALLBACK (dropped_cb), window);
  gtk_widget_add_controller (GTK_WIDGET (window), GTK_EVENT_CONTROLLER (target));
}

void
bed_window_import_go_on (GtkWindow *window)
{
  g_autofree char *path = g_steal_pointer (&BED_WINDOW (window)->waiting_sheet);

  if (path)
    open_path (BED_WINDOW (window), path);
}
