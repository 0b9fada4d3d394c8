#include "yard/viewport.h"

#include <math.h>

BedPoint
bed_viewport_to_screen (const BedViewport *view, BedPoint world)
{
  return (BedPoint){ view->width / 2 + (world.x - view->middle.x) * view->scale,
                     view->height / 2 - (world.y - view->middle.y) * view->scale };
}

BedPoint
bed_viewport_to_world (const BedViewport *view, BedPoint screen)
{
  return (BedPoint){ view->middle.x + (screen.x - view->width / 2) / view->scale,
                     view->middle.y - (screen.y - view->height / 2) / view->scale };
}

void
bed_viewport_fit (BedViewport *view, const BedExtent *extent, double margin)
{
  double across = MAX (1, view->width - 2 * margin) / MAX (extent->width, 0.1);
  double down = MAX (1, view->height - 2 * margin) / MAX (extent->height, 0.1);

  view->scale = CLAMP (MIN (across, down), BED_VIEWPORT_LEAST, BED_VIEWPORT_MOST);
  view->middle.x = extent->x + extent->width / 2;
  view->middle.y = extent->y + extent->height / 2;
}

void
bed_viewport_zoom (BedViewport *view, double factor, BedPoint screen)
{
  BedPoint under = bed_viewport_to_world (view, screen), moved;

  view->scale = CLAMP (view->scale * factor, BED_VIEWPORT_LEAST, BED_VIEWPORT_MOST);
  moved = bed_viewport_to_world (view, screen);
  view->middle.x += under.x - moved.x;
  view->middle.y += under.y - moved.y;
}

void
bed_viewport_pan (BedViewport *view, double dx, double dy)
{
  view->middle.x -= dx / view->scale;
  view->middle.y += dy / view->scale;
}

double
bed_viewport_round_length (const BedViewport *view, double most)
{
  double metres = most / view->scale;
  double power = pow (10, floor (log10 (metres)));
  double share = metres / power;

  return power * (share >= 5 ? 5 : share >= 2 ? 2 : 1);
}
