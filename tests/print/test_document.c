#include "print/page/document.h"

#include <gio/gio.h>
#include <glib/gstdio.h>
#include <locale.h>
#include <signal.h>
#include <string.h>
#include <sys/resource.h>

#include "print/page/text.h"

typedef struct
{
  char *folder, *path;
  BedDocument *document;
} Fixture;

static gboolean
draw_cb (cairo_t *cr, guint page, gpointer data, GError **error)
{
  g_autofree char *text = g_strdup_printf ("Page %u", page + 1);

  bed_text_show (data, cr, text, BED_WEIGHT_BOLD, 40, 50, 100);
  return TRUE;
}

static gboolean
fail_on_second_cb (cairo_t *cr, guint page, gpointer data, GError **error)
{
  if (page == 1)
    bed_text_refuse (error, "page 2", "the text");
  return page != 1;
}

static void
set_up (Fixture *f, gconstpointer data)
{
  f->folder = g_dir_make_tmp ("bedlog-print-XXXXXX", NULL);
  f->path = g_build_filename (f->folder, "out", NULL);
  f->document = bed_document_new (&(BedDocumentSpec){ "Three pages", bed_paper_a4, 3, draw_cb,
                                                      bed_typesetter_new (),
                                                      (GDestroyNotify) bed_typesetter_free });
}

static void
tear_down (Fixture *f, gconstpointer data)
{
  bed_document_free (f->document);
  g_unlink (f->path);
  g_rmdir (f->folder);
  g_free (f->path);
  g_free (f->folder);
}

static char *
write_pdf (Fixture *f, const char *created, gsize *length)
{
  g_autoptr (GError) error = NULL;
  char *bytes = NULL;

  bed_document_write_pdf (f->document, f->path, created, &error);
  g_assert_no_error (error);
  g_assert_true (g_file_get_contents (f->path, &bytes, length, NULL));
  return bytes;
}

/* The same pages and date make the same bytes; another date does not. */
static void
test_stable (Fixture *f, gconstpointer data)
{
  gsize a_length, b_length, c_length;
  g_autofree char *a = write_pdf (f, "2026-05-18T12:00", &a_length);
  g_autofree char *b = write_pdf (f, "2026-05-18T12:00", &b_length);
  g_autofree char *c = write_pdf (f, "2027-05-18T12:00", &c_length);

  g_assert_cmpmem (a, a_length, b, b_length);
  g_assert_false (a_length == c_length && !memcmp (a, c, a_length));
  g_assert_true (g_str_has_prefix (a, "%PDF-"));
}

/* ISO 216 A4 at 100 dpi, and its picture is not blank. */
static void
test_png (Fixture *f, gconstpointer data)
{
  g_autoptr (GError) error = NULL;

  bed_document_write_png (f->document, 0, 100, f->path, &error);
  g_assert_no_error (error);
  cairo_surface_t *surface = cairo_image_surface_create_from_png (f->path);
  g_assert_cmpint (cairo_image_surface_get_width (surface), ==, 827);
  g_assert_cmpint (cairo_image_surface_get_height (surface), ==, 1169);
  const unsigned char *pixels = cairo_image_surface_get_data (surface);
  int stride = cairo_image_surface_get_stride (surface);
  guint dark = 0;
  for (int y = 0; y < 1169; y++)
    for (int x = 0; x < 827; x++)
      dark += pixels[y * stride + 4 * x] < 128;
  g_assert_cmpuint (dark, >, 200);
  g_assert_cmpuint (dark, <, 20000);
  cairo_surface_destroy (surface);
}

static void
test_svg (Fixture *f, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *text = NULL;

  bed_document_write_svg (f->document, 2, f->path, &error);
  g_assert_no_error (error);
  g_assert_true (g_file_get_contents (f->path, &text, NULL, NULL));
  g_assert_nonnull (strstr (text, "<svg"));
  g_assert_nonnull (strstr (text, "width=\"595.275591pt\""));
}

/* A page that cannot be drawn leaves the file as it was, and no scraps beside it. */
static void
test_failure (Fixture *f, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *after = NULL;
  g_autoptr (BedDocument) document = bed_document_new (
      &(BedDocumentSpec){ NULL, bed_paper_letter, 2, fail_on_second_cb, NULL, NULL });

  g_assert_true (g_file_set_contents (f->path, "%PDF-1.5 before", -1, NULL));
  g_assert_false (bed_document_write_pdf (document, f->path, NULL, &error));
  g_assert_error (error, BED_PRINT_ERROR, BED_PRINT_ERROR_TEXT);
  g_assert_true (g_file_get_contents (f->path, &after, NULL, NULL));
  g_assert_cmpstr (after, ==, "%PDF-1.5 before");
  g_clear_error (&error);
  g_assert_false (bed_document_check (document, &error));
  g_assert_error (error, BED_PRINT_ERROR, BED_PRINT_ERROR_TEXT);
  g_assert_true (bed_document_check (f->document, NULL));
}

static void
test_no_folder (Fixture *f, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *path = g_build_filename (f->folder, "none", "out.pdf", NULL);

  g_assert_false (bed_document_write_pdf (f->document, path, NULL, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_NOT_FOUND);
}

/* A disk that takes no more: the limit on a file's size stands for it. */
static void
test_full (Fixture *f, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *after = NULL;
  struct rlimit was;

  g_assert_true (g_file_set_contents (f->path, "%PDF-1.5 before", -1, NULL));
  g_assert_cmpint (getrlimit (RLIMIT_FSIZE, &was), ==, 0);
  signal (SIGXFSZ, SIG_IGN);
  setrlimit (RLIMIT_FSIZE, &(struct rlimit){ 1000, was.rlim_max });
  gboolean written = bed_document_write_pdf (f->document, f->path, NULL, &error);
  setrlimit (RLIMIT_FSIZE, &was);
  g_assert_false (written);
  g_assert_true (error->domain == G_IO_ERROR);
  g_assert_true (g_file_get_contents (f->path, &after, NULL, NULL));
  g_assert_cmpstr (after, ==, "%PDF-1.5 before");
}

/* What printers hold is of the country, not of the units. */
static void
test_usual_paper (void)
{
  static const struct
  {
    const char *locale;
    BedSystem system;
    const BedPaper *paper;
  } usual[] = {
    { "C", BED_SYSTEM_METRIC, &bed_paper_a4 },
    { "C", BED_SYSTEM_US, &bed_paper_letter },
    { "en_US.utf8", BED_SYSTEM_METRIC, &bed_paper_letter },
    { "en_CA.utf8", BED_SYSTEM_METRIC, &bed_paper_letter },
    { "es_MX.utf8", BED_SYSTEM_METRIC, &bed_paper_letter },
    { "es_CO.utf8", BED_SYSTEM_METRIC, &bed_paper_letter },
    { "tl_PH.utf8", BED_SYSTEM_METRIC, &bed_paper_letter },
    { "de_DE.utf8", BED_SYSTEM_METRIC, &bed_paper_a4 },
    { "ja_JP.utf8", BED_SYSTEM_METRIC, &bed_paper_a4 },
    { "en_GB.utf8", BED_SYSTEM_US, &bed_paper_a4 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (usual); i++)
    {
      g_assert_nonnull (setlocale (LC_PAPER, usual[i].locale));
      BedPaper paper = bed_paper_usual (usual[i].system);
      g_test_message ("%s", usual[i].locale);
      g_assert_cmpfloat (paper.width, ==, usual[i].paper->width);
      g_assert_cmpfloat (paper.height, ==, usual[i].paper->height);
    }
  setlocale (LC_PAPER, "C");
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
#define ADD(path, test) g_test_add ("/document/" path, Fixture, NULL, set_up, test, tear_down)
  ADD ("stable", test_stable);
  ADD ("png", test_png);
  ADD ("svg", test_svg);
  ADD ("failure", test_failure);
  ADD ("no-folder", test_no_folder);
  ADD ("full", test_full);
  g_test_add_func ("/document/usual-paper", test_usual_paper);
  return g_test_run ();
}
