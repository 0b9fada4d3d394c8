/* Hostile text on paper and in the workbook: read back by programs that are not ours. */
#include "plant.h"

#include <glib/gstdio.h>
#include <string.h>

#include "../print/read_back.h"
#include "app/paper/papers.h"
#include "report/workbook.h"

#define DPI 203

static const struct
{
  BedPrint what;
  BedKind kind;
} prints[] = {
  { BED_PRINT_TAGS, BED_KIND_BATCH },        { BED_PRINT_TAG, BED_KIND_LOG },
  { BED_PRINT_GUIDE, BED_KIND_BATCH },       { BED_PRINT_INOCULATION, BED_KIND_BATCH },
  { BED_PRINT_WEIGHING, BED_KIND_BATCH },    { BED_PRINT_TALLY, BED_KIND_FELLING },
  { BED_PRINT_MEASURING, BED_KIND_FELLING }, { BED_PRINT_SPAWN, BED_KIND_SPAWN },
  { BED_PRINT_MAP, BED_KIND_AREA },          { BED_PRINT_SIGN, BED_KIND_STACK },
  { BED_PRINT_SIGNS, BED_KIND_AREA },        { BED_PRINT_MOVES, BED_KIND_STACK },
  { BED_PRINT_CRATES, BED_KIND_LOT },        { BED_PRINT_PICKING, BED_KIND_STACK },
};

typedef struct
{
  Plant plant;
  GPtrArray *sheets;
  char *texts;
} Desk;

static void
set_up (Desk *desk, gconstpointer data)
{
  plant_set_up (&desk->plant, NULL);
  desk->sheets = bed_sheet_list_new ();
  desk->texts = plant_write_texts (desk->plant.scene.folder);
}

static void
tear_down (Desk *desk, gconstpointer data)
{
  g_ptr_array_unref (desk->sheets);
  g_free (desk->texts);
  plant_tear_down (&desk->plant, NULL);
}

static BedDocument *
make_paper (Desk *desk, guint at, guint text)
{
  BedPrintOffer offer = { prints[at].what, desk->plant.ids[text][prints[at].kind], NULL, NULL };
  BedPrintChoice choice
      = { .sheet = bed_sheet_list_find (desk->sheets, "a4-1x2", NULL), .copies = 1 };
  g_autoptr (GError) error = NULL;
  BedDocument *paper = bed_print_make (desk->plant.scene.farm, &offer, &choice, &error);

  g_assert_no_error (error);
  return paper;
}

/* FALSE when a text is too long for its place on that paper, which is said with the text as it
 * is. */
static gboolean
has_room (BedDocument *paper)
{
  g_autoptr (GError) error = NULL;

  if (bed_document_check (paper, &error))
    return TRUE;
  g_assert_error (error, BED_PRINT_ERROR, BED_PRINT_ERROR_TEXT);
  plant_check ("refused", error->message);
  return FALSE;
}

static char *
dup_path (Desk *desk, const char *name)
{
  return g_build_filename (desk->plant.scene.folder, name, NULL);
}

/* Whatever is printed of each text as PDF. */
static void
test_pdf (Desk *desk, gconstpointer data)
{
  guint n = 0;

  for (guint at = 0; at < G_N_ELEMENTS (prints); at++)
    {
      guint of_print = 0, refused = 0;

      for (guint text = 0; text < plant_n_texts (); text++)
        {
          g_autofree char *path = dup_path (desk, "paper.pdf");
          g_autoptr (BedDocument) paper = make_paper (desk, at, text);
          g_autoptr (GError) error = NULL;

          if (!has_room (paper))
            {
              refused++;
              continue;
            }
          bed_document_write_pdf (paper, path, "2026-05-12T09:00", &error);
          g_assert_no_error (error);
          of_print += plant_follow ("paper", desk->texts, path, NULL);
        }
      g_test_message ("%s: %u fields and texts, %u papers without room",
                      bed_print_title (prints[at].what), of_print, refused);
      g_assert_cmpuint (refused, <, plant_n_texts ());
      n += of_print;
    }
  g_assert_cmpuint (n, >, 200);
}

/* The same pages as drawings. */
static void
test_svg (Desk *desk, gconstpointer data)
{
  for (guint text = 0; text < plant_n_texts (); text++)
    {
      g_autofree char *path = dup_path (desk, "paper.svg");
      g_autoptr (BedDocument) paper = make_paper (desk, text % G_N_ELEMENTS (prints), text);
      g_autoptr (GError) error = NULL;

      if (!has_room (paper))
        continue;
      bed_document_write_svg (paper, 0, path, &error);
      g_assert_no_error (error);
      plant_follow ("drawing", desk->texts, path, NULL);
    }
}

/* The code on a tag is the log's, letter by letter. */
static void
test_codes (Desk *desk, gconstpointer data)
{
  const BedSheet *sheet = bed_sheet_list_find (desk->sheets, "a4-1x2", NULL);
  const BedSheetPlace place = { 1, 0, 0 };
  BedBox box = bed_sheet_get_label_box (sheet, &place, 0);
  g_autoptr (GArray) boxes = g_array_new (FALSE, FALSE, sizeof (BedBox));
  guint n = 0;

  if (!read_back_possible ())
    return;
  g_array_append_val (boxes, box);
  for (guint text = 0; text < plant_n_texts (); text++)
    {
      g_autofree char *path = dup_path (desk, "paper.pdf");
      g_autofree char *code = plant_dup_planted (BED_KIND_LOG, "code", text);
      g_autoptr (BedDocument) paper = make_paper (desk, 1, text);
      g_autoptr (GPtrArray) codes = NULL;
      cairo_surface_t *page;

      g_assert_true (bed_document_write_pdf (paper, path, "2026-05-12T09:00", NULL));
      page = read_back_render (path, 0, DPI);
      codes = read_back_codes (page, DPI, boxes, READ_CLEAN, 1);
      cairo_surface_destroy (page);
      g_assert_cmpuint (codes->len, ==, 1);
      g_assert_cmpstr (codes->pdata[0], ==, code);
      n++;
    }
  g_test_message ("%u codes read back", n);
  g_assert_cmpuint (n, >, 30);
}

static guint
follow_book (Desk *desk, int season)
{
  g_autofree char *path = dup_path (desk, "season.xlsx");
  const BedWorkbookPlan plan = { .season = season, .path = path };
  g_autoptr (GError) error = NULL;

  bed_workbook_write (desk->plant.scene.farm, &plan, &error);
  g_assert_no_error (error);
  return plant_follow ("book", desk->texts, path, NULL);
}

/* Cells of text, no formula, no link; under the name of each farm. */
static void
test_book (Desk *desk, gconstpointer data)
{
  guint n = follow_book (desk, 2026);

  g_test_message ("%u fields and texts in the workbook", n);
  g_assert_cmpuint (n, >, 20 * plant_n_texts ());
  for (guint text = 1; text < plant_n_texts (); text++)
    {
      plant_rename_farm (&desk->plant, text);
      g_assert_cmpuint (follow_book (desk, 2026), >=, n - 3);
    }
}

/* Another program opens it, works it out anew and comes to the same. */
static void
test_recalculated (Desk *desk, gconstpointer data)
{
  g_autofree char *path = dup_path (desk, "season.xlsx");
  g_autofree char *again = dup_path (desk, "again.xlsx");
  g_autofree char *said = NULL;
  g_autoptr (GError) error = NULL;
  int status;

  follow_book (desk, 2026);
  const char *recalculate[] = { g_getenv ("BEDLOG_RECALCULATE"), path, again, NULL };
  const char *same[]
      = { g_getenv ("BEDLOG_PYTHON"), g_getenv ("BEDLOG_XLSX_CHECK"), "same", path, again, NULL };
  g_spawn_sync (NULL, (char **) recalculate, NULL, G_SPAWN_DEFAULT, NULL, NULL, NULL, NULL, &status,
                &error);
  g_assert_no_error (error);
  g_assert_cmpint (status, ==, 0);
  g_spawn_sync (NULL, (char **) same, NULL, G_SPAWN_DEFAULT, NULL, NULL, &said, NULL, &status,
                &error);
  g_assert_no_error (error);
  g_test_message ("%s", said);
  g_assert_cmpint (status, ==, 0);
  plant_follow ("book", desk->texts, again, NULL);
}

#define ADD(name, function)                                                                        \
  g_test_add ("/plant/papers/" name, Desk, NULL, set_up, function, tear_down)

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  ADD ("pdf", test_pdf);
  ADD ("svg", test_svg);
  ADD ("codes", test_codes);
  ADD ("book", test_book);
  ADD ("recalculated", test_recalculated);
  return g_test_run ();
}
