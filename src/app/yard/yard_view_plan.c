/* Tomorrow over today: where logs are planned to go. */
#include "app/yard/yard_view_private.h"

#include <math.h>

#define HEAD 12.0 /* px, of an arrow */
#define HEAD_ANGLE 0.45

static void
draw_arrow (BedYardView *self, cairo_t *cr, const BedYardArrow *arrow)
{
  BedPoint from = bed_viewport_to_screen (&self->view, arrow->from);
  BedPoint to = bed_viewport_to_screen (&self->view, arrow->to);
  double way = atan2 (to.y - from.y, to.x - from.x);

  cairo_move_to (cr, from.x, from.y);
  cairo_line_to (cr, to.x, to.y);
  for (int side = -1; side <= 1; side += 2)
    {
      cairo_move_to (cr, to.x, to.y);
      cairo_line_to (cr, to.x - HEAD * cos (way + side * HEAD_ANGLE),
                     to.y - HEAD * sin (way + side * HEAD_ANGLE));
    }
}

void
bed_yard_view_draw_plan (BedYardView *self, GtkSnapshot *snapshot)
{
  const GArray *arrows = self->yard ? self->yard->arrows : NULL;

  if (!arrows || arrows->len == 0)
    return;
  graphene_rect_t bounds
      = GRAPHENE_RECT_INIT (0, 0, (float) self->view.width, (float) self->view.height);
  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &bounds);
  for (guint i = 0; i < arrows->len; i++)
    draw_arrow (self, cr, &g_array_index (arrows, BedYardArrow, i));
  /* Seen on bark and on grass, in light and in dark. */
  const BedPalette *palette = self->style.palette;
  cairo_path_t *path = cairo_copy_path (cr);
  bed_colour_stroke (cr, &palette->ground, 0.9, 5);
  cairo_new_path (cr);
  cairo_append_path (cr, path);
  cairo_path_destroy (path);
  bed_colour_stroke (cr, &palette->accent, 1, 2.5);
  cairo_destroy (cr);
}
