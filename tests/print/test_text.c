#include "print/page/text.h"

#include <pango/pangocairo.h>
#include <string.h>

#include "print/page/qr.h"
#include "science/units.h"

static const BedTextStyle style = { 12, 6, 3, BED_WEIGHT_REGULAR, BED_ALIGN_LEFT };

/* Shrinks, then wraps, then is refused, in that order as the box gets narrower. */
static void
test_order (void)
{
  g_autoptr (BedTypesetter) type = bed_typesetter_new ();
  const char *text = "Northern red oak from the upper stand";
  double full = bed_text_width (type, text, BED_WEIGHT_REGULAR, 12);
  int stage = 0;

  for (double width = full * 1.1; width > 10; width -= 1)
    {
      BedBox box = { 0, 0, width, 100 };
      BedTextFit fit = { 0 };
      int now = !bed_text_fit (type, text, &box, &style, &fit) ? 3
                : fit.lines > 1                                ? 2
                : fit.size < 12                                ? 1
                                                               : 0;

      g_assert_cmpint (now, >=, stage);
      g_assert_cmpint (now, <=, stage + 1);
      stage = now;
      if (now < 3)
        {
          g_assert_cmpfloat (fit.width, <=, width + 0.01);
          g_assert_cmpfloat (fit.height, <=, 100);
          g_assert_cmpfloat (fit.size, >=, 6 - 1e-6);
        }
    }
  g_assert_cmpint (stage, ==, 3);
}

/* Letters that no font has are told of the text that is drawn, not of each that was tried. */
static void
test_missing (void)
{
  g_autoptr (BedTypesetter) type = bed_typesetter_new ();
  const char *text = "\uE0F1 and more words than there is room for on one narrow line";
  const BedTextStyle line = { 12, 12, 1, BED_WEIGHT_REGULAR, BED_ALIGN_LEFT };
  cairo_surface_t *surface = cairo_recording_surface_create (CAIRO_CONTENT_COLOR, NULL);
  cairo_t *cr = cairo_create (surface);

  g_assert_true (
      bed_text_draw_cut (type, cr, text, &(BedBox){ 0, 0, 90, 20 }, &line, "a sheet", NULL));
  g_autofree char *note = bed_typesetter_dup_missing (type);
  g_assert_nonnull (note);
  g_assert_true (strstr (note, "“") == g_strrstr (note, "“"));
  g_assert_nonnull (strstr (note, "…”"));
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
}

/* What is drawn stays in its box: nothing is dark outside it. */
static void
test_inside (void)
{
  g_autoptr (BedTypesetter) type = bed_typesetter_new ();
  const char *texts[] = { "W", "Northern red oak", "one two three four five six seven eight nine",
                          "Ågård·Ñandú", "26A-017-K" };

  for (gsize t = 0; t < G_N_ELEMENTS (texts); t++)
    for (BedTextAlign align = BED_ALIGN_LEFT; align <= BED_ALIGN_RIGHT; align++)
      for (int width = 20; width <= 160; width += 7)
        {
          cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_A8, 200, 100);
          cairo_t *cr = cairo_create (surface);
          BedBox box = { 20, 20, width, 60 };
          BedTextStyle aligned = style;

          aligned.align = align;
          bed_text_draw (type, cr, texts[t], &box, &aligned, "the test", NULL);
          cairo_destroy (cr);
          cairo_surface_flush (surface);
          const unsigned char *pixels = cairo_image_surface_get_data (surface);
          int stride = cairo_image_surface_get_stride (surface);
          for (int y = 0; y < 100; y++)
            for (int x = 0; x < 200; x++)
              /* A letter may lean a point over its advance. */
              if (x < 19 || x > 21 + width || y < 19 || y > 81)
                g_assert_cmpuint (pixels[y * stride + x], ==, 0);
          cairo_surface_destroy (surface);
        }
}

static void
test_refused (void)
{
  g_autoptr (BedTypesetter) type = bed_typesetter_new ();
  g_autoptr (GError) error = NULL;
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_A8, 10, 10);
  cairo_t *cr = cairo_create (surface);

  g_assert_false (bed_text_draw (type, cr, "Fingerspitzengefühl", &(BedBox){ 0, 0, 20, 50 }, &style,
                                 "the log tag 26A-017-K", &error));
  g_assert_error (error, BED_PRINT_ERROR, BED_PRINT_ERROR_TEXT);
  g_assert_nonnull (strstr (error->message, "the log tag 26A-017-K"));
  g_assert_nonnull (strstr (error->message, "Fingerspitzengefühl"));
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
}

/* One point of type is one point of paper: at 96 dpi it would be a third more. */
static void
test_size (void)
{
  g_autoptr (BedTypesetter) type = bed_typesetter_new ();
  double capital = bed_text_cap_height (type, 72);

  /* Capitals of the families asked for are 0.66 to 0.76 of their size. */
  g_assert_cmpfloat (capital, >, 72 * 0.62);
  g_assert_cmpfloat (capital, <, 72 * 0.80);
  g_assert_cmpfloat_with_epsilon (bed_text_width (type, "26A-017", BED_WEIGHT_BOLD, 20),
                                  2 * bed_text_width (type, "26A-017", BED_WEIGHT_BOLD, 10), 1e-9);
}

/* The modules of ISO/IEC 18004 table 1 for what codes need, and the smallest side. */
static void
test_qr (void)
{
  const struct
  {
    const char *text;
    guint modules;
  } cases[] = {
    { "26A-017-K", 21 + 8 }, /* version 1-Q: 16 characters */
    { "L260518-1-C", 21 + 8 },
    { "ABCDEFGHIJKLMNOP", 21 + 8 },           /* 16: the last that fits */
    { "ABCDEFGHIJKLMNOPQ", 25 + 8 },          /* version 2-Q: 29 */
    { "The crib under the old oak", 29 + 8 }, /* version 3-Q: 32 bytes */
  };
  g_autoptr (GError) error = NULL;

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (BedQr) qr = bed_qr_new (cases[i].text, &error);

      g_assert_no_error (error);
      g_assert_cmpuint (bed_qr_get_modules (qr), ==, cases[i].modules);
      g_assert_cmpfloat_with_epsilon (bed_qr_get_smallest_side (qr) / BED_POINTS_PER_MM,
                                      cases[i].modules * 0.33, 1e-9);
    }
  g_assert_null (bed_qr_new ("", &error));
  g_assert_error (error, BED_PRINT_ERROR, BED_PRINT_ERROR_CODE);
  g_clear_error (&error);
  g_autofree char *endless = g_strnfill (4000, 'x');
  g_assert_null (bed_qr_new (endless, &error));
  g_assert_error (error, BED_PRINT_ERROR, BED_PRINT_ERROR_CODE);
}

/* Where @part stands from the left of the paragraph, in Pango's units. */
static int
find_x (PangoLayout *layout, const char *part)
{
  const char *text = pango_layout_get_text (layout), *at = strstr (text, part);
  PangoRectangle box;

  g_assert_nonnull (at);
  pango_layout_index_to_pos (layout, (int) (at - text), &box);
  return MIN (box.x, box.x + box.width);
}

/* In text that runs to the left a minus stays before its figures, and the unit behind them. */
static void
test_minus (void)
{
  const BedNotation hebrew = { BED_SYSTEM_METRIC, '.', 2, ',', BED_GROUPS_OF_THREE, BED_RUNS_LEFT };
  const BedNotation english = { BED_SYSTEM_METRIC, '.', 2, ',' };
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_A8, 8, 8);
  cairo_t *cr = cairo_create (surface);
  g_autoptr (PangoLayout) layout = pango_cairo_create_layout (cr);
  g_autoptr (BedTypesetter) type = bed_typesetter_new ();

  pango_context_set_base_dir (pango_layout_get_context (layout), PANGO_DIRECTION_RTL);
  pango_layout_set_auto_dir (layout, FALSE);
  g_autofree char *cold = bed_measure_format_unit (BED_MEASURE_TEMPERATURE, &hebrew, -5000);
  g_autofree char *warm = bed_measure_format_unit (BED_MEASURE_TEMPERATURE, &hebrew, 5000);
  g_autofree char *alone = bed_measure_format (BED_MEASURE_TEMPERATURE, &hebrew, -5000);
  g_autofree char *among = g_strdup_printf ("עד %s בלילה", cold);
  g_autofree char *plain = bed_measure_format (BED_MEASURE_TEMPERATURE, &english, -5000);
  const char *minus[] = { cold, alone, among }, *unit[] = { cold, warm, among };

  for (guint i = 0; i < G_N_ELEMENTS (minus); i++)
    {
      pango_layout_set_text (layout, minus[i], -1);
      g_assert_cmpint (find_x (layout, "-"), <, find_x (layout, "5"));
      pango_layout_set_text (layout, unit[i], -1);
      g_assert_cmpint (find_x (layout, "5"), <, find_x (layout, "°"));
      g_assert_cmpint (find_x (layout, "°"), <, find_x (layout, "C"));
      bed_text_width (type, unit[i], BED_WEIGHT_REGULAR, 12);
    }
  /* The parts of a fraction, too. */
  const BedNotation inches = { BED_SYSTEM_US, '.', 2, ',', BED_GROUPS_OF_THREE, BED_RUNS_LEFT };
  g_autofree char *mixed = bed_measure_format_said (BED_MEASURE_LENGTH_FINE, &inches, 133350);
  pango_layout_set_text (layout, mixed, -1);
  g_assert_cmpint (find_x (layout, "5"), <, find_x (layout, "1/4"));
  g_assert_cmpint (find_x (layout, "1/4"), <, find_x (layout, "4"));
  /* What it is for: as other notations have it the minus stands behind. */
  pango_layout_set_text (layout, plain, -1);
  g_assert_cmpint (find_x (layout, "-"), >, find_x (layout, "5"));
  g_assert_null (bed_typesetter_dup_missing (type));
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/text/order", test_order);
  g_test_add_func ("/text/missing", test_missing);
  g_test_add_func ("/text/inside", test_inside);
  g_test_add_func ("/text/refused", test_refused);
  g_test_add_func ("/text/size", test_size);
  g_test_add_func ("/text/minus", test_minus);
  g_test_add_func ("/text/qr", test_qr);
  return g_test_run ();
}
