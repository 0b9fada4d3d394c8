#include "print/field/list_sheet.h"

#include <glib/gi18n-lib.h>

#include "model/farm/value.h"

#define MM BED_POINTS_PER_MM
#define MARGIN (12 * MM)
#define TITLE_HEIGHT (16 * MM)
#define FOOT_HEIGHT (7 * MM)

/* Type, points: as large as lets all stand on one page, and what it is on several. */
#define MOST_SIZE 10.0
#define LEAST_SIZE 7.0
#define SEVERAL_SIZE 9.0

/* Of the type's size: between columns, a row, a heading with the air above it, the heads. */
#define GAP 1.2
#define ROW 1.3
#define HEADING 2.6
#define MOST_LINES 3

/* Rows more than this stand side by side where they are narrow enough. */
#define FEW_ROWS 8

typedef struct
{
  const char *head;
  BedTextAlign align;
  double width; /* at the size it is set in */
} Column;

typedef struct
{
  const char *heading;
  GArray *columns; /* Column */
  GPtrArray *rows; /* const char **, a cell for each column */
  guint across;    /* rows side by side */
  gboolean begins; /* a page */
  BedSheetFigure figure;
} Part;

/* A row of a page: of a part its drawing (-3), its heading (-2), its heads (-1), or the first row
 * of those that stand side by side. */
typedef struct
{
  guint part;
  int row;
  double y, height;
} Line;

struct _BedListSheet
{
  char *title, *subtitle;
  GStringChunk *texts;
  GPtrArray *parts; /* Part */
  BedTypesetter *type;
  BedPaper paper;
  double size;
  GArray *lines;   /* Line, of all pages */
  GArray *pages;   /* guint, the first line of each */
  guint n_first;   /* pages until a part begins one */
  gboolean begins; /* the next part does */
};

static const BedTextStyle title_style = { 18, 10, 2, BED_WEIGHT_BOLD, BED_ALIGN_LEFT };
static const BedTextStyle subtitle_style = { 9.5, 7, 1, BED_WEIGHT_REGULAR, BED_ALIGN_LEFT };
static const BedTextStyle foot_style = { 7.5, 7, 1, BED_WEIGHT_REGULAR, BED_ALIGN_LEFT };
static const BedTextStyle page_style = { 7.5, 7, 1, BED_WEIGHT_REGULAR, BED_ALIGN_RIGHT };

static void
free_part (gpointer data)
{
  Part *part = data;

  if (part->figure.free_data)
    part->figure.free_data (part->figure.data);
  g_array_unref (part->columns);
  g_ptr_array_unref (part->rows);
  g_free (part);
}

static const char *
keep (BedListSheet *self, const char *text)
{
  return text ? g_string_chunk_insert_const (self->texts, text) : NULL;
}

static double
get_width (const BedListSheet *self)
{
  return self->paper.width - 2 * MARGIN;
}

static Column *
get_column (const Part *part, guint index)
{
  return &g_array_index (part->columns, Column, index);
}

/* --- where everything stands ------------------------------------------------------------- */

static double
measure_column (const BedListSheet *self, const Part *part, guint index)
{
  double widest
      = bed_text_width (self->type, get_column (part, index)->head, BED_WEIGHT_BOLD, self->size);

  for (guint i = 0; i < part->rows->len; i++)
    {
      const char *text = ((const char **) part->rows->pdata[i])[index];
      if (text)
        widest = MAX (widest, bed_text_width (self->type, text, BED_WEIGHT_REGULAR, self->size));
    }
  return widest + GAP * self->size;
}

/* Where there is too little room the widest columns give it, all to one width. */
static void
share_width (const BedListSheet *self, Part *part)
{
  double room = get_width (self), most = room, natural = 0;
  guint n = part->columns->len;

  part->across = 1;
  for (guint i = 0; i < n; i++)
    {
      get_column (part, i)->width = measure_column (self, part, i);
      natural += get_column (part, i)->width;
    }
  if (part->rows->len > FEW_ROWS)
    part->across = (guint) MAX (1, (room + GAP * self->size) / (natural + GAP * self->size));
  for (int turn = 0; turn < 20; turn++)
    {
      double sum = 0;
      guint wide = 0;

      for (guint i = 0; i < n; i++)
        {
          double width = get_column (part, i)->width;
          sum += MIN (width, most);
          wide += width >= most;
        }
      if (sum <= room)
        break;
      most -= (sum - room) / MAX (wide, 1) + 0.01;
    }
  for (guint i = 0; i < n; i++)
    get_column (part, i)->width = MIN (get_column (part, i)->width, most);
}

static BedTextStyle
get_style (const BedListSheet *self, const Part *part, guint column, int row)
{
  return (BedTextStyle){ self->size, self->size, MOST_LINES,
                         row < 0 ? BED_WEIGHT_BOLD : BED_WEIGHT_REGULAR,
                         get_column (part, column)->align };
}

static const char *
get_text (const Part *part, guint column, int row)
{
  return row < 0 ? get_column (part, column)->head
                 : ((const char **) part->rows->pdata[row])[column];
}

static guint
count_lines (const BedListSheet *self, const Part *part, int row)
{
  guint lines = 1;

  for (guint i = 0; i < part->columns->len; i++)
    {
      const char *text = get_text (part, i, row);
      BedTextStyle style = get_style (self, part, i, row);
      BedBox box = { 0, 0, get_column (part, i)->width - GAP * self->size, G_MAXINT };
      BedTextFit fit;

      if (text && bed_text_fit (self->type, text, &box, &style, &fit))
        lines = MAX (lines, fit.lines);
      else if (text)
        lines = MOST_LINES;
    }
  return lines;
}

static int
get_end (const Part *part, int row)
{
  return row < 0 ? row + 1 : MIN (row + (int) part->across, (int) part->rows->len);
}

static double
measure_row (const BedListSheet *self, const Part *part, int row)
{
  guint lines = 1;

  for (int i = row; i < get_end (part, row); i++)
    lines = MAX (lines, count_lines (self, part, i));
  return (ROW - 1) * self->size + lines * bed_text_line_height (self->type, self->size);
}

static void
add_line (BedListSheet *self, double *y, const Line *line)
{
  double end = self->paper.height - MARGIN - FOOT_HEIGHT;
  Line placed = *line;
  /* A heading takes the heads and a row along, heads a row. */
  double needed = line->height * (line->row == -2 ? 3 : line->row == -1 ? 2 : 1);

  if (self->pages->len == 0 || *y + needed > end)
    {
      g_array_append_val (self->pages, self->lines->len);
      *y = MARGIN + TITLE_HEIGHT;
    }
  placed.y = *y;
  *y += line->height;
  g_array_append_val (self->lines, placed);
}

static void
lay_out (BedListSheet *self, double size)
{
  double y = 0;

  self->size = size;
  self->n_first = 0;
  g_array_set_size (self->lines, 0);
  g_array_set_size (self->pages, 0);
  for (guint p = 0; p < self->parts->len; p++)
    {
      Part *part = self->parts->pdata[p];

      if (part->begins)
        {
          self->n_first = self->pages->len;
          y = self->paper.height;
        }
      share_width (self, part);
      if (part->heading)
        add_line (self, &y, &(Line){ p, -2, 0, HEADING * size });
      if (part->figure.draw)
        add_line (self, &y, &(Line){ p, -3, 0, part->figure.height });
      for (int row = part->rows->len ? -1 : 0; row < (int) part->rows->len;
           row = get_end (part, row))
        {
          guint page = self->pages->len;
          Line line = { p, row, 0, measure_row (self, part, row) };
          add_line (self, &y, &line);
          if (row < 0 || self->pages->len == page || page == 0)
            continue;
          /* A table that goes on begins with its heads. */
          g_array_set_size (self->lines, self->lines->len - 1);
          y -= line.height;
          add_line (self, &y, &(Line){ p, -1, 0, measure_row (self, part, -1) });
          add_line (self, &y, &line);
        }
    }
  if (self->pages->len == 0)
    g_array_append_val (self->pages, self->lines->len);
  if (self->n_first == 0)
    self->n_first = self->pages->len;
}

/* --- drawing --------------------------------------------------------------------------------- */

static gboolean
draw_cells (const BedListSheet *self, cairo_t *cr, const Line *line, int row, double x,
            GError **error)
{
  const Part *part = self->parts->pdata[line->part];
  double gap = GAP * self->size, left = x;

  for (guint i = 0; i < part->columns->len; i++)
    {
      double width = get_column (part, i)->width;
      const char *text = get_text (part, i, row);
      BedTextStyle style = get_style (self, part, i, row);
      BedBox box = { x, line->y + (ROW - 1) * self->size / 2, width - gap, line->height };

      if (text && !bed_text_draw_cut (self->type, cr, text, &box, &style, self->title, error))
        return FALSE;
      x += width;
    }
  double dark = row < 0 ? 0 : 0.75;
  cairo_set_source_rgb (cr, dark, dark, dark);
  cairo_rectangle (cr, left, line->y + line->height - 0.25, x - left - gap, 0.5);
  cairo_fill (cr);
  cairo_set_source_rgb (cr, 0, 0, 0);
  return TRUE;
}

/* The heads as often as rows stand side by side. */
static gboolean
draw_row (const BedListSheet *self, cairo_t *cr, const Line *line, GError **error)
{
  const Part *part = self->parts->pdata[line->part];
  double width = (get_width (self) + GAP * self->size) / part->across;

  for (guint i = 0; i < part->across; i++)
    {
      int row = line->row < 0 ? line->row : line->row + (int) i;
      if (row < (int) part->rows->len
          && !draw_cells (self, cr, line, row, MARGIN + i * width, error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
draw_line (const BedListSheet *self, cairo_t *cr, const Line *line, GError **error)
{
  const Part *part = self->parts->pdata[line->part];
  const BedBox whole = { MARGIN, line->y, get_width (self), line->height };
  double size = self->size * 1.25;
  BedTextStyle style = { size, LEAST_SIZE, 1, BED_WEIGHT_BOLD, BED_ALIGN_LEFT };
  double height = bed_text_line_height (self->type, size);
  BedBox box = { MARGIN, line->y + line->height - height, get_width (self), height + 1 };

  if (line->row == -3)
    return part->figure.draw (cr, &whole, part->figure.data, error);
  return line->row >= -1
             ? draw_row (self, cr, line, error)
             : bed_text_draw_cut (self->type, cr, part->heading, &box, &style, self->title, error);
}

static gboolean
draw_frame (const BedListSheet *self, cairo_t *cr, guint page, GError **error)
{
  double width = get_width (self);
  g_autofree char *number = g_strdup_printf (_ ("Page %u of %u"), page + 1, self->pages->len);
  BedBox title = { MARGIN, MARGIN - 5, width, 9 * MM };
  BedBox subtitle = { MARGIN, MARGIN - 5 + 9 * MM, width, 6 * MM };
  BedBox foot = { MARGIN, self->paper.height - MARGIN - 4 * MM, width * 0.8, 5 * MM };
  BedBox right = { MARGIN, foot.y, width, 5 * MM };

  return bed_text_draw_cut (self->type, cr, self->title, &title, &title_style, self->title, error)
         && bed_text_draw_cut (self->type, cr, self->subtitle, &subtitle, &subtitle_style,
                               self->title, error)
         && bed_text_draw_cut (self->type, cr, self->title, &foot, &foot_style, self->title, error)
         && bed_text_draw (self->type, cr, number, &right, &page_style, self->title, error);
}

static gboolean
draw_page_cb (cairo_t *cr, guint page, gpointer data, GError **error)
{
  BedListSheet *self = data;
  guint first = g_array_index (self->pages, guint, page);
  guint end = page + 1 < self->pages->len ? g_array_index (self->pages, guint, page + 1)
                                          : self->lines->len;

  for (guint i = first; i < end; i++)
    if (!draw_line (self, cr, &g_array_index (self->lines, Line, i), error))
      return FALSE;
  return draw_frame (self, cr, page, error);
}

static char *
dup_note_cb (gpointer data)
{
  return bed_typesetter_dup_missing (((BedListSheet *) data)->type);
}

/* Public */

BedListSheet *
bed_list_sheet_new (BedFarm *farm, const char *title)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && title != NULL, NULL);
  BedListSheet *self = g_new0 (BedListSheet, 1);
  g_autofree char *day = bed_date_format (bed_farm_get_today (farm));

  self->title = g_strdup (title);
  self->subtitle = g_strdup_printf (
      "%s · %s", bed_record_get_text (bed_farm_get_settings (farm), "name"), day);
  self->texts = g_string_chunk_new (4096);
  self->parts = g_ptr_array_new_with_free_func (free_part);
  self->type = bed_typesetter_new ();
  self->lines = g_array_new (FALSE, FALSE, sizeof (Line));
  self->pages = g_array_new (FALSE, FALSE, sizeof (guint));
  return self;
}

void
bed_list_sheet_free (BedListSheet *self)
{
  if (!self)
    return;
  g_array_unref (self->pages);
  g_array_unref (self->lines);
  bed_typesetter_free (self->type);
  g_ptr_array_unref (self->parts);
  g_string_chunk_free (self->texts);
  g_free (self->subtitle);
  g_free (self->title);
  g_free (self);
}

void
bed_list_sheet_add_part (BedListSheet *self, const char *heading)
{
  Part *part = g_new0 (Part, 1);

  part->heading = keep (self, heading);
  part->begins = self->begins;
  self->begins = FALSE;
  part->columns = g_array_new (FALSE, FALSE, sizeof (Column));
  part->rows = g_ptr_array_new_with_free_func (g_free);
  g_ptr_array_add (self->parts, part);
}

void
bed_list_sheet_add_drawing (BedListSheet *self, const char *heading, const BedSheetFigure *figure)
{
  bed_list_sheet_add_part (self, heading);
  ((Part *) self->parts->pdata[self->parts->len - 1])->figure = *figure;
}

void
bed_list_sheet_add_column (BedListSheet *self, const char *head, BedTextAlign align)
{
  g_return_if_fail (self->parts->len > 0 && head != NULL);
  Part *part = self->parts->pdata[self->parts->len - 1];
  Column column = { keep (self, head), align, 0 };

  g_return_if_fail (part->rows->len == 0);
  g_array_append_val (part->columns, column);
}

void
bed_list_sheet_add_row (BedListSheet *self, const char *const *cells)
{
  g_return_if_fail (self->parts->len > 0);
  Part *part = self->parts->pdata[self->parts->len - 1];
  const char **row = g_new0 (const char *, part->columns->len + 1);

  for (guint i = 0; i < part->columns->len; i++)
    row[i] = keep (self, cells[i]);
  g_ptr_array_add (part->rows, row);
}

void
bed_list_sheet_begin_page (BedListSheet *self)
{
  g_return_if_fail (self->parts->len > 0);

  self->begins = TRUE;
}

void
bed_list_sheet_drop_empty (BedListSheet *self)
{
  guint n = self->parts->len;
  const Part *last = n > 0 ? self->parts->pdata[n - 1] : NULL;

  if (!last || last->rows->len > 0 || last->figure.draw)
    return;
  self->begins = last->begins;
  g_ptr_array_set_size (self->parts, (int) n - 1);
}

BedDocument *
bed_list_sheet_document_new (BedListSheet *self, const BedPaper *paper)
{
  g_return_val_if_fail (self != NULL && paper != NULL, NULL);

  self->paper = *paper;
  for (double size = MOST_SIZE; size >= LEAST_SIZE; size -= 0.5)
    {
      lay_out (self, size);
      if (self->n_first == 1)
        break;
    }
  if (self->n_first > 1 || (self->pages->len > 1 && self->size > SEVERAL_SIZE))
    lay_out (self, SEVERAL_SIZE);
  return bed_document_new (&(BedDocumentSpec){ .title = self->title,
                                               .paper = *paper,
                                               .n_pages = self->pages->len,
                                               .draw = draw_page_cb,
                                               .data = self,
                                               .free_data = (GDestroyNotify) bed_list_sheet_free,
                                               .dup_note = dup_note_cb });
}
