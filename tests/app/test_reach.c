/* Everything is reached by the keyboard alone, and a screen reader has a name for it: at every
 * place of the desk, Tab goes round all that can be used, row by row, and Shift+Tab goes back. */
#include "places.h"

#include <string.h>

#include "app/host/host.h"
#include "app/widgets/table.h"
#include "app/yard/yard_elevation.h"

#define MOST_STOPS 400
#define SAME_ROW 4 /* px that boxes may overlap and still be one after the other */

/* --- round by Tab --------------------------------------------------------------------- */

/* What the arrows walk is one stop: the rows of a list, the logs of a stack. */
static GtkWidget *
get_stop (GtkWidget *focus)
{
  GtkWidget *table = gtk_widget_get_ancestor (focus, GTK_TYPE_COLUMN_VIEW);
  GtkWidget *logs = gtk_widget_get_ancestor (focus, BED_TYPE_YARD_ELEVATION);

  if (table || logs)
    return table ? table : logs;
  if (GTK_IS_LIST_BOX_ROW (focus))
    return gtk_widget_get_parent (focus);
  return focus;
}

/* The stops from the beginning until it is round, each once. */
static GPtrArray *
walk (Places *self, const char *place, GtkWindow *window, GtkDirectionType direction)
{
  g_autoptr (GPtrArray) stops = g_ptr_array_new ();
  GtkWidget *last = NULL;
  guint at;

  gtk_window_set_focus (window, NULL);
  for (guint i = 0; i < MOST_STOPS; i++)
    {
      gtk_widget_child_focus (GTK_WIDGET (window), direction);
      GtkWidget *focus = gtk_window_get_focus (window);
      GtkWidget *stop = focus ? get_stop (focus) : NULL;
      if (!stop)
        continue; /* over the end of the window */
      if (stop == last && stop != focus)
        continue;
      if (g_ptr_array_find (stops, stop, &at))
        {
          g_autofree char *name = places_dup_name (stop);

          if (at > 0)
            places_fault (self, "%s: %s, never round: back at %s (%u of %u)", place,
                          direction == GTK_DIR_TAB_FORWARD ? "Tab" : "Shift+Tab", name, at,
                          stops->len);
          return g_steal_pointer (&stops);
        }
      g_ptr_array_add (stops, stop);
      last = stop;
    }
  places_fault (self, "%s: no end of stops", place);
  return g_steal_pointer (&stops);
}

/* --- all of it ------------------------------------------------------------------------ */

static gboolean
is_empty_list (GtkWidget *widget)
{
  GtkWidget *table = gtk_widget_get_ancestor (widget, BED_TYPE_TABLE);
  gboolean is_search = gtk_widget_get_ancestor (widget, GTK_TYPE_SEARCH_ENTRY) != NULL;

  if (GTK_IS_LIST_BOX (widget))
    return gtk_list_box_get_row_at_index (GTK_LIST_BOX (widget), 0) == NULL;
  return table && !is_search
         && g_list_model_get_n_items (G_LIST_MODEL (bed_table_get_list (BED_TABLE (table)))) == 0;
}

static gboolean
can_have_keyboard (GtkWidget *widget)
{
  if (is_empty_list (widget))
    return FALSE;
  if (!gtk_widget_get_focusable (widget) || !gtk_widget_is_sensitive (widget)
      || gtk_widget_get_width (widget) <= 0)
    return FALSE;
  for (GtkWidget *up = widget; up; up = gtk_widget_get_parent (up))
    if (!gtk_widget_get_can_focus (up) || !gtk_widget_get_child_visible (up))
      return FALSE;
  return TRUE;
}

typedef struct
{
  const char *place;
  GPtrArray *stops;
} Reached;

static void
check_reached (Places *self, GtkWidget *widget, gpointer data)
{
  Reached *reached = data;

  if (!can_have_keyboard (widget) || GTK_IS_WINDOW (widget))
    return;
  GtkWidget *stop = get_stop (widget);
  for (guint i = 0; i < reached->stops->len; i++)
    if (reached->stops->pdata[i] == stop || gtk_widget_is_ancestor (reached->stops->pdata[i], stop))
      return;
  g_autofree char *name = places_dup_name (widget);
  places_fault (self, "%s: Tab does not reach %s", reached->place, name);
}

/* --- row by row ----------------------------------------------------------------------- */

static void
place_in (GtkWidget *child, GtkWidget *widget, GtkWidget *inside, graphene_rect_t *bounds)
{
  while (gtk_widget_get_parent (child) && gtk_widget_get_parent (child) != inside)
    child = gtk_widget_get_parent (child);
  if (!gtk_widget_compute_bounds (child, inside, bounds))
    graphene_rect_init (bounds, 0, 0, 0, 0);
}

static GtkWidget *
get_common (GtkWidget *a, GtkWidget *b)
{
  while (a != b && !gtk_widget_is_ancestor (b, a))
    a = gtk_widget_get_parent (a);
  return a;
}

/* Whether @next stands before @stop in what holds both. */
static gboolean
goes_back (GtkWidget *stop, GtkWidget *next)
{
  GtkWidget *both = get_common (stop, next);
  graphene_rect_t a, b;

  if (both == stop || both == next)
    return FALSE;
  place_in (stop, stop, both, &a);
  place_in (next, next, both, &b);
  if (b.origin.y + b.size.height <= a.origin.y + SAME_ROW)
    /* Above it, unless it is the next column. */
    return b.origin.x < a.origin.x + a.size.width - SAME_ROW;
  return b.origin.x + b.size.width <= a.origin.x + SAME_ROW
         && b.origin.y < a.origin.y + a.size.height - SAME_ROW
         && a.origin.y < b.origin.y + b.size.height - SAME_ROW;
}

static void
check_order (Places *self, const char *place, GPtrArray *stops)
{
  for (guint i = 1; i < stops->len; i++)
    if (goes_back (stops->pdata[i - 1], stops->pdata[i]))
      {
        g_autofree char *from = places_dup_name (stops->pdata[i - 1]);
        g_autofree char *to = places_dup_name (stops->pdata[i]);

        places_fault (self, "%s: Tab goes back from %s to %s", place, from, to);
      }
}

static void
check_reverse (Places *self, const char *place, GPtrArray *there, GPtrArray *back)
{
  if (there->len != back->len)
    places_fault (self, "%s: %u stops there, %u back", place, there->len, back->len);
  for (guint i = 0; i < there->len && i < back->len; i++)
    if (there->pdata[i] != back->pdata[back->len - 1 - i])
      {
        g_autofree char *a = places_dup_name (there->pdata[i]);
        g_autofree char *b = places_dup_name (back->pdata[back->len - 1 - i]);

        places_fault (self, "%s: stop %u is %s there, %s back", place, i, a, b);
        return;
      }
}

/* --- names ---------------------------------------------------------------------------- */

static char *
dup_said (GtkWidget *widget, GtkAccessibleProperty property)
{
  return gtk_test_accessible_has_property (GTK_ACCESSIBLE (widget), property)
             ? gtk_test_accessible_check_property (GTK_ACCESSIBLE (widget), property, "")
             : NULL;
}

static gboolean
has_name (GtkWidget *widget)
{
  g_autofree char *said = dup_said (widget, GTK_ACCESSIBLE_PROPERTY_LABEL);

  return said
         || gtk_test_accessible_has_relation (GTK_ACCESSIBLE (widget),
                                              GTK_ACCESSIBLE_RELATION_LABELLED_BY);
}

/* What a reader says of a line is what the entry says that it is in. */
static GtkWidget *
get_named (GtkWidget *widget)
{
  if (GTK_IS_TEXT (widget) && GTK_IS_EDITABLE (gtk_widget_get_parent (widget)))
    return gtk_widget_get_parent (widget);
  return widget;
}

static gboolean
is_drawing (GtkWidget *widget)
{
  return GTK_IS_DRAWING_AREA (widget)
         || (g_str_has_prefix (G_OBJECT_TYPE_NAME (widget), "Bed")
             && gtk_accessible_get_accessible_role (GTK_ACCESSIBLE (widget))
                    == GTK_ACCESSIBLE_ROLE_IMG);
}

/* Or that there are none. */
static gboolean
says_numbers (const char *text)
{
  return text && (strpbrk (text, "0123456789") || g_ascii_strncasecmp (text, "no", 2) == 0);
}

static void
check_drawing (Places *self, GtkWidget *widget, gpointer data)
{
  const char *place = data;

  if (!is_drawing (widget))
    return;
  GtkAccessibleRole role = gtk_accessible_get_accessible_role (GTK_ACCESSIBLE (widget));
  g_autofree char *said = dup_said (widget, GTK_ACCESSIBLE_PROPERTY_LABEL);
  g_autofree char *description = dup_said (widget, GTK_ACCESSIBLE_PROPERTY_DESCRIPTION);
  g_autofree char *name = places_dup_name (widget);

  if (role == GTK_ACCESSIBLE_ROLE_PRESENTATION)
    return;
  if (role != GTK_ACCESSIBLE_ROLE_IMG)
    places_fault (self, "%s: %s is a drawing without a role", place, name);
  else if (!has_name (widget))
    places_fault (self, "%s: %s is a drawing without a name", place, name);
  else if (!says_numbers (said) && !says_numbers (description))
    places_fault (self, "%s: %s is a drawing that is not described", place, name);
}

static void
check_drop_down (Places *self, GtkWidget *widget, gpointer place)
{
  gpointer chosen
      = GTK_IS_DROP_DOWN (widget) ? gtk_drop_down_get_selected_item (GTK_DROP_DOWN (widget)) : NULL;

  if (!chosen)
    return;
  g_autofree char *value = dup_said (widget, GTK_ACCESSIBLE_PROPERTY_VALUE_TEXT);
  g_autofree char *name = places_dup_name (widget);
  if (g_strcmp0 (value, gtk_string_object_get_string (chosen)) != 0)
    places_fault (self, "%s: %s does not say what is chosen", (const char *) place, name);
}

static void
check_names (Places *self, const char *place, GPtrArray *stops)
{
  for (guint i = 0; i < stops->len; i++)
    if (!has_name (get_named (stops->pdata[i])))
      {
        g_autofree char *name = places_dup_name (stops->pdata[i]);

        places_fault (self, "%s: %s has no name", place, name);
      }
}

/* --- everywhere ------------------------------------------------------------------------ */

static void
check_place (Places *self, const char *place, GtkWindow *window)
{
  g_autoptr (GPtrArray) there = walk (self, place, window, GTK_DIR_TAB_FORWARD);
  g_autoptr (GPtrArray) back = walk (self, place, window, GTK_DIR_TAB_BACKWARD);
  Reached reached = { place, there };

  if (g_test_verbose ())
    g_test_message ("%s: %u stops", place, there->len);
  places_each (self, GTK_WIDGET (window), check_reached, &reached);
  places_each (self, GTK_WIDGET (window), check_drawing, (gpointer) place);
  places_each (self, GTK_WIDGET (window), check_drop_down, (gpointer) place);
  check_names (self, place, there);
  check_order (self, place, there);
  check_reverse (self, place, there, back);
}

static void
test_pages (void)
{
  Places *self = places_new (1280);

  places_walk_pages (self, check_place);
  places_walk_records (self, check_place);
  places_walk_forms (self, check_place);
  places_walk_dialogs (self, check_place);
  places_walk_import (self, check_place);
  places_walk_start (self, check_place);
  places_end (self);
}

/* --- motion --------------------------------------------------------------------------- */

static void
check_still (Places *self, GtkWidget *widget, gpointer place)
{
  gboolean moves = FALSE;

  if (GTK_IS_STACK (widget))
    moves = gtk_stack_get_transition_running (GTK_STACK (widget));
  else if (GTK_IS_REVEALER (widget))
    moves = gtk_revealer_get_child_revealed (GTK_REVEALER (widget))
            != gtk_revealer_get_reveal_child (GTK_REVEALER (widget));
  g_autofree char *name = places_dup_name (widget);
  if (moves)
    places_fault (self, "%s: %s moves", (const char *) place, name);
}

static void
check_stillness (Places *self, const char *place, GtkWindow *window)
{
  places_each (self, GTK_WIDGET (window), check_still, (gpointer) place);
}

static void
open_why (Places *self, gboolean open)
{
  GtkWidget *why = app_find_button (GTK_WIDGET (self->window), "Why?");

  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (why), open);
  places_settle (self);
  check_stillness (self, "a why", GTK_WINDOW (self->window));
}

/* What opens is open at the next frame where motion is not wanted: the why of a task, the crossfade
 * of the yard, a toast. */
static void
test_still (void)
{
  Places *self = places_new (1280);

  open_why (self, TRUE);
  g_assert_cmpuint (self->faults->len, >, 0); /* it does move where that is wanted */
  g_ptr_array_set_size (self->faults, 0);
  g_object_set (gtk_settings_get_default (), "gtk-enable-animations", FALSE, NULL);
  open_why (self, FALSE);
  bed_host_say (GTK_WIDGET (self->window), "Saved");
  places_settle (self);
  GtkWidget *said = app_find_label (GTK_WIDGET (self->window), "Saved");
  g_assert_true (said && gtk_widget_get_mapped (said));
  bed_window_show_page (self->window, "yard");
  places_settle (self);
  check_stillness (self, "yard", GTK_WINDOW (self->window));
  g_object_set (gtk_settings_get_default (), "gtk-enable-animations", TRUE, NULL);
  places_end (self);
}

int
main (int argc, char **argv)
{
  gtk_test_init (&argc, &argv, NULL);
  adw_init ();
  g_test_add_func ("/app/reach/places", test_pages);
  g_test_add_func ("/app/reach/still", test_still);
  return g_test_run ();
}
