/* Farms and their windows: opened, told apart, found again where they were left. */
#include "../ask.h"

#include "app_test.h"

#include <fcntl.h>
#include <glib/gstdio.h>
#include <locale.h>
#include <sys/file.h>
#include <sys/wait.h>
#include <unistd.h>

#include "app/host/host.h"
#include "app/window/about_sources.h"
#include "app/window/application.h"
#include "app/window/demo_place.h"
#include "app/window/recent.h"
#include "app/window/window.h"
#include "app/window/window_files.h"
#include "model/farm/habits.h"

static const char *bedlog; /* the program, for a second start */

typedef struct
{
  char *folder;
  char *here, *there; /* two farms of one name, each in a folder of its own */
} Farms;

static char *
make_farm (const char *folder, const char *inner, const char *file)
{
  g_autoptr (BedRecord) settings = scene_settings ("metric");
  g_autofree char *in = g_build_filename (folder, inner, NULL);
  g_autofree char *path = g_build_filename (in, file, NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (BedFarm) farm = NULL;

  g_mkdir_with_parents (in, 0700);
  bed_record_set_text (settings, "name", "Ridge");
  farm = bed_farm_new (path, settings, &error);
  g_assert_no_error (error);
  g_autoptr (BedRecord) low = scene_record (farm, BED_KIND_STAND, "name", "Low", NULL);
  g_autoptr (BedRecord) steep = scene_record (farm, BED_KIND_STAND, "name", "Steep", NULL);
  g_assert_true (bed_edit_put_one (farm, low, "Entered Low", NULL));
  g_assert_true (bed_edit_put_one (farm, steep, "Entered Steep", NULL));
  return g_steal_pointer (&path);
}

static void
set_up (Farms *farms, gconstpointer data)
{
  farms->folder = g_dir_make_tmp ("windows-XXXXXX", NULL);
  farms->here = make_farm (farms->folder, "here", "ridge.bedlog");
  farms->there = make_farm (farms->folder, "there", "ridge.bedlog");
  bed_recent_clear ();
}

static void
remove_all (const char *path)
{
  g_autoptr (GDir) dir = g_file_test (path, G_FILE_TEST_IS_SYMLINK) ? NULL
                                                                    : g_dir_open (path, 0, NULL);
  const char *name;

  while (dir && (name = g_dir_read_name (dir)))
    {
      g_autofree char *inner = g_build_filename (path, name, NULL);

      remove_all (inner);
    }
  g_remove (path);
}

static void
close_all (void)
{
  g_autoptr (GList) windows = gtk_window_list_toplevels ();

  for (GList *l = windows; l; l = l->next)
    if (BED_IS_WINDOW (l->data))
      gtk_window_close (l->data);
  app_settle (100); /* copies of what was closed */
}

static void
tear_down (Farms *farms, gconstpointer data)
{
  close_all ();
  remove_all (farms->folder);
  g_free (farms->folder);
  g_free (farms->here);
  g_free (farms->there);
}

static BedWindow *
open_window (const char *path)
{
  BedWindow *window = bed_window_new (NULL, path);

  gtk_window_present (GTK_WINDOW (window));
  if (path)
    g_assert_true (bed_window_open (window, path));
  app_settle (50);
  return window;
}

static guint
count_windows (void)
{
  g_autoptr (GList) windows = gtk_window_list_toplevels ();
  guint n = 0;

  for (GList *l = windows; l; l = l->next)
    n += BED_IS_WINDOW (l->data);
  return n;
}

static const char *
get_title (BedWindow *window)
{
  return gtk_window_get_title (GTK_WINDOW (window));
}

/* --- told apart --------------------------------------------------------------------- */

static void
test_apart (Farms *farms, gconstpointer data)
{
  BedWindow *here = open_window (farms->here);
  g_autofree char *twin = make_farm (farms->folder, "there", "twin.bedlog");

  g_assert_cmpstr (get_title (here), ==, "Ridge");
  g_assert_true (bed_window_open_beside (here, farms->there));
  BedWindow *there = bed_window_find (farms->there);
  g_assert_true (there && there != here && bed_window_get_farm (here));
  g_assert_true (g_str_has_suffix (get_title (here), "/here)"));
  g_assert_true (g_str_has_suffix (get_title (there), "/there)"));
  g_assert_nonnull (app_find_label (GTK_WIDGET (there), "/there"));

  /* Two in one folder. */
  g_assert_true (bed_window_open_beside (here, twin));
  g_assert_cmpstr (get_title (there), ==, "Ridge (ridge.bedlog)");
  g_assert_cmpstr (get_title (bed_window_find (twin)), ==, "Ridge (twin.bedlog)");

  gtk_window_close (GTK_WINDOW (there));
  gtk_window_close (GTK_WINDOW (bed_window_find (twin)));
  app_settle (50);
  g_assert_cmpstr (get_title (here), ==, "Ridge");
}

/* What is open comes to the front, by whatever name it is asked for. */
static void
test_open_twice (Farms *farms, gconstpointer data)
{
  BedWindow *here = open_window (farms->here);
  g_autofree char *link = g_build_filename (farms->folder, "link.bedlog", NULL);

  g_assert_true (bed_window_open_beside (here, farms->there));
  g_assert_cmpuint (count_windows (), ==, 2);
  g_assert_cmpint (symlink (farms->here, link), ==, 0);
  g_assert_true (bed_window_open_beside (bed_window_find (farms->there), link));
  g_assert_true (bed_window_open_beside (here, farms->there));
  g_assert_cmpuint (count_windows (), ==, 2);
}

/* --- dropped on a window ------------------------------------------------------------- */

static void
drop (BedWindow *window, GFile *file)
{
  g_autoptr (GListModel) controllers = gtk_widget_observe_controllers (GTK_WIDGET (window));
  g_autoslist (GFile) files = g_slist_prepend (NULL, g_object_ref (file));
  g_auto (GValue) value = G_VALUE_INIT;
  gboolean taken = FALSE;

  g_value_init (&value, GDK_TYPE_FILE_LIST);
  g_value_set_boxed (&value, files);
  for (guint i = 0; i < g_list_model_get_n_items (controllers); i++)
    {
      g_autoptr (GtkEventController) controller = g_list_model_get_item (controllers, i);

      if (GTK_IS_DROP_TARGET (controller))
        g_signal_emit_by_name (controller, "drop", &value, 0.0, 0.0, &taken);
    }
  g_assert_true (taken);
  app_settle (200);
}

static void
test_drop (Farms *farms, gconstpointer data)
{
  BedWindow *window = open_window (NULL);
  g_autofree char *path = g_build_filename (farms->folder, "stands.csv", NULL);
  g_autoptr (GFile) here = g_file_new_for_path (farms->here);
  g_autoptr (GFile) there = g_file_new_for_path (farms->there);
  g_autoptr (GFile) sheet = g_file_new_for_path (path);
  g_autoptr (GFile) far = g_file_new_for_uri ("unheard-of://desk/ridge.bedlog");

  drop (window, here); /* on the first page: there */
  g_assert_true (bed_window_find (farms->here) == window);
  drop (window, there); /* on a farm: beside it */
  g_assert_nonnull (bed_window_find (farms->there));
  g_assert_cmpuint (count_windows (), ==, 2);

  g_assert_true (g_file_set_contents (path, "name,trees\nUpper,12\n", -1, NULL));
  drop (window, sheet);
  g_assert_cmpstr (G_OBJECT_TYPE_NAME (bed_window_get_page (window)), ==, "BedImportPage");
  g_assert_cmpuint (count_windows (), ==, 2);

  drop (window, far);
  g_autoptr (GList) windows = gtk_window_list_toplevels ();
  GtkWidget *said = NULL;
  for (GList *l = windows; l && !said; l = l->next)
    if (ADW_IS_MESSAGE_DIALOG (l->data))
      said = app_find_label (l->data, "unheard-of://desk/ridge.bedlog");
  g_assert_nonnull (said);
}

/* --- remembered ----------------------------------------------------------------------- */

static void
test_place (Farms *farms, gconstpointer data)
{
  BedWindow *window = open_window (farms->here);
  BedKind kind = BED_KIND_FARM;
  BedPage *page;

  g_assert_cmpstr (G_OBJECT_TYPE_NAME (bed_window_get_page (window)), ==, "BedWeekPage");
  gint64 low = ask_one (bed_window_get_farm (window), "SELECT id FROM stand WHERE name = 'Low'", 0);
  bed_host_show_record (GTK_WIDGET (window), BED_KIND_STAND, low);
  app_widen (GTK_WIDGET (window), 1100);
  close_all ();

  bed_window_show_page (open_window (farms->there), "money");
  close_all ();

  window = open_window (farms->here);
  page = bed_window_get_page (window);
  g_assert_cmpstr (G_OBJECT_TYPE_NAME (page), ==, "BedWoodlotPage");
  g_assert_cmpstr (bed_page_get_part (page), ==, "stands");
  g_assert_cmpint (bed_page_get_record (page, &kind), ==, low);
  g_assert_cmpint (kind, ==, BED_KIND_STAND);
  app_settle (100);
  g_assert_cmpint (ABS (gtk_widget_get_width (GTK_WIDGET (window)) - 1100), <, 60);

  /* Gone meanwhile: another one is chosen there, and nothing is said. */
  close_all ();
  g_autoptr (BedFarm) farm = bed_farm_open (farms->here, NULL);
  g_autoptr (BedEdit) edit = bed_edit_new (farm);
  bed_edit_remove (edit, BED_KIND_STAND, low);
  g_assert_true (bed_edit_commit (edit, "Removed Low", NULL));
  window = open_window (farms->here);
  g_assert_cmpstr (bed_page_get_part (bed_window_get_page (window)), ==, "stands");
  g_assert_cmpint (bed_page_get_record (bed_window_get_page (window), &kind), !=, low);
}

static void
test_recent (Farms *farms, gconstpointer data)
{
  open_window (farms->here);
  open_window (farms->there);
  close_all ();
  bed_window_show_page (open_window (farms->here), "money");
  close_all ();

  g_autoptr (GPtrArray) both = bed_recent_list ();
  g_assert_cmpuint (both->len, ==, 2);
  g_assert_cmpstr (((BedRecentFarm *) both->pdata[0])->path, ==, farms->here);
  g_assert_cmpstr (((BedRecentFarm *) both->pdata[0])->page, ==, "money");
  g_assert_cmpstr (((BedRecentFarm *) both->pdata[1])->name, ==, "Ridge");

  /* On the first page; a click there opens it in that window. */
  BedWindow *window = open_window (NULL);
  GtkWidget *row = gtk_widget_get_ancestor (app_find_label (GTK_WIDGET (window), "/there/ridge"),
                                            ADW_TYPE_ACTION_ROW);
  g_assert_true (gtk_widget_get_mapped (row));
  gtk_widget_activate (row);
  app_settle (100);
  g_assert_true (bed_window_find (farms->there) == window);
  close_all ();

  /* What is not there is left out, and comes back with its disk. */
  g_autofree char *aside = g_strconcat (farms->here, ".aside", NULL);
  g_assert_cmpint (g_rename (farms->here, aside), ==, 0);
  window = open_window (NULL);
  g_assert_null (app_find_label (GTK_WIDGET (window), "/here/ridge"));
  g_assert_nonnull (app_find_label (GTK_WIDGET (window), "/there/ridge"));
  g_assert_cmpint (g_rename (aside, farms->here), ==, 0);
  g_autoptr (GPtrArray) back = bed_recent_list ();
  g_assert_cmpuint (back->len, ==, 2);

  /* Taken out, it is where it was. */
  close_all ();
  window = open_window (NULL);
  row = gtk_widget_get_ancestor (app_find_label (GTK_WIDGET (window), "/here/ridge"),
                                 ADW_TYPE_ACTION_ROW);
  g_signal_emit_by_name (app_find_of_type (row, GTK_TYPE_BUTTON), "clicked");
  g_assert_null (app_find_label (GTK_WIDGET (window), "/here/ridge"));
  g_assert_nonnull (app_find_label (GTK_WIDGET (window), "/there/ridge"));
  g_autoptr (GPtrArray) one = bed_recent_list ();
  g_assert_cmpuint (one->len, ==, 1);
  g_assert_true (g_file_test (farms->here, G_FILE_TEST_EXISTS));
}

/* --- the demo ------------------------------------------------------------------------- */

static guint
count_in (const char *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  guint n = 0;

  while (dir && g_dir_read_name (dir))
    n++;
  return n;
}

static void
test_demo (Farms *farms, gconstpointer data)
{
  g_autofree char *places = g_build_filename (g_get_user_cache_dir (), "bedlog", "demo", NULL);
  BedWindow *here = open_window (farms->here);
  const guint before = count_in (g_get_tmp_dir ());
  g_autoptr (GPtrArray) remembered = NULL;
  GtkWindow *demo;

  gtk_widget_activate_action (GTK_WIDGET (here), "win.demo", NULL);
  demo = bed_window_files_find_demo ();
  g_assert_nonnull (demo);
  g_assert_true (demo != GTK_WINDOW (here) && bed_window_get_farm (here));
  g_assert_cmpuint (count_in (places), ==, 1);
  gtk_widget_activate_action (GTK_WIDGET (here), "win.demo", NULL);
  g_assert_cmpuint (count_windows (), ==, 2);

  /* Also what somebody had kept of it. */
  const char *path = bed_farm_get_path (bed_window_get_farm (BED_WINDOW (demo)));
  g_autofree char *inner = g_path_get_dirname (path);
  g_autofree char *copies = g_build_filename (inner, "copies", "deep", NULL);
  g_assert_cmpint (g_mkdir_with_parents (copies, 0700), ==, 0);
  gtk_window_close (demo);
  app_settle (300);
  g_assert_cmpuint (count_in (places), ==, 0);
  g_assert_cmpuint (count_in (g_get_tmp_dir ()), ==, before);
  remembered = bed_recent_list ();
  g_assert_cmpuint (remembered->len, ==, 1);
}

/* A program that was killed leaves its demo to the next one, which leaves those in use alone. */
static void
test_demo_killed (Farms *farms, gconstpointer data)
{
  g_autofree char *places = g_build_filename (g_get_user_cache_dir (), "bedlog", "demo", NULL);
  g_autofree char *dead = g_build_filename (places, "dead", NULL);
  g_autofree char *file = g_build_filename (dead, "demo.bedlog", NULL);
  g_autofree char *link = g_build_filename (dead, "link", NULL);
  g_autofree char *lock = g_build_filename (dead, "lock", NULL);
  g_autoptr (BedDemoPlace) alive = bed_demo_place_new (NULL);
  g_autofree char *held = g_path_get_dirname (bed_demo_place_get_path (alive));

  g_assert_cmpint (g_mkdir_with_parents (dead, 0700), ==, 0);
  g_assert_true (g_file_set_contents (file, "cut off", -1, NULL));
  g_assert_true (g_file_set_contents (lock, "", 0, NULL));
  g_assert_cmpint (symlink (farms->folder, link), ==, 0);
  bed_demo_place_sweep ();
  g_assert_false (g_file_test (dead, G_FILE_TEST_EXISTS));
  g_assert_true (g_file_test (held, G_FILE_TEST_EXISTS));
  g_assert_true (g_file_test (farms->here, G_FILE_TEST_EXISTS));
}

/* --- keys, menu, about ---------------------------------------------------------------- */

static gpointer
find_window_of (GType type, const char *title)
{
  g_autoptr (GList) windows = gtk_window_list_toplevels ();

  for (GList *l = windows; l; l = l->next)
    if (G_TYPE_CHECK_INSTANCE_TYPE (l->data, type)
        && (!title || g_strcmp0 (gtk_window_get_title (l->data), title) == 0))
      return l->data;
  return NULL;
}

/* The labels of the keys that are shown in @inside. */
static void
collect_shown (GtkWidget *inside, GHashTable *shown)
{
  if (gtk_widget_has_css_class (inside, "key"))
    g_hash_table_add (shown, g_strdup (gtk_label_get_label (GTK_LABEL (inside))));
  for (GtkWidget *child = gtk_widget_get_first_child (inside); child;
       child = gtk_widget_get_next_sibling (child))
    collect_shown (child, shown);
}

/* Those after the first are told of with it, and the pad has the keys once more. */
static gboolean
is_told_with_another (GtkShortcutTrigger *trigger)
{
  g_autofree char *name = gtk_shortcut_trigger_to_string (trigger);

  return strstr (name, "KP_") || g_regex_match_simple ("^<(Control|Alt)>[2-9]$", name, 0, 0);
}

static void
check_shortcut (GtkShortcut *shortcut, GHashTable *shown, guint *n)
{
  GtkShortcutTrigger *trigger = gtk_shortcut_get_trigger (shortcut);
  GtkShortcutAction *action = gtk_shortcut_get_action (shortcut);
  g_autofree char *label = gtk_shortcut_trigger_to_label (trigger, gdk_display_get_default ());
  const char *name = GTK_IS_NAMED_ACTION (action)
                         ? gtk_named_action_get_action_name (GTK_NAMED_ACTION (action))
                         : NULL;

  /* Ours; the toolkit has its own keys for what everybody knows. */
  if (!name || !(g_str_has_prefix (name, "win.") || g_str_has_prefix (name, "form.")))
    return;
  (*n)++;
  if (!is_told_with_another (trigger) && !g_hash_table_contains (shown, label))
    g_error ("%s of %s is not among the keys that are shown", label, name);
}

static void
check_shortcuts (GtkWidget *inside, GHashTable *shown, guint *n)
{
  g_autoptr (GListModel) controllers = gtk_widget_observe_controllers (inside);

  for (guint i = 0; i < g_list_model_get_n_items (controllers); i++)
    {
      g_autoptr (GtkEventController) controller = g_list_model_get_item (controllers, i);

      for (guint k = 0; GTK_IS_SHORTCUT_CONTROLLER (controller)
                        && k < g_list_model_get_n_items (G_LIST_MODEL (controller));
           k++)
        {
          g_autoptr (GtkShortcut) shortcut = g_list_model_get_item (G_LIST_MODEL (controller), k);

          check_shortcut (shortcut, shown, n);
        }
    }
  for (GtkWidget *child = gtk_widget_get_first_child (inside); child;
       child = gtk_widget_get_next_sibling (child))
    check_shortcuts (child, shown, n);
}

/* Labels of @menu and of the menus in it; within each menu no two have one letter. */
static void
check_menu (GMenuModel *menu, GString *letters, guint *n)
{
  for (int i = 0; i < g_menu_model_get_n_items (menu); i++)
    {
      g_autoptr (GMenuModel) section = g_menu_model_get_item_link (menu, i, G_MENU_LINK_SECTION);
      g_autoptr (GMenuModel) inner = g_menu_model_get_item_link (menu, i, G_MENU_LINK_SUBMENU);
      g_autofree char *label = NULL;
      const char *mark;

      if (section)
        check_menu (section, letters, n);
      if (!g_menu_model_get_item_attribute (menu, i, G_MENU_ATTRIBUTE_LABEL, "s", &label) || inner)
        continue;
      mark = strchr (label, '_');
      g_assert_nonnull (mark);
      if (strchr (letters->str, g_ascii_tolower (mark[1])))
        g_error ("two have the letter of \"%s\"", label);
      g_string_append_c (letters, g_ascii_tolower (mark[1]));
      (*n)++;
    }
}

/* Both menus are one. */
static void
test_menu (Farms *farms, gconstpointer data)
{
  BedWindow *window = open_window (farms->here);
  g_autoptr (GString) letters = g_string_new ("e"); /* the recent farms', a menu in it */
  guint n = 0;

  GtkMenuButton *button = app_find_of_type (window, GTK_TYPE_MENU_BUTTON);
  g_assert_nonnull (button);
  check_menu (gtk_menu_button_get_menu_model (button), letters, &n);
  g_assert_cmpuint (n, ==, 12);
}

/* Each key that is set is shown, with a form open, too. */
static void
test_keys (Farms *farms, gconstpointer data)
{
  BedWindow *window = open_window (farms->here);
  g_autoptr (GHashTable) shown = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  guint n = 0;

  bed_window_show_page (window, "woodlot");
  bed_page_add (bed_window_get_page (window));
  app_settle (50);
  gtk_widget_activate_action (GTK_WIDGET (window), "win.shortcuts", NULL);
  GtkWidget *keys = find_window_of (ADW_TYPE_WINDOW, "Keyboard shortcuts");
  g_assert_nonnull (keys);
  collect_shown (keys, shown);
  check_shortcuts (GTK_WIDGET (window), shown, &n);
  g_assert_cmpuint (n, >=, 30);
  gtk_window_destroy (GTK_WINDOW (keys));
}

/* From page to page, over what is not in the list, and no farther than the last. */
static void
test_page_keys (Farms *farms, gconstpointer data)
{
  BedWindow *window = open_window (farms->here);

  gtk_widget_activate_action (GTK_WIDGET (window), "win.previous-page", NULL);
  g_assert_cmpstr (G_OBJECT_TYPE_NAME (bed_window_get_page (window)), ==, "BedWeekPage");
  gtk_widget_activate_action (GTK_WIDGET (window), "win.next-page", NULL);
  g_assert_cmpstr (G_OBJECT_TYPE_NAME (bed_window_get_page (window)), ==, "BedWoodlotPage");
  for (int i = 0; i < 12; i++)
    gtk_widget_activate_action (GTK_WIDGET (window), "win.next-page", NULL);
  g_assert_cmpstr (G_OBJECT_TYPE_NAME (bed_window_get_page (window)), ==, "BedNamesPage");
}

/* What the store page says, and each source once. */
static void
test_about (Farms *farms, gconstpointer data)
{
  BedWindow *window = open_window (NULL);
  g_autofree char *file = g_build_filename (g_getenv ("BEDLOG_SOURCE"), "data",
                                            "org.bedlog.Bedlog.metainfo.xml.in", NULL);
  g_autofree char *text = NULL;
  g_auto (GStrv) sources = bed_about_dup_sources ();

  g_assert_true (g_file_get_contents (file, &text, NULL, NULL));
  gtk_widget_activate_action (GTK_WIDGET (window), "win.about", NULL);
  AdwAboutWindow *about = find_window_of (ADW_TYPE_ABOUT_WINDOW, NULL);
  g_assert_nonnull (about);
  g_autofree char *home
      = g_strdup_printf ("\"homepage\">%s<", adw_about_window_get_website (about));
  g_autofree char *faults
      = g_strdup_printf ("\"bugtracker\">%s<", adw_about_window_get_issue_url (about));
  g_assert_nonnull (strstr (text, home));
  g_assert_nonnull (strstr (text, faults));
  g_assert_cmpint (adw_about_window_get_license_type (about), ==, GTK_LICENSE_GPL_3_0);
  gtk_window_destroy (GTK_WINDOW (about));

  g_assert_cmpuint (g_strv_length (sources), >=, 40);
  g_assert_true (g_strv_contains ((const char *const *) sources,
                                  "S. F. Gingrich, Forest Science 13:38-53, 1967"));
  for (guint i = 0; sources[i]; i++)
    g_assert_false (g_strv_contains ((const char *const *) sources + i + 1, sources[i]));
}

/* --- what is usual where one lives ------------------------------------------------------ */

/* The parts of a locale are each asked for what is theirs. */
static void
test_habits (Farms *farms, gconstpointer data)
{
  static const struct
  {
    const char *measures, *money, *units, *currency;
  } cases[] = {
    { "en_US.UTF-8", "en_US.UTF-8", "US", "USD" },
    { "de_DE.UTF-8", "ja_JP.UTF-8", "metric", "JPY" },
    { "ja_JP.UTF-8", "en_US.UTF-8", "metric", "USD" },
    { "C.UTF-8", "C.UTF-8", NULL, NULL },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      if (!setlocale (LC_MEASUREMENT, cases[i].measures)
          || !setlocale (LC_MONETARY, cases[i].money))
        {
          g_test_message ("no %s or %s here", cases[i].measures, cases[i].money);
          continue;
        }
      g_autofree char *currency = bed_habits_dup_currency ();
      g_assert_cmpstr (bed_habits_get_units (), ==, cases[i].units);
      g_assert_cmpstr (currency, ==, cases[i].currency);
    }
  setlocale (LC_MEASUREMENT, "");
  setlocale (LC_MONETARY, "");
}

/* --- one program ---------------------------------------------------------------------- */

typedef struct
{
  Farms *farms;
  BedApplication *application;
  guint n[5];
} Starts;

static guint
count_shown (Starts *starts)
{
  return g_list_length (gtk_application_get_windows (GTK_APPLICATION (starts->application)));
}

static guint
start_again (Starts *starts, const char *one, const char *two)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GSubprocess) second
      = g_subprocess_new (G_SUBPROCESS_FLAGS_NONE, &error, bedlog, one, two, NULL);
  int waited = 0;

  g_assert_no_error (error);
  while (g_subprocess_get_identifier (second) && waited++ < 200)
    app_settle (20);
  g_assert_true (g_subprocess_get_successful (second));
  return count_shown (starts);
}

/* By a link to the same file; as a file manager says it, two at once; none. */
static gboolean
starts_cb (gpointer data)
{
  Starts *starts = data;
  g_autofree char *link = g_build_filename (starts->farms->folder, "link.bedlog", NULL);
  g_autofree char *here = g_filename_to_uri (starts->farms->here, NULL, NULL);
  g_autofree char *there = g_filename_to_uri (starts->farms->there, NULL, NULL);

  g_assert_cmpint (symlink (starts->farms->here, link), ==, 0);
  starts->n[0] = count_shown (starts);
  starts->n[1] = start_again (starts, link, NULL);
  starts->n[2] = start_again (starts, here, there);
  starts->n[3] = start_again (starts, NULL, NULL);
  starts->n[4] = bed_window_find (starts->farms->there) != NULL;
  close_all ();
  return G_SOURCE_REMOVE;
}

static void
test_one_program (Farms *farms, gconstpointer data)
{
  g_autoptr (BedApplication) application = bed_application_new ();
  char *arguments[] = { "bedlog", farms->here, NULL };
  Starts starts = { farms, application, { 0 } };

  g_timeout_add (300, starts_cb, &starts);
  g_assert_cmpint (g_application_run (G_APPLICATION (application), 2, arguments), ==, 0);
  g_assert_cmpuint (starts.n[0], ==, 1);
  g_assert_cmpuint (starts.n[1], ==, 1);
  g_assert_cmpuint (starts.n[2], ==, 2);
  g_assert_cmpuint (starts.n[3], ==, 2);
  g_assert_true (starts.n[4]);
}

#define ADD(path, function) g_test_add (path, Farms, NULL, set_up, function, tear_down)

int
main (int argc, char **argv)
{
  char own[] = "/tmp/windows-XXXXXX"; /* what is counted in it is ours alone */
  int code;

  g_assert_nonnull (g_mkdtemp (own));
  g_setenv ("TMPDIR", own, TRUE);
  g_autofree char *cache = g_build_filename (own, "cache", NULL);
  g_mkdir (cache, 0700);
  g_setenv ("XDG_CACHE_HOME", cache, TRUE);
  gtk_test_init (&argc, &argv, NULL);
  app_begin ();
  bedlog = argv[1];
  ADD ("/app/windows/apart", test_apart);
  ADD ("/app/windows/open-twice", test_open_twice);
  ADD ("/app/windows/drop", test_drop);
  ADD ("/app/windows/place", test_place);
  ADD ("/app/windows/recent", test_recent);
  ADD ("/app/windows/demo", test_demo);
  ADD ("/app/windows/demo-killed", test_demo_killed);
  ADD ("/app/windows/habits", test_habits);
  ADD ("/app/windows/menu", test_menu);
  ADD ("/app/windows/keys", test_keys);
  ADD ("/app/windows/page-keys", test_page_keys);
  ADD ("/app/windows/about", test_about);
  ADD ("/app/windows/one-program", test_one_program);
  code = g_test_run ();
  remove_all (own);
  return code;
}
