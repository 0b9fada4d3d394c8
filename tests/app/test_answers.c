/* What pages show as figures, by their accessible names, is what the table of figures answers; and
 * F1 is answered by the page of the manual for what is in front. */
#include "app_test.h"

#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

#include "app/host/host.h"
#include "app/manual/manual_text.h"
#include "app/manual/manual_window.h"
#include "app/widgets/dots.h"
#include "app/window/window.h"
#include "model/demo/demo.h"
#include "model/farm/functions.h"
#include "model/season/figures.h"
#include "science/units.h"

static const BedFigureId of_season[] = { BED_FIGURE_PICKED, BED_FIGURE_PICKED_PER_LOG,
                                         BED_FIGURE_INCOME, BED_FIGURE_COST,
                                         BED_FIGURE_MARGIN, BED_FIGURE_HOURS_PER_KG };
static const BedFigureId of_money[] = { BED_FIGURE_COST,
                                        BED_FIGURE_HOURS,
                                        BED_FIGURE_COST_PER_LOG,
                                        BED_FIGURE_COST_PER_KG,
                                        BED_FIGURE_PRICE_TO_BREAK_EVEN,
                                        BED_FIGURE_PRICE_GOT_FRESH };
static const BedFigureId of_week[] = { BED_FIGURE_EXPECTED_WEEK };
static const BedFigureId of_woodlot[] = { BED_FIGURE_LOGS_WAITING, BED_FIGURE_DAYS_WAITING,
                                          BED_FIGURE_SPAWN_LEFT, BED_FIGURE_PIECES_LEFT };
static const BedFigureId of_tank[] = { BED_FIGURE_LOGS_IN_TANK, BED_FIGURE_LOGS_RESTED };
static const BedFigureId of_history[] = { BED_FIGURE_CHANGES, BED_FIGURE_PEOPLE };
static const BedFigureId of_due[] = { BED_FIGURE_WEEK_LOGS_DUE, BED_FIGURE_WEEK_OVERDUE };
static const BedFigureId of_log[] = { BED_FIGURE_LOG_PICKED_IN_ALL };
static const BedFigureId of_cost[]
    = { BED_FIGURE_BATCH_COST, BED_FIGURE_BATCH_COST_PER_LOG, BED_FIGURE_BATCH_COST_PER_KG };
static const BedFigureId of_batch[] = { BED_FIGURE_BATCH_LOGS_ALIVE, BED_FIGURE_BATCH_PICKED_IN_ALL,
                                        BED_FIGURE_BATCH_PICKED_PER_LOG_MADE,
                                        BED_FIGURE_BATCH_COST_PER_LOG };

static gboolean
is_named (GtkWidget *inside, const char *name)
{
  g_autofree char *other = gtk_test_accessible_check_property (GTK_ACCESSIBLE (inside),
                                                               GTK_ACCESSIBLE_PROPERTY_LABEL, name);
  gboolean found = !other && gtk_widget_get_mapped (inside);

  for (GtkWidget *child = gtk_widget_get_first_child (inside); child && !found;
       child = gtk_widget_get_next_sibling (child))
    found = is_named (child, name);
  return found;
}

typedef gboolean (*Seen) (GtkWidget *inside, const char *words);

static gboolean
is_said (GtkWidget *inside, const char *words)
{
  return app_find_label (inside, words) != NULL;
}

/* A page reads what looks at the whole farm after its first frame. */
static void
await (BedWindow *window, Seen seen, const char *words)
{
  for (int i = 0; i < 100 && !seen (GTK_WIDGET (window), words); i++)
    app_settle (50);
  if (!seen (GTK_WIDGET (window), words))
    g_error ("%s is not shown", words);
}

static void
assert_shown (BedWindow *window, const BedFigureAnswers *answers, const BedFigureId *ids, guint n)
{
  BedFarm *farm = bed_window_get_farm (window);

  for (guint i = 0; i < n; i++)
    {
      g_autofree char *text = bed_figure_dup_text (farm, ids[i], answers->values[ids[i]]);
      g_autofree char *unit = bed_figure_dup_unit (farm, ids[i]);
      const BedFigure *figure = bed_figure_get (ids[i]);
      gboolean is_one = figure->one && answers->values[ids[i]] == 1;
      g_autofree char *name = g_strdup_printf ("%s: %s %s", is_one ? figure->one : figure->label,
                                               text ? text : "–", text ? unit : "");

      await (window, is_named, g_strchomp (name));
    }
}

/* The three figures of the season to come stand together in one line. */
static void
assert_expected (BedWindow *window, const BedFigureAnswers *answers)
{
  BedFarm *farm = bed_window_get_farm (window);
  double value = answers->values[BED_FIGURE_EXPECTED_NEXT];
  g_autofree char *middle = bed_figure_dup_text (farm, BED_FIGURE_EXPECTED_NEXT, value);
  g_autofree char *low = bed_figure_dup_text (farm, BED_FIGURE_EXPECTED_NEXT_LOW,
                                              answers->values[BED_FIGURE_EXPECTED_NEXT_LOW]);
  g_autofree char *high = bed_figure_dup_text (farm, BED_FIGURE_EXPECTED_NEXT_HIGH,
                                               answers->values[BED_FIGURE_EXPECTED_NEXT_HIGH]);
  g_autofree char *line = middle ? g_strdup_printf ("%s (%s – %s) ", middle, low, high)
                                 : g_strdup ("not known before the first picks");

  await (window, is_said, line);
}

static void
assert_pages (BedWindow *window)
{
  BedFarm *farm = bed_window_get_farm (window);
  int season = bed_season_of (farm, bed_farm_get_today (farm));
  BedFigureAnswers answers;

  g_assert_true (bed_figures_read_season (farm, season, &answers, NULL));
  g_assert_true (bed_figures_read_expected (farm, season, &answers, NULL));
  bed_window_show_page (window, "season");
  app_settle (150);
  assert_shown (window, &answers, of_season, G_N_ELEMENTS (of_season));
  assert_expected (window, &answers);
  bed_window_show_page (window, "money");
  app_settle (150);
  assert_shown (window, &answers, of_money, G_N_ELEMENTS (of_money));
  bed_window_show_page (window, "week");
  app_settle (150);
  assert_shown (window, &answers, of_week, G_N_ELEMENTS (of_week));
  bed_window_show_page (window, "soaking");
  app_settle (150);
  assert_shown (window, &answers, of_week, G_N_ELEMENTS (of_week));
}

/* As facts: label and value with unit. */
static void
assert_facts (BedWindow *window, const BedFigureAnswers *answers, const BedFigureId *ids, guint n)
{
  BedFarm *farm = bed_window_get_farm (window);

  for (guint i = 0; i < n; i++)
    {
      g_autofree char *text = bed_figure_dup_text (farm, ids[i], answers->values[ids[i]]);
      g_autofree char *unit = bed_figure_dup_unit (farm, ids[i]);
      g_autofree char *whole = text ? g_strdup_printf ("%s %s", text, unit) : NULL;

      if (whole)
        await (window, is_said, whole);
    }
}

static GtkWidget *
find_dots (GtkWidget *inside)
{
  GtkWidget *found = BED_IS_DOTS (inside) ? inside : NULL;

  for (GtkWidget *child = gtk_widget_get_first_child (inside); child && !found;
       child = gtk_widget_get_next_sibling (child))
    found = find_dots (child);
  return found;
}

/* The comparison of kinds, by what it tells those who do not see it. */
static void
assert_kinds (BedWindow *window)
{
  BedFarm *farm = bed_window_get_farm (window);
  BedSystem system = bed_farm_get_notation (farm)->system;
  int season = bed_season_of (farm, bed_farm_get_today (farm));
  g_autoptr (BedCrop) crop = bed_crop_new (farm, season, NULL);
  g_autoptr (GString) words = g_string_new (NULL);

  bed_window_show_page (window, "season");
  app_settle (150);
  for (guint i = 0; i < crop->groups->len; i++)
    {
      BedFigureAnswers answers;
      double kind[3];

      bed_figures_read_kind (crop->groups->pdata[i], &answers);
      for (int end = 0; end < 3; end++)
        {
          double value = answers.values[BED_FIGURE_KIND_LEVEL_LOW + end];

          kind[end]
              = bed_measure_to_unit (BED_MEASURE_MASS, system,
                                     isnan (value) ? answers.values[BED_FIGURE_KIND_LEVEL] : value);
        }
      g_string_append_printf (words, "%s%s: %.2f %s (%.2f–%.2f)", i ? "; " : "",
                              ((BedCropGroup *) crop->groups->pdata[i])->name, kind[1],
                              bed_measure_unit (BED_MEASURE_MASS, system), kind[0], kind[2]);
    }
  g_autofree char *other = gtk_test_accessible_check_property (
      GTK_ACCESSIBLE (find_dots (GTK_WIDGET (window))), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
      words->len ? words->str : "Nothing here yet");
  g_assert_cmpstr (other, ==, NULL);
}

/* Of today, on the picking page. */
static void
assert_picked (BedWindow *window)
{
  BedFarm *farm = bed_window_get_farm (window);
  g_autofree char *name = NULL;
  BedFigureAnswers answers;

  bed_window_show_page (window, "picking");
  app_settle (150);
  g_assert_true (bed_figures_read_week (farm, bed_farm_get_today (farm), &answers, NULL));
  g_autofree char *text = bed_figure_dup_text (farm, BED_FIGURE_WEEK_PICKED_DAY,
                                               answers.values[BED_FIGURE_WEEK_PICKED_DAY]);
  name
      = g_strdup_printf ("Picked today: %s %s", text,
                         bed_measure_unit (BED_MEASURE_MASS, bed_farm_get_notation (farm)->system));
  await (window, is_named, name);
}

/* Those of the farm and of the week, each read by itself. */
static void
assert_farm (BedWindow *window)
{
  static const struct
  {
    const char *page;
    const BedFigureId *ids;
    guint n;
  } pages[] = {
    { "woodlot", of_woodlot, G_N_ELEMENTS (of_woodlot) },
    { "soaking", of_tank, G_N_ELEMENTS (of_tank) },
    { "history", of_history, G_N_ELEMENTS (of_history) },
    { "week", of_due, G_N_ELEMENTS (of_due) },
  };
  BedFarm *farm = bed_window_get_farm (window);
  BedFigureAnswers answers;

  g_assert_true (
      bed_figures_read_farm (farm, BED_FIGURE_FARM_FIRST, BED_FIGURE_FARM_LAST, &answers, NULL));
  g_assert_true (bed_figures_read_week (farm, bed_farm_get_today (farm), &answers, NULL));
  for (guint i = 0; i < G_N_ELEMENTS (pages); i++)
    {
      bed_window_show_page (window, pages[i].page);
      app_settle (150);
      assert_shown (window, &answers, pages[i].ids, pages[i].n);
    }
}

static void
assert_logs (BedWindow *window)
{
  BedFarm *farm = bed_window_get_farm (window);
  g_autoptr (BedQuery) q
      = bed_query_new (farm, "SELECT id FROM log WHERE batch IS NOT NULL ORDER BY id LIMIT 3");
  BedFigureAnswers answers;

  while (bed_query_next (q))
    {
      bed_host_show_record (GTK_WIDGET (window), BED_KIND_LOG, bed_query_int (q, 0));
      app_settle (150);
      g_assert_true (bed_figures_read_log (farm, bed_query_int (q, 0), &answers, NULL));
      assert_shown (window, &answers, of_log, G_N_ELEMENTS (of_log));
    }
  g_assert_true (bed_query_finish (q, NULL));
}

#define COST 4 /* from 0, of the parts of a batch */

static void
assert_batches (BedWindow *window)
{
  BedFarm *farm = bed_window_get_farm (window);
  g_autoptr (BedQuery) q = bed_query_new (farm, "SELECT id FROM batch ORDER BY id");
  BedFigureAnswers answers;

  while (bed_query_next (q))
    {
      gint64 batch = bed_query_int (q, 0);

      bed_host_show_record (GTK_WIDGET (window), BED_KIND_BATCH, batch);
      app_settle (150);
      g_assert_true (bed_figures_read_batch (farm, batch, &answers, NULL));
      assert_shown (window, &answers, of_batch, G_N_ELEMENTS (of_batch));
      gtk_widget_activate_action (GTK_WIDGET (window), "win.part", "i", COST);
      assert_facts (window, &answers, of_cost, G_N_ELEMENTS (of_cost));
    }
  g_assert_true (bed_query_finish (q, NULL));
}

/* Pages with their figures in a window of 900 pixels; the yard's map and panel ask for more. */
static void
assert_fits (BedWindow *window)
{
  static const char *const pages[]
      = { "week", "woodlot", "batches", "soaking", "picking", "money", "season", "history" };

  for (guint i = 0; i < G_N_ELEMENTS (pages); i++)
    {
      int least;

      bed_window_show_page (window, pages[i]);
      app_settle (150);
      gtk_widget_measure (GTK_WIDGET (window), GTK_ORIENTATION_HORIZONTAL, -1, &least, NULL, NULL,
                          NULL);
      if (least > 900)
        g_error ("%s asks for %d pixels", pages[i], least);
    }
}

static void
test_farm (gconstpointer data)
{
  const BedDemoPlan *plan = data;
  g_autofree char *folder = g_dir_make_tmp ("bedlog-XXXXXX", NULL);
  g_autofree char *path = g_build_filename (folder, "farm.bedlog", NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (BedFarm) farm = bed_demo_new (path, plan, &error);
  g_assert_no_error (error);
  BedWindow *window = bed_window_new (NULL, NULL);

  gtk_window_present (GTK_WINDOW (window));
  bed_window_set_farm (window, farm);
  app_settle (200);
  assert_pages (window);
  assert_farm (window);
  assert_picked (window);
  assert_kinds (window);
  assert_batches (window);
  assert_logs (window);
  assert_fits (window);
  app_close (GTK_WIDGET (window), GTK_WIDGET (window));
  g_clear_object (&farm);
  g_unlink (path);
  g_rmdir (folder);
}

/* --- F1 ------------------------------------------------------------------------------- */

static GtkWindow *
find_window (const char *title)
{
  GListModel *windows = gtk_window_get_toplevels ();

  for (guint i = 0; i < g_list_model_get_n_items (windows); i++)
    {
      g_autoptr (GtkWindow) window = g_list_model_get_item (windows, i);

      if (title ? g_strcmp0 (gtk_window_get_title (window), title) == 0
                : BED_IS_MANUAL_WINDOW (window))
        return window;
    }
  return NULL;
}

/* As the key does, through what the window listens to. */
static void
press_f1 (GtkWindow *window)
{
  g_autoptr (GListModel) controllers = gtk_widget_observe_controllers (GTK_WIDGET (window));

  for (guint i = 0; i < g_list_model_get_n_items (controllers); i++)
    {
      g_autoptr (GObject) keys = g_list_model_get_item (controllers, i);

      for (guint k = 0;
           GTK_IS_SHORTCUT_CONTROLLER (keys) && k < g_list_model_get_n_items (G_LIST_MODEL (keys));
           k++)
        {
          g_autoptr (GtkShortcut) shortcut = g_list_model_get_item (G_LIST_MODEL (keys), k);
          g_autofree char *key
              = gtk_shortcut_trigger_to_string (gtk_shortcut_get_trigger (shortcut));

          if (strcmp (key, "F1") == 0)
            {
              gtk_shortcut_action_activate (gtk_shortcut_get_action (shortcut), 0,
                                            GTK_WIDGET (window), NULL);
              return;
            }
        }
    }
  g_error ("%s does not listen to F1", gtk_window_get_title (window));
}

static void
assert_help (gpointer window, const char *title)
{
  press_f1 (GTK_WINDOW (window));
  app_settle (20);
  g_assert_cmpstr (gtk_window_get_title (find_window (NULL)), ==, title);
}

static void
assert_help_of_pages (BedWindow *window)
{
  static const struct
  {
    const char *page, *title;
  } pages[] = {
    { "week", "This week" },
    { "woodlot", "Felling and bolts" },
    { "batches", "A batch" },
    { "yard", "Laying and moving logs" },
    { "soaking", "Soaking and rotation" },
    { "picking", "Picking, lots and selling" },
    { "money", "Money" },
    { "season", "The season and its workbook" },
    { "history", "Putting right, and history" },
    { "care", "Care while they lie" },
    { "names", "Names and lists" },
    { "import", "Bringing in your own sheets" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (pages); i++) /* all there are: tests/tree */
    {
      g_assert_true (bed_window_show_page (window, pages[i].page));
      app_settle (20);
      assert_help (window, pages[i].title);
    }
}

/* A dialog that has to be answered first leaves the manual to be used. */
static void
assert_help_over (BedWindow *window, const char *action, const char *dialog, const char *title)
{
  GtkWindow *over;

  gtk_widget_activate_action (GTK_WIDGET (window), action, NULL);
  app_settle (100);
  over = find_window (dialog);
  g_assert_nonnull (over);
  assert_help (over, title);
  g_assert_true (gtk_window_get_group (over) != gtk_window_get_group (find_window (NULL)));
  gtk_window_destroy (over);
  app_settle (20);
}

static guint
count_listed (GtkWidget *contents)
{
  guint n = 0;

  for (GtkWidget *row = gtk_widget_get_first_child (contents); row;
       row = gtk_widget_get_next_sibling (row))
    n += gtk_widget_get_child_visible (row);
  return n;
}

/* Each page is read without a complaint, and its pictures are in the program. */
static guint
read_all (GtkWindow *manual)
{
  GtkWidget *contents = app_find_of_type (GTK_WIDGET (manual), GTK_TYPE_LIST_BOX);
  guint pictures = 0;
  int n = 0;

  for (GtkListBoxRow *row; (row = gtk_list_box_get_row_at_index (GTK_LIST_BOX (contents), n)); n++)
    {
      g_signal_emit_by_name (contents, "row-activated", row);
      GtkWidget *picture = app_find_of_type (GTK_WIDGET (manual), GTK_TYPE_PICTURE);

      if (!picture)
        continue;
      pictures++;
      g_assert_cmpint (
          gdk_paintable_get_intrinsic_width (gtk_picture_get_paintable (GTK_PICTURE (picture))), >,
          400);
    }
  g_assert_cmpint (n, >, 15);
  return pictures;
}

static void
assert_search (GtkWindow *manual)
{
  GtkWidget *contents = app_find_of_type (GTK_WIDGET (manual), GTK_TYPE_LIST_BOX);
  GtkWidget *search = app_find_of_type (GTK_WIDGET (manual), GTK_TYPE_SEARCH_ENTRY);
  guint all = count_listed (contents);

  gtk_editable_set_text (GTK_EDITABLE (search), "Straight LINE equipment");
  app_settle (20);
  g_assert_cmpuint (count_listed (contents), ==, 1);
  g_signal_emit_by_name (search, "activate");
  g_assert_cmpstr (gtk_window_get_title (manual), ==, "Money");
  gtk_editable_set_text (GTK_EDITABLE (search), "no page has this word: xyzzy");
  app_settle (20);
  g_assert_cmpuint (count_listed (contents), ==, 0);
  g_assert_true (gtk_widget_get_visible (app_find_label (GTK_WIDGET (manual), "No page says")));
  gtk_widget_activate_action (GTK_WIDGET (manual), "manual.escape", NULL);
  app_settle (20);
  g_assert_cmpuint (count_listed (contents), ==, all);
}

/* The part of Markdown that the manual is written in. */
static void
test_manual_text (void)
{
  g_autoptr (GPtrArray) blocks
      = bed_manual_read ("<!-- F1: soak -->\n# Soaking\nTwo lines\nof words.\n\n"
                         "* one\n  and on\n12. twelve\n\n    typed\n\n"
                         "| a | b |\n|---|---|\n| c | d |\n"
                         "![told](../p/x.png)\n");
  static const struct
  {
    BedManualBlockKind kind;
    const char *text, *other;
  } wanted[] = {
    { BED_BLOCK_HEADING, "Soaking", NULL },     { BED_BLOCK_WORDS, "Two lines of words.", NULL },
    { BED_BLOCK_POINT, "one and on", "•" },     { BED_BLOCK_POINT, "twelve", "12." },
    { BED_BLOCK_TYPED, "typed", NULL },         { BED_BLOCK_TABLE, "", NULL },
    { BED_BLOCK_PICTURE, "told", "../p/x.png" }
  };

  g_assert_cmpuint (blocks->len, ==, G_N_ELEMENTS (wanted));
  for (guint i = 0; i < blocks->len; i++)
    {
      const BedManualBlock *block = blocks->pdata[i];

      g_assert_cmpint (block->kind, ==, wanted[i].kind);
      g_assert_cmpstr (block->text, ==, wanted[i].text);
      g_assert_cmpstr (block->mark ? block->mark : block->target, ==, wanted[i].other);
      g_assert_cmpuint (block->cells ? block->cells->len : 0, ==,
                        block->kind == BED_BLOCK_TABLE ? 4 : 0);
    }

  g_autofree char *markup
      = bed_manual_dup_markup ("**Save** & `a<b` *so* [on](x.md#y), 2 * 3 * 4, [not");
  g_autofree char *plain = bed_manual_dup_plain ("**Save** & `a<b` *so* [on](x.md#y), 2 * 3");
  g_assert_cmpstr (
      markup, ==,
      "<b>Save</b> &amp; <tt>a&lt;b</tt> <i>so</i> <a href=\"x.md#y\">on</a>, 2 * 3 * 4,"
      " [not");
  g_assert_cmpstr (plain, ==, "Save & a<b so on, 2 * 3");
}

static void
test_help (void)
{
  BedDemoPlan plan = { .logs = 24, .years = 1, .seed = 5, .today = "2026-07-14" };
  g_autofree char *folder = g_dir_make_tmp ("bedlog-XXXXXX", NULL);
  g_autofree char *path = g_build_filename (folder, "farm.bedlog", NULL);
  g_autoptr (BedFarm) farm = bed_demo_new (path, &plan, NULL);

  bed_manual_begin ();
  BedWindow *window = bed_window_new (NULL, NULL);
  gtk_window_present (GTK_WINDOW (window));
  app_settle (50);
  assert_help (window, "Your first farm");
  bed_window_set_farm (window, farm);
  app_settle (100);
  assert_help_of_pages (window);
  assert_help_over (window, "win.backups", "Backups", "Backups and recovery");
  assert_help_over (window, "win.settings", "Farm and units", "Your first farm");
  assert_help_over (window, "win.shortcuts", "Keyboard shortcuts", "Keys");

  GtkWindow *manual = find_window (NULL);
  g_assert_cmpuint (read_all (manual), >=, 8);
  assert_search (manual);
  g_signal_emit_by_name (app_find_label (GTK_WIDGET (manual), "Spawn is entered"), "activate-link",
                         "spawn-and-wax.md", &(gboolean){ FALSE });
  g_assert_cmpstr (gtk_window_get_title (manual), ==, "Spawn and wax");
  gtk_widget_activate_action (GTK_WIDGET (manual), "manual.back", NULL);
  g_assert_cmpstr (gtk_window_get_title (manual), ==, "Money");
  gtk_widget_activate_action (GTK_WIDGET (manual), "manual.escape", NULL);
  app_settle (20);
  g_assert_null (find_window (NULL));
  assert_help (window, "Bringing in your own sheets");
  app_close (GTK_WIDGET (find_window (NULL)), GTK_WIDGET (find_window (NULL)));
  app_close (GTK_WIDGET (window), GTK_WIDGET (window));
  g_clear_object (&farm);
  g_unlink (path);
  g_rmdir (folder);
}

int
main (int argc, char *argv[])
{
  static const BedDemoPlan several = { .logs = 60, .years = 4, .seed = 3, .today = "2026-07-14" };
  static const BedDemoPlan picking = { .logs = 60, .years = 4, .seed = 3, .today = "2026-06-10" };
  static const BedDemoPlan first = { .logs = 24, .years = 1, .seed = 5, .today = "2026-07-14" };

  gtk_test_init (&argc, &argv, NULL);
  app_begin ();
  g_test_add_data_func ("/answers/several-seasons", &several, test_farm);
  g_test_add_data_func ("/answers/day-of-picks", &picking, test_farm);
  g_test_add_data_func ("/answers/first-season", &first, test_farm);
  g_test_add_func ("/answers/help", test_help);
  g_test_add_func ("/answers/manual-text", test_manual_text);
  return g_test_run ();
}
