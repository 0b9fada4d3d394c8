/* Typing that is not saved outlives a window that is asked to close: on each page, in each form of
 * it and each dialog, however well hidden, the question says what it is and "Keep typing" goes
 * there. */
#include "../ask.h"

#include "app_test.h"

#include <glib/gstdio.h>
#include <string.h>

#include "app/batches/batch_logs.h"
#include "app/batches/care_view.h"
#include "app/batches/log_entry.h"
#include "app/batches/log_view.h"
#include "app/desk/browser.h"
#include "app/form/quick.h"
#include "app/host/host.h"
#include "app/paper/sheet_dialog.h"
#include "app/picking/lot_detail.h"
#include "app/picking/pick_line.h"
#include "app/widgets/split.h"
#include "app/window/farm_dialog.h"
#include "app/window/window.h"
#include "app/window/window_files.h"
#include "app/yard/yard_panel.h"
#include "app/yard/yard_strip.h"
#include "model/demo/demo.h"
#include "model/farm/kinds.h"
#include "model/season/draft.h"

#define HALF "Half typed and not saved: "

#define LEAST_WIDTH 1200 /* px, of a window that forms need not scroll in */

typedef struct
{
  char *folder;
  BedFarm *farm;
  BedWindow *window;
} Desk;

static BedWindow *
open_window (BedFarm *farm)
{
  BedWindow *window = g_object_new (BED_TYPE_WINDOW, NULL);

  gtk_window_present (GTK_WINDOW (window));
  bed_window_set_farm (window, farm);
  app_settle (50);
  return window;
}

static void
set_up (Desk *desk, gconstpointer data)
{
  BedDemoPlan plan = { .logs = 60, .years = 2, .seed = 1, .today = "2026-07-14" };
  g_autoptr (GError) error = NULL;

  desk->folder = g_dir_make_tmp ("bedlog-XXXXXX", NULL);
  g_autofree char *path = g_build_filename (desk->folder, "demo.bedlog", NULL);
  desk->farm = bed_demo_new (path, &plan, &error);
  g_assert_no_error (error);
  desk->window = open_window (desk->farm);
}

static void
tear_down (Desk *desk, gconstpointer data)
{
  g_autofree char *path = g_build_filename (desk->folder, "demo.bedlog", NULL);

  if (desk->window)
    gtk_window_destroy (GTK_WINDOW (desk->window));
  app_settle (200);
  g_assert_finalize_object (desk->farm);
  g_remove (path);
  g_remove (desk->folder);
  g_free (desk->folder);
}

/* --- finding ------------------------------------------------------------------------- */

/* The question over @window, or NULL; a window of another type over it when @type says so. */
static gpointer
find_over (gpointer window, GType type)
{
  g_autoptr (GList) windows = gtk_window_list_toplevels ();

  for (GList *l = windows; l; l = l->next)
    if (gtk_window_get_transient_for (l->data) == window
        && G_TYPE_CHECK_INSTANCE_TYPE (l->data, type))
      return l->data;
  return NULL;
}

static gboolean
is_there (gpointer window)
{
  g_autoptr (GList) windows = gtk_window_list_toplevels ();

  return g_list_find (windows, window) != NULL;
}

static gpointer
find_page_part (Desk *desk, const char *page, GType type)
{
  g_assert_true (bed_window_show_page (desk->window, page));
  app_settle (50);
  gpointer part = app_find_of_type (bed_window_get_page (desk->window), type);
  g_assert_nonnull (part);
  return part;
}

static void
press (gpointer inside, const char *label)
{
  GtkWidget *button = app_find_button (inside, label);

  g_assert_nonnull (button);
  g_signal_emit_by_name (button, "clicked");
}

static gint64
ask (Desk *desk, const char *sql)
{
  gint64 id = ask_one (desk->farm, sql, 0);

  g_assert_cmpint (id, >, 0);
  return id;
}

/* --- typing -------------------------------------------------------------------------- */

/* In a window of 1280 x 800, and in the small ones over it, all of a form is seen at once. */
static void
assert_fits (GtkWidget *form)
{
  GtkWidget *view = app_find_of_type (form, GTK_TYPE_VIEWPORT);
  GtkAdjustment *down = gtk_scrollable_get_vadjustment (GTK_SCROLLABLE (view));
  double height = gtk_adjustment_get_upper (down), room = gtk_adjustment_get_page_size (down);

  if (height > room)
    g_error ("%g px of form in %g of \"%s\"", height, room,
             gtk_window_get_title (GTK_WINDOW (gtk_widget_get_root (form))));
}

/* What is read beside a list is no wider than its place, however long its words are. */
static void
assert_within (GtkWidget *detail)
{
  GtkWidget *place = detail ? gtk_widget_get_ancestor (detail, GTK_TYPE_VIEWPORT) : NULL;

  if (place && gtk_widget_get_width (detail) > gtk_widget_get_width (place))
    g_error ("%d px of %s in %d", gtk_widget_get_width (detail), G_OBJECT_TYPE_NAME (detail),
             gtk_widget_get_width (place));
}

/* The form that has the keyboard in @window. */
static BedForm *
get_form (gpointer window)
{
  GtkWidget *focus = gtk_window_get_focus (window);
  GtkWidget *form = focus ? gtk_widget_get_ancestor (focus, BED_TYPE_FORM) : NULL;

  g_assert_nonnull (form);
  app_settle (50);
  if (!BED_IS_WINDOW (window) || gtk_widget_get_width (window) >= LEAST_WIDTH)
    assert_fits (form);
  return BED_FORM (form);
}

/* Into the first line of text of the form; the keyboard is there then. */
static GtkWidget *
type_into (BedForm *form)
{
  GtkWidget *entry = app_find_of_type (form, GTK_TYPE_ENTRY);
  GtkWidget *row = gtk_widget_get_ancestor (entry, BED_TYPE_FIELD_ROW);

  bed_field_row_set_text (BED_FIELD_ROW (row), "x");
  gtk_widget_grab_focus (entry);
  return GTK_WIDGET (form);
}

/* As Esc does. */
static void
leave (BedForm *form)
{
  g_signal_emit_by_name (form, "left");
}

/* --- asking -------------------------------------------------------------------------- */

/* Closes @window: it stays, and the question has @words in it. Borrowed. */
static gpointer
close_asked (gpointer window, const char *words)
{
  AdwMessageDialog *question;

  gtk_window_close (window);
  app_settle (50);
  g_assert_true (is_there (window));
  question = find_over (window, ADW_TYPE_MESSAGE_DIALOG);
  g_assert_nonnull (question);
  if (!app_find_label (GTK_WIDGET (question), words))
    g_error ("it does not say: %s", words);
  return question;
}

static void
answer (gpointer question, const char *label)
{
  press (question, label);
  app_settle (50);
}

static void
assert_keyboard_in (GtkWidget *widget)
{
  GtkWidget *window = GTK_WIDGET (gtk_widget_get_root (widget));
  GtkWidget *focus = gtk_window_get_focus (GTK_WINDOW (window));

  g_assert_true (gtk_widget_get_mapped (widget));
  g_assert_nonnull (focus);
  g_assert_true (focus == widget || gtk_widget_is_ancestor (focus, widget));
  g_assert_true (gtk_widget_is_sensitive (focus));
}

/* The row of the names of pages that is marked. */
static const char *
get_marked_page (Desk *desk)
{
  GtkListBox *names = app_find_of_type (desk->window, GTK_TYPE_LIST_BOX);
  GtkListBoxRow *row = gtk_list_box_get_selected_row (names);

  return gtk_label_get_label (app_find_of_type (row, GTK_TYPE_LABEL));
}

/* What was typed in @typed is asked about from another page, and gone back to. */
static void
check_kept (Desk *desk, GtkWidget *typed, const char *words)
{
  GtkWidget *page = gtk_widget_get_ancestor (typed, BED_TYPE_PAGE);

  bed_window_show_page (desk->window, "history");
  app_settle (50);
  answer (close_asked (desk->window, words), "Keep typing");
  g_assert_true (GTK_WIDGET (bed_window_get_page (desk->window)) == page);
  g_assert_cmpstr (get_marked_page (desk), !=, "History");
  assert_keyboard_in (typed);
  if (g_test_verbose ())
    g_test_message ("%s: %s", G_OBJECT_TYPE_NAME (page), words);
}

/* Nothing is asked, and another window takes its place. */
static void
check_closes (Desk *desk)
{
  gtk_window_close (GTK_WINDOW (desk->window));
  app_settle (50);
  g_assert_false (is_there (desk->window));
  desk->window = open_window (desk->farm);
}

/* Typed in, left as by Esc, asked about; then taken back: see check_closes(). */
static void
check_form (Desk *desk, BedForm *form, const char *words)
{
  g_autoptr (BedRecord) before = bed_record_copy (bed_form_get_original (form));
  GtkWidget *clear;

  type_into (form);
  leave (form);
  check_kept (desk, GTK_WIDGET (form), words);
  clear = app_find_button (GTK_WIDGET (form), "Clear");
  g_assert_true (clear && gtk_widget_get_mapped (clear));
  press (form, "Clear");
  g_assert_false (bed_form_has_typing (form));
  g_assert_false (gtk_widget_get_mapped (clear));
  bed_form_edit (form, before);
}

/* --- new records on their pages --------------------------------------------------------- */

static void
test_new (Desk *desk, gconstpointer data)
{
  static const struct
  {
    BedKind kind;
    const char *page;
  } cases[] = {
    { BED_KIND_DUE, "week" },          { BED_KIND_CHECK, "week" },
    { BED_KIND_WEIGHING, "week" },     { BED_KIND_WATERING, "week" },
    { BED_KIND_RAIN, "week" },         { BED_KIND_FELLING, "woodlot" },
    { BED_KIND_STAND, "woodlot" },     { BED_KIND_SPAWN, "woodlot" },
    { BED_KIND_BATCH, "batches" },     { BED_KIND_SOAK, "soaking" },
    { BED_KIND_LOT, "picking" },       { BED_KIND_SALE, "picking" },
    { BED_KIND_PURCHASE, "money" },    { BED_KIND_HOURS, "money" },
    { BED_KIND_EQUIPMENT, "money" },   { BED_KIND_RATE, "money" },
    { BED_KIND_STOCK_COUNT, "money" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (BedRecord) draft = bed_draft_new (desk->farm, cases[i].kind);
      g_autofree char *words
          = cases[i].kind == BED_KIND_RAIN
                ? g_strdup ("What you typed under “Weather of a day”")
                : g_strconcat (HALF, bed_kind_get_info (cases[i].kind)->singular, NULL);

      g_test_message ("%s", bed_kind_get_info (cases[i].kind)->singular);
      bed_host_show_draft (GTK_WIDGET (desk->window), draft, NULL);
      app_settle (50);
      check_form (desk, get_form (desk->window), words);
    }
  check_closes (desk);
}

/* The page that a kind's records are seen on, in the woodlot and where money is. */
static void
test_changed (Desk *desk, gconstpointer data)
{
  static const struct
  {
    const char *page;
    BedKind kind;
  } cases[] = {
    { "woodlot", BED_KIND_FELLING }, { "batches", BED_KIND_BATCH },
    { "soaking", BED_KIND_SOAK },    { "picking", BED_KIND_LOT },
    { "picking", BED_KIND_SALE },    { "money", BED_KIND_PURCHASE },
    { "money", BED_KIND_HOURS },     { "money", BED_KIND_EQUIPMENT },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      const BedKindInfo *info = bed_kind_get_info (cases[i].kind);
      g_autofree char *sql = g_strdup_printf ("SELECT max (id) FROM \"%s\"", info->name);
      gint64 id = ask (desk, sql);
      g_autofree char *name = info->key ? bed_farm_dup_name (desk->farm, cases[i].kind, id) : NULL;
      g_autofree char *words = g_strdup_printf ("A changed %s%s%s is not saved.", info->singular,
                                                name ? " " : "", name ? name : "");

      g_test_message ("%s", info->singular);
      bed_host_show_record (GTK_WIDGET (desk->window), cases[i].kind, id);
      app_settle (50);
      GtkWidget *browser = gtk_widget_get_ancestor (
          gtk_window_get_focus (GTK_WINDOW (desk->window)), BED_TYPE_BROWSER);
      g_assert_nonnull (browser);
      assert_within (bed_browser_get_detail (BED_BROWSER (browser)));
      gtk_widget_activate_action (GTK_WIDGET (browser), "record.change", NULL);
      check_form (desk, get_form (desk->window), words);
    }
  check_closes (desk);
}

/* --- batches ----------------------------------------------------------------------------- */

static void
test_log_forms (Desk *desk, gconstpointer data)
{
  static const struct
  {
    const char *button;
    const char *words;
  } cases[] = { { "Change", "A changed log " },
                { "Retire", "Retire logs" },
                { "Weigh", HALF "weighing" } };
  gint64 log = ask (desk, "SELECT max (id) FROM log WHERE retired_on IS NULL");

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      bed_host_show_record (GTK_WIDGET (desk->window), BED_KIND_LOG, log);
      app_settle (50);
      press (find_page_part (desk, "batches", BED_TYPE_LOG_VIEW), cases[i].button);
      check_form (desk, get_form (desk->window), cases[i].words);
    }
  check_closes (desk);
}

/* Deep in the detail of a batch, from where another batch was gone to. */
static void
test_batch_detail (Desk *desk, gconstpointer data)
{
  gint64 other = ask (desk, "SELECT min (id) FROM batch");
  gint64 batch = ask (desk, "SELECT batch FROM log WHERE retired_on IS NULL"
                            " ORDER BY batch DESC LIMIT 1");
  static const char *const words[] = { HALF "weighing", HALF "check", HALF "sample disc" };

  for (int i = 0; i < (int) G_N_ELEMENTS (words); i++)
    {
      bed_host_show_record (GTK_WIDGET (desk->window), BED_KIND_BATCH, batch);
      bed_page_show_part (bed_window_get_page (desk->window), 2);
      gtk_widget_activate_action (find_page_part (desk, "batches", BED_TYPE_CARE_VIEW),
                                  "care.record", "i", i);
      BedForm *form = get_form (desk->window);
      type_into (form);
      bed_host_show_record (GTK_WIDGET (desk->window), BED_KIND_BATCH, other);
      check_form (desk, form, words[i]);
    }
  bed_host_show_record (GTK_WIDGET (desk->window), BED_KIND_BATCH, batch);
  bed_page_show_part (bed_window_get_page (desk->window), 1);
  GtkWidget *logs = find_page_part (desk, "batches", BED_TYPE_BATCH_LOGS);
  bed_batch_logs_show_log (BED_BATCH_LOGS (logs),
                           ask (desk, "SELECT max (id) FROM log WHERE retired_on IS NULL"
                                      " AND batch = (SELECT batch FROM log WHERE retired_on IS NULL"
                                      " ORDER BY batch DESC LIMIT 1)"));
  gtk_widget_activate_action (logs, "logs.retire", NULL);
  check_form (desk, get_form (desk->window), "Retire logs");
  check_closes (desk);
}

static BedLogEntry *
type_log (Desk *desk)
{
  bed_window_show_page (desk->window, "batches");
  bed_page_add (bed_window_get_page (desk->window));
  BedForm *form = get_form (desk->window);
  BedLogEntry *entry = app_find_of_type (form, BED_TYPE_LOG_ENTRY);
  bed_form_set_text (form, "length", "100");
  bed_form_set_text (form, "small_diameter", "12");
  g_assert_cmpuint (bed_log_entry_take_pending (entry)->len, ==, 1);
  return entry;
}

static void
test_log_lines (Desk *desk, gconstpointer data)
{
  BedLogEntry *entry = type_log (desk);
  BedForm *form = get_form (desk->window);

  leave (form);
  check_kept (desk, GTK_WIDGET (entry), "1 log typed for a batch is not saved.");
  check_kept (desk, GTK_WIDGET (entry), HALF "batch");
  g_autofree char *spawn = bed_farm_dup_name (
      desk->farm, BED_KIND_SPAWN, ask (desk, "SELECT spawn FROM spawn_used ORDER BY id LIMIT 1"));
  bed_form_set_text (form, "spawn", spawn);
  if (!bed_form_save (form, BED_FORM_THEN_LEAVE))
    g_error ("the batch was refused");
  check_closes (desk);
}

/* --- picking --------------------------------------------------------------------------- */

static void
record_drying (BedLotDetail *detail)
{
  g_assert_true (
      gtk_widget_activate_action (GTK_WIDGET (detail), "lot.dry", "x", G_GINT64_CONSTANT (0)));
}

static void
test_picking (Desk *desk, gconstpointer data)
{
  gint64 pick = ask (desk, "SELECT max (id) FROM pick");
  gint64 lot = ask (desk, "SELECT max (id) FROM lot");

  bed_host_show_record (GTK_WIDGET (desk->window), BED_KIND_PICK, pick);
  app_settle (50);
  press (bed_window_get_page (desk->window), "Change pick");
  check_form (desk, get_form (desk->window), "Change this pick");

  bed_host_show_record (GTK_WIDGET (desk->window), BED_KIND_LOT, lot);
  app_settle (50);
  record_drying (find_page_part (desk, "picking", BED_TYPE_LOT_DETAIL));
  check_form (desk, get_form (desk->window), "Drying");
  check_closes (desk);
}

/* No lot is chosen in the list any more: the drying is typed in none that is seen. */
static void
test_nothing_chosen (Desk *desk, gconstpointer data)
{
  bed_host_show_record (GTK_WIDGET (desk->window), BED_KIND_LOT,
                        ask (desk, "SELECT max (id) FROM lot"));
  app_settle (50);
  BedLotDetail *detail = find_page_part (desk, "picking", BED_TYPE_LOT_DETAIL);
  GtkWidget *browser = gtk_widget_get_ancestor (GTK_WIDGET (detail), BED_TYPE_BROWSER);
  BedTable *table = app_find_of_type (browser, BED_TYPE_TABLE);
  record_drying (detail);
  BedForm *form = get_form (desk->window);
  type_into (form);
  bed_table_set_filter (table, "no such lot");
  app_settle (400);
  g_assert_cmpint (bed_browser_get_selected (BED_BROWSER (browser)), ==, 0);
  check_kept (desk, GTK_WIDGET (form), "Drying");
}

static void
test_pick_line (Desk *desk, gconstpointer data)
{
  BedPickLine *line = find_page_part (desk, "picking", BED_TYPE_PICK_LINE);
  g_autoptr (BedRecord) draft = bed_record_new (BED_KIND_PICK);
  GtkWidget *focus;

  /* Filled in by the desk, not typed. */
  bed_record_set_int (draft, "batch", ask (desk, "SELECT max (id) FROM batch"));
  bed_host_show_draft (GTK_WIDGET (desk->window), draft, NULL);
  check_closes (desk);

  line = find_page_part (desk, "picking", BED_TYPE_PICK_LINE);
  bed_host_show_draft (GTK_WIDGET (desk->window), draft, NULL);
  focus = gtk_window_get_focus (GTK_WINDOW (desk->window)); /* the weight */
  gtk_editable_set_text (GTK_EDITABLE (focus), "210 g");
  bed_page_show_part (bed_window_get_page (desk->window), 1);
  check_kept (desk, GTK_WIDGET (line), HALF "pick");
  press (line, "Record pick");
  check_closes (desk);
}

/* --- the yard ----------------------------------------------------------------------------- */

static void
test_yard (Desk *desk, gconstpointer data)
{
  static const struct
  {
    BedKind kind;
    const char *sql; /* of the one that is changed; NULL: a new one */
    const char *words;
  } cases[] = {
    { BED_KIND_AREA, NULL, HALF "area" },
    { BED_KIND_FEATURE, NULL, HALF "feature" },
    { BED_KIND_AREA, "SELECT min (id) FROM area", "A changed area " },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_signal_emit_by_name (find_page_part (desk, "yard", BED_TYPE_YARD_STRIP), "edit",
                             (guint) cases[i].kind, cases[i].sql ? ask (desk, cases[i].sql) : 0);
      check_form (desk, get_form (desk->window), cases[i].words);
    }
  check_closes (desk);
}

/* The details of a stack, with no stack selected any more or with another area seen. */
static void
test_stack (Desk *desk, gconstpointer data)
{
  gint64 stack = ask (desk, "SELECT id FROM stack WHERE taken_down_on IS NULL LIMIT 1");
  gint64 area
      = scene_add (desk->farm, scene_record (desk->farm, BED_KIND_AREA, "name", "Behind the barn",
                                             "width", "10 m", "depth", "8 m", NULL));

  bed_host_show_record (GTK_WIDGET (desk->window), BED_KIND_STACK, stack);
  app_settle (50);
  GtkWidget *panel = find_page_part (desk, "yard", BED_TYPE_YARD_PANEL);
  BedForm *form = app_find_of_type (panel, BED_TYPE_FORM);
  GtkWidget *tabs = gtk_widget_get_ancestor (GTK_WIDGET (form), GTK_TYPE_STACK);
  gtk_stack_set_visible_child_name (GTK_STACK (tabs), "details");
  type_into (form);
  g_signal_emit_by_name (panel, "select", G_GINT64_CONSTANT (0));
  check_kept (desk, GTK_WIDGET (form), "A changed stack ");
  bed_host_show_record (GTK_WIDGET (desk->window), BED_KIND_AREA, area);
  check_kept (desk, GTK_WIDGET (form), "A changed stack ");
}

/* --- where nothing is typed, and little room ---------------------------------------------- */

static void
test_untouched (Desk *desk, gconstpointer data)
{
  static const char *const names[] = { "week",    "woodlot", "batches", "yard",   "soaking",
                                       "picking", "money",   "season",  "history" };

  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_assert_true (bed_window_show_page (desk->window, names[i]));
      app_settle (50);
      bed_page_add (bed_window_get_page (desk->window)); /* opens the form, types nothing */
    }
  g_assert_null (app_find_of_type (find_page_part (desk, "season", BED_TYPE_PAGE), BED_TYPE_FORM));
  g_assert_null (app_find_of_type (find_page_part (desk, "history", BED_TYPE_PAGE), BED_TYPE_FORM));
  check_closes (desk);
}

static void
test_saved (Desk *desk, gconstpointer data)
{
  bed_window_show_page (desk->window, "money");
  bed_page_add (bed_window_get_page (desk->window));
  BedForm *form = get_form (desk->window);
  bed_form_set_text (form, "what", "twelve drill bits");
  bed_form_set_text (form, "category", "tools");
  bed_form_set_text (form, "scope", "yard");
  bed_form_set_text (form, "amount", "36");
  answer (close_asked (desk->window, HALF "purchase"), "Keep typing");
  if (!bed_form_save (form, BED_FORM_THEN_LEAVE))
    g_error ("the purchase was refused");
  check_closes (desk);
}

/* Where the list and what is read share one place, the list being seen. */
static void
test_narrow (Desk *desk, gconstpointer data)
{
  app_widen (GTK_WIDGET (desk->window), 700);
  bed_host_show_record (GTK_WIDGET (desk->window), BED_KIND_BATCH,
                        ask (desk, "SELECT max (id) FROM batch"));
  bed_page_show_part (bed_window_get_page (desk->window), 2);
  app_settle (200);
  GtkWidget *care = find_page_part (desk, "batches", BED_TYPE_CARE_VIEW);
  GtkWidget *split = gtk_widget_get_ancestor (care, BED_TYPE_SPLIT);
  gtk_widget_activate_action (care, "care.record", "i", 1);
  BedForm *form = get_form (desk->window);
  type_into (form);
  bed_split_show_list (BED_SPLIT (split));
  for (int i = 0; i < 100 && gtk_widget_get_mapped (GTK_WIDGET (form)); i++)
    app_settle (50);
  g_assert_false (gtk_widget_get_mapped (GTK_WIDGET (form)));
  check_kept (desk, GTK_WIDGET (form), HALF "check");
}

/* Each is named, and "Close without saving" closes over them. */
static void
test_several (Desk *desk, gconstpointer data)
{
  static const BedKind kinds[] = { BED_KIND_FELLING, BED_KIND_SOAK, BED_KIND_HOURS };
  gpointer question = NULL;

  for (guint i = 0; i < G_N_ELEMENTS (kinds); i++)
    {
      g_autoptr (BedRecord) draft = bed_draft_new (desk->farm, kinds[i]);

      bed_host_show_draft (GTK_WIDGET (desk->window), draft, NULL);
      app_settle (50);
      type_into (get_form (desk->window));
    }
  question = close_asked (desk->window, HALF "felling");
  g_assert_nonnull (app_find_label (GTK_WIDGET (question), HALF "soak"));
  g_assert_nonnull (app_find_label (GTK_WIDGET (question), HALF "hours"));
  answer (question, "Close without saving");
  g_assert_false (is_there (desk->window));
  desk->window = NULL;
}

/* Another farm has a window of its own: what is typed in this one stands. */
static void
test_other_farm (Desk *desk, gconstpointer data)
{
  BedForm *form;
  GtkWindow *demo;

  bed_window_show_page (desk->window, "money");
  bed_page_add (bed_window_get_page (desk->window));
  form = get_form (desk->window);
  type_into (form);
  gtk_widget_activate_action (GTK_WIDGET (desk->window), "win.demo", NULL);
  app_settle (50);
  demo = bed_window_files_find_demo ();
  g_assert_true (demo && demo != GTK_WINDOW (desk->window));
  g_assert_null (find_over (desk->window, ADW_TYPE_MESSAGE_DIALOG));
  g_assert_true (bed_window_get_farm (desk->window) == desk->farm);
  g_assert_true (bed_form_has_typing (form));
  gtk_window_destroy (demo);
}

/* --- another one asked for in the same form -------------------------------------------------- */

/* The question that stands over the window and says @words. */
static gpointer
get_question (Desk *desk, const char *words)
{
  app_settle (50);
  AdwMessageDialog *question = find_over (desk->window, ADW_TYPE_MESSAGE_DIALOG);
  g_assert_nonnull (question);
  if (!app_find_label (GTK_WIDGET (question), words))
    g_error ("it does not say: %s", words);
  return question;
}

/* The form @ask brought up still holds what was typed about another: kept first, left then. */
static void
check_other (Desk *desk, BedForm *form, void (*ask_for) (Desk *desk, gint64 id), gint64 id)
{
  g_autoptr (BedRecord) before = g_object_ref (bed_form_get_original (form));

  ask_for (desk, id);
  answer (get_question (desk, "A changed "), "Keep typing");
  g_assert_true (bed_form_get_original (form) == before);
  g_assert_true (bed_form_has_typing (form));
  assert_keyboard_in (GTK_WIDGET (form));

  ask_for (desk, id);
  answer (get_question (desk, "A changed "), "Close without saving");
  g_assert_true (bed_form_get_original (form) != before);
  g_assert_false (bed_form_has_typing (form));
  check_closes (desk);
}

static void
change_felling (Desk *desk, gint64 id)
{
  bed_host_show_record (GTK_WIDGET (desk->window), BED_KIND_FELLING, id);
  gtk_widget_activate_action (find_page_part (desk, "woodlot", BED_TYPE_BROWSER), "record.change",
                              NULL);
}

static void
add_felling (Desk *desk, gint64 id)
{
  bed_window_show_page (desk->window, "woodlot");
  bed_page_add (bed_window_get_page (desk->window));
}

static void
test_other_record (Desk *desk, gconstpointer data)
{
  gint64 first = ask (desk, "SELECT min (id) FROM felling");
  gint64 last = ask (desk, "SELECT max (id) FROM felling");
  BedForm *form;

  g_assert_true (first != last);
  change_felling (desk, first);
  form = get_form (desk->window);
  type_into (form);
  change_felling (desk, first); /* the same again: on with it */
  g_assert_true (bed_form_has_typing (form));
  g_assert_null (find_over (desk->window, ADW_TYPE_MESSAGE_DIALOG));
  check_other (desk, form, change_felling, last);

  change_felling (desk, first);
  form = get_form (desk->window);
  type_into (form);
  check_other (desk, form, add_felling, 0);
}

static void
change_log (Desk *desk, gint64 id)
{
  bed_host_show_record (GTK_WIDGET (desk->window), BED_KIND_LOG, id);
  press (find_page_part (desk, "batches", BED_TYPE_LOG_VIEW), "Change");
}

static void
test_other_log (Desk *desk, gconstpointer data)
{
  change_log (desk, ask (desk, "SELECT min (id) FROM log"));
  type_into (get_form (desk->window));
  check_other (desk, get_form (desk->window), change_log, ask (desk, "SELECT max (id) FROM log"));
}

static void
weigh_log (Desk *desk, gint64 log)
{
  bed_host_show_record (GTK_WIDGET (desk->window), BED_KIND_LOG, log);
  press (find_page_part (desk, "batches", BED_TYPE_LOG_VIEW), "Weigh");
}

/* A weighing of another log is another one, though both are new. */
static void
test_other_weighing (Desk *desk, gconstpointer data)
{
  gint64 first = ask (desk, "SELECT min (id) FROM log"),
         last = ask (desk, "SELECT max (id) FROM log");

  weigh_log (desk, first);
  BedForm *form = get_form (desk->window);
  bed_form_set_text (form, "mass", "9 kg");
  weigh_log (desk, first);
  g_assert_cmpstr (bed_form_get_text (form, "mass"), ==, "9 kg");
  weigh_log (desk, last);
  answer (get_question (desk, HALF "weighing"), "Keep typing");
  g_assert_cmpint (bed_record_get_int (bed_form_get_draft (form), "log"), ==, first);
  g_assert_cmpstr (bed_form_get_text (form, "mass"), ==, "9 kg");
  weigh_log (desk, last);
  answer (get_question (desk, HALF "weighing"), "Close without saving");
  g_assert_cmpint (bed_record_get_int (bed_form_get_draft (form), "log"), ==, last);
  g_assert_cmpstr (bed_form_get_text (form, "mass"), ==, "");
  check_closes (desk);
}

static void
retire_log (Desk *desk, gint64 log)
{
  bed_host_show_record (GTK_WIDGET (desk->window), BED_KIND_LOG, log);
  press (find_page_part (desk, "batches", BED_TYPE_LOG_VIEW), "Retire");
}

/* While one is asked, the log that the form retires is the one it was begun with. */
static void
test_other_retired (Desk *desk, gconstpointer data)
{
  gint64 first = ask (desk, "SELECT min (id) FROM log WHERE retired_on IS NULL");
  gint64 last = ask (desk, "SELECT max (id) FROM log WHERE retired_on IS NULL");

  retire_log (desk, first);
  BedForm *form = get_form (desk->window);
  bed_form_set_text (form, "retired_on", "2026-07-13");
  retire_log (desk, last);
  answer (get_question (desk, "Retire logs"), "Keep typing");
  g_assert_true (bed_form_save (form, BED_FORM_THEN_LEAVE));
  g_assert_cmpint (ask (desk, "SELECT id FROM log WHERE retired_on = '2026-07-13'"), ==, first);
  g_assert_cmpint (ask (desk, "SELECT count (*) FROM log WHERE retired_on = '2026-07-13'"), ==, 1);
  check_closes (desk);
}

static void
test_other_drying (Desk *desk, gconstpointer data)
{
  gint64 first = ask (desk, "SELECT min (id) FROM lot"),
         last = ask (desk, "SELECT max (id) FROM lot");
  BedLotDetail *detail = find_page_part (desk, "picking", BED_TYPE_LOT_DETAIL);

  bed_host_show_record (GTK_WIDGET (desk->window), BED_KIND_LOT, first);
  record_drying (detail);
  BedForm *form = get_form (desk->window);
  bed_form_set_text (form, "dried_mass", "210 g");
  bed_host_show_record (GTK_WIDGET (desk->window), BED_KIND_LOT, last);
  record_drying (detail);
  answer (get_question (desk, "Drying"), "Keep typing");
  g_assert_cmpint (bed_record_get_int (bed_form_get_draft (form), "lot"), ==, first);
  g_assert_true (bed_form_has_typing (form));
  record_drying (detail);
  answer (get_question (desk, "Drying"), "Close without saving");
  g_assert_cmpint (bed_record_get_int (bed_form_get_draft (form), "lot"), ==, last);
  check_closes (desk);
}

/* A stack is chosen while something is typed about another: that one is gone back to, or left. */
static void
test_other_stack (Desk *desk, gconstpointer data)
{
  gint64 first = ask (desk, "SELECT min (id) FROM stack WHERE taken_down_on IS NULL");
  gint64 last = ask (desk, "SELECT max (id) FROM stack WHERE taken_down_on IS NULL");

  g_assert_cmpint (first, !=, last);
  bed_host_show_record (GTK_WIDGET (desk->window), BED_KIND_STACK, first);
  app_settle (50);
  GtkWidget *panel = find_page_part (desk, "yard", BED_TYPE_YARD_PANEL);
  BedForm *form = app_find_of_type (panel, BED_TYPE_FORM);
  GtkWidget *tabs = gtk_widget_get_ancestor (GTK_WIDGET (form), GTK_TYPE_STACK);
  gtk_stack_set_visible_child_name (GTK_STACK (tabs), "details");
  type_into (form);
  g_signal_emit_by_name (panel, "select", last);
  answer (get_question (desk, "A changed stack "), "Keep typing");
  g_assert_cmpint (bed_record_get_id (bed_form_get_original (form)), ==, first);
  g_assert_true (bed_form_has_typing (form));
  assert_keyboard_in (GTK_WIDGET (form));
  g_assert_null (find_over (desk->window, ADW_TYPE_MESSAGE_DIALOG));
  g_signal_emit_by_name (panel, "select", last);
  answer (get_question (desk, "A changed stack "), "Close without saving");
  g_assert_cmpint (bed_record_get_id (bed_form_get_original (form)), ==, last);
  check_closes (desk);
}

/* Closing again, or the program asked to, says no more than one question. */
static void
test_asked_once (Desk *desk, gconstpointer data)
{
  guint questions = 0;

  add_felling (desk, 0);
  type_into (get_form (desk->window));
  gpointer question = close_asked (desk->window, HALF "felling");
  g_assert_true (close_asked (desk->window, HALF "felling") == question);
  g_autoptr (GList) windows = gtk_window_list_toplevels ();
  for (GList *l = windows; l; l = l->next)
    questions += ADW_IS_MESSAGE_DIALOG (l->data);
  g_assert_cmpuint (questions, ==, 1);
  answer (question, "Keep typing");
  answer (close_asked (desk->window, HALF "felling"), "Close without saving");
  desk->window = NULL;
}

/* --- dialogs ---------------------------------------------------------------------------------- */

/* Asked about when the dialog closes and when the window under it does. */
static void
check_dialog (Desk *desk, gpointer dialog, GtkWidget *typed, const char *words)
{
  gpointer windows[] = { dialog, desk->window };

  for (guint i = 0; i < G_N_ELEMENTS (windows); i++)
    {
      answer (close_asked (windows[i], words), "Keep typing");
      g_assert_true (is_there (dialog));
      assert_keyboard_in (typed);
    }
  answer (close_asked (dialog, words), "Close without saving");
  g_assert_false (is_there (dialog));
  g_assert_true (is_there (desk->window));
}

static void
test_farm_dialogs (Desk *desk, gconstpointer data)
{
  static const struct
  {
    void (*show) (GtkWindow *window);
    const char *words;
  } cases[] = { { bed_farm_dialog_change, "The farm and how it measures" },
                { bed_farm_dialog_new_farm, "Name, units and money" } };
  gpointer dialog;

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      cases[i].show (GTK_WINDOW (desk->window));
      app_settle (50);
      dialog = find_over (desk->window, ADW_TYPE_WINDOW);
      leave (get_form (dialog)); /* untouched */
      app_settle (50);
      g_assert_false (is_there (dialog));

      cases[i].show (GTK_WINDOW (desk->window));
      app_settle (50);
      dialog = find_over (desk->window, ADW_TYPE_WINDOW);
      type_into (get_form (dialog));
      check_dialog (desk, dialog, GTK_WIDGET (get_form (dialog)), cases[i].words);
    }
}

static void
made_cb (gint64 id, const char *name, gpointer data)
{
  (*(int *) data)++;
  g_assert_cmpint (id, ==, 0);
}

static void
test_quick (Desk *desk, gconstpointer data)
{
  int times = 0;
  gpointer dialog;

  bed_quick_new (GTK_WIDGET (desk->window), desk->farm, BED_KIND_STAND, "Brook side", made_cb,
                 &times);
  app_settle (50);
  dialog = find_over (desk->window, ADW_TYPE_WINDOW);
  g_assert_cmpstr (bed_form_get_text (get_form (dialog), "name"), ==, "Brook side");
  leave (get_form (dialog));
  app_settle (50);
  g_assert_false (is_there (dialog)); /* the name alone stands where it was typed */
  g_assert_cmpint (times, ==, 1);

  bed_quick_new (GTK_WIDGET (desk->window), desk->farm, BED_KIND_STAND, "Brook side", made_cb,
                 &times);
  app_settle (50);
  dialog = find_over (desk->window, ADW_TYPE_WINDOW);
  type_into (get_form (dialog));
  check_dialog (desk, dialog, GTK_WIDGET (get_form (dialog)), HALF "stand");
  g_assert_cmpint (times, ==, 2); /* who asked for it is told that there is none */
}

static void
added_cb (const char *key, gpointer data)
{
  g_assert_not_reached ();
}

static void
test_sheet_dialog (Desk *desk, gconstpointer data)
{
  gpointer dialog;

  bed_sheet_dialog_show (GTK_WIDGET (desk->window), bed_farm_get_notation (desk->farm), added_cb,
                         NULL);
  app_settle (50);
  dialog = find_over (desk->window, ADW_TYPE_WINDOW);
  gtk_window_close (dialog);
  app_settle (50);
  g_assert_false (is_there (dialog));

  bed_sheet_dialog_show (GTK_WIDGET (desk->window), bed_farm_get_notation (desk->farm), added_cb,
                         NULL);
  app_settle (50);
  dialog = find_over (desk->window, ADW_TYPE_WINDOW);
  GtkWidget *entry = app_find_of_type (dialog, GTK_TYPE_ENTRY);
  gtk_widget_grab_focus (entry);
  gtk_editable_set_text (GTK_EDITABLE (entry), "round ones");
  check_dialog (desk, dialog, entry, HALF "label sheet");
}

/* A window that closes over a dialog takes it with it. */
static void
test_window_over_dialog (Desk *desk, gconstpointer data)
{
  bed_farm_dialog_change (GTK_WINDOW (desk->window));
  app_settle (50);
  gpointer dialog = find_over (desk->window, ADW_TYPE_WINDOW);
  type_into (get_form (dialog));
  answer (close_asked (desk->window, "The farm and how it measures"), "Close without saving");
  g_assert_false (is_there (dialog));
  g_assert_false (is_there (desk->window));
  desk->window = NULL;
}

#define ADD(path, function)                                                                        \
  g_test_add ("/app/typing/" path, Desk, NULL, set_up, function, tear_down)

int
main (int argc, char **argv)
{
  gtk_test_init (&argc, &argv, NULL);
  app_begin ();
  ADD ("new", test_new);
  ADD ("changed", test_changed);
  ADD ("log-forms", test_log_forms);
  ADD ("batch-detail", test_batch_detail);
  ADD ("log-lines", test_log_lines);
  ADD ("picking", test_picking);
  ADD ("nothing-chosen", test_nothing_chosen);
  ADD ("pick-line", test_pick_line);
  ADD ("yard", test_yard);
  ADD ("stack", test_stack);
  ADD ("untouched", test_untouched);
  ADD ("saved", test_saved);
  ADD ("narrow", test_narrow);
  ADD ("several", test_several);
  ADD ("other-farm", test_other_farm);
  ADD ("other-record", test_other_record);
  ADD ("other-log", test_other_log);
  ADD ("other-weighing", test_other_weighing);
  ADD ("other-retired", test_other_retired);
  ADD ("other-drying", test_other_drying);
  ADD ("other-stack", test_other_stack);
  ADD ("asked-once", test_asked_once);
  ADD ("farm-dialogs", test_farm_dialogs);
  ADD ("quick", test_quick);
  ADD ("sheet-dialog", test_sheet_dialog);
  ADD ("window-over-dialog", test_window_over_dialog);
  return g_test_run ();
}
