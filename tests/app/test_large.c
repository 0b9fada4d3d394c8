/* Large letters: at one and a half and twice the usual size everything that is read is larger, and
 * nothing of it is cut off in a window of 1280 x 800. */
#include "places.h"

#include "app/widgets/split.h"
#include "app/widgets/table.h"

#define USUAL_DPI (96 * 1024)
#define WIDTH 1280
#define HEIGHT 800
#define SMALLEST 0.8 /* of the desk's usual letters */
#define SLACK 1      /* px, of rounding */

static double scale;

static double
get_letters (GtkWidget *widget)
{
  PangoContext *context = gtk_widget_get_pango_context (widget);

  return (double) pango_font_description_get_size (pango_context_get_font_description (context))
         / PANGO_SCALE;
}

static void
set_scale (Places *self, double to)
{
  scale = to;
  g_object_set (gtk_settings_get_default (), "gtk-xft-dpi", (int) (USUAL_DPI * to), NULL);
  places_settle (self);
}

/* --- what is cut ---------------------------------------------------------------------- */

static gboolean
scrolls (GtkWidget *widget, GtkOrientation orientation)
{
  GtkPolicyType across, down;

  if (!GTK_IS_SCROLLED_WINDOW (widget))
    return FALSE;
  gtk_scrolled_window_get_policy (GTK_SCROLLED_WINDOW (widget), &across, &down);
  return (orientation == GTK_ORIENTATION_HORIZONTAL ? across : down) != GTK_POLICY_NEVER;
}

/* What it stands out of, and can't be scrolled to; NULL: nothing. */
static GtkWidget *
find_cutting (GtkWidget *label, GtkOrientation orientation)
{
  gboolean across = orientation == GTK_ORIENTATION_HORIZONTAL;

  for (GtkWidget *up = gtk_widget_get_parent (label); up; up = gtk_widget_get_parent (up))
    {
      graphene_rect_t box;
      int size = across ? gtk_widget_get_width (up) : gtk_widget_get_height (up);

      if (scrolls (up, orientation))
        return NULL;
      if ((gtk_widget_get_overflow (up) == GTK_OVERFLOW_VISIBLE && !GTK_IS_WINDOW (up)
           && !GTK_IS_SCROLLED_WINDOW (up))
          || GTK_IS_SCROLLABLE (up) || GTK_IS_COLUMN_VIEW (gtk_widget_get_parent (up))
          || !gtk_widget_compute_bounds (label, up, &box))
        continue;
      double from = across ? box.origin.x : box.origin.y;
      double to = from + (across ? box.size.width : box.size.height);
      if (from < -SLACK || to > size + SLACK)
        return up;
    }
  return NULL;
}

static gboolean
tells_whole (GtkWidget *label)
{
  for (GtkWidget *up = label; up; up = gtk_widget_get_parent (up))
    if (gtk_widget_get_has_tooltip (up))
      return TRUE;
  return FALSE;
}

static void
check_label (Places *self, GtkWidget *widget, gpointer place)
{
  if (!GTK_IS_LABEL (widget) || !*gtk_label_get_text (GTK_LABEL (widget)))
    return;
  for (GtkOrientation o = GTK_ORIENTATION_HORIZONTAL; o <= GTK_ORIENTATION_VERTICAL; o++)
    {
      GtkWidget *cutting = find_cutting (widget, o);

      if (cutting)
        places_fault (self, "%s at %g: “%s” is cut by %s", (const char *) place, scale,
                      gtk_label_get_text (GTK_LABEL (widget)), G_OBJECT_TYPE_NAME (cutting));
    }
  if (pango_layout_is_ellipsized (gtk_label_get_layout (GTK_LABEL (widget)))
      && !tells_whole (widget))
    places_fault (self, "%s at %g: the end of “%s” is nowhere told", (const char *) place, scale,
                  gtk_label_get_text (GTK_LABEL (widget)));
  if (get_letters (widget) < SMALLEST * get_letters (GTK_WIDGET (self->window)))
    places_fault (self, "%s at %g: “%s” is small, %.1f px", (const char *) place, scale,
                  gtk_label_get_text (GTK_LABEL (widget)), get_letters (widget));
}

/* --- every place ------------------------------------------------------------------------ */

static void
check_place (Places *self, const char *place, GtkWindow *window)
{
  gboolean own = GTK_WIDGET (window) == GTK_WIDGET (self->window);
  int width = gtk_widget_get_width (GTK_WIDGET (window));
  int height = gtk_widget_get_height (GTK_WIDGET (window));

  places_each (self, GTK_WIDGET (window), check_label, (gpointer) place);
  if (width > WIDTH || height > HEIGHT)
    places_fault (self, "%s at %g: %d x %d", place, scale, width, height);
  if (own && g_test_verbose ())
    g_test_message ("%s at %g: %d x %d", place, scale, width, height);
}

static void
test_pages (void)
{
  Places *self = places_new (WIDTH);
  double usual = get_letters (GTK_WIDGET (self->window));

  set_scale (self, 1.5);
  places_walk_pages (self, check_place);
  set_scale (self, 2);
  g_assert_cmpfloat_with_epsilon (get_letters (GTK_WIDGET (self->window)), 2 * usual, 0.1);
  places_walk_pages (self, check_place);
  places_walk_records (self, check_place);
  places_walk_forms (self, check_place);
  places_walk_dialogs (self, check_place);
  places_walk_import (self, check_place);
  places_walk_start (self, check_place);
  set_scale (self, 1);
  places_end (self);
}

static double
get_end (GtkWidget *widget, GtkWidget *inside)
{
  graphene_rect_t box;

  g_assert_true (gtk_widget_compute_bounds (widget, inside, &box));
  return box.origin.x + box.size.width;
}

/* Where one reads from right to left, the list and the first of the figures stand at the right. */
static void
test_mirrored (void)
{
  gtk_widget_set_default_direction (GTK_TEXT_DIR_RTL);
  Places *self = places_new (WIDTH);

  bed_window_show_page (self->window, "money");
  bed_page_show_part (bed_window_get_page (self->window), 1);
  places_settle (self);
  GtkWidget *page = GTK_WIDGET (bed_window_get_page (self->window));
  GtkWidget *list = app_find_of_type (page, BED_TYPE_TABLE);
  GtkWidget *split = gtk_widget_get_ancestor (list, BED_TYPE_SPLIT);
  g_assert_cmpfloat_with_epsilon (get_end (list, split), gtk_widget_get_width (split), 1);
  g_assert_cmpfloat (get_end (app_find_label (page, "Whole cost"), page), >,
                     get_end (app_find_label (page, "Hours of work"), page));
  gtk_widget_set_default_direction (GTK_TEXT_DIR_LTR);
  places_end (self);
}

int
main (int argc, char **argv)
{
  gtk_test_init (&argc, &argv, NULL);
  adw_init ();
  g_test_add_func ("/app/large/places", test_pages);
  g_test_add_func ("/app/large/mirrored", test_mirrored);
  return g_test_run ();
}
