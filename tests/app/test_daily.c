/* What a grower types day by day: where typing begins and goes on, several spawn lots, a pick put
 * right, a drying, care of a batch, and lists that are filtered by what is read in them. */
#include "../ask.h"

#include "app_test.h"

#include "app/batches/batch_form.h"
#include "app/batches/care_view.h"
#include "app/desk/crop_view.h"
#include "app/desk/spawn_rows.h"
#include "app/form/form_rows.h"
#include "app/form/forms.h"
#include "app/picking/lot_detail.h"
#include "app/week/due_row.h"
#include "app/widgets/table.h"
#include "app/widgets/trend_chart.h"
#include "app/window/search.h"
#include "app/window/window.h"
#include "app/woodlot/woodlot_forms.h"
#include "model/farm/kinds.h"
#include "model/season/draft.h"

#include <math.h>

/* --- helpers ------------------------------------------------------------------------- */

/* The visible descendant of that type, after @skip others; NULL when there is none. */
static GtkWidget *
find_of_type (GtkWidget *inside, GType type, guint *skip)
{
  if (!gtk_widget_get_visible (inside))
    return NULL;
  if (g_type_is_a (G_OBJECT_TYPE (inside), type) && (*skip)-- == 0)
    return inside;
  for (GtkWidget *child = gtk_widget_get_first_child (inside); child;
       child = gtk_widget_get_next_sibling (child))
    {
      GtkWidget *found = find_of_type (child, type, skip);

      if (found)
        return found;
    }
  return NULL;
}

static GtkWidget *
find_first_of (GtkWidget *inside, GType type)
{
  guint skip = 0;

  return find_of_type (inside, type, &skip);
}

/* Row @n of that field that is seen. */
static BedFieldRow *
find_row (GtkWidget *inside, const char *field, guint n)
{
  for (guint i = 0;; i++)
    {
      guint skip = i;
      GtkWidget *row = find_of_type (inside, BED_TYPE_FIELD_ROW, &skip);

      if (!row)
        return NULL;
      if (g_strcmp0 (bed_field_row_get_field (BED_FIELD_ROW (row))->name, field) == 0 && n-- == 0)
        return BED_FIELD_ROW (row);
    }
}

static const char *
read_row (GtkWidget *inside, const char *field, guint n)
{
  return bed_editor_get_text (bed_field_row_get_editor (find_row (inside, field, n)));
}

static GtkWidget *
get_focus (GtkWidget *window)
{
  return gtk_window_get_focus (GTK_WINDOW (window));
}

/* The field whose row has the keyboard. */
static const char *
get_focus_field (GtkWidget *window)
{
  GtkWidget *focus = get_focus (window);
  GtkWidget *row = focus ? gtk_widget_get_ancestor (focus, BED_TYPE_FIELD_ROW) : NULL;

  return row ? bed_field_row_get_field (BED_FIELD_ROW (row))->name : NULL;
}

static void
press (GtkWidget *inside, const char *label)
{
  GtkWidget *button = app_find_button (inside, label);

  g_assert_nonnull (button);
  g_signal_emit_by_name (button, "clicked");
}

static gint64
ask (Scene *scene, const char *sql)
{
  return ask_one (scene->farm, sql, 0);
}

static void
assert_undo_says (BedFarm *farm, const char *wanted)
{
  g_autofree char *sentence = bed_history_dup_sentence (farm, bed_history_find_undo (farm));

  g_assert_cmpstr (sentence, ==, wanted);
}

static BedWindow *
open_window (BedFarm *farm)
{
  BedWindow *window = g_object_new (BED_TYPE_WINDOW, NULL);

  gtk_window_present (GTK_WINDOW (window));
  bed_window_set_farm (window, farm);
  app_settle (50);
  return window;
}

/* --- where typing begins and goes on --------------------------------------------------- */

/* Past a code that is given, or that is there; at a name that must be typed. */
static void
test_first_field (Scene *scene, gconstpointer data)
{
  static const struct
  {
    BedKind kind;
    const char *field;
  } forms[] = { { BED_KIND_FELLING, "felled_on" },   { BED_KIND_SPAWN, "strain" },
                { BED_KIND_BATCH, "inoculated_on" }, { BED_KIND_SALE, "sold_on" },
                { BED_KIND_STAND, "name" },          { BED_KIND_BUYER, "name" } };

  for (guint i = 0; i < G_N_ELEMENTS (forms); i++)
    {
      BedForm *form = bed_form_new (scene->farm, bed_forms_get_spec (forms[i].kind));
      GtkWidget *window = app_show (GTK_WIDGET (form));

      bed_form_focus (form, NULL);
      g_assert_cmpstr (get_focus_field (window), ==, forms[i].field);
      app_close (window, GTK_WIDGET (form));
    }

  g_autoptr (BedRecord) stand
      = scene_record (scene->farm, BED_KIND_STAND, "name", "North slope", NULL);
  scene_add (scene->farm, bed_record_copy (stand));
  BedForm *form = bed_form_new (scene->farm, bed_forms_get_spec (BED_KIND_STAND));
  GtkWidget *window = app_show (GTK_WIDGET (form));
  bed_form_set_text (form, "name", "Brook side"); /* as a small form begins */
  bed_form_focus (form, NULL);
  g_assert_cmpstr (get_focus_field (window), ==, "area");
  app_close (window, GTK_WIDGET (form));
}

static void
collect_rows (GtkWidget *inside, GPtrArray *rows)
{
  for (guint i = 0;; i++)
    {
      guint skip = i;
      GtkWidget *row = find_of_type (inside, BED_TYPE_FIELD_ROW, &skip);

      if (!row)
        return;
      g_ptr_array_add (rows, row);
    }
}

/* From heading to heading, both ways; at the ends it stays. */
static void
test_groups (Scene *scene, gconstpointer data)
{
  BedForm *form = bed_form_new (scene->farm, bed_forms_get_spec (BED_KIND_BATCH));
  GtkWidget *window = app_show (GTK_WIDGET (form));
  g_autoptr (GPtrArray) rows = g_ptr_array_new ();
  static const char *const firsts[] = { "hole_diameter", "holes_sealed", "notes", "notes" };

  collect_rows (GTK_WIDGET (form), rows);
  bed_form_focus (form, "method");
  for (guint i = 0; i < G_N_ELEMENTS (firsts); i++)
    {
      bed_form_rows_focus_group (rows, (int) bed_form_rows_find_focused (rows), 1);
      g_assert_cmpstr (get_focus_field (window), ==, firsts[i]);
    }
  bed_form_rows_focus_group (rows, (int) bed_form_rows_find_focused (rows), -1);
  g_assert_cmpstr (get_focus_field (window), ==, "holes_sealed");
  app_close (window, GTK_WIDGET (form));
}

/* What a small form put in needs no further Enter. */
static void
test_done_goes_on (Scene *scene, gconstpointer data)
{
  BedForm *form = bed_form_new (scene->farm, bed_forms_get_spec (BED_KIND_FELLING));
  GtkWidget *window = app_show (GTK_WIDGET (form));

  bed_form_focus (form, "stand");
  bed_editor_done (bed_field_row_get_editor (find_row (GTK_WIDGET (form), "stand", 0)));
  g_assert_cmpstr (get_focus_field (window), ==, "supplier");
  app_close (window, GTK_WIDGET (form));
}

/* A page is read from its list, not from the switch above it; its parts have keys. */
static void
test_page_focus (Scene *scene, gconstpointer data)
{
  BedWindow *window;
  GtkWidget *page;

  scene_batch (scene->farm, 3);
  window = open_window (scene->farm);
  bed_window_show_page (window, "woodlot");
  app_settle (50);
  page = GTK_WIDGET (bed_window_get_page (window));
  g_assert_nonnull (gtk_widget_get_ancestor (get_focus (GTK_WIDGET (window)), BED_TYPE_TABLE));
  g_assert_true (bed_page_show_part (BED_PAGE (page), 2));
  g_assert_nonnull (gtk_widget_get_ancestor (get_focus (GTK_WIDGET (window)), BED_TYPE_TABLE));
  g_assert_false (bed_page_show_part (BED_PAGE (page), 3));

  bed_page_add (BED_PAGE (page)); /* a spawn lot: that part is seen */
  g_assert_cmpstr (get_focus_field (GTK_WIDGET (window)), ==, "strain");
  gtk_widget_activate_action (GTK_WIDGET (window), "win.part", "i", 0);
  gtk_widget_activate_action (GTK_WIDGET (window), "win.part", "i", 2);
  g_assert_cmpstr (get_focus_field (GTK_WIDGET (window)), ==, "strain");
  g_signal_emit_by_name (find_first_of (page, BED_TYPE_FORM), "left");
  g_assert_nonnull (gtk_widget_get_ancestor (get_focus (GTK_WIDGET (window)), BED_TYPE_TABLE));

  bed_window_show_page (window, "batches");
  page = GTK_WIDGET (bed_window_get_page (window));
  app_settle (50);
  g_assert_true (bed_page_show_part (BED_PAGE (page), 2));
  g_assert_nonnull (gtk_widget_get_ancestor (get_focus (GTK_WIDGET (window)), BED_TYPE_CARE_VIEW));
  app_close (GTK_WIDGET (window), GTK_WIDGET (window));
}

/* Tab and Shift+Tab go all around: out of each page to the pages' names and to the search, and back
 * into the page. */
static void
test_all_around (Scene *scene, gconstpointer data)
{
  static const char *const names[] = { "week",  "woodlot", "batches", "yard", "soaking", "picking",
                                       "money", "season",  "history", "care", "names" };
  static const GtkDirectionType ways[] = { GTK_DIR_TAB_BACKWARD, GTK_DIR_TAB_FORWARD };
  gint64 batch = scene_batch (scene->farm, 3);
  BedWindow *window = open_window (scene->farm);

  for (guint i = 0; i < 2 * G_N_ELEMENTS (names); i++)
    {
      GtkWidget *page, *focus;
      gboolean to_names = FALSE, to_search = FALSE, back = FALSE;

      bed_window_show_page (window, names[i / 2]);
      app_settle (50);
      page = GTK_WIDGET (bed_window_get_page (window));
      if (g_str_equal (names[i / 2], "batches"))
        bed_page_show_record (BED_PAGE (page), BED_KIND_BATCH, batch); /* all that is read of it */
      for (int n = 0; n < 80 && !back; n++)
        {
          g_signal_emit_by_name (window, "move-focus", ways[i % 2]);
          focus = get_focus (GTK_WIDGET (window));
          to_names |= focus && gtk_widget_get_ancestor (focus, GTK_TYPE_LIST_BOX)
                      && !gtk_widget_is_ancestor (focus, page);
          to_search |= focus && gtk_widget_get_ancestor (focus, BED_TYPE_SEARCH);
          back = to_names && to_search && focus && gtk_widget_is_ancestor (focus, page);
        }
      if (!back)
        g_error ("%s: names %d, search %d", names[i / 2], to_names, to_search);
    }
  app_close (GTK_WIDGET (window), GTK_WIDGET (window));
}

/* Looked up on another page, one comes back to the field one was in, its text as it was left; and
 * a page that was only looked at begins each time at the same place. */
static void
test_keyboard_returns (Scene *scene, gconstpointer data)
{
  BedWindow *window;
  GtkWidget *page, *focus, *form;
  int at;

  scene_batch (scene->farm, 3);
  window = open_window (scene->farm);
  bed_window_show_page (window, "woodlot");
  app_settle (50);
  page = GTK_WIDGET (bed_window_get_page (window));
  bed_page_add (BED_PAGE (page));
  app_settle (50);
  form = find_first_of (page, BED_TYPE_FORM);
  bed_form_focus (BED_FORM (form), "supplier");
  bed_form_set_text (BED_FORM (form), "supplier", "a neigh");
  gtk_editable_set_position (GTK_EDITABLE (get_focus (GTK_WIDGET (window))), -1);
  bed_window_show_page (window, "picking");
  app_settle (50);
  focus = get_focus (GTK_WIDGET (window));
  bed_window_show_page (window, "woodlot");
  app_settle (50);
  g_assert_cmpstr (get_focus_field (GTK_WIDGET (window)), ==, "supplier");
  g_assert_false (
      gtk_editable_get_selection_bounds (GTK_EDITABLE (get_focus (GTK_WIDGET (window))), &at, &at));
  for (int visit = 0; visit < 3; visit++)
    {
      bed_window_show_page (window, "picking");
      app_settle (50);
      g_assert_true (get_focus (GTK_WIDGET (window)) == focus);
      bed_window_show_page (window, "week");
    }
  app_close (GTK_WIDGET (window), GTK_WIDGET (window));
}

/* A field that is led to is seen with its message. */
static void
test_field_in_view (Scene *scene, gconstpointer data)
{
  BedForm *form = bed_form_new (scene->farm, bed_forms_get_spec (BED_KIND_BATCH));
  GtkWidget *window = app_show (GTK_WIDGET (form)), *viewport, *row;
  graphene_rect_t bounds;

  gtk_window_set_default_size (GTK_WINDOW (window), 700, 360);
  app_settle (100);
  row = GTK_WIDGET (find_row (GTK_WIDGET (form), "holes_sealed", 0));
  viewport = gtk_widget_get_ancestor (row, GTK_TYPE_VIEWPORT);
  bed_form_focus (form, "holes_sealed");
  app_settle (500); /* longer than GTK takes to scroll by itself */
  g_assert_true (gtk_widget_compute_bounds (row, viewport, &bounds));
  g_assert_cmpfloat (bounds.origin.y, >=, 0);
  g_assert_cmpfloat (bounds.origin.y + bounds.size.height, <=, gtk_widget_get_height (viewport));
  app_close (window, GTK_WIDGET (form));
}

/* The first steps lead on: felling, spawn, batch. */
static void
test_first_steps (Scene *scene, gconstpointer data)
{
  BedWindow *window = open_window (scene->farm);

  bed_window_show_page (window, "batches");
  app_settle (50);
  g_assert_nonnull (app_find_label (GTK_WIDGET (window), "The first step is the felling"));
  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_FELLING, "felled_on", "2026-02-01",
                                        "wood", "northern red oak", NULL));
  app_settle (50);
  g_assert_null (app_find_label (GTK_WIDGET (window), "The first step is the felling"));
  g_assert_nonnull (app_find_label (GTK_WIDGET (window), "The next step is the spawn lot"));
  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_STRAIN, "name", "Wide one",
                                        "mushroom", "shiitake", NULL));
  scene_add (scene->farm,
             scene_record (scene->farm, BED_KIND_SPAWN, "strain", "Wide one", "form", "sawdust",
                           "received_on", "2026-02-10", "mass", "2 kg", NULL));
  app_settle (50);
  g_assert_nonnull (app_find_button (GTK_WIDGET (window), "New batch"));
  app_close (GTK_WIDGET (window), GTK_WIDGET (window));
}

/* A sheet fits beside the narrow page names in a window of 900 x 600. */
static void
test_sheets_fit (Scene *scene, gconstpointer data)
{
  BedForm *(*const make[]) (BedFarm *)
      = { bed_batch_form_new, bed_felling_form_new, bed_stand_form_new, bed_spawn_form_new };
  gint64 batch = scene_batch (scene->farm, 2);
  g_autoptr (BedRecord) stored = bed_farm_load (scene->farm, BED_KIND_BATCH, batch, NULL);

  for (guint i = 0; i < G_N_ELEMENTS (make); i++)
    {
      BedForm *form = make[i](scene->farm);
      GtkWidget *window = app_show (GTK_WIDGET (form));
      int least;

      if (make[i] == bed_batch_form_new)
        bed_form_edit (form, stored);
      gtk_widget_measure (GTK_WIDGET (form), GTK_ORIENTATION_HORIZONTAL, -1, &least, NULL, NULL,
                          NULL);
      g_assert_cmpint (least, <=, 680);
      gtk_widget_measure (GTK_WIDGET (form), GTK_ORIENTATION_VERTICAL, -1, &least, NULL, NULL,
                          NULL);
      g_assert_cmpint (least, <=, 400);
      app_close (window, GTK_WIDGET (form));
    }
}

/* --- spawn ------------------------------------------------------------------------------- */

static void
test_spawn_form (Scene *scene, gconstpointer data)
{
  BedForm *form;
  GtkWidget *window, *inside;

  scene_batch (scene->farm, 1);
  form = bed_spawn_form_new (scene->farm);
  inside = GTK_WIDGET (form);
  window = app_show (inside);
  g_assert_nonnull (find_row (inside, "mass", 0));
  g_assert_nonnull (find_row (inside, "pieces", 0));
  bed_form_set_text (form, "pieces", "48.50"); /* a price typed one field too early */
  bed_form_set_text (form, "form", "sawdust");
  g_assert_null (find_row (inside, "pieces", 0));
  bed_form_set_text (form, "strain", "Wide one");
  bed_form_set_text (form, "mass", "2");
  g_assert_true (bed_form_save (form, BED_FORM_THEN_NEXT)); /* not stopped by what is not seen */
  bed_form_set_text (form, "form", "dowel");
  g_assert_null (find_row (inside, "mass", 0));
  bed_form_set_text (form, "pieces", "500");
  g_assert_true (bed_form_save (form, BED_FORM_THEN_LEAVE));
  g_assert_cmpint (ask (scene, "SELECT count (*) FROM spawn WHERE mass IS NULL AND pieces = 500"),
                   ==, 1);
  g_assert_cmpint (ask (scene, "SELECT count (*) FROM spawn WHERE mass = 2000000"
                               " AND pieces IS NULL"),
                   ==, 1);
  app_close (window, inside);
}

static void
set_row (GtkWidget *inside, const char *field, guint n, const char *text)
{
  bed_field_row_set_text (find_row (inside, field, n), text);
}

/* Each lot of a batch can be changed, a further one added, one taken out, as one change. */
static void
test_spawn_lots (Scene *scene, gconstpointer data)
{
  gint64 batch = scene_batch (scene->farm, 2);
  BedForm *form;
  GtkWidget *window, *inside;

  scene_add (scene->farm,
             scene_record (scene->farm, BED_KIND_SPAWN, "code", "S26-2", "strain", "Wide one",
                           "form", "sawdust", "received_on", "2026-02-10", "mass", "5 kg", NULL));
  scene_add (scene->farm,
             scene_record (scene->farm, BED_KIND_SPAWN, "code", "S26-3", "strain", "Wide one",
                           "form", "dowel", "received_on", "2026-02-10", "pieces", "900", NULL));
  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_SPAWN_USED, "batch", "26A", "spawn",
                                        "S26-2", "mass", "1 kg", NULL));
  form = bed_batch_form_new (scene->farm);
  inside = GTK_WIDGET (form);
  window = app_show (inside);

  g_autoptr (BedRecord) stored = bed_farm_load (scene->farm, BED_KIND_BATCH, batch, NULL);
  bed_form_edit (form, stored);
  g_assert_false (bed_form_has_typing (form));
  g_assert_cmpstr (read_row (inside, "spawn", 0), ==, "S26-1");
  g_assert_cmpstr (read_row (inside, "spawn", 1), ==, "S26-2");
  g_assert_null (find_row (inside, "spawn", 2));
  set_row (inside, "mass", 1, "1.5");
  press (inside, "Another spawn lot");
  g_assert_cmpstr (get_focus_field (window), ==, "spawn");
  set_row (inside, "spawn", 2, "S26-3");
  app_settle (20);
  g_assert_null (find_row (inside, "mass", 2)); /* dowels are counted */
  /* Without an amount it is refused, and that is said at its own row, the third. */
  g_assert_false (bed_form_save (form, BED_FORM_THEN_LEAVE));
  g_assert_nonnull (app_find_label (GTK_WIDGET (find_row (inside, "pieces", 0)), "missing"));
  g_assert_cmpint (ask (scene, "SELECT count (*) FROM spawn_used"), ==, 2);
  set_row (inside, "pieces", 0, "120");
  set_row (inside, "spawn", 0, "");
  g_assert_true (bed_form_save (form, BED_FORM_THEN_LEAVE));
  g_assert_cmpint (ask (scene, "SELECT count (*) FROM spawn_used"), ==, 2);
  g_assert_cmpint (ask (scene, "SELECT u.mass FROM spawn_used u JOIN spawn s ON s.id = u.spawn"
                               " WHERE s.code = 'S26-2'"),
                   ==, 1500000);
  g_assert_cmpint (ask (scene, "SELECT u.pieces FROM spawn_used u JOIN spawn s ON s.id = u.spawn"
                               " WHERE s.code = 'S26-3'"),
                   ==, 120);
  g_assert_true (bed_history_undo (scene->farm, NULL, NULL));
  g_assert_cmpint (ask (scene, "SELECT sum (mass) FROM spawn_used"), ==, 3500000);

  /* The next batch begins with one empty line again. */
  bed_form_resume (form, NULL);
  g_assert_cmpstr (read_row (inside, "spawn", 0), ==, "");
  g_assert_null (find_row (inside, "spawn", 1));
  app_close (window, inside);
}

/* An amount left empty is what the other lots leave of the plan's need. */
static void
test_spawn_rest (Scene *scene, gconstpointer data)
{
  BedForm *form;
  GtkWidget *window, *inside;
  gint64 need;

  scene_batch (scene->farm, 1);
  scene_add (scene->farm,
             scene_record (scene->farm, BED_KIND_SPAWN, "code", "S26-2", "strain", "Wide one",
                           "form", "sawdust", "received_on", "2026-02-10", "mass", "5 kg", NULL));
  form = bed_batch_form_new (scene->farm);
  inside = GTK_WIDGET (form);
  window = app_show (inside);
  for (int round = 0; round < 2; round++)
    {
      bed_form_set_text (form, "hole_diameter", "12");
      bed_form_set_text (form, "hole_depth", "25");
      bed_form_set_text (form, "margin", "5");
      set_row (inside, "spawn", 0, "S26-1");
      if (round == 1)
        {
          press (inside, "Another spawn lot");
          set_row (inside, "spawn", 1, "S26-2");
          set_row (inside, "mass", 1, "10 g");
        }
      set_row (inside, "length", 0, "100");
      set_row (inside, "small_diameter", 0, "12");
      g_assert_true (bed_form_save (form, BED_FORM_THEN_NEXT));
    }
  need = ask (scene, "SELECT u.mass FROM spawn_used u JOIN batch b ON b.id = u.batch"
                     " WHERE b.code = '26B'");
  g_assert_cmpint (need, >, 10000);
  g_assert_cmpint (ask (scene, "SELECT sum (u.mass) FROM spawn_used u JOIN batch b"
                               " ON b.id = u.batch WHERE b.code = '26C'"),
                   ==, need);
  app_close (window, inside);
}

/* The first batch begins with the published pattern, later ones with the farm's own. */
static void
test_first_pattern (Scene *scene, gconstpointer units)
{
  g_autoptr (BedRecord) first = bed_draft_new (scene->farm, BED_KIND_BATCH);
  gboolean us = g_strcmp0 (units, "US") == 0;

  /* Hill, FOR-77, University of Kentucky, 1999: 1 in deep, 6 in along, 3 in between rows. */
  g_assert_cmpint (bed_record_get_int (first, "hole_depth"), ==, us ? 25400 : 25000);
  g_assert_cmpint (bed_record_get_int (first, "along"), ==, us ? 152400 : 150000);
  g_assert_cmpint (bed_record_get_int (first, "between"), ==, us ? 76200 : 76000);
  scene_batch (scene->farm, 1);
  g_autoptr (BedRecord) second = bed_draft_new (scene->farm, BED_KIND_BATCH);
  g_assert_cmpint (bed_record_get_int (second, "between"), ==, 75000);
  g_assert_false (bed_record_has (second, "margin"));
}

/* --- picks and lots ----------------------------------------------------------------------- */

static void
fill_lot (Scene *scene)
{
  scene_batch (scene->farm, 3);
  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_LOT, "code", "L1", "picked_on",
                                        "2026-05-12", NULL));
  scene_add (scene->farm,
             scene_record (scene->farm, BED_KIND_PICK, "picked_on", "2026-05-12", "batch", "26A",
                           "grade", "A", "mass", "300 g", "lot", "L1", NULL));
}

static void
test_change_pick (Scene *scene, gconstpointer data)
{
  BedWindow *window;
  GtkWidget *page, *table;
  BedForm *form;

  fill_lot (scene);
  window = open_window (scene->farm);
  bed_window_show_page (window, "picking");
  app_settle (50);
  page = GTK_WIDGET (bed_window_get_page (window));
  table = find_first_of (page, BED_TYPE_TABLE);
  g_assert_false (gtk_widget_get_sensitive (app_find_button (page, "Change pick")));
  bed_table_select (BED_TABLE (table), ask (scene, "SELECT id FROM pick"));
  press (page, "Change pick");
  form = BED_FORM (find_first_of (page, BED_TYPE_FORM));
  g_assert_cmpstr (get_focus_field (GTK_WIDGET (window)), ==, "mass");
  bed_form_set_text (form, "mass", "230");
  bed_form_set_text (form, "grade", "B");
  bed_form_set_text (form, "picked_on", "2026-05-11");
  g_assert_true (bed_form_has_typing (form));
  g_assert_true (bed_form_save (form, BED_FORM_THEN_LEAVE));
  assert_undo_says (scene->farm, "Changed a pick to 230 g B from 26A");
  g_assert_cmpint (ask (scene, "SELECT mass FROM pick WHERE picked_on = '2026-05-11'"), ==, 230000);
  app_settle (50);
  /* The list went to the day of the pick, and it is the chosen one. */
  g_assert_cmpint (bed_table_get_selected (BED_TABLE (table)), ==,
                   ask (scene, "SELECT id FROM pick"));
  g_assert_false (bed_form_has_typing (form));
  g_assert_true (bed_history_undo (scene->farm, NULL, NULL));
  g_assert_cmpint (ask (scene, "SELECT mass FROM pick"), ==, 300000);
  app_close (GTK_WIDGET (window), GTK_WIDGET (window));
}

static void
test_drying (Scene *scene, gconstpointer data)
{
  GtkWidget *detail, *window;
  BedForm *form;
  gint64 lot;

  fill_lot (scene);
  lot = ask (scene, "SELECT id FROM lot");
  detail = bed_lot_detail_new (scene->farm);
  window = app_show (detail);
  g_assert_true (bed_lot_detail_show (detail, lot, NULL));
  g_assert_nonnull (app_find_label (detail, "None of it was dried"));
  gtk_widget_activate_action (detail, "lot.dry", "x", (gint64) 0);
  form = BED_FORM (find_first_of (detail, BED_TYPE_FORM));
  g_assert_cmpstr (bed_form_get_text (form, "fresh_mass"), ==, "0.3"); /* all that is left */
  g_assert_cmpstr (bed_form_get_text (form, "lot"), ==, "L1");
  bed_form_set_text (form, "dried_mass", "400");
  g_assert_true (bed_form_has_typing (form));
  g_assert_false (bed_form_save (form, BED_FORM_THEN_LEAVE)); /* more than went in */
  bed_form_set_text (form, "fresh_mass", "0.2");
  bed_form_set_text (form, "dried_mass", "20");
  g_assert_true (bed_form_save (form, BED_FORM_THEN_LEAVE));
  assert_undo_says (scene->farm, "Dried 0.2 kg of lot L1 to 20 g");
  g_assert_false (bed_form_has_typing (form));

  g_assert_true (
      bed_lot_detail_show (detail, lot, NULL)); /* as its browser does when the farm changed */
  g_assert_nonnull (app_find_label (detail, "10.0 to 1"));
  gtk_widget_activate_action (detail, "lot.dry", "x", ask (scene, "SELECT id FROM drying"));
  bed_form_set_text (form, "dried_mass", "25");
  g_assert_true (bed_form_save (form, BED_FORM_THEN_LEAVE));
  g_assert_cmpint (ask (scene, "SELECT dried_mass FROM drying"), ==, 25000);
  gtk_widget_activate_action (detail, "lot.undry", "x", ask (scene, "SELECT id FROM drying"));
  g_assert_cmpint (bed_farm_count (scene->farm, BED_KIND_DRYING), ==, 0);
  assert_undo_says (scene->farm, "Removed a drying of lot L1");
  app_close (window, detail);
}

/* --- filters ------------------------------------------------------------------------------- */

static guint
count_found (BedTable *table, const char *text)
{
  bed_table_set_filter (table, text);
  return g_list_model_get_n_items (G_LIST_MODEL (bed_table_get_list (table)));
}

static const BedTableColumn purchase_columns[] = {
  { .column = "what", .title = "What", .cell = BED_CELL_TEXT },
};

static const BedTableSpec purchases = {
  .label = "Purchases",
  .source = "purchase",
  .columns = purchase_columns,
  .n_columns = G_N_ELEMENTS (purchase_columns),
  .order = "id",
  .search = "what || ' ' || bed_choice_word ('purchase', 'category', category)",
};

/* What is read is found, in any script and case; what is only stored is not. */
static void
test_filter (Scene *scene, gconstpointer data)
{
  BedTable *table = bed_table_new (scene->farm, &purchases);
  GtkWidget *window = app_show (GTK_WIDGET (table));

  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_PURCHASE, "bought_on", "2026-05-01",
                                        "category", "tools", "what", "Bohrer für Öl 50 %", "amount",
                                        "20", "scope", "overhead", NULL));
  scene_add (scene->farm,
             scene_record (scene->farm, BED_KIND_PURCHASE, "bought_on", "2026-05-01", "category",
                           "yard", "what", "Cloth", "amount", "20", "scope", "overhead", NULL));
  g_assert_cmpuint (count_found (table, "bits and"), ==, 1); /* the word of the choice "tools" */
  g_assert_cmpuint (count_found (table, "SHADE"), ==, 1);    /* "yard and shade" */
  g_assert_cmpuint (count_found (table, "FÜR öl"), ==, 1);
  g_assert_cmpuint (count_found (table, "%"), ==, 1); /* a per cent sign, not anything */
  g_assert_cmpuint (count_found (table, "_"), ==, 0);
  g_assert_cmpuint (count_found (table, "it's"), ==, 0);
  g_assert_cmpuint (count_found (table, ""), ==, 2);
  app_close (window, GTK_WIDGET (table));
}

static void
test_words_in_sql (Scene *scene, gconstpointer data)
{
  g_autoptr (BedQuery) q = bed_query_new (
      scene->farm, "SELECT bed_choice_word ('log', 'retired_why', 'weed fungus'),"
                   " bed_choice_word ('log', 'nothing', 'x'),"
                   " bed_choice_word ('nothing', 'x', 'y'), bed_choice_word ('log', 'bark', NULL),"
                   " bed_stage_word ('spawn run'),"
                   " bed_stage_word (NULL), bed_found (NULL, 'a'), bed_found ('Äpfel', 'äP')");

  g_assert_true (bed_query_next (q));
  g_assert_cmpstr (bed_query_text (q, 0), ==, "overrun by a weed fungus");
  g_assert_null (bed_query_text (q, 1));
  g_assert_null (bed_query_text (q, 2));
  g_assert_null (bed_query_text (q, 3));
  g_assert_cmpstr (bed_query_text (q, 4), ==, "spawn run");
  g_assert_null (bed_query_text (q, 5));
  g_assert_cmpint (bed_query_int (q, 6), ==, 0);
  g_assert_cmpint (bed_query_int (q, 7), ==, 1);
}

/* --- care and crop --------------------------------------------------------------------------- */

/* The log whose turn it is stands in the form of a weighing; what is typed is kept. */
static void
test_care_view (Scene *scene, gconstpointer data)
{
  gint64 batch = scene_batch (scene->farm, 3);
  BedCareView *care = bed_care_view_new (scene->farm);
  GtkWidget *window = app_show (GTK_WIDGET (care)), *inside = GTK_WIDGET (care);
  BedForm *form;

  bed_care_view_show (care, batch);
  g_assert_nonnull (app_find_label (inside, "Not checked yet"));
  gtk_widget_activate_action (inside, "care.record", "i", 0);
  form = BED_FORM (find_first_of (inside, BED_TYPE_FORM));
  g_assert_cmpstr (get_focus_field (window), ==, "mass");
  g_assert_true (g_str_has_prefix (bed_form_get_text (form, "log"), "26A-001-"));
  bed_form_set_text (form, "mass", "9.4");
  g_assert_true (bed_form_has_typing (form));
  g_assert_true (bed_form_save (form, BED_FORM_THEN_LEAVE));
  g_assert_false (bed_form_has_typing (form));
  g_assert_cmpint (ask (scene, "SELECT mass FROM weighing"), ==, 9400000);

  gtk_widget_activate_action (inside, "care.record", "i", 1);
  g_assert_cmpstr (read_row (inside, "batch", 0), ==, "26A");
  form = BED_FORM (
      gtk_widget_get_ancestor (GTK_WIDGET (find_row (inside, "colonised", 0)), BED_TYPE_FORM));
  bed_form_set_text (form, "colonised", "60");
  bed_form_set_text (form, "weed", "Trichoderma");
  g_assert_true (bed_form_save (form, BED_FORM_THEN_LEAVE));
  bed_care_view_show (care, batch);
  app_settle (50);
  g_assert_false (gtk_widget_get_visible (app_find_label (inside, "Not checked yet")));
  g_assert_nonnull (app_find_label (inside, "green mould"));

  /* Disc; and another batch than the one typed for is shown without the form. */
  gtk_widget_activate_action (inside, "care.record", "i", 2);
  g_assert_nonnull (find_row (inside, "dry_mass", 0));
  bed_care_view_show (care, batch + 1);
  g_assert_true (gtk_widget_get_mapped (app_find_button (inside, "Record disc")));
  app_close (window, inside);
}

/* Three years on nobody has looked at the ends: that is said, and not that they are run through. */
static void
test_never_looked (Scene *scene, gconstpointer data)
{
  gint64 batch = scene_batch (scene->farm, 3);
  BedCareView *care = bed_care_view_new (scene->farm);
  GtkWidget *window = app_show (GTK_WIDGET (care)), *inside = GTK_WIDGET (care);

  bed_farm_fix_clock (scene->farm, "2029-05-12T09:00", 3);
  bed_care_view_show (care, batch);
  g_assert_nonnull (app_find_label (inside, "not checked; its months are over"));
  g_assert_null (app_find_label (inside, "100 %"));
  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_CHECK, "checked_on", "2029-05-10",
                                        "batch", "26A", "colonised", "100", NULL));
  bed_care_view_show (care, batch);
  g_assert_nonnull (app_find_label (inside, "100 %"));
  app_close (window, inside);
}

static void
draw_trend (const BedTrendSpec *spec)
{
  BedTrendChart *chart = bed_trend_chart_new ();
  GtkWidget *window = app_show (GTK_WIDGET (chart));

  bed_trend_chart_set (chart, spec);
  app_settle (60);
  gtk_window_set_default_size (GTK_WINDOW (window), 260, 160);
  app_settle (60);
  app_close (window, GTK_WIDGET (chart));
}

/* Nothing measured, one weighing, all of it: drawn without a warning (they are fatal here). */
static void
test_trend_chart (void)
{
  BedTrendPoint dots[] = { { 0, 44 }, { 20, 38 }, { 40, 34 } };
  BedTrendMark marks[] = { { 0, "May" }, { 31, "June" } };
  BedTrendSpec spec = { .unit = "%",
                        .label = "Moisture",
                        .description = "none",
                        .band_low = NAN,
                        .band_high = NAN,
                        .limit = NAN,
                        .reach_early = NAN,
                        .reach = NAN,
                        .reach_late = NAN };

  draw_trend (&spec);
  spec.dots = dots;
  spec.n_dots = 1;
  draw_trend (&spec);
  spec.n_dots = 3;
  spec.curve = dots;
  spec.n_curve = 3;
  spec.marks = marks;
  spec.n_marks = 2;
  spec.last_day = 90;
  spec.band_low = 35;
  spec.band_high = 45;
  spec.band_label = "wanted";
  spec.limit = 30;
  spec.limit_label = "alarm";
  spec.reach_early = 60;
  spec.reach = 70;
  spec.reach_late = 85;
  draw_trend (&spec);
}

static void
test_crop_view (Scene *scene, gconstpointer data)
{
  BedCropView *view = bed_crop_view_new (scene->farm);
  GtkWidget *window = app_show (GTK_WIDGET (view)), *inside = GTK_WIDGET (view);

  g_assert_true (bed_crop_view_refresh (view, NULL));
  g_assert_nonnull (app_find_label (inside, "Once a fruiting season is over"));
  scene_batch (scene->farm, 4);
  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_BATCH, "code", "24A", "inoculated_on",
                                        "2024-03-01", "method", "drilled", NULL));
  g_assert_true (bed_crop_view_refresh (view, NULL));
  g_assert_nonnull (app_find_label (inside, "Expected in 2027"));
  app_close (window, inside);
}

/* --- a large farm's desk ----------------------------------------------------------------- */

static guint
count_of (GtkWidget *inside, GType type)
{
  for (guint n = 0;; n++)
    {
      guint skip = n;

      if (!find_of_type (inside, type, &skip))
        return n;
    }
}

#define TASKS 60

/* What a window shows is there when it is painted, the other tasks after it; all figures then. */
static void
test_many_tasks (Scene *scene, gconstpointer data)
{
  BedWindow *window;
  GtkWidget *page;

  for (int i = 0; i < TASKS; i++)
    scene_add (scene->farm, scene_record (scene->farm, BED_KIND_DUE, "due_on", "2026-05-11", "what",
                                          "Order wax", NULL));
  window = bed_window_new (NULL, NULL);
  bed_window_present_first (window);
  g_assert_true (gtk_widget_get_mapped (GTK_WIDGET (window)));
  bed_window_set_farm (window, scene->farm);
  bed_window_show_page (window, "week");
  page = GTK_WIDGET (bed_window_get_page (window));
  g_assert_cmpuint (count_of (page, BED_TYPE_DUE_ROW), >, 10);
  g_assert_cmpuint (count_of (page, BED_TYPE_DUE_ROW), <, TASKS);
  g_assert_null (app_find_label (page, "To pick this week"));
  for (int i = 0; i < 40 && count_of (page, BED_TYPE_DUE_ROW) < TASKS; i++)
    app_settle (50);
  g_assert_cmpuint (count_of (page, BED_TYPE_DUE_ROW), ==, TASKS);
  for (int i = 0; i < 40 && !app_find_label (page, "To pick this week"); i++)
    app_settle (50);
  g_assert_nonnull (app_find_label (page, "To pick this week"));
  app_close (GTK_WIDGET (window), GTK_WIDGET (window));
}

#define ADD(path, function)                                                                        \
  g_test_add ("/app/daily/" path, Scene, "metric", scene_set_up, function, scene_tear_down)

int
main (int argc, char **argv)
{
  gtk_test_init (&argc, &argv, NULL);
  app_begin ();
  ADD ("first-field", test_first_field);
  ADD ("groups", test_groups);
  ADD ("done-goes-on", test_done_goes_on);
  ADD ("page-focus", test_page_focus);
  ADD ("all-around", test_all_around);
  ADD ("keyboard-returns", test_keyboard_returns);
  ADD ("field-in-view", test_field_in_view);
  ADD ("first-steps", test_first_steps);
  ADD ("sheets-fit", test_sheets_fit);
  ADD ("spawn-form", test_spawn_form);
  ADD ("spawn-lots", test_spawn_lots);
  ADD ("spawn-rest", test_spawn_rest);
  ADD ("first-pattern", test_first_pattern);
  g_test_add ("/app/daily/first-pattern-us", Scene, "US", scene_set_up, test_first_pattern,
              scene_tear_down);
  ADD ("change-pick", test_change_pick);
  ADD ("drying", test_drying);
  ADD ("filter", test_filter);
  ADD ("words-in-sql", test_words_in_sql);
  ADD ("care-view", test_care_view);
  ADD ("never-looked", test_never_looked);
  ADD ("crop-view", test_crop_view);
  ADD ("many-tasks", test_many_tasks);
  g_test_add_func ("/app/daily/trend-chart", test_trend_chart);
  return g_test_run ();
}
