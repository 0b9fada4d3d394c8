/* Which farm a window shows, told apart from the others, and where in it one was. */
#include "app/window/window_private.h"

#include "app/window/recent.h"
#include "model/farm/backup.h"

/* --- its name ---------------------------------------------------------------------- */

static const char *
get_name (BedWindow *self)
{
  return bed_record_get_text (bed_farm_get_settings (self->farm), "name");
}

static gboolean
is_demo (BedWindow *self)
{
  return bed_farm_get_fixed_now (self->farm) != NULL;
}

static char *
dup_folder (BedWindow *self)
{
  g_autofree char *whole = g_canonicalize_filename (bed_farm_get_path (self->farm), NULL);

  return g_path_get_dirname (whole);
}

/* What tells it from the others of its name: the folder, in one folder the file; NULL: there are
 * none. The demo is told by having none. */
static char *
dup_where (BedWindow *self)
{
  GListModel *windows = gtk_window_get_toplevels ();
  g_autofree char *folder = dup_folder (self);
  g_autofree char *where = NULL;

  for (guint i = 0; i < g_list_model_get_n_items (windows) && !is_demo (self); i++)
    {
      g_autoptr (GtkWidget) other = g_list_model_get_item (windows, i);
      g_autofree char *beside = NULL;

      if (!BED_IS_WINDOW (other) || BED_WINDOW (other) == self || !BED_WINDOW (other)->farm
          || g_strcmp0 (get_name (BED_WINDOW (other)), get_name (self)) != 0)
        continue;
      beside = dup_folder (BED_WINDOW (other));
      if (g_str_equal (beside, folder))
        return g_filename_display_basename (bed_farm_get_path (self->farm));
      if (!where)
        where = bed_recent_dup_words (folder);
    }
  return g_steal_pointer (&where);
}

static void
show_name (BedWindow *self)
{
  g_autofree char *where = self->farm ? dup_where (self) : NULL;
  const char *name = self->farm ? get_name (self) : "Bedlog";
  g_autofree char *both = where ? g_strdup_printf ("%s (%s)", name, where) : g_strdup (name);
  g_autofree char *file = self->farm ? bed_recent_dup_words (bed_farm_get_path (self->farm)) : NULL;

  gtk_window_set_title (GTK_WINDOW (self), both);
  gtk_label_set_label (GTK_LABEL (self->farm_name), name);
  gtk_label_set_label (GTK_LABEL (self->farm_where), where ? where : "");
  gtk_widget_set_visible (self->farm_where, where != NULL);
  gtk_widget_set_tooltip_text (self->farm_names, file);
}

void
bed_window_name_all (void)
{
  GListModel *windows = gtk_window_get_toplevels ();

  for (guint i = 0; i < g_list_model_get_n_items (windows); i++)
    {
      g_autoptr (GtkWidget) window = g_list_model_get_item (windows, i);

      if (BED_IS_WINDOW (window) && !gtk_widget_in_destruction (window))
        show_name (BED_WINDOW (window));
    }
}

/* --- where one was ------------------------------------------------------------------- */

/* A copy is looked into and left; of a demo nothing stays. */
static gboolean
is_remembered (BedWindow *self)
{
  g_autofree char *of = self->farm ? bed_backup_dup_farm (bed_farm_get_path (self->farm)) : NULL;

  return self->farm && !of && !is_demo (self);
}

void
bed_window_keep_place (BedWindow *self)
{
  BedPage *page = bed_window_get_page (self);
  const char *name = gtk_stack_get_visible_child_name (GTK_STACK (self->pages));
  BedRecentFarm place = { 0 };

  if (!page || !is_remembered (self))
    return;
  g_autofree char *path = g_canonicalize_filename (bed_farm_get_path (self->farm), NULL);
  place.path = path;
  place.name = (char *) get_name (self);
  /* The sheet that was being brought in is not there again. */
  if (!g_str_equal (name, "import"))
    {
      place.page = (char *) name;
      place.part = (char *) bed_page_get_part (page);
      place.record = bed_page_get_record (page, &place.kind);
    }
  gtk_window_get_default_size (GTK_WINDOW (self), &place.width, &place.height);
  place.maximized = gtk_window_is_maximized (GTK_WINDOW (self));
  bed_recent_keep (&place);
}

void
bed_window_show_place (BedWindow *self)
{
  g_autoptr (BedRecentFarm) last
      = is_remembered (self) ? bed_recent_find (bed_farm_get_path (self->farm)) : NULL;
  int at = last && last->page ? bed_window_find_page (last->page) : 0;
  BedPage *page = bed_window_show_page_at (self, MAX (at, 0));
  g_autoptr (BedRecord) there = NULL;

  if (!page || !last)
    return;
  if (last->record)
    there = bed_farm_load (self->farm, last->kind, last->record, NULL);
  if (there && BED_PAGE_GET_CLASS (page)->kinds & BED_KIND_BIT (last->kind))
    bed_page_show_record (page, last->kind, last->record);
  if (last->part)
    bed_page_see_part (page, last->part);
  bed_window_keep_place (self);
}

void
bed_window_take_size (BedWindow *self, const char *path)
{
  g_autoptr (BedRecentFarm) last = path ? bed_recent_find (path) : NULL;

  if (!last)
    {
      g_autoptr (GPtrArray) farms = bed_recent_list ();

      last = farms->len ? g_ptr_array_steal_index (farms, 0) : NULL;
    }
  if (last && last->width > 0 && last->height > 0)
    gtk_window_set_default_size (GTK_WINDOW (self), last->width, last->height);
  if (last && last->maximized)
    gtk_window_maximize (GTK_WINDOW (self));
}
