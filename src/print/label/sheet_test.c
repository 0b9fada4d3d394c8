#include <glib/gi18n-lib.h>

#include "model/farm/say.h"
#include "print/page/sheet.h"
#include "print/page/text.h"

/* Inside a label, mm: from its edge to what is written on it. */
#define INSIDE 2.0

typedef struct
{
  BedSheet sheet;
  BedSheetPlace place;
  BedTypesetter *type;
  BedDocument *over; /* drawn on the outlines, or NULL */
} TestPage;

static TestPage *
new_page (const BedSheet *sheet, const BedSheetPlace *place, BedDocument *over)
{
  TestPage *test = g_new0 (TestPage, 1);

  test->sheet = *sheet;
  test->sheet.key = test->sheet.name = NULL;
  test->place = place ? *place : (BedSheetPlace){ 0 };
  test->type = bed_typesetter_new ();
  test->over = over;
  return test;
}

static void
free_test_page (gpointer data)
{
  TestPage *test = data;

  bed_document_free (test->over);
  bed_typesetter_free (test->type);
  g_free (test);
}

/* --- what is seen before it is printed --------------------------------------------------- */

/* A label that was used before: crossed out. */
static void
cross_out (cairo_t *cr, const BedBox *box)
{
  cairo_set_source_rgb (cr, 0.9, 0.9, 0.9);
  cairo_rectangle (cr, box->x, box->y, box->width, box->height);
  cairo_fill (cr);
  cairo_set_source_rgb (cr, 0.6, 0.6, 0.6);
  cairo_move_to (cr, box->x, box->y);
  cairo_line_to (cr, box->x + box->width, box->y + box->height);
  cairo_move_to (cr, box->x + box->width, box->y);
  cairo_line_to (cr, box->x, box->y + box->height);
  cairo_stroke (cr);
}

/* Labels where they lie on the sheet; what is printed is moved against them by the offset. */
static gboolean
draw_preview_cb (cairo_t *cr, guint page, gpointer data, GError **error)
{
  TestPage *test = data;
  const BedSheetPlace whole = { 1, 0, 0 };

  cairo_set_line_width (cr, 0.6);
  for (guint i = 0; i < test->sheet.columns * test->sheet.rows; i++)
    {
      BedBox box = bed_sheet_get_label_box (&test->sheet, &whole, i);
      g_autofree char *number = g_strdup_printf ("%u", i + 1);

      if (page == 0 && i + 1 < test->place.start)
        cross_out (cr, &box);
      cairo_set_source_rgb (cr, 0.6, 0.6, 0.6);
      cairo_rectangle (cr, box.x, box.y, box.width, box.height);
      cairo_stroke (cr);
      if (!test->over)
        bed_text_show (test->type, cr, number, BED_WEIGHT_REGULAR, 7, box.x + 3, box.y + 9);
    }
  cairo_set_source_rgb (cr, 0, 0, 0);
  return !test->over || bed_document_draw (test->over, cr, page, error);
}

/* --- the test page ----------------------------------------------------------------------- */

/* The bar, its ends upright, and how long it is. */
static gboolean
draw_bar (cairo_t *cr, TestPage *test, const BedBox *label, GError **error)
{
  double room = label->width / BED_POINTS_PER_MM - 2 * INSIDE;
  double length = room > 100 ? 100 : room > 50 ? 50 : room > 20 ? 20 : 5;
  double width = length * BED_POINTS_PER_MM;
  double x = label->x + (label->width - width) / 2, y = label->y + label->height / 2;
  g_autofree char *words = bed_say (_ ("%g mm"), length);
  BedTextStyle style = { 9, 4, 2, BED_WEIGHT_BOLD, BED_ALIGN_CENTRE };

  cairo_set_line_width (cr, 0.8);
  cairo_move_to (cr, x, y - 4);
  cairo_line_to (cr, x, y + 4);
  cairo_move_to (cr, x, y);
  cairo_line_to (cr, x + width, y);
  cairo_move_to (cr, x + width, y - 4);
  cairo_line_to (cr, x + width, y + 4);
  cairo_stroke (cr);
  return bed_text_draw (test->type, cr, words, &(BedBox){ x, y + 4, width, label->height / 2 - 4 },
                        &style, _ ("the test page"), error);
}

/* One label alone, the first that is left of the sheet: its outline, its number, a bar in it. */
static gboolean
draw_test_page_cb (cairo_t *cr, guint page, gpointer data, GError **error)
{
  TestPage *test = data;
  BedBox box = bed_sheet_get_label_box (&test->sheet, &test->place, 0);
  g_autofree char *number = g_strdup_printf ("%u", MAX (test->place.start, 1));

  cairo_set_line_width (cr, 0.4);
  cairo_rectangle (cr, box.x, box.y, box.width, box.height);
  cairo_stroke (cr);
  bed_text_show (test->type, cr, number, BED_WEIGHT_REGULAR, 7, box.x + INSIDE * BED_POINTS_PER_MM,
                 box.y + 7 + INSIDE);
  return draw_bar (cr, test, &box, error);
}

/* Public */

BedDocument *
bed_sheet_preview_new (const BedSheet *self, const BedSheetPlace *place, BedDocument *over)
{
  g_return_val_if_fail (self != NULL, NULL);

  return bed_document_new (
      &(BedDocumentSpec){ .title = _ ("Label sheet"),
                          .paper = bed_sheet_get_paper (self),
                          .n_pages = over ? bed_document_get_n_pages (over) : 1,
                          .draw = draw_preview_cb,
                          .data = new_page (self, place, over),
                          .free_data = free_test_page });
}

BedDocument *
bed_sheet_test_page_new (const BedSheet *self, const BedSheetPlace *place, GError **error)
{
  g_return_val_if_fail (self != NULL, NULL);

  if (!bed_sheet_check (self, error) || !bed_sheet_check_place (self, place, error))
    return NULL;
  return bed_document_new (&(BedDocumentSpec){ .title = _ ("Label test page"),
                                               .paper = bed_sheet_get_paper (self),
                                               .n_pages = 1,
                                               .draw = draw_test_page_cb,
                                               .data = new_page (self, place, NULL),
                                               .free_data = free_test_page });
}
