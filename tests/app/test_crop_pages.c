/* This week, Soaking, Picking, Money, Season, History: empty and full, typed into and taken
 * apart. Today is Tue 2026-05-12. */
#include <locale.h>

#include "../ask.h"

#include "app_test.h"

#include "app/desk/season_chooser.h"
#include "app/host/host.h"
#include "app/picking/lot_detail.h"
#include "app/picking/pick_line.h"
#include "app/picking/sale_form.h"
#include "app/season/season_run.h"
#include "app/soaking/rotation_view.h"
#include "app/soaking/soak_form.h"
#include "app/soaking/soaking_page.h"
#include "app/week/due_row.h"
#include "app/week/first_steps.h"
#include "app/week/week_strip.h"
#include "app/widgets/chart.h"
#include "app/widgets/facts.h"
#include "app/widgets/plot.h"
#include "app/widgets/run_chart.h"
#include "app/widgets/split_bar.h"
#include "app/widgets/wrap_layout.h"
#include "app/window/window.h"
#include "model/farm/kinds.h"
#include "model/season/pick.h"
#include "model/season/season_weeks.h"

static const char *const page_names[]
    = { "week", "soaking", "picking", "money", "season", "history" };

/* A farm in which every page has something to show. */
static void
fill_farm (BedFarm *farm)
{
  scene_batch (farm, 6);
  scene_add (farm,
             scene_record (farm, BED_KIND_DUE, "due_on", "2026-05-11", "what", "Order wax", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_SOAK, "tank", "Trough", "put_in",
                                 "2026-05-11T08:00", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_SOAKED, "soak", "K26-1", "log", "26A-001", NULL));
  scene_add (farm,
             scene_record (farm, BED_KIND_LOT, "code", "L1", "picked_on", "2026-05-12", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_PICK, "picked_on", "2026-05-12", "log", "26A-002",
                                 "grade", "A", "mass", "500", "lot", "L1", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_SALE, "code", "V1", "sold_on", "2026-05-12", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_LINE, "sale", "V1", "lot", "L1", "form", "fresh",
                                 "use", "sold", "mass", "0.3", "price", "6", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_PURCHASE, "bought_on", "2026-05-12", "category",
                                 "wax", "what", "Wax", "amount", "20", "scope", "season", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_HOURS, "worked_on", "2026-05-12", "task", "picking",
                                 "minutes", "1 h", NULL));
}

static BedWindow *
open_window (BedFarm *farm)
{
  BedWindow *window = g_object_new (BED_TYPE_WINDOW, NULL);

  gtk_window_present (GTK_WINDOW (window));
  bed_window_set_farm (window, farm);
  return window;
}

static void
show_all (BedWindow *window)
{
  for (guint i = 0; i < G_N_ELEMENTS (page_names); i++)
    {
      g_assert_true (bed_window_show_page (window, page_names[i]));
      app_settle (150);
    }
}

static void
test_empty (Scene *scene, gconstpointer data)
{
  BedWindow *window = open_window (scene->farm);

  show_all (window);
  app_close (GTK_WIDGET (window), GTK_WIDGET (window));
}

/* Each page is seen, its form opened, and follows a change of the farm. */
static void
test_full (Scene *scene, gconstpointer data)
{
  BedWindow *window;

  fill_farm (scene->farm);
  window = open_window (scene->farm);
  show_all (window);
  for (guint i = 0; i < G_N_ELEMENTS (page_names); i++)
    {
      bed_window_show_page (window, page_names[i]);
      gtk_widget_activate_action (GTK_WIDGET (window), "win.add", NULL);
      app_settle (50);
    }
  bed_history_undo (scene->farm, NULL, NULL);
  show_all (window);
  app_close (GTK_WIDGET (window), GTK_WIDGET (window));
}

static void
press (GtkWidget *inside, const char *label)
{
  GtkWidget *button = app_find_button (inside, label);

  g_assert_nonnull (button);
  g_signal_emit_by_name (button, "clicked");
}

/* The step to do now has the button; what is there is ticked; all done, it is gone. */
static void
test_first_steps (Scene *scene, gconstpointer data)
{
  BedFarm *farm = scene->farm;
  BedFirstSteps *steps = bed_first_steps_new (farm);
  GtkWidget *widget = GTK_WIDGET (steps), *window = app_show (widget);

  g_assert_true (bed_first_steps_refresh (steps, NULL));
  g_assert_true (gtk_widget_get_visible (app_find_button (widget, "New felling")));
  scene_batch (farm, 2);
  g_assert_true (bed_first_steps_refresh (steps, NULL));
  g_assert_false (gtk_widget_get_visible (app_find_button (widget, "New felling")));
  g_assert_false (gtk_widget_get_visible (app_find_button (widget, "New batch")));
  GtkWidget *yard = app_find_button (widget, "Go to the yard");
  g_assert_true (gtk_widget_get_visible (yard));
  g_assert_true (gtk_widget_has_css_class (yard, "suggested-action"));
  /* Logs that bear need no soak first. */
  scene_add (farm, scene_record (farm, BED_KIND_PICK, "picked_on", "2026-05-12", "batch", "26A",
                                 "grade", "A", "mass", "500 g", NULL));
  g_assert_true (bed_first_steps_refresh (steps, NULL));
  g_assert_false (gtk_widget_get_visible (app_find_button (widget, "Record soak")));
  scene_add (farm, scene_record (farm, BED_KIND_AREA, "name", "Low yard", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_STACK, "name", "Crib 1", "area", "Low yard", "kind",
                                 "crib", "built_on", "2026-03-01", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_PLACE, "log", "26A-001", "stack", "Crib 1", "since",
                                 "2026-03-02", NULL));
  g_assert_true (bed_first_steps_refresh (steps, NULL));
  g_assert_false (gtk_widget_get_visible (widget));
  app_close (window, widget);
}

/* What a screen reader says of the days is what is drawn. */
static void
test_week_strip (Scene *scene, gconstpointer data)
{
  BedFarm *farm = scene->farm;
  BedWeekStrip *strip = bed_week_strip_new (farm);

  /* Where weeks begin on Monday; the C library's own on Sunday. */
  g_assert_nonnull (setlocale (LC_TIME, "en_GB.UTF-8"));
  GtkWidget *window = app_show (GTK_WIDGET (strip));

  fill_farm (farm);
  scene_add (farm, scene_record (farm, BED_KIND_RAIN, "fell_on", "2026-05-12", "depth", "4", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_TEMPERATURE, "measured_on", "2026-05-12", "least",
                                 "8", "most", "19", NULL));
  g_autoptr (GPtrArray) items = bed_due_list (farm, NULL);
  bed_week_strip_set (strip, bed_week_new (farm, items, NULL));
  app_settle (50);
  g_autofree char *monday = bed_week_strip_dup_day (strip, 0);
  g_autofree char *today = bed_week_strip_dup_day (strip, 1);
  g_autofree char *sunday = bed_week_strip_dup_day (strip, 6);
  g_assert_cmpstr (monday, ==, "Mon 11 May; in the water: Trough, 1 log; soaked, 1 log");
  g_assert_cmpstr (
      today, ==,
      "Tue 12 May, today; rain 4.0 mm; 8 to 19 °C; in the water: Trough, 1 log; "
      "picked 0.5 kg; due: Lift from tank, 1 log; due: Soak logs, 1 log; due: Order wax");
  g_assert_cmpstr (sunday, ==, "Sun 17 May");
  gtk_test_accessible_assert_property (GTK_ACCESSIBLE (strip), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                       "The week, day by day");
  app_close (window, GTK_WIDGET (strip));
}

static void
test_week_does_a_task (Scene *scene, gconstpointer data)
{
  BedWindow *window;

  fill_farm (scene->farm);
  window = open_window (scene->farm);
  bed_window_show_page (window, "week");
  app_settle (50);
  g_assert_nonnull (app_find_label (GTK_WIDGET (window), "Order wax"));
  press (GTK_WIDGET (window), "Done");
  g_assert_cmpint (ask_one (scene->farm, "SELECT count (*) FROM due WHERE done_on IS NULL", 0), ==,
                   0);
  app_settle (50);
  /* The soak in the tank is next: its button leads to the form on the other page. */
  press (GTK_WIDGET (window), "Record out");
  g_assert_true (BED_IS_SOAKING_PAGE (bed_window_get_page (window)));
  app_close (GTK_WIDGET (window), GTK_WIDGET (window));
}

/* Every record that a due line begins has a page that takes it, and a form that shows it. */
static void
test_drafts_find_a_page (Scene *scene, gconstpointer data)
{
  static const BedKind kinds[] = { BED_KIND_SOAK,     BED_KIND_PICK,       BED_KIND_CHECK,
                                   BED_KIND_WEIGHING, BED_KIND_WATERING,   BED_KIND_DUE,
                                   BED_KIND_BATCH,    BED_KIND_SALE,       BED_KIND_LOT,
                                   BED_KIND_PURCHASE, BED_KIND_HOURS,      BED_KIND_EQUIPMENT,
                                   BED_KIND_RATE,     BED_KIND_STOCK_COUNT };
  BedWindow *window;

  fill_farm (scene->farm);
  window = open_window (scene->farm);
  for (guint i = 0; i < G_N_ELEMENTS (kinds); i++)
    {
      g_autoptr (BedRecord) draft = bed_record_new (kinds[i]);
      bed_window_show_page (window, "history");
      bed_host_show_draft (GTK_WIDGET (window), draft, NULL);
      g_assert_true (BED_PAGE_GET_CLASS (bed_window_get_page (window))->kinds
                     & BED_KIND_BIT (kinds[i]));
      app_settle (30);
    }
  app_close (GTK_WIDGET (window), GTK_WIDGET (window));
}

static void
test_lift (Scene *scene, gconstpointer data)
{
  BedWindow *window;

  fill_farm (scene->farm);
  window = open_window (scene->farm);
  bed_window_show_page (window, "soaking");
  app_settle (50);
  press (GTK_WIDGET (window), "Lift soak");
  g_assert_cmpint (
      ask_one (scene->farm, "SELECT count (*) FROM soak WHERE taken_out IS NOT NULL", 0), ==, 1);
  app_settle (100);
  g_assert_null (app_find_button (GTK_WIDGET (window), "Lift soak"));
  app_close (GTK_WIDGET (window), GTK_WIDGET (window));
}

/* --- the pick line ------------------------------------------------------------- */

static GtkWidget *
find_entry (GtkWidget *inside, guint *skip)
{
  for (GtkWidget *child = gtk_widget_get_first_child (inside); child;
       child = gtk_widget_get_next_sibling (child))
    {
      GtkWidget *found = GTK_IS_ENTRY (child) ? child : NULL;
      if (found && (*skip)-- == 0)
        return found;
      if (!found && (found = find_entry (child, skip)))
        return found;
    }
  return NULL;
}

/* Entries in Enter's order: day, source, grade, weight. */
static void
enter (GtkWidget *line, guint at, const char *text)
{
  GtkWidget *entry = find_entry (line, &at);

  g_assert_nonnull (entry);
  if (text)
    gtk_editable_set_text (GTK_EDITABLE (entry), text);
  g_signal_emit_by_name (entry, "activate");
}

static const char *
read_entry (GtkWidget *line, guint at)
{
  return gtk_editable_get_text (GTK_EDITABLE (find_entry (line, &at)));
}

static gint64
count_picks (BedFarm *farm)
{
  return bed_farm_count (farm, BED_KIND_PICK);
}

static void
test_pick_line (Scene *scene, gconstpointer data)
{
  GtkWidget *line, *window;

  scene_batch (scene->farm, 3);
  line = GTK_WIDGET (bed_pick_line_new (scene->farm));
  window = app_show (line);
  enter (line, 1, "26A-001");
  enter (line, 2, "b");
  enter (line, 3, "210");
  g_assert_cmpint (count_picks (scene->farm), ==, 1);
  g_assert_cmpint (ask_one (scene->farm, "SELECT mass FROM pick WHERE grade = 'B'", 0), ==, 210000);
  g_assert_cmpstr (read_entry (line, 1), ==, "");
  g_assert_cmpstr (read_entry (line, 2), ==, "b"); /* kept for the next */

  /* What is wrong is said, and everything typed stays. */
  enter (line, 1, "26A-002");
  enter (line, 3, "heavy");
  g_assert_cmpint (count_picks (scene->farm), ==, 1);
  g_assert_cmpstr (read_entry (line, 1), ==, "26A-002");
  g_assert_cmpstr (read_entry (line, 3), ==, "heavy");
  g_assert_nonnull (app_find_label (line, "heavy"));
  enter (line, 1, "nothing like it");
  enter (line, 3, "100");
  g_assert_cmpint (count_picks (scene->farm), ==, 1);
  enter (line, 1, "26A-002");
  enter (line, 2, "Q");
  enter (line, 3, "100");
  g_assert_cmpint (count_picks (scene->farm), ==, 1);
  g_assert_nonnull (app_find_label (line, "is not a grade"));
  enter (line, 2, "A");
  enter (line, 3, NULL);
  g_assert_cmpint (count_picks (scene->farm), ==, 2);
  g_assert_cmpint (bed_farm_count (scene->farm, BED_KIND_LOT), ==, 1);
  app_close (window, line);
}

/* A pick of another day goes into that day's lot. */
static void
test_pick_line_day (Scene *scene, gconstpointer data)
{
  GtkWidget *line, *window;

  scene_batch (scene->farm, 1);
  line = GTK_WIDGET (bed_pick_line_new (scene->farm));
  window = app_show (line);
  enter (line, 0, "2026-05-10");
  g_assert_cmpstr (bed_pick_line_get_day (BED_PICK_LINE (line)), ==, "2026-05-10");
  enter (line, 1, "26A");
  enter (line, 3, "100");
  g_assert_cmpint (bed_pick_find_lot (scene->farm, "2026-05-10"), !=, 0);
  g_assert_cmpint (bed_pick_find_lot (scene->farm, "2026-05-12"), ==, 0);
  app_close (window, line);
}

/* --- forms --------------------------------------------------------------------- */

/* The logs are the last entry of the form. */
static GtkWidget *
find_logs (BedForm *form)
{
  GtkWidget *last = NULL, *entry;

  for (guint i = 0; (entry = find_entry (GTK_WIDGET (form), &(guint){ i })); i++)
    last = entry;
  return last;
}

static void
type_logs (BedForm *form, const char *text)
{
  gtk_editable_set_text (GTK_EDITABLE (find_logs (form)), text);
}

static void
test_soak_form (Scene *scene, gconstpointer data)
{
  BedForm *form;
  GtkWidget *window;

  scene_batch (scene->farm, 4);
  form = bed_soak_form_new (scene->farm);
  window = app_show (GTK_WIDGET (form));
  bed_form_set_text (form, "tank", "Trough");
  bed_form_set_text (form, "put_in", "2026-05-11 08:00");
  g_assert_false (bed_form_save (form, BED_FORM_THEN_LEAVE)); /* no logs */
  type_logs (form, "26A-001, 26Z");
  g_assert_false (bed_form_save (form, BED_FORM_THEN_LEAVE));
  type_logs (form, "26A-001, 26A-002");
  g_assert_true (bed_form_save (form, BED_FORM_THEN_LEAVE));
  g_assert_cmpint (bed_farm_count (scene->farm, BED_KIND_SOAKED), ==, 2);

  /* Changed: one log out of it, another in. */
  gint64 soak = ask_one (scene->farm, "SELECT id FROM soak", 0);
  g_autoptr (BedRecord) stored = bed_farm_load (scene->farm, BED_KIND_SOAK, soak, NULL);
  bed_form_edit (form, stored);
  type_logs (form, "26A-002, 26A-003, 26A-004");
  g_assert_true (bed_form_save (form, BED_FORM_THEN_LEAVE));
  g_assert_cmpint (bed_farm_count (scene->farm, BED_KIND_SOAKED), ==, 3);
  g_assert_cmpint (ask_one (scene->farm,
                            "SELECT count (*) FROM soaked d JOIN log l"
                            " ON l.id = d.log WHERE l.code LIKE '26A-001-%'",
                            0),
                   ==, 0);
  app_close (window, GTK_WIDGET (form));
}

/* Left with Esc and opened again, the logs typed are still there. */
static void
test_soak_form_keeps_typing (Scene *scene, gconstpointer data)
{
  BedForm *form;
  GtkWidget *window;

  scene_batch (scene->farm, 2);
  form = bed_soak_form_new (scene->farm);
  window = app_show (GTK_WIDGET (form));
  bed_soak_form_offer_logs (form, "26A-002");
  g_assert_false (bed_form_has_typing (form)); /* what the program filled in is no typing */
  type_logs (form, "26A-001");
  g_assert_true (bed_form_has_typing (form));
  bed_form_resume (form, NULL);
  bed_soak_form_offer_logs (form, "26A-002");
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (find_logs (form))), ==, "26A-001");
  app_close (window, GTK_WIDGET (form));
}

/* Offered is what is due to be soaked: of two batches as old, not the totem. */
static void
test_soak_form_offers (Scene *scene, gconstpointer data)
{
  BedForm *form;
  GtkWidget *window;

  scene_batch (scene->farm, 2);
  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_BATCH, "code", "26T", "inoculated_on",
                                        "2026-03-01", "method", "totem", NULL));
  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_SPAWN_USED, "batch", "26T", "spawn",
                                        "S26-1", "mass", "1 kg", NULL));
  scene_add (scene->farm,
             scene_record (scene->farm, BED_KIND_LOG, "felling", "F26-1", "batch", "26T", "length",
                           "100 cm", "small_diameter", "10 cm", NULL));
  bed_farm_fix_clock (scene->farm, "2026-09-10T09:00", 3);
  form = bed_soak_form_new (scene->farm);
  window = app_show (GTK_WIDGET (form));
  bed_form_resume (form, NULL);
  g_assert_nonnull (app_find_button (GTK_WIDGET (form), "26A (2)"));
  g_assert_null (app_find_button (GTK_WIDGET (form), "26T (1)"));
  app_close (window, GTK_WIDGET (form));
}

static void
test_sale_form (Scene *scene, gconstpointer data)
{
  BedForm *form;
  GtkWidget *window;

  fill_farm (scene->farm);
  form = bed_sale_form_new (scene->farm);
  window = app_show (GTK_WIDGET (form));
  bed_form_set_text (form, "lot", "L1");
  bed_form_set_text (form, "mass", "0.15");
  g_assert_false (bed_form_save (form, BED_FORM_THEN_LEAVE)); /* sold without a price */
  bed_form_set_text (form, "price", "3");
  g_assert_true (bed_form_save (form, BED_FORM_THEN_LEAVE));
  g_assert_cmpint (bed_farm_count (scene->farm, BED_KIND_LINE), ==, 2);
  g_assert_cmpint (bed_farm_count (scene->farm, BED_KIND_SALE), ==, 2);
  app_close (window, GTK_WIDGET (form));
}

/* Types one line and presses Enter at its price. */
static void
type_line (BedForm *form, const char *lot, const char *mass, const char *price)
{
  bed_form_set_text (form, "lot", lot);
  bed_form_set_text (form, "mass", mass);
  bed_form_set_text (form, "price", price);
  bed_field_row_enter (app_find_row (GTK_WIDGET (form), "price"));
}

/* What is sold beyond its lot is said at the mass of that line, before it is saved and where it is
 * typed; what is taken in already says it under its line, until the line goes. */
static void
test_sale_beyond (Scene *scene, gconstpointer data)
{
  BedForm *form;
  GtkWidget *window;
  BedFieldRow *mass;

  fill_farm (scene->farm);
  form = bed_sale_form_new (scene->farm);
  window = app_show (GTK_WIDGET (form));
  mass = app_find_row (GTK_WIDGET (form), "mass");
  type_line (form, "L1", "0.1", "3");
  g_assert_cmpstr (bed_form_get_text (form, "mass"), ==, "");
  type_line (form, "L1", "9", "30");
  g_assert_true (bed_field_row_is_wrong (mass));
  g_assert_cmpstr (bed_form_get_text (form, "mass"), ==, "9");
  app_settle (400); /* the check after the last key */
  g_assert_true (bed_field_row_is_wrong (mass));
  g_assert_nonnull (app_find_label (GTK_WIDGET (form), "has not so much"));
  bed_form_set_text (form, "mass", "0.05");
  bed_form_check (form);
  g_assert_false (bed_field_row_is_wrong (mass));
  g_assert_null (app_find_label (GTK_WIDGET (form), "has not so much"));

  bed_field_row_enter (app_find_row (GTK_WIDGET (form), "price"));
  bed_form_set_text (form, "sold_on", "2001-01-01"); /* before the lot was picked */
  bed_form_check (form);
  g_assert_nonnull (app_find_label (GTK_WIDGET (form), "was picked on"));
  g_assert_false (bed_field_row_is_wrong (app_find_row (GTK_WIDGET (form), "lot")));
  bed_form_set_text (form, "sold_on", "");
  bed_form_check (form);
  g_assert_null (app_find_label (GTK_WIDGET (form), "was picked on"));
  app_close (window, GTK_WIDGET (form));
}

/* Cells become lines, their heads are passed over; one that is wrong stays where it is typed, and
 * those behind it wait: nothing is saved without them. */
static void
test_sale_paste (Scene *scene, gconstpointer data)
{
  BedForm *form;
  GtkWidget *window;

  fill_farm (scene->farm);
  form = bed_sale_form_new (scene->farm);
  window = app_show (GTK_WIDGET (form));
  GtkWidget *entry = bed_editor_get_focus_widget (
      bed_field_row_get_editor (app_find_row (GTK_WIDGET (form), "lot")));
  app_paste (entry, "Lot\tkg\tPrice\nL1\t0.05\t1\nL9\t0.05\t1\nL1\t0.02\t2\n");
  g_assert_cmpstr (bed_form_get_text (form, "lot"), ==, "L9");
  g_assert_true (bed_field_row_is_wrong (app_find_row (GTK_WIDGET (form), "lot")));
  g_assert_nonnull (app_find_label (GTK_WIDGET (form), "1 pasted line waits"));
  bed_form_set_text (form, "lot", "L1");
  g_assert_false (bed_form_save (form, BED_FORM_THEN_LEAVE));
  bed_field_row_enter (app_find_row (GTK_WIDGET (form), "price"));
  g_assert_null (app_find_label (GTK_WIDGET (form), "pasted line"));
  g_assert_true (bed_form_save (form, BED_FORM_THEN_LEAVE));
  g_assert_cmpint (bed_farm_count (scene->farm, BED_KIND_LINE), ==, 4);
  app_close (window, GTK_WIDGET (form));
}

/* Sold from its lot: the lot and what is left of it stand there, and are no typing yet. */
static void
test_sale_of_lot (Scene *scene, gconstpointer data)
{
  BedForm *form;
  GtkWidget *window;

  fill_farm (scene->farm);
  gint64 rest = ask_one (scene->farm, "SELECT rest FROM lot_left WHERE code = 'L1'", 0);
  form = bed_sale_form_new (scene->farm);
  window = app_show (GTK_WIDGET (form));
  bed_sale_form_offer_lot (form, "L1");
  g_assert_cmpstr (bed_form_get_text (form, "lot"), ==, "L1");
  g_assert_false (bed_form_has_typing (form));
  bed_form_set_text (form, "price", "3");
  g_assert_true (bed_form_save (form, BED_FORM_THEN_LEAVE));
  g_assert_cmpint (rest, >, 0);
  g_assert_cmpint (ask_one (scene->farm, "SELECT mass FROM line ORDER BY id DESC LIMIT 1", 0), ==,
                   rest);
  app_close (window, GTK_WIDGET (form));
}

static int
least_width (GtkWidget *widget)
{
  int least;

  gtk_widget_measure (widget, GTK_ORIENTATION_HORIZONTAL, -1, &least, NULL, NULL, NULL);
  return least;
}

/* What was typed in the place of the detail leaves it as wide as it was: the list stays beside. */
static void
test_detail_width (Scene *scene, gconstpointer data)
{
  GtkWidget *detail, *window;
  gint64 lot;

  fill_farm (scene->farm);
  lot = ask_one (scene->farm, "SELECT id FROM lot", 0);
  detail = bed_lot_detail_new (scene->farm);
  window = app_show (detail);
  g_assert_true (bed_lot_detail_show (detail, lot, NULL));
  gtk_widget_activate_action (detail, "lot.dry", "x", (gint64) 0);
  app_settle (100);
  BedForm *form = BED_FORM (
      gtk_widget_get_ancestor (GTK_WIDGET (app_find_row (detail, "fresh_mass")), BED_TYPE_FORM));
  bed_form_set_text (form, "fresh_mass", "0.1");
  bed_form_set_text (form, "dried_mass", "10");
  g_assert_true (bed_form_save (form, BED_FORM_THEN_LEAVE));
  g_assert_true (bed_lot_detail_show (detail, lot, NULL));
  app_settle (300); /* the stack goes over */
  g_assert_cmpint (least_width (detail), <, 500);
  app_close (window, detail);
}

/* --- drawings ------------------------------------------------------------------ */

/* Something is drawn, and nothing outside the widget. */
static void
look_at (GtkWidget *widget)
{
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  g_autoptr (GdkPaintable) paintable = gtk_widget_paintable_new (widget);
  GtkSnapshot *snapshot = gtk_snapshot_new ();
  GskRenderNode *node;
  graphene_rect_t drawn;

  g_assert_cmpint (width, >, 0);
  gdk_paintable_snapshot (paintable, snapshot, width, height);
  node = gtk_snapshot_free_to_node (snapshot);
  g_assert_nonnull (node);
  gsk_render_node_get_bounds (node, &drawn);
  g_assert_cmpfloat (drawn.size.width, >, 0);
  g_assert_cmpfloat (drawn.origin.x, >=, -2);
  g_assert_cmpfloat (drawn.origin.y, >=, -2);
  g_assert_cmpfloat (drawn.origin.x + drawn.size.width, <=, width + 2);
  g_assert_cmpfloat (drawn.origin.y + drawn.size.height, <=, height + 2);
  gsk_render_node_unref (node);
}

/* Whatever is set, however narrow: drawn without a warning, taken apart. */
static void
draw (GtkWidget *widget)
{
  GtkWidget *window = app_show (widget);

  gtk_window_set_default_size (GTK_WINDOW (window), 300, 200);
  app_settle (100);
  look_at (widget);
  gtk_window_set_default_size (GTK_WINDOW (window), 1200, 600);
  app_settle (100);
  look_at (widget);
  app_close (window, widget);
}

static void
test_chart (void)
{
  BedChart *empty = bed_chart_new (), *chart = bed_chart_new ();
  BedChartBar bars[] = { { "4 May", "4 May: 3 kg", 3, 0, 0, FALSE },
                         { "11 May", "11 May: 2 kg", 2, 1, 5, TRUE },
                         { NULL, NULL, 0, 0, 0, TRUE } };
  BedChartSpec spec = { "kg", "Picked by week", 2.5, "wanted", 0 };

  bed_chart_set (empty, &(BedChartSpec){ NULL, "Nothing", 0, NULL, 0 }, NULL, 0);
  draw (GTK_WIDGET (empty));
  bed_chart_set (chart, &spec, bars, G_N_ELEMENTS (bars));
  draw (GTK_WIDGET (chart));
}

static gboolean
show_run (BedRunChart *chart, BedFarm *farm)
{
  g_autoptr (GArray) seasons = bed_season_weeks_read (farm, 2026, NULL);

  return bed_season_run_show (chart, farm, seasons, NULL);
}

/* The drawing reads aloud what it draws: the season, what each week gave. */
static void
test_season_run (Scene *scene, gconstpointer data)
{
  BedRunChart *chart = bed_run_chart_new ();
  GtkWidget *window = app_show (GTK_WIDGET (chart));

  g_assert_true (show_run (chart, scene->farm));
  fill_farm (scene->farm);
  g_assert_true (show_run (chart, scene->farm));
  app_settle (50);
  gtk_test_accessible_assert_property (
      GTK_ACCESSIBLE (chart), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
      "2026: 0.5 kg; week of Mon 11 May: 0.5 kg picked, 0.5 kg so far");
  app_close (window, GTK_WIDGET (chart));
}

static void
count_cb (int *times)
{
  (*times)++;
}

/* From the season that runs back to the first with any record, and no further. */
static void
test_season_chooser (Scene *scene, gconstpointer data)
{
  BedSeasonChooser *chooser = bed_season_chooser_new (scene->farm);
  GtkWidget *widget = GTK_WIDGET (chooser), *window = app_show (widget);
  GtkWidget *row = gtk_widget_get_first_child (widget);
  GtkWidget *earlier = gtk_widget_get_first_child (row), *later = gtk_widget_get_last_child (row);
  int changes = 0;

  g_signal_connect_swapped (chooser, "changed", G_CALLBACK (count_cb), &changes);
  scene_batch (scene->farm, 2);
  scene_add (scene->farm,
             scene_record (scene->farm, BED_KIND_PURCHASE, "bought_on", "2025-05-12", "category",
                           "wax", "what", "Wax", "amount", "20", "scope", "season", NULL));
  g_assert_true (bed_season_chooser_refresh (chooser, NULL));
  g_assert_cmpint (bed_season_chooser_get (chooser), ==, 2026);
  g_assert_true (gtk_widget_get_sensitive (earlier) && !gtk_widget_get_sensitive (later));
  g_signal_emit_by_name (earlier, "clicked");
  g_assert_cmpint (bed_season_chooser_get (chooser), ==, 2025);
  g_assert_true (!gtk_widget_get_sensitive (earlier) && gtk_widget_get_sensitive (later));
  g_assert_nonnull (app_find_label (widget, "2025"));
  g_assert_cmpint (changes, ==, 1);
  app_close (window, widget);
}

static int
height_for (gpointer widget, int width)
{
  int height;

  gtk_widget_measure (widget, GTK_ORIENTATION_VERTICAL, width, &height, NULL, NULL, NULL);
  return height;
}

/* Every name has its place: where there is no room for all beside each other, below. */
static void
test_split_bar (void)
{
  BedSplitBar *bar = bed_split_bar_new (), *plain = bed_split_bar_new ();
  BedSplitPart parts[]
      = { { "overhead", "97.00", 0.97 }, { "one batch", "2.00", 0.02 }, { "yard", "1.00", 0.01 } };

  bed_split_bar_set (bar, "Cost", parts, G_N_ELEMENTS (parts));
  bed_split_bar_set_measure (plain, "wax", 0.3);
  int bare = height_for (plain, 600), row = height_for (bar, 600) - bare;
  g_assert_cmpint (row, >, 0);
  g_assert_cmpint (height_for (bar, 120), ==, bare + 3 * row);
  g_assert_cmpint (height_for (plain, 120), ==, bare);
  draw (GTK_WIDGET (bar));
  draw (GTK_WIDGET (plain));
}

static void
test_rotation_view (Scene *scene, gconstpointer data)
{
  BedRotationView *view = bed_rotation_view_new (scene->farm);
  g_autoptr (BedSoakPlan) plan = NULL;

  fill_farm (scene->farm);
  plan = bed_soak_plan_new (scene->farm, NULL);
  g_assert_true (bed_soak_plan_solve (plan, NULL));
  bed_rotation_view_set_plan (view, plan);
  bed_rotation_view_set_plan (view, NULL);
  bed_rotation_view_set_plan (view, plan);
  draw (GTK_WIDGET (view));
}

static void
test_plot_step (void)
{
  g_assert_cmpfloat (bed_plot_step (20, 4), ==, 5);
  g_assert_cmpfloat (bed_plot_step (21, 4), ==, 10);
  g_assert_cmpfloat_with_epsilon (bed_plot_step (0.9, 4), 0.25, 1e-12);
  g_assert_cmpfloat (bed_plot_step (8, 4), ==, 2);
  g_assert_cmpfloat (bed_plot_step (0, 4), >, 0);
}

/* --- wrapping ------------------------------------------------------------------ */

static void
test_wrap (void)
{
  GtkWidget *box = bed_wrap_new (10, 4);
  int one, two;

  for (int i = 0; i < 4; i++)
    {
      GtkWidget *child = gtk_label_new ("x");
      gtk_widget_set_size_request (child, 100, 20);
      gtk_box_append (GTK_BOX (box), child);
    }
  g_object_ref_sink (box);
  gtk_widget_measure (box, GTK_ORIENTATION_VERTICAL, 430, &one, NULL, NULL, NULL);
  gtk_widget_measure (box, GTK_ORIENTATION_VERTICAL, 429, &two, NULL, NULL, NULL);
  g_assert_cmpint (one, ==, 20);
  g_assert_cmpint (two, ==, 44);
  gtk_widget_measure (box, GTK_ORIENTATION_VERTICAL, 100, &two, NULL, NULL, NULL);
  g_assert_cmpint (two, ==, 92);

  /* What is not seen takes no room, neither a line nor a gap. */
  gtk_widget_set_visible (gtk_widget_get_last_child (box), FALSE);
  gtk_widget_measure (box, GTK_ORIENTATION_VERTICAL, 100, &one, NULL, NULL, NULL);
  g_assert_cmpint (one, ==, 68);
  gtk_widget_set_visible (gtk_widget_get_last_child (box), TRUE);
  gtk_widget_set_visible (gtk_widget_get_first_child (box), FALSE);
  gtk_widget_measure (box, GTK_ORIENTATION_VERTICAL, 320, &one, NULL, NULL, NULL);
  g_assert_cmpint (one, ==, 20);
  g_object_unref (box);
}

/* A word that is wider than its column is broken, and asks for no more room. */
static void
test_long_fact (void)
{
  GtkWidget *box = bed_facts_box_new ();
  g_autofree char *word = g_strnfill (120, 'w');
  int least;

  g_object_ref_sink (box);
  bed_facts_add (box, "Name", word);
  gtk_widget_measure (box, GTK_ORIENTATION_HORIZONTAL, -1, &least, NULL, NULL, NULL);
  g_assert_cmpint (least, <, 200);
  g_object_unref (box);
}

static void
test_columns (void)
{
  GtkWidget *box = bed_columns_new (100, 2);
  int least, natural;

  for (int i = 0; i < 4; i++)
    {
      GtkWidget *child = gtk_label_new ("x");
      gtk_widget_set_size_request (child, 60, 20);
      gtk_box_append (GTK_BOX (box), child);
    }
  g_object_ref_sink (box);
  gtk_widget_measure (box, GTK_ORIENTATION_HORIZONTAL, -1, &least, &natural, NULL, NULL);
  g_assert_cmpint (least, ==, 60);
  g_assert_cmpint (natural, ==, 224);
  gtk_widget_measure (box, GTK_ORIENTATION_VERTICAL, 224, &least, NULL, NULL, NULL);
  g_assert_cmpint (least, ==, 44);
  gtk_widget_measure (box, GTK_ORIENTATION_VERTICAL, 223, &least, NULL, NULL, NULL);
  g_assert_cmpint (least, ==, 92);
  gtk_widget_measure (box, GTK_ORIENTATION_VERTICAL, 2000, &least, NULL, NULL, NULL);
  g_assert_cmpint (least, ==, 44);
  /* Of no width in particular: least that of any, usual that of one column. */
  gtk_widget_measure (box, GTK_ORIENTATION_VERTICAL, -1, &least, &natural, NULL, NULL);
  g_assert_cmpint (least, ==, 44);
  g_assert_cmpint (natural, ==, 92);
  gtk_widget_set_visible (gtk_widget_get_first_child (box), FALSE);
  gtk_widget_measure (box, GTK_ORIENTATION_VERTICAL, 223, &least, NULL, NULL, NULL);
  g_assert_cmpint (least, ==, 68);
  g_object_unref (box);
}

#define ADD(path, function)                                                                        \
  g_test_add ("/app/crop/" path, Scene, "metric", scene_set_up, function, scene_tear_down)

int
main (int argc, char **argv)
{
  gtk_test_init (&argc, &argv, NULL);
  app_begin ();
  ADD ("empty", test_empty);
  ADD ("full", test_full);
  ADD ("first-steps", test_first_steps);
  ADD ("week-strip", test_week_strip);
  ADD ("week-does-a-task", test_week_does_a_task);
  ADD ("drafts-find-a-page", test_drafts_find_a_page);
  ADD ("lift", test_lift);
  ADD ("pick-line", test_pick_line);
  ADD ("pick-line-day", test_pick_line_day);
  ADD ("soak-form", test_soak_form);
  ADD ("soak-form-keeps-typing", test_soak_form_keeps_typing);
  ADD ("soak-form-offers", test_soak_form_offers);
  ADD ("sale-form", test_sale_form);
  ADD ("sale-paste", test_sale_paste);
  ADD ("sale-beyond", test_sale_beyond);
  ADD ("sale-of-lot", test_sale_of_lot);
  ADD ("detail-width", test_detail_width);
  ADD ("rotation-view", test_rotation_view);
  g_test_add_func ("/app/crop/chart", test_chart);
  ADD ("season-run", test_season_run);
  ADD ("season-chooser", test_season_chooser);
  g_test_add_func ("/app/crop/split-bar", test_split_bar);
  g_test_add_func ("/app/crop/plot-step", test_plot_step);
  g_test_add_func ("/app/crop/wrap", test_wrap);
  g_test_add_func ("/app/crop/long-fact", test_long_fact);
  g_test_add_func ("/app/crop/columns", test_columns);
  return g_test_run ();
}
