#pragma once

#include "print/page/document.h"
#include "print/yard/yard_look.h"
#include "science/measure.h"
#include "yard/scene.h"
#include <glib.h>

/* The yard on paper, to scale, with a grid, north, a scale bar, the stacks with what lies in them
 * and the key of what their colours say. What does not go on one sheet goes on several, with join
 * marks and a small plan of the sheets; a key too long for the foot has pages of its own; then come
 * elevations. */

typedef enum
{
  BED_MAP_PAPER,
  BED_MAP_PICTURE, /* one page, to be stretched by others: no number for a scale that it would
                    * lose, and a bar each way */
} BedMapUse;

typedef enum
{
  BED_ELEVATIONS_NONE,
  BED_ELEVATIONS_CHOSEN, /* of those in ->stacks */
  BED_ELEVATIONS_ALL,
} BedMapElevations;

typedef struct
{
  BedPaper paper;
  const char *farm; /* copied */
  const char *date; /* as printed; copied */
  BedSystem system; /* of lengths written on it */
  BedColourBy colour_by;
  guint scale; /* 1:scale, 20 to 2000; 0: the largest round one of one sheet */
  BedMapElevations elevations;
  const GArray *stacks; /* gint64; may be NULL; copied */
  BedMapUse use;
} BedYardMapSpec;

/* Takes @yard. NULL with BED_PRINT_ERROR_SHEET: a scale out of its range, or too many sheets. */
BedDocument *bed_yard_map_new (BedYard *yard, const BedYardMapSpec *spec, GError **error);
