#include "print/yard/yard_draw.h"

#include <math.h>

static void
draw_ground_line (cairo_t *cr, const BedElevationDrawing *drawing, const BedEndFace *face)
{
  const BedYardStyle *style = drawing->style;
  BedPoint at = bed_viewport_to_screen (&drawing->view, face->corner);
  double length = face->width * drawing->view.scale, size = style->text_size * 0.95;
  double over = 0.04 * drawing->view.scale;

  cairo_move_to (cr, at.x - over, at.y);
  cairo_line_to (cr, at.x + length + over, at.y);
  bed_colour_stroke (cr, &style->palette->edge, 1, 1.5);
  bed_colour_set (cr, &style->palette->dim, 1);
  bed_text_show (style->type, cr, face->caption, BED_WEIGHT_REGULAR, size, at.x,
                 at.y + size * 1.35);
}

static void
draw_side (cairo_t *cr, const BedElevationDrawing *drawing, const BedLogSide *side)
{
  const BedPile *pile = drawing->elevation->pile;
  BedLogBar bar = { bed_viewport_to_screen (&drawing->view, side->from),
                    bed_viewport_to_screen (&drawing->view, side->to),
                    side->radius * drawing->view.scale };

  if (side->bar != G_MAXUINT)
    {
      const BedYardLog *log = g_array_index (pile->bars, BedBar, side->bar).log;
      bed_log_bar_draw (cr, log, &bar, drawing->style);
      return;
    }
  cairo_move_to (cr, bar.from.x, bar.from.y);
  cairo_line_to (cr, bar.to.x, bar.to.y);
  bed_colour_stroke (cr, &drawing->style->palette->rail, 1, 2 * bar.radius);
}

/* A place no log lies in. */
static void
draw_free (cairo_t *cr, const BedElevationDrawing *drawing, const BedLogEnd *end)
{
  BedPoint at = bed_viewport_to_screen (&drawing->view, end->middle);
  double r = end->radius * drawing->view.scale;

  cairo_save (cr);
  cairo_new_sub_path (cr);
  cairo_arc (cr, at.x, at.y, MAX (1, r - 1), 0, 2 * G_PI);
  bed_colour_set (cr, &drawing->style->palette->ground, 0.6);
  cairo_fill_preserve (cr);
  cairo_set_dash (cr, (const double[]){ 3, 3 }, 2, 0);
  bed_colour_stroke (cr, &drawing->style->palette->free, 0.9, 1);
  cairo_restore (cr);
}

static gboolean
is_lifted (const BedElevationDrawing *drawing, const BedYardLog *log)
{
  for (guint i = 0; drawing->lifted && i < drawing->lifted->len; i++)
    if (g_array_index (drawing->lifted, gint64, i) == log->id)
      return TRUE;
  return FALSE;
}

static void
draw_end (cairo_t *cr, const BedElevationDrawing *drawing, guint index)
{
  const BedLogEnd *end = bed_elevation_end (drawing->elevation, index);
  const BedYardLog *log = bed_elevation_get_bar (drawing->elevation, index)->log;
  BedLogBar bar = { bed_viewport_to_screen (&drawing->view, end->foot),
                    bed_viewport_to_screen (&drawing->view, end->middle),
                    end->radius * drawing->view.scale };

  if (!log || is_lifted (drawing, log))
    {
      draw_free (cr, drawing, end);
      return;
    }
  if (hypot (bar.to.x - bar.from.x, bar.to.y - bar.from.y) > 1)
    bed_log_bar_draw (cr, log, &bar, drawing->style);
  bed_log_end_draw (cr, log, bar.to, bar.radius, drawing->style);
}

void
bed_elevation_draw (cairo_t *cr, const BedElevationDrawing *drawing)
{
  const BedElevation *elevation = drawing->elevation;

  for (guint i = 0; i < elevation->sides->len; i++)
    draw_side (cr, drawing, &g_array_index (elevation->sides, BedLogSide, i));
  for (guint i = 0; i < elevation->faces->len; i++)
    draw_ground_line (cr, drawing, &g_array_index (elevation->faces, BedEndFace, i));
  for (guint i = 0; i < elevation->ends->len; i++)
    draw_end (cr, drawing, i);
}
