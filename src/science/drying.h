#pragma once

#include <glib.h>

/* Where the moisture of a log is going. All moisture percent, dry basis; days. */

typedef struct
{
  double day; /* since any day; the same for all */
  double pct;
} BedWeighing;

/* Pieces of one wood differ in density by a tenth: R. J. Ross (ed.), Wood Handbook (FPL-GTR-190),
 * 2010, chapter 5, coefficient of variation of specific gravity (from memory). Of a disc: common
 * practice, no source. */
#define BED_DRYING_BY_SPECIES 0.10
#define BED_DRYING_BY_DISC 0.03

typedef struct
{
  double rest_pct;   /* the moisture drying tends to: bed_air()'s emc_pct, or about 16 */
  double alarm_pct;  /* the limit of interest, above rest_pct */
  double noise_pct;  /* what one weighing is uncertain by; 1 to 2 for a spring balance */
  double dry_spread; /* relative standard deviation of the dry mass the moistures were reckoned
                      * with, 0 to 0.3: BED_DRYING_BY_SPECIES or BED_DRYING_BY_DISC */
} BedDryingSetting;

typedef struct
{
  double rate;            /* of approach, per day; median */
  double rate_low;        /* 10 % */
  double rate_high;       /* 90 % */
  double now_pct;         /* at the last weighing, smoothed */
  double now_low_pct;     /* 10 % */
  double now_high_pct;    /* 90 % */
  double alarm_day;       /* median day on which alarm_pct is reached, on the weighings' own axis */
  double alarm_day_early; /* 10 %: wet by this day to be safe */
  double alarm_day_late;  /* 90 % */
} BedDrying;

/* Fits M(t) = rest + (M0 - rest) exp (-k t) to the weighings since the last wetting,
 * 1 to 1000 in any order. M0 is free; k has the prior of bark-on piled logs, 0.003 to
 * 0.012 per day as its middle 90 % (log-normal), which the summer and winter piles of
 * R. Visser, H. Berkett, R. Spinelli, New Zealand Journal of Forestry Science 44:3
 * (2014), and A. Tomczak et al., Forests 11:668 (2020), imply. One weighing therefore
 * has an answer, and each more narrows it. A log that did not dry (rain) widens it
 * only as far as noise_pct says: weighings that scatter more than that are given the
 * scatter they show. A dry mass that is off shifts every moisture together, which no further
 * weighing betrays: it stays in the interval. */
gboolean bed_drying_fit (const BedWeighing *weighings, gsize n, const BedDryingSetting *setting,
                         BedDrying *drying, GError **error);

/* A soak */

typedef struct
{
  double hours;
  double gain_pct; /* moisture after less before */
} BedSoaking;

typedef struct
{
  double per_root_hour; /* s of gain = s sqrt (t): capillary rise, E. W. Washburn (1921) */
  double k1;            /* of gain = t / (k1 + k2 t), M. Peleg (1988); 0 when the root fits */
  double k2;            /* better or the soaks are of fewer than three lengths */
  double scatter_pct;   /* root mean square about the form in use */
} BedSoakFit;

/* How the farm's own logs take up water; @n from 1 to 10000. No published curve for
 * whole bark-on logs is known, so there is no default. */
gboolean bed_soak_fit (const BedSoaking *soaks, gsize n, BedSoakFit *fit, GError **error);

/* The gain to expect from @hours (0 to 240). */
gboolean bed_soak_gain (const BedSoakFit *fit, double hours, double *gain_pct, GError **error);
