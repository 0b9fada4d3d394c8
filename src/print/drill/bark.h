#pragma once

#include "print/page/text.h"
#include "science/drill.h"

/* The bark of a log cut open along its seam and laid flat: length across,
 * circumference up, to scale. Rows are faint lines, holes have their true size,
 * the seam is dashed, and a cross marks the point farthest from any hole with
 * the ring of bark that its nearest hole must reach. The one drawing of the
 * screen, the field sheet and the true-size guide.
 *
 * Height is the circumference at the mean diameter, as the holes of
 * science/drill.h are laid out. */

typedef struct
{
  double red, green, blue, alpha;
} BedBarkColour;

typedef struct
{
  BedBarkColour bark; /* ground */
  BedBarkColour edge; /* ends and seam */
  BedBarkColour row;  /* lines of the rows */
  BedBarkColour hole;
  BedBarkColour cross; /* farthest point and its ring */
  BedBarkColour text;
} BedBarkColours;

extern const BedBarkColours bed_bark_light;
extern const BedBarkColours bed_bark_dark;
extern const BedBarkColours bed_bark_paper; /* black on white */

typedef struct
{
  const BedDrillPlan *plan;
  double hole_diameter; /* mm; 0 draws the smallest dots that can be seen */
  const BedBarkColours *colours;
  BedTypesetter *type;
  const char *distance; /* beside the cross: "76 mm" in the farm's unit, or NULL */
  double text_size;     /* of @distance, in units of the context */
} BedBark;

/* Circumference of the drawn bark, mm; its length is the plan's. */
double bed_bark_get_height (const BedBark *self);

/* Where the bark lies in @box when it is drawn as large as fits, in its middle;
 * its width over the plan's length is the scale. */
BedBox bed_bark_get_place (const BedBark *self, const BedBox *box);

/* Draws the bark in the middle of @box. */
void bed_bark_draw (const BedBark *self, cairo_t *cr, const BedBox *box);

/* Draws the bark with its upper left corner at the origin, @scale units of the
 * context to the millimetre: BED_POINTS_PER_MM is true size on a page. */
void bed_bark_draw_at (const BedBark *self, cairo_t *cr, double scale);
