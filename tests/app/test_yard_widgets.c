/* The yard's drawings as widgets: what they say, what the hand and the keys do. */
#include "app/yard/yard_bar.h"
#include "app/yard/yard_elevation.h"
#include "app/yard/yard_spot.h"
#include "app/yard/yard_view_private.h"

#include <adwaita.h>

#include "../yard/yard_sample.h"

#define NEAR 1e-6

/* What was heard. */
typedef struct
{
  guint selected, opened, moved, built, log_moved, taken_out;
  gint64 stack, log;
  BedPose pose;
  guint kind, tier, slot;
} Heard;

typedef struct
{
  GtkWidget *window;
  GtkWidget *view;
  Heard heard;
} Desk;

static void
selected_cb (Heard *heard, gint64 stack)
{
  heard->selected++;
  heard->stack = stack;
}

static void
opened_cb (Heard *heard, gint64 stack)
{
  heard->opened++;
  heard->stack = stack;
}

static void
moved_cb (Heard *heard, gint64 stack, const BedPose *pose)
{
  heard->moved++;
  heard->stack = stack;
  heard->pose = *pose;
}

static void
built_cb (Heard *heard, guint kind, const BedPose *pose)
{
  heard->built++;
  heard->kind = kind;
  heard->pose = *pose;
}

static void
log_moved_cb (Heard *heard, gint64 log, guint tier, guint slot)
{
  heard->log_moved++;
  heard->log = log;
  heard->tier = tier;
  heard->slot = slot;
}

static void
taken_out_cb (Heard *heard, gint64 log)
{
  heard->taken_out++;
  heard->log = log;
}

static void
settle (GtkWidget *widget)
{
  for (int i = 0; i < 500 && !(gtk_widget_get_mapped (widget) && gtk_widget_get_width (widget) > 0);
       i++)
    g_main_context_iteration (NULL, TRUE);
  g_assert_cmpint (gtk_widget_get_width (widget), >, 0);
}

static void
show (Desk *desk)
{
  desk->window = gtk_window_new ();
  gtk_window_set_default_size (GTK_WINDOW (desk->window), 800, 600);
  gtk_window_set_child (GTK_WINDOW (desk->window), desk->view);
  gtk_window_present (GTK_WINDOW (desk->window));
  settle (desk->view);
  gtk_window_set_focus (GTK_WINDOW (desk->window), NULL); /* a new window gives it to the first */
}

static void
set_up_view (Desk *desk, gconstpointer data)
{
  desk->view = bed_yard_view_new ();
  bed_yard_view_set_yard (BED_YARD_VIEW (desk->view), sample_yard_new ());
  g_signal_connect_swapped (desk->view, "selected", G_CALLBACK (selected_cb), &desk->heard);
  g_signal_connect_swapped (desk->view, "opened", G_CALLBACK (opened_cb), &desk->heard);
  g_signal_connect_swapped (desk->view, "moved", G_CALLBACK (moved_cb), &desk->heard);
  g_signal_connect_swapped (desk->view, "built", G_CALLBACK (built_cb), &desk->heard);
  show (desk);
}

static void
tear_down (Desk *desk, gconstpointer data)
{
  gpointer view = desk->view;

  g_object_add_weak_pointer (G_OBJECT (view), &view);
  gtk_window_destroy (GTK_WINDOW (desk->window));
  for (int i = 0; i < 50 && view; i++)
    g_main_context_iteration (NULL, FALSE);
  g_assert_null (view);
}

static gpointer
find_controller (GtkWidget *widget, GType type)
{
  g_autoptr (GListModel) controllers = gtk_widget_observe_controllers (widget);

  for (guint i = 0; i < g_list_model_get_n_items (controllers); i++)
    {
      g_autoptr (GObject) controller = g_list_model_get_item (controllers, i);
      if (G_TYPE_CHECK_INSTANCE_TYPE (controller, type))
        return controller; /* the widget owns it */
    }
  g_assert_not_reached ();
}

static gboolean
press (Desk *desk, guint key, GdkModifierType state)
{
  gboolean handled = FALSE;

  g_signal_emit_by_name (find_controller (desk->view, GTK_TYPE_EVENT_CONTROLLER_KEY), "key-pressed",
                         key, 0, state, &handled);
  return handled;
}

static GtkWidget *
get_spot (Desk *desk, guint i)
{
  GtkWidget *child = gtk_widget_get_first_child (desk->view);

  while (child && i-- > 0)
    child = gtk_widget_get_next_sibling (child);
  g_assert_true (BED_IS_YARD_SPOT (child));
  return child;
}

static const BedYardStack *
get_stack (Desk *desk, guint i)
{
  return bed_yard_view_get_scene (BED_YARD_VIEW (desk->view))->yard->stacks->pdata[i];
}

static BedPoint
on_screen (Desk *desk, double x, double y)
{
  return bed_viewport_to_screen (&BED_YARD_VIEW (desk->view)->view, (BedPoint){ x, y });
}

/* Every stack has a name to a screen reader, and a place where it is drawn. */
static void
test_names (Desk *desk, gconstpointer data)
{
  graphene_rect_t bounds;
  BedPoint middle = on_screen (desk, 4, 9.5);

  gtk_test_accessible_assert_property (GTK_ACCESSIBLE (get_spot (desk, 0)),
                                       GTK_ACCESSIBLE_PROPERTY_LABEL,
                                       "Crib 1, crib, 24 logs of 26A");
  gtk_test_accessible_assert_property (GTK_ACCESSIBLE (get_spot (desk, 8)),
                                       GTK_ACCESSIBLE_PROPERTY_LABEL, "Crib 9, crib, no logs");
  gtk_test_accessible_assert_property (GTK_ACCESSIBLE (desk->view), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                       "Yard Lower yard");
  gtk_test_accessible_assert_role (GTK_ACCESSIBLE (get_spot (desk, 0)),
                                   GTK_ACCESSIBLE_ROLE_LIST_ITEM);
  g_assert_true (gtk_widget_compute_bounds (get_spot (desk, 0), desk->view, &bounds));
  g_assert_true (graphene_rect_contains_point (
      &bounds, &GRAPHENE_POINT_INIT ((float) middle.x, (float) middle.y)));
}

/* Tab walks the stacks and then leaves. */
static void
test_tab (Desk *desk, gconstpointer data)
{
  for (guint i = 0; i < 9; i++)
    {
      g_assert_true (gtk_widget_child_focus (desk->view, GTK_DIR_TAB_FORWARD));
      g_assert_true (gtk_widget_is_focus (get_spot (desk, i)));
    }
  g_assert_false (gtk_widget_child_focus (desk->view, GTK_DIR_TAB_FORWARD));
  g_assert_true (gtk_widget_child_focus (desk->view, GTK_DIR_TAB_BACKWARD));
  g_assert_true (gtk_widget_is_focus (get_spot (desk, 7)));
}

static void
drag (Desk *desk, BedPoint from, double dx, double dy)
{
  gpointer gesture = find_controller (desk->view, GTK_TYPE_GESTURE_DRAG);

  g_signal_emit_by_name (gesture, "drag-begin", from.x, from.y);
  g_signal_emit_by_name (gesture, "drag-update", dx / 2, dy / 2);
  g_signal_emit_by_name (gesture, "drag-update", dx, dy);
}

static void
drop (Desk *desk, double dx, double dy)
{
  g_signal_emit_by_name (find_controller (desk->view, GTK_TYPE_GESTURE_DRAG), "drag-end", dx, dy);
}

/* A drag is one move, when it is set down; the yard itself has not changed. */
static void
test_drag (Desk *desk, gconstpointer data)
{
  double scale = bed_yard_view_get_scale (BED_YARD_VIEW (desk->view));

  drag (desk, on_screen (desk, 16, 9.5), 0, 4.3 * scale);
  g_assert_cmpuint (desk->heard.moved, ==, 0);
  drop (desk, 0, 4.3 * scale);
  g_assert_cmpuint (desk->heard.moved, ==, 1);
  g_assert_cmpint (desk->heard.stack, ==, 8);
  g_assert_cmpfloat_with_epsilon (desk->heard.pose.x, 16, NEAR);
  g_assert_cmpfloat_with_epsilon (desk->heard.pose.y, 5.2, NEAR); /* north is up the screen */
  g_assert_cmpfloat_with_epsilon (get_stack (desk, 7)->pose.y, 9.5, NEAR);
  g_assert_cmpint (bed_yard_view_get_selected (BED_YARD_VIEW (desk->view)), ==, 8);
}

/* Esc puts it back where it was; nothing is heard, then or at the end of the drag. */
static void
test_drag_escape (Desk *desk, gconstpointer data)
{
  drag (desk, on_screen (desk, 16, 9.5), 30, 30);
  g_assert_true (press (desk, GDK_KEY_Escape, 0));
  drop (desk, 30, 30);
  g_assert_cmpuint (desk->heard.moved, ==, 0);
}

/* A click selects and moves nothing; on bare ground it lets go. */
static void
test_click (Desk *desk, gconstpointer data)
{
  drag (desk, on_screen (desk, 4, 9.5), 1, 1);
  drop (desk, 1, 1);
  g_assert_cmpuint (desk->heard.moved, ==, 0);
  g_assert_cmpint (desk->heard.stack, ==, 1);
  drag (desk, on_screen (desk, 10, 13.5), 0, 0);
  drop (desk, 0, 0);
  g_assert_cmpint (bed_yard_view_get_selected (BED_YARD_VIEW (desk->view)), ==, 0);
}

/* On another day's yard nothing moves. */
static void
test_look_only (Desk *desk, gconstpointer data)
{
  bed_yard_view_set_mode (BED_YARD_VIEW (desk->view), BED_YARD_LOOK);
  drag (desk, on_screen (desk, 16, 9.5), 60, 60);
  drop (desk, 60, 60);
  gtk_widget_grab_focus (get_spot (desk, 0));
  press (desk, GDK_KEY_Right, 0);
  press (desk, GDK_KEY_Return, 0);
  bed_yard_view_place (BED_YARD_VIEW (desk->view), BED_STACK_CRIB);
  press (desk, GDK_KEY_Return, 0);
  g_assert_cmpuint (desk->heard.moved, ==, 0);
  g_assert_cmpuint (desk->heard.built, ==, 0);
}

/* Nudges become one move when Enter sets the stack down. */
static void
test_nudge (Desk *desk, gconstpointer data)
{
  gtk_widget_grab_focus (get_spot (desk, 0));
  press (desk, GDK_KEY_Right, 0);
  press (desk, GDK_KEY_Right, 0);
  press (desk, GDK_KEY_Up, GDK_SHIFT_MASK);
  press (desk, GDK_KEY_r, 0);
  g_assert_cmpuint (desk->heard.moved, ==, 0);
  press (desk, GDK_KEY_Return, 0);
  g_assert_cmpuint (desk->heard.moved, ==, 1);
  g_assert_cmpfloat_with_epsilon (desk->heard.pose.x, 4.2, NEAR);
  g_assert_cmpfloat_with_epsilon (desk->heard.pose.y, 10.5, NEAR);
  g_assert_cmpfloat_with_epsilon (desk->heard.pose.turn, 15 * G_PI / 180, NEAR);
}

/* Left alone for a moment a nudged stack is set down by itself. */
static void
test_nudge_pause (Desk *desk, gconstpointer data)
{
  gtk_widget_grab_focus (get_spot (desk, 0));
  press (desk, GDK_KEY_Left, 0);
  for (int i = 0; i < 400 && desk->heard.moved == 0; i++)
    g_main_context_iteration (NULL, TRUE);
  g_assert_cmpuint (desk->heard.moved, ==, 1);
  g_assert_cmpfloat_with_epsilon (desk->heard.pose.x, 3.9, NEAR);
}

static void
test_open_and_select (Desk *desk, gconstpointer data)
{
  gtk_widget_grab_focus (get_spot (desk, 4));
  press (desk, GDK_KEY_space, 0);
  g_assert_cmpint (desk->heard.stack, ==, 5);
  g_assert_cmpuint (desk->heard.selected, ==, 1);
  press (desk, GDK_KEY_Return, 0);
  g_assert_cmpuint (desk->heard.opened, ==, 1);
  press (desk, GDK_KEY_Escape, 0);
  g_assert_cmpint (bed_yard_view_get_selected (BED_YARD_VIEW (desk->view)), ==, 0);
}

/* A kind is put in the middle, moved by arrows and set down by Enter; or let go by Esc. */
static void
test_build (Desk *desk, gconstpointer data)
{
  bed_yard_view_place (BED_YARD_VIEW (desk->view), BED_STACK_A_FRAME);
  press (desk, GDK_KEY_Escape, 0);
  g_assert_cmpuint (desk->heard.built, ==, 0);
  bed_yard_view_place (BED_YARD_VIEW (desk->view), BED_STACK_A_FRAME);
  press (desk, GDK_KEY_Right, GDK_SHIFT_MASK);
  press (desk, GDK_KEY_Return, 0);
  g_assert_cmpuint (desk->heard.built, ==, 1);
  g_assert_cmpuint (desk->heard.kind, ==, BED_STACK_A_FRAME);
}

static void
test_turn (Desk *desk, gconstpointer data)
{
  BedPoint handle, middle = on_screen (desk, 4, 9.5);

  bed_yard_view_select (BED_YARD_VIEW (desk->view), 1);
  g_assert_true (bed_yard_view_handle (BED_YARD_VIEW (desk->view), &handle));
  /* From due east to due north of the middle. */
  drag (desk, handle, middle.x - handle.x, middle.y - 80 - handle.y);
  drop (desk, 0, 0);
  g_assert_cmpuint (desk->heard.moved, ==, 1);
  g_assert_cmpfloat_with_epsilon (desk->heard.pose.turn, G_PI / 2, NEAR);
  g_assert_cmpfloat_with_epsilon (desk->heard.pose.x, 4, NEAR);
}

/* Another yard in the place of one in whose stack the hand is. */
static void
test_replaced (Desk *desk, gconstpointer data)
{
  drag (desk, on_screen (desk, 16, 9.5), 30, 30);
  bed_yard_view_set_yard (BED_YARD_VIEW (desk->view), sample_large_yard_new ());
  drop (desk, 30, 30);
  g_assert_cmpuint (desk->heard.moved, ==, 0);
  gtk_test_accessible_assert_property (GTK_ACCESSIBLE (get_spot (desk, 39)),
                                       GTK_ACCESSIBLE_PROPERTY_LABEL,
                                       "Lean-to 40, lean-to, 25 logs of 26N and 26O");
  bed_yard_view_set_yard (BED_YARD_VIEW (desk->view), NULL);
  g_assert_null (gtk_widget_get_first_child (desk->view));
}

/* --- elevation ---------------------------------------------------------------------------- */

static BedYardStack *crib;

static void
set_up_elevation (Desk *desk, gconstpointer data)
{
  const SampleStack sample = { BED_STACK_CRIB, 0, 0, 0, 20, 0, 1 };
  const BedNotation metric = { BED_SYSTEM_METRIC, '.', 2 };

  crib = sample_stack_new (&sample);
  desk->view = bed_yard_elevation_new (BED_FACES_DOWN);
  bed_yard_elevation_set_stack (BED_YARD_ELEVATION (desk->view), crib, &metric);
  g_signal_connect_swapped (desk->view, "log-moved", G_CALLBACK (log_moved_cb), &desk->heard);
  g_signal_connect_swapped (desk->view, "log-taken-out", G_CALLBACK (taken_out_cb), &desk->heard);
  show (desk);
}

static void
tear_down_elevation (Desk *desk, gconstpointer data)
{
  tear_down (desk, data);
  g_clear_pointer (&crib, bed_yard_stack_free);
}

static void
test_places (Desk *desk, gconstpointer data)
{
  guint n = 0;

  for (GtkWidget *child = gtk_widget_get_first_child (desk->view); child;
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
  bed_yard_elevation_set_mode (BED_YARD_ELEVATION (desk->view), BED_YARD_LOOK);
  press (desk, GDK_KEY_Delete, 0);
  g_assert_cmpuint (desk->heard.taken_out, ==, 1);
}

/* Tab comes in once and goes out again. */
static void
test_elevation_tab (Desk *desk, gconstpointer data)
{
  g_assert_true (gtk_widget_child_focus (desk->view, GTK_DIR_TAB_FORWARD));
  g_assert_true (gtk_widget_is_focus (get_spot (desk, 0)));
  g_assert_false (gtk_widget_child_focus (desk->view, GTK_DIR_TAB_FORWARD));
}

/* --- bar ------------------------------------------------------------------------------------ */

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
  g_assert_finalize_object (bar);
}

int
main (int argc, char *argv[])
{
  gtk_test_init (&argc, &argv, NULL);
  adw_init ();
#define ADD(name, part, test)                                                                      \
  g_test_add ("/yard/" #part "/" name, Desk, NULL, set_up_##part, test, TEAR_DOWN_##part)
#define TEAR_DOWN_view tear_down
#define TEAR_DOWN_elevation tear_down_elevation
  ADD ("names", view, test_names);
  ADD ("tab", view, test_tab);
  ADD ("drag", view, test_drag);
  ADD ("drag-escape", view, test_drag_escape);
  ADD ("click", view, test_click);
  ADD ("look-only", view, test_look_only);
  ADD ("nudge", view, test_nudge);
  ADD ("nudge-pause", view, test_nudge_pause);
  ADD ("open-and-select", view, test_open_and_select);
  ADD ("build", view, test_build);
  ADD ("turn", view, test_turn);
  ADD ("replaced", view, test_replaced);
  ADD ("places", elevation, test_places);
  ADD ("carry", elevation, test_carry);
  ADD ("carry-escape", elevation, test_carry_escape);
  ADD ("take-out", elevation, test_take_out);
  ADD ("tab", elevation, test_elevation_tab);
  g_test_add_func ("/yard/bar/days", test_bar);
  return g_test_run ();
}
