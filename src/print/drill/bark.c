#include "print/drill/bark.h"

#include <math.h>

/* Bark and wood tones with dark twins drawn for it, not inverted. */
const BedBarkColours bed_bark_light = {
  .bark = { 0.925, 0.890, 0.835, 1 },
  .edge = { 0.42, 0.34, 0.26, 1 },
  .row = { 0.42, 0.34, 0.26, 0.30 },
  .hole = { 0.27, 0.19, 0.12, 1 },
  .cross = { 0.75, 0.22, 0.10, 1 },
  .text = { 0.55, 0.14, 0.05, 1 },
};
const BedBarkColours bed_bark_dark = {
  .bark = { 0.235, 0.205, 0.175, 1 },
  .edge = { 0.72, 0.63, 0.53, 1 },
  .row = { 0.80, 0.72, 0.62, 0.28 },
  .hole = { 0.93, 0.86, 0.76, 1 },
  .cross = { 1.00, 0.55, 0.38, 1 },
  .text = { 1.00, 0.70, 0.56, 1 },
};
const BedBarkColours bed_bark_paper = {
  .bark = { 1, 1, 1, 1 },
  .edge = { 0, 0, 0, 1 },
  .row = { 0.68, 0.68, 0.68, 1 },
  .hole = { 0.12, 0.12, 0.12, 1 },
  .cross = { 0, 0, 0, 1 },
  .text = { 0, 0, 0, 1 },
};

/* A hole must be seen however small the drawing, in units of the context. */
#define LEAST_DOT 0.9

/* Discs from this radius on carry a mark at their middle. */
#define LEAST_MARKED 7.0

/* Half the arm of the cross, lines and dashes, in units of the context. */
#define CROSS 4.0
#define LINE 0.6
#define DASH 4.0

static void
set_colour (cairo_t *cr, const BedBarkColour *colour)
{
  cairo_set_source_rgba (cr, colour->red, colour->green, colour->blue, colour->alpha);
}

/* The strip is cut half way between two rows; y upwards becomes y downwards. */
static double
place_row (const BedBark *self, double y)
{
  double height = bed_bark_get_height (self);
  double down = fmod (y + self->plan->pitch / 2, height);

  return height - (down < 0 ? down + height : down);
}

static void
draw_rows (const BedBark *self, cairo_t *cr, double scale)
{
  const BedDrillPlan *plan = self->plan;

  set_colour (cr, &self->colours->row);
  cairo_set_line_width (cr, LINE);
  for (int row = 0; row < plan->rows; row++)
    {
      double y = place_row (self, row * plan->pitch) * scale;

      cairo_move_to (cr, 0, y);
      cairo_line_to (cr, plan->length * scale, y);
    }
  cairo_stroke (cr);
}

/* The place for the point of the bit, left open in the hole's disc: the winding
 * runs against the disc's. */
static void
add_mark (cairo_t *cr, double x, double y, double arm)
{
  const double points[][2] = { { -LINE, -arm }, { -LINE, -LINE }, { -arm, -LINE }, { -arm, LINE },
                               { -LINE, LINE }, { -LINE, arm },   { LINE, arm },   { LINE, LINE },
                               { arm, LINE },   { arm, -LINE },   { LINE, -LINE }, { LINE, -arm } };

  cairo_move_to (cr, x + points[0][0], y + points[0][1]);
  for (gsize i = 1; i < G_N_ELEMENTS (points); i++)
    cairo_line_to (cr, x + points[i][0], y + points[i][1]);
  cairo_close_path (cr);
}

static void
draw_holes (const BedBark *self, cairo_t *cr, double scale)
{
  double radius = MAX (self->hole_diameter / 2 * scale, LEAST_DOT);
  gboolean marked = radius >= LEAST_MARKED;

  set_colour (cr, &self->colours->hole);
  for (guint i = 0; i < self->plan->holes->len; i++)
    {
      const BedHole *hole = &g_array_index (self->plan->holes, BedHole, i);
      double x = hole->x * scale, y = place_row (self, hole->y) * scale;

      cairo_new_sub_path (cr);
      cairo_arc (cr, x, y, radius, 0, 2 * G_PI);
      if (marked)
        add_mark (cr, x, y, radius / 2);
    }
  cairo_fill (cr);
}

/* Both long edges are the same line on the log: dashed. */
static void
draw_edges (const BedBark *self, cairo_t *cr, double scale)
{
  double width = self->plan->length * scale, height = bed_bark_get_height (self) * scale;
  const double dashes[] = { DASH, DASH };

  set_colour (cr, &self->colours->edge);
  cairo_set_line_width (cr, 1.5 * LINE);
  cairo_move_to (cr, 0, 0);
  cairo_line_to (cr, 0, height);
  cairo_move_to (cr, width, 0);
  cairo_line_to (cr, width, height);
  cairo_stroke (cr);
  cairo_set_dash (cr, dashes, G_N_ELEMENTS (dashes), 0);
  cairo_move_to (cr, 0, 0);
  cairo_line_to (cr, width, 0);
  cairo_move_to (cr, 0, height);
  cairo_line_to (cr, width, height);
  cairo_stroke (cr);
  cairo_set_dash (cr, NULL, 0, 0);
}

/* The distance stands on the side of the cross that has room. */
static void
draw_distance (const BedBark *self, cairo_t *cr, double scale, double x, double y)
{
  double width = bed_text_width (self->type, self->distance, BED_WEIGHT_BOLD, self->text_size);
  double capital = bed_text_cap_height (self->type, self->text_size);
  double left = x + 2 * CROSS;
  double baseline = CLAMP (y + capital / 2, capital + 2, bed_bark_get_height (self) * scale - 2);

  if (left + width + 2 > self->plan->length * scale)
    left = MAX (x - 2 * CROSS - width, 2);
  set_colour (cr, &self->colours->bark);
  cairo_rectangle (cr, left - 2, baseline - capital - 2, width + 4, capital + 4);
  cairo_fill (cr);
  set_colour (cr, &self->colours->text);
  bed_text_show (self->type, cr, self->distance, BED_WEIGHT_BOLD, self->text_size, left, baseline);
}

/* Drawn once more a circumference away where the seam cuts the ring in two. */
static void
draw_ring (const BedBark *self, cairo_t *cr, double scale, double x, double y)
{
  double radius = self->plan->farthest.distance * scale;
  double height = bed_bark_get_height (self) * scale;

  for (int turn = -1; turn <= 1; turn++)
    {
      cairo_new_sub_path (cr);
      cairo_arc (cr, x, y + turn * height, radius, 0, 2 * G_PI);
    }
  set_colour (cr, &self->colours->cross);
  cairo_set_line_width (cr, LINE);
  cairo_stroke (cr);
}

/* Not clipped: the farthest point is often on a rim. */
static void
draw_cross (const BedBark *self, cairo_t *cr, double x, double y)
{
  set_colour (cr, &self->colours->cross);
  cairo_set_line_width (cr, 2 * LINE);
  cairo_move_to (cr, x - CROSS, y - CROSS);
  cairo_line_to (cr, x + CROSS, y + CROSS);
  cairo_move_to (cr, x + CROSS, y - CROSS);
  cairo_line_to (cr, x - CROSS, y + CROSS);
  cairo_stroke (cr);
}

static void
draw_farthest (const BedBark *self, cairo_t *cr, double scale)
{
  const BedFarthest *farthest = &self->plan->farthest;
  double x = farthest->x * scale, y = place_row (self, farthest->y) * scale;

  if (farthest->distance <= 0)
    return;
  cairo_save (cr);
  cairo_rectangle (cr, 0, 0, self->plan->length * scale, bed_bark_get_height (self) * scale);
  cairo_clip (cr);
  draw_ring (self, cr, scale, x, y);
  if (self->distance)
    draw_distance (self, cr, scale, x, y);
  cairo_restore (cr);
  draw_cross (self, cr, x, y);
}

/* Public */

double
bed_bark_get_height (const BedBark *self)
{
  return self->plan->rows * self->plan->pitch;
}

BedBox
bed_bark_get_place (const BedBark *self, const BedBox *box)
{
  double height = bed_bark_get_height (self);
  double scale = MIN (box->width / self->plan->length, box->height / height);
  double width = self->plan->length * scale;

  height *= scale;
  return (BedBox){ box->x + (box->width - width) / 2, box->y + (box->height - height) / 2, width,
                   height };
}

void
bed_bark_draw (const BedBark *self, cairo_t *cr, const BedBox *box)
{
  g_return_if_fail (self != NULL && cr != NULL && box->width > 0 && box->height > 0);
  BedBox place = bed_bark_get_place (self, box);

  cairo_save (cr);
  cairo_translate (cr, place.x, place.y);
  bed_bark_draw_at (self, cr, place.width / self->plan->length);
  cairo_restore (cr);
}

void
bed_bark_draw_at (const BedBark *self, cairo_t *cr, double scale)
{
  g_return_if_fail (self != NULL && cr != NULL && scale > 0);
  cairo_save (cr);
  set_colour (cr, &self->colours->bark);
  cairo_rectangle (cr, 0, 0, self->plan->length * scale, bed_bark_get_height (self) * scale);
  cairo_fill (cr);
  draw_rows (self, cr, scale);
  draw_holes (self, cr, scale);
  draw_edges (self, cr, scale);
  draw_farthest (self, cr, scale);
  cairo_restore (cr);
}
