/* Hostile text in the window: every page, detail, form, message and search shows it as it was
 * typed. Warnings are fatal here, so that Pango may complain of no markup either. */
#include "plant.h"

#include <adwaita.h>
#include <string.h>

#include "../app/app_test.h"
#include "app/form/form.h"
#include "app/form/forms.h"
#include "app/host/host.h"
#include "app/paper/paper_dialog.h"
#include "app/paper/papers.h"
#include "app/widgets/compat.h"
#include "app/widgets/suggest.h"
#include "app/widgets/table.h"
#include "app/window/farm_dialog.h"
#include "app/window/search.h"
#include "app/window/window.h"
#include "model/farm/kinds.h"

/* The last has nothing to add. */
static const char *const page_names[] = { "week",    "woodlot", "batches", "yard",
                                          "soaking", "picking", "money",   "season",
                                          "care",    "names",   "history" };

/* Helpers */

static void
check_text_view (GtkTextView *view)
{
  GtkTextBuffer *buffer = gtk_text_view_get_buffer (view);
  GtkTextIter start, end;

  gtk_text_buffer_get_bounds (buffer, &start, &end);
  g_autofree char *text = gtk_text_buffer_get_text (buffer, &start, &end, TRUE);
  plant_check ("text view", text);
}

static void
check_widget (const char *where, GtkWidget *widget)
{
  const char *tip = gtk_widget_get_tooltip_markup (widget);

  if (GTK_IS_LABEL (widget))
    plant_check (where, gtk_label_get_text (GTK_LABEL (widget)));
  else if (GTK_IS_EDITABLE (widget))
    plant_check (where, gtk_editable_get_text (GTK_EDITABLE (widget)));
  else if (GTK_IS_TEXT_VIEW (widget))
    check_text_view (GTK_TEXT_VIEW (widget));
  else if (GTK_IS_WINDOW (widget) && gtk_window_get_title (GTK_WINDOW (widget)))
    plant_check (where, gtk_window_get_title (GTK_WINDOW (widget)));
  if (tip)
    {
      g_autofree char *shown = NULL;
      g_autoptr (GError) error = NULL;

      g_assert_true (pango_parse_markup (tip, -1, 0, NULL, &shown, NULL, &error));
      plant_check ("tooltip", shown);
    }
}

static void
walk (const char *where, GtkWidget *widget)
{
  check_widget (where, widget);
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child;
       child = gtk_widget_get_next_sibling (child))
    walk (where, child);
}

static void
walk_all (const char *where)
{
  g_autoptr (GListModel) windows = g_object_ref (gtk_window_get_toplevels ());

  for (guint i = 0; i < g_list_model_get_n_items (windows); i++)
    {
      g_autoptr (GtkWidget) window = g_list_model_get_item (windows, i);
      walk (where, window);
    }
}

static void
close_others (GtkWidget *kept)
{
  GListModel *windows = gtk_window_get_toplevels ();

  for (guint i = g_list_model_get_n_items (windows); i-- > 0;)
    {
      g_autoptr (GtkWidget) window = g_list_model_get_item (windows, i);
      if (window != kept)
        gtk_window_destroy (GTK_WINDOW (window));
    }
}

static BedWindow *
open_window (Plant *plant)
{
  BedWindow *window = g_object_new (BED_TYPE_WINDOW, NULL);

  gtk_window_set_default_size (GTK_WINDOW (window), 1200, 760);
  gtk_window_present (GTK_WINDOW (window));
  bed_window_set_farm (window, plant->scene.farm);
  return window;
}

static void
say_met (const char *where, guint least)
{
  guint n = plant_n_met ();

  g_test_message ("%s: %u of %u fields and texts", where, n, plant_n_fields () * plant_n_texts ());
  g_assert_cmpuint (n, >=, least);
}

/* What is there after @ms: lists have grown to their rows. */
static void
look (const char *name, GtkWidget *widget, guint ms)
{
  app_settle (ms);
  walk (name, widget);
}

/* Tests */

static void
test_pages (Plant *plant, gconstpointer data)
{
  BedWindow *window = open_window (plant);

  for (guint i = 0; i < G_N_ELEMENTS (page_names); i++)
    {
      g_assert_true (bed_window_show_page (window, page_names[i]));
      look (page_names[i], GTK_WIDGET (window), 300);
      for (guint part = 0; part < 10; part++)
        if (bed_page_show_part (bed_window_get_page (window), part))
          look (page_names[i], GTK_WIDGET (window), 150);
      if (i + 1 < G_N_ELEMENTS (page_names))
        gtk_widget_activate_action (GTK_WIDGET (window), "win.add", NULL);
      look (page_names[i], GTK_WIDGET (window), 150);
    }
  say_met ("pages", 800);
  app_close (GTK_WIDGET (window), GTK_WIDGET (window));
}

/* Each record that has a page, read beside its list. */
static void
test_details (Plant *plant, gconstpointer data)
{
  BedWindow *window = open_window (plant);

  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    for (guint text = 0; text < plant_n_texts () && plant->ids[text][kind]; text++)
      {
        bed_host_show_record (GTK_WIDGET (window), kind, plant->ids[text][kind]);
        if (!bed_window_get_page (window))
          continue;
        app_settle (8);
        walk (bed_kind_get_info (kind)->name, GTK_WIDGET (bed_window_get_page (window)));
      }
  say_met ("details", 1000);
  app_close (GTK_WIDGET (window), GTK_WIDGET (window));
}

/* Each form with each record in it, and what it says when the name is taken. */
static void
test_forms (Plant *plant, gconstpointer data)
{
  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    {
      const BedFormSpec *spec = bed_forms_get_spec (kind);
      const char *key = bed_kind_get_info (kind)->key;

      if (!spec || !plant->ids[0][kind])
        continue;
      BedForm *form = bed_form_new (plant->scene.farm, spec);
      GtkWidget *window = app_show (GTK_WIDGET (form));
      for (guint text = 0; text < plant_n_texts (); text++)
        {
          g_autoptr (BedRecord) record
              = bed_farm_load (plant->scene.farm, kind, plant->ids[text][kind], NULL);

          bed_form_edit (form, record);
          walk (spec->title ? spec->title : bed_kind_get_info (kind)->name, window);
          if (!key)
            continue;
          bed_record_set_id (record, 0);
          bed_form_edit (form, record);
          bed_form_save (form, BED_FORM_THEN_LEAVE);
          walk ("refused", window);
        }
      app_close (window, GTK_WIDGET (form));
    }
  say_met ("forms", 1000);
}

/* What was done is said in a toast, at the buttons that take it back, and by the history. */
static void
test_sentences (Plant *plant, gconstpointer data)
{
  BedWindow *window = open_window (plant);

  bed_window_show_page (window, "history");
  for (guint text = 0; text < plant_n_texts (); text++)
    {
      g_autoptr (BedRecord) stand = bed_farm_load (plant->scene.farm, BED_KIND_STAND,
                                                   plant->ids[text][BED_KIND_STAND], NULL);
      g_autoptr (BedEdit) edit = bed_edit_new (plant->scene.farm);
      g_autofree char *sentence = plant_dup_planted (BED_KIND_STAND, "name", text);
      g_autoptr (GError) error = NULL;

      bed_record_set_int (stand, "trees", 20 + text);
      bed_edit_put (edit, stand);
      g_assert_true (bed_host_commit (GTK_WIDGET (window), edit, sentence, &error));
      app_settle (20);
      g_assert_nonnull (app_find_label (GTK_WIDGET (window), sentence));
      walk ("after a change", GTK_WIDGET (window));
      gtk_widget_activate_action (GTK_WIDGET (window), "win.undo", NULL);
      app_settle (20);
      walk ("after undo", GTK_WIDGET (window));
      plant_rename_farm (plant, text);
      app_settle (10);
      walk ("named otherwise", GTK_WIDGET (window));
    }
  say_met ("sentences", 2 * plant_n_texts ());
  app_close (GTK_WIDGET (window), GTK_WIDGET (window));
}

static void
never_cb (gpointer data)
{
  g_assert_not_reached ();
}

/* Messages, questions, the print dialog and the farm's settings. */
static void
test_dialogs (Plant *plant, gconstpointer data)
{
  static const struct
  {
    BedPrint what;
    BedKind kind;
  } prints[] = {
    { BED_PRINT_TAGS, BED_KIND_BATCH },  { BED_PRINT_TAG, BED_KIND_LOG },
    { BED_PRINT_GUIDE, BED_KIND_BATCH }, { BED_PRINT_TALLY, BED_KIND_FELLING },
    { BED_PRINT_SPAWN, BED_KIND_SPAWN }, { BED_PRINT_MAP, BED_KIND_AREA },
    { BED_PRINT_SIGN, BED_KIND_STACK },  { BED_PRINT_CRATES, BED_KIND_LOT },
  };
  BedWindow *window = open_window (plant);

  for (guint text = 0; text < plant_n_texts (); text++)
    {
      guint at = text % G_N_ELEMENTS (prints);
      BedPrintOffer offer = { prints[at].what, plant->ids[text][prints[at].kind], NULL, NULL };
      g_autofree char *planted = plant_dup_planted (BED_KIND_STAND, "name", text);
      BedQuestion question = { planted, planted, "Agree", "Stay" };

      bed_tell (GTK_WIDGET (window), planted, planted);
      bed_ask (GTK_WIDGET (window), &question, G_CALLBACK (never_cb), NULL);
      bed_paper_dialog_show (GTK_WIDGET (window), plant->scene.farm, &offer, 1);
      plant_rename_farm (plant, text);
      bed_farm_dialog_change (GTK_WINDOW (window));
      app_settle (60);
      walk_all ("dialog");
      close_others (GTK_WIDGET (window));
      app_settle (10);
    }
  say_met ("dialogs", 5 * plant_n_texts ());
  app_close (GTK_WIDGET (window), GTK_WIDGET (window));
}

static guint
count_suggested (GtkWidget *inside)
{
  guint n = 0;

  for (GtkWidget *row = app_find_of_type (inside, GTK_TYPE_LIST_BOX_ROW); row;
       row = gtk_widget_get_next_sibling (row))
    n++;
  return n;
}

/* That is said, and no record is offered, near ones neither. */
static void
assert_finds_nothing (GtkWidget *window, GtkWidget *entry, const char *text)
{
  g_autofree char *said = g_strdup_printf ("Nothing found for “%s”", text);

  gtk_editable_set_text (GTK_EDITABLE (entry), text);
  g_signal_emit_by_name (entry, "search-changed");
  g_assert_nonnull (app_find_label (window, said));
  g_assert_cmpuint (count_suggested (window), ==, 1);
}

/* What is typed into the search is looked for, and is no pattern and no SQL. */
static void
test_search (Plant *plant, gconstpointer data)
{
  BedSearch *search = bed_search_new ();
  GtkWidget *window = app_show (GTK_WIDGET (search));
  GtkWidget *entry = app_find_of_type (window, GTK_TYPE_SEARCH_ENTRY);
  g_autofree char *before = scene_dump (plant->scene.farm);

  bed_search_set_farm (search, plant->scene.farm);
  for (guint text = 0; text < plant_n_texts (); text++)
    {
      g_autofree char *mark = plant_dup_planted (BED_KIND_BUYER, "name", text);

      gtk_editable_set_text (GTK_EDITABLE (entry), mark);
      g_signal_emit_by_name (entry, "search-changed");
      g_assert_nonnull (app_find_label (window, mark));
      /* The buyer, and the sale to it. */
      g_assert_nonnull (app_find_label (window, "buyer · "));
      g_assert_nonnull (app_find_label (window, "sale · "));
      g_assert_cmpuint (count_suggested (window), ==, 2);
      walk ("search", window);
    }
  assert_finds_nothing (window, entry, "%#");
  assert_finds_nothing (window, entry, "planted.example_x");
  g_autofree char *after = scene_dump (plant->scene.farm);
  g_assert_cmpstr (before, ==, after);
  say_met ("search", plant_n_texts ());
  app_close (window, GTK_WIDGET (search));
}

/* Whether the list has a row for each text and shows none of them. */
#define PARTS_MOST 9 /* of a page */

static gboolean
shows_no_text (BedTable *table)
{
  guint found = 0;

  for (guint text = 0; text < plant_n_texts () && !found; text++)
    {
      bed_table_set_filter (table, plant_text (text));
      found = g_list_model_get_n_items (G_LIST_MODEL (bed_table_get_list (table)));
    }
  return !found;
}

static void
filter (BedTable *table)
{
  for (guint text = 0; text < plant_n_texts (); text++)
    {
      guint found;

      bed_table_set_filter (table, plant_text (text));
      found = g_list_model_get_n_items (G_LIST_MODEL (bed_table_get_list (table)));
      if (found == 0 || found > 4)
        g_test_message ("%s: %s finds %u", bed_table_get_label (table), plant_text (text), found);
      g_assert_cmpuint (found, >=, 1);
      g_assert_cmpuint (found, <=, 4);
    }
}

/* Each list with a row for each text that can be filtered, once; the names of those passed over.
 * What is not seen may not have been read. */
static void
filter_all (GtkWidget *inside, guint *n_lists, GString *passed)
{
  if (BED_IS_TABLE (inside) && !g_object_get_data (G_OBJECT (inside), "filtered")
      && app_find_of_type (inside, GTK_TYPE_SEARCH_ENTRY))
    {
      BedTable *table = BED_TABLE (inside);
      guint all = g_list_model_get_n_items (G_LIST_MODEL (bed_table_get_list (table)));

      if (all == plant_n_texts ())
        g_object_set_data (G_OBJECT (inside), "filtered", table);
      if (all == plant_n_texts () && shows_no_text (table))
        g_string_append_printf (passed, "%s;", bed_table_get_label (table));
      else if (all == plant_n_texts ())
        {
          filter (table);
          (*n_lists)++;
        }
      bed_table_set_filter (table, NULL);
    }
  for (GtkWidget *child = gtk_widget_get_first_child (inside); child;
       child = gtk_widget_get_next_sibling (child))
    filter_all (child, n_lists, passed);
}

static void
test_filters (Plant *plant, gconstpointer data)
{
  BedWindow *window = open_window (plant);
  g_autoptr (GString) passed = g_string_new (NULL);
  guint n = 0;

  for (guint i = 0; i < G_N_ELEMENTS (page_names); i++)
    {
      bed_window_show_page (window, page_names[i]);
      for (guint part = 0; part < PARTS_MOST; part++)
        {
          bed_page_show_part (bed_window_get_page (window), part);
          app_settle (60);
          filter_all (GTK_WIDGET (bed_window_get_page (window)), &n, passed);
        }
    }
  /* Days and numbers alone; lists of one record have no rows before it is chosen. */
  g_assert_cmpstr (passed->str, ==, "Stock counts;");
  g_assert_cmpuint (n, ==, 21);
  app_close (GTK_WIDGET (window), GTK_WIDGET (window));
}

/* The name offered for a file holds no folder and nothing else a disk or a program stumbles on. */
static void
test_file_names (void)
{
  for (guint text = 0; text < plant_n_texts (); text++)
    {
      g_autofree char *words = g_strdup_printf ("%s 2026.xlsx", plant_text (text));
      g_autofree char *name = bed_dup_file_name (words);
      g_autofree char *base = g_path_get_basename (name);

      g_assert_cmpstr (name, ==, base);
      g_assert_null (strpbrk (name, "/\\:*?\"<>|"));
      g_assert_null (strchr (".-~ ", *name));
      g_assert_true (g_str_has_suffix (name, " 2026.xlsx"));
    }
  g_autofree char *many = g_strnfill (500, 'x');
  g_autofree char *long_words = g_strdup_printf ("ä%s\n.pdf", many);
  g_autofree char *short_name = bed_dup_file_name (long_words);
  g_autofree char *nothing = bed_dup_file_name ("../..");
  g_assert_cmpuint (strlen (short_name), <=, 200);
  g_assert_true (g_str_has_suffix (short_name, "x.pdf"));
  g_assert_cmpstr (nothing, ==, "Bedlog");
}

#define ADD(name, function)                                                                        \
  g_test_add ("/plant/window/" name, Plant, NULL, plant_set_up, function, plant_tear_down)

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  app_begin ();
  ADD ("pages", test_pages);
  ADD ("details", test_details);
  ADD ("forms", test_forms);
  ADD ("sentences", test_sentences);
  ADD ("dialogs", test_dialogs);
  ADD ("search", test_search);
  ADD ("filters", test_filters);
  g_test_add_func ("/plant/window/file-names", test_file_names);
  return g_test_run ();
}
