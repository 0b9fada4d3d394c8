/* The print dialog over each page of the demo farm, as Ctrl+P opens it. */
#include "app_test.h"

#include <glib/gstdio.h>

#include "app/paper/shown.h"
#include "app/window/window.h"
#include "model/demo/demo.h"

typedef struct
{
  char *folder;
  BedFarm *farm;
  BedWindow *window;
} Desk;

static void
set_up (Desk *desk, gconstpointer data)
{
  BedDemoPlan plan = { .logs = 60, .years = 2, .seed = 1, .today = "2026-07-14" };
  g_autoptr (GError) error = NULL;

  desk->folder = g_dir_make_tmp ("bedlog-XXXXXX", NULL);
  g_autofree char *path = g_build_filename (desk->folder, "demo.bedlog", NULL);
  desk->farm = bed_demo_new (path, &plan, &error);
  g_assert_no_error (error);
  desk->window = g_object_new (BED_TYPE_WINDOW, NULL);
  gtk_window_present (GTK_WINDOW (desk->window));
  bed_window_set_farm (desk->window, desk->farm);
}

static void
tear_down (Desk *desk, gconstpointer data)
{
  g_autofree char *path = g_build_filename (desk->folder, "demo.bedlog", NULL);

  gtk_window_destroy (GTK_WINDOW (desk->window));
  app_settle (200);
  g_assert_finalize_object (desk->farm);
  g_unlink (path);
  g_rmdir (desk->folder);
  g_free (desk->folder);
}

/* The window that lies over @window, or NULL. */
static GtkWidget *
find_over (gpointer window)
{
  g_autoptr (GList) windows = gtk_window_list_toplevels ();

  for (GList *l = windows; l; l = l->next)
    if (gtk_window_get_transient_for (l->data) == window)
      return l->data;
  return NULL;
}

/* Each of what is offered has a page and can be printed. */
static guint
check_offers (GtkWidget *dialog)
{
  GtkDropDown *what = app_find_of_type (dialog, GTK_TYPE_DROP_DOWN);
  guint n = g_list_model_get_n_items (gtk_drop_down_get_model (what));

  for (guint i = 0; i < n; i++)
    {
      gtk_drop_down_set_selected (what, i);
      app_settle (120);
      g_assert_nonnull (app_find_label (dialog, "Page 1 of "));
      g_assert_true (gtk_widget_get_sensitive (app_find_button (dialog, "Save PDF…")));
      g_assert_true (gtk_widget_get_sensitive (app_find_button (dialog, "Print…")));
    }
  return n;
}

/* The drop-down under that word. */
static GtkDropDown *
find_choice (GtkWidget *dialog, const char *word)
{
  GtkWidget *label = app_find_label (dialog, word);

  g_assert_nonnull (label);
  return GTK_DROP_DOWN (gtk_widget_get_next_sibling (label));
}

/* The map goes on as many sheets as its scale needs, with elevations after them; a picture has one
 * page and says so. */
static void
check_map (GtkWidget *dialog)
{
  gtk_drop_down_set_selected (app_find_of_type (dialog, GTK_TYPE_DROP_DOWN), 0);
  app_settle (300);
  g_assert_nonnull (app_find_label (dialog, "Page 1 of 1"));
  gtk_drop_down_set_selected (find_choice (dialog, "Elevations"), 1);
  app_settle (300);
  g_assert_nonnull (app_find_label (dialog, "Page 1 of 2"));
  gtk_drop_down_set_selected (find_choice (dialog, "Scale"), 3); /* 1:50 */
  app_settle (300);
  g_assert_nonnull (app_find_label (dialog, "Page 1 of 5"));
  g_assert_true (gtk_widget_get_visible (app_find_button (dialog, "Save picture…")));
}

static void
test_pages (Desk *desk, gconstpointer data)
{
  static const struct
  {
    const char *page;
    guint offers;
  } cases[] = {
    { "week", 5 }, { "woodlot", 2 }, { "batches", 5 },
    { "yard", 4 }, { "soaking", 2 }, { "picking", 2 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_assert_true (bed_window_show_page (desk->window, cases[i].page));
      app_settle (300);
      g_assert_true (gtk_widget_activate_action (GTK_WIDGET (desk->window), "win.print", NULL));
      app_settle (300);
      GtkWidget *dialog = find_over (desk->window);
      g_assert_nonnull (dialog);
      g_assert_cmpuint (check_offers (dialog), ==, cases[i].offers);
      if (g_str_equal (cases[i].page, "yard"))
        check_map (dialog);
      app_close (dialog, dialog);
    }
}

/* Typing that cannot be read is said, nothing can be printed, and righting it helps. */
static void
test_wrong_start (Desk *desk, gconstpointer data)
{
  bed_window_show_page (desk->window, "batches");
  app_settle (300);
  gtk_widget_activate_action (GTK_WIDGET (desk->window), "win.print", NULL);
  app_settle (300);
  GtkWidget *dialog = find_over (desk->window);
  GtkEditable *start = app_find_of_type (
      gtk_widget_get_ancestor (app_find_label (dialog, "Start at label"), GTK_TYPE_BOX),
      GTK_TYPE_ENTRY);

  gtk_editable_set_text (start, "third");
  app_settle (300);
  g_assert_nonnull (app_find_label (dialog, "third"));
  g_assert_false (gtk_widget_get_sensitive (app_find_button (dialog, "Print…")));
  /* Said where it was typed, and so is a number past the last label. */
  g_assert_true (gtk_widget_has_css_class (GTK_WIDGET (start), "error"));
  gtk_editable_set_text (start, "99");
  app_settle (300);
  g_assert_true (gtk_widget_has_css_class (GTK_WIDGET (start), "error"));
  g_assert_false (gtk_widget_get_sensitive (app_find_button (dialog, "Print…")));
  gtk_editable_set_text (start, "3");
  app_settle (300);
  g_assert_false (gtk_widget_has_css_class (GTK_WIDGET (start), "error"));
  g_assert_true (gtk_widget_get_sensitive (app_find_button (dialog, "Print…")));
  app_close (dialog, dialog);
}

/* The entry under that label. */
static GtkEditable *
find_entry (GtkWidget *inside, const char *label)
{
  GtkWidget *words = app_find_label (inside, label);

  g_assert_nonnull (words);
  return GTK_EDITABLE (gtk_widget_get_next_sibling (words));
}

/* The lot is chosen in the dialog; more crates than it holds are refused where they were typed; a
 * sheet is filled. */
static void
test_crates (Desk *desk, gconstpointer data)
{
  bed_window_show_page (desk->window, "picking");
  app_settle (300);
  gtk_widget_activate_action (GTK_WIDGET (desk->window), "win.print", NULL);
  app_settle (300);
  GtkWidget *dialog = find_over (desk->window);
  GtkDropDown *lot = find_choice (dialog, "Lot");
  GtkEditable *mass = find_entry (dialog, "In one crate"), *copies = find_entry (dialog, "Copies");

  g_assert_cmpuint (g_list_model_get_n_items (gtk_drop_down_get_model (lot)), >, 1);
  gtk_drop_down_set_selected (lot, 1);
  gtk_editable_set_text (mass, "1000");
  app_settle (300);
  g_assert_true (gtk_widget_has_css_class (GTK_WIDGET (copies), "error"));
  g_assert_nonnull (app_find_label (dialog, "The lot holds"));
  g_assert_false (gtk_widget_get_sensitive (app_find_button (dialog, "Print…")));
  gtk_editable_set_text (mass, "");
  app_settle (300);
  g_assert_true (gtk_widget_get_sensitive (app_find_button (dialog, "Print…")));
  g_signal_emit_by_name (app_find_button (dialog, "Fill the sheet"), "clicked");
  app_settle (300);
  g_assert_cmpint (atoi (gtk_editable_get_text (copies)), >, 1);
  g_assert_true (gtk_widget_has_css_class (GTK_WIDGET (mass), "error"));
  app_close (dialog, dialog);
}

/* The dialog over the window once its pages are there: on a busy machine that takes a while. */
static GtkWidget *
wait_for_pages (gpointer window)
{
  GtkWidget *dialog = NULL;

  for (guint i = 0; i < 50 && !(dialog && app_find_label (dialog, "Page 1 of ")); i++)
    {
      app_settle (100);
      dialog = find_over (window);
    }
  g_assert_nonnull (dialog);
  g_assert_nonnull (app_find_label (dialog, "Page 1 of "));
  g_assert_true (gtk_widget_get_sensitive (app_find_button (dialog, "Print…")));
  return dialog;
}

/* Money, Season and History print what they show. */
static void
test_shown (Desk *desk, gconstpointer data)
{
  static const char *const pages[] = { "money", "season", "history" };

  for (gsize i = 0; i < G_N_ELEMENTS (pages); i++)
    {
      g_assert_true (bed_window_show_page (desk->window, pages[i]));
      app_settle (300);
      g_assert_true (gtk_widget_activate_action (GTK_WIDGET (desk->window), "win.print", NULL));
      GtkWidget *dialog = wait_for_pages (desk->window);
      app_close (dialog, dialog);
    }
}

static cairo_surface_t *
picture_shown (Desk *desk)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BedDocument) document = bed_shown_document_new (
      desk->farm, GTK_WIDGET (bed_window_get_page (desk->window)), "Shown", &bed_paper_a4);
  cairo_surface_t *picture = bed_document_picture_new (document, 0, 72, &error);

  g_assert_no_error (error);
  return picture;
}

/* On a dark desk the same ink comes on the paper. */
static void
test_shown_dark (Desk *desk, gconstpointer data)
{
  static const char *const pages[] = { "money", "season" };
  AdwStyleManager *style = adw_style_manager_get_default ();

  for (gsize i = 0; i < G_N_ELEMENTS (pages); i++)
    {
      g_assert_true (bed_window_show_page (desk->window, pages[i]));
      app_settle (300);
      adw_style_manager_set_color_scheme (style, ADW_COLOR_SCHEME_FORCE_LIGHT);
      app_settle (100);
      cairo_surface_t *light = picture_shown (desk);
      adw_style_manager_set_color_scheme (style, ADW_COLOR_SCHEME_FORCE_DARK);
      app_settle (100);
      g_assert_true (adw_style_manager_get_dark (style));
      cairo_surface_t *dark = picture_shown (desk);
      g_assert_cmpmem (
          cairo_image_surface_get_data (light),
          cairo_image_surface_get_stride (light) * cairo_image_surface_get_height (light),
          cairo_image_surface_get_data (dark),
          cairo_image_surface_get_stride (dark) * cairo_image_surface_get_height (dark));
      cairo_surface_destroy (light);
      cairo_surface_destroy (dark);
    }
  adw_style_manager_set_color_scheme (style, ADW_COLOR_SCHEME_DEFAULT);
}

/* One click from a batch to its recall. */
static void
test_recall (Desk *desk, gconstpointer data)
{
  static const struct
  {
    const char *page;
    int part;
    const char *button;
  } clicks[] = { { "batches", -1, "Recall…" },
                 { "soaking", 1, "Recall…" },
                 { "names", 5, "Recall…" }, /* an area */
                 { "picking", -1, "Recall this day…" } };
  GtkWidget *dialog;

  for (gsize i = 0; i < G_N_ELEMENTS (clicks); i++)
    {
      bed_window_show_page (desk->window, clicks[i].page);
      app_settle (300);
      if (clicks[i].part >= 0)
        gtk_widget_activate_action (GTK_WIDGET (desk->window), "win.part", "i", clicks[i].part);
      app_settle (300);
      g_signal_emit_by_name (app_find_button (GTK_WIDGET (desk->window), clicks[i].button),
                             "clicked");
      dialog = wait_for_pages (desk->window);
      app_close (dialog, dialog);
    }
  gtk_widget_activate_action (GTK_WIDGET (desk->window), "win.recall-of", NULL);
  app_settle (300);
  dialog = find_over (desk->window);
  gtk_editable_set_text (find_entry (dialog, "A code"), "nothing so called");
  g_signal_emit_by_name (app_find_button (dialog, "Show recall"), "clicked");
  g_assert_nonnull (app_find_label (dialog, "is no code of"));
  gtk_editable_set_text (find_entry (dialog, "A code"), "well");
  g_signal_emit_by_name (app_find_button (dialog, "Show recall"), "clicked");
  dialog = wait_for_pages (desk->window);
  app_close (dialog, dialog);
}

/* A sheet of the desk's own: measures that do not fit are said and kept, right ones are
 * added, chosen, and printed on; the next dialog has it too. */
static void
test_own_sheet (Desk *desk, gconstpointer data)
{
  g_autofree char *path
      = g_build_filename (g_get_user_config_dir (), "bedlog", "label-sheets.csv", NULL);

  bed_window_show_page (desk->window, "batches");
  app_settle (300);
  gtk_widget_activate_action (GTK_WIDGET (desk->window), "win.print", NULL);
  app_settle (300);
  GtkWidget *dialog = find_over (desk->window);
  g_signal_emit_by_name (app_find_button (dialog, "Add your own sheet…"), "clicked");
  app_settle (300);
  GtkWidget *sheet = find_over (dialog);
  g_assert_nonnull (sheet);
  gtk_editable_set_text (find_entry (sheet, "Labels across"), "9");
  app_settle (100);
  g_assert_nonnull (app_find_label (sheet, "need"));
  g_assert_false (gtk_widget_get_sensitive (app_find_button (sheet, "Add sheet")));
  gtk_editable_set_text (find_entry (sheet, "Labels across"), "2");
  app_settle (100);
  g_signal_emit_by_name (app_find_button (sheet, "Add sheet"), "clicked");
  g_assert_nonnull (app_find_label (sheet, "Give the sheet a name"));
  gtk_editable_set_text (find_entry (sheet, "Name"), "Quarter page");
  app_settle (100);
  g_signal_emit_by_name (app_find_button (sheet, "Add sheet"), "clicked");
  app_settle (300);
  g_assert_null (find_over (dialog));
  g_assert_true (g_file_test (path, G_FILE_TEST_EXISTS));
  g_assert_nonnull (app_find_label (dialog, "Quarter page"));
  g_assert_true (gtk_widget_get_sensitive (app_find_button (dialog, "Print…")));
  app_close (dialog, dialog);
  g_unlink (path);
}

/* The desk's own file cannot be read: said where the sheets are, the given ones still print. */
static void
test_own_sheet_fault (Desk *desk, gconstpointer data)
{
  g_autofree char *folder = g_build_filename (g_get_user_config_dir (), "bedlog", NULL);
  g_autofree char *path = g_build_filename (folder, "label-sheets.csv", NULL);

  g_mkdir_with_parents (folder, 0700);
  g_file_set_contents (path, "rubbish", -1, NULL);
  bed_window_show_page (desk->window, "batches");
  app_settle (300);
  gtk_widget_activate_action (GTK_WIDGET (desk->window), "win.print", NULL);
  app_settle (300);
  GtkWidget *dialog = find_over (desk->window);
  g_assert_nonnull (app_find_label (dialog, "label-sheets.csv"));
  g_assert_true (gtk_widget_get_sensitive (app_find_button (dialog, "Print…")));
  app_close (dialog, dialog);
  g_unlink (path);
}

int
main (int argc, char *argv[])
{
  g_autofree char *config = g_dir_make_tmp ("bedlog-XXXXXX", NULL);

  g_setenv ("XDG_CONFIG_HOME", config, TRUE);
  gtk_test_init (&argc, &argv, NULL);
  app_begin ();
  g_test_add ("/paper-dialog/pages", Desk, NULL, set_up, test_pages, tear_down);
  g_test_add ("/paper-dialog/wrong-start", Desk, NULL, set_up, test_wrong_start, tear_down);
  g_test_add ("/paper-dialog/crates", Desk, NULL, set_up, test_crates, tear_down);
  g_test_add ("/paper-dialog/shown", Desk, NULL, set_up, test_shown, tear_down);
  g_test_add ("/paper-dialog/shown-dark", Desk, NULL, set_up, test_shown_dark, tear_down);
  g_test_add ("/paper-dialog/recall", Desk, NULL, set_up, test_recall, tear_down);
  g_test_add ("/paper-dialog/own-sheet", Desk, NULL, set_up, test_own_sheet, tear_down);
  g_test_add ("/paper-dialog/own-sheet-fault", Desk, NULL, set_up, test_own_sheet_fault, tear_down);
  int failed = g_test_run ();
  g_autofree char *folder = g_build_filename (config, "bedlog", NULL);
  g_rmdir (folder);
  g_rmdir (config);
  return failed;
}
