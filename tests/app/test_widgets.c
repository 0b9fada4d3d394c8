#include "../ask.h"

#include "app_test.h"

#include "app/batches/plan_panel.h"
#include "app/form/editor.h"
#include "app/host/host.h"
#include "app/widgets/bark_view.h"
#include "app/widgets/big_figures.h"
#include "app/widgets/build.h"
#include "app/widgets/document_view.h"
#include "app/widgets/first_rows.h"
#include "app/widgets/part.h"
#include "app/widgets/split.h"
#include "app/widgets/suggest.h"
#include "app/widgets/table.h"
#include "app/widgets/table_bar.h"
#include "app/widgets/toasts.h"
#include "app/window/application.h"
#include "app/window/search.h"
#include "app/window/window.h"
#include "model/farm/kinds.h"
#include <math.h>

/* --- editors ------------------------------------------------------------------- */

static void
count_cb (int *edits)
{
  (*edits)++;
}

static void
check_editor (BedFarm *farm, BedKind kind, const char *name, const char *text)
{
  GtkWidget *editor = bed_editor_new (farm, bed_kind_find_field (kind, name, NULL));
  GtkWidget *window = app_show (editor);
  int edits = 0;

  g_signal_connect_swapped (editor, "edited", G_CALLBACK (count_cb), &edits);
  g_assert_cmpstr (bed_editor_get_text (BED_EDITOR (editor)), ==, "");
  bed_editor_set_text (BED_EDITOR (editor), text);
  g_assert_cmpstr (bed_editor_get_text (BED_EDITOR (editor)), ==, text);
  g_assert_cmpint (edits, ==, 0); /* only what a person types is an edit */
  g_assert_nonnull (bed_editor_get_focus_widget (BED_EDITOR (editor)));
  app_close (window, editor);
}

static void
test_editors (Scene *scene, gconstpointer data)
{
  check_editor (scene->farm, BED_KIND_LOG, "length", "100");
  check_editor (scene->farm, BED_KIND_LOG, "notes", "two\nlines");
  check_editor (scene->farm, BED_KIND_LOG, "bark", "damaged");
  check_editor (scene->farm, BED_KIND_FELLING, "wood", "northern red oak");
  check_editor (scene->farm, BED_KIND_FELLING, "felled_on", "2026-02-03");
  check_editor (scene->farm, BED_KIND_FELLING, "supplier", "x");
}

/* A key that is none of the choices shows as unset, and the key is kept apart from the word. */
static void
test_choice (Scene *scene, gconstpointer data)
{
  GtkWidget *editor
      = bed_choice_editor_new (bed_kind_find_field (BED_KIND_LOG, "retired_why", NULL));
  GtkWidget *window = app_show (editor);

  bed_editor_set_text (BED_EDITOR (editor), "overrun by a weed fungus");
  g_assert_cmpstr (bed_editor_get_text (BED_EDITOR (editor)), ==, "weed fungus");
  bed_editor_set_text (BED_EDITOR (editor), "no such thing");
  g_assert_cmpstr (bed_editor_get_text (BED_EDITOR (editor)), ==, "");
  app_close (window, editor);
}

/* --- table ----------------------------------------------------------------------- */

static const BedTableColumn log_columns[] = {
  { .column = "code", .title = "Log", .cell = BED_CELL_TEXT },
  { .column = "length",
    .title = "Length",
    .cell = BED_CELL_MEASURE,
    .measure = BED_MEASURE_LENGTH },
};

static const BedTableSpec log_table = {
  .label = "Logs",
  .source = "log_today",
  .columns = log_columns,
  .n_columns = G_N_ELEMENTS (log_columns),
  .order = "code",
  .search = "code || ' ' || stage",
};

static guint
count_rows (BedTable *table)
{
  return g_list_model_get_n_items (G_LIST_MODEL (bed_table_get_list (table)));
}

static void
test_table (Scene *scene, gconstpointer data)
{
  gint64 batch = scene_batch (scene->farm, 12);
  g_autofree char *where = g_strdup_printf ("batch = %" G_GINT64_FORMAT, batch);
  BedTable *table = bed_table_new (scene->farm, &log_table);
  GtkWidget *window = app_show (GTK_WIDGET (table));
  gint64 first, last;

  g_assert_cmpuint (count_rows (table), ==, 12);
  first = bed_list_get_id (bed_table_get_list (table), 0);
  last = bed_list_get_id (bed_table_get_list (table), 11);
  bed_table_set_where (table, where);
  g_assert_cmpuint (count_rows (table), ==, 12);
  bed_table_set_filter (table, "26A-00 spawn");
  g_assert_cmpuint (count_rows (table), ==, 9);
  bed_table_set_filter (table, "it's not there");
  g_assert_cmpuint (count_rows (table), ==, 0);
  bed_table_set_filter (table, "");

  /* A text is bound beside what is typed, and is no part of the question. */
  bed_table_set_where_text (table, "code > ?2", "26A-009-Z");
  bed_table_set_filter (table, "26A");
  g_assert_cmpuint (count_rows (table), ==, 3);
  bed_table_set_where_text (table, "code > ?2", "' OR '1' = '1");
  g_assert_cmpuint (count_rows (table), ==, 12);
  bed_table_set_where_text (table, "code < ?2", "' OR '1' = '1");
  g_assert_cmpuint (count_rows (table), ==, 0);
  bed_table_set_filter (table, "");
  bed_table_set_where (table, where);
  g_assert_cmpuint (count_rows (table), ==, 12);

  g_assert_cmpint (bed_table_get_selected (table), ==, 0);
  g_assert_true (bed_table_select (table, last));
  /* By the code, last first: the same row is still the chosen one. */
  gtk_widget_activate_action (GTK_WIDGET (table), "table.sort", "i", -1);
  g_assert_cmpint (bed_list_get_id (bed_table_get_list (table), 0), ==, last);
  g_assert_cmpint (bed_table_get_selected (table), ==, last);
  gtk_widget_activate_action (GTK_WIDGET (table), "table.sort", "i", 1);
  g_assert_cmpint (bed_list_get_id (bed_table_get_list (table), 0), ==, first);
  app_settle (50);
  app_close (window, GTK_WIDGET (table));
}

/* A log of 102.75 cm is not one of 103. */
static void
test_table_said (Scene *scene, gconstpointer data)
{
  static const BedTableColumn columns[] = { { .field = "code" }, { .field = "length" } };
  static const BedTableSpec spec = { .label = "Logs",
                                     .source = "log",
                                     .kind = BED_KIND_LOG,
                                     .columns = columns,
                                     .n_columns = G_N_ELEMENTS (columns),
                                     .order = "code" };
  g_autoptr (GError) error = NULL;

  scene_batch (scene->farm, 2);
  gint64 first = ask_one (scene->farm, "SELECT min (id) FROM log", 0);
  g_autoptr (BedRecord) log = bed_farm_load (scene->farm, BED_KIND_LOG, first, &error);
  bed_record_set_int (log, "length", 1027500);
  g_assert_true (bed_edit_put_one (scene->farm, log, "Measured again", &error));
  BedTable *table = bed_table_new (scene->farm, &spec);
  GtkWidget *window = app_show (GTK_WIDGET (table));
  app_settle (50);
  g_assert_nonnull (app_find_label (GTK_WIDGET (table), "102.75"));
  app_close (window, GTK_WIDGET (table));
}

/* Tab from a row leaves the table: GTK 4.8 alone would walk every row. */
static void
test_table_tab (Scene *scene, gconstpointer data)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *after = gtk_button_new_with_label ("After");
  BedTable *table;
  GtkWidget *window;
  int tabs = 0;

  scene_batch (scene->farm, 12);
  table = bed_table_new (scene->farm, &log_table);
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (table));
  gtk_box_append (GTK_BOX (box), after);
  window = app_show (box);
  while (!gtk_widget_has_focus (after) && tabs < 20)
    {
      gtk_widget_child_focus (window, GTK_DIR_TAB_FORWARD);
      tabs++;
    }
  g_assert_cmpint (tabs, <=, 3); /* the filter, a row, and out; not twelve rows */
  app_close (window, GTK_WIDGET (table));
}

static GtkWidget *
new_drawn (BedFarm *farm)
{
  return gtk_label_new (NULL);
}

static void
show_drawn (GtkWidget *drawn, BedRow *row)
{
  gtk_label_set_label (GTK_LABEL (drawn), "drawn");
}

static const BedTableColumn wide_columns[] = {
  { .column = "code", .title = "Log" },
  { .column = "notes", .title = "Notes", .from = 500 },
  { .column = "code",
    .title = "Drawing",
    .cell = BED_CELL_DRAWN,
    .drawn_new = new_drawn,
    .drawn_show = show_drawn },
};

static const BedTableSpec wide_table = {
  .label = "Logs",
  .source = "log",
  .columns = wide_columns,
  .n_columns = G_N_ELEMENTS (wide_columns),
  .order = "code",
};

static gboolean
is_seen (BedTable *table, const char *part)
{
  GtkWidget *label = app_find_label (GTK_WIDGET (table), part);

  return label && gtk_widget_get_mapped (label);
}

/* More columns as there is more room, and what is left of it goes to the drawing. */
static void
test_table_widens (Scene *scene, gconstpointer data)
{
  BedTable *table = bed_table_new (scene->farm, &wide_table);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  GtkWidget *window;

  scene_batch (scene->farm, 2);
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (table));
  gtk_widget_set_size_request (GTK_WIDGET (table), 300, -1);
  window = app_show (box);
  g_assert_false (is_seen (table, "Notes"));
  gtk_widget_set_size_request (GTK_WIDGET (table), 600, -1);
  app_settle (100);
  g_assert_true (is_seen (table, "Notes"));
  GtkWidget *cell = gtk_widget_get_parent (app_find_label (GTK_WIDGET (table), "drawn"));
  GtkWidget *code = gtk_widget_get_parent (app_find_label (GTK_WIDGET (table), "26A-001"));
  g_assert_cmpint (gtk_widget_get_width (cell), >, gtk_widget_get_width (code));
  gtk_widget_set_size_request (GTK_WIDGET (table), 300, -1);
  app_settle (100);
  g_assert_false (is_seen (table, "Notes"));
  app_close (window, GTK_WIDGET (table));
}

/* Where nothing is drawn a row, and what marks it, ends where the table does all the same. */
static void
test_table_row_to_the_edge (Scene *scene, gconstpointer data)
{
  BedTable *table = bed_table_new (scene->farm, &log_table);
  GtkWidget *window, *rows;

  scene_batch (scene->farm, 2);
  window = app_show (GTK_WIDGET (table));
  app_settle (100);
  rows = gtk_widget_get_ancestor (app_find_label (GTK_WIDGET (table), "26A-001"),
                                  GTK_TYPE_LIST_VIEW);
  g_assert_cmpint (gtk_widget_get_width (gtk_widget_get_first_child (rows)), ==,
                   gtk_widget_get_width (GTK_WIDGET (table)));
  app_close (window, GTK_WIDGET (table));
}

/* WCAG 2.1, relative luminance of @colour over white. */
static double
get_luminance (const GdkRGBA *colour)
{
  double parts[] = { colour->red, colour->green, colour->blue }, sum = 0;
  static const double weights[] = { 0.2126, 0.7152, 0.0722 };

  for (int i = 0; i < 3; i++)
    {
      double seen = parts[i] * colour->alpha + 1 - colour->alpha;
      sum += weights[i] * (seen <= 0.03928 ? seen / 12.92 : pow ((seen + 0.055) / 1.055, 2.4));
    }
  return sum;
}

/* Heads of columns are read: 4.5 to 1 at least, which the theme's are not. */
static void
test_table_heads (Scene *scene, gconstpointer data)
{
  BedTable *table = bed_table_new (scene->farm, &log_table);
  GdkRGBA colour;

  GtkWidget *window = app_show (GTK_WIDGET (table));
  GtkWidget *head = app_find_label (GTK_WIDGET (table), "Length");
  g_assert_nonnull (head);
  gtk_style_context_get_color (gtk_widget_get_style_context (head), &colour);
  g_assert_cmpfloat (1.05 / (get_luminance (&colour) + 0.05), >=, 4.5);
  app_close (window, GTK_WIDGET (table));
}

/* --- the others --------------------------------------------------------------------- */

/* What is said leaves all else where it stands, and goes when it is closed. */
static void
test_toast (void)
{
  BedToasts *toasts = bed_toasts_new ();
  GtkWidget *foot = adw_bin_new ();

  bed_toasts_stand_in (toasts, ADW_BIN (foot), GTK_ORIENTATION_HORIZONTAL);
  GtkWidget *window = app_show (foot);
  bed_toasts_say (toasts, "Saved <one> & all", BED_TOAST_PLAIN, 0);
  app_settle (50);
  GtkWidget *said = app_find_label (foot, "Saved <one> & all");
  g_assert_true (said && gtk_widget_get_mapped (said));
  g_assert_null (app_find_button (foot, "Undo"));
  bed_toasts_say (toasts, "Saved two", BED_TOAST_UNDO, 7);
  g_assert_nonnull (app_find_button (foot, "Undo"));
  bed_toasts_keep (toasts, 8, 0);
  g_assert_null (app_find_button (foot, "Undo"));
  bed_toasts_free (toasts);
  app_close (window, NULL);
}

static void
test_split (void)
{
  GtkWidget *list = gtk_label_new ("list"), *detail = gtk_label_new ("detail");
  GtkWidget *split = GTK_WIDGET (bed_split_new (list, detail));
  GtkWidget *window = app_show (split);

  g_assert_true (gtk_widget_get_mapped (list) && gtk_widget_get_mapped (detail));
  gtk_window_set_default_size (GTK_WINDOW (window), 500, 400);
  app_settle (200);
  g_assert_cmpint (gtk_widget_get_width (split), <, 780);
  g_assert_true (gtk_widget_get_mapped (list) && !gtk_widget_get_mapped (detail));
  bed_split_show_detail (BED_SPLIT (split));
  app_settle (100);
  g_assert_true (!gtk_widget_get_mapped (list) && gtk_widget_get_mapped (detail));
  app_close (window, split);
}

static void
test_small_widgets (Scene *scene, gconstpointer data)
{
  BedPageFigure figure = { "12", "kg", "picked" };
  GtkWidget *made[] = {
    bed_big_figures_new (),
    GTK_WIDGET (bed_bark_view_new ()),
    GTK_WIDGET (bed_document_view_new ()),
    GTK_WIDGET (bed_search_new ()),
    GTK_WIDGET (bed_plan_panel_new (scene->farm)),
    bed_table_bar_new (scene->farm),
  };

  bed_big_figures_set (made[0], &figure, 1);
  bed_search_set_farm (BED_SEARCH (made[3]), scene->farm);
  g_assert_nonnull (app_find_label (made[0], "picked"));
  bed_table_bar_set (made[5], (double[BED_TABLE_BAR_PARTS]){ 0.5, 0.25, 0 }, "half sold");
  gtk_test_accessible_assert_property (GTK_ACCESSIBLE (made[5]), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                       "half sold");
  /* A page that scrolls gives the least: the bark fills its frame all the same. */
  int least, usual;
  gtk_widget_measure (made[1], GTK_ORIENTATION_VERTICAL, 600, &least, &usual, NULL, NULL);
  g_assert_cmpint (least, ==, 270);
  g_assert_cmpint (usual, ==, 270);
  for (guint i = 0; i < G_N_ELEMENTS (made); i++)
    app_close (app_show (made[i]), made[i]);
}

/* --- the window ----------------------------------------------------------------------- */

static const char *const page_names[] = { "week",    "woodlot", "batches", "yard",    "soaking",
                                          "picking", "money",   "season",  "history", NULL };

/* Each item of an open menu inside is called what stands in it; how many there are. */
static guint
count_items (GtkWidget *inside)
{
  guint n = 0;

  if (g_str_equal (gtk_widget_get_css_name (inside), "modelbutton")
      && gtk_widget_get_mapped (inside))
    {
      GtkWidget *label = app_find_label (inside, "");
      g_autofree char *other = gtk_test_accessible_check_property (
          GTK_ACCESSIBLE (inside), GTK_ACCESSIBLE_PROPERTY_LABEL,
          gtk_label_get_text (GTK_LABEL (label)));

      g_assert_cmpstr (other, ==, NULL);
      n++;
    }
  for (GtkWidget *child = gtk_widget_get_first_child (inside); child;
       child = gtk_widget_get_next_sibling (child))
    n += count_items (child);
  return n;
}

static void
test_window (Scene *scene, gconstpointer data)
{
  BedWindow *window = g_object_new (BED_TYPE_WINDOW, NULL);

  gtk_window_present (GTK_WINDOW (window));
  g_assert_null (bed_window_get_farm (window));
  g_assert_false (bed_window_show_page (window, "woodlot"));
  gtk_widget_activate_action (GTK_WIDGET (window), "win.menu", NULL);
  app_settle (200);
  g_assert_cmpuint (count_items (GTK_WIDGET (window)), >, 6);
  bed_window_set_farm (window, scene->farm);
  /* Its clock stands still, as the demo's: said beside the pages, over none of them. */
  GtkWidget *hint = app_find_label (GTK_WIDGET (window), "In this farm it stays");
  g_assert_nonnull (hint);
  g_assert_true (gtk_widget_get_visible (hint));
  for (int i = 0; page_names[i]; i++)
    {
      g_assert_true (bed_window_show_page (window, page_names[i])); /* an empty farm */
      app_settle (100);
    }
  gint64 batch = scene_batch (scene->farm, 3);
  gint64 log = ask_one (scene->farm, "SELECT max (id) FROM log", 0);
  bed_host_show_record (GTK_WIDGET (window), BED_KIND_BATCH, batch);
  bed_host_show_record (GTK_WIDGET (window), BED_KIND_LOG, log);
  app_settle (200);
  for (int i = 0; page_names[i]; i++)
    {
      g_assert_true (bed_window_show_page (window, page_names[i]));
      gtk_widget_activate_action (GTK_WIDGET (window), "win.add", NULL);
      app_settle (100);
    }
  g_assert_false (bed_window_show_page (window, "no such page"));
  app_close (GTK_WIDGET (window), GTK_WIDGET (window));
}

/* What the button and the toast promise is done. */
static void
test_undo (Scene *scene, gconstpointer data)
{
  BedWindow *window = g_object_new (BED_TYPE_WINDOW, NULL);
  g_autoptr (BedRecord) stand
      = scene_record (scene->farm, BED_KIND_STAND, "name", "Low wood", NULL);
  g_autoptr (BedEdit) edit = bed_edit_new (scene->farm);

  gtk_window_present (GTK_WINDOW (window));
  bed_window_set_farm (window, scene->farm);
  bed_edit_put (edit, stand);
  g_assert_true (bed_host_commit (GTK_WIDGET (window), edit, "Recorded stand Low wood", NULL));
  g_assert_nonnull (app_find_label (GTK_WIDGET (window), "Recorded stand Low wood"));
  gtk_widget_activate_action (GTK_WIDGET (window), "win.undo", NULL);
  g_assert_cmpint (bed_farm_count (scene->farm, BED_KIND_STAND), ==, 0);
  gtk_widget_activate_action (GTK_WIDGET (window), "win.redo", NULL);
  g_assert_cmpint (bed_farm_count (scene->farm, BED_KIND_STAND), ==, 1);
  app_close (GTK_WIDGET (window), GTK_WIDGET (window));
}

/* Closing with something typed asks; what is on the form stays where it is. */
static void
test_close_keeps_typing (Scene *scene, gconstpointer data)
{
  BedWindow *window = g_object_new (BED_TYPE_WINDOW, NULL);
  g_autoptr (BedRecord) draft = bed_record_new (BED_KIND_STAND);
  GtkWidget *entry;

  gtk_window_present (GTK_WINDOW (window));
  bed_window_set_farm (window, scene->farm);
  bed_host_show_draft (GTK_WIDGET (window), draft, NULL);
  app_settle (100);
  entry = gtk_window_get_focus (GTK_WINDOW (window));
  g_assert_true (GTK_IS_EDITABLE (entry));
  gtk_editable_set_text (GTK_EDITABLE (entry), "Low wood");
  gtk_window_close (GTK_WINDOW (window));
  app_settle (300);
  g_assert_true (gtk_widget_get_visible (GTK_WIDGET (window)));
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (entry)), ==, "Low wood");
  app_close (GTK_WIDGET (window), GTK_WIDGET (window));
}

/* --- rows -------------------------------------------------------------------------- */

static void
bind_cb (GtkSignalListItemFactory *factory, GtkListItem *item, guint *bound)
{
  *bound = MAX (*bound, gtk_list_item_get_position (item) + 1);
}

typedef struct
{
  guint bound; /* rows */
  guint first; /* those in the first frame */
} Frames;

static void
painted_cb (GdkFrameClock *clock, Frames *frames)
{
  if (!frames->first)
    frames->first = frames->bound;
}

static void
map_cb (GtkWidget *view, Frames *frames)
{
  g_signal_connect (gtk_widget_get_frame_clock (view), "after-paint", G_CALLBACK (painted_cb),
                    frames);
}

/* Of three hundred rows none is asked for until they are seen, then one screen of them. */
static void
test_first_rows (void)
{
  GtkStringList *rows = gtk_string_list_new (NULL);
  GtkListItemFactory *factory = gtk_signal_list_item_factory_new ();
  GtkWidget *view = gtk_column_view_new (NULL), *scrolled = gtk_scrolled_window_new ();
  Frames frames = { 0 };

  for (int i = 0; i < 300; i++)
    gtk_string_list_append (rows, "row");
  g_signal_connect (factory, "bind", G_CALLBACK (bind_cb), &frames.bound);
  GtkColumnViewColumn *column = gtk_column_view_column_new ("Rows", factory);
  gtk_column_view_append_column (GTK_COLUMN_VIEW (view), column);
  g_object_unref (column);
  GtkSliceListModel *shown = bed_first_rows_new (G_LIST_MODEL (rows), view);
  GtkSelectionModel *model
      = GTK_SELECTION_MODEL (gtk_no_selection_new (g_object_ref (G_LIST_MODEL (shown))));
  gtk_column_view_set_model (GTK_COLUMN_VIEW (view), model);
  g_object_unref (model);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scrolled), view);
  g_assert_cmpuint (frames.bound, ==, 0);
  /* One that is to be selected is among them, seen or not. */
  bed_first_rows_reach (shown, 5);
  g_assert_cmpuint (g_list_model_get_n_items (G_LIST_MODEL (shown)), ==, 32);
  g_signal_connect (view, "map", G_CALLBACK (map_cb), &frames);
  GtkWidget *window = app_show (scrolled);
  for (int i = 0; i < 100 && g_list_model_get_n_items (G_LIST_MODEL (shown)) < 300; i++)
    app_settle (20);
  g_assert_cmpuint (g_list_model_get_n_items (G_LIST_MODEL (shown)), ==, 300);
  g_assert_cmpuint (frames.first, ==, 32);
  app_close (window, window);
  g_object_unref (shown);
}

/* A part is as wide as it is, whatever height GtkStack has for it: its words wrap. */
static void
test_upright (void)
{
  GtkWidget *words
      = bed_words_new ("Spawn between 6.04 lb and 7.02 lb: common practice, no source.", NULL);
  GtkWidget *part = bed_part_new (words);
  int least, at_height;

  g_object_ref_sink (part);
  gtk_widget_measure (part, GTK_ORIENTATION_HORIZONTAL, -1, &least, NULL, NULL, NULL);
  for (int height = 20; height < 400; height += 20)
    {
      gtk_widget_measure (part, GTK_ORIENTATION_HORIZONTAL, height, &at_height, NULL, NULL, NULL);
      g_assert_cmpint (at_height, ==, least);
    }
  g_object_unref (part);
}

#define ADD(path, function)                                                                        \
  g_test_add (path, Scene, "metric", scene_set_up, function, scene_tear_down)

/* One is one; none, many and what is not known are many. */
static void
test_count_words (void)
{
  g_assert_cmpstr (bed_count_words ("1", "log", "logs"), ==, "log");
  g_assert_cmpstr (bed_count_words ("0", "log", "logs"), ==, "logs");
  g_assert_cmpstr (bed_count_words ("11", "log", "logs"), ==, "logs");
  g_assert_cmpstr (bed_count_words (NULL, "log", "logs"), ==, "logs");
}

int
main (int argc, char **argv)
{
  gtk_test_init (&argc, &argv, NULL);
  app_begin ();
  ADD ("/app/editors", test_editors);
  ADD ("/app/choice", test_choice);
  g_test_add_func ("/app/table/first-rows", test_first_rows);
  g_test_add_func ("/app/part/upright", test_upright);
  ADD ("/app/table/sort-and-filter", test_table);
  ADD ("/app/table/said", test_table_said);
  ADD ("/app/table/heads", test_table_heads);
  ADD ("/app/table/widens", test_table_widens);
  ADD ("/app/table/row-to-the-edge", test_table_row_to_the_edge);
  ADD ("/app/table/tab-leaves", test_table_tab);
  g_test_add_func ("/app/count-words", test_count_words);
  g_test_add_func ("/widgets/toast", test_toast);
  g_test_add_func ("/app/split", test_split);
  ADD ("/app/small-widgets", test_small_widgets);
  ADD ("/app/window/pages", test_window);
  ADD ("/app/window/undo", test_undo);
  ADD ("/app/window/close-keeps-typing", test_close_keeps_typing);
  return g_test_run ();
}
