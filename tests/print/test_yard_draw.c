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
  BedYardColour colour = bed_mark_look (0, sheet->style.palette).colour;

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

/* --- looks ----------------------------------------------------------------------------------- */

/* As a copier sees it: ITU-R BT.601. */
static double
grey_of (const BedYardColour *colour)
{
  return 0.299 * colour->red + 0.587 * colour->green + 0.114 * colour->blue;
}

/* Whether two looks are told apart without colour: by their hatch, or by how dark they are. */
static gboolean
are_apart (const BedLogLook *a, const BedLogLook *b)
{
  return a->hatch != b->hatch || fabs (grey_of (&a->colour) - grey_of (&b->colour)) > 0.06;
}

/* More batches than ever lie together; no two alike in grey, nor in colour. */
static void
test_marks (Sheet *sheet, gconstpointer data)
{
  BedLogLook looks[400];

  for (int i = 0; i < 400; i++) /* the first: no batch */
    looks[i] = bed_mark_look (i - 1, sheet->style.palette);
  for (int i = 0; i < 400; i++)
    for (int j = 0; j < i; j++)
      if (!are_apart (&looks[i], &looks[j]))
        g_error ("marks %d and %d look alike", i, j);
}

static void
test_stages (Sheet *sheet, gconstpointer data)
{
  for (BedStage one = 0; one < BED_N_STAGES; one++)
    for (BedStage other = 0; other < one; other++)
      {
        BedLogLook a = bed_stage_look (one, sheet->style.palette);
        BedLogLook b = bed_stage_look (other, sheet->style.palette);
        g_assert_true (are_apart (&a, &b));
        g_assert_cmpuint (a.hatch, !=, b.hatch);
      }
}

static void
test_steps (Sheet *sheet, gconstpointer data)
{
  for (guint i = 1; i < 6; i++)
    {
      BedLogLook a = bed_step_look (i - 1, 6), b = bed_step_look (i, 6);
      g_assert_cmpfloat (grey_of (&a.colour), >, grey_of (&b.colour) + 0.04);
      g_assert_cmpuint (a.hatch, !=, b.hatch);
    }
}

static double
get_grey (Sheet *sheet, double x, double y)
{
  guint32 pixel = get_pixel (sheet, x, y);
  BedYardColour colour
      = { (pixel >> 16) / 255.0, (pixel >> 8 & 0xff) / 255.0, (pixel & 0xff) / 255.0 };

  return grey_of (&colour);
}

/* The mean difference in grey of what is drawn now and @before, which it replaces. */
static double
compare_grey (Sheet *sheet, double before[SIZE][SIZE], guint size)
{
  double sum = 0;

  for (guint y = 0; y < size; y++)
    for (guint x = 0; x < size; x++)
      {
        guint32 pixel = get_pixel (sheet, x, y);
        BedYardColour colour
            = { (pixel >> 16) / 255.0, (pixel >> 8 & 0xff) / 255.0, (pixel & 0xff) / 255.0 };
        double grey = grey_of (&colour);
        sum += fabs (grey - before[y][x]);
        before[y][x] = grey;
      }
  return sum / (size * size);
}

/* Drawn, too: from the size of a pea on, each of the hatches of one colour differs from the last;
 * also in a box of a hundred thousand lines, of which only a part is seen. */
static void
test_hatches (Sheet *sheet, gconstpointer data)
{
  static double before[SIZE][SIZE];
  const BedHatch boxes[] = { { 0, 0, 12, 12, 2.5, 0.42 },
                             { 0, 0, SIZE, SIZE, 5, 0.42 },
                             { -3e5, -3e5, 1e6, 1e6, 3, 0.42 },
                             { -1e9, -1e9, 3e9, 3e9, 3, 0.42 } };

  for (guint i = 0; i < G_N_ELEMENTS (boxes); i++)
    for (guint hatch = 0; hatch < 64; hatch++)
      {
        BedLogLook look = { { 0.9, 0.6, 0 }, hatch };
        bed_colour_set (sheet->cr, &look.colour, 1);
        cairo_paint (sheet->cr);
        bed_look_hatch (sheet->cr, &look, &boxes[i]);
        double differs = compare_grey (sheet, before, (guint) MIN (boxes[i].width, SIZE));
        g_assert_cmpfloat (differs, >, 0.015);
      }
}

/* Logs too small for a code keep their hatch, also where the code would stand. */
static void
test_small (Sheet *sheet, gconstpointer data)
{
  for (double radius = 2; radius < 11; radius++)
    {
      BedYardLog log = { .code = (char *) "26A-017-K", .mark = 5, .colonised = -1 };
      BedLogLook look = bed_mark_look (5, sheet->style.palette);
      guint other = 0;
      cairo_set_source_rgb (sheet->cr, 0.5, 0.5, 0.5);
      cairo_paint (sheet->cr);
      bed_log_end_draw (sheet->cr, &log, (BedPoint){ 100, 100 }, radius, &sheet->style);
      for (double x = -radius / 2; x < radius / 2; x++)
        for (double y = -radius / 4; y < radius / 4; y++)
          other += fabs (get_grey (sheet, 100 + x, 100 + y) - grey_of (&look.colour)) > 0.08;
      g_assert_cmpuint (other, >, 0);
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
  g_autoptr (BedYardNames) names = bed_yard_names_new (scene, &sheet->style);
  bed_plan_draw (sheet->cr, &plan, names);
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
  g_autoptr (BedYardNames) names = bed_yard_names_new (scene, &sheet->style);
  cairo_matrix_t matrix;

  bed_plan_draw (sheet->cr, &plan, names);
  bed_plan_draw_north (sheet->cr, &plan);
  bed_plan_draw_scale_bar (sheet->cr, &plan);
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
  ADD ("marks/paper", BED_PALETTE_PAPER, test_marks);
  ADD ("stages", BED_PALETTE_PAPER, test_stages);
  ADD ("stages/dark", BED_PALETTE_DARK, test_stages);
  ADD ("steps", BED_PALETTE_LIGHT, test_steps);
  ADD ("hatches", BED_PALETTE_LIGHT, test_hatches);
  ADD ("small", BED_PALETTE_PAPER, test_small);
  ADD ("plan", BED_PALETTE_LIGHT, test_plan);
  ADD ("no-leak", BED_PALETTE_DARK, test_no_leak);
  return g_test_run ();
}
