/* The yard's drawings as widgets: what they say, what the hand and the keys do. */
#include "app/yard/yard_bar.h"
#include "app/yard/yard_elevation.h"
#include "app/yard/yard_spot.h"

#include <adwaita.h>

#include "../yard/yard_sample.h"
#include "yard_desk.h"

/* What was heard. */
typedef struct
{
  guint log_moved, taken_out, logs;
  gint64 log;
  guint tier, slot;
} Heard;

typedef struct
{
  YardDesk desk;
  Heard heard;
} Desk;

static void
logs_moved_cb (Heard *heard, const GArray *logs, guint tier, guint slot)
{
  heard->log_moved++;
  heard->logs = logs->len;
  heard->log = g_array_index (logs, gint64, 0);
  heard->tier = tier;
  heard->slot = slot;
}

static void
taken_out_cb (Heard *heard, const GArray *logs)
{
  heard->taken_out++;
  heard->logs = logs->len;
  heard->log = g_array_index (logs, gint64, 0);
}

static gboolean
press (Desk *desk, guint key, GdkModifierType state)
{
  return yard_desk_press (&desk->desk, key, state);
}

static GtkWidget *
get_spot (Desk *desk, guint i)
{
  GtkWidget *child = gtk_widget_get_first_child (desk->desk.view);

  while (child && i-- > 0)
    child = gtk_widget_get_next_sibling (child);
  g_assert_true (BED_IS_YARD_SPOT (child));
  return child;
}

/* --- elevation ---------------------------------------------------------------------------- */

static BedYardStack *crib;

static void
set_up_elevation (Desk *desk, gconstpointer data)
{
  const SampleStack sample = { BED_STACK_CRIB, 0, 0, 0, 20, 0, 1 };
  const BedNotation metric = { BED_SYSTEM_METRIC, '.', 2 };

  crib = sample_stack_new (&sample);
  desk->desk.view = bed_yard_elevation_new (BED_FACES_DOWN);
  bed_yard_elevation_set_stack (BED_YARD_ELEVATION (desk->desk.view), crib, &metric);
  g_signal_connect_swapped (desk->desk.view, "logs-moved", G_CALLBACK (logs_moved_cb),
                            &desk->heard);
  g_signal_connect_swapped (desk->desk.view, "logs-taken-out", G_CALLBACK (taken_out_cb),
                            &desk->heard);
  yard_desk_show (&desk->desk);
}

static void
tear_down_elevation (Desk *desk, gconstpointer data)
{
  yard_desk_close (&desk->desk);
  g_clear_pointer (&crib, bed_yard_stack_free);
}

static void
test_places (Desk *desk, gconstpointer data)
{
  guint n = 0;

  for (GtkWidget *child = gtk_widget_get_first_child (desk->desk.view); child;
       child = gtk_widget_get_next_sibling (child))
    n++;
  g_assert_cmpuint (n, ==, 24);
  gtk_test_accessible_assert_property (GTK_ACCESSIBLE (get_spot (desk, 0)),
                                       GTK_ACCESSIBLE_PROPERTY_LABEL,
                                       "Tier 1, slot 1, log 26A-001-0");
  gtk_test_accessible_assert_property (GTK_ACCESSIBLE (get_spot (desk, 23)),
                                       GTK_ACCESSIBLE_PROPERTY_LABEL, "Tier 6, slot 4, free");
}

/* Enter picks up, arrows choose, Enter sets down. */
static void
test_carry (Desk *desk, gconstpointer data)
{
  gtk_widget_grab_focus (get_spot (desk, 0));
  press (desk, GDK_KEY_Return, 0);
  press (desk, GDK_KEY_Right, 0);
  g_assert_cmpuint (desk->heard.log_moved, ==, 0);
  press (desk, GDK_KEY_Return, 0);
  g_assert_cmpuint (desk->heard.log_moved, ==, 1);
  g_assert_cmpint (desk->heard.log, ==, 1001);
  g_assert_cmpuint (desk->heard.tier, ==, 1);
  g_assert_cmpuint (desk->heard.slot, ==, 2);
}

static void
test_carry_escape (Desk *desk, gconstpointer data)
{
  gtk_widget_grab_focus (get_spot (desk, 0));
  press (desk, GDK_KEY_Return, 0);
  press (desk, GDK_KEY_Right, 0);
  press (desk, GDK_KEY_Escape, 0);
  press (desk, GDK_KEY_Return, 0); /* picks up the next one */
  press (desk, GDK_KEY_Return, 0); /* and puts it where it was */
  g_assert_cmpuint (desk->heard.log_moved, ==, 0);
}

static void
test_take_out (Desk *desk, gconstpointer data)
{
  gtk_widget_grab_focus (get_spot (desk, 2));
  press (desk, GDK_KEY_Delete, 0);
  g_assert_cmpuint (desk->heard.taken_out, ==, 1);
  g_assert_cmpint (desk->heard.log, ==, 1003);
  bed_yard_elevation_set_mode (BED_YARD_ELEVATION (desk->desk.view), BED_YARD_LOOK);
  press (desk, GDK_KEY_Delete, 0);
  g_assert_cmpuint (desk->heard.taken_out, ==, 1);
}

/* Space takes one more, Shift and an arrow all on the way, Ctrl+A all there are: carried as one. */
static void
test_choose_logs (Desk *desk, gconstpointer data)
{
  BedYardElevation *elevation = BED_YARD_ELEVATION (desk->desk.view);

  gtk_widget_grab_focus (get_spot (desk, 0));
  press (desk, GDK_KEY_space, 0);
  press (desk, GDK_KEY_Right, 0);
  press (desk, GDK_KEY_space, 0);
  g_assert_cmpuint (bed_yard_elevation_get_chosen (elevation)->len, ==, 2);
  press (desk, GDK_KEY_space, 0);
  g_assert_cmpuint (bed_yard_elevation_get_chosen (elevation)->len, ==, 1);
  press (desk, GDK_KEY_Right, GDK_SHIFT_MASK);
  g_assert_cmpuint (bed_yard_elevation_get_chosen (elevation)->len, ==, 2);
  press (desk, GDK_KEY_Return, 0); /* in the hand */
  press (desk, GDK_KEY_Left, 0);
  press (desk, GDK_KEY_Return, 0);
  g_assert_cmpuint (desk->heard.log_moved, ==, 1);
  g_assert_cmpuint (desk->heard.logs, ==, 2);
  g_assert_cmpint (desk->heard.log, ==, 1002);
  g_assert_cmpuint (desk->heard.slot, ==, 2);
  press (desk, GDK_KEY_a, GDK_CONTROL_MASK);
  g_assert_cmpuint (bed_yard_elevation_get_chosen (elevation)->len, ==, 20);
  bed_yard_elevation_choose (elevation, BED_LOGS_OF_TIER);
  g_assert_cmpuint (bed_yard_elevation_get_chosen (elevation)->len, ==, 4);
  press (desk, GDK_KEY_Delete, 0);
  g_assert_cmpuint (desk->heard.taken_out, ==, 1);
  g_assert_cmpuint (desk->heard.logs, ==, 4);
}

/* Tab comes in once and goes out again. */
static void
test_elevation_tab (Desk *desk, gconstpointer data)
{
  g_assert_true (gtk_widget_child_focus (desk->desk.view, GTK_DIR_TAB_FORWARD));
  g_assert_true (gtk_widget_is_focus (get_spot (desk, 0)));
  g_assert_false (gtk_widget_child_focus (desk->desk.view, GTK_DIR_TAB_FORWARD));
}

/* --- bar ------------------------------------------------------------------------------------ */

static void
count_cb (guint *said)
{
  ++*said;
}

static void
test_bar (void)
{
  GtkWidget *bar = g_object_ref_sink (bed_yard_bar_new ());
  g_autoptr (GPtrArray) days = g_ptr_array_new ();

  bed_yard_bar_set_days (BED_YARD_BAR (bar), days, "2026-05-12");
  g_assert_cmpstr (bed_yard_bar_get_day (BED_YARD_BAR (bar)), ==, "2026-05-12");
  g_ptr_array_add (days, (gpointer) "2026-03-01");
  bed_yard_bar_set_days (BED_YARD_BAR (bar), days, "2026-05-12");
  g_assert_true (bed_yard_bar_is_today (BED_YARD_BAR (bar)));
  /* Midnight passes: today is followed. */
  bed_yard_bar_set_days (BED_YARD_BAR (bar), days, "2026-05-13");
  g_assert_cmpstr (bed_yard_bar_get_day (BED_YARD_BAR (bar)), ==, "2026-05-13");
  /* What colours say can be chosen on any day. */
  g_assert_cmpint (bed_yard_bar_get_colour_by (BED_YARD_BAR (bar)), ==, BED_COLOUR_BY_BATCH);
  GtkWidget *colours = gtk_widget_get_first_child (gtk_widget_get_first_child (bar));
  while (!GTK_IS_DROP_DOWN (colours))
    colours = gtk_widget_get_next_sibling (colours);
  guint said = 0;
  g_signal_connect_swapped (bar, "colour-by", G_CALLBACK (count_cb), &said);
  for (BedColourBy by = 1; by < BED_N_COLOUR_BYS; by++)
    {
      gtk_drop_down_set_selected (GTK_DROP_DOWN (colours), by);
      g_assert_cmpint (bed_yard_bar_get_colour_by (BED_YARD_BAR (bar)), ==, by);
    }
  g_assert_cmpuint (said, ==, BED_N_COLOUR_BYS - 1);
  g_assert_finalize_object (bar);
}

int
main (int argc, char *argv[])
{
  gtk_test_init (&argc, &argv, NULL);
  adw_init ();
#define ADD(name, part, test)                                                                      \
  g_test_add ("/yard/" #part "/" name, Desk, NULL, set_up_##part, test, TEAR_DOWN_##part)
#define TEAR_DOWN_elevation tear_down_elevation
  ADD ("places", elevation, test_places);
  ADD ("carry", elevation, test_carry);
  ADD ("carry-escape", elevation, test_carry_escape);
  ADD ("take-out", elevation, test_take_out);
  ADD ("choose", elevation, test_choose_logs);
  ADD ("tab", elevation, test_elevation_tab);
  g_test_add_func ("/yard/bar/days", test_bar);
  return g_test_run ();
}
