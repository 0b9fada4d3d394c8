#pragma once

#include "model/farm/farm.h"
#include "science/drill.h"

/* From the records on the form to the arithmetic of science/drill.h and back. No GTK. */

/* What a batch takes, all its logs together. */
typedef struct
{
  BedDrillPlan *plan;   /* of the typical log: the one drawn */
  double hole_diameter; /* mm */
  guint logs;           /* 0: the plan is of one log of a usual size */
  gint64 holes;
  gint64 pieces; /* dowels or thimbles, 0 for loose spawn */
  double spawn_g;
  double spawn_low_g;
  double spawn_high_g;
  double spawn_reserve_g; /* more than that, as the farm's settings wish */
  guint own;              /* batches of the farm whose own use is the measure; 0: common practice */
  double wax_g;
  double minutes; /* of one person */
} BedBatchTotals;

void bed_batch_totals_clear (BedBatchTotals *totals);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (BedBatchTotals, bed_batch_totals_clear)

typedef struct
{
  BedRecord *batch; /* the pattern */
  GPtrArray *logs;  /* BedRecord of kind LOG; empty or NULL: one log of a usual size */
  const char *form; /* of the spawn, "sawdust"…; NULL: sawdust */
  BedFarm *farm;    /* its pace and needs, and what its batches took */
} BedBatchNeeds;

/* FALSE when there are no holes, when the pattern is not whole or not possible; the message says
 * what is wrong. */
gboolean bed_batch_totals_init (BedBatchTotals *totals, const BedBatchNeeds *needs, GError **error);
