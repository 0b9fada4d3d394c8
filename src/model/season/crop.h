#pragma once

#include "model/farm/farm.h"
#include "science/crop_compare.h"
#include "science/crop_model.h"

/* What the farm's logs taught: which strain and wood gives more, how long logs last, and what
 * the coming seasons should bring. The window and the workbook both ask it. Age is in whole
 * seasons since that of inoculation. */

/* Two-sided, of every interval here. */
#define BED_CROP_LEVEL 0.8
#define BED_CROP_SEASONS 3

/* One strain on one wood. */
typedef struct
{
  char *name;       /* "Wide one · northern red oak" */
  char *wood;       /* '+': batches of several */
  char *strain;     /* "-" for none known */
  guint batches;    /* that have borne in a season that is over */
  gint64 logs;      /* made, of all its batches */
  BedCropTold told; /* whether kg can be compared with the others' */
  BedInterval kg;   /* a log and season; science/crop_compare.h */
} BedCropGroup;

typedef struct
{
  guint age;         /* seasons since inoculation */
  BedInterval alive; /* share of logs past it */
} BedCropAge;

typedef struct
{
  GPtrArray *groups;     /* BedCropGroup, those compared before the rest, most first */
  GArray *curve;         /* BedSurvivalStep, science/survival.h */
  GArray *ages;          /* BedCropAge, from 1 to 6, as far as any log has come */
  guint logs;            /* whose lives are counted */
  double median_seasons; /* half of the logs are spent by then; NAN when not so many are */
  int season;            /* the one asked about */
  BedCropExpected coming[BED_CROP_SEASONS]; /* of the seasons after it, from the logs alive now */
  double log_kg[BED_CROP_AGES];             /* a log by age in a usual season; 0: no record */
} BedCrop;

/* What is known at the end of @season (the year it began), or today where it is not over; of a
 * season that runs, by the share that has usually come by today.
 *
 * Logs sold, lost from sight or alive are not deaths but end their watch (science/survival.h).
 * What is expected is science/crop_model.h, the comparison science/crop_compare.h. Batches
 * without single logs are in none of them. NULL and an error when the farm cannot be read. */
BedCrop *bed_crop_new (BedFarm *farm, int season, GError **error);

/* The same once bed_outlook_read() has walked the picks, which need not be looked at again. */
BedCrop *bed_crop_new_reckoned (BedFarm *farm, int season, GError **error);
void bed_crop_free (BedCrop *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedCrop, bed_crop_free)
