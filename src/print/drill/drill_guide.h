#pragma once

#include "print/drill/bark.h"
#include "science/measure.h"
#include <glib.h>

/* The drilling guide at true size, to cut out, join and mark through: a strip of two rows that is
 * moved round the log and serves every log of the pattern, or the whole unrolled bark. A first page
 * tells the pattern, shows which page goes where and how to work safely; every page carries a bar
 * of 100 mm, or 4 in, to check the printer by. */

typedef enum
{
  BED_GUIDE_STRIP, /* of rows that are shifted by turns; of others the bark */
  BED_GUIDE_BARK,
} BedGuideExtent;

typedef struct
{
  const BedDrill *drill;
  const BedNotation *notation; /* of the lengths on the first page */
  const char *title;           /* "Drilling guide, batch 26A", or NULL for "Drilling guide" */
  BedPaper paper;
  BedGuideExtent extent;
} BedDrillGuide;

/* Cautions of drilling, filling and waxing; translated, ends with NULL. */
const char *const *bed_drill_cautions (void);

/* NULL with BED_SCIENCE_ERROR when there is no plan for the measures given. The log may be 2 m
 * long and the pages 200: longer ones are refused with BED_PRINT_ERROR_SHEET. */
BedDocument *bed_drill_guide_new (const BedDrillGuide *guide, GError **error);
