#include <glib/gi18n-lib.h>

#include "print/page/sheet.h"
#include "print/page/text.h"

typedef struct
{
  BedSheet sheet;
  BedSheetPlace place;
  BedTypesetter *type;
} TestPage;

static void
free_test_page (gpointer data)
{
  TestPage *test = data;

  bed_typesetter_free (test->type);
  g_free (test);
}

static void
draw_outlines (cairo_t *cr, TestPage *test)
{
  BedSheetPlace place = { 1, test->place.offset_x, test->place.offset_y };

  cairo_set_line_width (cr, 0.4);
  for (guint i = 0; i < test->sheet.columns * test->sheet.rows; i++)
    {
      BedBox box = bed_sheet_get_label_box (&test->sheet, &place, i);
      g_autofree char *number = g_strdup_printf ("%u", i + 1);

      cairo_rectangle (cr, box.x, box.y, box.width, box.height);
      cairo_stroke (cr);
      bed_text_show (test->type, cr, number, BED_WEIGHT_REGULAR, 7, box.x + 3, box.y + 9);
    }
}

/* The bar, its ends upright, and what it is for, on a white ground. */
static gboolean
draw_bar (cairo_t *cr, TestPage *test, GError **error)
{
  double page = test->sheet.page_width;
  double length = page > 110 ? 100 : page > 60 ? 50 : page > 30 ? 20 : 10;
  double width = length * BED_POINTS_PER_MM;
  double x = (page * BED_POINTS_PER_MM - width) / 2;
  double y = test->sheet.page_height * BED_POINTS_PER_MM / 2;
  g_autofree char *words = g_strdup_printf (_ ("%g mm"), length);
  BedTextStyle style = { 9, 4, 2, BED_WEIGHT_BOLD, BED_ALIGN_CENTRE };

  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_rectangle (cr, x - 2, y - 8, width + 4, 30);
  cairo_fill (cr);
  cairo_set_source_rgb (cr, 0, 0, 0);
  cairo_set_line_width (cr, 0.8);
  cairo_move_to (cr, x, y - 5);
  cairo_line_to (cr, x, y + 5);
  cairo_move_to (cr, x, y);
  cairo_line_to (cr, x + width, y);
  cairo_move_to (cr, x + width, y - 5);
  cairo_line_to (cr, x + width, y + 5);
  cairo_stroke (cr);
  return bed_text_draw (test->type, cr, words, &(BedBox){ x, y + 6, width, 14 }, &style,
                        _ ("the test page"), error);
}

static gboolean
draw_test_page_cb (cairo_t *cr, guint page, gpointer data, GError **error)
{
  draw_outlines (cr, data);
  return draw_bar (cr, data, error);
}

/* Public */

BedDocument *
bed_sheet_test_page_new (const BedSheet *self, const BedSheetPlace *place, GError **error)
{
  g_return_val_if_fail (self != NULL, NULL);

  if (!bed_sheet_check (self, error) || !bed_sheet_check_place (self, place, error))
    return NULL;
  TestPage *test = g_new0 (TestPage, 1);
  test->sheet = *self;
  test->sheet.key = test->sheet.name = NULL;
  test->place = place ? *place : (BedSheetPlace){ 0 };
  test->type = bed_typesetter_new ();
  return bed_document_new (&(BedDocumentSpec){ _ ("Label test page"), bed_sheet_get_paper (self), 1,
                                               draw_test_page_cb, test, free_test_page });
}
