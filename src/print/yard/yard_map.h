#pragma once

#include "print/page/document.h"
#include "science/measure.h"
#include "yard/scene.h"
#include <glib.h>

/* The yard on paper, to scale: 1:50, 1:100, 1:200 or 1:500, the largest that
 * fits one sheet (1:500 in part when even that does not), with a grid, north,
 * a scale bar, the batches' marks and the stacks with what lies in them. */
typedef struct
{
  BedPaper paper;
  const char *farm; /* copied */
  const char *date; /* as printed; copied */
  BedSystem system; /* of lengths written on it */
} BedYardMapSpec;

/* Takes @yard. */
BedDocument *bed_yard_map_new (BedYard *yard, const BedYardMapSpec *spec);

/* The scale's denominator (50, 100, 200, 500) that shows @extent within @width x @height points. */
guint bed_yard_map_scale (const BedExtent *extent, double width, double height);
