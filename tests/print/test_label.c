#include "print/label/label.h"

#include <cairo-pdf.h>
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

static void
write_pdf (Fixture *f, BedLabels *labels, const BedSheet *sheet, const BedSheetPlace *place)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BedDocument) document = bed_labels_document_new (labels, sheet, place, &error);

  g_assert_no_error (error);
  bed_document_write_pdf (document, f->pdf, "2026-05-18T12:00", &error);
  g_assert_no_error (error);
}

/* The codes of the labels on a page, as another program reads them. */
static void
check_codes (cairo_surface_t *page, double dpi, GArray *boxes, ReadHow how, GPtrArray *expected)
{
  static const char *const hows[READ_N_HOWS] = { "clean", "turned", "blurred" };
  g_autoptr (GPtrArray) codes = read_back_codes (page, dpi, boxes, how, expected->len);

  g_test_message ("%g dpi, %s: %u of %u codes", dpi, hows[how], codes->len, expected->len);
  for (guint i = 0; i < MIN (codes->len, expected->len); i++)
    g_assert_cmpstr (codes->pdata[i], ==, expected->pdata[i]);
  g_assert_cmpuint (codes->len, ==, expected->len);
}

static GArray *
get_boxes (const BedSheet *sheet, const BedSheetPlace *place, guint n)
{
  GArray *boxes = g_array_new (FALSE, FALSE, sizeof (BedBox));

  for (guint i = 0; i < n; i++)
    {
      BedBox box = bed_sheet_get_label_box (sheet, place, i);
      g_array_append_val (boxes, box);
    }
  return boxes;
}

/* In each way at the coarsest, with -m slow at each fineness. */
static void
check_page (Fixture *f, const BedSheet *sheet, GPtrArray *expected)
{
  static const double dpis[] = { 150, 200, 300 };
  g_autoptr (GArray) boxes = get_boxes (sheet, NULL, expected->len);

  g_test_message ("%s", sheet->key);
  for (gsize d = 0; d < (g_test_slow () ? G_N_ELEMENTS (dpis) : 1); d++)
    {
      cairo_surface_t *page = read_back_render (f->pdf, 0, dpis[d]);
      for (ReadHow how = READ_CLEAN; how < READ_N_HOWS; how++)
        check_codes (page, dpis[d], boxes, how, expected);
      cairo_surface_destroy (page);
    }
}

/* --- the four kinds with four sorts of text --------------------------------------------- */

typedef enum
{
  SORT_PLAIN,
  SORT_LONG,
  SORT_OTHER, /* letters that are not Latin */
  SORT_EMPTY, /* nothing but what must be there */
  N_SORTS
} Sort;

#define LONG_NAME "The farm on the long hill behind the old mill by the ford"

static const BedLogTag tags[N_SORTS] = {
  { "26A-017-K", "Northern red oak", "Alder Run 7", "18 Apr 2026" },
  { "26AB-1017-K", "Swamp chestnut oak of the lower wood", "Alder Run 7, wide-range, second year",
    "18 September 2026" },
  { "26A-018-O", "Дуб красный", "Ольха 7", "18 апр. 2026" },
  { .code = "26A-019-3" },
};

static const BedStackSign signs[N_SORTS] = {
  { "Crib 4", "26A, 26B", "Shiitake", "Alder Run 7", "Northern red oak", "18 Apr 2026",
    "Crib 4 · 26A", "48 logs", "Fernhollow" },
  { "The long crib under the old firs", "26A, 26B, 26C, 26D, 25A, 25B", "Shiitake, Oyster",
    "Alder Run 7, wide-range, Hollow 1, Fernside 12", "Northern red oak, Swamp chestnut oak",
    "18 Apr 2026 – 2 May 2026", "The long crib under the old firs · 26A, 26B", "1,248 logs",
    LONG_NAME },
  { "Клетка 4", "26A", "Шиитаке", "Ольха 7", "Дуб красный", "18 апр. 2026", "Клетка 4 · 26A",
    "48 брёвен", "Папоротник" },
  { .name = "Crib 5" },
};

static const BedCrateLabel crates[N_SORTS] = {
  { "L260518-1-C", "Shiitake", "Lentinula edodes", "6.6 lb (3.00 kg)", "18 May 2026", "19 May 2026",
    "Fernhollow", "12 Mill Lane, Upper Fernhollow", "555 0100", "Keep cold, 34 to 39 °F",
    "Certified organic by Leafmark, no. 00-1234", "36.00 USD" },
  { "L260518-12-C", "Shiitake, Oyster, Lion's mane", "Lentinula edodes, Pleurotus ostreatus",
    "26 lb 7 1/2 oz (12.01 kg)", "18 May 2026 – 20 May 2026", "21 May 2026", LONG_NAME,
    "Second farm track on the left, 112 Mill Lane, Upper Fernhollow, 00012",
    "555 0100, 555 0101, office@fernhollow.example", "Keep cold, 34 to 39 °F",
    "Certified organic by Leafmark of the Seven Valleys, no. 00-1234-5678", "1,036.00 USD" },
  { "L260518-2-5", "Шиитаке", "Lentinula edodes", "3,00 кг", "18 мая 2026", "19 мая 2026",
    "Папоротник", "Мельничная ул., 12", "555 0100", "Хранить в холоде, 1–4 °C", NULL, "36.00 EUR" },
  { .lot = "L260518-3-8" },
};

static const BedSpawnLabel spawns[N_SORTS] = {
  { "S26-1", "Alder Run 7", "Shiitake", "Hollow Spawn", "HS-2231", "Sawdust", "2.5 kg",
    "2 Mar 2026", "20 May 2026", "Organic" },
  { "S26-112", "Alder Run 7, wide-range, second year", "Shiitake", LONG_NAME,
    "HS-2231-2026-03-02-B", "Sawdust", "112.5 kg", "12 March 2026", "20 September 2026",
    "Organic" },
  { "S26-2", "Ольха 7", "Шиитаке", "Папоротник", "П-22", "Опилки", "2,5 кг", "2 мар. 2026",
    "20 мая 2026", NULL },
  { .code = "S26-3" },
};

static void
add_label (BedLabels *labels, BedLabelUse use, Sort sort)
{
  if (use == BED_LABEL_TAG)
    bed_labels_add_log_tag (labels, &tags[sort]);
  else if (use == BED_LABEL_SIGN)
    bed_labels_add_stack_sign (labels, &signs[sort]);
  else if (use == BED_LABEL_CRATE)
    bed_labels_add_crate_label (labels, &crates[sort]);
  else
    bed_labels_add_spawn_label (labels, &spawns[sort]);
}

static const char *
get_code (BedLabelUse use, Sort sort)
{
  return use == BED_LABEL_TAG     ? tags[sort].code
         : use == BED_LABEL_SIGN  ? signs[sort].name
         : use == BED_LABEL_CRATE ? crates[sort].lot
                                  : spawns[sort].code;
}

/* The smallest label that is offered for @use. */
static const BedSheet *
find_least (Fixture *f, BedLabelUse use)
{
  const BedSheet *least = NULL;

  for (guint i = 0; i < f->sheets->len; i++)
    {
      const BedSheet *sheet = f->sheets->pdata[i];
      if (bed_label_use_check_sheet (use, sheet, NULL)
          && (!least
              || sheet->label_width * sheet->label_height
                     < least->label_width * least->label_height))
        least = sheet;
    }
  g_assert_nonnull (least);
  return least;
}

static int
compare_cb (gconstpointer a, gconstpointer b)
{
  return g_strcmp0 (*(char **) a, *(char **) b);
}

/* One of each sort with the first letters that every label of the sheet has. */
static void
check_read (Fixture *f, BedLabelUse use, const BedSheet *sheet)
{
  guint n = MIN (sheet->columns * sheet->rows, N_SORTS);

  for (Sort first = SORT_PLAIN; first < N_SORTS; first += n)
    {
      g_autoptr (GPtrArray) expected = g_ptr_array_new ();
      BedLabels *labels = bed_labels_new ("Codes");

      for (Sort sort = first; sort < MIN (first + n, N_SORTS); sort++)
        {
          add_label (labels, use, sort);
          g_ptr_array_add (expected, (gpointer) get_code (use, sort));
        }
      g_ptr_array_sort (expected, compare_cb);
      write_pdf (f, labels, sheet, NULL);
      check_page (f, sheet, expected);
    }
}

/* On the smallest labels that are offered for it each use's codes are read; with -m slow, on every
 * sheet (./dev codes). */
static void
test_read_back (Fixture *f, gconstpointer data)
{
  if (!read_back_possible ())
    return;
  for (BedLabelUse use = 0; use < BED_N_LABEL_USES; use++)
    {
      if (!g_test_slow ())
        check_read (f, use, find_least (f, use));
      for (guint i = 0; i < f->sheets->len && g_test_slow (); i++)
        if (bed_label_use_check_sheet (use, f->sheets->pdata[i], NULL))
          check_read (f, use, f->sheets->pdata[i]);
    }
}

/* Begun at label 5 with an offset, the codes lie where the sheet says. */
static void
test_place (Fixture *f, gconstpointer data)
{
  const BedSheet *sheet = get_sheet (f, "a4-2x5");
  const BedSheetPlace place = { 5, 1.5, -1 };
  g_autoptr (GPtrArray) expected = g_ptr_array_new ();
  BedLabels *labels = bed_labels_new ("One of each");

  if (!read_back_possible ())
    {
      bed_labels_free (labels);
      return;
    }
  for (BedLabelUse use = 0; use < BED_N_LABEL_USES; use++)
    {
      add_label (labels, use, SORT_PLAIN);
      g_ptr_array_add (expected, (gpointer) get_code (use, SORT_PLAIN));
    }
  g_ptr_array_sort (expected, compare_cb);
  write_pdf (f, labels, sheet, &place);
  g_autoptr (GArray) boxes = get_boxes (sheet, &place, expected->len);
  cairo_surface_t *page = read_back_render (f->pdf, 0, 200);
  check_codes (page, 200, boxes, READ_CLEAN, expected);
  cairo_surface_destroy (page);
}

/* --- measured ---------------------------------------------------------------------------- */

typedef struct
{
  double left, top, right, bottom;
  char *text;
} Word;

static void
clear_word (gpointer data)
{
  g_free (((Word *) data)->text);
}

/* The words of each page (GArray of Word) as poppler finds them. */
static GPtrArray *
read_words (const char *pdf)
{
  const char *argv[] = { "pdftotext", "-bbox", pdf, "-", NULL };
  g_autofree char *output = NULL;
  g_autoptr (GError) error = NULL;
  GPtrArray *pages = g_ptr_array_new_with_free_func ((GDestroyNotify) g_array_unref);

  g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &output, NULL, NULL,
                &error);
  g_assert_no_error (error);
  g_auto (GStrv) lines = g_strsplit (output, "\n", -1);
  for (guint i = 0; lines[i]; i++)
    {
      Word word = { 0 };
      char text[300];

      if (strstr (lines[i], "<page "))
        {
          GArray *words = g_array_new (FALSE, FALSE, sizeof (Word));
          g_array_set_clear_func (words, clear_word);
          g_ptr_array_add (pages, words);
        }
      if (sscanf (lines[i], " <word xMin=\"%lf\" yMin=\"%lf\" xMax=\"%lf\" yMax=\"%lf\">%299[^<]",
                  &word.left, &word.top, &word.right, &word.bottom, text)
          != 5)
        continue;
      word.text = g_strdup (text);
      g_array_append_val (pages->pdata[pages->len - 1], word);
    }
  return pages;
}

static const Word *
find_word (GArray *words, const char *text)
{
  for (guint i = 0; i < words->len; i++)
    if (strcmp (g_array_index (words, Word, i).text, text) == 0)
      return &g_array_index (words, Word, i);
  return NULL;
}

/* A page with one label on it. */
typedef struct
{
  BedLabelUse use;
  Sort sort;
  const BedSheet *sheet;
  char *note;
} Case;

static void
clear_case (gpointer data)
{
  g_free (((Case *) data)->note);
}

/* The first words of what a label says, from the top: the plain one and the long one. */
static const char *const orders[BED_N_LABEL_USES][2][12] = {
  [BED_LABEL_TAG]
  = { { "26A-017-K", "Alder", "Northern", "Apr" }, { "26AB-1017-K", "Alder", "Swamp" } },
  [BED_LABEL_SIGN] = { { "Crib", "Shiitake", "Alder", "Northern", "Inoculated", "group", "48" },
                       { "long", "Shiitake,", "Alder", "Inoculated", "group", "1,248" } },
  [BED_LABEL_CRATE]
  = { { "Shiitake", "edodes", "Net", "Lot", "Picked", "Packed", "Keep", "Fernhollow", "Mill",
        "0100", "Certified", "36.00" },
      { "Shiitake,", "Net", "Lot", "Picked", "Packed", "Keep", "behind", "Second", "Certified" } },
  [BED_LABEL_SPAWN]
  = { { "Run", "Lot", "Use", "Sawdust", "Organic", "Hollow", "Their", "Received" },
      { "Run", "Lot", "Use", "Sawdust", "Organic", "Their", "Received" } },
};

/* Page 0 is a word of 7 points and one of 10, to measure the others by. */
static void
check_sizes (GPtrArray *pages, guint page, const Case *c)
{
  GArray *words = pages->pdata[page];
  const Word *seven = find_word (pages->pdata[0], "Seven"),
             *ten = find_word (pages->pdata[0], "Tenth");
  const char *large[] = { "Net", "Lot", "kg)", get_code (c->use, c->sort) };

  for (guint i = 0; i < words->len; i++)
    {
      const Word *word = &g_array_index (words, Word, i);
      if (word->bottom - word->top < (seven->bottom - seven->top) * 0.99)
        g_error ("%s, %s: “%s” is smaller than 7 pt", c->sheet->key,
                 bed_label_use_get_word (c->use), word->text);
    }
  for (gsize i = 0; i < G_N_ELEMENTS (large) && c->use == BED_LABEL_CRATE; i++)
    {
      const Word *word = find_word (words, large[i]);
      if (word && word->bottom - word->top < (ten->bottom - ten->top) * 0.99)
        g_error ("%s: “%s” is smaller than 10 pt", c->sheet->key, large[i]);
    }
}

/* Letters keep to the label, and to themselves: boxes reach from the highest to the lowest of the
 * font, which letters do not. */
static void
check_boxes (GArray *words, const Case *c)
{
  BedBox box = bed_sheet_get_label_box (c->sheet, NULL, 0);

  for (guint i = 0; i < words->len; i++)
    {
      const Word *a = &g_array_index (words, Word, i);
      double trim = (a->bottom - a->top) * 0.22;

      if (a->left < box.x || a->right > box.x + box.width || a->top + trim < box.y
          || a->bottom - trim > box.y + box.height)
        g_error ("%s, %s: “%s” is outside of its label", c->sheet->key,
                 bed_label_use_get_word (c->use), a->text);
      for (guint k = i + 1; k < words->len; k++)
        {
          const Word *b = &g_array_index (words, Word, k);
          double trim_b = (b->bottom - b->top) * 0.22;
          if (a->left + 0.3 < b->right && b->left + 0.3 < a->right
              && a->top + trim < b->bottom - trim_b && b->top + trim_b < a->bottom - trim)
            g_error ("%s, %s: “%s” lies over “%s”", c->sheet->key, bed_label_use_get_word (c->use),
                     a->text, b->text);
        }
    }
}

/* From the top down, in one row from the left; what is missing was said. */
static void
check_lines (GArray *words, const Case *c)
{
  const Word *last = NULL;
  guint missing = 0;

  if (c->sort > SORT_LONG)
    return;
  for (guint i = 0; i < 12 && orders[c->use][c->sort][i]; i++)
    {
      const Word *word = find_word (words, orders[c->use][c->sort][i]);

      missing += !word;
      if (last && word && word->bottom < last->bottom + 0.5
          && !(fabs (word->bottom - last->bottom) < 0.5 && word->left > last->left))
        g_error ("%s, %s: “%s” stands before “%s”", c->sheet->key, bed_label_use_get_word (c->use),
                 word->text, last->text);
      last = word ? word : last;
    }
  if (missing && !c->note)
    g_error ("%s, %s: %u lines are left out, and nothing says so", c->sheet->key,
             bed_label_use_get_word (c->use), missing);
}

/* Nothing that a buyer or an inspector needs is ever left out. */
static void
check_stays (GArray *words, const Case *c)
{
  static const char *const stays[] = { "Net", "Lot", "kg)", "Keep", "Certified" };

  for (gsize i = 0; i < G_N_ELEMENTS (stays) && c->use == BED_LABEL_CRATE && c->sort <= SORT_LONG;
       i++)
    if (!find_word (words, stays[i]))
      g_error ("%s: a crate without “%s”", c->sheet->key, stays[i]);
}

/* Draws one label on a page of @pdf; FALSE where the label is refused, which only a long text may
 * be. */
static gboolean
draw_case (cairo_surface_t *pdf, cairo_t *cr, Case *c)
{
  g_autoptr (GError) error = NULL;
  BedLabels *labels = bed_labels_new ("Measured");

  add_label (labels, c->use, c->sort);
  g_autoptr (BedDocument) document = bed_labels_document_new (labels, c->sheet, NULL, &error);
  g_assert_no_error (error);
  if (!bed_document_check (document, &error))
    {
      g_test_message ("%s", error->message);
      g_assert_cmpint (c->sort, ==, SORT_LONG);
      return FALSE;
    }
  const BedPaper *paper = bed_document_get_paper (document);
  cairo_pdf_surface_set_size (pdf, paper->width, paper->height);
  g_assert_true (bed_document_draw (document, cr, 0, &error));
  cairo_show_page (cr);
  c->note = bed_document_dup_note (document);
  return TRUE;
}

static void
draw_measure (cairo_t *cr)
{
  g_autoptr (BedTypesetter) type = bed_typesetter_new ();

  bed_text_show (type, cr, "Seven", BED_WEIGHT_REGULAR, 7, 20, 20);
  bed_text_show (type, cr, "Tenth", BED_WEIGHT_REGULAR, 10, 20, 50);
  cairo_show_page (cr);
}

/* Every sheet that is offered for a use, with every sort of text. */
static GArray *
draw_cases (Fixture *f)
{
  cairo_surface_t *pdf = cairo_pdf_surface_create (f->pdf, 300, 300);
  cairo_t *cr = cairo_create (pdf);
  GArray *cases = g_array_new (FALSE, FALSE, sizeof (Case));

  g_array_set_clear_func (cases, clear_case);
  draw_measure (cr);
  for (guint i = 0; i < f->sheets->len; i++)
    for (BedLabelUse use = 0; use < BED_N_LABEL_USES; use++)
      for (Sort sort = 0; sort < N_SORTS; sort++)
        {
          Case c = { use, sort, f->sheets->pdata[i], NULL };
          if (bed_label_use_check_sheet (use, c.sheet, NULL) && draw_case (pdf, cr, &c))
            g_array_append_val (cases, c);
        }
  cairo_destroy (cr);
  cairo_surface_finish (pdf);
  cairo_surface_destroy (pdf);
  return cases;
}

static void
test_measured (Fixture *f, gconstpointer data)
{
  if (!read_back_possible ())
    return;
  g_autoptr (GArray) cases = draw_cases (f);
  g_autoptr (GPtrArray) pages = read_words (f->pdf);
  guint left_out = 0;

  g_assert_cmpuint (pages->len, ==, cases->len + 1);
  for (guint i = 0; i < cases->len; i++)
    {
      const Case *c = &g_array_index (cases, Case, i);
      GArray *words = pages->pdata[i + 1];

      g_assert_cmpuint (words->len, >, 0);
      check_sizes (pages, i + 1, c);
      check_boxes (words, c);
      check_lines (words, c);
      check_stays (words, c);
      left_out += c->note != NULL;
    }
  g_test_message ("%u labels, %u with something left out", cases->len, left_out);
  g_assert_cmpuint (cases->len, >, 200);
  g_assert_cmpuint (left_out, >, 0);
}

/* A long farm name makes neither the code nor another line smaller, nor its neighbour's code. */
static void
test_long_name (Fixture *f, gconstpointer data)
{
  g_autoptr (BedTypesetter) type = bed_typesetter_new ();
  BedSheet sheet = { NULL, (char *) "sheet", 100, 50, 1, 1, 100, 50, 100, 50, 0, 0 };
  BedBox box = bed_sheet_get_label_box (&sheet, NULL, 0);
  g_autoptr (GError) error = NULL;
  BedLabelFit short_fit, long_fit;
  BedLabel label = { .use = BED_LABEL_SIGN, .owner = "the sign", .headline = "Crib 4", .qr = "C" };

  bed_label_add_line (&label, &(BedLabelLine){ .text = "Alder Run 7" });
  bed_label_add_line (&label, &(BedLabelLine){ .text = "Farm", .rank = 1 });
  g_assert_true (bed_label_fit (&label, type, &box, NULL, &short_fit, &error));
  label.lines[1].text = LONG_NAME;
  g_assert_true (bed_label_fit (&label, type, &box, NULL, &long_fit, &error));
  g_assert_no_error (error);
  g_assert_cmpfloat_with_epsilon (short_fit.headline, long_fit.headline, 1e-9);
  g_assert_cmpfloat (short_fit.headline, >, 30);
}

/* A code of one letter more than its neighbours' makes all of them as small, on one line. */
static void
test_neighbours (Fixture *f, gconstpointer data)
{
  BedLabels *labels = bed_labels_new ("Tags");
  const BedSheet *sheet = get_sheet (f, "letter-3x10");

  if (!read_back_possible ())
    {
      bed_labels_free (labels);
      return;
    }
  bed_labels_add_log_tag (labels, &(BedLogTag){ .code = "26A-017-K", .strain = "Alder Run 7" });
  bed_labels_add_log_tag (labels, &tags[SORT_LONG]);
  bed_labels_add_log_tag (labels, &(BedLogTag){ .code = "26A-019-3" });
  write_pdf (f, labels, sheet, NULL);
  g_autoptr (GPtrArray) pages = read_words (f->pdf);
  const Word *a = find_word (pages->pdata[0], "26A-017-K"),
             *b = find_word (pages->pdata[0], "26AB-1017-K");
  const Word *c = find_word (pages->pdata[0], "26A-019-3");
  g_assert_true (a && b && c);
  g_assert_cmpfloat_with_epsilon (a->bottom, b->bottom, 0.01);
  g_assert_cmpfloat_with_epsilon (a->top, b->top, 0.01);
  g_assert_cmpfloat_with_epsilon (a->bottom, c->bottom, 0.01);
}

/* What gives way is told, with how often. */
static void
test_left_out (Fixture *f, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  BedLabels *labels = bed_labels_new ("Tags");

  bed_labels_add_log_tag (labels, &tags[SORT_PLAIN]);
  bed_labels_add_log_tag (labels, &tags[SORT_PLAIN]);
  g_autoptr (BedDocument) document
      = bed_labels_document_new (labels, get_sheet (f, "a4-5x16"), NULL, &error);
  g_assert_true (bed_document_check (document, &error));
  g_assert_no_error (error);
  g_autofree char *note = bed_document_dup_note (document);
  g_assert_nonnull (note);
  g_assert_nonnull (strstr (note, "the day of inoculation (on 2 labels)"));
}

/* Letters that no font has would be boxes: that is said. U+E0xx is for private use. */
static void
test_missing_letters (Fixture *f, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  BedLabels *labels = bed_labels_new ("Tags");

  bed_labels_add_log_tag (labels, &tags[SORT_PLAIN]);
  bed_labels_add_log_tag (labels, &(BedLogTag){ .code = "26A-018-O", .strain = "Run \uE0F1" });
  g_autoptr (BedDocument) document
      = bed_labels_document_new (labels, get_sheet (f, "a4-2x5"), NULL, &error);
  g_assert_true (bed_document_check (document, &error));
  g_assert_no_error (error);
  g_autofree char *note = bed_document_dup_note (document);
  g_assert_nonnull (note);
  g_assert_nonnull (strstr (note, "“Run \uE0F1”"));
  g_assert_null (strstr (note, "Alder"));
}

/* Signs are for large labels, crates for such as hold what must stand on them. */
static void
test_offered (Fixture *f, gconstpointer data)
{
  const struct
  {
    BedLabelUse use;
    const char *sheet;
    gboolean offered;
  } cases[] = {
    { BED_LABEL_SIGN, "letter-3x10", FALSE }, { BED_LABEL_SIGN, "letter-1x2", TRUE },
    { BED_LABEL_CRATE, "a4-3x7", FALSE },     { BED_LABEL_CRATE, "letter-2x5", TRUE },
    { BED_LABEL_TAG, "letter-4x20", FALSE },  { BED_LABEL_TAG, "a4-5x16", TRUE },
    { BED_LABEL_SPAWN, "a4-5x13", FALSE },    { BED_LABEL_SPAWN, "roll-62x29", TRUE },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;
      BedLabels *labels = bed_labels_new ("Labels");
      add_label (labels, cases[i].use, SORT_PLAIN);
      g_autoptr (BedDocument) document
          = bed_labels_document_new (labels, get_sheet (f, cases[i].sheet), NULL, &error);
      g_assert_true ((document != NULL) == cases[i].offered);
      if (!cases[i].offered)
        g_assert_error (error, BED_PRINT_ERROR, BED_PRINT_ERROR_SHEET);
    }
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

  bed_labels_add_crate_label (labels, &crates[SORT_PLAIN]);
  bed_labels_add_crate_label (
      labels, &(BedCrateLabel){ .lot = "L260518-4-X",
                                .mushroom = "Shiitake",
                                .farm = "Grubenholzstollenentwaesserungsgesellschaftsverwaltungs"
                                        "nebenstellenleitung" });
  check_refused (f, labels, get_sheet (f, "a4-3x4"), "L260518-4-X", "Grubenholz");
}

/* The longer what stands in a code, the larger its label must be. */
static void
test_refuses_code (Fixture *f, gconstpointer data)
{
  BedSheet sheet = { NULL, (char *) "narrow", 36, 17, 1, 1, 36, 17, 36, 17, 0, 0 };
  BedLabels *labels = bed_labels_new ("Tags");

  bed_labels_add_log_tag (
      labels,
      &(BedLogTag){ .code = "the log with a name that is about as long as a name can be, 80 letters"
                            " or nearly so" });
  check_refused (f, labels, &sheet, "as long as", "QR code");
}

static void
test_nothing (Fixture *f, gconstpointer data)
{
  g_autoptr (GError) error = NULL;

  g_assert_null (
      bed_labels_document_new (bed_labels_new (NULL), get_sheet (f, "a4-3x8"), NULL, &error));
  g_assert_error (error, BED_PRINT_ERROR, BED_PRINT_ERROR_EMPTY);
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
      BedLabelFit fit;
      BedBox box
          = { 20, 20, g_test_rand_double_range (28, 300), g_test_rand_double_range (28, 300) };
      cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_A8, 342, 342);
      cairo_t *cr = cairo_create (surface);

      if (g_test_rand_bit ())
        label.tail = "-K";
      if (g_test_rand_bit () && pick_text ())
        label.headline = "A stack with a name";
      for (int n = g_test_rand_int_range (0, 7); n > 0; n--)
        bed_label_add_line (&label,
                            &(BedLabelLine){ .caption = g_test_rand_bit () ? "Caption" : NULL,
                                             .text = pick_text (),
                                             .weight = BED_WEIGHT_BOLD,
                                             .rank = (guint) g_test_rand_int_range (0, 4) });
      label.use = (BedLabelUse) g_test_rand_int_range (0, BED_N_LABEL_USES);
      if (bed_label_fit (&label, type, &box, NULL, &fit, &error))
        {
          bed_label_draw (&label, cr, type, &box, &fit, &error);
          g_assert_no_error (error);
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
  ADD ("place", test_place);
  ADD ("measured", test_measured);
  ADD ("long-name", test_long_name);
  ADD ("neighbours", test_neighbours);
  ADD ("left-out", test_left_out);
  ADD ("missing-letters", test_missing_letters);
  ADD ("offered", test_offered);
  ADD ("refuses-text", test_refuses_text);
  ADD ("refuses-code", test_refuses_code);
  ADD ("nothing", test_nothing);
  ADD ("never-overflows", test_never_overflows);
  return g_test_run ();
}
