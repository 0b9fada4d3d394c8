#include "app/window/window_files.h"

#include "app/host/host.h"

#include <glib/gi18n.h>

#include "app/desk/settings.h"
#include "app/host/typing.h"
#include "app/host/wait.h"
#include "app/widgets/compat.h"
#include "app/window/backups_dialog.h"
#include "model/demo/demo.h"
#include "model/farm/backup.h"
#include "model/farm/value.h"

typedef struct
{
  const char *path;
  BedFarm *farm;
} Opening;

static gboolean
try_open_cb (gpointer data, GError **error)
{
  Opening *opening = data;

  opening->farm = bed_farm_open (opening->path, error);
  return opening->farm != NULL;
}

gboolean
bed_window_open (BedWindow *self, const char *path)
{
  g_autofree char *name = g_path_get_basename (path);
  g_autofree char *heading = g_strdup_printf (_ ("%s is in use by another program"), name);
  BedWindow *there = bed_window_find (gtk_window_get_application (GTK_WINDOW (self)), path);
  Opening opening = { path, NULL };
  g_autoptr (GError) error = NULL;

  if (there && !bed_farm_get_read_only_why (bed_window_get_farm (there)))
    {
      gtk_window_present (GTK_WINDOW (there));
      return TRUE;
    }
  if (!bed_wait (GTK_WINDOW (self), heading, try_open_cb, &opening, &error))
    {
      if (!g_error_matches (error, BED_FARM_ERROR, BED_FARM_ERROR_BUSY))
        bed_window_files_say_unopened (self, path, error);
      return FALSE;
    }
  g_autoptr (BedFarm) farm = opening.farm;
  g_autofree char *copy_of = bed_backup_dup_farm (path);
  bed_window_set_farm (self, farm);
  if (!copy_of)
    bed_settings_set_last_farm (path);
  if (!bed_farm_get_read_only_why (farm))
    bed_window_keep_backups (self);
  return TRUE;
}

BedWindow *
bed_window_find (GtkApplication *application, const char *path)
{
  for (GList *l = application ? gtk_application_get_windows (application) : NULL; l; l = l->next)
    if (BED_IS_WINDOW (l->data) && bed_window_get_farm (l->data)
        && bed_farm_is_file (bed_window_get_farm (l->data), path))
      return l->data;
  return NULL;
}

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
    bed_host_say (GTK_WIDGET (window), _ ("Saved a copy of the farm"));
}

/* A file that could not be opened. */
typedef struct
{
  BedWindow *window; /* under the message, so it outlives it */
  char *path;
} Unopened;

static void
unopened_free (Unopened *unopened)
{
  g_free (unopened->path);
  g_free (unopened);
}

static void
offered_cb (Unopened *unopened)
{
  bed_backups_dialog_show (unopened->window, unopened->path);
}

/* --- public ------------------------------------------------------------------------ */

void
bed_window_files_say_unopened (BedWindow *window, const char *path, const GError *error)
{
  const char *heading = _ ("This file could not be opened");
  BedQuestion question = { heading, error->message, _ ("Restore a copy…"), _ ("Close") };
  g_autoptr (GPtrArray) copies = bed_backup_list (path);
  gboolean lost = g_error_matches (error, BED_FARM_ERROR, BED_FARM_ERROR_CORRUPT)
                  || g_error_matches (error, BED_FARM_ERROR, BED_FARM_ERROR_NOT_A_FARM)
                  || g_error_matches (error, BED_FARM_ERROR, BED_FARM_ERROR_NOT_FOUND);

  if (!lost || copies->len == 0)
    {
      bed_tell (GTK_WIDGET (window), heading, error->message);
      return;
    }
  Unopened *unopened = g_new (Unopened, 1);
  *unopened = (Unopened){ window, g_strdup (path) };
  GtkWidget *dialog = bed_offer (GTK_WIDGET (window), &question, G_CALLBACK (offered_cb), unopened);
  g_object_set_data_full (G_OBJECT (dialog), "unopened", unopened, (GDestroyNotify) unopened_free);
}

/* The copies of a copy are those of its farm. */
void
bed_window_files_backups (BedWindow *window)
{
  const char *path = bed_farm_get_path (bed_window_get_farm (window));
  g_autofree char *of = bed_backup_dup_farm (path);

  bed_backups_dialog_show (window, of ? of : path);
}

void
bed_window_files_restore (BedWindow *window)
{
  const char *path = bed_farm_get_path (bed_window_get_farm (window));
  g_autofree char *of = bed_backup_dup_farm (path);

  bed_backups_restore (window, GTK_WINDOW (window), of, path);
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

  bed_ask_save_file (GTK_WIDGET (window), &ask, copy_chosen_cb, window);
}

/* The last 14 July: the demo is opened in the middle of a season, whatever the day. */
static char *
dup_demo_day (void)
{
  g_autoptr (GDateTime) now = g_date_time_new_now_local ();
  int year = g_date_time_get_year (now);
  g_autoptr (GDateTime) july = g_date_time_new_local (year, 7, 14, 0, 0, 0);

  return g_strdup_printf ("%d-07-14", g_date_time_compare (july, now) <= 0 ? year : year - 1);
}

static void
show_demo (BedWindow *window, BedFarm *farm, const char *today)
{
  g_autofree char *now = g_strconcat (today, "T09:00", NULL);
  g_autofree char *day = bed_date_format (today);
  g_autofree char *text = g_strdup_printf (_ ("Try anything. In the demo farm it is %s."), day);

  bed_farm_fix_clock (farm, now, g_random_int ());
  bed_window_set_farm (window, farm);
  bed_host_say (GTK_WIDGET (window), text);
}

void
bed_window_files_demo (BedWindow *window)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *folder = g_dir_make_tmp ("bedlog-XXXXXX", &error);
  g_autofree char *path = folder ? g_build_filename (folder, "demo.bedlog", NULL) : NULL;
  g_autofree char *today = dup_demo_day ();
  BedDemoPlan plan = { .seed = 1, .today = today };
  g_autoptr (BedFarm) farm = path ? bed_demo_new (path, &plan, &error) : NULL;

  if (farm)
    show_demo (window, farm, today);
  else
    bed_tell (GTK_WIDGET (window), _ ("The demo farm could not be made"), error->message);
}

/* Typing cannot be kept past the farm it belongs to. */
void
bed_window_files_leave (BedWindow *self, void (*then) (BedWindow *self))
{
  if (!bed_typing_ask (GTK_WINDOW (self), G_CALLBACK (then), self))
    then (self);
}
