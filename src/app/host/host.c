#include "app/host/host.h"

#include <glib/gi18n.h>

G_DEFINE_INTERFACE (BedHost, bed_host, GTK_TYPE_WIDGET)

static void
bed_host_default_init (BedHostInterface *iface)
{
}

static BedHost *
host_of (GtkWidget *inside)
{
  GtkRoot *root = gtk_widget_get_root (inside);

  /* A small form over the window speaks through it. */
  while (GTK_IS_WINDOW (root) && !BED_IS_HOST (root))
    root = GTK_ROOT (gtk_window_get_transient_for (GTK_WINDOW (root)));
  return root ? BED_HOST (root) : NULL;
}

gboolean
bed_host_commit (GtkWidget *inside, BedEdit *edit, const char *sentence, GError **error)
{
  BedHost *self = host_of (inside);

  if (!self)
    return bed_edit_commit (edit, sentence, error);
  return BED_HOST_GET_IFACE (self)->commit (self, GTK_WINDOW (gtk_widget_get_root (inside)), edit,
                                            sentence, error);
}

gboolean
bed_host_remove (GtkWidget *inside, BedFarm *farm, BedKind kind, GArray *ids)
{
  g_autoptr (BedEdit) edit = bed_edit_new (farm);
  g_autoptr (GError) error = NULL;
  g_autofree char *sentence = bed_edit_remove_with (edit, kind, ids, &error);

  if (sentence && bed_host_commit (inside, edit, sentence, &error))
    return TRUE;
  g_autofree char *why = g_strdup_printf (_ ("Not removed. %s"), error->message);
  bed_host_say (inside, why);
  return FALSE;
}

gboolean
bed_host_remove_one (GtkWidget *inside, BedFarm *farm, BedKind kind, gint64 id)
{
  g_autoptr (GArray) ids = g_array_new (FALSE, FALSE, sizeof (gint64));

  g_array_append_val (ids, id);
  return bed_host_remove (inside, farm, kind, ids);
}

void
bed_host_say (GtkWidget *inside, const char *text)
{
  BedHost *self = host_of (inside);

  if (self)
    BED_HOST_GET_IFACE (self)->say (self, text);
}

void
bed_host_say_written (GtkWidget *inside, const char *text, const char *path)
{
  BedHost *self = host_of (inside);

  if (self)
    BED_HOST_GET_IFACE (self)->say_written (self, text, path);
}

void
bed_host_say_error (GtkWidget *inside, const GError *error)
{
  bed_host_say (inside, error->message);
}

BedRecord *
bed_host_load (GtkWidget *inside, BedFarm *farm, BedKind kind, gint64 id)
{
  g_autoptr (GError) error = NULL;
  BedRecord *record = bed_farm_load (farm, kind, id, &error);

  if (!record)
    bed_host_say_error (inside, error);
  return record;
}

void
bed_host_read (gpointer inside, BedFarm *farm, BedHostRead read)
{
  g_autoptr (GError) error = NULL;

  if (!bed_farm_begin_reading (farm))
    return;
  gboolean well = read (inside, &error);
  if (!bed_farm_end_reading (farm, error ? NULL : &error) || !well)
    bed_host_say_error (inside, error);
}

void
bed_host_say_undo (GtkWidget *inside)
{
  BedHost *self = host_of (inside);

  if (self)
    BED_HOST_GET_IFACE (self)->say_undo (self);
}

void
bed_host_show_record (GtkWidget *inside, BedKind kind, gint64 id)
{
  BedHost *self = host_of (inside);

  if (self)
    BED_HOST_GET_IFACE (self)->show_record (self, kind, id);
}

void
bed_host_show_draft (GtkWidget *inside, BedRecord *draft, const char *logs)
{
  BedHost *self = host_of (inside);

  if (self)
    BED_HOST_GET_IFACE (self)->show_draft (self, draft, logs);
}

gboolean
bed_host_bring_cells (GtkWidget *inside, const char *text, BedKind kind)
{
  BedHost *self = host_of (inside);

  return self && BED_HOST_GET_IFACE (self)->bring_cells (self, text, kind);
}

BedFarm *
bed_host_get_farm (GtkWidget *inside)
{
  BedHost *self = host_of (inside);

  return self ? BED_HOST_GET_IFACE (self)->get_farm (self) : NULL;
}

void
bed_host_set_farm (GtkWidget *inside, BedFarm *farm)
{
  BedHost *self = host_of (inside);

  if (self)
    BED_HOST_GET_IFACE (self)->set_farm (self, farm);
}

gboolean
bed_host_open (GtkWidget *inside, const char *path)
{
  BedHost *self = host_of (inside);

  return self && BED_HOST_GET_IFACE (self)->open (self, path);
}

void
bed_host_open_beside (GtkWidget *inside, const char *path)
{
  BedHost *self = host_of (inside);

  if (self)
    BED_HOST_GET_IFACE (self)->open_beside (self, path);
}

void
bed_host_show_beside (GtkWidget *inside, BedFarm *farm)
{
  BedHost *self = host_of (inside);

  if (self)
    BED_HOST_GET_IFACE (self)->show_beside (self, farm);
}
