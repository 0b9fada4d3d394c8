#pragma once

#include "science/statistics.h"

/* What logs gave: by year of life, and strain by wood by diameter class, with
 * the luck of small groups taken out.
 *
 * One-way random effects, y = mu + u(group) + e(log), between-group variance by
 * the analysis of variance, which equals REML for balanced data: S. R. Searle,
 * G. Casella, C. E. McCulloch, Variance Components, 1992, section 3.6 (from
 * memory); groups drawn towards the mean by best linear prediction. The error of
 * a drawn-in mean allows for the variances being estimated: N. G. N. Prasad,
 * J. N. K. Rao, "The estimation of the mean squared error of small-area
 * estimators", J. Am. Stat. Assoc. 85:163-171, 1990 (from memory, for balanced
 * groups; its coverage is simulated in tests/science). */

/* What some logs of one group gave together. Where picks are weighed log by log,
 * @logs is 1; where only by the stack, the number of logs in it. A log that gave
 * nothing is a record of 0 kg: leaving it out would flatter the group. */
typedef struct
{
  guint group;    /* 0 ... n_groups - 1, numbered by the caller; or the year of life */
  double logs;    /* > 0 */
  double mass_kg; /* fresh, >= 0, of these logs together */
} BedYieldRecord;

typedef struct
{
  guint records;
  double logs;
  double mass_kg;
  BedInterval own;    /* mean kg per log from this group's records alone */
  BedInterval shrunk; /* the same drawn towards the mean of all groups: compare by this */
} BedYieldGroup;

typedef struct
{
  BedYieldGroup *groups; /* n_groups of them, in the caller's numbering */
  guint n_groups;
  double mean_kg;          /* per log, of a group not yet seen; 0 without records */
  double variance_between; /* kg2, of group means */
  double variance_within;  /* kg2, of one log */
} BedYields;

/* Sums up @records by group. Compare only like with like: records of the same
 * year of life, or of whole lives, since a log's age matters more than its wood.
 *
 * No records, one log, all zeros, one group and groups without records are all
 * answered: what is not known is marked so (BedKnown). A group without records
 * has the mean of all as its drawn-in estimate.
 *
 * Error when a record's group is not below @n_groups, logs are not above zero,
 * a mass is negative, or @level (two-sided) is not a level.
 * Returns: (transfer full) free with bed_yields_free(). */
BedYields *bed_yields_new (const BedYieldRecord *records, gsize n_records, guint n_groups,
                           double level, GError **error);
void bed_yields_free (BedYields *yields);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedYields, bed_yields_free)
