/* Printing log tags: time and memory of one tag among 50 and among 5,000, and
 * the time against cairo alone drawing the same rectangles and text into a PDF.
 * Each run is a process of its own, so that the peak of memory is its own. */
#include <cairo-pdf.h>
#include <glib/gstdio.h>
#include <math.h>
#include <qrencode.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include "bench.h"
#include "print/label/label.h"

#define FEW 50
#define MANY 5000
#define RUNS 3

typedef struct
{
  double seconds;
  long kilobytes; /* most memory resident */
} Cost;

typedef void (*Job) (guint n, const char *path);

static char *
dup_code (guint i)
{
  return g_strdup_printf ("26A-%04u-%c", i + 1, "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"[i % 36]);
}

static void
print_tags (guint n, const char *path)
{
  g_autoptr (GPtrArray) sheets = bed_sheet_list_new ();
  g_autoptr (GError) error = NULL;
  BedLabels *labels = bed_labels_new ("Tags");

  for (guint i = 0; i < n; i++)
    {
      g_autofree char *code = dup_code (i);
      bed_labels_add_log_tag (
          labels, &(BedLogTag){ code, "Northern red oak", "Alder Run 7", "18 Apr 2026" });
    }
  g_autoptr (BedDocument) document = bed_labels_document_new (
      labels, bed_sheet_list_find (sheets, "letter-3x10", NULL), NULL, &error);
  if (!document || !bed_document_write_pdf (document, path, "2026-05-18T12:00", &error))
    g_error ("%s", error->message);
}

static void
show (cairo_t *cr, const char *text, cairo_font_weight_t weight, double size, double x, double y)
{
  cairo_select_font_face (cr, "Cantarell", CAIRO_FONT_SLANT_NORMAL, weight);
  cairo_set_font_size (cr, size);
  cairo_move_to (cr, x, y);
  cairo_show_text (cr, text);
}

static void
draw_bare (cairo_t *cr, guint i, QRcode *qr)
{
  g_autofree char *code = dup_code (i);
  double x = 13 + i % 3 * 198, y = 36 + i / 3 % 10 * 72;

  code[8] = 0;
  show (cr, code, CAIRO_FONT_WEIGHT_BOLD, 20, x + 8, y + 25);
  code[8] = '-';
  show (cr, code + 8, CAIRO_FONT_WEIGHT_NORMAL, 20, x + 98, y + 25);
  show (cr, "Alder Run 7", CAIRO_FONT_WEIGHT_BOLD, 8, x + 8, y + 40);
  show (cr, "Northern red oak", CAIRO_FONT_WEIGHT_NORMAL, 8, x + 8, y + 50);
  show (cr, "18 Apr 2026", CAIRO_FONT_WEIGHT_NORMAL, 8, x + 8, y + 60);
  cairo_save (cr);
  cairo_translate (cr, x + 130, y + 12);
  cairo_scale (cr, 2.3, 2.3);
  cairo_set_antialias (cr, CAIRO_ANTIALIAS_NONE);
  for (int v = 0; v < qr->width; v++)
    for (int u = 0; u < qr->width; u++)
      {
        int from = u;

        while (u < qr->width && qr->data[v * qr->width + u] & 1)
          u++;
        if (u > from)
          cairo_rectangle (cr, from, v, u - from, 1);
      }
  cairo_fill (cr);
  cairo_restore (cr);
}

/* Made before the clock starts: cairo alone is rectangles and text, not encoding. */
static QRcode *codes[MANY];

static void
make_codes (void)
{
  for (guint i = 0; i < MANY; i++)
    {
      g_autofree char *code = dup_code (i);
      codes[i] = QRcode_encodeString (code, 0, QR_ECLEVEL_Q, QR_MODE_8, 1);
    }
}

static void
print_bare (guint n, const char *path)
{
  cairo_surface_t *surface = cairo_pdf_surface_create (path, 612, 792);
  cairo_t *cr = cairo_create (surface);

  for (guint i = 0; i < n; i++)
    {
      draw_bare (cr, i, codes[i]);
      if (i % 30 == 29 || i + 1 == n)
        cairo_show_page (cr);
    }
  cairo_destroy (cr);
  cairo_surface_finish (surface);
  if (cairo_surface_status (surface) != CAIRO_STATUS_SUCCESS)
    g_error ("cairo failed");
  cairo_surface_destroy (surface);
}

/* Fonts are found once in the process, before the clock starts. */
static void
run_here (Job job, guint n, const char *path, int to)
{
  Cost cost;
  struct rusage usage;

  job (1, path);
  gint64 start = g_get_monotonic_time ();
  job (n, path);
  cost.seconds = (g_get_monotonic_time () - start) / 1e6;
  getrusage (RUSAGE_SELF, &usage);
  cost.kilobytes = usage.ru_maxrss;
  if (write (to, &cost, sizeof cost) != sizeof cost)
    _exit (1);
  _exit (0);
}

static Cost
run (Job job, guint n, const char *path)
{
  int ends[2], status;
  Cost cost = { 0 };

  if (pipe (ends))
    g_error ("no pipe");
  pid_t child = fork ();
  if (child == 0)
    run_here (job, n, path, ends[1]);
  close (ends[1]);
  if (read (ends[0], &cost, sizeof cost) != sizeof cost)
    g_error ("a run failed");
  close (ends[0]);
  waitpid (child, &status, 0);
  return cost;
}

/* The fastest of some: the machine's other work only ever adds. */
static Cost
run_best (Job job, guint n, const char *path)
{
  Cost best = run (job, n, path);

  for (int i = 1; i < RUNS; i++)
    {
      Cost cost = run (job, n, path);
      if (cost.seconds < best.seconds)
        best = cost;
    }
  return best;
}

int
main (void)
{
  g_autofree char *path = NULL;

  g_close (g_file_open_tmp ("bedlog-bench-XXXXXX.pdf", &path, NULL), NULL);
  make_codes ();
  Cost few = run_best (print_tags, FEW, path), many = run_best (print_tags, MANY, path);
  Cost bare = run_best (print_bare, MANY, path);

  bench_row (&(BenchRow){ "labels", "a log tag among 5,000, beside cairo alone",
                          many.seconds / MANY * 1e6, bare.seconds / MANY * 1e6, "us" });
  bench_row (&(BenchRow){ "labels-few", "a log tag among 5,000, beside one among 50",
                          many.seconds / MANY * 1e6, few.seconds / FEW * 1e6, "us" });
  bench_row (&(BenchRow){ "labels-memory", "memory a further log tag takes",
                          (double) (many.kilobytes - few.kilobytes) / (MANY - FEW), NAN, "KiB" });
  g_unlink (path);
  return 0;
}
