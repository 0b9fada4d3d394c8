/* The yard's map under the hand: what it says, what pointer and keys do. */
#include "app/yard/yard_spot.h"
#include "app/yard/yard_view_private.h"
#include "yard/advice.h"

#include <adwaita.h>
#include <math.h>

#include "../yard/yard_sample.h"
#include "yard_desk.h"

#define NEAR 1e-6

/* What was heard. */
typedef struct
{
  guint chosen, opened, carried, built, drawn, shaped, removed, duplicated;
  guint kind, typed, things;
  gint64 id;
  BedPose pose; /* of the first thing carried, or what was built */
  BedPoint by;
  BedGround ground; /* drawn or shaped; its points are its own */
} Heard;

typedef struct
{
  YardDesk desk;
  Heard heard;
} Desk;

static BedYardView *
get_view (Desk *desk)
{
  return BED_YARD_VIEW (desk->desk.view);
}

static void
chosen_cb (Heard *heard)
{
  heard->chosen++;
}

static void
opened_cb (Heard *heard, guint kind, gint64 id)
{
  heard->opened++;
  heard->kind = kind;
  heard->id = id;
}

static void
carried_cb (Desk *desk, const BedMotion *motion)
{
  const GArray *things = bed_yard_view_get_chosen (get_view (desk));
  const BedThing *first = &g_array_index (things, BedThing, 0);
  const BedYardStack *stack
      = bed_yard_find_stack (bed_yard_view_get_scene (get_view (desk))->yard, first->id, NULL);

  desk->heard.carried++;
  desk->heard.things = things->len;
  desk->heard.id = first->id;
  desk->heard.by = motion->by;
  if (first->kind == BED_THING_STACK)
    desk->heard.pose = bed_motion_pose (motion, &stack->pose);
}

static void
built_cb (Heard *heard, guint kind, const BedPose *pose)
{
  heard->built++;
  heard->kind = kind;
  heard->pose = *pose;
}

static void
drawn_cb (Heard *heard, guint kind, const BedGround *ground)
{
  heard->drawn++;
  heard->kind = kind;
  g_clear_pointer (&heard->ground.points, g_array_unref);
  bed_ground_copy (&heard->ground, ground);
}

static void
shaped_cb (Heard *heard, gint64 feature, const BedGround *ground)
{
  heard->shaped++;
  heard->id = feature;
  g_clear_pointer (&heard->ground.points, g_array_unref);
  bed_ground_copy (&heard->ground, ground);
}

static void
remove_cb (Heard *heard)
{
  heard->removed++;
}

static void
duplicate_cb (Heard *heard)
{
  heard->duplicated++;
}

static void
typed_cb (Heard *heard, guint character)
{
  heard->typed = character;
}

static void
set_up (Desk *desk, gconstpointer data)
{
  desk->desk.view = bed_yard_view_new ();
  bed_yard_view_set_yard (get_view (desk), sample_yard_new ());
  g_signal_connect_swapped (desk->desk.view, "chosen", G_CALLBACK (chosen_cb), &desk->heard);
  g_signal_connect_swapped (desk->desk.view, "opened", G_CALLBACK (opened_cb), &desk->heard);
  g_signal_connect_swapped (desk->desk.view, "carried", G_CALLBACK (carried_cb), desk);
  g_signal_connect_swapped (desk->desk.view, "built", G_CALLBACK (built_cb), &desk->heard);
  g_signal_connect_swapped (desk->desk.view, "drawn", G_CALLBACK (drawn_cb), &desk->heard);
  g_signal_connect_swapped (desk->desk.view, "shaped", G_CALLBACK (shaped_cb), &desk->heard);
  g_signal_connect_swapped (desk->desk.view, "remove", G_CALLBACK (remove_cb), &desk->heard);
  g_signal_connect_swapped (desk->desk.view, "duplicate", G_CALLBACK (duplicate_cb), &desk->heard);
  g_signal_connect_swapped (desk->desk.view, "typed", G_CALLBACK (typed_cb), &desk->heard);
  yard_desk_show (&desk->desk);
}

static void
tear_down (Desk *desk, gconstpointer data)
{
  yard_desk_close (&desk->desk);
  g_clear_pointer (&desk->heard.ground.points, g_array_unref);
}

static gboolean
press (Desk *desk, guint key, GdkModifierType state)
{
  return yard_desk_press (&desk->desk, key, state);
}

/* The spot of the stack with that id. */
static GtkWidget *
get_spot (Desk *desk, gint64 stack)
{
  int at = bed_things_find (get_view (desk)->walk, &(BedThing){ BED_THING_STACK, stack });

  g_assert_cmpint (at, >=, 0);
  return get_view (desk)->spots->pdata[at];
}

static const BedYardStack *
get_stack (Desk *desk, guint i)
{
  return bed_yard_view_get_scene (get_view (desk))->yard->stacks->pdata[i];
}

static BedPoint
on_screen (Desk *desk, double x, double y)
{
  return bed_viewport_to_screen (&get_view (desk)->view, (BedPoint){ x, y });
}

static guint
count_chosen (Desk *desk)
{
  return bed_yard_view_get_chosen (get_view (desk))->len;
}

/* Every thing has a name to a screen reader, and a place where it is drawn. */
static void
test_names (Desk *desk, gconstpointer data)
{
  graphene_rect_t bounds;
  BedPoint middle = on_screen (desk, 4, 9.5);
  int oak = bed_things_find (get_view (desk)->walk, &(BedThing){ BED_THING_FEATURE, 2 });

  gtk_test_accessible_assert_property (GTK_ACCESSIBLE (get_spot (desk, 1)),
                                       GTK_ACCESSIBLE_PROPERTY_LABEL,
                                       "Crib 1, crib, 24 logs of 26A");
  gtk_test_accessible_assert_property (GTK_ACCESSIBLE (get_spot (desk, 9)),
                                       GTK_ACCESSIBLE_PROPERTY_LABEL, "Crib 9, crib, no logs");
  gtk_test_accessible_assert_property (GTK_ACCESSIBLE (get_view (desk)->spots->pdata[oak]),
                                       GTK_ACCESSIBLE_PROPERTY_LABEL, "Oak, tree, radius 1.9 m");
  gtk_test_accessible_assert_property (GTK_ACCESSIBLE (desk->desk.view),
                                       GTK_ACCESSIBLE_PROPERTY_LABEL, "Yard Lower yard");
  gtk_test_accessible_assert_role (GTK_ACCESSIBLE (get_spot (desk, 1)),
                                   GTK_ACCESSIBLE_ROLE_LIST_ITEM);
  g_assert_true (gtk_widget_compute_bounds (get_spot (desk, 1), desk->desk.view, &bounds));
  g_assert_true (graphene_rect_contains_point (
      &bounds, &GRAPHENE_POINT_INIT ((float) middle.x, (float) middle.y)));
}

/* Tab walks all there is, as one reads, and then leaves. */
static void
test_tab (Desk *desk, gconstpointer data)
{
  guint n = get_view (desk)->spots->len;
  GtkWidget *child = gtk_widget_get_first_child (desk->desk.view);

  g_assert_cmpuint (n, ==, 9 + 11);
  for (guint i = 0; i < n; i++, child = gtk_widget_get_next_sibling (child))
    {
      g_assert_true (gtk_widget_child_focus (desk->desk.view, GTK_DIR_TAB_FORWARD));
      g_assert_true (gtk_widget_is_focus (get_view (desk)->spots->pdata[i]));
      g_assert_true (get_view (desk)->spots->pdata[i] == child);
    }
  g_assert_false (gtk_widget_child_focus (desk->desk.view, GTK_DIR_TAB_FORWARD));
  g_assert_true (gtk_widget_child_focus (desk->desk.view, GTK_DIR_TAB_BACKWARD));
  g_assert_true (gtk_widget_is_focus (get_view (desk)->spots->pdata[n - 2]));
}

/* What is seen of the drawing after its next frame, as a node; (transfer full). */
static GskRenderNode *
draw (Desk *desk)
{
  g_autoptr (GdkPaintable) paintable = gtk_widget_paintable_new (desk->desk.view);
  GskRenderNode *node = NULL;

  for (guint i = 0; i < 100; i++)
    {
      g_main_context_iteration (NULL, FALSE);
      g_usleep (2000);
    }
  while (!node)
    {
      GtkSnapshot *snapshot = gtk_snapshot_new ();
      g_main_context_iteration (NULL, FALSE);
      gdk_paintable_snapshot (paintable, snapshot, 800, 600);
      node = gtk_snapshot_free_to_node (snapshot);
    }
  return node;
}

static gboolean
looks_alike (GskRenderNode *a, GskRenderNode *b)
{
  g_autoptr (GBytes) one = gsk_render_node_serialize (a), other = gsk_render_node_serialize (b);

  return g_bytes_equal (one, other);
}

/* Who goes on with the keyboard takes the ring along. */
static void
test_ring_leaves (Desk *desk, gconstpointer data)
{
  g_autoptr (GskRenderNode) without = draw (desk);

  gtk_widget_grab_focus (get_spot (desk, 5));
  g_autoptr (GskRenderNode) with = draw (desk);
  gtk_window_set_focus (GTK_WINDOW (desk->desk.window), NULL);
  g_autoptr (GskRenderNode) after = draw (desk);
  g_assert_false (looks_alike (without, with));
  g_assert_true (looks_alike (without, after));
}

/* Home and End go to the ends of what Tab walks, Ctrl+Tab leaves it from anywhere. */
static void
test_leave (Desk *desk, gconstpointer data)
{
  guint n = get_view (desk)->spots->len;
  GtkWidget *first = gtk_button_new (), *last = gtk_button_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);

  g_object_ref (desk->desk.view);
  gtk_window_set_child (GTK_WINDOW (desk->desk.window), box);
  gtk_box_append (GTK_BOX (box), first);
  gtk_box_append (GTK_BOX (box), desk->desk.view);
  gtk_box_append (GTK_BOX (box), last);
  g_object_unref (desk->desk.view);
  /* Which is before which goes by where they are. */
  while (!gtk_widget_get_height (last))
    g_main_context_iteration (NULL, TRUE);
  gtk_widget_grab_focus (get_spot (desk, 5));
  g_assert_true (press (desk, GDK_KEY_Home, 0));
  g_assert_true (gtk_widget_is_focus (get_view (desk)->spots->pdata[0]));
  g_assert_true (press (desk, GDK_KEY_Tab, GDK_CONTROL_MASK));
  g_assert_true (gtk_widget_is_focus (last));
  g_assert_true (gtk_widget_child_focus (desk->desk.window, GTK_DIR_TAB_BACKWARD));
  g_assert_true (gtk_widget_is_focus (get_view (desk)->spots->pdata[n - 1]));
  gtk_widget_grab_focus (get_spot (desk, 5));
  g_assert_true (press (desk, GDK_KEY_End, 0));
  g_assert_true (gtk_widget_is_focus (get_view (desk)->spots->pdata[n - 1]));
  g_assert_true (press (desk, GDK_KEY_ISO_Left_Tab, GDK_CONTROL_MASK | GDK_SHIFT_MASK));
  g_assert_true (gtk_widget_is_focus (first));
}

/* The three cribs of one row are walked from west to east, after what is north of them. */
static void
test_reading_order (Desk *desk, gconstpointer data)
{
  int at[4];
  const gint64 ids[] = { 9, 1, 2, 3 };

  for (guint i = 0; i < 4; i++)
    at[i] = bed_things_find (get_view (desk)->walk, &(BedThing){ BED_THING_STACK, ids[i] });
  for (guint i = 1; i < 4; i++)
    g_assert_cmpint (at[i - 1], <, at[i]);
}

static void
drag (Desk *desk, BedPoint from, double dx, double dy)
{
  gpointer gesture = yard_desk_find (&desk->desk, GTK_TYPE_GESTURE_DRAG);

  g_signal_emit_by_name (gesture, "drag-begin", from.x, from.y);
  g_signal_emit_by_name (gesture, "drag-update", dx / 2, dy / 2);
  g_signal_emit_by_name (gesture, "drag-update", dx, dy);
}

static void
drop (Desk *desk, double dx, double dy)
{
  g_signal_emit_by_name (yard_desk_find (&desk->desk, GTK_TYPE_GESTURE_DRAG), "drag-end", dx, dy);
}

/* A drag is one move, when it is set down; the yard itself has not changed. */
static void
test_drag (Desk *desk, gconstpointer data)
{
  double scale = bed_yard_view_get_scale (get_view (desk));

  drag (desk, on_screen (desk, 16, 9.5), 0, 4.3 * scale);
  g_assert_cmpuint (desk->heard.carried, ==, 0);
  drop (desk, 0, 4.3 * scale);
  g_assert_cmpuint (desk->heard.carried, ==, 1);
  g_assert_cmpuint (desk->heard.things, ==, 1);
  g_assert_cmpint (desk->heard.id, ==, 8);
  g_assert_cmpfloat_with_epsilon (desk->heard.pose.x, 16, NEAR);
  g_assert_cmpfloat_with_epsilon (desk->heard.pose.y, 5.2, NEAR); /* north is up the screen */
  g_assert_cmpfloat_with_epsilon (get_stack (desk, 7)->pose.y, 9.5, NEAR);
  g_assert_cmpint (bed_yard_view_get_selected (get_view (desk)), ==, 8);
}

/* Esc puts it back where it was; nothing is heard, then or at the end of the drag. */
static void
test_drag_escape (Desk *desk, gconstpointer data)
{
  drag (desk, on_screen (desk, 16, 9.5), 30, 30);
  g_assert_true (press (desk, GDK_KEY_Escape, 0));
  drop (desk, 30, 30);
  g_assert_cmpuint (desk->heard.carried, ==, 0);
}

/* A click chooses and moves nothing; on bare ground it lets go. */
static void
test_click (Desk *desk, gconstpointer data)
{
  drag (desk, on_screen (desk, 4, 9.5), 1, 1);
  drop (desk, 1, 1);
  g_assert_cmpuint (desk->heard.carried, ==, 0);
  g_assert_cmpint (bed_yard_view_get_selected (get_view (desk)), ==, 1);
  drag (desk, on_screen (desk, 14, 13.5), 0, 0);
  drop (desk, 0, 0);
  g_assert_cmpuint (count_chosen (desk), ==, 0);
}

/* What the band touches is chosen: the lower two cribs and no more; a further band from nothing
 * takes its own. */
static void
test_band (Desk *desk, gconstpointer data)
{
  BedPoint from = on_screen (desk, 3.2, 10.3), to = on_screen (desk, 5.7, 8.6);

  drag (desk, from, to.x - from.x, to.y - from.y);
  g_assert_cmpuint (count_chosen (desk), ==, 0);
  drop (desk, to.x - from.x, to.y - from.y);
  g_assert_cmpuint (count_chosen (desk), ==, 2);
  for (gint64 id = 1; id <= 2; id++)
    g_assert_cmpint (bed_things_find (bed_yard_view_get_chosen (get_view (desk)),
                                      &(BedThing){ BED_THING_STACK, id }),
                     >=, 0);
  g_assert_cmpuint (desk->heard.chosen, ==, 1);
}

static void
choose (Desk *desk, guint n, const gint64 *ids)
{
  g_autoptr (GArray) things = bed_things_new ();

  for (guint i = 0; i < n; i++)
    {
      BedThing thing = { BED_THING_STACK, ids[i] };
      g_array_append_val (things, thing);
    }
  bed_yard_view_choose (get_view (desk), things);
}

/* All that is chosen goes along, as one, with what lies between them kept. */
static void
test_group_drag (Desk *desk, gconstpointer data)
{
  double scale = bed_yard_view_get_scale (get_view (desk));

  choose (desk, 2, (const gint64[]){ 1, 2 });
  drag (desk, on_screen (desk, 6, 9.5), 0, 1.3 * scale);
  drop (desk, 0, 1.3 * scale);
  g_assert_cmpuint (desk->heard.carried, ==, 1);
  g_assert_cmpuint (desk->heard.things, ==, 2);
  g_assert_cmpint (desk->heard.id, ==, 1);
  g_assert_cmpfloat_with_epsilon (desk->heard.pose.x, 4, NEAR);
  g_assert_cmpfloat (desk->heard.pose.y, <, 8.7);
  g_assert_cmpuint (count_chosen (desk), ==, 2);
}

static void
test_all (Desk *desk, gconstpointer data)
{
  gtk_widget_grab_focus (get_spot (desk, 1));
  g_assert_true (press (desk, GDK_KEY_a, GDK_CONTROL_MASK));
  g_assert_cmpuint (count_chosen (desk), ==, 20);
  g_assert_true (press (desk, GDK_KEY_Escape, 0));
  g_assert_cmpuint (count_chosen (desk), ==, 0);
}

/* On another day's yard nothing moves. */
static void
test_look_only (Desk *desk, gconstpointer data)
{
  bed_yard_view_set_mode (get_view (desk), BED_YARD_LOOK);
  drag (desk, on_screen (desk, 16, 9.5), 60, 60);
  drop (desk, 60, 60);
  gtk_widget_grab_focus (get_spot (desk, 1));
  press (desk, GDK_KEY_Right, 0);
  press (desk, GDK_KEY_Delete, 0);
  press (desk, GDK_KEY_d, GDK_CONTROL_MASK);
  bed_yard_view_set_fields (get_view (desk), (const double[BED_HAND_FIELDS]){ 1, 1, 0 });
  bed_yard_view_draw_thing (get_view (desk), BED_FEATURE_TREE);
  bed_yard_view_place (get_view (desk), BED_STACK_CRIB);
  press (desk, GDK_KEY_Return, 0);
  g_assert_cmpuint (desk->heard.carried, ==, 0);
  g_assert_cmpuint (desk->heard.built, ==, 0);
  g_assert_cmpuint (desk->heard.removed, ==, 0);
  g_assert_cmpuint (desk->heard.duplicated, ==, 0);
}

/* Nudges become one move when Enter sets the stack down. */
static void
test_nudge (Desk *desk, gconstpointer data)
{
  gtk_widget_grab_focus (get_spot (desk, 1));
  press (desk, GDK_KEY_Right, 0);
  press (desk, GDK_KEY_Right, 0);
  press (desk, GDK_KEY_Up, GDK_SHIFT_MASK); /* an aisle */
  press (desk, GDK_KEY_bracketleft, 0);
  press (desk, GDK_KEY_braceright, GDK_SHIFT_MASK);
  g_assert_cmpuint (desk->heard.carried, ==, 0);
  press (desk, GDK_KEY_Return, 0);
  g_assert_cmpuint (desk->heard.carried, ==, 1);
  g_assert_cmpfloat_with_epsilon (desk->heard.pose.x, 4.2, NEAR);
  g_assert_cmpfloat_with_epsilon (desk->heard.pose.y, 10.4, NEAR);
  g_assert_cmpfloat_with_epsilon (desk->heard.pose.turn, 4 * G_PI / 180, NEAR);
}

/* Left alone for a moment a nudged stack is set down by itself. */
static void
test_nudge_pause (Desk *desk, gconstpointer data)
{
  gtk_widget_grab_focus (get_spot (desk, 1));
  press (desk, GDK_KEY_Left, 0);
  for (int i = 0; i < 400 && desk->heard.carried == 0; i++)
    g_main_context_iteration (NULL, TRUE);
  g_assert_cmpuint (desk->heard.carried, ==, 1);
  g_assert_cmpfloat_with_epsilon (desk->heard.pose.x, 3.9, NEAR);
}

/* A key acts on what has the ring, not on what was chosen elsewhere; when the ring is among what
 * is chosen, on all of it. */
static void
test_ring (Desk *desk, gconstpointer data)
{
  choose (desk, 2, (const gint64[]){ 1, 2 });
  gtk_widget_grab_focus (get_spot (desk, 5));
  press (desk, GDK_KEY_Right, 0);
  press (desk, GDK_KEY_Return, 0);
  g_assert_cmpint (desk->heard.id, ==, 5);
  g_assert_cmpuint (desk->heard.things, ==, 1);
  choose (desk, 2, (const gint64[]){ 1, 2 });
  gtk_widget_grab_focus (get_spot (desk, 2));
  press (desk, GDK_KEY_Right, 0);
  press (desk, GDK_KEY_Return, 0);
  g_assert_cmpuint (desk->heard.things, ==, 2);
}

/* With nothing that has the ring or a frame, keys move nothing. */
static void
test_no_ring (Desk *desk, gconstpointer data)
{
  gtk_widget_grab_focus (desk->desk.view);
  press (desk, GDK_KEY_Right, 0);
  press (desk, GDK_KEY_Return, 0);
  press (desk, GDK_KEY_Delete, 0);
  g_assert_cmpuint (desk->heard.carried, ==, 0);
  g_assert_cmpuint (desk->heard.opened, ==, 0);
  g_assert_cmpuint (desk->heard.removed, ==, 0);
}

static void
test_open_and_choose (Desk *desk, gconstpointer data)
{
  gtk_widget_grab_focus (get_spot (desk, 5));
  press (desk, GDK_KEY_space, 0);
  g_assert_cmpint (bed_yard_view_get_selected (get_view (desk)), ==, 5);
  gtk_widget_grab_focus (get_spot (desk, 6));
  press (desk, GDK_KEY_space, 0);
  g_assert_cmpuint (count_chosen (desk), ==, 2);
  press (desk, GDK_KEY_space, 0);
  g_assert_cmpint (bed_yard_view_get_selected (get_view (desk)), ==, 5);
  press (desk, GDK_KEY_Return, 0); /* the one with the ring */
  g_assert_cmpuint (desk->heard.opened, ==, 1);
  g_assert_cmpuint (desk->heard.kind, ==, BED_THING_STACK);
  g_assert_cmpint (desk->heard.id, ==, 6);
  press (desk, GDK_KEY_Escape, 0);
  g_assert_cmpuint (count_chosen (desk), ==, 0);
}

static void
test_acts (Desk *desk, gconstpointer data)
{
  gtk_widget_grab_focus (get_spot (desk, 5));
  g_assert_true (press (desk, GDK_KEY_Delete, 0));
  g_assert_cmpuint (desk->heard.removed, ==, 1);
  g_assert_cmpint (bed_yard_view_get_selected (get_view (desk)), ==, 5);
  g_assert_true (press (desk, GDK_KEY_d, GDK_CONTROL_MASK));
  g_assert_cmpuint (desk->heard.duplicated, ==, 1);
  g_assert_true (press (desk, GDK_KEY_4, 0));
  g_assert_cmpuint (desk->heard.typed, ==, '4');
}

/* A kind is put in the middle, moved by arrows and set down by Enter; or let go by Esc. */
static void
test_build (Desk *desk, gconstpointer data)
{
  bed_yard_view_place (get_view (desk), BED_STACK_A_FRAME);
  press (desk, GDK_KEY_Escape, 0);
  g_assert_cmpuint (desk->heard.built, ==, 0);
  bed_yard_view_place (get_view (desk), BED_STACK_A_FRAME);
  press (desk, GDK_KEY_Right, GDK_SHIFT_MASK);
  press (desk, GDK_KEY_Return, 0);
  g_assert_cmpuint (desk->heard.built, ==, 1);
  g_assert_cmpuint (desk->heard.kind, ==, BED_STACK_A_FRAME);
  bed_yard_view_place (get_view (desk), BED_STACK_CRIB);
  bed_yard_view_set_fields (get_view (desk), (const double[BED_HAND_FIELDS]){ 2.25, 3.5, 0.5 });
  g_assert_cmpuint (desk->heard.built, ==, 2);
  g_assert_cmpfloat_with_epsilon (desk->heard.pose.x, 2.25, NEAR);
  g_assert_cmpfloat_with_epsilon (desk->heard.pose.y, 3.5, NEAR);
  g_assert_cmpfloat_with_epsilon (desk->heard.pose.turn, 0.5, NEAR);
}

static void
test_turn (Desk *desk, gconstpointer data)
{
  BedPoint handle, middle = on_screen (desk, 4, 9.5);

  bed_yard_view_select (get_view (desk), 1);
  g_assert_true (bed_yard_view_handle (get_view (desk), &handle));
  /* From due east to due north of the middle. */
  drag (desk, handle, middle.x - handle.x, middle.y - 80 - handle.y);
  drop (desk, 0, 0);
  g_assert_cmpuint (desk->heard.carried, ==, 1);
  g_assert_cmpfloat_with_epsilon (desk->heard.pose.turn, G_PI / 2, NEAR);
  g_assert_cmpfloat_with_epsilon (desk->heard.pose.x, 4, NEAR);
}

/* What is typed is exact: no grid, no neighbour. */
static void
test_typed (Desk *desk, gconstpointer data)
{
  BedHandField fields[BED_HAND_FIELDS];

  bed_yard_view_select (get_view (desk), 3);
  g_assert_cmpuint (bed_yard_view_get_fields (get_view (desk), fields), ==, 3);
  g_assert_cmpfloat_with_epsilon (fields[0].value, 8, NEAR);
  g_assert_cmpfloat_with_epsilon (fields[1].value, 9.5, NEAR);
  bed_yard_view_set_fields (get_view (desk), (const double[BED_HAND_FIELDS]){ 7.123, 3.456, 0.1 });
  g_assert_cmpuint (desk->heard.carried, ==, 1);
  g_assert_cmpfloat_with_epsilon (desk->heard.pose.x, 7.123, NEAR);
  g_assert_cmpfloat_with_epsilon (desk->heard.pose.y, 3.456, NEAR);
  g_assert_cmpfloat_with_epsilon (desk->heard.pose.turn, 0.1, NEAR);
  choose (desk, 2, (const gint64[]){ 1, 2 });
  bed_yard_view_set_fields (get_view (desk), (const double[BED_HAND_FIELDS]){ 0.37, -0.2, 0 });
  g_assert_cmpuint (desk->heard.things, ==, 2);
  g_assert_cmpfloat_with_epsilon (desk->heard.pose.x, 4.37, NEAR);
  g_assert_cmpfloat_with_epsilon (desk->heard.pose.y, 9.3, NEAR);
}

static BedPoint
ground_point (Desk *desk, guint i)
{
  return g_array_index (desk->heard.ground.points, BedPoint, i);
}

/* Moves the pointer without a button. */
static void
point (Desk *desk, BedPoint at)
{
  g_signal_emit_by_name (yard_desk_find (&desk->desk, GTK_TYPE_EVENT_CONTROLLER_MOTION), "motion",
                         at.x, at.y);
}

static void
click (Desk *desk, BedPoint at, int n_press)
{
  drag (desk, at, 0, 0);
  drop (desk, 0, 0);
  g_signal_emit_by_name (yard_desk_find (&desk->desk, GTK_TYPE_GESTURE_CLICK), "released", n_press,
                         at.x, at.y);
}

/* A press alone puts one of usual size down; a drag gives the size. */
static void
test_draw_box (Desk *desk, gconstpointer data)
{
  double scale = bed_yard_view_get_scale (get_view (desk));

  bed_yard_view_draw_thing (get_view (desk), BED_FEATURE_BUILDING);
  drag (desk, on_screen (desk, 14.5, 12.5), 2.5 * scale, 1 * scale);
  g_assert_cmpuint (desk->heard.drawn, ==, 0);
  drop (desk, 2.5 * scale, 1 * scale);
  g_assert_cmpuint (desk->heard.drawn, ==, 1);
  g_assert_cmpuint (desk->heard.kind, ==, BED_FEATURE_BUILDING);
  g_assert_cmpint (desk->heard.ground.form, ==, BED_GROUND_BOX);
  g_assert_cmpfloat_with_epsilon (desk->heard.ground.width, 2.5, 0.35);
  g_assert_cmpfloat_with_epsilon (desk->heard.ground.depth, 1, 0.35);
  bed_yard_view_draw_thing (get_view (desk), BED_FEATURE_TANK);
  click (desk, on_screen (desk, 19, 6.5), 1);
  g_assert_cmpuint (desk->heard.drawn, ==, 2);
  g_assert_cmpfloat_with_epsilon (desk->heard.ground.width, 2, NEAR);
  g_assert_cmpfloat_with_epsilon (desk->heard.ground.depth, 1, NEAR);
}

/* Its size typed while the pointer drags it: the corner where it was begun stays. */
static void
test_size_typed (Desk *desk, gconstpointer data)
{
  BedHandField fields[BED_HAND_FIELDS];
  double scale = bed_yard_view_get_scale (get_view (desk));

  bed_yard_view_draw_thing (get_view (desk), BED_FEATURE_BUILDING);
  drag (desk, on_screen (desk, 14.5, 12.5), -2.5 * scale, 1 * scale);
  g_assert_cmpuint (bed_yard_view_get_fields (get_view (desk), fields), ==, 2);
  g_assert_cmpfloat_with_epsilon (fields[0].value, 2.5, 0.35);
  bed_yard_view_set_fields (get_view (desk), (const double[BED_HAND_FIELDS]){ 3, 1.5 });
  drop (desk, -2.5 * scale, 1 * scale);
  g_assert_cmpuint (desk->heard.drawn, ==, 1);
  g_assert_cmpfloat_with_epsilon (desk->heard.ground.width, 3, NEAR);
  g_assert_cmpfloat_with_epsilon (desk->heard.ground.depth, 1.5, NEAR);
  g_assert_cmpfloat_with_epsilon (ground_point (desk, 0).x, 14.5 - 1.5, 0.2);
  g_assert_cmpfloat_with_epsilon (ground_point (desk, 0).y, 12.5 - 0.75, 0.2);
}

static void
test_draw_disc (Desk *desk, gconstpointer data)
{
  double scale = bed_yard_view_get_scale (get_view (desk));

  bed_yard_view_draw_thing (get_view (desk), BED_FEATURE_TREE);
  drag (desk, on_screen (desk, 14.5, 12.5), 0.8 * scale, 0);
  drop (desk, 0.8 * scale, 0);
  g_assert_cmpuint (desk->heard.drawn, ==, 1);
  g_assert_cmpint (desk->heard.ground.form, ==, BED_GROUND_DISC);
  g_assert_cmpfloat_with_epsilon (desk->heard.ground.radius, 0.8, 0.35);
}

/* Point by point; Backspace takes the last back; a double press ends it, Esc drops it. */
static void
test_draw_band (Desk *desk, gconstpointer data)
{
  bed_yard_view_draw_thing (get_view (desk), BED_FEATURE_PATH);
  click (desk, on_screen (desk, 14.5, 13.2), 1);
  click (desk, on_screen (desk, 16.5, 13.2), 1);
  click (desk, on_screen (desk, 16.5, 11.2), 1);
  press (desk, GDK_KEY_BackSpace, 0);
  click (desk, on_screen (desk, 14.9, 11.8), 1);
  g_assert_cmpuint (desk->heard.drawn, ==, 0);
  press (desk, GDK_KEY_Return, 0);
  g_assert_cmpuint (desk->heard.drawn, ==, 1);
  g_assert_cmpuint (desk->heard.ground.points->len, ==, 3);
  g_assert_cmpfloat_with_epsilon (ground_point (desk, 1).x, 16.5, 0.35);
  g_assert_cmpfloat_with_epsilon (ground_point (desk, 2).y, 11.8, 0.35);
  bed_yard_view_draw_thing (get_view (desk), BED_FEATURE_FENCE);
  click (desk, on_screen (desk, 14.5, 13.2), 1);
  press (desk, GDK_KEY_Escape, 0);
  g_assert_cmpuint (desk->heard.drawn, ==, 1);
  bed_yard_view_draw_thing (get_view (desk), BED_FEATURE_FENCE);
  click (desk, on_screen (desk, 14.5, 13.2), 1);
  press (desk, GDK_KEY_Return, 0); /* one point is no fence */
  g_assert_cmpuint (desk->heard.drawn, ==, 1);
}

/* Every length typed: three metres east, then two north. */
static void
test_draw_typed (Desk *desk, gconstpointer data)
{
  BedHandField fields[BED_HAND_FIELDS];

  bed_yard_view_draw_thing (get_view (desk), BED_FEATURE_PATH);
  bed_yard_view_set_fields (get_view (desk), (const double[BED_HAND_FIELDS]){ 1, 5 });
  bed_yard_view_set_fields (get_view (desk), (const double[BED_HAND_FIELDS]){ 3, 0, 1.2 });
  g_assert_cmpuint (bed_yard_view_get_fields (get_view (desk), fields), ==, 3);
  bed_yard_view_set_fields (get_view (desk), (const double[BED_HAND_FIELDS]){ 2, G_PI / 2, 1.2 });
  press (desk, GDK_KEY_Return, 0);
  g_assert_cmpuint (desk->heard.drawn, ==, 1);
  g_assert_cmpuint (desk->heard.ground.points->len, ==, 3);
  g_assert_cmpfloat_with_epsilon (desk->heard.ground.width, 1.2, NEAR);
  g_assert_cmpfloat_with_epsilon (ground_point (desk, 1).x, 4, NEAR);
  g_assert_cmpfloat_with_epsilon (ground_point (desk, 2).x, 4, NEAR);
  g_assert_cmpfloat_with_epsilon (ground_point (desk, 2).y, 7, NEAR);
  bed_yard_view_draw_thing (get_view (desk), BED_FEATURE_TANK);
  bed_yard_view_set_fields (get_view (desk),
                            (const double[BED_HAND_FIELDS]){ 2, 3, 1.5, 0.8, 0.25 });
  g_assert_cmpuint (desk->heard.drawn, ==, 2);
  g_assert_cmpfloat_with_epsilon (desk->heard.ground.depth, 0.8, NEAR);
  g_assert_cmpfloat_with_epsilon (desk->heard.ground.turn, 0.25, NEAR);
}

/* Each side turns by a right angle, wherever the pointer is; Enter closes it so. */
static void
test_square (Desk *desk, gconstpointer data)
{
  BedHandField fields[BED_HAND_FIELDS];

  bed_yard_view_draw_thing (get_view (desk), BED_DRAW_SQUARE_OUTLINE);
  click (desk, on_screen (desk, 1.5, 10.5), 1);
  bed_yard_view_set_fields (get_view (desk), (const double[BED_HAND_FIELDS]){ 6, 0.5 });
  g_assert_cmpuint (bed_yard_view_get_fields (get_view (desk), fields), ==, 1);
  g_assert_true (fields[0].is_side);
  click (desk, on_screen (desk, 4, 13.5), 1);
  press (desk, GDK_KEY_Return, 0);
  g_assert_cmpuint (desk->heard.drawn, ==, 1);
  g_assert_cmpuint (desk->heard.kind, ==, BED_DRAW_OUTLINE);
  g_assert_cmpuint (desk->heard.ground.points->len, ==, 4);
  BedPoint a = ground_point (desk, 0), b = ground_point (desk, 1), c = ground_point (desk, 2),
           d = ground_point (desk, 3);
  g_assert_cmpfloat_with_epsilon (hypot (b.x - a.x, b.y - a.y), 6, NEAR);
  g_assert_cmpfloat_with_epsilon (atan2 (b.y - a.y, b.x - a.x), 0.5, NEAR);
  g_assert_cmpfloat_with_epsilon ((b.x - a.x) * (c.x - b.x) + (b.y - a.y) * (c.y - b.y), 0, NEAR);
  g_assert_cmpfloat_with_epsilon (d.x - a.x, c.x - b.x, NEAR);
  g_assert_cmpfloat_with_epsilon (d.y - a.y, c.y - b.y, NEAR);
  /* The next one is free again. */
  bed_yard_view_draw_thing (get_view (desk), BED_DRAW_OUTLINE);
  click (desk, on_screen (desk, 1.5, 10.5), 1);
  click (desk, on_screen (desk, 6.3, 11.2), 1);
  g_assert_cmpuint (bed_yard_view_get_fields (get_view (desk), fields), ==, 2);
}

/* Arrows carry what is being drawn, not what was chosen before. */
static void
test_nudge_drawn (Desk *desk, gconstpointer data)
{
  BedHandField before[BED_HAND_FIELDS], after[BED_HAND_FIELDS];

  bed_yard_view_select (get_view (desk), 3);
  bed_yard_view_draw_thing (get_view (desk), BED_FEATURE_TANK);
  bed_yard_view_get_fields (get_view (desk), before);
  press (desk, GDK_KEY_Right, 0);
  press (desk, GDK_KEY_Up, GDK_SHIFT_MASK);
  press (desk, GDK_KEY_bracketleft, 0);
  bed_yard_view_get_fields (get_view (desk), after);
  g_assert_cmpfloat_with_epsilon (after[0].value - before[0].value, 0.1, NEAR);
  g_assert_cmpfloat_with_epsilon (after[1].value - before[1].value, 0.9, NEAR);
  g_assert_cmpfloat_with_epsilon (after[4].value, 5 * G_PI / 180, NEAR);
  press (desk, GDK_KEY_Return, 0);
  g_assert_cmpuint (desk->heard.drawn, ==, 1);
  g_assert_cmpuint (desk->heard.carried, ==, 0);
}

static void
choose_feature (Desk *desk, gint64 id)
{
  g_autoptr (GArray) one = bed_things_new ();
  BedThing thing = { BED_THING_FEATURE, id };

  g_array_append_val (one, thing);
  bed_yard_view_choose (get_view (desk), one);
}

/* The corner of a chosen box; the opposite one stays, right angles stay right. */
static void
test_handle (Desk *desk, gconstpointer data)
{
  double scale = bed_yard_view_get_scale (get_view (desk));
  BedPoint corners[4];

  choose_feature (desk, 10); /* the shed, 5 0.9 to 7.6 3 */
  drag (desk, on_screen (desk, 5, 0.9), -1 * scale, 0.5 * scale);
  g_assert_cmpuint (desk->heard.shaped, ==, 0);
  drop (desk, -1 * scale, 0.5 * scale);
  g_assert_cmpuint (desk->heard.shaped, ==, 1);
  g_assert_cmpint (desk->heard.id, ==, 10);
  g_assert_cmpint (desk->heard.ground.form, ==, BED_GROUND_BOX);
  bed_ground_get_corners (&desk->heard.ground, corners);
  g_assert_cmpfloat_with_epsilon (corners[0].x, 4, 0.35);
  g_assert_cmpfloat_with_epsilon (corners[0].y, 0.4, 0.35);
  g_assert_cmpfloat_with_epsilon (corners[2].x, 7.6, NEAR);
  g_assert_cmpfloat_with_epsilon (corners[2].y, 3, NEAR);
}

/* What is chosen is sized by its numbers, too; what was not typed stays. */
static void
test_shape_typed (Desk *desk, gconstpointer data)
{
  BedHandField fields[BED_HAND_FIELDS];

  choose_feature (desk, 2); /* the oak */
  g_assert_cmpuint (bed_yard_view_get_fields (get_view (desk), fields), ==, 3);
  g_assert_cmpfloat_with_epsilon (fields[2].value, 1.9, NEAR);
  bed_yard_view_set_fields (get_view (desk), (const double[BED_HAND_FIELDS]){ 2, 12, 2.5 });
  g_assert_cmpuint (desk->heard.shaped, ==, 1);
  g_assert_cmpfloat_with_epsilon (desk->heard.ground.radius, 2.5, NEAR);
  g_assert_cmpfloat_with_epsilon (ground_point (desk, 0).x, 2, NEAR);
}

/* The corner of the area is at hand without being chosen; Esc puts it back. */
static void
test_outline (Desk *desk, gconstpointer data)
{
  double scale = bed_yard_view_get_scale (get_view (desk));

  drag (desk, on_screen (desk, 20, 14), -1 * scale, 1 * scale);
  g_assert_true (press (desk, GDK_KEY_Escape, 0));
  drop (desk, -1 * scale, 1 * scale);
  g_assert_cmpuint (desk->heard.shaped, ==, 0);
  drag (desk, on_screen (desk, 20, 14), -1 * scale, 1 * scale);
  drop (desk, -1 * scale, 1 * scale);
  g_assert_cmpuint (desk->heard.shaped, ==, 1);
  g_assert_cmpint (desk->heard.id, ==, 0);
  g_assert_cmpuint (desk->heard.ground.points->len, ==, 4);
}

/* A thing on the ground is chosen and carried like a stack. */
static void
test_carry_feature (Desk *desk, gconstpointer data)
{
  double scale = bed_yard_view_get_scale (get_view (desk));

  drag (desk, on_screen (desk, 6.3, 1.5), 0, -0.53 * scale);
  drop (desk, 0, -0.53 * scale);
  g_assert_cmpuint (desk->heard.carried, ==, 1);
  g_assert_cmpint (desk->heard.id, ==, 10);
  g_assert_cmpfloat_with_epsilon (desk->heard.by.x, 0, 0.3);
  g_assert_cmpfloat_with_epsilon (desk->heard.by.y, 0.5, 0.3);
}

/* The measuring line says how far, and changes nothing. */
static void
test_tape (Desk *desk, gconstpointer data)
{
  const BedNotation metric = { BED_SYSTEM_METRIC, '.', 2 };
  double scale = bed_yard_view_get_scale (get_view (desk));

  bed_yard_view_take_tape (get_view (desk));
  drag (desk, on_screen (desk, 4, 9.5), 3 * scale, 4 * scale);
  g_autofree char *said = bed_yard_view_dup_hand (get_view (desk), &metric);
  g_assert_cmpstr (said, ==, "5.00 m");
  drop (desk, 3 * scale, 4 * scale);
  press (desk, GDK_KEY_Escape, 0);
  g_autofree char *after = bed_yard_view_dup_hand (get_view (desk), &metric);
  g_assert_cmpstr (after, ==, "");
  g_assert_cmpuint (desk->heard.carried, ==, 0);
}

/* It is typed as well. */
static void
test_tape_typed (Desk *desk, gconstpointer data)
{
  const BedNotation metric = { BED_SYSTEM_METRIC, '.', 2 };
  BedHandField fields[BED_HAND_FIELDS];

  bed_yard_view_take_tape (get_view (desk));
  g_assert_cmpuint (bed_yard_view_get_fields (get_view (desk), fields), ==, 4);
  bed_yard_view_set_fields (get_view (desk), (const double[BED_HAND_FIELDS]){ 1, 2, 13, 7 });
  g_autofree char *said = bed_yard_view_dup_hand (get_view (desk), &metric);
  g_assert_cmpstr (said, ==, "13.00 m");
  bed_yard_view_get_fields (get_view (desk), fields);
  g_assert_cmpfloat_with_epsilon (fields[2].value, 13, 1e-9);
  g_assert_cmpuint (desk->heard.carried, ==, 0);
}

/* A new thing follows the pointer before it is put down. */
static void
test_follows (Desk *desk, gconstpointer data)
{
  BedHandField fields[BED_HAND_FIELDS];

  bed_yard_view_place (get_view (desk), BED_STACK_CRIB);
  point (desk, on_screen (desk, 15, 12));
  point (desk, on_screen (desk, 17, 12));
  bed_yard_view_get_fields (get_view (desk), fields);
  g_assert_cmpfloat_with_epsilon (fields[0].value, 17, 0.3);
  g_assert_cmpfloat_with_epsilon (fields[1].value, 12, 0.3);
}

/* A thing that the keyboard comes to is brought in sight; one that is in sight moves nothing. */
static void
test_in_sight (Desk *desk, gconstpointer data)
{
  bed_yard_view_zoom (get_view (desk), 6);
  BedPoint was = on_screen (desk, 16, 9.5);
  g_assert_cmpfloat (was.x, >, 800);
  gtk_widget_grab_focus (get_spot (desk, 8));
  BedPoint is = on_screen (desk, 16, 9.5);
  g_assert_cmpfloat (is.x, <, 800);
  gtk_widget_grab_focus (desk->desk.view);
  gtk_widget_grab_focus (get_spot (desk, 8));
  g_assert_cmpfloat_with_epsilon (on_screen (desk, 16, 9.5).x, is.x, NEAR);
}

/* Another yard in the place of one in whose stack the hand is. */
static void
test_replaced (Desk *desk, gconstpointer data)
{
  drag (desk, on_screen (desk, 16, 9.5), 30, 30);
  bed_yard_view_set_yard (get_view (desk), sample_large_yard_new ());
  drop (desk, 30, 30);
  g_assert_cmpuint (desk->heard.carried, ==, 0);
  gtk_test_accessible_assert_property (GTK_ACCESSIBLE (get_spot (desk, 40)),
                                       GTK_ACCESSIBLE_PROPERTY_LABEL,
                                       "Lean-to 40, lean-to, 25 logs of 26N and 26O");
  bed_yard_view_set_yard (get_view (desk), NULL);
  g_assert_null (gtk_widget_get_first_child (desk->desk.view));
}

/* --- what is warned of -------------------------------------------------------------------- */

static void
await_advice (Desk *desk)
{
  for (int i = 0; i < 500 && !bed_yard_view_get_looks (get_view (desk)); i++)
    g_main_context_iteration (NULL, TRUE);
  g_assert_nonnull (bed_yard_view_get_looks (get_view (desk)));
}

/* The sample with its second crib pushed into its third. */
static BedYard *
make_crowded (void)
{
  BedYard *yard = sample_yard_new ();

  ((BedYardStack *) yard->stacks->pdata[1])->pose.x = 7.6;
  return yard;
}

/* A mark at the corner of the stack chooses it; its words are heard and read there. */
static void
test_advice (Desk *desk, gconstpointer data)
{
  gint64 warned = 2;

  bed_yard_view_set_yard (get_view (desk), make_crowded ());
  g_clear_pointer (&get_view (desk)->looks, g_hash_table_unref); /* of the yard before */
  await_advice (desk);
  const BedStackLook *look
      = g_hash_table_lookup (bed_yard_view_get_looks (get_view (desk)), &warned);
  g_assert_cmpuint (look->advice->len, >, 0);
  g_assert_cmpfloat (look->to_water, >, 1);
  g_autofree char *said = bed_yard_view_dup_advice (get_view (desk), warned);
  g_assert_nonnull (strstr (said, "It stands in Crib 3."));
  BedThing thing = { BED_THING_STACK, warned };
  BedExtent box = bed_shape_extent (bed_thing_find_shape (get_view (desk)->index, &thing));
  BedPoint corner = on_screen (desk, box.x + box.width, box.y + box.height);
  click (desk, (BedPoint){ corner.x + 5, corner.y - 5 }, 1);
  g_assert_cmpint (bed_yard_view_get_selected (get_view (desk)), ==, warned);
  g_assert_cmpuint (desk->heard.carried, ==, 0);
  g_autofree char *where
      = g_strdup_printf ("7.6 from the west, 9.5 from the south (m), turned 0 degrees. %s", said);
  gtk_test_accessible_assert_property (GTK_ACCESSIBLE (get_spot (desk, 2)),
                                       GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, where);
}

/* What was known is shown until all is known anew; of another area's stacks nothing is. */
static void
test_advice_stays (Desk *desk, gconstpointer data)
{
  BedYard *other = sample_large_yard_new ();

  bed_yard_view_set_yard (get_view (desk), make_crowded ());
  g_clear_pointer (&get_view (desk)->looks, g_hash_table_unref);
  await_advice (desk);
  bed_yard_view_set_yard (get_view (desk), sample_yard_new ());
  g_assert_nonnull (bed_yard_view_get_looks (get_view (desk)));
  other->id = 2;
  bed_yard_view_set_yard (get_view (desk), other);
  g_assert_null (bed_yard_view_get_looks (get_view (desk)));
  await_advice (desk);
}

/* --- pieces of the ground ----------------------------------------------------------------- */

static guint drawn;

static void
count_cb (cairo_t *cr, const BedViewport *view, gpointer data)
{
  drawn++;
}

static gboolean
look (BedYardTiles *tiles, double x, double scale, gint64 budget)
{
  GtkSnapshot *snapshot = gtk_snapshot_new ();
  BedViewport view = { scale, { x, 0 }, 256, 256 };
  gboolean done = bed_yard_tiles_snapshot (tiles, snapshot, &view, 1, budget);
  g_autoptr (GskRenderNode) node = gtk_snapshot_free_to_node (snapshot);

  g_assert_nonnull (node);
  return done;
}

/* Looking about draws what was not seen yet; what changed is drawn anew, and nothing else. */
static void
test_tiles (void)
{
  g_autoptr (BedYardTiles) tiles = bed_yard_tiles_new (count_cb, NULL);

  drawn = 0;
  look (tiles, 0.5, 10, 0);
  g_assert_cmpuint (drawn, ==, 9); /* 256 px from the middle of a piece: three by three */
  while (!look (tiles, 0.5, 10, G_MAXINT32))
    ;
  guint around = drawn;
  g_assert_cmpuint (around, ==, 25);
  g_assert_true (look (tiles, 0.5, 10, 0));
  g_assert_true (look (tiles, 0.7, 10, 0));
  g_assert_cmpuint (drawn, ==, around);
  bed_yard_tiles_forget_part (tiles, &(BedExtent){ 1, 1, 2, 2 });
  look (tiles, 0.5, 10, 0);
  g_assert_cmpuint (drawn, ==, around + 1);
  bed_yard_tiles_refresh (tiles);
  look (tiles, 0.5, 10, 0);
  g_assert_cmpuint (drawn, ==, around + 1); /* not now */
  while (!look (tiles, 0.5, 10, G_MAXINT32))
    ;
  g_assert_cmpuint (drawn, ==, 2 * around + 1);
}

/* While the scale goes on changing what there is stands in, enlarged; it is drawn when that is
 * over. */
static void
test_tiles_zoom (void)
{
  g_autoptr (BedYardTiles) tiles = bed_yard_tiles_new (count_cb, NULL);

  look (tiles, 0.5, 10, 0);
  drawn = 0;
  for (double scale = 11; scale < 20; scale *= 1.2)
    g_assert_false (look (tiles, 0.5, scale, G_MAXINT32));
  g_assert_cmpuint (drawn, ==, 0);
  look (tiles, 0.5, 12, G_MAXINT32);
  look (tiles, 0.5, 12, G_MAXINT32);
  g_assert_cmpuint (drawn, >=, 9);
  drawn = 0;
  look (tiles, 0.5, 1, G_MAXINT32); /* too small to stand in */
  g_assert_cmpuint (drawn, >=, 4);
}

/* After an edit only the ground it touched is drawn anew. */
static void
test_edit_draws_little (Desk *desk, gconstpointer data)
{
  BedYard *yard = sample_yard_new ();
  GtkSnapshot *snapshot = gtk_snapshot_new ();

  bed_yard_view_draw (get_view (desk), snapshot);
  g_clear_pointer (&get_view (desk)->tiles, bed_yard_tiles_free);
  get_view (desk)->tiles = bed_yard_tiles_new (count_cb, NULL);
  drawn = 0;
  bed_yard_view_draw (get_view (desk), snapshot);
  g_assert_cmpuint (drawn, >=, 12);
  for (guint was = 0; was != drawn;) /* those beyond the edge, too */
    {
      was = drawn;
      bed_yard_view_draw (get_view (desk), snapshot);
    }
  drawn = 0;
  ((BedYardStack *) yard->stacks->pdata[8])->pose.x += 0.2;
  bed_yard_view_set_yard (get_view (desk), yard);
  while (gtk_widget_get_width (desk->desk.view) == 0)
    g_main_context_iteration (NULL, TRUE);
  bed_yard_view_draw (get_view (desk), snapshot);
  g_assert_cmpuint (drawn, >=, 1);
  g_assert_cmpuint (drawn, <=, 6);
  g_object_unref (snapshot);
}

int
main (int argc, char *argv[])
{
  gtk_test_init (&argc, &argv, NULL);
  adw_init ();
#define ADD(name, test) g_test_add ("/yard/view/" name, Desk, NULL, set_up, test, tear_down)
  ADD ("names", test_names);
  ADD ("tab", test_tab);
  ADD ("leave", test_leave);
  ADD ("ring-leaves", test_ring_leaves);
  ADD ("reading-order", test_reading_order);
  ADD ("drag", test_drag);
  ADD ("drag-escape", test_drag_escape);
  ADD ("click", test_click);
  ADD ("band", test_band);
  ADD ("group-drag", test_group_drag);
  ADD ("all", test_all);
  ADD ("look-only", test_look_only);
  ADD ("nudge", test_nudge);
  ADD ("nudge-pause", test_nudge_pause);
  ADD ("ring", test_ring);
  ADD ("no-ring", test_no_ring);
  ADD ("open-and-choose", test_open_and_choose);
  ADD ("acts", test_acts);
  ADD ("build", test_build);
  ADD ("turn", test_turn);
  ADD ("typed", test_typed);
  ADD ("draw/box", test_draw_box);
  ADD ("draw/size-typed", test_size_typed);
  ADD ("draw/disc", test_draw_disc);
  ADD ("draw/band", test_draw_band);
  ADD ("draw/typed", test_draw_typed);
  ADD ("draw/square", test_square);
  ADD ("draw/nudge", test_nudge_drawn);
  ADD ("handle", test_handle);
  ADD ("shape-typed", test_shape_typed);
  ADD ("outline", test_outline);
  ADD ("carry-feature", test_carry_feature);
  ADD ("tape", test_tape);
  ADD ("tape-typed", test_tape_typed);
  ADD ("follows", test_follows);
  ADD ("in-sight", test_in_sight);
  ADD ("replaced", test_replaced);
  ADD ("advice/mark", test_advice);
  ADD ("advice/stays", test_advice_stays);
  ADD ("edit-draws-little", test_edit_draws_little);
  g_test_add_func ("/yard/view/tiles", test_tiles);
  g_test_add_func ("/yard/view/tiles-zoom", test_tiles_zoom);
  return g_test_run ();
}
