/* Each question that a page, a form or a dialog asks fails once, one after the other: it is said,
 * nothing says meanwhile that there is nothing, and when it goes well again all is as before. */
#include "app_test.h"

#include <glib/gstdio.h>
#include <sqlite3.h>
#include <string.h>

#include "app/desk/parts_page.h"
#include "app/form/quick.h"
#include "app/window/window.h"
#include "model/demo/demo.h"
#include "model/farm/farm_private.h"
#include "model/farm/kinds.h"

static const char *const page_names[] = { "week",    "woodlot", "batches", "yard",    "soaking",
                                          "picking", "money",   "season",  "history", "care" };

/* Those of week and money ask nothing when they are opened a second time. */
static const char *const adding[] = { "woodlot", "batches", "soaking", "picking" };
static const char *const printing[]
    = { "week", "woodlot", "batches", "yard", "soaking", "picking" };

static const char *const quick[] = { "stand", "strain", "spawn", "area", "buyer", "felling" };

/* What pages, parts and tables say where there is nothing. */
static const char *const nothing[] = {
  "Nothing",        "No tree felled",   "No stand yet", "No spawn in store",
  "No batch",       "No soak yet",      "No logs yet",  "No sale yet",
  "No lot yet",     "No equipment yet", "No area",      "Not checked yet",
  "Not soaked yet", "Not weighed yet",  "None of it",   "Every log lies in a stack",
  "Choose one in",
};

#define SAID "interrupted" /* SQLite's word in the sentence */

static BedFarm *farm;
static BedWindow *window;

/* --- the fault ----------------------------------------------------------------------- */

static struct
{
  gboolean counting;
  guint asked; /* questions since it was armed */
  guint fail;  /* which of them fails, from 1; 0: none */
  gboolean failing;
  gboolean hit;
  char *sql;
} fault;

/* Looking for others' work goes on by itself, and a transaction that ends is no question. */
static gboolean
is_question (const char *sql)
{
  return !g_str_has_prefix (sql, "PRAGMA data_version") && !g_str_has_prefix (sql, "COMMIT")
         && !g_str_has_prefix (sql, "SELECT max (id) FROM change")
         && !g_str_has_prefix (sql, "ROLLBACK") && !g_str_has_prefix (sql, "BEGIN")
         && !g_str_has_prefix (sql, "--");
}

/* Asked after each step of the virtual machine, which is one of the statement begun last. */
static int
progress_cb (void *data)
{
  return fault.failing;
}

static int
statement_cb (unsigned type, void *data, void *statement, void *sql)
{
  fault.failing = fault.counting && is_question (sql) && ++fault.asked == fault.fail;
  if (!fault.failing)
    return 0;
  fault.hit = TRUE;
  g_free (fault.sql);
  fault.sql = g_strdup (sql);
  return 0;
}

static void
arm (guint fail)
{
  fault.counting = TRUE;
  fault.asked = 0;
  fault.fail = fail;
  fault.failing = fault.hit = FALSE;
  sqlite3_progress_handler (bed_farm_get_db (farm), fail ? 1 : 0, progress_cb, NULL);
}

static guint
disarm (void)
{
  fault.counting = fault.failing = FALSE;
  sqlite3_progress_handler (bed_farm_get_db (farm), 0, NULL, NULL);
  return fault.asked;
}

/* --- what is seen --------------------------------------------------------------------- */

typedef gboolean (*Match) (GtkWidget *label, const char *text);

static GtkWidget *
find (GtkWidget *inside, Match match, const char *text)
{
  GtkWidget *found = GTK_IS_LABEL (inside) && match (inside, text) ? inside : NULL;

  for (GtkWidget *child = gtk_widget_get_first_child (inside); child && !found;
       child = gtk_widget_get_next_sibling (child))
    found = find (child, match, text);
  return found;
}

/* In a part that another covers it is seen when one goes there. */
static gboolean
says (GtkWidget *label, const char *text)
{
  return strstr (gtk_label_get_label (GTK_LABEL (label)), text) && gtk_widget_is_visible (label);
}

static gboolean
shows (GtkWidget *label, const char *text)
{
  return strstr (gtk_label_get_label (GTK_LABEL (label)), text) && gtk_widget_get_mapped (label);
}

static GtkWidget *
find_anywhere (Match match, const char *text)
{
  g_autoptr (GList) windows = gtk_window_list_toplevels ();
  GtkWidget *found = NULL;

  for (GList *l = windows; l && !found; l = l->next)
    found = find (l->data, match, text);
  return found;
}

static void
add_words (GtkWidget *inside, GString *words)
{
  if (GTK_IS_LABEL (inside) && gtk_widget_get_mapped (inside))
    g_string_append_printf (words, "%s\n", gtk_label_get_label (GTK_LABEL (inside)));
  for (GtkWidget *child = gtk_widget_get_first_child (inside); child;
       child = gtk_widget_get_next_sibling (child))
    add_words (child, words);
}

static char *
dup_words (void)
{
  g_autoptr (GList) windows = gtk_window_list_toplevels ();
  GString *words = g_string_new (NULL);

  for (GList *l = windows; l; l = l->next)
    add_words (l->data, words);
  return g_string_free (words, FALSE);
}

static gboolean
is_toast (GtkWidget *label, const char *text)
{
  GtkWidget *in = gtk_widget_get_parent (label);

  while (in && !gtk_widget_has_css_class (in, "said"))
    in = gtk_widget_get_parent (in);
  return in && says (label, text);
}

static GtkWidget *
find_last_button (GtkWidget *inside)
{
  GtkWidget *last = NULL;

  for (GtkWidget *child = gtk_widget_get_last_child (inside); child && !last;
       child = gtk_widget_get_prev_sibling (child))
    last = GTK_IS_BUTTON (child) ? child : NULL;
  return last;
}

/* So that the next one is not taken for said. Its last button closes it. */
static void
close_toasts (void)
{
  GtkWidget *in;

  while ((in = find_anywhere (is_toast, SAID)))
    {
      GtkWidget *button;

      while (!gtk_widget_has_css_class (in, "said"))
        in = gtk_widget_get_parent (in);
      button = find_last_button (gtk_widget_get_last_child (in));
      g_assert_nonnull (button);
      g_signal_emit_by_name (button, "clicked");
      app_settle (50);
    }
}

/* --- the rounds ------------------------------------------------------------------------ */

typedef void (*Deed) (const char *name);

static void
ask_again (const char *name)
{
  bed_farm_ask_again (farm);
}

static gboolean
rested_cb (gpointer data)
{
  *(gboolean *) data = TRUE;
  return G_SOURCE_REMOVE;
}

/* Until all that is found out in idle moments, as what the yard is warned of, is known: this one's
 * turn comes after theirs. */
static void
rest (void)
{
  gboolean rested = FALSE;

  app_settle (80);
  g_idle_add_full (G_PRIORITY_LOW, rested_cb, &rested, NULL);
  while (!rested)
    g_main_context_iteration (NULL, TRUE);
}

/* Until nothing more is asked: a page reads its late half after its first frame, which takes its
 * time on a busy machine. The questions since arm(). */
static guint
await_silence (void)
{
  guint asked;

  do
    {
      asked = fault.asked;
      app_settle (60);
    }
  while (fault.asked > asked);
  return disarm ();
}

/* What was asked once more by itself, before anybody saw it, is whole. */
static gboolean
is_whole (const char *before)
{
  g_autofree char *words = dup_words ();

  return g_str_equal (words, before);
}

static void
check_said (const char *name, guint n, const char *before, Deed back)
{
  for (guint i = 0; i < 10 && !find_anywhere (says, SAID) && !(back && is_whole (before)); i++)
    app_settle (50);
  if (!find_anywhere (says, SAID) && !(back && is_whole (before)))
    g_error ("%s: question %u failed and nothing is said: %s", name, n, fault.sql);
  for (guint i = 0; i < G_N_ELEMENTS (nothing); i++)
    if (!strstr (before, nothing[i]) && find_anywhere (shows, nothing[i]))
      g_error ("%s: question %u failed and “%s” is shown: %s", name, n, nothing[i], fault.sql);
}

static void
check_whole (const char *name, guint n, const char *before, const char *after)
{
  g_auto (GStrv) was = g_strsplit (before, "\n", -1), is = g_strsplit (after, "\n", -1);

  for (guint i = 0; was[i] || is[i]; i++)
    if (g_strcmp0 (was[i], is[i]) != 0)
      g_error ("%s: after question %u failed there is “%s” for “%s”: %s", name, n, is[i], was[i],
               fault.sql);
}

#define STRAY 3 /* of the questions counted, so many may be another's */

/* Questions of @deed fail once each: every fourth, or with BEDLOG_EVERY=1 all. @back, if any, takes
 * back what the deed opened. */
static void
fail_each (const char *name, Deed deed, Deed back)
{
  guint failed = 0, asked = 1, of = g_getenv ("BEDLOG_EVERY") ? 1 : 4;
  g_autofree char *before = NULL;

  /* Once before they are counted: forms are made when they are first opened, and lists grow to all
   * of their rows. */
  arm (0);
  deed (name);
  app_settle (80);
  await_silence ();
  if (back)
    back (name);
  arm (0);
  deed (name);
  app_settle (40);
  asked = await_silence ();
  rest ();
  before = dup_words ();
  for (guint n = 1; n <= asked; n += of)
    {
      if (back)
        back (name);
      /* What the window would by itself ask once more, half a second after some failures. */
      bed_farm_look_again (farm);
      arm (n);
      deed (name);
      app_settle (40);
      for (guint i = 0; i < 50 && !fault.hit; i++)
        app_settle (40);
      disarm ();
      /* The last of the count may have been of something else that was still on its way. */
      if (!fault.hit && n + STRAY > asked)
        break;
      if (!fault.hit)
        g_error ("%s: question %u of %u was not asked again", name, n, asked);
      failed++;
      check_said (name, n, before, back);
      close_toasts ();
      if (back)
        back (name);
      deed (name);
      for (guint i = 0; i < 50 && (i == 0 || !is_whole (before) || find_anywhere (says, SAID)); i++)
        app_settle (40);
      g_autofree char *after = dup_words ();
      if (find_anywhere (says, SAID))
        g_error ("%s: question %u is still said to have failed: %s", name, n, fault.sql);
      check_whole (name, n, before, after);
    }
  g_print ("# %s: %u questions asked, %u failed\n", name, asked, failed);
  if (!failed)
    g_error ("%s asks nothing", name);
}

static void
test_page (gconstpointer name)
{
  g_assert_true (bed_window_show_page (window, name));
  app_settle (100);
  fail_each (name, ask_again, NULL);
}

/* --- pages that are made ---------------------------------------------------------------- */

static void
leave_page (const char *name)
{
  bed_window_set_farm (window, NULL);
  arm (0);
  bed_window_set_farm (window, farm);
  await_silence ();
}

static void
make_page (const char *name)
{
  bed_window_show_page (window, name);
}

static void
test_make (gconstpointer name)
{
  leave_page (name);
  fail_each (name, make_page, leave_page);
}

/* --- forms, the print dialog, search ------------------------------------------------------ */

static void
add (const char *name)
{
  gtk_widget_activate_action (GTK_WIDGET (window), "win.add", NULL);
}

static void
test_add (gconstpointer name)
{
  leave_page (name);
  g_assert_true (bed_window_show_page (window, name));
  app_settle (100);
  fail_each (name, add, NULL);
  leave_page (name);
}

static void
print (const char *name)
{
  gtk_widget_activate_action (GTK_WIDGET (window), "win.print", NULL);
  app_settle (400); /* the preview waits for typing to pause */
}

static void
close_print (const char *name)
{
  g_autoptr (GList) windows = gtk_window_list_toplevels ();

  for (GList *l = windows; l; l = l->next)
    if (gtk_window_get_transient_for (l->data) == GTK_WINDOW (window))
      gtk_window_destroy (l->data);
  app_settle (20);
}

static void
test_print (gconstpointer name)
{
  g_assert_true (bed_window_show_page (window, name));
  app_settle (100);
  fail_each (name, print, close_print);
  close_print (name);
}

static GtkWidget *
find_type (GtkWidget *inside, const char *type)
{
  GtkWidget *found = g_str_equal (G_OBJECT_TYPE_NAME (inside), type) ? inside : NULL;

  for (GtkWidget *child = gtk_widget_get_first_child (inside); child && !found;
       child = gtk_widget_get_next_sibling (child))
    found = find_type (child, type);
  return found;
}

static void
search (const char *text)
{
  GtkWidget *entry = find_type (find_type (GTK_WIDGET (window), "BedSearch"), "GtkText");

  gtk_editable_set_text (GTK_EDITABLE (entry), text);
  app_settle (200);
}

static void
clear_search (const char *text)
{
  search ("");
}

static void
test_search (void)
{
  fail_each ("26", search, clear_search);
  search ("");
}

/* --- what is offered while a name is typed, and the form that makes it -------------------- */

static void
suggest (const char *text)
{
  GtkWidget *entry = find_type (find_type (GTK_WIDGET (window), "BedReferenceEditor"), "GtkText");

  gtk_editable_set_text (GTK_EDITABLE (entry), text);
  app_settle (600); /* the form is looked at when typing pauses */
}

static void
clear_suggested (const char *text)
{
  suggest ("");
}

static void
test_suggest (void)
{
  leave_page ("woodlot");
  g_assert_true (bed_window_show_page (window, "woodlot"));
  add ("woodlot");
  app_settle (100);
  fail_each ("oak", suggest, clear_suggested);
  suggest ("");
  leave_page ("woodlot");
}

static void
made_cb (gint64 id, const char *name, gpointer user_data)
{
}

static void
make_quickly (const char *kind)
{
  bed_quick_new (GTK_WIDGET (window), farm, bed_kind_from_name (kind), "Far one", made_cb, NULL);
}

static void
test_quick (gconstpointer kind)
{
  fail_each (kind, make_quickly, close_print);
  close_print (kind);
}

/* --- what is begun from a detail ----------------------------------------------------------- */

static void
write_off (const char *type)
{
  gtk_widget_activate_action (find_type (GTK_WIDGET (window), type), "spawn.write-off", NULL);
}

static void
test_write_off (void)
{
  BedPage *page;

  leave_page ("woodlot");
  g_assert_true (bed_window_show_page (window, "woodlot"));
  page = bed_window_get_page (window);
  bed_parts_page_see (BED_PARTS_PAGE (page), "spawn");
  app_settle (100);
  fail_each ("BedSpawnDetail", write_off, close_print);
  close_print (NULL);
}

/* Not by fail_each(): where it stays when it fails, a lot may say that nothing of it was dried. */
static void
test_sell (void)
{
  leave_page ("picking");
  g_assert_true (bed_window_show_page (window, "picking"));
  app_settle (100);
  arm (1);
  gtk_widget_activate_action (find_type (GTK_WIDGET (window), "BedLotDetail"), "lot.sell", NULL);
  app_settle (80);
  disarm ();
  g_assert_true (fault.hit);
  g_assert_nonnull (find_anywhere (is_toast, SAID));
  close_toasts ();
  leave_page ("picking");
}

/* --- the whole --------------------------------------------------------------------------- */

int
main (int argc, char *argv[])
{
  gtk_test_init (&argc, &argv, NULL);
  app_begin ();
  /* What fades is not waited for. */
  g_object_set (gtk_settings_get_default (), "gtk-enable-animations", FALSE, NULL);
  g_autofree char *folder = g_dir_make_tmp ("bedlog-XXXXXX", NULL);
  g_autofree char *path = g_build_filename (folder, "farm.bedlog", NULL);
  g_autoptr (GError) error = NULL;
  const BedDemoPlan plan = { .logs = 12, .years = 2, .today = "2026-07-14" };

  farm = bed_demo_new (path, &plan, &error);
  g_assert_no_error (error);
  window = g_object_new (BED_TYPE_WINDOW, NULL);
  gtk_window_present (GTK_WINDOW (window));
  bed_window_set_farm (window, farm);
  app_settle (200);
  bed_farm_look_again (farm);
  sqlite3_trace_v2 (bed_farm_get_db (farm), SQLITE_TRACE_STMT, statement_cb, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (page_names); i++)
    {
      g_autofree char *shown = g_strdup_printf ("/trouble/page/%s", page_names[i]);

      g_test_add_data_func (shown, page_names[i], test_page);
    }
  /* The first is made with the window. */
  for (guint i = 1; i < G_N_ELEMENTS (page_names); i++)
    {
      g_autofree char *made = g_strdup_printf ("/trouble/made/%s", page_names[i]);

      g_test_add_data_func (made, page_names[i], test_make);
    }
  for (guint i = 0; i < G_N_ELEMENTS (adding); i++)
    {
      g_autofree char *added = g_strdup_printf ("/trouble/add/%s", adding[i]);

      g_test_add_data_func (added, adding[i], test_add);
    }
  for (guint i = 0; i < G_N_ELEMENTS (printing); i++)
    {
      g_autofree char *printed = g_strdup_printf ("/trouble/print/%s", printing[i]);

      g_test_add_data_func (printed, printing[i], test_print);
    }
  for (guint i = 0; i < G_N_ELEMENTS (quick); i++)
    {
      g_autofree char *made = g_strdup_printf ("/trouble/form/quick-%s", quick[i]);

      g_test_add_data_func (made, quick[i], test_quick);
    }
  g_test_add_func ("/trouble/form/suggest", test_suggest);
  g_test_add_func ("/trouble/search", test_search);
  g_test_add_func ("/trouble/form/write-off", test_write_off);
  g_test_add_func ("/trouble/form/sell", test_sell);
  int result = g_test_run ();
  app_close (GTK_WIDGET (window), GTK_WIDGET (window));
  g_clear_object (&farm);
  g_unlink (path);
  g_rmdir (folder);
  return result;
}
