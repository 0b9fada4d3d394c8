#include "print/label/label.h"

#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

#include "read_back.h"

typedef struct
{
  char *pdf;
  GPtrArray *sheets;
} Fixture;

static void
set_up (Fixture *f, gconstpointer data)
{
  int fd = g_file_open_tmp ("bedlog-labels-XXXXXX.pdf", &f->pdf, NULL);

  g_assert_cmpint (fd, >=, 0);
  g_close (fd, NULL);
  f->sheets = bed_sheet_list_new ();
}

static void
tear_down (Fixture *f, gconstpointer data)
{
  g_unlink (f->pdf);
  g_free (f->pdf);
  g_ptr_array_unref (f->sheets);
}

static const BedSheet *
get_sheet (Fixture *f, const char *key)
{
  g_autoptr (GError) error = NULL;
  const BedSheet *sheet = bed_sheet_list_find (f->sheets, key, &error);

  g_assert_no_error (error);
  return sheet;
}

static char *
dup_code (guint i)
{
  return g_strdup_printf ("26A-%03u-%c", i + 1, "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"[i % 36]);
}

static void
add_tags (BedLabels *labels, guint n)
{
  for (guint i = 0; i < n; i++)
    {
      g_autofree char *code = dup_code (i);
      bed_labels_add_log_tag (
          labels, &(BedLogTag){ code, "Northern red oak", "Alder Run 7", "18 Apr 2026" });
    }
}

static void
write_pdf (Fixture *f, BedLabels *labels, const BedSheet *sheet, const BedSheetPlace *place)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BedDocument) document = bed_labels_document_new (labels, sheet, place, &error);

  g_assert_no_error (error);
  bed_document_write_pdf (document, f->pdf, "2026-05-18T12:00", &error);
  g_assert_no_error (error);
}

/* Every code of the @n labels on the first page, as other programs read it. */
static void
check_codes (Fixture *f, const BedSheet *sheet, const BedSheetPlace *place, GPtrArray *expected)
{
  static const double dpis[] = { 300, 203, 200 };
  g_autoptr (GArray) boxes = g_array_new (FALSE, FALSE, sizeof (BedBox));

  for (guint i = 0; i < expected->len; i++)
    {
      BedBox box = bed_sheet_get_label_box (sheet, place, i);
      g_array_append_val (boxes, box);
    }
  for (gsize d = 0; d < G_N_ELEMENTS (dpis); d++)
    for (ReadHow how = READ_CLEAN; how <= READ_HANDLED; how++)
      {
        cairo_surface_t *page = read_back_render (f->pdf, 0, dpis[d]);
        g_autoptr (GPtrArray) codes = read_back_codes (page, dpis[d], boxes, how);

        g_test_message ("%s, %g dpi, %s: %u of %u codes", sheet->key, dpis[d],
                        how == READ_CLEAN ? "clean" : "handled", codes->len, expected->len);
        cairo_surface_destroy (page);
        for (guint i = 0; i < MIN (codes->len, expected->len); i++)
          g_assert_cmpstr (codes->pdata[i], ==, expected->pdata[i]);
        g_assert_cmpuint (codes->len, ==, expected->len);
      }
}

/* A sheet of tags: the usual one, and the ones with the smallest codes. */
static void
test_read_back (Fixture *f, gconstpointer data)
{
  const char *keys[] = { "letter-3x10", "letter-4x20", "a4-5x16", "roll-57x32" };

  if (!read_back_possible ())
    return;
  for (gsize k = 0; k < G_N_ELEMENTS (keys); k++)
    {
      const BedSheet *sheet = get_sheet (f, keys[k]);
      g_autoptr (GPtrArray) expected = g_ptr_array_new_with_free_func (g_free);
      BedLabels *labels = bed_labels_new ("Tags");
      guint n = MIN (sheet->columns * sheet->rows, 8);

      for (guint i = 0; i < n; i++)
        g_ptr_array_add (expected, dup_code (i));
      add_tags (labels, n);
      write_pdf (f, labels, sheet, NULL);
      check_codes (f, sheet, NULL, expected);
    }
}

/* One of each kind, beginning at label 5 with an offset. */
static void
test_read_back_kinds (Fixture *f, gconstpointer data)
{
  const BedSheet *sheet = get_sheet (f, "a4-3x8");
  const BedSheetPlace place = { 5, 1.5, -1 };
  BedLabels *labels = bed_labels_new ("One of each");
  g_autoptr (GPtrArray) expected = g_ptr_array_new ();

  if (!read_back_possible ())
    {
      bed_labels_free (labels);
      return;
    }
  bed_labels_add_log_tag (labels, &(BedLogTag){ .code = "26A-001-K" });
  bed_labels_add_stack_sign (labels, &(BedStackSign){ .name = "Crib 4", .batches = "26A, 26B" });
  bed_labels_add_crate_label (
      labels, &(BedCrateLabel){ .lot = "L260518-1-C", .mushroom = "Shiitake", .mass = "3.00 kg" });
  bed_labels_add_spawn_label (labels, &(BedSpawnLabel){ .code = "S26-1", .strain = "Alder Run" });
  g_ptr_array_add (expected, (gpointer) "26A-001-K");
  g_ptr_array_add (expected, (gpointer) "Crib 4");
  g_ptr_array_add (expected, (gpointer) "L260518-1-C");
  g_ptr_array_add (expected, (gpointer) "S26-1");
  write_pdf (f, labels, sheet, &place);
  check_codes (f, sheet, &place, expected);
}

/* Text */

static char *
run_pdftotext (const char *pdf)
{
  const char *argv[] = { "pdftotext", "-layout", pdf, "-", NULL };
  char *output = NULL;
  g_autoptr (GError) error = NULL;

  g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &output, NULL, NULL,
                &error);
  g_assert_no_error (error);
  return output;
}

/* Height of the first word so spelled on the page, points; 0 where there is none. */
static double
read_word_height (const char *pdf, const char *word)
{
  const char *argv[] = { "pdftotext", "-bbox", pdf, "-", NULL };
  g_autofree char *pattern
      = g_strdup_printf ("yMin=\"([0-9.]+)\" [^>]*yMax=\"([0-9.]+)\">%s<", word);
  g_autoptr (GRegex) regex = g_regex_new (pattern, 0, 0, NULL);
  g_autoptr (GMatchInfo) match = NULL;
  g_autofree char *output = NULL;
  g_autoptr (GError) error = NULL;

  g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &output, NULL, NULL,
                &error);
  g_assert_no_error (error);
  if (!g_regex_match (regex, output, 0, &match))
    return 0;
  g_autofree char *top = g_match_info_fetch (match, 1);
  g_autofree char *bottom = g_match_info_fetch (match, 2);
  return g_ascii_strtod (bottom, NULL) - g_ascii_strtod (top, NULL);
}

/* A long name makes the headline small, not what stands below it: half the label was empty. */
static void
test_narrow_headline (Fixture *f, gconstpointer data)
{
  BedLabels *labels = bed_labels_new ("Spawn");

  if (!read_back_possible ())
    {
      bed_labels_free (labels);
      return;
    }
  bed_labels_add_spawn_label (labels,
                              &(BedSpawnLabel){ "S26-1", "Alder Run, wide-range", "Shiitake",
                                                "Sawdust", "2.5 kg", "2 Mar 2026", "20 May 2026" });
  write_pdf (f, labels, get_sheet (f, "roll-102x152"), NULL);
  double name = read_word_height (f->pdf, "Alder"), lot = read_word_height (f->pdf, "S26-1");
  g_test_message ("name %.1f, lot %.1f pt", name, lot);
  g_assert_cmpfloat (name, >, 0);
  g_assert_cmpfloat (lot, >, 0.7 * name);
  g_assert_cmpfloat (lot, <, name);
}

/* On a small label the date goes first, then the wood; code and strain stay. */
static void
test_degrades (Fixture *f, gconstpointer data)
{
  BedSheet sheet = { NULL, (char *) "small", 40, 11, 1, 1, 40, 11, 40, 11, 0, 0 };
  BedSheet larger = { NULL, (char *) "larger", 60, 25, 1, 1, 60, 25, 60, 25, 0, 0 };
  BedLabels *labels = bed_labels_new ("Tags");

  if (!read_back_possible ())
    {
      bed_labels_free (labels);
      return;
    }
  add_tags (labels, 1);
  write_pdf (f, labels, &sheet, NULL);
  g_autofree char *small = run_pdftotext (f->pdf);
  g_assert_nonnull (strstr (small, "26A-001"));
  g_assert_nonnull (strstr (small, "Alder Run 7"));
  g_assert_null (strstr (small, "red oak"));
  g_assert_null (strstr (small, "18 Apr"));

  labels = bed_labels_new ("Tags");
  add_tags (labels, 1);
  write_pdf (f, labels, &larger, NULL);
  g_autofree char *whole = run_pdftotext (f->pdf);
  g_assert_nonnull (strstr (whole, "Northern red oak"));
  g_assert_nonnull (strstr (whole, "18 Apr 2026"));
}

/* What cannot fit is refused by name, and the file that was there stays. */
static void
check_refused (Fixture *f, BedLabels *labels, const BedSheet *sheet, const char *owner,
               const char *text)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BedDocument) document = bed_labels_document_new (labels, sheet, NULL, NULL);
  g_autofree char *after = NULL;

  g_assert_true (g_file_set_contents (f->pdf, "%PDF-before", -1, NULL));
  g_assert_false (bed_document_check (document, NULL));
  g_assert_false (bed_document_write_pdf (document, f->pdf, NULL, &error));
  g_assert_true (error->domain == BED_PRINT_ERROR);
  g_assert_nonnull (strstr (error->message, owner));
  g_assert_nonnull (strstr (error->message, text));
  g_assert_true (g_file_get_contents (f->pdf, &after, NULL, NULL));
  g_assert_cmpstr (after, ==, "%PDF-before");
}

static void
test_refuses_text (Fixture *f, gconstpointer data)
{
  BedLabels *labels = bed_labels_new ("Tags");

  add_tags (labels, 3);
  bed_labels_add_log_tag (
      labels, &(BedLogTag){ .code = "26A-004-X",
                            .strain = "Grubenholzstollenentwaesserungsgesellschaftsverwaltung" });
  check_refused (f, labels, get_sheet (f, "letter-4x20"), "26A-004-X", "Grubenholz");
}

static void
test_refuses_code (Fixture *f, gconstpointer data)
{
  BedSheet sheet = { NULL, (char *) "narrow", 20, 10, 1, 1, 20, 10, 20, 10, 0, 0 };
  BedLabels *labels = bed_labels_new ("Tags");

  add_tags (labels, 1);
  check_refused (f, labels, &sheet, "26A-001-0", "9.6 mm");
}

static void
test_nothing (Fixture *f, gconstpointer data)
{
  g_autoptr (GError) error = NULL;

  g_assert_null (
      bed_labels_document_new (bed_labels_new (NULL), get_sheet (f, "a4-3x8"), NULL, &error));
  g_assert_error (error, BED_PRINT_ERROR, BED_PRINT_ERROR_EMPTY);
}

/* Every kind on every given sheet either prints or says, in words, what does not fit. */
static void
test_all_sheets (Fixture *f, gconstpointer data)
{
  guint refused = 0;

  for (guint i = 0; i < f->sheets->len; i++)
    {
      g_autoptr (GError) error = NULL;
      BedLabels *labels = bed_labels_new ("All");

      add_tags (labels, 40);
      bed_labels_add_stack_sign (
          labels, &(BedStackSign){ "Crib 4", "Crib", "26A, 26B", "48 logs", "Fernhollow" });
      bed_labels_add_spawn_label (labels,
                                  &(BedSpawnLabel){ "S26-1", "Alder Run", "Shiitake", "Sawdust",
                                                    "2.5 kg", "2 Mar 2026", "20 May 2026" });
      g_autoptr (BedDocument) document
          = bed_labels_document_new (labels, f->sheets->pdata[i], NULL, &error);
      g_assert_no_error (error);
      if (!bed_document_check (document, &error))
        {
          g_test_message ("%s", error->message);
          refused++;
        }
    }
  g_assert_cmpuint (refused, ==, 0);
}

/* Ink outside the label, in dots of a surface with a border of 20 around it. */
static guint
count_outside (cairo_surface_t *surface, double width, double height)
{
  const unsigned char *pixels = cairo_image_surface_get_data (surface);
  int stride = cairo_image_surface_get_stride (surface);
  guint outside = 0;

  for (int y = 0; y < cairo_image_surface_get_height (surface); y++)
    for (int x = 0; x < cairo_image_surface_get_width (surface); x++)
      if (x < 20 || y < 20 || x >= 20 + ceil (width) || y >= 20 + ceil (height))
        outside += pixels[y * stride + x] > 0;
  return outside;
}

static const char *
pick_text (void)
{
  static const char *const texts[] = {
    "Oak",
    "Northern red oak",
    "Hollow 1, wide-range",
    "Wjg",
    "26A, 26B, 26C, 26D, 26E, 26F",
    "A very long name of a stack that someone once thought was funny",
    "Ågård",
    "Unbreakablewordthatnosmalllabelcanhold",
    "",
    NULL,
  };

  return texts[g_test_rand_int_range (0, G_N_ELEMENTS (texts))];
}

/* Labels of any size with any texts either stay within their edges or are refused. */
static void
test_never_overflows (Fixture *f, gconstpointer data)
{
  g_autoptr (BedTypesetter) type = bed_typesetter_new ();
  guint drawn = 0, refused = 0;

  for (int i = 0; i < 400; i++)
    {
      g_autoptr (GError) error = NULL;
      BedLabel label = { .owner = "the label", .headline = "26A-017", .qr = "26A-017-K" };
      BedBox box
          = { 20, 20, g_test_rand_double_range (28, 300), g_test_rand_double_range (28, 300) };
      cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_A8, 342, 342);
      cairo_t *cr = cairo_create (surface);

      if (g_test_rand_bit ())
        label.tail = "-K";
      if (g_test_rand_bit () && pick_text ())
        label.headline = "A stack with a name";
      for (int n = g_test_rand_int_range (0, 7); n > 0; n--)
        bed_label_add_line (&label, &(BedLabelLine){ g_test_rand_bit () ? "Caption" : NULL,
                                                     pick_text (), BED_WEIGHT_BOLD,
                                                     (guint) g_test_rand_int_range (0, 4) });
      if (bed_label_draw (&label, cr, type, &box, &error))
        {
          drawn++;
          cairo_surface_flush (surface);
          g_assert_cmpuint (count_outside (surface, box.width, box.height), ==, 0);
        }
      else
        {
          refused++;
          g_assert_true (error->domain == BED_PRINT_ERROR);
          g_assert_nonnull (strstr (error->message, "the label"));
        }
      cairo_destroy (cr);
      cairo_surface_destroy (surface);
    }
  g_test_message ("%u drawn, %u refused", drawn, refused);
  g_assert_cmpuint (drawn, >, 50);
  g_assert_cmpuint (refused, >, 50);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
#define ADD(path, test) g_test_add ("/label/" path, Fixture, NULL, set_up, test, tear_down)
  ADD ("read-back", test_read_back);
  ADD ("read-back-kinds", test_read_back_kinds);
  ADD ("degrades", test_degrades);
  ADD ("narrow-headline", test_narrow_headline);
  ADD ("refuses-text", test_refuses_text);
  ADD ("refuses-code", test_refuses_code);
  ADD ("nothing", test_nothing);
  ADD ("never-overflows", test_never_overflows);
  ADD ("all-sheets", test_all_sheets);
  return g_test_run ();
}
