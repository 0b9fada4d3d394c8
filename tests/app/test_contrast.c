/* What is written stands out from its ground by 4.5 to 1 or more (W3C, Web Content Accessibility
 * Guidelines 2.1, 2018, 1.4.3), measured from pictures of every place: light and dark, and again in
 * high contrast where ADW_DEBUG_HIGH_CONTRAST asks for it. */
#include "places.h"

#include <math.h>
#include <string.h>

#include "app/widgets/plot.h"
#include "print/yard/yard_palette.h"

#define LEAST 4.5
#define LEAST_SHARE 0.004 /* of the box, of what is a letter and not the rim of one */
#define LEAST_PIXELS 3
#define LEAST_BOX 9 /* px */

/* --- colours ---------------------------------------------------------------------------- */

/* Of one channel, 0 to 1: the guidelines' "relative luminance". */
static double
linear (double channel)
{
  return channel <= 0.03928 ? channel / 12.92 : pow ((channel + 0.055) / 1.055, 2.4);
}

static double
luminance (double red, double green, double blue)
{
  return 0.2126 * linear (red) + 0.7152 * linear (green) + 0.0722 * linear (blue);
}

static double
ratio (double a, double b)
{
  return (MAX (a, b) + 0.05) / (MIN (a, b) + 0.05);
}

static double
luminance_of_pixel (guint32 pixel)
{
  return luminance ((pixel >> 16 & 255) / 255.0, (pixel >> 8 & 255) / 255.0, (pixel & 255) / 255.0);
}

/* --- pictures --------------------------------------------------------------------------- */

typedef struct
{
  int width, height;
  guint32 *pixels;
  const char *place, *style;
} Picture;

static void
take (Picture *picture, GtkWidget *window)
{
  g_autoptr (GdkTexture) texture = places_take (window);

  picture->width = gdk_texture_get_width (texture);
  picture->height = gdk_texture_get_height (texture);
  picture->pixels = g_new (guint32, picture->width * picture->height);
  gdk_texture_download (texture, (guchar *) picture->pixels, (gsize) picture->width * 4);
  places_keep_picture (texture, picture->style, picture->place);
}

/* What of the widget is seen: within all that it scrolls in. */
static graphene_rect_t
find_seen (GtkWidget *widget, GtkWidget *window)
{
  graphene_rect_t seen
      = GRAPHENE_RECT_INIT (0, 0, gtk_widget_get_width (window), gtk_widget_get_height (window));

  for (GtkWidget *up = widget; up; up = gtk_widget_get_parent (up))
    {
      graphene_rect_t box;

      if ((up == widget || gtk_widget_get_overflow (up) == GTK_OVERFLOW_HIDDEN)
          && gtk_widget_compute_bounds (up, window, &box)
          && !graphene_rect_intersection (&seen, &box, &seen))
        return GRAPHENE_RECT_INIT (0, 0, 0, 0);
    }
  return seen;
}

static GHashTable *
count_colours (const Picture *picture, const graphene_rect_t *box)
{
  GHashTable *counts = g_hash_table_new (NULL, NULL);
  int right = MIN ((int) (box->origin.x + box->size.width), picture->width);
  int bottom = MIN ((int) (box->origin.y + box->size.height), picture->height);

  for (int y = MAX ((int) box->origin.y, 0); y < bottom; y++)
    for (int x = MAX ((int) box->origin.x, 0); x < right; x++)
      {
        gpointer colour = GUINT_TO_POINTER (picture->pixels[y * picture->width + x] & 0xffffff);

        g_hash_table_insert (
            counts, colour,
            GUINT_TO_POINTER (GPOINTER_TO_UINT (g_hash_table_lookup (counts, colour)) + 1));
      }
  return counts;
}

/* How many pixels stand out from @ground by @least to 1. */
static guint
count_beyond (GHashTable *counts, guint ground, double least)
{
  GHashTableIter iter;
  gpointer colour, count;
  guint n = 0;

  g_hash_table_iter_init (&iter, counts);
  while (g_hash_table_iter_next (&iter, &colour, &count))
    if (ratio (luminance_of_pixel (GPOINTER_TO_UINT (colour)), luminance_of_pixel (ground))
        >= least)
      n += GPOINTER_TO_UINT (count);
  return n;
}

/* The most frequent colour is the ground; the letters are what stands out most from it. How much,
 * but no more than is asked for. */
static double
measure (const Picture *picture, const graphene_rect_t *box)
{
  g_autoptr (GHashTable) counts = count_colours (picture, box);
  double least = MAX (LEAST_PIXELS, LEAST_SHARE * box->size.width * box->size.height);
  GHashTableIter iter;
  gpointer colour, count;
  guint ground = 0, ground_count = 0;
  double found = 1;

  g_hash_table_iter_init (&iter, counts);
  while (g_hash_table_iter_next (&iter, &colour, &count))
    if (GPOINTER_TO_UINT (count) > ground_count)
      {
        ground = GPOINTER_TO_UINT (colour);
        ground_count = GPOINTER_TO_UINT (count);
      }
  /* Thin letters have few pixels of their own colour alone. */
  for (double at = LEAST; found == 1 && at > 1; at -= 0.1)
    if (count_beyond (counts, ground, at) >= least)
      found = at;
  return found;
}

/* --- labels ----------------------------------------------------------------------------- */

/* Where the letters themselves are: a label may be much wider. */
static graphene_rect_t
find_letters (GtkWidget *label, GtkWidget *window)
{
  graphene_rect_t seen = find_seen (label, window), letters;
  graphene_point_t at;
  PangoRectangle ink;
  int x, y;

  pango_layout_get_pixel_extents (gtk_label_get_layout (GTK_LABEL (label)), &ink, NULL);
  gtk_label_get_layout_offsets (GTK_LABEL (label), &x, &y);
  if (!gtk_widget_compute_point (label, window, &GRAPHENE_POINT_INIT (x + ink.x, y + ink.y), &at))
    return GRAPHENE_RECT_INIT (0, 0, 0, 0);
  letters = GRAPHENE_RECT_INIT (at.x, at.y, ink.width, ink.height);
  if (!graphene_rect_intersection (&letters, &seen, &letters)
      || letters.size.height < ink.height - 1)
    return GRAPHENE_RECT_INIT (0, 0, 0, 0);
  return GRAPHENE_RECT_INIT (letters.origin.x - 1, letters.origin.y - 1, letters.size.width + 2,
                             letters.size.height + 2);
}

static void
check_label (Places *self, GtkWidget *widget, gpointer data)
{
  const Picture *picture = data;

  if (!GTK_IS_LABEL (widget) || !*gtk_label_get_text (GTK_LABEL (widget))
      || !gtk_widget_is_sensitive (widget))
    return;
  GtkWidget *window = GTK_WIDGET (gtk_widget_get_root (widget));
  graphene_rect_t box = find_letters (widget, window);
  if (box.size.width < LEAST_BOX || box.size.height < LEAST_BOX)
    return; /* scrolled out of sight, or a dot: all of it is rim */
  double found = measure (picture, &box);
  g_autofree char *name = places_dup_name (widget);
  if (found < LEAST - 1e-6)
    places_fault (self, "%s, %s: %.2f to 1, %s", picture->place, picture->style, found, name);
}

static const char *style;

static void
check_place (Places *self, const char *place, GtkWindow *window)
{
  Picture picture = { .place = place, .style = style };

  /* As it is while one works in it. */
  gtk_widget_unset_state_flags (GTK_WIDGET (window), GTK_STATE_FLAG_BACKDROP);
  gtk_window_set_focus (window, NULL);
  places_settle (self);
  take (&picture, GTK_WIDGET (window));
  places_each (self, GTK_WIDGET (window), check_label, &picture);
  g_free (picture.pixels);
}

static void
set_style (Places *self, const char *name, AdwColorScheme scheme)
{
  style = name;
  adw_style_manager_set_color_scheme (adw_style_manager_get_default (), scheme);
  places_settle (self);
}

static void
test_places (void)
{
  Places *self = places_new (1280);

  set_style (self, "light", ADW_COLOR_SCHEME_FORCE_LIGHT);
  places_walk_pages (self, check_place);
  places_walk_forms (self, check_place);
  places_walk_dialogs (self, check_place);
  places_walk_import (self, check_place);
  set_style (self, "dark", ADW_COLOR_SCHEME_FORCE_DARK);
  places_walk_pages (self, check_place);
  places_walk_start (self, check_place);
  places_end (self);
}

/* --- drawings --------------------------------------------------------------------------- */

static double
luminance_over (const GdkRGBA *colour, const GdkRGBA *under)
{
  double a = colour->alpha;

  return luminance (colour->red * a + under->red * (1 - a),
                    colour->green * a + under->green * (1 - a),
                    colour->blue * a + under->blue * (1 - a));
}

static void
check_pair (const char *what, const GdkRGBA *letters, const GdkRGBA *ground, const GdkRGBA *under)
{
  double found = ratio (luminance_over (letters, under), luminance_over (ground, under));

  if (found < LEAST)
    {
      g_test_message ("%s: %.2f to 1", what, found);
      g_test_fail ();
    }
}

/* The charts stand on the page and on its cards, here the darkest light and the lightest dark. */
static void
check_ink (const char *page)
{
  const BedInk *ink = bed_ink_get ();
  const GdkRGBA *words[] = { &ink->ink, &ink->dim, &ink->water };
  const char *names[] = { "ink", "dim", "water" };
  GdkRGBA under;

  g_assert_true (gdk_rgba_parse (&under, page));
  for (guint i = 0; i < G_N_ELEMENTS (words); i++)
    {
      check_pair (names[i], words[i], &under, &under);
      if (i < 2)
        check_pair ("on a band", words[i], &ink->shade, &under);
    }
  check_pair ("on what was done", &ink->paper, &ink->bark, &under);
  check_pair ("on what is soaking", &ink->paper, &ink->water, &under);
  check_pair ("on what is planned", &ink->ink, &ink->wood, &under);
}

static void
test_ink (void)
{
  AdwStyleManager *styles = adw_style_manager_get_default ();

  adw_style_manager_set_color_scheme (styles, ADW_COLOR_SCHEME_FORCE_LIGHT);
  check_ink ("#faf8f3");
  adw_style_manager_set_color_scheme (styles, ADW_COLOR_SCHEME_FORCE_DARK);
  check_ink ("#383838");
}

/* The yard's names stand on the ground and on what lies on it. */
static void
test_yard (void)
{
  for (BedPaletteName name = BED_PALETTE_LIGHT; name <= BED_PALETTE_DARK; name++)
    {
      const BedPalette *palette = bed_palette_get (name);
      const BedYardColour *grounds[]
          = { &palette->around, &palette->ground, &palette->path, &palette->water, &palette->wall };

      for (guint i = 0; i < G_N_ELEMENTS (grounds); i++)
        {
          double under = bed_colour_luminance (grounds[i]);
          double text = ratio (bed_colour_luminance (&palette->text), under);
          double dim = ratio (bed_colour_luminance (&palette->dim), under);

          g_test_message ("style %d, ground %u: names %.2f to 1, what lies there %.2f", (int) name,
                          i, text, dim);
          g_assert_cmpfloat (text, >=, LEAST);
          g_assert_cmpfloat (dim, >=, LEAST);
        }
    }
}

int
main (int argc, char **argv)
{
  gtk_test_init (&argc, &argv, NULL);
  adw_init ();
  g_test_add_func ("/app/contrast/ink", test_ink);
  g_test_add_func ("/app/contrast/yard", test_yard);
  g_test_add_func ("/app/contrast/places", test_places);
  return g_test_run ();
}
