/* Window and tool at work on one farm at the same moment, forty rounds of each pair: nothing that
 * was acknowledged is lost, and the window takes back nothing it has not shown. */
#include "../ask.h"

#include "app_test.h"

#include <glib/gstdio.h>

#include "app/host/host.h"
#include "app/window/window.h"
#include "model/check/check.h"

#define ROUNDS 40

static const char *tool;

typedef struct
{
  guint saved;    /* by the window, acknowledged */
  guint imported; /* by the tool, acknowledged */
  guint undone;   /* by the tool, acknowledged */
} Count;

/* --- the two sides ---------------------------------------------------------------- */

static GSubprocess *
run_tool (const char *command, const char *path, const char *csv)
{
  g_autoptr (GError) error = NULL;
  GSubprocess *process
      = g_subprocess_new (G_SUBPROCESS_FLAGS_STDOUT_SILENCE | G_SUBPROCESS_FLAGS_STDERR_SILENCE,
                          &error, tool, command, path, csv ? "stand" : NULL, csv, NULL);

  g_assert_no_error (error);
  return process;
}

static GSubprocess *
start_import (Scene *scene, int i)
{
  g_autofree char *csv = g_build_filename (scene->folder, "stand.csv", NULL);
  g_autofree char *text = g_strdup_printf ("name\nTool %d\n", i);

  g_assert_true (g_file_set_contents (csv, text, -1, NULL));
  return run_tool ("import", scene->path, csv);
}

static gboolean
ends_well (GSubprocess *process)
{
  gboolean done = g_subprocess_wait (process, NULL, NULL) && g_subprocess_get_successful (process);

  g_object_unref (process);
  return done;
}

static gboolean
save (BedWindow *window, Scene *scene, const char *name)
{
  g_autoptr (BedEdit) edit = bed_edit_new (scene->farm);
  g_autoptr (BedRecord) stand = scene_record (scene->farm, BED_KIND_STAND, "name", name, NULL);

  bed_edit_put (edit, stand);
  return bed_host_commit (GTK_WIDGET (window), edit, "Added a stand", NULL);
}

static gboolean
save_round (BedWindow *window, Scene *scene, int i)
{
  g_autofree char *name = g_strdup_printf ("Desk %d", i);

  return save (window, scene, name);
}

static void
undo (BedWindow *window)
{
  gtk_widget_activate_action (GTK_WIDGET (window), "win.undo", NULL);
}

/* --- what must hold ------------------------------------------------------------------ */

static gint64
count (BedFarm *farm, const char *sql)
{
  return ask_one (farm, sql, -1);
}

/* Every change adds one stand, so stands and changes in force are as many. */
static void
judge (Scene *scene)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BedFarm) farm = bed_farm_open (scene->path, &error);

  g_assert_no_error (error);
  g_autoptr (BedCheckup) checkup = bed_check_farm (farm, BED_CHECK_ALL, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (bed_checkup_count (checkup, BED_FAULT_ERROR), ==, 0);
  g_assert_cmpint (count (farm, "SELECT count (*) FROM stand"), ==,
                   count (farm, "SELECT count (*) FROM change WHERE role = 'do'"
                                " AND undone_by IS NULL AND id > (SELECT min (id) FROM change)"));
}

static BedWindow *
begin (Scene *scene)
{
  BedWindow *window = g_object_new (BED_TYPE_WINDOW, NULL);

  gtk_window_present (GTK_WINDOW (window));
  bed_window_set_farm (window, scene->farm);
  app_settle (100);
  return window;
}

static void
remove_copies (Scene *scene)
{
  g_autofree char *folder = g_build_filename (scene->folder, "farm backups", NULL);
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;

  while (dir && (name = g_dir_read_name (dir)))
    {
      g_autofree char *path = g_build_filename (folder, name, NULL);
      g_unlink (path);
    }
  g_rmdir (folder);
}

static void
end (BedWindow *window, Scene *scene)
{
  g_autofree char *csv = g_build_filename (scene->folder, "stand.csv", NULL);

  app_settle (700); /* the window has seen what the tool did */
  bed_window_set_farm (window, NULL);
  gtk_window_destroy (GTK_WINDOW (window));
  app_settle (50);
  judge (scene);
  g_unlink (csv);
  remove_copies (scene);
}

/* --- pairs --------------------------------------------------------------------------- */

static void
test_save_import (Scene *scene, gconstpointer data)
{
  BedWindow *window = begin (scene);
  Count n = { 0 };

  for (int i = 0; i < ROUNDS; i++)
    {
      GSubprocess *process = start_import (scene, i);

      g_usleep (g_random_int_range (0, 40000));
      n.saved += save_round (window, scene, i);
      n.imported += ends_well (process);
      app_settle (5);
    }
  g_assert_cmpuint (n.saved, ==, ROUNDS);
  g_assert_cmpuint (n.imported, ==, ROUNDS);
  end (window, scene);
}

static void
test_undo_import (Scene *scene, gconstpointer data)
{
  BedWindow *window = begin (scene);
  Count n = { 0 };

  for (int i = 0; i < ROUNDS; i++)
    {
      n.saved += save_round (window, scene, i);
      GSubprocess *process = start_import (scene, i);
      g_usleep (g_random_int_range (0, 40000));
      undo (window);
      n.imported += ends_well (process);
    }
  /* What the window had not shown it has not taken back. */
  g_assert_cmpuint (n.imported, ==, ROUNDS);
  app_settle (700);
  g_assert_cmpint (count (scene->farm, "SELECT count (*) FROM stand WHERE name LIKE 'Tool %'"), ==,
                   ROUNDS);
  end (window, scene);
}

static void
test_save_undo (Scene *scene, gconstpointer data)
{
  BedWindow *window = begin (scene);
  Count n = { 0 };

  for (int i = 0; i < ROUNDS; i++)
    {
      GSubprocess *process = run_tool ("undo", scene->path, NULL);

      g_usleep (g_random_int_range (0, 40000));
      n.saved += save_round (window, scene, i);
      n.undone += ends_well (process);
    }
  g_assert_cmpuint (n.saved, ==, ROUNDS);
  g_assert_cmpuint (n.undone, >, 0);
  app_settle (700);
  g_assert_cmpint (count (scene->farm, "SELECT count (*) FROM stand"), ==, n.saved - n.undone);
  end (window, scene);
}

static void
test_undo_undo (Scene *scene, gconstpointer data)
{
  BedWindow *window = begin (scene);
  guint n_undone = 0;

  for (int i = 0; i < ROUNDS; i++)
    {
      g_autofree char *one = g_strdup_printf ("One %d", i);
      g_autofree char *two = g_strdup_printf ("Two %d", i);

      g_assert_true (save (window, scene, one) && save (window, scene, two));
      GSubprocess *process = run_tool ("undo", scene->path, NULL);
      g_usleep (g_random_int_range (0, 40000));
      undo (window);
      n_undone += ends_well (process);
    }
  /* The tool refuses too where the window was quicker: what it had seen is not what is there. */
  g_assert_cmpuint (n_undone, >, 0);
  end (window, scene);
}

static void
test_save_backup (Scene *scene, gconstpointer data)
{
  BedWindow *window = begin (scene);
  Count n = { 0 };

  for (int i = 0; i < ROUNDS; i++)
    {
      GSubprocess *process = run_tool ("backup", scene->path, NULL);

      n.saved += save_round (window, scene, i);
      g_assert_true (ends_well (process));
    }
  g_assert_cmpuint (n.saved, ==, ROUNDS);
  end (window, scene);
}

#define ADD(path, function)                                                                        \
  g_test_add (path, Scene, "metric", scene_set_up, function, scene_tear_down)

int
main (int argc, char **argv)
{
  gtk_test_init (&argc, &argv, NULL);
  app_begin ();
  tool = argv[1];
  ADD ("/app/pairs/save-import", test_save_import);
  ADD ("/app/pairs/undo-import", test_undo_import);
  ADD ("/app/pairs/save-undo", test_save_undo);
  ADD ("/app/pairs/undo-undo", test_undo_undo);
  ADD ("/app/pairs/save-backup", test_save_backup);
  return g_test_run ();
}
