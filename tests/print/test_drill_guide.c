#include "print/drill/drill_guide.h"

#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

#include "read_back.h"
#include "science/argument.h"

/* 10 dots to the millimetre. */
#define DPI 254.0

static const BedNotation metric = { BED_SYSTEM_METRIC, '.', 2 };

typedef struct
{
  char *pdf;
} Fixture;

static void
set_up (Fixture *f, gconstpointer data)
{
  int fd = g_file_open_tmp ("bedlog-guide-XXXXXX.pdf", &f->pdf, NULL);

  g_assert_cmpint (fd, >=, 0);
  g_close (fd, NULL);
}

static void
tear_down (Fixture *f, gconstpointer data)
{
  g_unlink (f->pdf);
  g_free (f->pdf);
}

static gboolean
is_dark (cairo_surface_t *page, int x, int y)
{
  const unsigned char *pixels = cairo_image_surface_get_data (page);

  return pixels[y * cairo_image_surface_get_stride (page)
                + x * (cairo_image_surface_get_format (page) == CAIRO_FORMAT_A8 ? 1 : 4)]
         < 110;
}

/* Dark 0.6 mm all round: so inside a disc, not on a line that crosses it. */
static gboolean
is_deep (cairo_surface_t *page, int x, int y)
{
  const int d = 6;

  if (x < d || y < d || x >= cairo_image_surface_get_width (page) - d
      || y >= cairo_image_surface_get_height (page) - d)
    return FALSE;
  return is_dark (page, x - d, y) && is_dark (page, x + d, y) && is_dark (page, x, y - d)
         && is_dark (page, x, y + d) && is_dark (page, x, y);
}

static guint
write_guide (Fixture *f, const BedDrill *drill, const BedPaper *paper)
{
  g_autoptr (GError) error = NULL;
  BedDrillGuide guide = { drill, &metric, NULL, *paper, BED_GUIDE_BARK };
  g_autoptr (BedDocument) document = bed_drill_guide_new (&guide, &error);

  g_assert_no_error (error);
  bed_document_write_pdf (document, f->pdf, "2026-05-18T12:00", &error);
  g_assert_no_error (error);
  return bed_document_get_n_pages (document);
}

/* The longest run of dark dots on any line of the lowest part of the page. */
static int
measure_bar (cairo_surface_t *page)
{
  int width = cairo_image_surface_get_width (page), height = cairo_image_surface_get_height (page);
  int longest = 0;

  for (int y = height - 210; y < height; y++)
    for (int x = 0, run = 0; x < width; x++)
      {
        run = is_dark (page, x, y) ? run + 1 : 0;
        longest = MAX (longest, run);
      }
  return longest;
}

/* The bar of every page is 100 mm long: 1000 dots, give or take one at each end. */
static void
test_bar (Fixture *f, gconstpointer data)
{
  const BedDrill drill = { 120, 100, 1000, 150, 75, 50, 12, 25, BED_CLOSING_NEAREST };
  const BedPaper *papers[] = { &bed_paper_a4, &bed_paper_letter };

  if (!read_back_possible ())
    return;
  for (gsize p = 0; p < G_N_ELEMENTS (papers); p++)
    {
      guint pages = write_guide (f, &drill, papers[p]);

      for (guint page = 0; page < pages; page += 3)
        {
          cairo_surface_t *picture = read_back_render (f->pdf, page, DPI);
          int dots = measure_bar (picture);

          g_test_message ("page %u: %d dots of 0.1 mm", page + 1, dots);
          g_assert_cmpint (ABS (dots - 1000), <=, 2);
          cairo_surface_destroy (picture);
        }
    }
}

/* Fills every deep dot connected to (x, y), counts them and sums their places. */
typedef struct
{
  guint n;
  double x, y;
} Blob;

static void
collect (cairo_surface_t *page, guint8 *seen, int width, int height, int x0, int y0, Blob *blob)
{
  g_autoptr (GArray) todo = g_array_new (FALSE, FALSE, sizeof (int));
  int at = y0 * width + x0;

  g_array_append_val (todo, at);
  seen[at] = 1;
  while (todo->len)
    {
      at = g_array_index (todo, int, todo->len - 1);
      g_array_set_size (todo, todo->len - 1);
      int x = at % width, y = at / width;
      blob->n++;
      blob->x += x + 0.5;
      blob->y += y + 0.5;
      const int next[][2] = { { x - 1, y }, { x + 1, y }, { x, y - 1 }, { x, y + 1 } };
      for (int i = 0; i < 4; i++)
        {
          int u = next[i][0], v = next[i][1], to = v * width + u;

          if (u < 0 || v < 0 || u >= width || v >= height || seen[to] || !is_deep (page, u, v))
            continue;
          seen[to] = 1;
          g_array_append_val (todo, to);
        }
    }
  blob->x /= blob->n;
  blob->y /= blob->n;
}

/* A 12 mm hole is 113 mm2 of ink; less its rim and its mark some 75 are deep. Nothing else on
 * the page is that large. */
static GArray *
find_holes (cairo_surface_t *page)
{
  int width = cairo_image_surface_get_width (page), height = cairo_image_surface_get_height (page);
  g_autofree guint8 *seen = g_malloc0 ((gsize) width * height);
  GArray *holes = g_array_new (FALSE, FALSE, sizeof (Blob));

  for (int y = 0; y < height; y++)
    for (int x = 0; x < width; x++)
      if (!seen[y * width + x] && is_deep (page, x, y))
        {
          Blob blob = { 0 };

          collect (page, seen, width, height, x, y, &blob);
          if (blob.n > 5000 && blob.n < 10000)
            g_array_append_val (holes, blob);
        }
  return holes;
}

/* A log that fits one page: the printed holes lie where science/drill puts them, to 0.2 mm. */
static void
test_holes (Fixture *f, gconstpointer data)
{
  const BedDrill drill = { 60, 60, 240, 80, 45, 40, 12, 25, BED_CLOSING_EVEN };
  g_autoptr (BedDrillPlan) plan = bed_drill_plan_new (&drill, NULL);
  double round = plan->rows * plan->pitch;

  if (!read_back_possible ())
    return;
  g_assert_cmpuint (write_guide (f, &drill, &bed_paper_a4), ==, 2);
  cairo_surface_t *page = read_back_render (f->pdf, 1, DPI);
  g_autoptr (GArray) found = find_holes (page);
  g_assert_cmpuint (found->len, ==, plan->holes->len);
  for (guint i = 0; i < plan->holes->len; i++)
    {
      const BedHole *hole = &g_array_index (plan->holes, BedHole, i);
      /* 240 mm lie down the page: x from its top; y upwards from half a pitch, turned to the
       * right edge of the bark being its upper one. Margins of 10 mm. */
      double u = 10 + fmod (hole->y + plan->pitch / 2, round), v = 10 + hole->x;
      double nearest = G_MAXDOUBLE;

      for (guint k = 0; k < found->len; k++)
        {
          const Blob *blob = &g_array_index (found, Blob, k);
          nearest = MIN (nearest, hypot (blob->x / 10 - u, blob->y / 10 - v));
        }
      g_assert_cmpfloat (nearest, <, 0.2);
    }
  cairo_surface_destroy (page);
}

/* A log of three pages down: each hole lies on its page as far from the last join as it should.
 * Holes that a join cuts lie on both pages and are left to the eye. */
static void
test_joined_holes (Fixture *f, gconstpointer data)
{
  const BedDrill drill = { 58, 58, 600, 80, 45, 40, 12, 25, BED_CLOSING_EVEN };
  g_autoptr (BedDrillPlan) plan = bed_drill_plan_new (&drill, NULL);
  double round = plan->rows * plan->pitch;
  const guint down = 3;
  guint seen = 0;

  if (!read_back_possible ())
    return;
  g_assert_cmpuint (write_guide (f, &drill, &bed_paper_a4), ==, 1 + down);
  for (guint tile = 0; tile < down; tile++)
    {
      cairo_surface_t *page = read_back_render (f->pdf, 1 + tile, DPI);
      g_autoptr (GArray) found = find_holes (page);
      double from = tile * 600.0 / down;

      for (guint i = 0; i < plan->holes->len; i++)
        {
          const BedHole *hole = &g_array_index (plan->holes, BedHole, i);
          double u = 10 + fmod (hole->y + plan->pitch / 2, round), v = hole->x - from;
          double nearest = G_MAXDOUBLE;

          if (v < 8 || v > 600.0 / down - 8)
            continue;
          for (guint k = 0; k < found->len; k++)
            {
              const Blob *blob = &g_array_index (found, Blob, k);
              nearest = MIN (nearest, hypot (blob->x / 10 - u, blob->y / 10 - 10 - v));
            }
          g_assert_cmpfloat (nearest, <, 0.2);
          seen++;
        }
      cairo_surface_destroy (page);
    }
  g_test_message ("%u of %u holes", seen, plan->holes->len);
  g_assert_cmpuint (seen, >=, plan->holes->len * 3 / 4);
}

/* The pages of bark: all but the first. */
static guint
count_tiles (const BedDrill *drill)
{
  const BedNotation notation = { BED_SYSTEM_METRIC, '.', 2 };
  const BedDrillGuide guide = { drill, &notation, NULL, bed_paper_a4, BED_GUIDE_BARK };
  g_autoptr (BedDocument) document = bed_drill_guide_new (&guide, NULL);

  g_assert_nonnull (document);
  return bed_document_get_n_pages (document) - 1;
}

/* The tiles cover the bark and none is empty, whatever the log and the paper. */
static void
test_tiles (Fixture *f, gconstpointer data)
{
  for (double length = 200; length <= 2000; length += 173)
    for (double diameter = 50; diameter <= 400; diameter += 37)
      {
        const BedDrill drill
            = { diameter, diameter, length, 150, 75, 40, 12, 25, BED_CLOSING_EVEN };
        g_autoptr (BedDrillPlan) plan = bed_drill_plan_new (&drill, NULL);
        guint tiles = count_tiles (&drill);
        double round = plan->rows * plan->pitch;

        g_assert_cmpfloat ((double) tiles * 190 * 263, >=, length * round);
        g_assert_cmpuint (tiles, <=, (guint) (ceil (length / 190) * ceil (round / 263)));
        g_assert_cmpuint (tiles, <=, (guint) (ceil (length / 263) * ceil (round / 190)));
      }
}

/* --- the strip -------------------------------------------------------------------------- */

static guint
write_strip (Fixture *f, const BedDrill *drill, BedSystem system, const BedPaper *paper)
{
  g_autoptr (GError) error = NULL;
  const BedNotation notation = { system, '.', 2 };
  const BedDrillGuide guide = { drill, &notation, NULL, *paper, BED_GUIDE_STRIP };
  g_autoptr (BedDocument) document = bed_drill_guide_new (&guide, &error);

  g_assert_no_error (error);
  bed_document_write_pdf (document, f->pdf, "2026-05-18T12:00", &error);
  g_assert_no_error (error);
  return bed_document_get_n_pages (document);
}

/* Two rows of a log of a metre lie on four sheets of A4 and five of Letter, fewer than half the
 * bark's; no hole is cut by a join, and each lies where it should from the one before. */
static void
test_strip (Fixture *f, gconstpointer data)
{
  const BedDrill drill = { 120, 100, 1000, 150, 75, 50, 12, 25, BED_CLOSING_NEAREST };
  g_autoptr (BedDrillPlan) plan = bed_drill_plan_new (&drill, NULL);
  double width = 2 * plan->pitch;
  guint rows[2] = { 0, 0 };

  if (!read_back_possible ())
    return;
  g_assert_cmpuint (write_strip (f, &drill, BED_SYSTEM_US, &bed_paper_letter), ==, 1 + 5);
  guint pages = write_strip (f, &drill, BED_SYSTEM_METRIC, &bed_paper_a4);
  g_assert_cmpuint (pages, ==, 1 + 4);
  g_assert_cmpuint (2 * (pages - 1), <=, write_guide (f, &drill, &bed_paper_a4) - 1);
  write_strip (f, &drill, BED_SYSTEM_METRIC, &bed_paper_a4);
  for (guint page = 1; page < pages; page++)
    {
      cairo_surface_t *picture = read_back_render (f->pdf, page, DPI);
      g_autoptr (GArray) found = find_holes (picture);
      double last[2] = { 0, 0 };

      for (guint i = 0; i < found->len; i++)
        {
          const Blob *blob = &g_array_index (found, Blob, i);
          guint row = blob->x / 10 - 10 > width / 2;
          double x = 10 + (row ? 3 : 1) * width / 4;

          g_assert_cmpfloat (fabs (blob->x / 10 - x), <, 0.2);
          if (last[row] > 0)
            g_assert_cmpfloat (fabs (blob->y / 10 - last[row] - 150), <, 0.2);
          last[row] = blob->y / 10;
          rows[row]++;
        }
      cairo_surface_destroy (picture);
    }
  g_assert_cmpuint (rows[0] + rows[1], ==, (guint) (plan->per_row[0] + plan->per_row[1]));
}

/* A farm that measures in inches has a bar of four, 101.6 mm; rows that do not repeat by twos have
 * no strip. */
static void
test_strip_bar (Fixture *f, gconstpointer data)
{
  BedDrill drill = { 120, 100, 1000, 150, 75, 50, 12, 25, BED_CLOSING_NEAREST };

  if (!read_back_possible ())
    return;
  write_strip (f, &drill, BED_SYSTEM_US, &bed_paper_letter);
  cairo_surface_t *picture = read_back_render (f->pdf, 1, DPI);
  g_assert_cmpint (ABS (measure_bar (picture) - 1016), <=, 2);
  cairo_surface_destroy (picture);
  drill.closing = BED_CLOSING_HELIX;
  g_assert_cmpuint (write_strip (f, &drill, BED_SYSTEM_METRIC, &bed_paper_a4), ==,
                    write_guide (f, &drill, &bed_paper_a4));
}

/* A bit is asked for as it is marked, and a rule read so. */
static void
test_fractions (Fixture *f, gconstpointer data)
{
  const BedNotation us = { BED_SYSTEM_US, '.', 2 };
  const BedDrill drill = { 60, 60, 240, 88.9, 45, 38.1, 11.1125, 31.75, BED_CLOSING_EVEN };
  BedDrillGuide guide = { &drill, &us, NULL, bed_paper_letter, BED_GUIDE_STRIP };
  const char *argv[] = { "pdftotext", "-layout", f->pdf, "-", NULL };
  g_autoptr (GError) error = NULL;
  g_autofree char *text = NULL;

  if (!read_back_possible ())
    return;
  g_autoptr (BedDocument) document = bed_drill_guide_new (&guide, &error);
  g_assert_no_error (error);
  bed_document_write_pdf (document, f->pdf, "2026-05-18T12:00", &error);
  g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &text, NULL, NULL,
                &error);
  g_assert_no_error (error);
  g_assert_nonnull (strstr (text, "7/16 in, 1 1/4 in deep"));
  g_assert_nonnull (strstr (text, "3 1/2 in"));
  /* Reckoned ones too: four rows of 45 mm are 1 7/8 in apart on 60 mm. */
  g_assert_nonnull (strstr (text, "1 7/8 in"));
  g_assert_null (strstr (text, "1.86"));
}

static void
test_refused (Fixture *f, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  BedDrill drill = { 100, 120, 1000, 150, 75, 50, 12, 25, BED_CLOSING_NEAREST };
  BedDrillGuide guide = { &drill, &metric, NULL, bed_paper_a4 };

  /* The small end is larger than the large one. */
  g_assert_null (bed_drill_guide_new (&guide, &error));
  g_assert_true (error->domain == BED_SCIENCE_ERROR);
  g_clear_error (&error);
  drill = (BedDrill){ 2000, 2000, 20000, 500, 300, 50, 12, 25, BED_CLOSING_NEAREST };
  g_assert_null (bed_drill_guide_new (&guide, &error));
  g_assert_error (error, BED_PRINT_ERROR, BED_PRINT_ERROR_SHEET);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
#define ADD(path, test) g_test_add ("/drill-guide/" path, Fixture, NULL, set_up, test, tear_down)
  ADD ("bar", test_bar);
  ADD ("holes", test_holes);
  ADD ("joined-holes", test_joined_holes);
  ADD ("tiles", test_tiles);
  ADD ("strip", test_strip);
  ADD ("strip-bar", test_strip_bar);
  ADD ("fractions", test_fractions);
  ADD ("refused", test_refused);
  return g_test_run ();
}
