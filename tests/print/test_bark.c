#include "print/drill/bark.h"

#include <math.h>

#define WIDTH 400
#define HEIGHT 200
#define SCALE 0.4 /* units a mm */

/* Only the distance is blue. */
static const BedBarkColours colours = {
  .bark = { 1, 1, 1, 1 },
  .edge = { 0, 0, 0, 1 },
  .row = { 1, 1, 1, 1 },
  .hole = { 0, 0, 0, 1 },
  .cross = { 1, 0, 0, 1 },
  .text = { 0, 0, 1, 1 },
};

/* The blueness of the whole picture, in pixels. */
static double
measure_ink (const BedBark *bark)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, WIDTH, HEIGHT);
  cairo_t *cr = cairo_create (surface);
  double ink = 0;

  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_paint (cr);
  bed_bark_draw_at (bark, cr, SCALE);
  cairo_surface_flush (surface);
  for (int y = 0; y < HEIGHT; y++)
    {
      const guint32 *row = (const guint32 *) (cairo_image_surface_get_data (surface)
                                              + y * cairo_image_surface_get_stride (surface));

      for (int x = 0; x < WIDTH; x++)
        ink += ((int) (row[x] & 0xff) - (int) (row[x] >> 16 & 0xff) > 0)
               * ((row[x] & 0xff) - (row[x] >> 16 & 0xff)) / 255.0;
    }
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
  return ink;
}

/* Wherever the farthest point lies, all of its distance is drawn. */
static void
test_distance_whole (void)
{
  BedDrill drill = { 120, 120, 900, 150, 75, 50, 12, 25, BED_CLOSING_NEAREST };
  g_autoptr (GError) error = NULL;
  g_autoptr (BedDrillPlan) plan = bed_drill_plan_new (&drill, &error);
  g_autoptr (BedTypesetter) type = bed_typesetter_new ();
  BedBark bark = { plan, 12, &colours, type, "79 mm", 13 };
  double whole;

  g_assert_no_error (error);
  plan->farthest.y = plan->pitch / 2;
  plan->farthest.x = 200;
  whole = measure_ink (&bark);
  g_assert_cmpfloat (whole, >, 50);
  for (double x = 0; x <= plan->length; x += 2.5)
    {
      plan->farthest.x = x;
      g_assert_cmpfloat (fabs (measure_ink (&bark) / whole - 1), <, 0.05);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/bark/distance-whole", test_distance_whole);
  return g_test_run ();
}
