#include "print/yard/yard_map_private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define ROW (6 * MM)
#define END 7.0 /* radius of a log end */
#define WORDS 18.0
#define WORD_SIZE 9.0
#define LEAST_COLUMN (20 * MM)
#define BAR_WIDTH (48 * MM) /* the scale bar, left of the key */
#define FOOT_GAP (3 * MM)
#define MOST_ROWS 3

/* What the colours say, before the first line; of batches nothing: their codes need no word. */
static const char *
get_heading (const BedMap *self)
{
  return self->style.colour_by == BED_COLOUR_BY_BATCH ? ""
                                                      : bed_colour_by_word (self->style.colour_by);
}

static const BedKeyLine *
get_line (const BedMap *self, guint at)
{
  return self->key.lines->pdata[at];
}

static guint
count_columns (const BedMap *self, double width)
{
  return (guint) MAX (1, floor (width / self->key.column));
}

static guint
count_rows (const BedMap *self, double width)
{
  guint columns = count_columns (self, width);

  return (self->key.lines->len + columns - 1) / columns;
}

double
bed_map_lay_key (BedMap *self, double width)
{
  BedMapKey *key = &self->key;
  /* A picture has no further page. */
  guint most = self->use == BED_MAP_PICTURE
                   ? (guint) MAX (MOST_ROWS, 0.4 * self->paper.height / ROW)
                   : MOST_ROWS;

  key->column = LEAST_COLUMN;
  for (guint i = 0; i < key->lines->len; i++)
    key->column = MAX (key->column, WORDS + 2 * MM
                                        + bed_text_width (self->type, get_line (self, i)->word,
                                                          BED_WEIGHT_REGULAR, WORD_SIZE));
  key->heading = bed_text_width (self->type, get_heading (self), BED_WEIGHT_BOLD, WORD_SIZE);
  key->heading += key->heading > 0 ? 4 * MM : 0;
  guint rows = count_rows (self, width - BAR_WIDTH - key->heading);
  key->in_foot = rows <= most ? MAX (rows, 1) : 0;
  return MAX (key->in_foot, 1) * ROW + FOOT_GAP;
}

static void
show (const BedMap *self, cairo_t *cr, const char *text, BedTextWeight weight, double x, double y)
{
  cairo_set_source_rgb (cr, 0, 0, 0);
  bed_text_show (self->type, cr, text, weight, WORD_SIZE, x,
                 y + bed_text_cap_height (self->type, WORD_SIZE) / 2);
}

static void
draw_line (const BedMap *self, cairo_t *cr, guint at, double x, double y)
{
  const BedKeyLine *line = get_line (self, at);

  bed_log_end_draw (cr, &line->sample, (BedPoint){ x + END, y }, END, &self->style);
  show (self, cr, line->word, BED_WEIGHT_REGULAR, x + WORDS, y);
}

void
bed_map_draw_foot (const BedMap *self, cairo_t *cr)
{
  double x = MARGIN + BAR_WIDTH + self->key.heading, width = self->paper.width - MARGIN - x;
  double top = self->paper.height - MARGIN - MAX (self->key.in_foot, 1) * ROW + ROW / 2;
  guint columns = count_columns (self, width);
  g_autofree char *said = g_strdup_printf (_ ("The key is on page %u."), self->n_sheets + 1);

  show (self, cr, get_heading (self), BED_WEIGHT_BOLD, MARGIN + BAR_WIDTH, top);
  if (self->key.in_foot == 0)
    show (self, cr, said, BED_WEIGHT_REGULAR, x, top);
  for (guint i = 0; self->key.in_foot && i < self->key.lines->len; i++)
    draw_line (self, cr, i, x + i % columns * self->key.column, top + i / columns * ROW);
}

/* Of a page of its own: down each column, then across. */
static guint
count_on_page (const BedMap *self, guint *rows)
{
  double high = self->paper.height - 2 * MARGIN - HEAD;

  *rows = (guint) MAX (1, floor (high / ROW));
  return *rows * count_columns (self, self->paper.width - 2 * MARGIN);
}

guint
bed_map_count_keys (const BedMap *self)
{
  guint rows, fit = count_on_page (self, &rows);

  return self->key.in_foot || self->use == BED_MAP_PICTURE ? 0
                                                           : (self->key.lines->len + fit - 1) / fit;
}

gboolean
bed_map_draw_keys (const BedMap *self, cairo_t *cr, guint page, GError **error)
{
  const char *heading = get_heading (self);
  g_autofree char *about
      = g_strdup_printf ("%s%s%s · %s", heading, *heading ? " · " : "", self->farm, self->date);
  g_autofree char *title
      = g_strdup_printf (_ ("Key of %s"), self->yard->name ? self->yard->name : "");
  guint rows, fit = count_on_page (self, &rows);

  if (!bed_map_draw_head (self, cr, title, about, 0, error))
    return FALSE;
  for (guint i = page * fit; i < MIN ((page + 1) * fit, self->key.lines->len); i++)
    draw_line (self, cr, i, MARGIN + i % fit / rows * self->key.column,
               MARGIN + HEAD + (i % fit % rows + 0.5) * ROW);
  return TRUE;
}
