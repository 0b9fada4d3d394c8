/* Every list: a row is changed, removed and brought back in each, where it is seen. */
#include "../ask.h"

#include "app_test.h"

#include "app/form/form.h"
#include "app/host/host.h"
#include "app/lists/supplier_names.h"
#include "app/widgets/table.h"
#include "app/window/search.h"
#include "app/window/window.h"
#include "model/farm/kinds.h"

#include <string.h>

#define ADD(kind, ...)                                                                             \
  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_##kind, __VA_ARGS__, NULL))

/* One record at least of each kind that a list shows; the newest of each is put right. */
static void
fill (Scene *scene)
{
  g_autofree char *log = NULL;

  scene_batch (scene->farm, 3);
  log = bed_farm_dup_name (scene->farm, BED_KIND_LOG,
                           ask_one (scene->farm, "SELECT max (id) FROM log", 0));
  ADD (WOOD, "common_name", "Elder", "latin_name", "Sambucus nigra");
  ADD (MUSHROOM, "common_name", "Velvet cap", "latin_name", "Pileus mollis");
  ADD (BUYER, "name", "Stall on the green", "kind", "market");
  ADD (AREA, "name", "Lower yard", "width", "20 m", "depth", "10 m");
  ADD (FEATURE, "area", "Lower yard", "kind", "tree", "label", "Oak", "outline", "3 3");
  ADD (STACK, "name", "Crib 1", "area", "Lower yard", "kind", "crib", "built_on", "2026-03-02");
  ADD (PLACE, "log", log, "stack", "Crib 1", "since", "2026-03-02");
  ADD (CHECK, "checked_on", "2026-05-01", "batch", "26A", "colonised", "40");
  ADD (WEIGHING, "weighed_on", "2026-05-01", "log", log, "mass", "4 kg");
  ADD (DISC, "cut_on", "2026-05-01", "batch", "26A", "fresh_mass", "200 g", "dry_mass", "120 g");
  ADD (WATERING, "watered_on", "2026-05-01", "stack", "Crib 1", "minutes", "60");
  ADD (RAIN, "fell_on", "2026-05-01", "depth", "4 mm");
  ADD (TEMPERATURE, "measured_on", "2026-05-01", "least", "4", "most", "15");
  ADD (DUE, "due_on", "2026-05-20", "what", "Turn the cribs");
  ADD (SOAK, "code", "SO1", "tank", "Tub", "put_in", "2026-05-02T08:00", "taken_out",
       "2026-05-03T08:00");
  ADD (SOAKED, "soak", "SO1", "log", log);
  ADD (LOT, "code", "L1", "picked_on", "2026-05-12");
  ADD (PICK, "picked_on", "2026-05-12", "log", log, "grade", "A", "mass", "210 g", "lot", "L1");
  ADD (SALE, "code", "V1", "sold_on", "2026-05-12", "buyer", "Stall on the green");
  ADD (PURCHASE, "bought_on", "2026-05-01", "category", "wax", "what", "Wax", "amount", "20",
       "scope", "overhead");
  ADD (HOURS, "worked_on", "2026-05-01", "task", "picking", "minutes", "60");
  ADD (EQUIPMENT, "what", "Drill", "bought_on", "2026-01-01", "price", "90", "life_years", "5");
  ADD (SPAWN_GONE, "spawn", "S26-1", "gone_on", "2026-05-01", "why", "spoiled", "mass", "1 kg");
  ADD (STOCK_COUNT, "counted_on", "2026-05-01", "category", "wax", "amount", "12");
  ADD (RATE, "until", "2026-01-01", "rate", "14");
}

/* Where each list is: a page and its part; what of its newest record is changed. */
static const struct
{
  const char *page;
  guint part;
  BedKind kind;
  const char *field;
  const char *text;
  const char *stored;
} lists[] = {
  { "woodlot", 0, BED_KIND_FELLING, "trees", "7", "7" },
  { "woodlot", 1, BED_KIND_STAND, "grows", "Oaks", "Oaks" },
  { "woodlot", 2, BED_KIND_SPAWN_GONE, "mass", "0.5 kg", "500000" },
  { "woodlot", 2, BED_KIND_SPAWN, "supplier", "A friend", "A friend" },
  { "batches", 1, BED_KIND_LOG, "mark", "7", "7" },
  { "batches", 2, BED_KIND_WEIGHING, "mass", "4.5 kg", "4500000" },
  { "batches", 2, BED_KIND_CHECK, "colonised", "55", "5500" },
  { "batches", 2, BED_KIND_DISC, "dry_mass", "110 g", "110000" },
  { "batches", 3, BED_KIND_PICK, "mass", "250 g", "250000" },
  { "soaking", 1, BED_KIND_SOAK, "notes", "Cold", "Cold" },
  { "picking", 0, BED_KIND_PICK, "mass", "260 g", "260000" },
  { "picking", 1, BED_KIND_LOT, "notes", "Fine", "Fine" },
  { "picking", 2, BED_KIND_SALE, "notes", "Early", "Early" },
  { "money", 1, BED_KIND_PURCHASE, "amount", "21", "2100" },
  { "money", 2, BED_KIND_HOURS, "minutes", "90 min", "90" },
  { "money", 3, BED_KIND_EQUIPMENT, "price", "95", "9500" },
  { "money", 4, BED_KIND_RATE, "rate", "15", "1500" },
  { "money", 5, BED_KIND_STOCK_COUNT, "amount", "13", "1300" },
  { "care", 0, BED_KIND_RAIN, "depth", "6 mm", "6000" },
  { "care", 1, BED_KIND_WEIGHING, "mass", "4.2 kg", "4200000" },
  { "care", 2, BED_KIND_CHECK, "colonised", "60", "6000" },
  { "care", 3, BED_KIND_DISC, "dry_mass", "100 g", "100000" },
  { "care", 4, BED_KIND_WATERING, "minutes", "30 min", "30" },
  { "care", 5, BED_KIND_DUE, "what", "Turn them", "Turn them" },
  { "names", 0, BED_KIND_WOOD, "latin_name", "Sambucus", "Sambucus" },
  { "names", 1, BED_KIND_MUSHROOM, "notes", "Soft", "Soft" },
  { "names", 2, BED_KIND_STRAIN, "rest_weeks", "9", "9" },
  { "names", 3, BED_KIND_BUYER, "contact", "At ten", "At ten" },
  { "names", 5, BED_KIND_AREA, "shade", "70", "7000" },
  { "names", 6, BED_KIND_STACK, "tiers", "4", "4" },
  { "names", 7, BED_KIND_FEATURE, "label", "Old oak", "Old oak" },
  { "names", 8, BED_KIND_LOG, "mark", "8", "8" },
};

/* --- finding --------------------------------------------------------------------------- */

/* The table with that row that is seen. */
static BedTable *
find_table (GtkWidget *inside, gint64 id)
{
  if (!gtk_widget_get_child_visible (inside) || !gtk_widget_get_visible (inside))
    return NULL;
  if (BED_IS_TABLE (inside))
    return bed_list_find (bed_table_get_list (BED_TABLE (inside)), id) >= 0 ? BED_TABLE (inside)
                                                                            : NULL;
  for (GtkWidget *child = gtk_widget_get_first_child (inside); child;
       child = gtk_widget_get_next_sibling (child))
    {
      BedTable *found = find_table (child, id);

      if (found)
        return found;
    }
  return NULL;
}

static BedForm *
find_form (GtkWidget *inside)
{
  if (BED_IS_FORM (inside) && gtk_widget_get_mapped (inside))
    return BED_FORM (inside);
  for (GtkWidget *child = gtk_widget_get_first_child (inside); child;
       child = gtk_widget_get_next_sibling (child))
    {
      BedForm *found = find_form (child);

      if (found)
        return found;
    }
  return NULL;
}

/* In a small window over the desk, or in it. */
static BedForm *
find_open_form (BedWindow *window)
{
  g_autoptr (GList) windows = gtk_window_list_toplevels ();

  for (GList *l = windows; l; l = l->next)
    if (l->data != window && find_form (l->data))
      return find_form (l->data);
  return find_form (GTK_WIDGET (window));
}

static BedTable *
open_list (BedWindow *window, guint at, gint64 id)
{
  g_assert_true (bed_window_show_page (window, lists[at].page));
  app_settle (0);
  BedPage *page = bed_window_get_page (window);
  g_assert_true (bed_page_show_part (page, lists[at].part));
  app_settle (0);
  BedTable *table = find_table (GTK_WIDGET (page), id);
  if (!table)
    g_test_message ("no row on %s, part %u", lists[at].page, lists[at].part);
  g_assert_nonnull (table);
  g_assert_true (bed_table_select (table, id));
  return table;
}

static char *
dup_stored (Scene *scene, guint at, gint64 id)
{
  g_autofree char *sql = g_strdup_printf ("SELECT \"%s\" FROM \"%s\" WHERE id = ?1",
                                          lists[at].field,
                                          bed_kind_get_info (lists[at].kind)->name);
  g_autoptr (BedQuery) q = bed_query_new (scene->farm, sql);

  bed_query_bind_int (q, 1, id);
  char *stored = bed_query_next (q) ? g_strdup (bed_query_text (q, 0)) : NULL;
  g_assert_true (bed_query_finish (q, NULL));
  return stored;
}

/* --- doing ----------------------------------------------------------------------------- */

static void
change (Scene *scene, BedWindow *window, guint at, gint64 id)
{
  BedTable *table = open_list (window, at, id);
  BedForm *form;

  g_assert_true (gtk_widget_activate_action (GTK_WIDGET (table), "table.change", NULL));
  app_settle (0);
  form = find_open_form (window);
  g_assert_nonnull (form);
  bed_form_set_text (form, lists[at].field, lists[at].text);
  g_assert_true (bed_form_save (form, BED_FORM_THEN_LEAVE));
  app_settle (0);
  g_autofree char *stored = dup_stored (scene, at, id);
  g_assert_cmpstr (stored, ==, lists[at].stored);
}

/* What is gone is not read beside its list any more; one undo brings it and all of it back. */
static void
take_out (Scene *scene, BedWindow *window, guint at, gint64 id)
{
  BedTable *table = open_list (window, at, id);
  g_autofree char *before = scene_dump (scene->farm);
  g_autofree char *there = dup_stored (scene, at, id);

  g_assert_true (gtk_widget_activate_action (GTK_WIDGET (table), "table.remove", NULL));
  app_settle (0);
  g_autofree char *gone = dup_stored (scene, at, id);
  g_assert_null (gone);
  g_assert_cmpint (bed_table_get_selected (table), ==, 0);
  g_assert_cmpint (bed_list_find (bed_table_get_list (table), id), ==, -1);
  GtkWidget *ghost = app_find_button (GTK_WIDGET (bed_window_get_page (window)), "Change");
  g_assert_true (!ghost || !gtk_widget_get_mapped (ghost) || strcmp (lists[at].page, "batches") == 0
                 || lists[at].kind == BED_KIND_SPAWN_GONE);
  g_assert_true (bed_history_undo (scene->farm, NULL, NULL));
  app_settle (0);
  g_autofree char *back = dup_stored (scene, at, id);
  g_autofree char *after = scene_dump (scene->farm);
  g_assert_cmpstr (back, ==, there);
  g_assert_cmpstr (after, ==, before);
}

static void
test_each (Scene *scene, gconstpointer units)
{
  BedWindow *window = g_object_new (BED_TYPE_WINDOW, NULL);

  fill (scene);
  gtk_window_present (GTK_WINDOW (window));
  bed_window_set_farm (window, scene->farm);
  for (guint at = 0; at < G_N_ELEMENTS (lists); at++)
    {
      g_autofree char *sql = g_strdup_printf ("SELECT max (id) FROM \"%s\"",
                                              bed_kind_get_info (lists[at].kind)->name);
      gint64 id = ask_one (scene->farm, sql, 0);

      g_test_message ("%s, part %u", lists[at].page, lists[at].part);
      change (scene, window, at, id);
      take_out (scene, window, at, id);
    }
  bed_window_set_farm (window, NULL);
  gtk_window_destroy (GTK_WINDOW (window));
  app_settle (50);
}

/* In all records at once, whatever the case; taken back in one step. */
static void
test_suppliers (Scene *scene, gconstpointer units)
{
  BedWindow *window = g_object_new (BED_TYPE_WINDOW, NULL);

  fill (scene);
  ADD (PURCHASE, "bought_on", "2026-05-02", "category", "wax", "what", "More wax", "amount", "20",
       "scope", "overhead", "supplier", "Wax maker");
  ADD (PURCHASE, "bought_on", "2026-05-03", "category", "wax", "what", "More wax", "amount", "20",
       "scope", "overhead", "supplier", "wax Maker");
  gtk_window_present (GTK_WINDOW (window));
  bed_window_set_farm (window, scene->farm);
  bed_window_show_page (window, "names");
  bed_page_show_part (bed_window_get_page (window), 4);
  app_settle (0);
  GtkWidget *names = app_find_of_type (window, BED_TYPE_SUPPLIER_NAMES);
  BedTable *table = app_find_of_type (names, BED_TYPE_TABLE);
  g_assert_cmpint (ask_one (scene->farm, "SELECT purchases FROM supplier_name", 0), ==, 2);
  g_assert_true (bed_table_select (table, bed_list_get_id (bed_table_get_list (table), 0)));
  gtk_editable_set_text (app_find_of_type (names, GTK_TYPE_ENTRY), "Hive");
  g_signal_emit_by_name (app_find_button (names, "Rename everywhere"), "clicked");
  g_assert_cmpint (
      ask_one (scene->farm, "SELECT count (*) FROM purchase WHERE supplier = 'Hive'", 0), ==, 2);
  g_assert_true (bed_history_undo (scene->farm, NULL, NULL));
  g_assert_cmpint (
      ask_one (scene->farm, "SELECT count (*) FROM purchase WHERE supplier = 'Hive'", 0), ==, 0);
  bed_window_set_farm (window, NULL);
  gtk_window_destroy (GTK_WINDOW (window));
  app_settle (50);
}

/* --- search ---------------------------------------------------------------------------- */

static GtkWidget *
search (BedSearch *for_what, const char *text)
{
  GtkWidget *entry = app_find_of_type (for_what, GTK_TYPE_SEARCH_ENTRY);

  gtk_widget_grab_focus (entry);
  gtk_editable_set_text (GTK_EDITABLE (entry), text);
  g_signal_emit_by_name (entry, "search-changed");
  app_settle (0);
  return entry;
}

/* By name, code, number, note and the lot of a supplier; what is chosen is selected on its page. */
static void
test_search (Scene *scene, gconstpointer units)
{
  static const struct
  {
    const char *text;
    const char *found;
    const char *page;
    BedKind kind;
  } cases[] = {
    { "wide one", "S26-1", "batches", BED_KIND_BATCH },
    { "XK-77", "S26-1", "woodlot", BED_KIND_SPAWN },
    { "stall", "V1", "picking", BED_KIND_SALE },
    { "velvet", "Velvet cap", "names", BED_KIND_MUSHROOM },
    { "sambucus", "Elder", "names", BED_KIND_WOOD },
    { "wax", "Wax", "money", BED_KIND_PURCHASE },
    { "turn the", "Turn the cribs", "care", BED_KIND_DUE },
    { "drill", "Drill", "money", BED_KIND_EQUIPMENT },
    { "elber", "Elder", "names", BED_KIND_WOOD }, /* near */
  };
  BedWindow *window = g_object_new (BED_TYPE_WINDOW, NULL);
  BedSearch *find = app_find_of_type (window, BED_TYPE_SEARCH);

  fill (scene);
  g_autoptr (BedRecord) spawn = bed_farm_load (
      scene->farm, BED_KIND_SPAWN, ask_one (scene->farm, "SELECT id FROM spawn", 0), NULL);
  bed_record_set_text (spawn, "supplier_lot", "XK-77");
  scene_add (scene->farm, g_object_ref (spawn));
  gtk_window_present (GTK_WINDOW (window));
  bed_window_set_farm (window, scene->farm);
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      GtkWidget *entry = search (find, cases[i].text);
      g_autofree char *sql = g_strdup_printf ("SELECT max (id) FROM \"%s\"",
                                              bed_kind_get_info (cases[i].kind)->name);

      g_test_message ("%s", cases[i].text);
      g_assert_nonnull (app_find_label (GTK_WIDGET (find), cases[i].found));
      g_signal_emit_by_name (entry, "activate");
      app_settle (0);
      BedTable *table
          = find_table (GTK_WIDGET (bed_window_get_page (window)), ask_one (scene->farm, sql, 0));
      g_assert_nonnull (table);
      g_assert_cmpint (bed_table_get_selected (table), ==, ask_one (scene->farm, sql, 0));
      BedPage *page = bed_window_get_page (window);
      g_assert_true (bed_window_show_page (window, cases[i].page));
      g_assert_true (bed_window_get_page (window) == page);
    }
  search (find, "26A-2");
  g_assert_nonnull (app_find_label (GTK_WIDGET (find), "Nothing found"));
  g_assert_nonnull (app_find_label (GTK_WIDGET (find), "26A-002"));
  bed_window_set_farm (window, NULL);
  gtk_window_destroy (GTK_WINDOW (window));
  app_settle (50);
}

int
main (int argc, char **argv)
{
  gtk_test_init (&argc, &argv, NULL);
  app_begin ();
  g_test_add ("/app/lists/each", Scene, "metric", scene_set_up, test_each, scene_tear_down);
  g_test_add ("/app/lists/suppliers", Scene, "metric", scene_set_up, test_suppliers,
              scene_tear_down);
  g_test_add ("/app/lists/search", Scene, "metric", scene_set_up, test_search, scene_tear_down);
  return g_test_run ();
}
