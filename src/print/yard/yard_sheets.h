#pragma once

#include "yard/yard.h"

/* How a piece of ground lies on sheets of paper: side by side, each with a strip of its neighbours,
 * so that they can be laid over one another. Paper is in points. */

#define BED_SHEETS_MOST 200

/* The smallest round denominator, from 20 on, with which the ground goes on one sheet of
 * @width x @height points: of what is no yard any more beyond 2000, too. */
guint bed_sheets_find_scale (const BedExtent *extent, double width, double height);

/* The round ones from 20 to 2000, ended by 0; others between are as good. */
extern const guint bed_sheets_scales[];

typedef struct
{
  BedExtent extent; /* all of the ground, metres */
  guint scale;      /* 1:scale */
  double width, height;
  guint across, down;
} BedSheets;

/* Sheets whose drawing is at most @width x @height points. */
void bed_sheets_lay (BedSheets *self, const BedExtent *extent, guint scale, double width,
                     double height);

/* What sheet @index shows, row by row from the north-west: metres. All but the last of a row or
 * column are full; neighbours share BED_SHEETS_OVERLAP points of paper. */
BedExtent bed_sheets_get (const BedSheets *self, guint index);
#define BED_SHEETS_OVERLAP 28.35 /* 10 mm */

/* "B2": the second of the second row; AA follows Z. */
char *bed_sheets_dup_name (const BedSheets *self, guint index);

/* Points to a metre. */
double bed_sheets_get_points (const BedSheets *self);
