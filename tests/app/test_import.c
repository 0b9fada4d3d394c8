/* Other people's sheets come in through the window: each by no more than five decisions. */
#include "../ask.h"

#include "app_test.h"

#include "app/host/host.h"
#include "app/import/import_page.h"
#include "app/window/window.h"
#include "model/farm/kinds.h"

#include <string.h>

#define PATIENCE 20000 /* ms */
#define MOST_DECISIONS 5

/* What is answered to the questions of a sheet, by their keys. */
typedef struct
{
  const char *file;
  const char *units;
  const char *answers[MOST_DECISIONS + 1][2];
  const char *sql; /* what must be in the farm then */
  gint64 wanted;
} Sheet;

static const Sheet sheets[] = {
  { "picks-us.csv",
    "US",
    { { "need:batch.inoculated_on", "4/1/2022" }, { "need:batch.method", "drilled" } },
    "SELECT count (*) FROM pick p JOIN batch b ON b.id = p.batch",
    4 },
  { "logs-mixed.csv",
    "US",
    { { "name:wood:red oak", "northern red oak" }, { "need:batch.method", "drilled" } },
    "SELECT count (*) FROM log l JOIN batch b ON b.id = l.batch JOIN felling f ON f.id = l.felling",
    5 },
  { "hours.csv", "US", { { NULL } }, "SELECT count (*) FROM hours", 4 },
  { "batches.csv", "US", { { NULL } }, "SELECT count (*) FROM batch", 3 },
  { "cosecha.csv",
    "metric",
    { { "need:batch.inoculated_on", "2022-04-01" }, { "need:batch.method", "drilled" } },
    "SELECT CAST (sum (mass) AS INTEGER) FROM pick",
    2250000 },
};

/* --- helpers ------------------------------------------------------------------------- */

static BedWindow *
open_window (BedFarm *farm)
{
  BedWindow *window = g_object_new (BED_TYPE_WINDOW, NULL);

  gtk_window_present (GTK_WINDOW (window));
  bed_window_set_farm (window, farm);
  return window;
}

static BedImportPage *
open_sheet (BedWindow *window, const char *file)
{
  g_autofree char *path
      = g_build_filename (g_getenv ("BEDLOG_SOURCE"), "tests", "notebook", "sheets", file, NULL);
  const BedImportSource source = { path, NULL, file };

  g_assert_true (bed_window_show_page (window, "import"));
  BedImportPage *page = BED_IMPORT_PAGE (bed_window_get_page (window));
  bed_import_page_open (page, &source);
  return page;
}

static gboolean
await_button (GtkWidget *inside, const char *label)
{
  for (guint waited = 0; waited < PATIENCE; waited += 20)
    {
      GtkWidget *button = app_find_button (inside, label);

      if (button && gtk_widget_get_mapped (button) && gtk_widget_get_sensitive (button))
        return TRUE;
      app_settle (20);
    }
  return FALSE;
}

static gboolean
await_label (GtkWidget *inside, const char *part)
{
  guint waited = 0;

  for (; waited < PATIENCE && !app_find_label (inside, part); waited += 20)
    app_settle (20);
  return waited < PATIENCE;
}

/* The key of the question whose answer has the keyboard; NULL: none has. */
static const char *
get_asked (BedWindow *window)
{
  GtkWidget *focus = gtk_window_get_focus (GTK_WINDOW (window));

  /* GTK moves on from what was taken away at its next frame. */
  if (focus && !gtk_widget_get_root (focus))
    return NULL;
  while (focus && !g_object_get_data (G_OBJECT (focus), "question"))
    focus = gtk_widget_get_parent (focus);
  return focus ? g_object_get_data (G_OBJECT (focus), "question") : NULL;
}

/* The list of choices that a button takes the chosen one of; NULL: it takes none. */
static GtkWidget *
get_list (GtkWidget *button)
{
  GtkWidget *before = gtk_widget_get_prev_sibling (button);

  return before && g_object_get_data (G_OBJECT (before), "keys") ? before : NULL;
}

/* A choice of that question, or what takes it from a list, or where its answer is typed. */
static GtkWidget *
find_answer (GtkWidget *inside, const char *question, const char *answer)
{
  GObject *object = G_OBJECT (inside);

  if (g_strcmp0 (g_object_get_data (object, "question"), question) == 0
      && (GTK_IS_ENTRY (inside) || get_list (inside)
          || g_strcmp0 (g_object_get_data (object, "answer"), answer) == 0))
    return inside;
  for (GtkWidget *child = gtk_widget_get_first_child (inside); child;
       child = gtk_widget_get_next_sibling (child))
    {
      GtkWidget *found = find_answer (child, question, answer);

      if (found)
        return found;
    }
  return NULL;
}

static const char *
find_wanted (const Sheet *sheet, const char *question)
{
  for (guint i = 0; i < MOST_DECISIONS && sheet->answers[i][0]; i++)
    if (g_str_equal (sheet->answers[i][0], question))
      return sheet->answers[i][1];
  g_error ("%s: nobody thought of the question %s", sheet->file, question);
}

static void
choose_in_list (GtkWidget *list, const char *answer)
{
  const char *const *keys = g_object_get_data (G_OBJECT (list), "keys");
  guint at = 0;

  while (keys[at] && !g_str_equal (keys[at], answer))
    at++;
  g_assert_nonnull (keys[at]);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (list), at);
}

static void
give_answer (GtkWidget *page, const char *question, const char *answer)
{
  GtkWidget *widget = find_answer (page, question, answer);

  g_assert_nonnull (widget);
  if (get_list (widget))
    choose_in_list (get_list (widget), answer);
  if (GTK_IS_ENTRY (widget))
    gtk_editable_set_text (GTK_EDITABLE (widget), answer);
  g_signal_emit_by_name (widget, GTK_IS_ENTRY (widget) ? "activate" : "clicked");
}

/* Each is asked for by the keyboard's going there; how many there were. */
static guint
answer_all (BedWindow *window, const Sheet *sheet)
{
  const char *asked;
  guint n = 0;

  while ((asked = get_asked (window)) && n <= MOST_DECISIONS)
    {
      g_autofree char *question = g_strdup (asked);

      give_answer (GTK_WIDGET (bed_window_get_page (window)), question,
                   find_wanted (sheet, question));
      n++;
    }
  return n;
}

static gint64
count_records (Scene *scene)
{
  gint64 n = 0;

  for (int kind = 0; kind < BED_N_KINDS; kind++)
    n += bed_farm_count (scene->farm, kind);
  return n;
}

/* --- tests ----------------------------------------------------------------------------- */

static void
set_up (Scene *scene, gconstpointer sheet)
{
  scene_set_up (scene, ((const Sheet *) sheet)->units);
}

static void
test_sheet (Scene *scene, gconstpointer data)
{
  const Sheet *sheet = data;
  BedWindow *window = open_window (scene->farm);
  gint64 before = count_records (scene);

  GtkWidget *page = GTK_WIDGET (open_sheet (window, sheet->file));
  guint n = answer_all (window, sheet);
  g_assert_cmpuint (n, <=, MOST_DECISIONS);
  g_assert_true (await_button (page, "Bring in"));
  g_assert_nonnull (app_find_label (page, "Rows, and what becomes of them"));
  g_assert_cmpint (count_records (scene), ==, before); /* nothing before the button */
  g_signal_emit_by_name (app_find_button (page, "Bring in"), "clicked");
  g_assert_true (await_button (page, "See what was added"));
  g_assert_nonnull (app_find_label (page, "Brought in: "));
  g_assert_cmpint (ask_one (scene->farm, sheet->sql, 0), ==, sheet->wanted);

  /* The same file again: nothing new. */
  gint64 after = count_records (scene);
  open_sheet (window, sheet->file);
  g_assert_null (get_asked (window)); /* nothing is decided twice, either */
  g_assert_nonnull (app_find_label (page, "Decided as for the last sheet"));
  g_assert_true (await_button (page, "Bring in"));
  g_signal_emit_by_name (app_find_button (page, "Bring in"), "clicked");
  g_assert_true (await_button (page, "See what was added"));
  g_assert_cmpint (count_records (scene), ==, after);

  gtk_widget_activate_action (GTK_WIDGET (window), "win.undo", NULL);
  g_assert_cmpint (count_records (scene), ==, before);
  app_close (GTK_WIDGET (window), page);
}

/* A decision is gone back on, and an answer is asked again. */
static void
test_back (Scene *scene, gconstpointer data)
{
  BedWindow *window = open_window (scene->farm);
  GtkWidget *page = GTK_WIDGET (open_sheet (window, "logs-mixed.csv"));

  g_assert_nonnull (app_find_label (page, "2 questions"));
  give_answer (page, "need:batch.method", "drilled");
  g_assert_nonnull (app_find_label (page, "1 question"));
  g_signal_emit_by_name (app_find_button (page, "Back"), "clicked");
  g_assert_nonnull (app_find_label (page, "2 questions"));
  give_answer (page, "need:batch.method", "drilled");
  g_signal_emit_by_name (app_find_button (page, "Ask again"), "clicked");
  g_assert_nonnull (app_find_label (page, "2 questions"));
  g_assert_cmpstr (get_asked (window), ==, "need:batch.method");
  g_assert_null (app_find_button (page, "Bring in")); /* it says how many are left */
  app_close (GTK_WIDGET (window), page);
}

/* The drop-down that has that word chosen. */
static GtkWidget *
find_drop (GtkWidget *inside, const char *chosen)
{
  if (GTK_IS_DROP_DOWN (inside) && gtk_widget_get_visible (inside))
    {
      GObject *item = gtk_drop_down_get_selected_item (GTK_DROP_DOWN (inside));

      if (GTK_IS_STRING_OBJECT (item)
          && g_str_equal (gtk_string_object_get_string (GTK_STRING_OBJECT (item)), chosen))
        return inside;
    }
  for (GtkWidget *child = gtk_widget_get_first_child (inside); child;
       child = gtk_widget_get_next_sibling (child))
    {
      GtkWidget *found = find_drop (child, chosen);

      if (found)
        return found;
    }
  return NULL;
}

static void
choose (GtkWidget *page, const char *from, const char *to)
{
  GtkWidget *drop = find_drop (page, from);
  g_assert_nonnull (drop);
  GListModel *words = gtk_drop_down_get_model (GTK_DROP_DOWN (drop));

  for (guint i = 0; i < g_list_model_get_n_items (words); i++)
    {
      g_autoptr (GtkStringObject) word = g_list_model_get_item (words, i);

      if (g_str_equal (gtk_string_object_get_string (word), to))
        {
          gtk_drop_down_set_selected (GTK_DROP_DOWN (drop), i);
          return;
        }
    }
  g_error ("%s cannot become %s", from, to);
}

/* What a column is, its unit and its dates are decided in the table, and taken back. */
static void
test_columns (Scene *scene, gconstpointer data)
{
  BedWindow *window = open_window (scene->farm);
  GtkWidget *page = GTK_WIDGET (open_sheet (window, "picks-us.csv"));

  g_assert_nonnull (app_find_label (page, "Fresh mass 11.50 lb"));
  choose (page, "lb", "oz");
  g_assert_nonnull (app_find_label (page, "Fresh mass 0.72 lb"));
  choose (page, "Fresh mass", "(leave out)");
  g_assert_null (find_drop (page, "Fresh mass"));
  g_assert_null (app_find_label (page, "Fresh mass 0.72 lb"));
  g_signal_emit_by_name (app_find_button (page, "Back"), "clicked");
  g_assert_nonnull (find_drop (page, "Fresh mass"));
  g_signal_emit_by_name (app_find_button (page, "Back"), "clicked");
  g_assert_nonnull (app_find_label (page, "Fresh mass 11.50 lb"));
  g_assert_false (gtk_widget_get_sensitive (app_find_button (page, "Back")));
  app_close (GTK_WIDGET (window), page);
}

/* What the rows are, and how the bytes are read. */
static void
test_reading (Scene *scene, gconstpointer data)
{
  BedWindow *window = open_window (scene->farm);
  GtkWidget *page = GTK_WIDGET (open_sheet (window, "hours.csv"));

  choose (page, "hours", "purchases");
  g_assert_null (find_drop (page, "hours"));
  g_assert_nonnull (find_drop (page, "purchases"));
  g_signal_emit_by_name (app_find_button (page, "Back"), "clicked");
  g_assert_nonnull (find_drop (page, "hours"));
  g_assert_nonnull (app_find_label (page, "commas, decimal point"));
  choose (page, "Comma", "Semicolon");
  g_assert_nonnull (app_find_label (page, "semicolons, decimal point"));
  choose (page, "Semicolon", "Comma");
  g_assert_nonnull (find_drop (page, "hours"));
  choose (page, "Point: 1.5", "Comma: 1,5");
  g_assert_nonnull (app_find_label (page, "commas, decimal comma"));
  app_close (GTK_WIDGET (window), page);
}

/* Of two tables in a sheet the first is read, and the other when it is chosen; so it stays when the
 * farm changes meanwhile. */
static void
test_tables (Scene *scene, gconstpointer data)
{
  BedWindow *window = open_window (scene->farm);
  GtkWidget *page = GTK_WIDGET (open_sheet (window, "two-tables.csv"));

  g_assert_nonnull (find_drop (page, "picks"));
  g_assert_nonnull (app_find_label (page, "table 1 of 2"));
  choose (page, "Row 2: Date, Row, Weight (kg)", "Row 6: Date, Customer, Total");
  g_assert_nonnull (app_find_label (page, "table 2 of 2"));
  g_assert_null (find_drop (page, "picks"));
  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_BUYER, "name", "Market hall", NULL));
  app_settle (100);
  g_assert_nonnull (app_find_label (page, "table 2 of 2"));
  choose (page, "Row 6: Date, Customer, Total", "Row 2: Date, Row, Weight (kg)");
  g_assert_nonnull (find_drop (page, "picks"));
  app_close (GTK_WIDGET (window), page);
}

static void
bring_in_all (BedWindow *window, const Sheet *sheet)
{
  GtkWidget *page = GTK_WIDGET (open_sheet (window, sheet->file));

  answer_all (window, sheet);
  g_assert_true (await_button (page, "Bring in"));
}

/* Batches by their numbers, then a list of one of them: it is no more logs, and the page says so
 * before. */
static void
test_counted (Scene *scene, gconstpointer data)
{
  static const Sheet numbers = { "batch-numbers.csv",
                                 "US",
                                 { { "need:felling.felled_on", "=batch.inoculated_on" },
                                   { "need:felling.wood", "=unknown" },
                                   { "need:log.length", "40 in" },
                                   { "need:log.small_diameter", "5 in" } },
                                 NULL,
                                 0 };
  static const Sheet list = { "list-of-batch.csv", "US", { { NULL } }, NULL, 0 };
  BedWindow *window = open_window (scene->farm);

  bring_in_all (window, &numbers);
  GtkWidget *page = GTK_WIDGET (bed_window_get_page (window));
  g_assert_nonnull (app_find_label (page, "125 logs"));
  g_assert_nonnull (app_find_label (page, "60 logs: Length 40 in"));
  g_signal_emit_by_name (app_find_button (page, "Bring in"), "clicked");
  g_assert_true (await_button (page, "See what was added"));
  g_assert_cmpint (bed_farm_count (scene->farm, BED_KIND_LOG), ==, 125);
  bring_in_all (window, &list);
  page = GTK_WIDGET (bed_window_get_page (window));
  g_assert_nonnull (app_find_label (page, "3 that were only counted are listed now"));
  g_signal_emit_by_name (app_find_button (page, "Bring in"), "clicked");
  g_assert_true (await_button (page, "See what was added"));
  g_assert_cmpint (bed_farm_count (scene->farm, BED_KIND_LOG), ==, 125);
  g_assert_cmpint (ask_one (scene->farm, "SELECT count (*) FROM log WHERE counted IS NULL", 0), ==,
                   3);
  app_close (GTK_WIDGET (window), page);
}

/* Why an answer is none stands with the question, and what was typed too. */
static void
test_refused_answer (Scene *scene, gconstpointer data)
{
  BedWindow *window = open_window (scene->farm);
  GtkWidget *page = GTK_WIDGET (open_sheet (window, "picks-us.csv"));

  give_answer (page, "need:batch.inoculated_on", "in the spring");
  g_assert_nonnull (app_find_label (page, "2 questions"));
  g_assert_nonnull (app_find_label (page, "in the spring"));
  GtkWidget *entry = find_answer (page, "need:batch.inoculated_on", NULL);
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (entry)), ==, "in the spring");
  give_answer (page, "need:batch.inoculated_on", "4/1/2022");
  g_assert_null (app_find_label (page, "in the spring"));
  app_close (GTK_WIDGET (window), page);
}

/* What is typed as an answer outlives the end of the reading. */
static void
test_typed_stays (Scene *scene, gconstpointer data)
{
  BedWindow *window = open_window (scene->farm);
  GtkWidget *page = GTK_WIDGET (open_sheet (window, "picks-us.csv"));
  GtkWidget *entry = find_answer (page, "need:batch.inoculated_on", NULL);

  gtk_editable_set_text (GTK_EDITABLE (entry), "4/1/20");
  app_settle (200); /* read by now: all is shown anew */
  entry = find_answer (page, "need:batch.inoculated_on", NULL);
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (entry)), ==, "4/1/20");
  g_assert_cmpstr (get_asked (window), ==, "need:batch.inoculated_on");
  app_close (GTK_WIDGET (window), page);
}

static void
test_paste (Scene *scene, gconstpointer data)
{
  BedWindow *window = open_window (scene->farm);
  GdkClipboard *clipboard = gtk_widget_get_clipboard (GTK_WIDGET (window));

  gdk_clipboard_set_text (clipboard, "Buyer\tTown\nRiver kitchen\tElm\nMarket hall\tAsh\n");
  g_assert_true (gtk_widget_activate_action (GTK_WIDGET (window), "win.paste", NULL));
  g_assert_true (await_label (GTK_WIDGET (window), "Copied cells"));
  GtkWidget *page = GTK_WIDGET (bed_window_get_page (window));
  g_assert_true (BED_IS_IMPORT_PAGE (page));
  g_assert_nonnull (app_find_label (page, "River kitchen, Market hall"));
  app_close (GTK_WIDGET (window), page);
}

static GtkDropTarget *
find_drop_target (GtkWidget *widget)
{
  g_autoptr (GListModel) controllers = gtk_widget_observe_controllers (widget);

  for (guint i = 0; i < g_list_model_get_n_items (controllers); i++)
    {
      g_autoptr (GtkEventController) controller = g_list_model_get_item (controllers, i);

      if (GTK_IS_DROP_TARGET (controller))
        return GTK_DROP_TARGET (controller);
    }
  return NULL;
}

static void
drop_hours (BedWindow *window)
{
  g_autofree char *path = g_build_filename (g_getenv ("BEDLOG_SOURCE"), "tests", "notebook",
                                            "sheets", "hours.csv", NULL);
  GSList files = { g_file_new_for_path (path), NULL };
  g_auto (GValue) value = G_VALUE_INIT;
  gboolean taken = FALSE;

  g_value_init (&value, GDK_TYPE_FILE_LIST);
  g_value_set_boxed (&value, &files);
  g_signal_emit_by_name (find_drop_target (GTK_WIDGET (window)), "drop", &value, 1.0, 1.0, &taken);
  g_object_unref (files.data);
  g_assert_true (taken);
}

static void
test_drop (Scene *scene, gconstpointer data)
{
  BedWindow *window = open_window (scene->farm);

  drop_hours (window);
  g_assert_nonnull (app_find_label (GTK_WIDGET (bed_window_get_page (window)), "hours.csv"));
  app_close (GTK_WIDGET (window), GTK_WIDGET (bed_window_get_page (window)));
}

static GtkWindow *
find_window_over (BedWindow *window)
{
  g_autoptr (GList) windows = gtk_window_list_toplevels ();

  for (GList *at = windows; at; at = at->next)
    if (gtk_window_get_transient_for (at->data) == GTK_WINDOW (window))
      return at->data;
  return NULL;
}

/* Without a farm one is made first, and then the sheet is there. */
static void
test_waits (Scene *scene, gconstpointer data)
{
  BedWindow *window = open_window (NULL);

  drop_hours (window);
  g_assert_cmpstr (gtk_window_get_title (find_window_over (window)), ==, "New farm");
  gtk_window_destroy (find_window_over (window));
  bed_window_set_farm (window, scene->farm);
  g_assert_true (BED_IS_IMPORT_PAGE (bed_window_get_page (window)));
  g_assert_nonnull (app_find_label (GTK_WIDGET (bed_window_get_page (window)), "hours.csv"));
  bed_window_set_farm (window, scene->farm); /* it waits once */
  g_assert_false (BED_IS_IMPORT_PAGE (bed_window_get_page (window)));
  app_close (GTK_WIDGET (window), NULL);
}

/* What the rules of the farm refuse stands with its place, and nothing goes in. */
static void
test_refused (Scene *scene, gconstpointer data)
{
  BedWindow *window = open_window (scene->farm);
  GdkClipboard *clipboard = gtk_widget_get_clipboard (GTK_WIDGET (window));

  gdk_clipboard_set_text (clipboard, "Batch\tInoculated\tMethod\nSpring\t2026-03-02\tdrilled\n"
                                     "Summer\t2031-06-01\tdrilled\n");
  gtk_widget_activate_action (GTK_WIDGET (window), "win.paste", NULL);
  g_assert_true (await_label (GTK_WIDGET (window), "Copied cells"));
  GtkWidget *page = GTK_WIDGET (bed_window_get_page (window));
  g_assert_true (await_label (page, "Why it cannot be brought in yet"));
  g_assert_nonnull (app_find_label (page, "Line 3"));
  g_assert_false (gtk_widget_get_sensitive (app_find_button (page, "Bring in")));
  app_close (GTK_WIDGET (window), page);
}

static GtkWidget *
paste (BedWindow *window, const char *cells)
{
  gdk_clipboard_set_text (gtk_widget_get_clipboard (GTK_WIDGET (window)), cells);
  g_assert_true (gtk_widget_activate_action (GTK_WIDGET (window), "win.paste", NULL));
  for (guint waited = 0; waited < PATIENCE && !BED_IS_IMPORT_PAGE (bed_window_get_page (window));
       waited += 20)
    app_settle (20);
  g_assert_true (await_label (GTK_WIDGET (bed_window_get_page (window)), "Copied cells"));
  return GTK_WIDGET (bed_window_get_page (window));
}

/* Where cells without heads are pasted says what they are. */
static void
test_hint (Scene *scene, gconstpointer data)
{
  static const struct
  {
    const char *page, *cells, *plural;
  } pastes[] = {
    { "batches", "20\t4.5\n22\t5\n", "logs" },
    { "picking", "2026-07-01\t26A\t5 oz\n2026-07-02\t26A\t6 oz\n", "picks" },
    { "money", "2026-07-01\t12.50\n2026-07-02\t7.25\n", "purchases" },
    { "soaking", "2026-07-01\told tank\n2026-07-09\told tank\n", "soaks" },
    { "woodlot", "2026-01-11\tsugar maple\n2026-01-12\tsugar maple\n", "fellings" },
  };
  BedWindow *window = open_window (scene->farm);

  for (guint i = 0; i < G_N_ELEMENTS (pastes); i++)
    {
      g_assert_true (bed_window_show_page (window, pastes[i].page));
      GtkWidget *page = paste (window, pastes[i].cells);
      if (!find_drop (page, pastes[i].plural))
        g_error ("pasted on %s: no %s", pastes[i].page, pastes[i].plural);
    }
  app_close (GTK_WIDGET (window), GTK_WIDGET (bed_window_get_page (window)));
}

/* The first one that is seen. */
static GtkWidget *
find_entry (GtkWidget *inside)
{
  if (GTK_IS_ENTRY (inside) && gtk_widget_get_mapped (inside))
    return inside;
  for (GtkWidget *child = gtk_widget_get_first_child (inside); child;
       child = gtk_widget_get_next_sibling (child))
    {
      GtkWidget *found = find_entry (child);

      if (found)
        return found;
    }
  return NULL;
}

/* What is typed line by line takes cells: they are rather of its kind, and after them it is back
 * there. */
static void
test_typed_lists (Scene *scene, gconstpointer data)
{
  static const struct
  {
    BedKind kind;
    const char *cells;
    guint n;
  } lists[] = {
    { BED_KIND_PICK,
      "Date\tLog\tGrade\tWt (oz)\n2026-05-02\t26A-1\tA\t3\n2026-05-03\t26A-2\tB\t4\n", 2 },
    { BED_KIND_WEIGHING, "2026-05-02\t26A-1\t21 lb\n2026-05-02\t26A-2\t20 lb\n", 2 },
    { BED_KIND_CHECK, "Date\tLog\tNotes\n2026-05-02\t26A-1\twhite\n2026-05-02\t26A-2\tdry\n", 2 },
    { BED_KIND_HOURS, "Date\tTask\tHours\n2026-05-02\tdrilling\t2\n2026-05-03\twaxing\t1:30\n", 2 },
    { BED_KIND_RAIN, "2026-05-02\t0.4 in\n2026-05-03\t0.1 in\n2026-05-04\t0\n", 3 },
  };

  scene_batch (scene->farm, 3);
  BedWindow *window = open_window (scene->farm);
  for (guint i = 0; i < G_N_ELEMENTS (lists); i++)
    {
      g_autoptr (BedRecord) draft = bed_record_new (lists[i].kind);
      gint64 before = bed_farm_count (scene->farm, lists[i].kind);
      bed_host_show_draft (GTK_WIDGET (window), draft, NULL);
      app_settle (50);
      BedPage *page = bed_window_get_page (window);
      app_paste (find_entry (GTK_WIDGET (page)), lists[i].cells);
      BedPage *in = bed_window_get_page (window);
      g_test_message ("%s on %s", bed_kind_get_info (lists[i].kind)->name,
                      G_OBJECT_TYPE_NAME (page));
      g_assert_true (BED_IS_IMPORT_PAGE (in));
      g_assert_true (await_button (GTK_WIDGET (in), "Bring in"));
      g_signal_emit_by_name (app_find_button (GTK_WIDGET (in), "Bring in"), "clicked");
      for (guint waited = 0; waited < PATIENCE && bed_window_get_page (window) != page;
           waited += 20)
        app_settle (20);
      g_assert_true (bed_window_get_page (window) == page);
      g_assert_cmpint (bed_farm_count (scene->farm, lists[i].kind) - before, ==, lists[i].n);
    }
  app_close (GTK_WIDGET (window), GTK_WIDGET (bed_window_get_page (window)));
}

/* One cell, and lines of an address, go into the entry as they would. */
static void
test_one_cell (Scene *scene, gconstpointer data)
{
  g_autoptr (BedRecord) draft = bed_record_new (BED_KIND_HOURS);
  BedWindow *window = open_window (scene->farm);

  bed_host_show_draft (GTK_WIDGET (window), draft, NULL);
  app_settle (50);
  GtkWidget *entry = find_entry (GTK_WIDGET (bed_window_get_page (window)));
  gtk_editable_set_text (GTK_EDITABLE (entry), "2026-05-1x");
  gtk_editable_select_region (GTK_EDITABLE (entry), 9, 10);
  app_paste (entry, "2\n");
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (entry)), ==, "2026-05-12");
  g_assert_false (BED_IS_IMPORT_PAGE (bed_window_get_page (window)));
  app_close (GTK_WIDGET (window), NULL);
}

static void
assert_clipboard (BedWindow *window, const char *wanted)
{
  GdkClipboard *clipboard = gtk_widget_get_clipboard (GTK_WIDGET (window));
  g_auto (GValue) value = G_VALUE_INIT;

  g_value_init (&value, G_TYPE_STRING);
  g_assert_true (
      gdk_content_provider_get_value (gdk_clipboard_get_content (clipboard), &value, NULL));
  g_assert_cmpstr (g_value_get_string (&value), ==, wanted);
}

/* A row is set aside by its button or its key, also one that stops the others, and taken back. */
static void
test_aside (Scene *scene, gconstpointer data)
{
  BedWindow *window = open_window (scene->farm);
  GtkWidget *page = paste (window, "Batch\tInoculated\tMethod\nSpring\t2026-03-02\tdrilled\n"
                                   "Summer\t2031-06-01\tdrilled\nAutumn\t2025-10-01\tdrilled\n");

  g_assert_true (await_label (page, "Why it cannot be brought in yet"));
  g_signal_emit_by_name (app_find_button (page, "Set aside"), "clicked");
  g_assert_true (await_button (page, "Bring in"));
  g_assert_nonnull (app_find_label (page, "Would add 2 batches"));
  g_assert_nonnull (app_find_label (page, "1 set aside"));
  gtk_widget_grab_focus (app_find_button (page, "Set aside"));
  gtk_widget_activate_action (app_find_button (page, "Set aside"), "import.aside",
                              NULL); /* Delete */
  g_assert_true (await_label (page, "Would add 1 batch"));
  g_assert_true (await_button (page, "Bring in"));
  GtkWidget *focus = gtk_window_get_focus (GTK_WINDOW (window));
  g_assert_cmpint (GPOINTER_TO_INT (g_object_get_data (G_OBJECT (focus), "line")), ==, 4);
  g_signal_emit_by_name (app_find_button (page, "Look"), "clicked");
  g_signal_emit_by_name (app_find_button (page, "Take it"), "clicked");
  g_assert_true (await_label (page, "Would add 2 batches"));
  g_assert_true (await_button (page, "Bring in"));
  g_signal_emit_by_name (app_find_button (page, "Bring in"), "clicked");
  g_assert_true (await_button (page, "Copy"));
  g_assert_nonnull (app_find_label (page, "1 row was set aside, and is not in."));
  g_signal_emit_by_name (app_find_button (page, "Copy"), "clicked");
  assert_clipboard (window, "Batch\tInoculated\tMethod\nSummer\t2031-06-01\tdrilled\n");
  app_close (GTK_WIDGET (window), page);
}

/* Those that are right go in without the others, at one press. */
static void
test_all_aside (Scene *scene, gconstpointer data)
{
  BedWindow *window = open_window (scene->farm);
  GtkWidget *page = paste (window, "Batch\tInoculated\tMethod\nSpring\t2026-03-02\tdrilled\n"
                                   "Summer\t2031-06-01\tdrilled\nAutumn\t2033-10-01\tdrilled\n");

  g_assert_true (await_button (page, "Set all aside"));
  g_signal_emit_by_name (app_find_button (page, "Set all aside"), "clicked");
  g_assert_true (await_label (page, "Would add 1 batch"));
  g_assert_nonnull (app_find_label (page, "2 set aside"));
  g_assert_true (await_button (page, "Bring in"));
  g_assert_true (gtk_window_get_focus (GTK_WINDOW (window)) == app_find_button (page, "Bring in"));
  app_close (GTK_WIDGET (window), page);
}

static gint64
count_drilled (Scene *scene)
{
  return ask_one (scene->farm, "SELECT count (*) FROM batch WHERE method = 'drilled'", 0);
}

/* What differs from the farm is shown from and to, and somebody says what becomes of it. */
static void
test_differs (Scene *scene, gconstpointer data)
{
  BedWindow *window = open_window (scene->farm);
  GtkWidget *page = paste (window, "Batch\tInoculated\tMethod\nSpring\t2026-03-02\tdrilled\n");
  g_assert_true (await_button (page, "Bring in"));
  g_signal_emit_by_name (app_find_button (page, "Bring in"), "clicked");
  g_assert_true (await_button (page, "See what was added"));
  gint64 before = count_drilled (scene);

  for (guint left = 2; left > 0; left--)
    {
      paste (window, "Batch\tInoculated\tMethod\nSpring\t2026-03-02\ttotem\n");
      g_assert_true (await_label (page, "What differs from what the farm has"));
      g_assert_nonnull (app_find_label (page, "1 differs"));
      g_assert_null (app_find_button (page, "Bring in"));
      g_signal_emit_by_name (app_find_button (page, "1 question left"), "clicked");
      g_assert_true (gtk_window_get_focus (GTK_WINDOW (window))
                     == app_find_button (page, "Change them"));
      g_signal_emit_by_name (
          app_find_button (page, left > 1 ? "Leave them as they are" : "Change them"), "clicked");
      g_assert_true (await_button (page, "Bring in"));
      g_assert_nonnull (app_find_label (page, left > 1 ? "1 stays as it is" : "1 is changed"));
      g_assert_true (gtk_window_get_focus (GTK_WINDOW (window))
                     == app_find_button (page, "Bring in"));
      g_signal_emit_by_name (app_find_button (page, "Bring in"), "clicked");
      g_assert_true (await_button (page, "See what was added"));
      g_assert_cmpint (count_drilled (scene), ==, before - (left == 1));
    }
  app_close (GTK_WIDGET (window), page);
}

/* While another program has the farm nothing is lost, and it goes on when it is free. */
static void
test_busy (Scene *scene, gconstpointer data)
{
  BedWindow *window = open_window (scene->farm);
  GtkWidget *page = paste (window, "Date\tWho\tTask\tHours\n2024-05-01\tAnn\tdrilling\t2\n");
  g_autoptr (BedFarm) other = bed_farm_open (bed_farm_get_path (scene->farm), NULL);
  BedEdit *writing = bed_edit_new (other);

  g_assert_true (await_button (page, "Bring in"));
  g_assert_true (bed_edit_begin (writing, NULL));
  g_signal_emit_by_name (app_find_button (page, "Bring in"), "clicked");
  guint waited = 0;
  for (; waited < PATIENCE && !find_window_over (window); waited += 20)
    app_settle (20);
  GtkWindow *told = find_window_over (window);
  g_assert_nonnull (app_find_label (GTK_WIDGET (told), "Nothing was added"));
  g_assert_nonnull (app_find_label (GTK_WIDGET (told), "another program"));
  gtk_window_destroy (told);
  g_assert_cmpint (bed_farm_count (scene->farm, BED_KIND_HOURS), ==, 0);
  bed_edit_free (writing);
  g_assert_true (await_button (page, "Bring in"));
  g_signal_emit_by_name (app_find_button (page, "Bring in"), "clicked");
  g_assert_true (await_button (page, "See what was added"));
  g_assert_cmpint (bed_farm_count (scene->farm, BED_KIND_HOURS), ==, 1);
  app_close (GTK_WIDGET (window), page);
}

static char *
dup_many_hours (guint n)
{
  GString *text = g_string_new ("Date\tWho\tTask\tHours\n");

  for (guint i = 0; i < n; i++)
    g_string_append_printf (text, "2024-%02u-%02u\tAnn\tdrilling\t%u.%02u\n", 1 + i / 28 % 12,
                            1 + i % 28, 1 + i % 7, i % 100);
  return g_string_free (text, FALSE);
}

/* All of a cancelled sheet stays out. */
static void
test_cancel (Scene *scene, gconstpointer data)
{
  BedWindow *window = open_window (scene->farm);
  g_autofree char *text = dup_many_hours (4000);

  gdk_clipboard_set_text (gtk_widget_get_clipboard (GTK_WIDGET (window)), text);
  gtk_widget_activate_action (GTK_WIDGET (window), "win.paste", NULL);
  g_assert_true (await_label (GTK_WIDGET (window), "Copied cells"));
  GtkWidget *page = GTK_WIDGET (bed_window_get_page (window));
  g_assert_true (await_button (page, "Bring in"));
  g_assert_nonnull (app_find_label (page, "Would add 4000 hours"));
  g_signal_emit_by_name (app_find_button (page, "Bring in"), "clicked");
  g_assert_nonnull (app_find_label (page, "The farm changes when all of it is in."));
  g_signal_emit_by_name (app_find_button (page, "Cancel"), "clicked");
  g_assert_true (await_label (GTK_WIDGET (window), "Cancelled: nothing was added"));
  g_assert_true (await_button (page, "Bring in"));
  g_assert_cmpint (bed_farm_count (scene->farm, BED_KIND_HOURS), ==, 0);
  g_signal_emit_by_name (app_find_button (page, "Bring in"), "clicked");
  g_assert_true (await_button (page, "See what was added"));
  g_assert_cmpint (bed_farm_count (scene->farm, BED_KIND_HOURS), ==, 4000);
  app_close (GTK_WIDGET (window), page);
}

/* The answer that expect.ini has to a question of a sheet. */
static char *
dup_expected (GKeyFile *expected, const char *file, const char *question)
{
  g_autofree char *answers = g_key_file_get_string (expected, file, "answers", NULL);
  g_auto (GStrv) each = g_strsplit (answers ? answers : "", "|", -1);
  g_autofree char *begin = g_strconcat (question, "=", NULL);

  for (char **answer = each; *answer; answer++)
    if (g_str_has_prefix (*answer, begin))
      return g_strdup (*answer + strlen (begin));
  g_error ("%s: nobody thought of the question %s", file, question);
}

/* How many decisions until it can be brought in. */
static guint
count_decisions (BedWindow *window, GKeyFile *expected, const char *file)
{
  GtkWidget *page = GTK_WIDGET (open_sheet (window, file));
  const char *asked;
  guint n = 0;

  for (; (asked = get_asked (window)) && n <= MOST_DECISIONS; n++)
    {
      g_autofree char *question = g_strdup (asked);
      g_autofree char *answer = dup_expected (expected, file, question);

      give_answer (page, question, answer);
    }
  if (!await_button (page, "Bring in"))
    g_error ("%s cannot be brought in after %u decisions", file, n);
  app_settle (20);
  g_assert_true (gtk_window_get_focus (GTK_WINDOW (window)) == app_find_button (page, "Bring in"));
  return n;
}

/* Of the sheets as farms keep them, those in the farm's @units. */
static void
test_all (Scene *scene, gconstpointer units)
{
  BedWindow *window = open_window (scene->farm);
  g_autofree char *path
      = g_build_filename (g_getenv ("BEDLOG_SOURCE"), "tests", "notebook", "expect.ini", NULL);
  g_autoptr (GKeyFile) expected = g_key_file_new ();
  g_assert_true (g_key_file_load_from_file (expected, path, G_KEY_FILE_NONE, NULL));
  g_auto (GStrv) files = g_key_file_get_groups (expected, NULL);
  guint few = 0;

  for (char **file = files; *file; file++)
    {
      g_autofree char *their = g_key_file_get_string (expected, *file, "units", NULL);
      if (g_str_equal (their ? their : "US", units)
          && !g_key_file_has_key (expected, *file, "stops", NULL))
        few += count_decisions (window, expected, *file) <= MOST_DECISIONS;
    }
  g_assert_cmpuint (few, >=, g_str_equal (units, "US") ? 20 : 10);
  app_close (GTK_WIDGET (window), GTK_WIDGET (bed_window_get_page (window)));
}

#define ADD(name, run) g_test_add ("/import/" name, Scene, "US", scene_set_up, run, scene_tear_down)

int
main (int argc, char **argv)
{
  gtk_test_init (&argc, &argv, NULL);
  app_begin ();
  for (guint i = 0; i < G_N_ELEMENTS (sheets); i++)
    {
      g_autofree char *name = g_strconcat ("/import/", sheets[i].file, NULL);

      g_test_add (name, Scene, &sheets[i], set_up, test_sheet, scene_tear_down);
    }
  g_test_add ("/import/all-us", Scene, "US", scene_set_up, test_all, scene_tear_down);
  g_test_add ("/import/all-metric", Scene, "metric", scene_set_up, test_all, scene_tear_down);
  ADD ("back", test_back);
  ADD ("columns", test_columns);
  ADD ("reading", test_reading);
  ADD ("tables", test_tables);
  ADD ("counted", test_counted);
  ADD ("refused-answer", test_refused_answer);
  ADD ("typed-stays", test_typed_stays);
  ADD ("cancel", test_cancel);
  ADD ("paste", test_paste);
  ADD ("drop", test_drop);
  ADD ("waits", test_waits);
  ADD ("refused", test_refused);
  ADD ("hint", test_hint);
  ADD ("typed-lists", test_typed_lists);
  ADD ("one-cell", test_one_cell);
  ADD ("aside", test_aside);
  ADD ("all-aside", test_all_aside);
  ADD ("differs", test_differs);
  ADD ("busy", test_busy);
  return g_test_run ();
}
