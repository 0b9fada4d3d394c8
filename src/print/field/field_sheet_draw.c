#include <glib/gi18n-lib.h>

#include "print/field/field_sheet_private.h"

#define MM BED_POINTS_PER_MM

const BedTextStyle caution_style = { 8, 8, 8, BED_WEIGHT_REGULAR, BED_ALIGN_LEFT };

static const BedTextStyle title_style = { 19, 11, 1, BED_WEIGHT_BOLD, BED_ALIGN_LEFT };
static const BedTextStyle subtitle_style = { 9.5, 7, 1, BED_WEIGHT_REGULAR, BED_ALIGN_LEFT };
static const BedTextStyle label_style = { 7.5, 5.5, 1, BED_WEIGHT_REGULAR, BED_ALIGN_LEFT };
static const BedTextStyle value_style = { 11, 7, 2, BED_WEIGHT_BOLD, BED_ALIGN_LEFT };
static const BedTextStyle unit_style = { 8.5, 6, 1, BED_WEIGHT_REGULAR, BED_ALIGN_RIGHT };
static const BedTextStyle choice_style = { 8.5, 6.5, 2, BED_WEIGHT_REGULAR, BED_ALIGN_LEFT };
static const BedTextStyle foot_style = { 7.5, 6, 1, BED_WEIGHT_REGULAR, BED_ALIGN_LEFT };
static const BedTextStyle page_style = { 7.5, 6, 1, BED_WEIGHT_REGULAR, BED_ALIGN_RIGHT };
static const BedTextStyle care_style = { 8.5, 8.5, 1, BED_WEIGHT_BOLD, BED_ALIGN_LEFT };

static gboolean
write_text (const BedFieldSheet *self, cairo_t *cr, const char *text, BedBox box,
            const BedTextStyle *style, GError **error)
{
  return !text || bed_text_draw (self->type, cr, text, &box, style, self->title, error);
}

static gboolean
draw_title (const BedFieldSheet *self, cairo_t *cr, GError **error)
{
  double width = bed_field_sheet_get_width (self), code = self->code ? TITLE_HEIGHT : 0;
  BedBox box = { MARGIN, MARGIN - 5, width - code, 9 * MM };
  g_autoptr (BedQr) qr = NULL;

  if (self->code)
    {
      BedBox place = { MARGIN + width - code + 2 * MM, MARGIN - 4 * MM, code, code };

      qr = bed_qr_new (self->code, error);
      if (!qr || !bed_qr_draw (qr, cr, &place, self->title, error))
        return FALSE;
    }
  if (!write_text (self, cr, self->title, box, &title_style, error))
    return FALSE;
  box.y += 9 * MM;
  box.height = 6 * MM;
  return write_text (self, cr, self->subtitle, box, &subtitle_style, error);
}

static gboolean
draw_box (const BedFieldSheet *self, cairo_t *cr, const BedSheetBox *field, const BedBox *box,
          GError **error)
{
  double y = box->y + 4 * MM, height = box->height - 5 * MM;
  const char *text = field->value ? field->value : field->choices;
  const BedTextStyle *style = field->value ? &value_style : &choice_style;
  double unit = field->unit ? bed_text_width (self->type, field->unit, BED_WEIGHT_REGULAR, 8.5) : 0;

  if (!field->choices || field->value)
    bed_field_sheet_rule (cr, box->x, box->y + box->height - 1 * MM, box->width, 0.45);
  return write_text (self, cr, field->label, (BedBox){ box->x, box->y, box->width, 4 * MM },
                     &label_style, error)
         && write_text (self, cr, text, (BedBox){ box->x, y, box->width - unit, height }, style,
                        error)
         && write_text (self, cr, field->unit, (BedBox){ box->x, y + 2, box->width, height },
                        &unit_style, error);
}

static gboolean
draw_boxes (const BedFieldSheet *self, cairo_t *cr, double *y, GError **error)
{
  guint across = self->paper.width > self->paper.height ? 4 : 3;
  double width = (bed_field_sheet_get_width (self) + GAP) / across;

  for (guint i = 0; i < self->boxes->len; i++)
    {
      BedBox box
          = { MARGIN + i % across * width, *y + i / across * BOX_HEIGHT, width - GAP, BOX_HEIGHT };

      const BedSheetBox *field = &g_array_index (self->boxes, BedSheetBox, i);
      if (field->label && !draw_box (self, cr, field, &box, error))
        return FALSE;
    }
  *y += (self->boxes->len + across - 1) / across * BOX_HEIGHT;
  return TRUE;
}

static gboolean
draw_figure (const BedFieldSheet *self, cairo_t *cr, double *y, GError **error)
{
  if (!self->figure.draw)
    return TRUE;
  BedBox box = { MARGIN, *y + GAP / 2, bed_field_sheet_get_width (self), self->figure.height };

  *y += self->figure.height + GAP;
  return self->figure.draw (cr, &box, self->figure.data, error);
}

/* Two columns beside a heavy bar: seen, and no taller than they must be. */
static gboolean
draw_cautions (const BedFieldSheet *self, cairo_t *cr, double top, double bottom, GError **error)
{
  double half = bed_field_sheet_get_width (self) / 2, width = half - 2 * GAP;
  double y = top + CAUTION_HEAD;
  guint n = self->cautions->len;

  if (n == 0)
    return TRUE;
  cairo_rectangle (cr, MARGIN, top + 2, 2.5, bottom - top - GAP - 2);
  cairo_fill (cr);
  if (!write_text (self, cr, _ ("Take care"), (BedBox){ MARGIN + GAP, top, width, CAUTION_HEAD },
                   &care_style, error))
    return FALSE;
  for (guint i = 0; i < n; i++)
    {
      gboolean second = i >= (n + 1) / 2;

      if (i == (n + 1) / 2)
        y = top + CAUTION_HEAD;
      BedBox box = { MARGIN + GAP + (second ? half : 0), y, width, G_MAXINT };
      if (!write_text (self, cr, self->cautions->pdata[i], box, &caution_style, error))
        return FALSE;
      y += bed_field_sheet_get_caution_height (self, i, width);
    }
  return TRUE;
}

static gboolean
draw_foot (const BedFieldSheet *self, cairo_t *cr, guint page, GError **error)
{
  g_autofree char *number = g_strdup_printf (_ ("Page %u of %u"), page + 1, self->n_pages);
  BedBox box
      = { MARGIN, self->paper.height - MARGIN - 4 * MM, bed_field_sheet_get_width (self), 5 * MM };

  return write_text (self, cr, self->title, box, &foot_style, error)
         && write_text (self, cr, number, box, &page_style, error);
}

/* Public, within the field sheets */

void
bed_field_sheet_rule (cairo_t *cr, double x, double y, double width, double darkness)
{
  cairo_set_source_rgb (cr, 1 - darkness, 1 - darkness, 1 - darkness);
  cairo_rectangle (cr, x, y - 0.3, width, 0.6);
  cairo_fill (cr);
  cairo_set_source_rgb (cr, 0, 0, 0);
}

gboolean
bed_field_sheet_draw_page (cairo_t *cr, guint page, gpointer data, GError **error)
{
  BedFieldSheet *self = data;
  double y = MARGIN + TITLE_HEIGHT;
  double top = bed_field_sheet_get_table_top (self, page);

  if (!draw_title (self, cr, error))
    return FALSE;
  if (page == 0
      && !(draw_boxes (self, cr, &y, error) && draw_figure (self, cr, &y, error)
           && draw_cautions (self, cr, y + GAP, top - GAP, error)))
    return FALSE;
  return bed_field_sheet_draw_table (self, cr, page, error) && draw_foot (self, cr, page, error);
}
