#include "../ask.h"

#include "app_test.h"

#include "app/batches/batch_cells.h"
#include "app/batches/batch_logs.h"
#include "app/batches/life_view.h"
#include "app/batches/log_view.h"
#include "app/batches/retire_form.h"
#include "app/widgets/table.h"
#include "model/season/batch_glance.h"

static GArray *
read_logs (BedFarm *farm)
{
  GArray *logs = g_array_new (FALSE, FALSE, sizeof (gint64));
  g_autoptr (BedQuery) q = bed_query_new (farm, "SELECT id FROM log ORDER BY code");

  while (bed_query_next (q))
    {
      gint64 id = bed_query_int (q, 0);

      g_array_append_val (logs, id);
    }
  g_assert_true (bed_query_finish (q, NULL));
  return logs;
}

static void
assert_undo_says (BedFarm *farm, const char *wanted)
{
  g_autofree char *sentence = bed_history_dup_sentence (farm, bed_history_find_undo (farm));

  g_assert_cmpstr (sentence, ==, wanted);
}

static gint64
count_retired (BedFarm *farm)
{
  return ask_one (farm, "SELECT count (*) FROM log WHERE retired_on = bed_today ()", 0);
}

/* Several at once are one change; one alone is named. */
static void
test_retire (Scene *scene, gconstpointer data)
{
  BedForm *form = bed_retire_form_new (scene->farm);
  GtkWidget *window = app_show (GTK_WIDGET (form));
  g_autoptr (GArray) logs = NULL;
  g_autofree char *code = NULL, *wanted = NULL;

  scene_batch (scene->farm, 5);
  logs = read_logs (scene->farm);
  g_array_set_size (logs, 3);
  bed_retire_form_begin (form, logs);
  g_assert_false (bed_form_has_typing (form));
  bed_form_set_text (form, "retired_why", "rotted");
  g_assert_true (bed_form_save (form, BED_FORM_THEN_LEAVE));
  g_assert_cmpint (count_retired (scene->farm), ==, 3);
  assert_undo_says (scene->farm, "Retired 3 logs: rotted");
  g_assert_true (bed_history_undo (scene->farm, NULL, NULL));
  g_assert_cmpint (count_retired (scene->farm), ==, 0);

  g_array_set_size (logs, 1);
  bed_retire_form_begin (form, logs);
  g_assert_true (bed_form_save (form, BED_FORM_THEN_LEAVE));
  g_assert_cmpint (count_retired (scene->farm), ==, 1);
  code = bed_farm_dup_name (scene->farm, BED_KIND_LOG, g_array_index (logs, gint64, 0));
  wanted = g_strdup_printf ("Retired log %s: spent", code);
  assert_undo_says (scene->farm, wanted);
  app_close (window, GTK_WIDGET (form));
}

/* One that cannot be retired on that day keeps all of them. */
static void
test_retire_refused (Scene *scene, gconstpointer data)
{
  BedForm *form = bed_retire_form_new (scene->farm);
  GtkWidget *window = app_show (GTK_WIDGET (form));
  g_autoptr (GArray) logs = NULL;

  scene_batch (scene->farm, 3);
  logs = read_logs (scene->farm);
  bed_retire_form_begin (form, logs);
  bed_form_set_text (form, "retired_on", "2001-01-01");
  g_assert_false (bed_form_save (form, BED_FORM_THEN_LEAVE));
  g_assert_cmpint (ask_one (scene->farm,
                            "SELECT count (*) FROM log"
                            " WHERE retired_on IS NOT NULL",
                            0),
                   ==, 0);
  app_close (window, GTK_WIDGET (form));
}

/* What is chosen outlives a sort, and only what lives is retired. */
static void
test_chosen (Scene *scene, gconstpointer data)
{
  gint64 batch = scene_batch (scene->farm, 4);
  BedBatchLogs *view = bed_batch_logs_new (scene->farm);
  GtkWidget *window = app_show (GTK_WIDGET (view));
  GtkWidget *table = app_find_of_type (GTK_WIDGET (view), BED_TYPE_TABLE);
  GtkWidget *columns = table ? app_find_of_type (table, GTK_TYPE_COLUMN_VIEW) : NULL;
  g_autoptr (GArray) before = NULL, after = NULL;

  bed_batch_logs_show (view, batch);
  g_assert_nonnull (app_find_label (GTK_WIDGET (view), "Enter opens a log"));
  gtk_selection_model_select_range (gtk_column_view_get_model (GTK_COLUMN_VIEW (columns)), 0, 2,
                                    TRUE);
  before = bed_table_dup_selected (BED_TABLE (table));
  g_assert_cmpuint (before->len, ==, 2);
  g_assert_nonnull (app_find_label (GTK_WIDGET (view), "2 logs chosen"));
  gtk_widget_activate_action (table, "table.sort", "i", -1);
  after = bed_table_dup_selected (BED_TABLE (table));
  g_assert_cmpuint (after->len, ==, 2);
  g_assert_cmpint (g_array_index (after, gint64, 1), ==, g_array_index (before, gint64, 0));
  g_assert_true (bed_batch_logs_show_log (view, g_array_index (before, gint64, 0)));
  g_assert_false (bed_batch_logs_show_log (view, 1));
  app_close (window, GTK_WIDGET (view));
}

static void
count_cb (int *n)
{
  (*n)++;
}

/* The log is read with what it is; when its record goes, the view is left. */
static void
test_view (Scene *scene, gconstpointer data)
{
  BedLogView *view = bed_log_view_new (scene->farm);
  GtkWidget *window = app_show (GTK_WIDGET (view));
  g_autoptr (GArray) logs = NULL;
  g_autofree char *code = NULL;
  int left = 0;

  scene_batch (scene->farm, 1);
  logs = read_logs (scene->farm);
  g_signal_connect_swapped (view, "left", G_CALLBACK (count_cb), &left);
  bed_log_view_show (view, g_array_index (logs, gint64, 0));
  code = bed_farm_dup_name (scene->farm, BED_KIND_LOG, g_array_index (logs, gint64, 0));
  g_assert_nonnull (app_find_label (GTK_WIDGET (view), code));
  g_assert_nonnull (app_find_label (GTK_WIDGET (view), "spawn run"));
  g_assert_nonnull (app_find_label (GTK_WIDGET (view), "Not weighed yet"));
  g_assert_true (gtk_widget_get_sensitive (app_find_button (GTK_WIDGET (view), "Weigh")));
  g_assert_cmpint (left, ==, 0);
  g_assert_true (bed_history_undo (scene->farm, NULL, NULL));
  g_assert_true (bed_log_view_refresh (view, NULL));
  g_assert_cmpint (left, ==, 1);
  app_close (window, GTK_WIDGET (view));
}

/* What is drawn is read aloud, and stands in the list, the latest first. */
static void
test_life (Scene *scene, gconstpointer data)
{
  gint64 batch = scene_batch (scene->farm, 2);
  BedLifeView *life = bed_life_view_new (scene->farm);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *scrolled = gtk_scrolled_window_new ();
  /* As in its page: GTK 4.18 holds a window to what a grid of lines says at its narrowest. */
  GtkWidget *window = app_show (scrolled);

  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scrolled), box);
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (life));
  gtk_box_append (GTK_BOX (box), bed_life_view_get_list (life));
  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_PICK, "picked_on", "2026-05-11",
                                        "batch", "26A", "grade", "A", "mass", "500 g", NULL));
  g_assert_true (bed_life_view_show_batch (life, batch, NULL));
  app_settle (50);
  gtk_test_accessible_assert_property (
      GTK_ACCESSIBLE (gtk_widget_get_first_child (GTK_WIDGET (life))),
      GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
      "1 Feb 2026: felled, F26-1, 2 logs; 1 Mar 2026: inoculated, 26A, 2 logs; "
      "11 May 2026: picked 0.5 kg");
  GtkWidget *latest = gtk_grid_get_child_at (GTK_GRID (bed_life_view_get_list (life)), 1, 0);
  g_assert_cmpstr (gtk_label_get_label (GTK_LABEL (latest)), ==, "picked 0.5 kg");
  app_close (window, GTK_WIDGET (life));
}

/* The drawings of a row say what they show. */
static void
test_batch_cells (Scene *scene, gconstpointer data)
{
  BedListSpec spec = { .source = "batch_summary", .order = "id" };
  GtkWidget *cells[] = { bed_batch_cell_mark_new (scene->farm),
                         bed_batch_cell_life_new (scene->farm),
                         bed_batch_cell_weeks_new (scene->farm) };
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *window = app_show (box);

  scene_batch (scene->farm, 2);
  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_PICK, "picked_on", "2026-05-11",
                                        "batch", "26A", "grade", "A", "mass", "500 g", NULL));
  g_autoptr (BedList) list = bed_list_new (scene->farm, &spec);
  g_autoptr (BedRow) row = g_list_model_get_item (G_LIST_MODEL (list), 0);
  for (guint i = 0; i < G_N_ELEMENTS (cells); i++)
    gtk_box_append (GTK_BOX (box), cells[i]);
  g_assert_nonnull (bed_batch_glances_get (scene->farm, NULL));
  bed_batch_cell_mark_show (cells[0], row);
  bed_batch_cell_life_show (cells[1], row);
  bed_batch_cell_weeks_show (cells[2], row);
  app_settle (50);
  g_assert_nonnull (app_find_label (cells[0], "26A"));
  gtk_test_accessible_assert_property (GTK_ACCESSIBLE (cells[1]), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                       "spawn run, day 72; 2 of 2 logs alive");
  gtk_test_accessible_assert_property (GTK_ACCESSIBLE (cells[2]), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                       "0.5 kg picked in a year, 0.5 kg of it in the best week");
  app_close (window, cells[1]);
}

int
main (int argc, char **argv)
{
  app_begin ();
  g_test_init (&argc, &argv, NULL);
#define ADD(name, test) g_test_add (name, Scene, "metric", scene_set_up, test, scene_tear_down)
  ADD ("/logs/retire", test_retire);
  ADD ("/logs/retire-refused", test_retire_refused);
  ADD ("/logs/chosen", test_chosen);
  ADD ("/logs/view", test_view);
  ADD ("/logs/life", test_life);
  ADD ("/logs/batch-cells", test_batch_cells);
  return g_test_run ();
}
