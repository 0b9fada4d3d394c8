#include "app/window/window_files.h"

#include <glib/gi18n.h>

#include "app/host/host.h"
#include "app/host/wait.h"
#include "app/widgets/compat.h"
#include "app/window/backups_dialog.h"
#include "app/window/demo_place.h"
#include "app/window/restore_flow.h"
#include "model/demo/demo.h"
#include "model/farm/backup.h"
#include "model/farm/habits.h"

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

/* A file that could not be opened. */
typedef struct
{
  GtkWindow *window; /* under the message, so it outlives it */
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

static void
say_unopened (GtkWindow *window, const char *path, const GError *error)
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

static void
open_chosen_cb (const char *path, gpointer data)
{
  if (path)
    bed_host_open_beside (GTK_WIDGET (data), path);
}

static void
copy_chosen_cb (const char *path, gpointer data)
{
  GtkWindow *window = GTK_WINDOW (data);
  g_autoptr (GError) error = NULL;

  if (path && !bed_backup_write (bed_host_get_farm (GTK_WIDGET (window)), path, &error))
    bed_tell (GTK_WIDGET (window), _ ("The copy could not be saved"), error->message);
  else if (path)
    bed_host_say (GTK_WIDGET (window), _ ("Saved a copy of the farm"));
}

/* --- public ------------------------------------------------------------------------ */

BedFarm *
bed_window_files_open_farm (GtkWindow *window, const char *path)
{
  g_autofree char *name = g_path_get_basename (path);
  g_autofree char *heading = g_strdup_printf (_ ("%s is in use by another program"), name);
  Opening opening = { path, NULL };
  g_autoptr (GError) error = NULL;

  if (!bed_wait (window, heading, try_open_cb, &opening, &error)
      && !g_error_matches (error, BED_FARM_ERROR, BED_FARM_ERROR_BUSY))
    say_unopened (window, path, error);
  return opening.farm;
}

/* The copies of a copy are those of its farm. */
void
bed_window_files_backups (GtkWindow *window)
{
  const char *path = bed_farm_get_path (bed_host_get_farm (GTK_WIDGET (window)));
  g_autofree char *of = bed_backup_dup_farm (path);

  bed_backups_dialog_show (window, of ? of : path);
}

void
bed_window_files_restore (GtkWindow *window)
{
  const char *path = bed_farm_get_path (bed_host_get_farm (GTK_WIDGET (window)));
  g_autofree char *of = bed_backup_dup_farm (path);

  bed_restore_flow_begin (window, window, of, path);
}

void
bed_window_files_open (GtkWindow *window)
{
  BedFileAsk ask = { _ ("Open a farm"), _ ("Open"), NULL, "bedlog", _ ("Farms") };

  bed_ask_open_file (GTK_WIDGET (window), &ask, open_chosen_cb, window);
}

void
bed_window_files_copy (GtkWindow *window)
{
  BedFarm *farm = bed_host_get_farm (GTK_WIDGET (window));
  const char *name = bed_record_get_text (bed_farm_get_settings (farm), "name");
  g_autofree char *file = g_strdup_printf ("%s %s.bedlog", name, bed_farm_get_today (farm));
  BedFileAsk ask = { _ ("Save a copy"), _ ("Save"), file, "bedlog", _ ("Farms") };

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

/* One is enough: nobody tries things in two. */
GtkWindow *
bed_window_files_find_demo (void)
{
  GListModel *windows = gtk_window_get_toplevels ();

  for (guint i = 0; i < g_list_model_get_n_items (windows); i++)
    {
      g_autoptr (GtkWidget) window = g_list_model_get_item (windows, i);
      BedFarm *farm = BED_IS_HOST (window) ? bed_host_get_farm (window) : NULL;

      if (farm && g_object_get_data (G_OBJECT (farm), "demo"))
        return GTK_WINDOW (window);
    }
  return NULL;
}

static BedFarm *
make_demo (GError **error)
{
  g_autoptr (BedDemoPlace) place = bed_demo_place_new (error);
  g_autofree char *today = dup_demo_day ();
  g_autofree char *now = g_strconcat (today, "T09:00", NULL);
  g_autofree char *currency = bed_habits_dup_currency ();
  BedDemoPlan plan
      = { .seed = 1, .today = today, .units = bed_habits_get_units (), .currency = currency };
  g_autoptr (BedFarm) farm = NULL;

  if (place)
    farm = bed_demo_new (bed_demo_place_get_path (place), &plan, error);
  if (!farm)
    return NULL;
  bed_farm_fix_clock (farm, now, g_random_int ());
  g_object_set_data_full (G_OBJECT (farm), "demo", g_steal_pointer (&place),
                          (GDestroyNotify) bed_demo_place_free);
  return g_steal_pointer (&farm);
}

void
bed_window_files_demo (GtkWindow *window)
{
  GtkWindow *there = bed_window_files_find_demo ();
  g_autoptr (GError) error = NULL;
  g_autoptr (BedFarm) farm = there ? NULL : make_demo (&error);

  if (there)
    gtk_window_present (there);
  else if (farm)
    bed_host_show_beside (GTK_WIDGET (window), farm);
  else
    bed_tell (GTK_WIDGET (window), _ ("The demo farm could not be made"), error->message);
}
