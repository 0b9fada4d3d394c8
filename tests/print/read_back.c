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

/* What zbar reads in the picture, or NULL. A camera comes nearer when it does not
 * read a blurred code at once: the picture is enlarged, which adds nothing to it. */
static char *
read_code (const char *path, ReadHow how)
{
  static const char *const nearer[] = { "250%", "160%", NULL };

  for (guint attempt = 0;; attempt++)
    {
      g_autofree char *output = NULL;

      run ((const char *[]){ "zbarimg", "-q", "--raw", "-Sdisable", "-Sqrcode.enable", path, NULL },
           &output);
      if (*output)
        return g_strdup (g_strchomp (output));
      if (how == READ_CLEAN || !nearer[attempt])
        return NULL;
      run ((const char *[]){ "mogrify", "-resize", nearer[attempt], path, NULL }, NULL);
    }
}

/* All at once: starting the program takes longer than its work. */
static void
blur (GPtrArray *paths)
{
  g_autoptr (GPtrArray) argv = g_ptr_array_new ();

  g_ptr_array_add (argv, (gpointer) "mogrify");
  g_ptr_array_add (argv, (gpointer) "-blur");
  g_ptr_array_add (argv, (gpointer) "0x1");
  for (guint i = 0; i < paths->len; i++)
    g_ptr_array_add (argv, paths->pdata[i]);
  g_ptr_array_add (argv, NULL);
  run ((const char *const *) argv->pdata, NULL);
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
read_back_codes (cairo_surface_t *page, double dpi, GArray *boxes, ReadHow how)
{
  g_autofree char *folder = g_dir_make_tmp ("bedlog-codes-XXXXXX", NULL);
  g_autoptr (GPtrArray) paths = g_ptr_array_new_with_free_func (g_free);
  GPtrArray *codes = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < boxes->len; i++)
    {
      g_autofree char *name = g_strdup_printf ("%03u.png", i);
      char *path = g_build_filename (folder, name, NULL);

      cut (page, &g_array_index (boxes, BedBox, i), dpi / 72,
           how == READ_HANDLED ? 3 * G_PI / 180 : 0, path);
      g_ptr_array_add (paths, path);
    }
  if (how == READ_HANDLED)
    blur (paths);
  for (guint i = 0; i < paths->len; i++)
    {
      char *code = read_code (paths->pdata[i], how);

      if (code)
        g_ptr_array_add (codes, code);
      g_unlink (paths->pdata[i]);
    }
  g_rmdir (folder);
  g_ptr_array_sort (codes, compare_cb);
  return codes;
}
