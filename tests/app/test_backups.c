/* Copies at the desk: made when a farm is opened and closed, listed, looked into, restored; and
 * offered where a farm cannot be opened. */
#include "app_test.h"

#include <glib/gstdio.h>

#include "app/window/backups_dialog.h"
#include "app/window/keeper.h"
#include "app/window/window.h"
#include "model/farm/backup.h"

#define PATIENCE 10000 /* ms */

static void
remove_tree (const char *path)
{
  g_autoptr (GDir) dir = g_dir_open (path, 0, NULL);
  const char *name;

  while (dir && (name = g_dir_read_name (dir)))
    {
      g_autofree char *inside = g_build_filename (path, name, NULL);
      remove_tree (inside);
    }
  g_remove (path);
}

static void
set_up (Scene *scene, gconstpointer data)
{
  scene_set_up (scene, "metric");
  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_STAND, "name", "First", NULL));
  g_clear_object (&scene->farm);
}

static void
tear_down (Scene *scene, gconstpointer data)
{
  g_clear_object (&scene->farm);
  remove_tree (scene->folder);
  g_free (scene->folder);
  g_free (scene->path);
}

static guint
count_copies (Scene *scene)
{
  g_autoptr (GPtrArray) copies = bed_backup_list (scene->path);

  return copies->len;
}

static void
wait_for_copies (Scene *scene, guint n)
{
  for (int ms = 0; ms < PATIENCE && count_copies (scene) < n; ms += 20)
    app_settle (20);
  app_settle (50); /* and the thread to come home */
  g_assert_cmpuint (count_copies (scene), ==, n);
}

/* The window on top that is none of ours and of that type. */
static GtkWidget *
find_window (GType type)
{
  GListModel *windows = gtk_window_get_toplevels ();

  for (guint i = 0; i < g_list_model_get_n_items (windows); i++)
    {
      g_autoptr (GtkWidget) window = g_list_model_get_item (windows, i);
      if (G_OBJECT_TYPE (window) == type && gtk_widget_get_visible (window))
        return window;
    }
  return NULL;
}

static GtkWidget *
wait_for_window (GType type)
{
  for (int ms = 0; ms < PATIENCE && !find_window (type); ms += 20)
    app_settle (20);
  return find_window (type);
}

static BedWindow *
open_window (Scene *scene, const char *path)
{
  BedWindow *window = bed_window_new (NULL, NULL);

  gtk_window_present (GTK_WINDOW (window));
  g_assert_true (bed_window_open (window, path));
  return window;
}

static void
add_stand (BedWindow *window, const char *name)
{
  BedFarm *farm = bed_window_get_farm (window);

  scene_add (farm, scene_record (farm, BED_KIND_STAND, "name", name, NULL));
}

static gint64
count_stands (BedWindow *window)
{
  return bed_farm_count (bed_window_get_farm (window), BED_KIND_STAND);
}

/* --- by itself ---------------------------------------------------------------------- */

static void
test_opening_and_closing (Scene *scene, gconstpointer data)
{
  BedWindow *window = open_window (scene, scene->path);

  wait_for_copies (scene, 1);
  add_stand (window, "Second");
  gtk_window_close (GTK_WINDOW (window));
  wait_for_copies (scene, 2);
  /* Opened and closed again with nothing done: no need for a third. */
  window = open_window (scene, scene->path);
  app_settle (300);
  gtk_window_close (GTK_WINDOW (window));
  app_settle (300);
  g_assert_cmpuint (count_copies (scene), ==, 2);
}

/* The keeper's hour is over. */
static void
pass_an_hour (BedKeeper *keeper)
{
  GSource *timer = g_main_context_find_source_by_funcs_user_data (NULL, &g_timeout_funcs, keeper);

  g_assert_nonnull (timer);
  g_source_set_ready_time (timer, 0);
  app_settle (300);
}

/* As if the newest copy had been made two hours ago. */
static void
age_newest_copy (Scene *scene)
{
  g_autoptr (GPtrArray) copies = bed_backup_list (scene->path);
  BedBackup *newest = copies->pdata[0];
  g_autoptr (GDateTime) now = g_date_time_new_now_local ();
  g_autoptr (GDateTime) then = g_date_time_add_hours (now, -2);
  g_autofree char *when = g_date_time_format (then, "%Y-%m-%d %H-%M");
  g_autofree char *folder = g_path_get_dirname (newest->path);
  g_autofree char *farm = g_path_get_basename (scene->path);
  *strrchr (farm, '.') = 0;
  g_autofree char *name = g_strdup_printf ("%s %s.bedlog", farm, when);
  g_autofree char *path = g_build_filename (folder, name, NULL);

  g_assert_cmpint (g_rename (newest->path, path), ==, 0);
}

static void
test_every_hour (Scene *scene, gconstpointer data)
{
  GtkWidget *window = g_object_ref_sink (gtk_window_new ());
  g_autoptr (BedFarm) farm = bed_farm_open (scene->path, NULL);
  BedKeeper *keeper = bed_keeper_new (GTK_WINDOW (window), farm);

  wait_for_copies (scene, 1);
  age_newest_copy (scene);
  pass_an_hour (keeper); /* nothing was done in it */
  g_assert_cmpuint (count_copies (scene), ==, 1);
  scene_add (farm, scene_record (farm, BED_KIND_STAND, "name", "Second", NULL));
  g_assert_cmpuint (count_copies (scene), ==, 1);
  pass_an_hour (keeper);
  wait_for_copies (scene, 2);
  scene_add (farm, scene_record (farm, BED_KIND_STAND, "name", "Third", NULL));
  pass_an_hour (keeper); /* that copy is of this hour */
  g_assert_cmpuint (count_copies (scene), ==, 2);
  bed_keeper_free (keeper);
  wait_for_copies (scene, 3);
  gtk_window_destroy (GTK_WINDOW (window));
  g_object_unref (window);
}

static gboolean
close_cb (gpointer window)
{
  add_stand (window, "Second");
  gtk_window_close (window);
  return G_SOURCE_REMOVE;
}

static void
activate_cb (GtkApplication *application, Scene *scene)
{
  BedWindow *window = bed_window_new (application, NULL);

  gtk_window_present (GTK_WINDOW (window));
  g_assert_true (bed_window_open (window, scene->path));
  wait_for_copies (scene, 1);
  g_idle_add (close_cb, window);
}

/* The last window closes: the program stays until the copy is there. */
static void
test_program_ends (Scene *scene, gconstpointer data)
{
  g_autoptr (GtkApplication) application
      = gtk_application_new ("org.bedlog.Test", G_APPLICATION_NON_UNIQUE);

  g_application_set_default (G_APPLICATION (application));
  g_signal_connect (application, "activate", G_CALLBACK (activate_cb), scene);
  g_assert_cmpint (g_application_run (G_APPLICATION (application), 0, NULL), ==, 0);
  g_application_set_default (NULL);
  g_assert_cmpuint (count_copies (scene), ==, 2);
}

/* --- in the dialog -------------------------------------------------------------------- */

static void
answer (const char *response)
{
  GtkWidget *question = wait_for_window (ADW_TYPE_MESSAGE_DIALOG);

  g_assert_nonnull (question);
  adw_message_dialog_response (ADW_MESSAGE_DIALOG (question), response);
  gtk_window_close (GTK_WINDOW (question));
}

static void
test_restore (Scene *scene, gconstpointer data)
{
  BedWindow *window = open_window (scene, scene->path);

  wait_for_copies (scene, 1);
  add_stand (window, "Second");
  g_assert_cmpint (count_stands (window), ==, 2);
  gtk_widget_activate_action (GTK_WIDGET (window), "win.backups", NULL);
  GtkWidget *dialog = wait_for_window (ADW_TYPE_WINDOW);
  g_assert_nonnull (dialog);
  g_assert_nonnull (app_find_label (dialog, "1 change since"));
  g_signal_emit_by_name (app_find_button (dialog, "Restore…"), "clicked");
  answer ("agree");
  for (int ms = 0; ms < PATIENCE && find_window (ADW_TYPE_WINDOW); ms += 20)
    app_settle (20);
  g_assert_null (find_window (ADW_TYPE_WINDOW));
  g_assert_cmpint (count_stands (window), ==, 1);
  g_assert_nonnull (app_find_label (GTK_WIDGET (window), "As it was before: farm "));
  wait_for_copies (scene, 2);
  gtk_window_destroy (GTK_WINDOW (window));
  app_settle (300);
}

static void
test_back_up_now (Scene *scene, gconstpointer data)
{
  BedWindow *window = open_window (scene, scene->path);

  wait_for_copies (scene, 1);
  add_stand (window, "Second");
  bed_backups_dialog_show (GTK_WINDOW (window), scene->path);
  GtkWidget *dialog = wait_for_window (ADW_TYPE_WINDOW);
  g_signal_emit_by_name (app_find_button (dialog, "Back up now"), "clicked");
  wait_for_copies (scene, 2);
  g_assert_nonnull (app_find_label (dialog, "Made a copy"));
  g_assert_nonnull (app_find_label (dialog, "The farm as it is"));
  gtk_window_destroy (GTK_WINDOW (dialog));
  gtk_window_destroy (GTK_WINDOW (window));
  app_settle (300);
}

static void
test_look_into (Scene *scene, gconstpointer data)
{
  BedWindow *window = open_window (scene, scene->path);
  g_autoptr (GPtrArray) copies = NULL;

  wait_for_copies (scene, 1);
  copies = bed_backup_list (scene->path);
  BedWindow *copy = open_window (scene, ((BedBackup *) copies->pdata[0])->path);
  g_assert_nonnull (bed_farm_get_read_only_why (bed_window_get_farm (copy)));
  GtkWidget *banner = app_find_label (GTK_WIDGET (copy), "This is a copy of the farm");
  g_assert_nonnull (banner);
  g_assert_true (gtk_widget_get_mapped (banner));
  g_assert_true (gtk_widget_get_mapped (app_find_button (GTK_WIDGET (copy), "Restore…")));
  g_assert_false (gtk_widget_get_mapped (app_find_button (GTK_WIDGET (window), "Restore…")));
  gtk_window_close (GTK_WINDOW (copy));
  gtk_window_close (GTK_WINDOW (window));
  app_settle (300);
  g_assert_cmpuint (count_copies (scene), ==, 1);
}

/* --- where a farm cannot be opened ------------------------------------------------------ */

static void
spoil (const char *path)
{
  g_autofree char *bytes = NULL;
  gsize size;

  g_assert_true (g_file_get_contents (path, &bytes, &size, NULL));
  memset (bytes + 4096 * 2, 0xa5, 4096 * 3);
  g_assert_true (g_file_set_contents (path, bytes, size, NULL));
}

static void
test_damaged (Scene *scene, gconstpointer data)
{
  BedWindow *window = open_window (scene, scene->path);

  wait_for_copies (scene, 1);
  gtk_window_close (GTK_WINDOW (window));
  app_settle (300);
  spoil (scene->path);
  window = bed_window_new (NULL, NULL);
  gtk_window_present (GTK_WINDOW (window));
  g_assert_false (bed_window_open (window, scene->path));
  answer ("agree");
  GtkWidget *dialog = wait_for_window (ADW_TYPE_WINDOW);
  g_assert_nonnull (dialog);
  g_signal_emit_by_name (app_find_button (dialog, "Restore…"), "clicked");
  answer ("agree");
  for (int ms = 0; ms < PATIENCE && !bed_window_get_farm (window); ms += 20)
    app_settle (20);
  g_assert_nonnull (bed_window_get_farm (window));
  g_assert_cmpint (count_stands (window), ==, 1);
  app_settle (300);
  g_assert_nonnull (app_find_label (GTK_WIDGET (window), "The damaged file is kept"));
  gtk_window_destroy (GTK_WINDOW (window));
  app_settle (300);
}

/* Nothing to offer: only said. */
static void
test_damaged_without_copies (Scene *scene, gconstpointer data)
{
  BedWindow *window = bed_window_new (NULL, NULL);

  gtk_window_present (GTK_WINDOW (window));
  spoil (scene->path);
  g_assert_false (bed_window_open (window, scene->path));
  GtkWidget *message = wait_for_window (ADW_TYPE_MESSAGE_DIALOG);
  g_assert_nonnull (message);
  g_assert_null (app_find_button (message, "Restore a copy…"));
  bed_backups_dialog_show (GTK_WINDOW (window), scene->path);
  GtkWidget *dialog = wait_for_window (ADW_TYPE_WINDOW);
  g_assert_nonnull (app_find_label (dialog, "No copies yet"));
  gtk_window_destroy (GTK_WINDOW (dialog));
  gtk_window_destroy (GTK_WINDOW (message));
  gtk_window_destroy (GTK_WINDOW (window));
  app_settle (50);
}

#define ADD(name, function) g_test_add ("/backups/" name, Scene, NULL, set_up, function, tear_down)

int
main (int argc, char *argv[])
{
  gtk_test_init (&argc, &argv, NULL);
  app_begin ();
  ADD ("opening-and-closing", test_opening_and_closing);
  ADD ("every-hour", test_every_hour);
  ADD ("program-ends", test_program_ends);
  ADD ("restore", test_restore);
  ADD ("back-up-now", test_back_up_now);
  ADD ("look-into", test_look_into);
  ADD ("damaged", test_damaged);
  ADD ("damaged-without-copies", test_damaged_without_copies);
  return g_test_run ();
}
