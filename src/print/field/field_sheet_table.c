#include "print/field/field_sheet_private.h"

#define MM BED_POINTS_PER_MM
#define PADDING (1.5 * MM)

/* Where a row of the table lies. */
typedef struct
{
  double y, height;
} Band;

/* Rather on two lines than small; a single long word must shrink. */
static const BedTextStyle head_style = { 8, 8, 2, BED_WEIGHT_BOLD, BED_ALIGN_LEFT };
#define HEAD_FLOOR 5.0

static const BedTextStyle unit_style = { 7.5, 5, 1, BED_WEIGHT_REGULAR, BED_ALIGN_LEFT };

static const BedSheetColumn *
get_column (const BedFieldSheet *self, guint index)
{
  return &g_array_index (self->columns, BedSheetColumn, index);
}

static BedBox
get_cell (const BedFieldSheet *self, guint index, const Band *band)
{
  double before = 0, all = 0;

  for (guint i = 0; i < self->columns->len; i++)
    {
      if (i < index)
        before += get_column (self, i)->weight;
      all += get_column (self, i)->weight;
    }
  double unit = bed_field_sheet_get_width (self) / all;
  return (BedBox){ MARGIN + before * unit, band->y, get_column (self, index)->weight * unit,
                   band->height };
}

/* The name over its unit, both standing on the rule below. */
static gboolean
draw_head (const BedFieldSheet *self, cairo_t *cr, guint index, const Band *band, GError **error)
{
  const BedSheetColumn *column = get_column (self, index);
  BedBox cell = get_cell (self, index, band);
  BedTextStyle name = head_style, unit = unit_style;
  BedTextFit fit;

  cell.width -= 2 * PADDING;
  cell.x += PADDING;
  if (column->kind == BED_COLUMN_NUMBER)
    name.align = unit.align = BED_ALIGN_RIGHT;
  double units = 10;
  BedBox box = { cell.x, cell.y, cell.width, cell.height - units };
  if (!bed_text_fit (self->type, column->head, &box, &name, &fit))
    name.floor = HEAD_FLOOR;
  if (bed_text_fit (self->type, column->head, &box, &name, &fit))
    box.y += box.height - fit.height;
  box.height = cell.y + cell.height - units - box.y;
  if (!bed_text_draw (self->type, cr, column->head, &box, &name, self->title, error))
    return FALSE;
  box = (BedBox){ cell.x, cell.y + cell.height - units - 1, cell.width, units };
  return !column->unit
         || bed_text_draw (self->type, cr, column->unit, &box, &unit, self->title, error);
}

/* A little above the middle: where one would write it. */
static gboolean
draw_text (const BedFieldSheet *self, cairo_t *cr, const char *text, const BedBox *cell,
           BedTextStyle style, GError **error)
{
  BedBox box = { cell->x + PADDING, cell->y + 1, cell->width - 2 * PADDING, cell->height - 2 };
  BedTextFit fit;

  if (bed_text_fit (self->type, text, &box, &style, &fit))
    {
      box.y += (box.height - fit.height) / 2;
      box.height = fit.height + 1;
    }
  return bed_text_draw (self->type, cr, text, &box, &style, self->title, error);
}

static gboolean
draw_code (const BedFieldSheet *self, cairo_t *cr, const char *code, const BedBox *cell,
           GError **error)
{
  g_autoptr (BedQr) qr = bed_qr_new (code, error);
  /* The quiet zone may reach the rule above and below, not over it. */
  double side = cell->height - 0.8;
  BedBox place = { cell->x, cell->y + 0.4, side, side };
  BedBox rest = { cell->x + side - PADDING, cell->y, cell->width - side + PADDING, cell->height };

  return qr && bed_qr_draw (qr, cr, &place, self->title, error)
         && draw_text (self, cr, code, &rest,
                       (BedTextStyle){ 11, 6, 2, BED_WEIGHT_BOLD, BED_ALIGN_LEFT }, error);
}

static gboolean
draw_cell (const BedFieldSheet *self, cairo_t *cr, const char *text, guint index, const Band *band,
           GError **error)
{
  const BedSheetColumn *column = get_column (self, index);
  BedBox cell = get_cell (self, index, band);
  BedTextStyle style = { 10, 6, 2, BED_WEIGHT_REGULAR, BED_ALIGN_LEFT };

  if (!text)
    return TRUE;
  if (column->kind == BED_COLUMN_CODE)
    return draw_code (self, cr, text, &cell, error);
  if (column->kind == BED_COLUMN_NUMBER)
    style.align = BED_ALIGN_RIGHT;
  return draw_text (self, cr, text, &cell, style, error);
}

/* Upright lines from the heads down, as faint as the rows' own. */
static void
draw_uprights (const BedFieldSheet *self, cairo_t *cr, double top, double bottom)
{
  Band band = { top, bottom - top };

  cairo_set_source_rgb (cr, 0.75, 0.75, 0.75);
  for (guint i = 1; i < self->columns->len; i++)
    {
      BedBox cell = get_cell (self, i, &band);

      cairo_rectangle (cr, cell.x - 0.25, cell.y, 0.5, cell.height);
    }
  cairo_fill (cr);
  cairo_set_source_rgb (cr, 0, 0, 0);
}

/* Public, within the field sheets */

gboolean
bed_field_sheet_draw_table (const BedFieldSheet *self, cairo_t *cr, guint page, GError **error)
{
  guint rows = page == 0 ? self->first_rows : self->other_rows;
  guint first = page == 0 ? 0 : self->first_rows + (page - 1) * self->other_rows;
  double width = bed_field_sheet_get_width (self);
  Band band = { bed_field_sheet_get_table_top (self, page), HEAD_HEIGHT };
  double top = band.y + HEAD_HEIGHT;

  for (guint i = 0; i < self->columns->len; i++)
    if (!draw_head (self, cr, i, &band, error))
      return FALSE;
  draw_uprights (self, cr, top, top + rows * self->row_height);
  bed_field_sheet_rule (cr, MARGIN, top, width, 1);
  band = (Band){ top, self->row_height };
  for (guint row = first; row < first + rows; row++)
    {
      const char **cells = row < self->rows->len ? self->rows->pdata[row] : NULL;

      for (guint i = 0; cells && i < self->columns->len; i++)
        if (!draw_cell (self, cr, cells[i], i, &band, error))
          return FALSE;
      band.y += band.height;
      bed_field_sheet_rule (cr, MARGIN, band.y, width, 0.3);
    }
  return TRUE;
}
