#include "read_back.h"

#include <glib/gstdio.h>
#include <math.h>

static void
run (const char *const *argv, char **output)
{
  g_autoptr (GError) error = NULL;
  int status = 0;

  g_spawn_sync (NULL, (char **) argv, NULL,
                G_SPAWN_SEARCH_PATH | (output ? 0 : G_SPAWN_STDOUT_TO_DEV_NULL)
                    | G_SPAWN_STDERR_TO_DEV_NULL,
                NULL, NULL, output, NULL, &status, &error);
  g_assert_no_error (error);
  /* zbarimg ends with 4 when a picture holds no code: the caller counts. */
  if (!output)
    g_assert_cmpint (status, ==, 0);
}

/* Copies the part of @page in @box to a picture of its own, turned by @angle. A
 * turned label reaches that much beyond its box. */
static void
cut (cairo_surface_t *page, const BedBox *box, double scale, double angle, const char *path)
{
  double reach = box->width * sin (angle);
  int width = (int) ceil ((box->width + reach) * scale);
  int height = (int) ceil ((box->height + reach) * scale);
  cairo_surface_t *part = cairo_image_surface_create (CAIRO_FORMAT_RGB24, width, height);
  cairo_t *cr = cairo_create (part);

  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_paint (cr);
  cairo_translate (cr, width / 2.0, height / 2.0);
  cairo_rotate (cr, angle);
  cairo_translate (cr, -round ((box->x + box->width / 2) * scale),
                   -round ((box->y + box->height / 2) * scale));
  cairo_set_source_surface (cr, page, 0, 0);
  cairo_paint (cr);
  cairo_destroy (cr);
  g_assert_cmpint (cairo_surface_write_to_png (part, path), ==, CAIRO_STATUS_SUCCESS);
  cairo_surface_destroy (part);
}

/* Runs @program with @options and each of @paths at once: starting it takes longer than its work.
 */
static void
run_on (const char *const *options, GPtrArray *paths, char **output)
{
  g_autoptr (GPtrArray) argv = g_ptr_array_new ();

  for (guint i = 0; options[i]; i++)
    g_ptr_array_add (argv, (gpointer) options[i]);
  for (guint i = 0; i < paths->len; i++)
    g_ptr_array_add (argv, paths->pdata[i]);
  g_ptr_array_add (argv, NULL);
  run ((const char *const *) argv->pdata, output);
}

/* Adds what zbar reads in the pictures to @codes, each code once. */
static void
read_pictures (GPtrArray *paths, GPtrArray *codes)
{
  const char *options[] = { "zbarimg", "-q", "--raw", "-Sdisable", "-Sqrcode.enable", NULL };
  g_autofree char *output = NULL;

  run_on (options, paths, &output);
  g_auto (GStrv) lines = g_strsplit (output, "\n", -1);
  for (guint i = 0; lines[i]; i++)
    if (*lines[i] && !g_ptr_array_find_with_equal_func (codes, lines[i], g_str_equal, NULL))
      g_ptr_array_add (codes, g_strdup (lines[i]));
}

/* A clean code is read at once. To one that is turned or blurred a camera comes nearer: the picture
 * is enlarged, which adds nothing to it. */
static void
read_all (GPtrArray *paths, GPtrArray *codes, ReadHow how, guint expected)
{
  static const char *const nearer[] = { "250%", "160%" };

  read_pictures (paths, codes);
  for (gsize i = 0; how != READ_CLEAN && i < G_N_ELEMENTS (nearer) && codes->len < expected; i++)
    {
      run_on ((const char *[]){ "mogrify", "-resize", nearer[i], NULL }, paths, NULL);
      read_pictures (paths, codes);
    }
}

static void
blur (GPtrArray *paths, double dpi)
{
  g_autofree char *sigma = g_strdup_printf ("0x%.3f", READ_BLUR_MM / 2 * dpi / 25.4);

  run_on ((const char *[]){ "mogrify", "-blur", sigma, NULL }, paths, NULL);
}

static int
compare_cb (gconstpointer a, gconstpointer b)
{
  return g_strcmp0 (*(char **) a, *(char **) b);
}

/* Public */

gboolean
read_back_possible (void)
{
  const char *programs[] = { "pdftoppm", "mogrify", "zbarimg" };

  for (gsize i = 0; i < G_N_ELEMENTS (programs); i++)
    {
      g_autofree char *path = g_find_program_in_path (programs[i]);
      if (path)
        continue;
      g_autofree char *why = g_strdup_printf ("%s is not installed", programs[i]);
      g_test_skip (why);
      return FALSE;
    }
  return TRUE;
}

cairo_surface_t *
read_back_render (const char *pdf, guint page, double dpi)
{
  g_autofree char *number = g_strdup_printf ("%u", page + 1);
  g_autofree char *dots = g_strdup_printf ("%g", dpi);
  g_autofree char *stem = g_strdup_printf ("%s-page", pdf);
  g_autofree char *png = g_strdup_printf ("%s.png", stem);
  const char *argv[]
      = { "pdftoppm", "-gray", "-png", "-r", dots, "-f", number, "-singlefile", pdf, stem, NULL };

  run (argv, NULL);
  cairo_surface_t *surface = cairo_image_surface_create_from_png (png);
  g_assert_cmpint (cairo_surface_status (surface), ==, CAIRO_STATUS_SUCCESS);
  g_unlink (png);
  return surface;
}

GPtrArray *
read_back_codes (cairo_surface_t *page, double dpi, GArray *boxes, ReadHow how, guint expected)
{
  g_autofree char *folder = g_dir_make_tmp ("bedlog-codes-XXXXXX", NULL);
  g_autoptr (GPtrArray) paths = g_ptr_array_new_with_free_func (g_free);
  GPtrArray *codes = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < boxes->len; i++)
    {
      g_autofree char *name = g_strdup_printf ("%03u.png", i);
      char *path = g_build_filename (folder, name, NULL);

      cut (page, &g_array_index (boxes, BedBox, i), dpi / 72,
           how == READ_TURNED ? 3 * G_PI / 180 : 0, path);
      g_ptr_array_add (paths, path);
    }
  if (how == READ_BLURRED)
    blur (paths, dpi);
  read_all (paths, codes, how, expected);
  for (guint i = 0; i < paths->len; i++)
    g_unlink (paths->pdata[i]);
  g_rmdir (folder);
  g_ptr_array_sort (codes, compare_cb);
  return codes;
}
