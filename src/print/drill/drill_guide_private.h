#pragma once

#include "print/drill/drill_guide.h"

/* Inside the drilling guide only. */

/* Millimetres kept free at the edges of a page, and for the bar at its foot. */
#define GUIDE_MARGIN 10.0
#define GUIDE_FOOT 14.0

/* How the bark is shared out to pages; millimetres. */
typedef struct
{
  gboolean turned; /* the log's length runs down the page, not with the lines of text */
  guint across, down;
  double width, height; /* of one page's part */
  GArray *cuts;         /* double, where a strip is cut along the log, its ends too; else NULL */
} Tiling;

/* One edge of a page's part at which another page's begins; points. */
typedef struct
{
  double x1, y1, x2, y2;
  guint page; /* from 1 */
} Join;

typedef struct
{
  BedDrill drill;
  BedDrillPlan *plan;
  BedDrillPlan *strip; /* its first two rows, or NULL */
  BedNotation notation;
  char *title;
  BedTypesetter *type;
  BedPaper paper;
  Tiling tiling;
  BedBark bark;
  guint n_pages;
} Guide;

gboolean bed_drill_guide_draw_first (const Guide *guide, cairo_t *cr, GError **error);

/* The part of the whole drawing on page @tile + 1, points. */
BedBox bed_drill_guide_get_tile (const Guide *guide, guint tile);
