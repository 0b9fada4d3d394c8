#pragma once

#include "science/statistics.h"

/* Which kind of log gives more. A batch is what is repeated, not a log: the logs of one share
 * its day, its spawn and its luck. In seasons that gave something, a batch's mass for a log and
 * season = level of its kind x the luck of the years of those made in the same year x its own luck;
 * fitted with a logarithm for link and a deviation in proportion to the mean (P. McCullagh, J. A.
 * Nelder, Generalized Linear Models, 2nd ed. 1989, chapter 8, from memory). That times the share of
 * seasons that gave something is the kind's level: the share of all kinds together, unless they
 * differ in it by more than chance (chi-square, one in a hundred: ours); then its own.
 * Intervals by Student's t with batches less kinds less years plus one degrees of freedom, and the
 * normal deviation of the share's logarithm beside it.
 *
 * Kinds are compared that shared a year of inoculation, or are tied by others that did: the
 * largest such set. Of the rest nothing tells what is the kind's and what the years'. */

typedef struct
{
  guint kind;
  int year;            /* season of inoculation */
  double logs;         /* summed over the seasons of bearing, > 0 */
  double kg;           /* in them, >= 0 */
  guint seasons, bare; /* of bearing, and how many of them gave nothing */
  double bare_share;   /* of what its seasons should have given by its logs and their age, that of
                        * those; 0 to 1 */
} BedCropBatch;

typedef enum
{
  BED_CROP_NO_RECORD,
  BED_CROP_COMPARED,
  BED_CROP_OTHER_YEARS, /* cannot be told from its years: its own mass, without an interval */
} BedCropTold;

typedef struct
{
  BedCropTold told;
  guint batches;
  BedInterval
      kg; /* a log and season, in the mean of the years compared; POINT with too few batches */
} BedCropLevel;

/* The level of each kind below @n_kinds, in an array to free; @level is two-sided. NULL and an
 * error naming the field that is out of range. */
BedCropLevel *bed_crop_compare (const BedCropBatch *batches, gsize n_batches, guint n_kinds,
                                double level, GError **error);
