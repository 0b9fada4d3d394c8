/* Large letters: at one and a half and twice the usual size everything that is read is larger, and
 * nothing of it is cut off in a window of 1280 x 800. */
#include "places.h"

#include "app/widgets/split.h"
#include "app/widgets/table.h"
#include "app/yard/yard_page.h"

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

/* --- while it is seen ------------------------------------------------------------------- */

/* Without what has the keyboard, which is another matter, and when advice is found. */
static GdkTexture *
take (Places *self, GtkWindow *window)
{
  gtk_window_set_focus (window, NULL);
  if (BED_IS_YARD_PAGE (bed_window_get_page (self->window)))
    app_settle (500);
  places_settle (self);
  return places_take (GTK_WIDGET (window));
}

/* Of each place by its name, a GdkTexture: as it is when it grew under the eyes. */
static GHashTable *seen;

static void
grow (Places *self, const char *place, GtkWindow *window)
{
  set_scale (self, 1.5);
  GdkTexture *texture = take (self, window);
  places_keep_picture (texture, "grown", place);
  g_hash_table_insert (seen, g_strdup (place), texture);
  set_scale (self, 1);
}

static guint32 *
download (GdkTexture *texture)
{
  int width = gdk_texture_get_width (texture);
  guint32 *pixels = g_new (guint32, width * gdk_texture_get_height (texture));

  gdk_texture_download (texture, (guchar *) pixels, (gsize) width * 4);
  return pixels;
}

static void
compare (Places *self, const char *place, GtkWindow *window)
{
  g_autoptr (GdkTexture) opened = take (self, window);
  GdkTexture *grown = g_hash_table_lookup (seen, place);
  int width = gdk_texture_get_width (opened), height = gdk_texture_get_height (opened), n = 0;
  g_autofree guint32 *a = download (grown), *b = download (opened);

  places_keep_picture (opened, "opened", place);
  g_assert_cmpint (gdk_texture_get_width (grown), ==, width);
  g_assert_cmpint (gdk_texture_get_height (grown), ==, height);
  int top = height, left = width, bottom = 0, right = 0;
  for (int i = 0; i < width * height; i++)
    if (a[i] != b[i])
      {
        n++;
        top = MIN (top, i / width);
        bottom = MAX (bottom, i / width);
        left = MIN (left, i % width);
        right = MAX (right, i % width);
      }
  if (n > 0)
    places_fault (self, "%s: %d pixels differ in %d,%d to %d,%d", place, n, left, top, right,
                  bottom);
}

/* Those with drawings, and what is measured out by hand. */
static void
walk_drawings (Places *self, PlaceSeen seen_at)
{
  static const struct
  {
    const char *page;
    guint part;
  } drawn[] = { { "week", 0 },    { "batches", 0 }, { "batches", 2 },
                { "batches", 3 }, { "yard", 0 },    { "soaking", 0 },
                { "picking", 0 }, { "money", 0 },   { "season", 0 } };

  for (guint i = 0; i < G_N_ELEMENTS (drawn); i++)
    {
      g_autofree char *name = g_strdup_printf ("%s %u", drawn[i].page, drawn[i].part);

      g_assert_true (bed_window_show_page (self->window, drawn[i].page));
      bed_page_show_part (bed_window_get_page (self->window), drawn[i].part);
      places_settle (self);
      seen_at (self, name, GTK_WINDOW (self->window));
    }
}

/* A page that is seen while the letters grow looks as one that is opened with large ones. */
static void
test_growing (void)
{
  g_object_set (gtk_settings_get_default (), "gtk-enable-animations", FALSE, "gtk-cursor-blink",
                FALSE, NULL);
  Places *self = places_new (WIDTH);

  seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_object_unref);
  walk_drawings (self, grow);
  places_end (self);

  g_object_set (gtk_settings_get_default (), "gtk-xft-dpi", (int) (USUAL_DPI * 1.5), NULL);
  self = places_new (WIDTH);
  walk_drawings (self, compare);
  set_scale (self, 1);
  places_end (self);
  g_clear_pointer (&seen, g_hash_table_unref);
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
  g_test_add_func ("/app/large/growing", test_growing);
  g_test_add_func ("/app/large/mirrored", test_mirrored);
  return g_test_run ();
}
