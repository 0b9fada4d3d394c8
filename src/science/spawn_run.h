#pragma once

#include <glib.h>

/* How far the spawn has run. Progress goes with warmth: `effort` is degree days
 * since inoculation from bed_heat_day(), with the strain's limits (about 5 C below
 * and 30 C above: docs/sources.md, "Spawn run"), or plain days where no temperatures
 * are kept; one or the other throughout. */

typedef enum
{
  BED_STRAIN_COLD,
  BED_STRAIN_WIDE,
  BED_STRAIN_WARM,
  BED_N_STRAINS
} BedStrainType;

typedef enum
{
  BED_WOOD_DENSE, /* oak, hickory, beech, hornbeam */
  BED_WOOD_QUICK, /* maple, sweetgum, poplar, alder, birch: start sooner, end sooner */
} BedWoodPace;

typedef struct
{
  double effort; /* since inoculation */
  double pct;    /* colonised, at the end faces */
} BedSpawnCheck;

typedef struct
{
  double likely; /* median effort to full colonisation */
  double early;  /* 10 % */
  double late;   /* 90 % */
} BedSpawnPrior;

typedef struct
{
  double full;       /* median effort to full colonisation */
  double full_early; /* 10 % */
  double full_late;  /* 90 % */
  double pct;        /* colonised at the effort so far */
  double pct_low;
  double pct_high;
} BedSpawnRun;

/* What to expect before any check, in days: warm and wide-range strains 6 to 12
 * months, cold 12 to 18 (MEM-M); quick woods a sixth sooner (D. B. Hill, University
 * of Kentucky, FOR-90, says sooner; the sixth is common practice, no source).
 * Multiply all three by the farm's mean degree days a day for a prior in those. */
gboolean bed_spawn_prior (BedStrainType strain, BedWoodPace pace, BedSpawnPrior *prior,
                          GError **error);

/* The prior and the batch's own checks (0 to 1000) together. The link from the colour of the end
 * faces to the run is ours, no source: colonised share is effort / full, at most all, to a power
 * between a half and 2.2 that is left open, so that growth like a root or a logistic is covered,
 * and each check is uncertain by 10 points. @effort is what has been reached today. */
gboolean bed_spawn_run (const BedSpawnPrior *prior, const BedSpawnCheck *checks, gsize n,
                        double effort, BedSpawnRun *run, GError **error);

/* The day, counted from today as 0, on which @effort grown by @daily[0], @daily[1]...
 * reaches @wanted; 0 when it has, -1 when @n days do not suffice. */
gboolean bed_spawn_day (double effort, double wanted, const double *daily, gsize n, int *day,
                        GError **error);
