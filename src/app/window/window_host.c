/* The window as the host of its pages and dialogs, and the farm files it opens. */
#include <glib/gi18n.h>

#include "app/widgets/compat.h"
#include "app/window/window_files.h"
#include "app/window/window_private.h"
#include "model/farm/backup.h"

static gboolean
host_commit (BedHost *host, GtkWindow *over, BedEdit *edit, const char *sentence, GError **error)
{
  BedWindow *self = BED_WINDOW (host);

  /* The new farm being made in a window of its own has no undo here. */
  if (!self->farm)
    return bed_edit_commit (edit, sentence, error);
  return bed_undo_commit (self->undo, over, edit, sentence, error);
}

static void
host_say (BedHost *host, const char *text)
{
  bed_toasts_say (BED_WINDOW (host)->notes, text, BED_TOAST_PLAIN, 0);
}

static void
host_say_written (BedHost *host, const char *text, const char *path)
{
  bed_toasts_say_written (BED_WINDOW (host)->notes, text, path);
}

static void
host_say_undo (BedHost *host)
{
  bed_undo_say_newest (BED_WINDOW (host)->undo);
}

static void
host_show_record (BedHost *host, BedKind kind, gint64 id)
{
  int at = bed_window_find_page_of_kind (kind, BED_WINDOW_PAGE_RECORD);
  BedPage *page = at >= 0 ? bed_window_show_page_at (BED_WINDOW (host), at) : NULL;

  if (page)
    bed_page_show_record (page, kind, id);
}

static void
host_show_draft (BedHost *host, BedRecord *draft, const char *logs)
{
  int at = bed_window_find_page_of_kind (bed_record_get_kind (draft), BED_WINDOW_PAGE_DRAFT);
  BedPage *page = at >= 0 ? bed_window_show_page_at (BED_WINDOW (host), at) : NULL;

  if (page)
    bed_page_show_draft (page, draft, logs);
}

static gboolean
host_bring_cells (BedHost *host, const char *text, BedKind kind)
{
  return bed_window_import_cells (BED_WINDOW (host), text, kind);
}

static BedFarm *
host_get_farm (BedHost *host)
{
  return BED_WINDOW (host)->farm;
}

static void
host_set_farm (BedHost *host, BedFarm *farm)
{
  bed_window_set_farm (BED_WINDOW (host), farm);
}

static gboolean
host_open (BedHost *host, const char *path)
{
  return bed_window_open (BED_WINDOW (host), path);
}

static void
host_open_beside (BedHost *host, const char *path)
{
  bed_window_open_beside (BED_WINDOW (host), path);
}

/* A demo goes with its window: its copies are nobody's. */
static void
host_show_beside (BedHost *host, BedFarm *farm)
{
  BedWindow *self = BED_WINDOW (host);
  BedWindow *window
      = self->farm ? bed_window_new (gtk_window_get_application (GTK_WINDOW (self)), NULL) : self;

  bed_window_set_farm (window, farm);
  gtk_window_present (GTK_WINDOW (window));
}

void
bed_window_host_init (BedHostInterface *iface)
{
  iface->get_farm = host_get_farm;
  iface->set_farm = host_set_farm;
  iface->open = host_open;
  iface->open_beside = host_open_beside;
  iface->show_beside = host_show_beside;
  iface->commit = host_commit;
  iface->say = host_say;
  iface->say_written = host_say_written;
  iface->say_undo = host_say_undo;
  iface->show_record = host_show_record;
  iface->show_draft = host_show_draft;
  iface->bring_cells = host_bring_cells;
}

/* --- public ----------------------------------------------------------------------- */

static void
keep_backups (BedWindow *self)
{
  g_clear_pointer (&self->keeper, bed_keeper_free);
  self->keeper = bed_keeper_new (GTK_WINDOW (self), self->farm);
}

/* A window that has the file open comes to the front; one that cannot write to it may show what is
 * no longer there. */
static gboolean
show_there (const char *path)
{
  BedWindow *there = bed_window_find (path);

  if (!there || bed_farm_get_read_only_why (there->farm))
    return FALSE;
  gtk_window_present (GTK_WINDOW (there));
  return TRUE;
}

static void
show_farm (BedWindow *self, BedFarm *farm)
{
  bed_window_set_farm (self, farm);
  if (!bed_farm_get_read_only_why (farm))
    keep_backups (self);
}

gboolean
bed_window_open (BedWindow *self, const char *path)
{
  g_autoptr (BedFarm) farm = NULL;

  g_return_val_if_fail (BED_IS_WINDOW (self) && path != NULL, FALSE);
  if (show_there (path))
    return TRUE;
  farm = bed_window_files_open_farm (GTK_WINDOW (self), path);
  if (farm)
    show_farm (self, farm);
  return farm != NULL;
}

gboolean
bed_window_open_beside (BedWindow *self, const char *path)
{
  g_autoptr (BedFarm) farm = NULL;
  BedWindow *window;

  g_return_val_if_fail (BED_IS_WINDOW (self) && path != NULL, FALSE);
  if (!self->farm)
    return bed_window_open (self, path);
  if (show_there (path))
    return TRUE;
  farm = bed_window_files_open_farm (GTK_WINDOW (self), path);
  if (!farm)
    return FALSE;
  window = bed_window_new (gtk_window_get_application (GTK_WINDOW (self)), path);
  show_farm (window, farm);
  gtk_window_present (GTK_WINDOW (window));
  return TRUE;
}

gboolean
bed_window_open_file (BedWindow *self, GFile *file)
{
  g_autofree char *path = g_file_get_path (file);
  g_autofree char *said = path ? NULL : g_file_get_parse_name (file);
  g_autofree char *why
      = path ? NULL
             : g_strdup_printf (_ ("%s is not among the files of this computer. Copy it here, and "
                                   "open the copy."),
                                said);

  g_return_val_if_fail (BED_IS_WINDOW (self), FALSE);
  if (why)
    bed_tell (GTK_WIDGET (self), _ ("This file could not be opened"), why);
  return path && bed_window_open_beside (self, path);
}

BedWindow *
bed_window_find (const char *path)
{
  GListModel *windows = gtk_window_get_toplevels ();

  for (guint i = 0; i < g_list_model_get_n_items (windows); i++)
    {
      g_autoptr (GtkWidget) window = g_list_model_get_item (windows, i);

      if (BED_IS_WINDOW (window) && BED_WINDOW (window)->farm
          && bed_farm_is_file (BED_WINDOW (window)->farm, path))
        return BED_WINDOW (window);
    }
  return NULL;
}
