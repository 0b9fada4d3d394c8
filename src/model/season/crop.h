#pragma once

#include "model/farm/farm.h"
#include "science/statistics.h"

/* What the farm's logs taught: which strain and wood gives more, how long logs last, and what
 * the coming season should bring. Seasons that are over count; that of inoculation bears
 * nothing and is left out. */

/* One strain on one wood. */
typedef struct
{
  char *name;          /* "Wide one · northern red oak" */
  guint batch_seasons; /* batches times seasons */
  gint64 logs;         /* of those batches */
  BedInterval kg;      /* a log and season, 80 %; drawn towards the mean of all: compare by it */
} BedCropGroup;

typedef struct
{
  guint age;         /* full years since inoculation */
  BedInterval alive; /* share of logs, 80 % */
} BedCropAge;

typedef struct
{
  GPtrArray *groups;   /* BedCropGroup, most first */
  GArray *ages;        /* BedCropAge, from 1 to 6, as far as any log has come */
  guint logs;          /* whose lives are counted */
  double median_years; /* half of the logs are spent by then; NAN when not so many are */
  int next_season;     /* the running one in its first half, else the one after */
  BedInterval next;    /* kg to expect of it, 80 % */
} BedCrop;

/* What is known today.
 *
 * Yields of strain by wood are compared with the age taken out: each batch's crop of a season
 * over what logs of that age gave on the mean, science/yield.h. Logs sold, lost from sight or
 * alive are not deaths but end their watch, science/survival.h. The season ahead is the mean
 * crop of each age times the logs that should then be alive, and its interval is how far such
 * forecasts of earlier seasons, made at their beginning, were off, science/forecast.h. NULL
 * and an error when the farm cannot be read. */
BedCrop *bed_crop_new (BedFarm *farm, GError **error);
void bed_crop_free (BedCrop *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedCrop, bed_crop_free)
