#include "print/page/sheet.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* Dimensions are rounded to a few decimals of an inch. */
#define TOLERANCE 0.01

/* Published origins of one sheet differ by up to a millimetre (see sheet.h), so
 * the far margin may be that much smaller than the near one. */
#define ORIGIN_TOLERANCE 1.0

/* One direction of bed_sheet_check(). */
typedef struct
{
  double page, size, pitch, margin;
  guint count;
} Span;

static gboolean
check_across (const BedSheet *self, const Span *span, GError **error)
{
  double end = span->margin + (span->count - 1) * span->pitch + span->size;
  double needed = end + span->margin;

  if (span->count > 1 && span->pitch < span->size - TOLERANCE)
    g_set_error (error, BED_PRINT_ERROR, BED_PRINT_ERROR_SHEET,
                 _ ("On the sheet %s the labels overlap: they are %.2f mm across and %.2f mm "
                    "apart."),
                 self->name, span->size, span->pitch);
  else if (end > span->page + TOLERANCE || needed > span->page + ORIGIN_TOLERANCE)
    g_set_error (error, BED_PRINT_ERROR, BED_PRINT_ERROR_SHEET,
                 _ ("On the sheet %s the labels with their margins need %.2f mm and the page has "
                    "%.2f mm."),
                 self->name, needed, span->page);
  else
    return TRUE;
  return FALSE;
}

static guint
get_start (const BedSheetPlace *place)
{
  return place && place->start > 0 ? place->start - 1 : 0;
}

static guint
get_per_page (const BedSheet *self)
{
  return self->columns * self->rows;
}

/* Public */

void
bed_sheet_free (BedSheet *self)
{
  if (!self)
    return;
  g_free (self->key);
  g_free (self->name);
  g_free (self);
}

gboolean
bed_sheet_check (const BedSheet *self, GError **error)
{
  g_return_val_if_fail (self != NULL, FALSE);
  const Span x = { self->page_width, self->label_width, self->pitch_x, self->left, self->columns };
  const Span y = { self->page_height, self->label_height, self->pitch_y, self->top, self->rows };

  if (self->label_width < 10 || self->label_height < 10 || self->page_width > 1200
      || self->page_height > 1200)
    g_set_error (error, BED_PRINT_ERROR, BED_PRINT_ERROR_SHEET,
                 _ ("On the sheet %s a label must be at least 10 mm wide and high, and the page at "
                    "most 1200 mm."),
                 self->name);
  else if (self->left < 0 || self->top < 0)
    g_set_error (error, BED_PRINT_ERROR, BED_PRINT_ERROR_SHEET,
                 _ ("On the sheet %s a margin is below 0."), self->name);
  else if (self->columns < 1 || self->rows < 1)
    g_set_error (error, BED_PRINT_ERROR, BED_PRINT_ERROR_SHEET, _ ("The sheet %s has no labels."),
                 self->name);
  else
    return check_across (self, &x, error) && check_across (self, &y, error);
  return FALSE;
}

gboolean
bed_sheet_check_place (const BedSheet *self, const BedSheetPlace *place, GError **error)
{
  g_return_val_if_fail (self != NULL, FALSE);

  if (!place)
    return TRUE;
  if (place->start > get_per_page (self))
    g_set_error (error, BED_PRINT_ERROR, BED_PRINT_ERROR_SHEET,
                 _ ("The sheet %s has %u labels, so printing cannot start at number %u."),
                 self->name, get_per_page (self), place->start);
  /* Written so that a number that is none is refused too. */
  else if (!(fabs (place->offset_x) <= BED_SHEET_MOST_OFFSET
             && fabs (place->offset_y) <= BED_SHEET_MOST_OFFSET))
    g_set_error (error, BED_PRINT_ERROR, BED_PRINT_ERROR_SHEET,
                 _ ("An offset can be at most %g mm either way."), BED_SHEET_MOST_OFFSET);
  else
    return TRUE;
  return FALSE;
}

BedPaper
bed_sheet_get_paper (const BedSheet *self)
{
  return (BedPaper){ self->page_width * BED_POINTS_PER_MM, self->page_height * BED_POINTS_PER_MM };
}

guint
bed_sheet_get_n_pages (const BedSheet *self, const BedSheetPlace *place, guint n_labels)
{
  guint per_page = get_per_page (self);

  return (get_start (place) + n_labels + per_page - 1) / per_page;
}

guint
bed_sheet_get_next_start (const BedSheet *self, const BedSheetPlace *place, guint n_labels)
{
  return (get_start (place) + n_labels) % get_per_page (self) + 1;
}

BedBox
bed_sheet_get_label_box (const BedSheet *self, const BedSheetPlace *place, guint index)
{
  guint at = (get_start (place) + index) % get_per_page (self);
  double x = self->left + (at % self->columns) * self->pitch_x + (place ? place->offset_x : 0);
  double y = self->top + (at / self->columns) * self->pitch_y + (place ? place->offset_y : 0);

  return (BedBox){ x * BED_POINTS_PER_MM, y * BED_POINTS_PER_MM,
                   self->label_width * BED_POINTS_PER_MM, self->label_height * BED_POINTS_PER_MM };
}

void
bed_sheet_get_page_range (const BedSheet *self, const BedSheetPlace *place, guint page,
                          guint n_labels, guint *first, guint *end)
{
  guint start = get_start (place), per_page = get_per_page (self);

  *first = page == 0 ? 0 : page * per_page - start;
  *end = MIN ((page + 1) * per_page - start, n_labels);
}
