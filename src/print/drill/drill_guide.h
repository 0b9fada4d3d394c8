#pragma once

#include "print/drill/bark.h"
#include "science/measure.h"
#include <glib.h>

/* The drilling guide: the unrolled bark at true size on as many pages as it
 * needs, to cut out, join, lay round the log and mark through. A first page
 * tells the pattern, shows which page goes where and how to work safely; every
 * page carries a bar of 100 mm to check the printer by. */

typedef struct
{
  const BedDrill *drill;
  const BedNotation *notation; /* of the lengths on the first page */
  const char *title;           /* "Drilling guide, batch 26A", or NULL for "Drilling guide" */
  BedPaper paper;
} BedDrillGuide;

/* Cautions of drilling, filling and waxing; translated, ends with NULL. */
const char *const *bed_drill_cautions (void);

/* NULL with BED_SCIENCE_ERROR when there is no plan for the measures given. The log may be 2 m
 * long and the pages 200: longer ones are refused with BED_PRINT_ERROR_SHEET. */
BedDocument *bed_drill_guide_new (const BedDrillGuide *guide, GError **error);
