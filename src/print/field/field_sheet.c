#include "print/field/field_sheet.h"

#include <glib/gi18n-lib.h>

#include "print/field/field_sheet_private.h"

static const char *
keep (BedFieldSheet *self, const char *text)
{
  return text ? g_string_chunk_insert_const (self->texts, text) : NULL;
}

static guint
get_grid_columns (const BedFieldSheet *self)
{
  return self->paper.width > self->paper.height ? 4 : 3;
}

/* A box without a label ends its row: as many more of them as fill it. */
static void
fill_rows (BedFieldSheet *self)
{
  const BedSheetBox none = { NULL };

  for (guint i = 0; i < self->boxes->len; i++)
    if (!g_array_index (self->boxes, BedSheetBox, i).label)
      {
        g_array_remove_index (self->boxes, i);
        while (i % get_grid_columns (self))
          g_array_insert_val (self->boxes, i++, none);
        i--;
      }
}

static double
get_boxes_height (const BedFieldSheet *self)
{
  guint across = get_grid_columns (self);

  return (self->boxes->len + across - 1) / across * BOX_HEIGHT;
}

/* Cautions stand in two columns, set small. */
static double
get_cautions_height (const BedFieldSheet *self)
{
  double width = bed_field_sheet_get_width (self) / 2 - 2 * GAP;
  double tallest = 0, height = 0;

  for (guint i = 0; i < self->cautions->len; i++)
    {
      if (i == (self->cautions->len + 1) / 2)
        height = 0;
      height += bed_field_sheet_get_caution_height (self, i, width);
      tallest = MAX (tallest, height);
    }
  return self->cautions->len ? GAP + tallest + CAUTION_HEAD + GAP : 0;
}

/* Rows are as high as a pencil needs, and as the largest code among them: a long
 * name makes a code of more modules. What makes none is said when it is drawn. */
static double
get_row_height (const BedFieldSheet *self)
{
  double height = ROW_HEIGHT;

  for (guint i = 0; i < self->columns->len; i++)
    {
      if (g_array_index (self->columns, BedSheetColumn, i).kind != BED_COLUMN_CODE)
        continue;
      height = MAX (height, CODE_ROW_HEIGHT);
      for (guint row = 0; row < self->rows->len; row++)
        {
          const char **cells = self->rows->pdata[row];
          g_autoptr (BedQr) qr = cells[i] ? bed_qr_new (cells[i], NULL) : NULL;

          if (qr)
            height = MAX (height, bed_qr_get_smallest_side (qr) + 1);
        }
    }
  return height;
}

static guint
count_rows_in (const BedFieldSheet *self, double height)
{
  return (guint) MAX (1, (height - HEAD_HEIGHT) / self->row_height);
}

/* Public, within the field sheets */

double
bed_field_sheet_get_width (const BedFieldSheet *self)
{
  return self->paper.width - 2 * MARGIN;
}

double
bed_field_sheet_get_caution_height (const BedFieldSheet *self, guint index, double width)
{
  BedBox box = { 0, 0, width, G_MAXINT };
  BedTextFit fit;

  if (!bed_text_fit (self->type, self->cautions->pdata[index], &box, &caution_style, &fit))
    return 0;
  return fit.height + 2;
}

double
bed_field_sheet_get_table_top (const BedFieldSheet *self, guint page)
{
  if (page > 0)
    return MARGIN + TITLE_HEIGHT;
  double figure = self->figure.draw ? self->figure.height + GAP : 0;

  return MARGIN + TITLE_HEIGHT + get_boxes_height (self) + figure + get_cautions_height (self)
         + GAP;
}

static double
get_table_height (const BedFieldSheet *self, guint page)
{
  return self->paper.height - MARGIN - FOOT_HEIGHT - bed_field_sheet_get_table_top (self, page);
}

static char *
dup_note_cb (gpointer data)
{
  return bed_typesetter_dup_missing (((BedFieldSheet *) data)->type);
}

/* Public */

BedFieldSheet *
bed_field_sheet_new (const char *title, const char *subtitle)
{
  g_return_val_if_fail (title != NULL, NULL);
  BedFieldSheet *self = g_new0 (BedFieldSheet, 1);

  self->texts = g_string_chunk_new (4096);
  self->title = keep (self, title);
  self->subtitle = keep (self, subtitle);
  self->boxes = g_array_new (FALSE, FALSE, sizeof (BedSheetBox));
  self->columns = g_array_new (FALSE, FALSE, sizeof (BedSheetColumn));
  self->cautions = g_ptr_array_new ();
  self->rows = g_ptr_array_new_with_free_func (g_free);
  self->type = bed_typesetter_new ();
  return self;
}

void
bed_field_sheet_free (BedFieldSheet *self)
{
  if (!self)
    return;
  if (self->figure.free_data)
    self->figure.free_data (self->figure.data);
  bed_typesetter_free (self->type);
  g_ptr_array_unref (self->rows);
  g_ptr_array_unref (self->cautions);
  g_array_unref (self->columns);
  g_array_unref (self->boxes);
  g_string_chunk_free (self->texts);
  g_free (self);
}

void
bed_field_sheet_set_code (BedFieldSheet *self, const char *code)
{
  self->code = keep (self, code);
}

void
bed_field_sheet_add_box (BedFieldSheet *self, const BedSheetBox *box)
{
  BedSheetBox copy = { keep (self, box->label), keep (self, box->value), keep (self, box->unit),
                       keep (self, box->choices) };

  g_array_append_val (self->boxes, copy);
}

void
bed_field_sheet_end_boxes (BedFieldSheet *self)
{
  const BedSheetBox none = { NULL };

  g_array_append_val (self->boxes, none);
}

void
bed_field_sheet_add_column (BedFieldSheet *self, const BedSheetColumn *column)
{
  BedSheetColumn copy = *column;

  g_return_if_fail (column->weight > 0 && self->rows->len == 0);
  copy.head = keep (self, column->head);
  copy.unit = keep (self, column->unit);
  g_array_append_val (self->columns, copy);
}

void
bed_field_sheet_add_caution (BedFieldSheet *self, const char *caution)
{
  g_ptr_array_add (self->cautions, (gpointer) keep (self, caution));
}

void
bed_field_sheet_set_figure (BedFieldSheet *self, const BedSheetFigure *figure)
{
  g_return_if_fail (!self->figure.draw);
  self->figure = *figure;
}

void
bed_field_sheet_add_row (BedFieldSheet *self, const char *const *cells)
{
  const char **row = g_new0 (const char *, self->columns->len);

  for (guint i = 0; i < self->columns->len; i++)
    row[i] = keep (self, cells[i]);
  g_ptr_array_add (self->rows, row);
}

guint
bed_field_sheet_get_n_columns (const BedFieldSheet *self)
{
  return self->columns->len;
}

BedDocument *
bed_field_sheet_document_new (BedFieldSheet *self, const BedPaper *paper, guint empty_rows)
{
  g_return_val_if_fail (self != NULL && paper != NULL && self->columns->len > 0, NULL);

  self->paper = *paper;
  fill_rows (self);
  self->row_height = get_row_height (self);
  self->first_rows = count_rows_in (self, get_table_height (self, 0));
  self->other_rows = count_rows_in (self, get_table_height (self, 1));
  guint rows = self->rows->len + empty_rows;
  guint more = rows > self->first_rows ? rows - self->first_rows : 0;
  self->n_pages = 1 + (more + self->other_rows - 1) / self->other_rows;
  return bed_document_new (&(BedDocumentSpec){ .title = self->title,
                                               .paper = *paper,
                                               .n_pages = self->n_pages,
                                               .draw = bed_field_sheet_draw_page,
                                               .data = self,
                                               .free_data = (GDestroyNotify) bed_field_sheet_free,
                                               .dup_note = dup_note_cb });
}
