/* The yard on paper: sheets, the key, elevations, and where names stand. */
#include "../yard/yard_sample.h"
#include "print/yard/yard_map.h"
#include "print/yard/yard_names.h"
#include "print/yard/yard_sheets.h"

#include <math.h>
#include <string.h>

#define MM BED_POINTS_PER_MM

/* --- sheets ---------------------------------------------------------------------------------- */

static void
test_scale (void)
{
  /* 10 m at 1:50 are 200 mm. */
  const BedExtent small = { 0, 0, 10, 5 }, deep = { 0, 0, 10, 39 }, wide = { 0, 0, 250, 160 };
  const BedExtent bench = { 0, 0, 3, 2 }, county = { 0, 0, 9000, 9000 };

  g_assert_cmpuint (bed_sheets_find_scale (&small, 200 * MM, 300), ==, 50);
  g_assert_cmpuint (bed_sheets_find_scale (&small, 199 * MM, 300), ==, 100);
  g_assert_cmpuint (bed_sheets_find_scale (&deep, 199 * MM, 200 * MM), ==, 200);
  g_assert_cmpuint (bed_sheets_find_scale (&wide, 270 * MM, 160 * MM), ==, 1000);
  g_assert_cmpuint (bed_sheets_find_scale (&bench, 199 * MM, 200 * MM), ==, 20);
  g_assert_cmpuint (bed_sheets_find_scale (&county, 199 * MM, 200 * MM), ==, 50000);
}

/* Ground of a strange file, which has no size: one sheet, not none. */
static void
test_sheets_of_nothing (void)
{
  const BedExtent none = { NAN, NAN, NAN, NAN };
  BedSheets sheets;

  bed_sheets_lay (&sheets, &none, 50, 186 * MM, 240 * MM);
  g_assert_cmpuint (sheets.across, ==, 1);
  g_assert_cmpuint (sheets.down, ==, 1);
}

/* Whatever the ground and the scale: no sheet is larger than its paper, all of the ground is on
 * one, and neighbours share the strip they are joined by. */
static void
test_sheets (void)
{
  GRand *dice = g_rand_new_with_seed (7);

  for (int i = 0; i < 500; i++)
    {
      BedExtent all = { g_rand_double_range (dice, -50, 50), g_rand_double_range (dice, -50, 50),
                        g_rand_double_range (dice, 1, 300), g_rand_double_range (dice, 1, 300) };
      guint scale = (guint) g_rand_int_range (dice, 20, 2001);
      BedSheets sheets;
      bed_sheets_lay (&sheets, &all, scale, 186 * MM, 240 * MM);
      double wide = 0.186 * scale + 1e-9, high = 0.24 * scale + 1e-9, strip = 0.01 * scale;
      for (guint k = 0; k < sheets.across * sheets.down; k++)
        {
          BedExtent one = bed_sheets_get (&sheets, k);
          guint column = k % sheets.across, row = k / sheets.across;
          g_assert_true (one.width > 0 && one.width <= wide && one.height > 0
                         && one.height <= high);
          if (column == 0)
            g_assert_cmpfloat_with_epsilon (one.x, all.x, 1e-9);
          else
            {
              BedExtent left = bed_sheets_get (&sheets, k - 1);
              g_assert_cmpfloat_with_epsilon (left.x + left.width - one.x, strip, 1e-3 * scale);
            }
          if (column + 1 == sheets.across)
            g_assert_cmpfloat_with_epsilon (one.x + one.width, all.x + all.width, 1e-6);
          if (row == 0)
            g_assert_cmpfloat_with_epsilon (one.y + one.height, all.y + all.height, 1e-6);
          else
            {
              BedExtent above = bed_sheets_get (&sheets, k - sheets.across);
              g_assert_cmpfloat_with_epsilon (one.y + one.height - above.y, strip, 1e-3 * scale);
            }
          if (row + 1 == sheets.down)
            g_assert_cmpfloat_with_epsilon (one.y, all.y, 1e-6);
        }
    }
  g_rand_free (dice);
}

static void
test_sheet_names (void)
{
  BedSheets sheets = { .across = 3, .down = 30 };
  const char *names[] = { "A1", "A2", "A3", "B1" };

  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_autofree char *name = bed_sheets_dup_name (&sheets, i);
      g_assert_cmpstr (name, ==, names[i]);
    }
  g_autofree char *last = bed_sheets_dup_name (&sheets, 3 * 27);
  g_assert_cmpstr (last, ==, "AB1");
}

/* --- pages ----------------------------------------------------------------------------------- */

static BedDocument *
make_map (BedYard *yard, guint scale, BedMapElevations elevations, GError **error)
{
  BedYardMapSpec spec = { .paper = bed_paper_a4,
                          .farm = "Alder Hollow",
                          .date = "12 May 2026",
                          .scale = scale,
                          .elevations = elevations };

  return bed_yard_map_new (yard, &spec, error);
}

static guint
count_pages (BedYard *yard, guint scale, BedMapElevations elevations)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BedDocument) map = make_map (yard, scale, elevations, &error);

  g_assert_no_error (error);
  bed_document_check (map, &error);
  g_assert_no_error (error);
  return bed_document_get_n_pages (map);
}

/* 20 x 14 m on A4 lying (273 x 156 mm less the foot): one sheet at 1:100, two rows at 1:50… */
static void
test_pages (void)
{
  g_assert_cmpuint (count_pages (sample_yard_new (), 0, BED_ELEVATIONS_NONE), ==, 1);
  g_assert_cmpuint (count_pages (sample_yard_new (), 100, BED_ELEVATIONS_NONE), ==, 1);
  g_assert_cmpuint (count_pages (sample_yard_new (), 50, BED_ELEVATIONS_NONE), ==, 4);
  g_assert_cmpuint (count_pages (sample_yard_new (), 20, BED_ELEVATIONS_NONE), >, 15);
  g_assert_cmpuint (count_pages (bed_yard_new (9000, 9000), 0, BED_ELEVATIONS_NONE), ==, 1);
  /* Nine stacks, four to a page. */
  g_assert_cmpuint (count_pages (sample_yard_new (), 0, BED_ELEVATIONS_ALL), ==, 1 + 3);
}

static void
test_refused (void)
{
  const guint scales[] = { 19, 2001, 20 };

  for (guint i = 0; i < G_N_ELEMENTS (scales); i++)
    {
      g_autoptr (GError) error = NULL;
      BedDocument *map = make_map (bed_yard_new (250, 160), scales[i], BED_ELEVATIONS_NONE, &error);
      g_assert_null (map);
      g_assert_error (error, BED_PRINT_ERROR, BED_PRINT_ERROR_SHEET);
    }
}

static cairo_surface_t *
draw_page (BedDocument *map)
{
  g_autoptr (GError) error = NULL;
  cairo_surface_t *picture = bed_document_picture_new (map, 0, 50, &error);

  g_assert_no_error (error);
  cairo_surface_flush (picture);
  return picture;
}

/* A yard far larger than a sheet at 1:500 has all its stacks on paper: one in each corner, seen in
 * that quarter of the ground, between head (29 mm with the margin) and foot (21 mm). */
static void
test_large (void)
{
  g_autoptr (GError) error = NULL;
  BedYard *with = bed_yard_new (250, 160), *without = bed_yard_new (250, 160);
  guint seen[4] = { 0 };

  for (guint i = 0; i < 4; i++)
    {
      SampleStack sample
          = { BED_STACK_DEAD, i % 2 ? 246 : 4, i / 2 ? 156 : 4, 0, 40, (int) i, i + 1 };
      g_ptr_array_add (with->stacks, sample_stack_new (&sample));
    }
  g_autoptr (BedDocument) full = make_map (with, 0, BED_ELEVATIONS_NONE, &error);
  g_autoptr (BedDocument) empty = make_map (without, 0, BED_ELEVATIONS_NONE, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (bed_document_get_n_pages (full), ==, 1);
  cairo_surface_t *one = draw_page (full), *other = draw_page (empty);
  int width = cairo_image_surface_get_width (one), height = cairo_image_surface_get_height (one);
  int stride = cairo_image_surface_get_stride (one);
  for (int y = 58; y < height - 42; y++)
    for (int x = 0; x < width; x++)
      {
        gsize at = (gsize) y * (gsize) stride + (gsize) x * 4;
        guint quarter = (x > width / 2) + 2 * (y < height / 2);
        seen[quarter] += memcmp (cairo_image_surface_get_data (one) + at,
                                 cairo_image_surface_get_data (other) + at, 3)
                         != 0;
      }
  for (guint i = 0; i < 4; i++)
    g_assert_cmpuint (seen[i], >=, 4);
  cairo_surface_destroy (one);
  cairo_surface_destroy (other);
}

/* --- the key --------------------------------------------------------------------------------- */

static BedYard *
make_many_batches (guint n)
{
  BedYard *yard = bed_yard_new (20, 14);
  BedYardStack *stack = bed_yard_stack_new (BED_STACK_DEAD);

  stack->pose = (BedPose){ 10, 7, 0 };
  for (guint i = 0; i < n; i++)
    {
      BedYardLog *log = bed_yard_log_new ();
      log->id = i + 1;
      log->length = 1;
      log->diameter = 0.1;
      log->mark = (int) (n - i);
      log->batch = g_strdup_printf ("26-%u", n - i);
      log->age = (int) i * 100;
      log->picked = i * 1e5;
      g_ptr_array_add (stack->logs, log);
    }
  g_ptr_array_add (stack->logs, bed_yard_log_new ());
  g_ptr_array_add (yard->stacks, stack);
  return yard;
}

static void
test_key (void)
{
  g_autoptr (BedYard) yard = make_many_batches (120);
  g_autoptr (GPtrArray) batches = bed_yard_key_new (yard, BED_COLOUR_BY_BATCH, BED_SYSTEM_METRIC);
  g_autoptr (GPtrArray) ages = bed_yard_key_new (yard, BED_COLOUR_BY_AGE, BED_SYSTEM_METRIC);
  g_autoptr (GPtrArray) kilos = bed_yard_key_new (yard, BED_COLOUR_BY_PICKED, BED_SYSTEM_METRIC);
  g_autoptr (GPtrArray) pounds = bed_yard_key_new (yard, BED_COLOUR_BY_PICKED, BED_SYSTEM_US);
  guint logs = 0;

  g_assert_cmpuint (batches->len, ==, 121);
  for (guint i = 0; i < 120; i++) /* 26-2 before 26-10 */
    {
      g_autofree char *code = g_strdup_printf ("26-%u", i + 1);
      g_assert_cmpstr (((BedKeyLine *) batches->pdata[i])->word, ==, code);
    }
  g_assert_cmpstr (((BedKeyLine *) batches->pdata[120])->word, ==, "no batch");
  g_assert_cmpuint (ages->len, ==, 7);
  g_assert_cmpstr (((BedKeyLine *) ages->pdata[0])->word, ==, "first year");
  g_assert_cmpuint (((BedKeyLine *) ages->pdata[0])->n, ==, 4); /* 0, 100, 200, 300 days */
  g_assert_cmpstr (((BedKeyLine *) ages->pdata[6])->word, ==, "not inoculated");
  for (guint i = 0; i < kilos->len; i++)
    logs += ((BedKeyLine *) kilos->pdata[i])->n;
  g_assert_cmpuint (logs, ==, 121);
  g_assert_cmpstr (((BedKeyLine *) kilos->pdata[kilos->len - 1])->word, ==, "over 1 kg");
  g_assert_cmpstr (((BedKeyLine *) pounds->pdata[pounds->len - 1])->word, ==, "over 2 lb");
}

/* 121 lines are more than a foot holds, and go on a page; 10 stay in the foot. */
static void
test_key_pages (void)
{
  g_assert_cmpuint (count_pages (make_many_batches (9), 0, BED_ELEVATIONS_NONE), ==, 1);
  g_assert_cmpuint (count_pages (make_many_batches (120), 0, BED_ELEVATIONS_NONE), ==, 2);
  g_assert_cmpuint (count_pages (make_many_batches (900), 0, BED_ELEVATIONS_NONE), >, 3);
}

/* --- names ----------------------------------------------------------------------------------- */

static BedYard *
make_random_yard (GRand *dice)
{
  BedYard *yard = bed_yard_new (30, 20);
  guint n = (guint) g_rand_int_range (dice, 1, 40);

  for (guint i = 0; i < n; i++)
    {
      SampleStack sample = { (BedStackKind) g_rand_int_range (dice, 0, BED_N_STACKS),
                             g_rand_double_range (dice, 0, 30),
                             g_rand_double_range (dice, 0, 20),
                             g_rand_double_range (dice, -180, 180),
                             (guint) g_rand_int_range (dice, 0, 30),
                             (int) i,
                             i + 1 };
      g_ptr_array_add (yard->stacks, sample_stack_new (&sample));
      g_autofree char *outline = g_strdup_printf ("%.1f %.1f", sample.x + 1, 20 - sample.y * 0.9);
      sample_add_feature (yard, BED_FEATURE_TAP, outline);
      BedYardFeature *tap = yard->features->pdata[i];
      tap->label = g_strdup_printf ("Tap number %u", i);
    }
  return yard;
}

static gboolean
overlap (const BedBox *a, const BedBox *b)
{
  return a->x < b->x + b->width && b->x < a->x + a->width && a->y < b->y + b->height
         && b->y < a->y + a->height;
}

/* Whether the box reaches into the footprint: measured, not as the layout does it. */
static gboolean
is_on (const BedScene *scene, guint stack, const BedBox *box, double scale)
{
  BedPoint corners[4];
  /* A hair less on each side: what touches does not reach in. */
  double left = box->x / scale + 1e-6, right = (box->x + box->width) / scale - 1e-6;
  double top = -box->y / scale - 1e-6, bottom = -(box->y + box->height) / scale + 1e-6;
  const BedPoint at[] = { { left, top }, { right, top }, { right, bottom }, { left, bottom } };

  bed_yard_footprint (scene, stack, &((BedYardStack *) scene->yard->stacks->pdata[stack])->pose,
                      corners);
  BedShape foot = bed_shape_polygon (corners, 4), of = bed_shape_polygon (at, 4);
  return bed_shape_measure (&foot, &of).distance <= 0;
}

static guint
check_names (BedYardNames *names, const BedScene *scene, double scale, const BedBox *limits)
{
  guint n = bed_yard_names_get_n (names), shown = 0;

  bed_yard_names_lay (names, scale);
  for (guint i = 0; i < n; i++)
    {
      BedBox box, other;
      if (!bed_yard_names_get (names, i, &box))
        continue;
      shown++;
      for (guint j = 0; j < i; j++)
        g_assert_false (bed_yard_names_get (names, j, &other) && overlap (&box, &other));
      for (guint j = 0; j < scene->yard->stacks->len; j++)
        g_assert_false (j != i && is_on (scene, j, &box, scale));
      g_assert_true (!limits
                     || (box.x >= limits->x - 1e-9 && box.y >= limits->y - 1e-9
                         && box.x + box.width <= limits->x + limits->width + 1e-9
                         && box.y + box.height <= limits->y + limits->height + 1e-9));
    }
  return shown;
}

/* In random yards, at any scale: no label on another, none on a stack that is not its own, none
 * over the edge of the paper. */
static void
test_names (void)
{
  g_autoptr (BedTypesetter) type = bed_typesetter_new ();
  BedYardStyle style
      = { bed_palette_get (BED_PALETTE_PAPER), type, BED_COLOUR_BY_BATCH, 7.5, 0, 0 };
  GRand *dice = g_rand_new_with_seed (11);
  guint shown = 0;

  for (int i = 0; i < 60; i++)
    {
      g_autoptr (BedYard) yard = make_random_yard (dice);
      g_autoptr (BedScene) scene = bed_scene_new (yard);
      g_autoptr (BedYardNames) names = bed_yard_names_new (scene, &style);
      double scale = g_rand_double_range (dice, 10, 60);
      BedBox limits = { 2 * scale, -15 * scale, 20 * scale, 12 * scale };
      shown += check_names (names, scene, scale, NULL);
      bed_yard_names_limit (names, &limits);
      shown += check_names (names, scene, scale * 1.2, &limits);
    }
  g_assert_cmpuint (shown, >, 500);
  g_rand_free (dice);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/yard/map/scale", test_scale);
  g_test_add_func ("/yard/map/sheets", test_sheets);
  g_test_add_func ("/yard/map/sheets-of-nothing", test_sheets_of_nothing);
  g_test_add_func ("/yard/map/sheet-names", test_sheet_names);
  g_test_add_func ("/yard/map/pages", test_pages);
  g_test_add_func ("/yard/map/refused", test_refused);
  g_test_add_func ("/yard/map/large", test_large);
  g_test_add_func ("/yard/map/key", test_key);
  g_test_add_func ("/yard/map/key-pages", test_key_pages);
  g_test_add_func ("/yard/map/names", test_names);
  return g_test_run ();
}
