#include "app/window_files.h"

#include <glib/gi18n.h>

#include "app/compat.h"
#include "model/backup.h"
#include "model/demo.h"

static void
open_chosen_cb (const char *path, gpointer data)
{
  if (path)
    bed_window_open (BED_WINDOW (data), path);
}

static void
copy_chosen_cb (const char *path, gpointer data)
{
  BedWindow *window = BED_WINDOW (data);
  g_autoptr (GError) error = NULL;

  if (path && !bed_backup_write (bed_window_get_farm (window), path, &error))
    bed_tell (GTK_WIDGET (window), _ ("The copy could not be saved"), error->message);
  else if (path)
    bed_window_say (GTK_WIDGET (window), _ ("Saved a copy of the farm"));
}

void
bed_window_files_open (BedWindow *window)
{
  BedFileAsk ask = { _ ("Open a farm"), _ ("Open"), NULL, "*.bedlog", _ ("Farms") };

  bed_ask_open_file (GTK_WIDGET (window), &ask, open_chosen_cb, window);
}

void
bed_window_files_copy (BedWindow *window)
{
  BedFarm *farm = bed_window_get_farm (window);
  const char *name = bed_record_get_text (bed_farm_get_settings (farm), "name");
  g_autofree char *file = g_strdup_printf ("%s %s.bedlog", name, bed_farm_get_today (farm));
  BedFileAsk ask = { _ ("Save a copy"), _ ("Save"), file, "*.bedlog", _ ("Farms") };

  g_strdelimit (file, "/\\:", '-');
  bed_ask_save_file (GTK_WIDGET (window), &ask, copy_chosen_cb, window);
}

void
bed_window_files_demo (BedWindow *window)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *folder = g_dir_make_tmp ("bedlog-XXXXXX", &error);
  g_autofree char *path = folder ? g_build_filename (folder, "demo.bedlog", NULL) : NULL;
  BedDemoPlan plan = { .seed = 1 };
  g_autoptr (BedFarm) farm = path ? bed_demo_new (path, &plan, &error) : NULL;

  if (farm)
    bed_window_set_farm (window, farm);
  else
    bed_tell (GTK_WIDGET (window), _ ("The demo farm could not be made"), error->message);
}
