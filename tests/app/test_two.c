/* Two at work on one farm, as the desk shows it: another program, another window. */
#include "../ask.h"

#include "app_test.h"

#include <glib/gstdio.h>
#include <sqlite3.h>
#include <sys/wait.h>
#include <unistd.h>

#include "app/form/form.h"
#include "app/form/forms.h"
#include "app/host/host.h"
#include "app/window/window.h"
#include "model/farm/history.h"

static const char *tool;

static BedFarm *
open_again (Scene *scene)
{
  g_autoptr (GError) error = NULL;
  BedFarm *farm = bed_farm_open (scene->path, &error);

  g_assert_no_error (error);
  bed_farm_fix_clock (farm, "2026-05-12T11:00", 3);
  return farm;
}

static gint64
add_stand (BedFarm *farm, const char *name)
{
  return scene_add (farm, scene_record (farm, BED_KIND_STAND, "name", name, NULL));
}

static void
change_trees (BedFarm *farm, gint64 id, int trees)
{
  g_autoptr (BedRecord) stand = bed_farm_load (farm, BED_KIND_STAND, id, NULL);

  bed_record_set_int (stand, "trees", trees);
  g_assert_true (bed_edit_put_one (farm, stand, "Counted", NULL));
}

static BedWindow *
show_window (Scene *scene)
{
  BedWindow *window = g_object_new (BED_TYPE_WINDOW, NULL);

  gtk_window_present (GTK_WINDOW (window));
  bed_window_set_farm (window, scene->farm);
  app_settle (100);
  return window;
}

/* A label or button that can be seen; NULL when it is there but hidden. */
static GtkWidget *
seen (GtkWidget *widget)
{
  return widget && gtk_widget_get_mapped (widget) ? widget : NULL;
}

static gboolean
says (BedWindow *window, const char *part)
{
  return seen (app_find_label (GTK_WIDGET (window), part)) != NULL;
}

/* --- a click leaves the keyboard where it is -------------------------------------- */

static guint
count_takers (GtkWidget *inside, guint *n_buttons)
{
  guint n = 0;

  /* Newer libadwaita has one of its own to go back by, which is not seen. */
  if (GTK_IS_BUTTON (inside) && seen (inside))
    {
      (*n_buttons)++;
      n += gtk_widget_get_focus_on_click (inside);
    }
  for (GtkWidget *child = gtk_widget_get_first_child (inside); child;
       child = gtk_widget_get_next_sibling (child))
    if (!GTK_IS_WINDOW_CONTROLS (child))
      n += count_takers (child, n_buttons);
  return n;
}

static GtkWidget *
find_icon_button (GtkWidget *inside, const char *icon)
{
  if (GTK_IS_BUTTON (inside)
      && g_strcmp0 (gtk_button_get_icon_name (GTK_BUTTON (inside)), icon) == 0)
    return inside;
  for (GtkWidget *child = gtk_widget_get_first_child (inside); child;
       child = gtk_widget_get_next_sibling (child))
    {
      GtkWidget *found = find_icon_button (child, icon);

      if (found)
        return found;
    }
  return NULL;
}

static void
test_header_keeps_keyboard (Scene *scene, gconstpointer data)
{
  BedWindow *window = show_window (scene);
  g_autoptr (BedEdit) edit = bed_edit_new (scene->farm);
  g_autoptr (BedRecord) stand = scene_record (scene->farm, BED_KIND_STAND, "name", "One", NULL);
  GtkWidget *undo = find_icon_button (GTK_WIDGET (window), "edit-undo-symbolic");
  GtkWidget *toast;
  guint n_buttons = 0;

  g_assert_cmpuint (count_takers (gtk_widget_get_ancestor (undo, ADW_TYPE_HEADER_BAR), &n_buttons),
                    ==, 0);
  g_assert_cmpuint (n_buttons, >=, 5);
  bed_edit_put (edit, stand);
  g_assert_true (bed_host_commit (GTK_WIDGET (window), edit, "Recorded One", NULL));
  toast = app_find_button (GTK_WIDGET (window), "Undo");
  g_assert_nonnull (toast);
  g_assert_false (gtk_widget_get_focus_on_click (toast));
  app_close (GTK_WIDGET (window), GTK_WIDGET (window));
}

/* --- a toast undoes what it names, or is not there ------------------------------------ */

static void
test_toast (Scene *scene, gconstpointer data)
{
  BedWindow *window = show_window (scene);
  gint64 id = add_stand (scene->farm, "One");
  g_autoptr (BedRecord) same = bed_farm_load (scene->farm, BED_KIND_STAND, id, NULL);
  g_autoptr (BedEdit) nothing = bed_edit_new (scene->farm);
  g_autoptr (BedEdit) edit = bed_edit_new (scene->farm);
  g_autoptr (BedRecord) two = scene_record (scene->farm, BED_KIND_STAND, "name", "Two", NULL);

  /* A save that changed nothing offers no older change. */
  bed_edit_put (nothing, same);
  g_assert_true (bed_host_commit (GTK_WIDGET (window), nothing, "Changed One", NULL));
  app_settle (50);
  g_assert_true (says (window, "Nothing was changed"));
  g_assert_null (seen (app_find_button (GTK_WIDGET (window), "Undo")));

  bed_edit_put (edit, two);
  g_assert_true (bed_host_commit (GTK_WIDGET (window), edit, "Recorded Two", NULL));
  app_settle (50);
  g_assert_nonnull (seen (app_find_button (GTK_WIDGET (window), "Undo")));
  gint64 change = bed_edit_get_change (edit);
  /* Something else is done: the toast still says what was, and no longer offers to undo. */
  add_stand (scene->farm, "Three");
  app_settle (50);
  g_assert_null (seen (app_find_button (GTK_WIDGET (window), "Undo")));
  gtk_widget_activate_action (GTK_WIDGET (window), "win.undo-change", "x", change);
  g_assert_cmpint (bed_farm_count (scene->farm, BED_KIND_STAND), ==, 3);
  g_assert_true (says (window, "no longer the last change"));
  app_close (GTK_WIDGET (window), GTK_WIDGET (window));
}

/* It lies over nothing that is worked with, and nothing moves when it comes. */
static void
test_toast_covers_nothing (Scene *scene, gconstpointer data)
{
  static const int widths[] = { 1280, 700 };
  BedWindow *window = show_window (scene);
  GtkWidget *in = GTK_WIDGET (window), *page = GTK_WIDGET (bed_window_get_page (window));
  GtkWidget *names = gtk_widget_get_ancestor (app_find_label (in, "History"), GTK_TYPE_LIST_BOX);

  for (guint i = 0; i < G_N_ELEMENTS (widths); i++)
    {
      graphene_rect_t before, after, said;

      app_widen (in, widths[i]);
      g_assert_true (gtk_widget_compute_bounds (page, in, &before));
      bed_host_say (in, "One was put where it belongs, and this is said at some length");
      app_settle (100);
      g_assert_true (gtk_widget_compute_bounds (page, in, &after));
      g_assert_true (graphene_rect_equal (&before, &after));
      g_assert_true (gtk_widget_compute_bounds (
          gtk_widget_get_parent (seen (app_find_label (in, "One was put"))), in, &said));
      g_assert_false (graphene_rect_intersection (&said, &after, NULL));
      g_assert_true (gtk_widget_compute_bounds (names, in, &after));
      g_assert_false (graphene_rect_intersection (&said, &after, NULL));
    }
  app_close (in, in);
}

/* The button names a change; meanwhile another is made elsewhere. */
static void
test_undo_of_the_unseen (Scene *scene, gconstpointer data)
{
  BedWindow *window = show_window (scene);
  g_autoptr (BedFarm) other = open_again (scene);

  add_stand (scene->farm, "Mine");
  add_stand (other, "Theirs");
  gtk_widget_activate_action (GTK_WIDGET (window), "win.undo", NULL);
  g_assert_cmpint (bed_farm_count (other, BED_KIND_STAND), ==, 2);
  app_settle (50);
  g_assert_true (says (window, "was done elsewhere"));
  app_close (GTK_WIDGET (window), GTK_WIDGET (window));
}

/* --- seen within a second -------------------------------------------------------------- */

static void
test_seen_elsewhere (Scene *scene, gconstpointer data)
{
  BedWindow *window = show_window (scene);
  g_autoptr (BedFarm) other = open_again (scene);
  g_autoptr (BedRecord) settings = bed_record_copy (bed_farm_get_settings (other));

  bed_host_show_record (GTK_WIDGET (window), BED_KIND_STAND, add_stand (scene->farm, "Mine"));
  app_settle (200);
  g_assert_true (says (window, "Mine"));
  g_assert_false (says (window, "Theirs"));
  add_stand (other, "Theirs");
  bed_record_set_text (settings, "name", "Birch Hollow");
  g_assert_true (bed_edit_put_one (other, settings, "Renamed", NULL));
  app_settle (1000);
  g_assert_true (says (window, "Theirs"));
  g_assert_cmpstr (gtk_window_get_title (GTK_WINDOW (window)), ==, "Birch Hollow");
  app_close (GTK_WIDGET (window), GTK_WIDGET (window));
}

static void
test_replaced (Scene *scene, gconstpointer data)
{
  BedWindow *window = show_window (scene);
  g_autofree char *aside = g_build_filename (scene->folder, "aside", NULL);
  g_autofree char *content = NULL;
  gsize length;

  g_assert_true (g_file_get_contents (scene->path, &content, &length, NULL));
  g_assert_true (g_file_set_contents (aside, content, length, NULL));
  g_assert_cmpint (g_rename (aside, scene->path), ==, 0);
  app_settle (1000);
  g_assert_true (says (window, "Another file was put in the place of"));
  app_close (GTK_WIDGET (window), GTK_WIDGET (window));
}

/* --- a form whose record changes ----------------------------------------------------------- */

static BedForm *
show_stand (Scene *scene, gint64 id, GtkWidget **window)
{
  BedForm *form = bed_form_new (scene->farm, bed_forms_get_spec (BED_KIND_STAND));
  g_autoptr (BedRecord) stand = bed_farm_load (scene->farm, BED_KIND_STAND, id, NULL);

  *window = app_show (GTK_WIDGET (form));
  bed_form_edit (form, stand);
  return form;
}

static int
stored_trees (BedFarm *farm, gint64 id)
{
  return (int) ask_one (farm, "SELECT trees FROM stand WHERE id = ?1", id);
}

/* What was changed elsewhere and not here comes in; what was changed on both sides is a choice. */
static void
test_form (Scene *scene, gconstpointer data)
{
  gint64 id = add_stand (scene->farm, "Ridge");
  g_autoptr (BedFarm) other = open_again (scene);
  GtkWidget *window;
  BedForm *form = show_stand (scene, id, &window);
  g_autoptr (BedRecord) theirs = bed_farm_load (other, BED_KIND_STAND, id, NULL);

  bed_form_set_text (form, "trees", "50");
  bed_record_set_int (theirs, "trees", 40);
  bed_record_set_text (theirs, "owner", "the neighbour");
  g_assert_true (bed_edit_put_one (other, theirs, "Counted", NULL));
  bed_farm_look_again (scene->farm);
  app_settle (400);
  g_assert_cmpstr (bed_form_get_text (form, "owner"), ==, "the neighbour");
  g_assert_cmpstr (bed_form_get_text (form, "trees"), ==, "50");
  g_assert_nonnull (seen (app_find_label (GTK_WIDGET (form), "Changed elsewhere to 40")));
  g_assert_false (bed_form_save (form, BED_FORM_THEN_LEAVE));
  g_assert_cmpint (stored_trees (other, id), ==, 40);
  g_signal_emit_by_name (app_find_button (GTK_WIDGET (form), "Keep mine"), "clicked");
  g_assert_null (app_find_button (GTK_WIDGET (form), "Keep mine"));
  g_assert_true (bed_form_save (form, BED_FORM_THEN_LEAVE));
  g_assert_cmpint (stored_trees (other, id), ==, 50);
  app_close (window, GTK_WIDGET (form));
}

/* The save itself finds out, and the other value is taken. */
static void
test_form_take_theirs (Scene *scene, gconstpointer data)
{
  gint64 id = add_stand (scene->farm, "Ridge");
  g_autoptr (BedFarm) other = open_again (scene);
  GtkWidget *window, *take;
  BedForm *form = show_stand (scene, id, &window);

  bed_form_set_text (form, "trees", "50");
  bed_form_set_text (form, "notes", "steep");
  change_trees (other, id, 40);
  g_assert_false (bed_form_save (form, BED_FORM_THEN_LEAVE));
  take = app_find_button (GTK_WIDGET (form), "Take theirs");
  g_assert_nonnull (take);
  g_assert_true (gtk_widget_grab_focus (take)); /* by keyboard too */
  g_signal_emit_by_name (take, "clicked");
  g_assert_cmpstr (bed_form_get_text (form, "trees"), ==, "40");
  g_assert_true (
      gtk_widget_is_ancestor (gtk_window_get_focus (GTK_WINDOW (window)), GTK_WIDGET (form)));
  g_assert_true (bed_form_save (form, BED_FORM_THEN_LEAVE));
  g_assert_cmpint (stored_trees (other, id), ==, 40);
  g_assert_cmpint (ask_one (other, "SELECT notes = 'steep' FROM stand WHERE id = ?1", id), ==, 1);
  app_close (window, GTK_WIDGET (form));
}

static void
test_form_removed (Scene *scene, gconstpointer data)
{
  gint64 id = add_stand (scene->farm, "Ridge");
  g_autoptr (BedFarm) other = open_again (scene);
  g_autoptr (BedEdit) edit = bed_edit_new (other);
  GtkWidget *window, *anew;
  BedForm *form = show_stand (scene, id, &window);

  bed_form_set_text (form, "trees", "50");
  bed_edit_remove (edit, BED_KIND_STAND, id);
  g_assert_true (bed_edit_commit (edit, "Removed", NULL));
  bed_farm_look_again (scene->farm);
  app_settle (400);
  g_assert_nonnull (seen (app_find_label (GTK_WIDGET (form), "was removed elsewhere")));
  g_assert_false (bed_form_save (form, BED_FORM_THEN_LEAVE));
  anew = seen (app_find_button (GTK_WIDGET (form), "Save as a new one"));
  g_assert_nonnull (anew);
  g_signal_emit_by_name (anew, "clicked");
  g_assert_null (seen (app_find_button (GTK_WIDGET (form), "Save as a new one")));
  g_assert_cmpstr (bed_form_get_text (form, "trees"), ==, "50");
  g_assert_true (bed_form_save (form, BED_FORM_THEN_LEAVE));
  g_assert_cmpint (bed_farm_count (other, BED_KIND_STAND), ==, 1);
  g_assert_cmpint (stored_trees (other, id), ==, 0);
  app_close (window, GTK_WIDGET (form));
}

/* --- a farm that another program holds -------------------------------------------------------- */

typedef struct
{
  pid_t child;
  int go;
  int said;
} Holder;

static Holder
hold (const char *path)
{
  int go[2], said[2];
  char byte;

  g_assert_cmpint (pipe (go), ==, 0);
  g_assert_cmpint (pipe (said), ==, 0);
  pid_t child = fork ();
  if (child == 0)
    {
      sqlite3 *db;

      close (go[1]); /* the end of the test ends this too */
      if (sqlite3_open (path, &db) != SQLITE_OK
          || sqlite3_exec (db, "BEGIN EXCLUSIVE", NULL, NULL, NULL) != SQLITE_OK
          || write (said[1], "h", 1) != 1 || read (go[0], &byte, 1) != 1
          || sqlite3_exec (db, "COMMIT", NULL, NULL, NULL) != SQLITE_OK)
        _exit (1);
      sqlite3_close (db);
      _exit (0);
    }
  g_assert_cmpint (read (said[0], &byte, 1), ==, 1);
  close (go[0]);
  close (said[1]);
  return (Holder){ child, go[1], said[0] };
}

static void
let_go (Holder *holder)
{
  int status;

  g_assert_cmpint (write (holder->go, "g", 1), ==, 1);
  waitpid (holder->child, &status, 0);
  g_assert_cmpint (status, ==, 0);
  close (holder->go);
  close (holder->said);
}

static gboolean
let_go_cb (gpointer holder)
{
  let_go (holder);
  return G_SOURCE_REMOVE;
}

typedef struct
{
  guint n;
  gint64 last;
  gint64 longest; /* us between two beats */
} Beat;

static gboolean
beat_cb (gpointer data)
{
  Beat *beat = data;
  gint64 now = g_get_monotonic_time ();

  if (beat->n++)
    beat->longest = MAX (beat->longest, now - beat->last);
  beat->last = now;
  return G_SOURCE_CONTINUE;
}

static void
ended_cb (GObject *source, GAsyncResult *result, gpointer over)
{
  g_subprocess_wait_finish (G_SUBPROCESS (source), result, NULL);
  g_cancellable_cancel (over);
}

/* The desk goes on: it says so, shows what it showed, and is up to date again by itself. */
static void
test_held (Scene *scene, gconstpointer data)
{
  BedWindow *window = show_window (scene);
  Beat beat = { 0 };

  bed_host_show_record (GTK_WIDGET (window), BED_KIND_STAND, add_stand (scene->farm, "Ridge"));
  app_settle (200);
  g_assert_true (says (window, "Ridge"));
  Holder holder = hold (scene->path);
  guint source = g_timeout_add (20, beat_cb, &beat);
  app_settle (700);
  g_assert_true (says (window, "Another program is writing"));
  g_assert_true (says (window, "Ridge"));
  bed_window_show_page (window, "money"); /* not made yet: what is seen stays */
  app_settle (300);
  g_assert_true (says (window, "Ridge"));
  bed_window_show_page (window, "woodlot");
  app_settle (300);
  g_assert_true (says (window, "Ridge"));
  g_source_remove (source);
  g_test_message ("longest standstill %d ms", (int) (beat.longest / 1000));
  g_assert_cmpint (beat.longest, <, 400 * 1000);
  let_go (&holder);
  app_settle (1000);
  g_assert_false (says (window, "Another program is writing"));
  g_assert_true (says (window, "Ridge"));
  app_close (GTK_WIDGET (window), GTK_WIDGET (window));
}

/* A save waits and goes through when the farm is free. */
static void
test_save_waits (Scene *scene, gconstpointer data)
{
  BedWindow *window = show_window (scene);
  g_autoptr (BedEdit) edit = bed_edit_new (scene->farm);
  g_autoptr (BedRecord) stand = scene_record (scene->farm, BED_KIND_STAND, "name", "Late", NULL);
  g_autoptr (GError) error = NULL;
  Holder holder = hold (scene->path);

  bed_edit_put (edit, stand);
  g_timeout_add (900, let_go_cb, &holder);
  g_assert_true (bed_host_commit (GTK_WIDGET (window), edit, "Recorded Late", &error));
  g_assert_no_error (error);
  g_assert_cmpint (bed_farm_count (scene->farm, BED_KIND_STAND), ==, 1);
  app_close (GTK_WIDGET (window), GTK_WIDGET (window));
}

static GtkWidget *
find_list (GtkWidget *inside)
{
  GtkWidget *found = GTK_IS_COLUMN_VIEW (inside) && gtk_widget_get_mapped (inside) ? inside : NULL;

  for (GtkWidget *child = gtk_widget_get_first_child (inside); child && !found;
       child = gtk_widget_get_next_sibling (child))
    found = find_list (child);
  return found;
}

/* As do the buttons of pages that write without a form. */
static void
test_put_back_waits (Scene *scene, gconstpointer data)
{
  BedWindow *window = show_window (scene);

  add_stand (scene->farm, "Ridge");
  bed_window_show_page (window, "history");
  app_settle (300);
  GtkWidget *list = find_list (GTK_WIDGET (window));
  g_assert_nonnull (list);
  gtk_selection_model_select_item (gtk_column_view_get_model (GTK_COLUMN_VIEW (list)), 0, TRUE);
  app_settle (50);
  GtkWidget *button = seen (app_find_button (GTK_WIDGET (window), "Put back"));
  g_assert_nonnull (button);
  Holder holder = hold (scene->path);
  g_timeout_add (900, let_go_cb, &holder);
  g_signal_emit_by_name (button, "clicked");
  g_assert_cmpint (bed_farm_count (scene->farm, BED_KIND_STAND), ==, 0);
  app_close (GTK_WIDGET (window), GTK_WIDGET (window));
}

static gboolean
cancel_cb (gpointer data)
{
  g_autoptr (GList) windows = gtk_window_list_toplevels ();

  for (GList *l = windows; l; l = l->next)
    if (ADW_IS_MESSAGE_DIALOG (l->data))
      {
        *(gboolean *) data = TRUE;
        adw_message_dialog_response (l->data, "cancel");
      }
  return G_SOURCE_REMOVE;
}

/* Or the person gives up: nothing is written, and what was typed is still there. */
static void
test_save_given_up (Scene *scene, gconstpointer data)
{
  BedWindow *window = show_window (scene);
  g_autoptr (BedRecord) draft = scene_record (scene->farm, BED_KIND_STAND, "name", "Late", NULL);
  gboolean asked = FALSE;
  GtkWidget *form;

  bed_host_show_draft (GTK_WIDGET (window), draft, NULL);
  app_settle (100);
  form = gtk_widget_get_ancestor (gtk_window_get_focus (GTK_WINDOW (window)), BED_TYPE_FORM);
  g_assert_nonnull (form);
  bed_form_set_text (BED_FORM (form), "notes", "steep");
  Holder holder = hold (scene->path);
  g_timeout_add (900, cancel_cb, &asked);
  g_assert_false (bed_form_save (BED_FORM (form), BED_FORM_THEN_LEAVE));
  g_assert_true (asked);
  g_assert_nonnull (seen (app_find_label (form, "is in use by another program")));
  g_assert_cmpstr (bed_form_get_text (BED_FORM (form), "notes"), ==, "steep");
  let_go (&holder);
  app_settle (700);
  g_assert_true (bed_form_save (BED_FORM (form), BED_FORM_THEN_LEAVE));
  g_assert_cmpint (bed_farm_count (scene->farm, BED_KIND_STAND), ==, 1);
  app_close (GTK_WIDGET (window), GTK_WIDGET (window));
}

static void
test_open_waits (Scene *scene, gconstpointer data)
{
  BedWindow *window = g_object_new (BED_TYPE_WINDOW, NULL);
  Holder holder = hold (scene->path);
  gboolean asked = FALSE;

  gtk_window_present (GTK_WINDOW (window));
  g_timeout_add (600, cancel_cb, &asked);
  g_assert_false (bed_window_open (window, scene->path));
  g_assert_true (asked);
  g_timeout_add (600, let_go_cb, &holder);
  g_assert_true (bed_window_open (window, scene->path));
  g_assert_nonnull (bed_window_get_farm (window));
  app_close (GTK_WIDGET (window), GTK_WIDGET (window));
}

/* The tool brings in a long table while the desk is open: nothing stands still, and at the end the
 * desk shows it. */
static void
test_import_beside (Scene *scene, gconstpointer data)
{
  BedWindow *window = show_window (scene);
  const char *rows = g_getenv ("BEDLOG_ROWS"); /* more of them, by hand */
  g_autofree char *path = g_build_filename (scene->folder, "hours.csv", NULL);
  g_autoptr (GString) csv = g_string_new ("worked_on,task,minutes\n");
  g_autoptr (GSubprocess) import = NULL;
  g_autoptr (GError) error = NULL;
  Beat beat = { 0 };
  int n = rows ? atoi (rows) : 5000, waited = 0;

  for (int i = 0; i < n; i++)
    g_string_append_printf (csv, "2026-%02d-%02d,stacking,%d\n", 1 + i % 4, 1 + i % 28,
                            10 + i % 90);
  g_assert_true (g_file_set_contents (path, csv->str, -1, NULL));
  bed_window_show_page (window, "week");
  app_settle (300);
  guint source = g_timeout_add (20, beat_cb, &beat);
  import = g_subprocess_new (G_SUBPROCESS_FLAGS_STDOUT_SILENCE | G_SUBPROCESS_FLAGS_STDERR_SILENCE,
                             &error, tool, "import", scene->path, "hours", path, NULL);
  g_assert_no_error (error);
  gint64 begun = g_get_monotonic_time ();
  g_autoptr (GCancellable) over = g_cancellable_new ();
  g_subprocess_wait_async (import, NULL, ended_cb, over);
  while (!g_cancellable_is_cancelled (over) && waited++ < 1000)
    app_settle (50);
  g_test_message ("%d rows in %d ms", n, (int) ((g_get_monotonic_time () - begun) / 1000));
  g_assert_true (g_subprocess_get_successful (import));
  gint64 during = beat.longest;
  app_settle (1500);
  g_source_remove (source);
  g_test_message ("longest standstill %d ms, reading it then %d ms", (int) (during / 1000),
                  (int) (beat.longest / 1000));
  g_assert_cmpint (bed_farm_count (scene->farm, BED_KIND_HOURS), ==, n);
  g_assert_false (says (window, "Another program is writing"));
  g_unlink (path);
  app_close (GTK_WIDGET (window), GTK_WIDGET (window));
}

#define ADD(path, function)                                                                        \
  g_test_add (path, Scene, "metric", scene_set_up, function, scene_tear_down)

int
main (int argc, char **argv)
{
  gtk_test_init (&argc, &argv, NULL);
  app_begin ();
  tool = argv[1];
  ADD ("/app/two/header-keeps-keyboard", test_header_keeps_keyboard);
  ADD ("/app/two/toast", test_toast);
  ADD ("/app/two/toast-covers-nothing", test_toast_covers_nothing);
  ADD ("/app/two/undo-of-the-unseen", test_undo_of_the_unseen);
  ADD ("/app/two/seen-elsewhere", test_seen_elsewhere);
  ADD ("/app/two/replaced", test_replaced);
  ADD ("/app/two/form", test_form);
  ADD ("/app/two/form-take-theirs", test_form_take_theirs);
  ADD ("/app/two/form-removed", test_form_removed);
  ADD ("/app/two/held", test_held);
  ADD ("/app/two/save-waits", test_save_waits);
  ADD ("/app/two/put-back-waits", test_put_back_waits);
  ADD ("/app/two/save-given-up", test_save_given_up);
  ADD ("/app/two/open-waits", test_open_waits);
  ADD ("/app/two/import-beside", test_import_beside);
  return g_test_run ();
}
