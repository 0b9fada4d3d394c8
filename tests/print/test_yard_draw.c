/* What is drawn, read back from pixels. */
#include "../yard/yard_sample.h"
#include "print/yard/yard_names.h"

#include <math.h>

#define SIZE 200
#define RADIUS 90.0

typedef struct
{
  BedTypesetter *type;
  cairo_surface_t *picture;
  cairo_t *cr;
  BedYardStyle style;
} Sheet;

static void
set_up (Sheet *sheet, gconstpointer palette)
{
  sheet->type = bed_typesetter_new ();
  sheet->picture = cairo_image_surface_create (CAIRO_FORMAT_RGB24, SIZE, SIZE);
  sheet->cr = cairo_create (sheet->picture);
  sheet->style = (BedYardStyle){ bed_palette_get (GPOINTER_TO_INT (palette)), sheet->type,
                                 BED_COLOUR_BY_BATCH, 11, BED_SYSTEM_METRIC };
  cairo_set_source_rgb (sheet->cr, 0.5, 0.5, 0.5);
  cairo_paint (sheet->cr);
}

static void
tear_down (Sheet *sheet, gconstpointer palette)
{
  cairo_destroy (sheet->cr);
  cairo_surface_destroy (sheet->picture);
  bed_typesetter_free (sheet->type);
}

static guint32
get_pixel (Sheet *sheet, double x, double y)
{
  const guint8 *data;

  cairo_surface_flush (sheet->picture);
  data = cairo_image_surface_get_data (sheet->picture);
  return *(const guint32 *) (gconstpointer) (data
                                             + (gsize) round (y)
                                                   * cairo_image_surface_get_stride (sheet->picture)
                                             + (gsize) round (x) * 4)
         & 0xffffff;
}

static guint32
pack (const BedYardColour *colour)
{
  return (guint32) round (colour->red * 255) << 16 | (guint32) round (colour->green * 255) << 8
         | (guint32) round (colour->blue * 255);
}

static void
draw_end (Sheet *sheet, const BedYardLog *log)
{
  cairo_save (sheet->cr);
  cairo_translate (sheet->cr, SIZE / 2.0, SIZE / 2.0);
  bed_log_end_draw (sheet->cr, log, (BedPoint){ 0, 0 }, RADIUS, &sheet->style);
  cairo_restore (sheet->cr);
}

/* From the outside in: ground, bark, the ring of sapwood, the batch's colour. */
static void
test_rings (Sheet *sheet, gconstpointer data)
{
  BedYardLog log = { .mark = 0, .colonised = -1 };
  BedYardColour colour = bed_mark_colour (0, sheet->style.palette);

  draw_end (sheet, &log);
  g_assert_cmphex (get_pixel (sheet, 100 + 95, 100), ==, 0x808080);
  g_assert_cmphex (get_pixel (sheet, 100 + 87, 100), ==, pack (&sheet->style.palette->bark));
  g_assert_cmphex (get_pixel (sheet, 100 + 76, 100), ==, pack (&sheet->style.palette->sapwood));
  g_assert_cmphex (get_pixel (sheet, 100 + 40, 100), ==, pack (&colour));
  g_assert_cmphex (pack (&colour), ==, 0xe69f00); /* orange: Okabe and Ito (2008) */
}

/* The white rim is as long a part of the ring as the share that is colonised. */
static void
test_rim (Sheet *sheet, gconstpointer data)
{
  guint32 rim = pack (&sheet->style.palette->rim);

  for (int percent = 0; percent <= 100; percent += 5)
    {
      BedYardLog log = { .mark = 0, .colonised = percent / 100.0 };
      int white = 0;
      draw_end (sheet, &log);
      for (int i = 0; i < 360; i++)
        white += get_pixel (sheet, 100 + 76.5 * sin (i * G_PI / 180),
                            100 - 76.5 * cos (i * G_PI / 180))
                 == rim;
      g_assert_cmpint (ABS (white - percent * 360 / 100), <=, 4);
    }
}

static void
test_notch (Sheet *sheet, gconstpointer data)
{
  BedYardLog log = { .mark = 0, .colonised = 1, .retired = TRUE };
  double out = 80 * sin (G_PI / 4);

  draw_end (sheet, &log);
  g_assert_cmphex (get_pixel (sheet, 100 + out, 100 - out), ==,
                   pack (&sheet->style.palette->ground));
  g_assert_cmphex (get_pixel (sheet, 100 - out, 100 - out), !=,
                   pack (&sheet->style.palette->ground));
}

/* Of 49 marks no two have both colour and hatch alike. */
static void
test_marks (Sheet *sheet, gconstpointer data)
{
  g_autoptr (GHashTable) seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);

  for (int mark = 0; mark < 49; mark++)
    {
      BedHatch box = { 0, 0, SIZE, SIZE, 8, 0.42 };
      BedYardColour colour = bed_mark_colour (mark, sheet->style.palette);
      g_autofree char *sum = NULL;
      bed_colour_set (sheet->cr, &colour, 1);
      cairo_paint (sheet->cr);
      bed_mark_hatch (sheet->cr, mark, &box);
      cairo_surface_flush (sheet->picture);
      sum = g_compute_checksum_for_data (
          G_CHECKSUM_SHA256, cairo_image_surface_get_data (sheet->picture),
          SIZE * (gsize) cairo_image_surface_get_stride (sheet->picture));
      g_assert_true (g_hash_table_add (seen, g_steal_pointer (&sum)));
    }
}

/* Each log of a crib's top tier is drawn where the scene has it, in its batch's hue. */
static void
test_plan (Sheet *sheet, gconstpointer data)
{
  const SampleStack sample = { BED_STACK_CRIB, 2, 2, 30, 4, 4, 9 };
  g_autoptr (BedYard) yard = bed_yard_new (4, 4);
  BedYardStack *stack = sample_stack_new (&sample);
  BedPlan plan = { .style = &sheet->style,
                   .view = { .scale = 48, .middle = { 2, 2 }, .width = SIZE, .height = SIZE } };
  guint found = 0;

  stack->tiers = 1;
  for (guint i = 0; i < stack->logs->len; i++)
    ((BedYardLog *) stack->logs->pdata[i])->retired = FALSE;
  g_ptr_array_add (yard->stacks, stack);
  g_autoptr (BedScene) scene = bed_scene_new (yard);
  plan.scene = scene;
  bed_plan_draw (sheet->cr, &plan);
  for (guint i = 0; i < scene->shapes->len; i++)
    {
      const BedShape *shape = &g_array_index (scene->shapes, BedShape, i);
      BedPoint middle;
      guint32 pixel;
      if (shape->role != BED_SHAPE_LOG)
        continue;
      middle.x = (shape->points[0].x + shape->points[1].x) / 2;
      middle.y = (shape->points[0].y + shape->points[1].y) / 2;
      middle = bed_viewport_to_screen (&plan.view, middle);
      pixel = get_pixel (sheet, middle.x, middle.y);
      g_assert_cmpuint (pixel & 0xff, >, pixel >> 16); /* mark 4 is blue: more blue than red */
      found++;
    }
  g_assert_cmpuint (found, ==, 4);
}

/* Drawing leaves the context as it found it: nothing of one shape leaks into the next. */
static void
test_no_leak (Sheet *sheet, gconstpointer data)
{
  g_autoptr (BedYard) yard = sample_yard_new ();
  g_autoptr (BedScene) scene = bed_scene_new (yard);
  BedPlan plan = { scene,
                   &sheet->style,
                   { .scale = 10, .middle = { 10, 7 }, .width = SIZE, .height = SIZE } };
  cairo_matrix_t matrix;

  bed_plan_draw (sheet->cr, &plan);
  g_assert_false (cairo_has_current_point (sheet->cr));
  cairo_get_matrix (sheet->cr, &matrix);
  g_assert_cmpfloat_with_epsilon (matrix.xx, 1, 1e-12);
  g_assert_cmpint (cairo_get_dash_count (sheet->cr), ==, 0);
  g_assert_cmpint (cairo_status (sheet->cr), ==, CAIRO_STATUS_SUCCESS);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
#define ADD(name, palette, test)                                                                   \
  g_test_add ("/yard/draw/" name, Sheet, GINT_TO_POINTER (palette), set_up, test, tear_down)
  ADD ("rings/light", BED_PALETTE_LIGHT, test_rings);
  ADD ("rings/dark", BED_PALETTE_DARK, test_rings);
  ADD ("rings/paper", BED_PALETTE_PAPER, test_rings);
  ADD ("rim", BED_PALETTE_LIGHT, test_rim);
  ADD ("notch", BED_PALETTE_LIGHT, test_notch);
  ADD ("marks", BED_PALETTE_LIGHT, test_marks);
  ADD ("plan", BED_PALETTE_LIGHT, test_plan);
  ADD ("no-leak", BED_PALETTE_DARK, test_no_leak);
  return g_test_run ();
}
