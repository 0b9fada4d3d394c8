#pragma once

#include "print/field/field_sheet.h"

/* Inside the field sheets only. Points. */

#define MARGIN (12 * BED_POINTS_PER_MM)
#define GAP (3 * BED_POINTS_PER_MM)
#define TITLE_HEIGHT (17 * BED_POINTS_PER_MM)
#define BOX_HEIGHT (12 * BED_POINTS_PER_MM)
#define HEAD_HEIGHT (11 * BED_POINTS_PER_MM)
#define ROW_HEIGHT (9.5 * BED_POINTS_PER_MM)
#define CODE_ROW_HEIGHT (11.5 * BED_POINTS_PER_MM)
#define FOOT_HEIGHT (7 * BED_POINTS_PER_MM)
#define CAUTION_HEAD 13.0

struct _BedFieldSheet
{
  const char *title, *subtitle, *code;
  GStringChunk *texts;
  GArray *boxes;       /* BedSheetBox */
  GArray *columns;     /* BedSheetColumn */
  GPtrArray *rows;     /* const char **, one text or NULL for each column */
  GPtrArray *cautions; /* const char * */
  BedSheetFigure figure;
  BedTypesetter *type;
  BedPaper paper;
  double row_height;
  guint first_rows, other_rows; /* that fit the first page and each other one */
  guint n_pages;
};

extern const BedTextStyle caution_style;

double bed_field_sheet_get_width (const BedFieldSheet *self);
double bed_field_sheet_get_caution_height (const BedFieldSheet *self, guint index, double width);
double bed_field_sheet_get_table_top (const BedFieldSheet *self, guint page);

gboolean bed_field_sheet_draw_page (cairo_t *cr, guint page, gpointer data, GError **error);
gboolean bed_field_sheet_draw_table (const BedFieldSheet *self, cairo_t *cr, guint page,
                                     GError **error);

/* Lines of the sheet: a strong rule and a faint one. */
void bed_field_sheet_rule (cairo_t *cr, double x, double y, double width, double darkness);
