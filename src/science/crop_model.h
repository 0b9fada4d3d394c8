#pragma once

#include "science/statistics.h"

/* What a season's crop will be.
 *
 * Mass = logs alive x level of the kind x shape of age x luck of the batch x luck of the season.
 * Each season's mass over what its logs should give by kind, age and batch is one observation of
 * level and luck together, an empty season too. The square root of such a rate is taken as normal,
 * so that nought needs no case of its own (ours: in simulation it leans less than the cube root and
 * covers as well); a new one is the mean +- t s sqrt (q + 1 / sum (1/q)), q how much less a season
 * of few batches tells. The age shape is drawn toward 1 : 2 : 2 : 1 of bearing years (Maryland
 * Cooperative Extension, Shiitake Mushrooms Enterprise, Rural Enterprise Series, c. 2000, seen),
 * halving after the fourth (ours, no source), kinds and batches toward the farm's mean, each the
 * less the more is on record. How far a season and an age may be off before the farm's own
 * records say is a stated guess of ours (crop_model.c).
 *
 * The interval is of seeded draws through level, shape, luck and survival together: the same
 * records have the same answer. How well it keeps what it says: docs/figures.md. */

#define BED_CROP_AGES 16 /* seasons since inoculation from 0; older ones are as the last */

/* What one batch gave in one season. */
typedef struct
{
  guint batch; /* any numbers from 0 on, without large gaps */
  guint kind;
  guint age; /* seasons since inoculation; 0 tells nothing but to a farm that has no other */
  int season;
  double logs;  /* alive when the season began, > 0 */
  double kg;    /* >= 0 */
  double share; /* of a season's mass that has usually come by now: 1 for one that is over */
} BedCropCell;

/* Logs that may bear in the season asked about. */
typedef struct
{
  guint batch;
  guint kind;
  guint age;             /* in that season */
  double logs;           /* alive now */
  double survival;       /* share of them alive when it begins */
  double survival_error; /* its standard error */
} BedCropLogs;

typedef struct
{
  BedInterval kg;      /* the median of what may come, and 80 %; NOTHING without a record */
  double share_unseen; /* of what is expected, from ages not on record yet, 0 to 1 */
  guint seasons;       /* of bearing on record */
} BedCropExpected;

typedef struct _BedCropModel BedCropModel;

/* The model of @cells in any order; NULL and an error naming the field that is out of range. */
BedCropModel *bed_crop_model_new (const BedCropCell *cells, gsize n_cells, GError **error);
void bed_crop_model_free (BedCropModel *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedCropModel, bed_crop_model_free)

/* What @logs bring in one season. */
BedCropExpected bed_crop_model_expect (const BedCropModel *self, const BedCropLogs *logs,
                                       gsize n_logs);

/* A log of the mean kind and batch at @age in a usual season, kg; 0 without a record. */
double bed_crop_model_log (const BedCropModel *self, guint age);

/* What a log of @batch and @kind gives at @age beside any other, in a season that is as good for
 * both: no unit; times the level it is kilograms. Of what is not in the cells by the mean. */
double bed_crop_model_due (const BedCropModel *self, guint batch, guint kind, guint age);
