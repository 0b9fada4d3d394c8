#pragma once

#include "model/farm/farm.h"

/* What a list shows of a batch's life at a glance: all batches are asked of at once. */

typedef struct
{
  int day;      /* since inoculation; before it 0 */
  double alive; /* share of its logs from that day on */
} BedBatchLoss;

typedef struct
{
  int age;        /* days since inoculation, or until the last log was retired */
  int first_day;  /* since inoculation: of the first soak, without any the first pick; -1: none */
  gboolean spent; /* no log is left */
  GArray *losses; /* BedBatchLoss, by day; none while all live */
  /* mg picked by week, Monday to Sunday; the last runs. Totals of several weeks are in none. */
  double weeks[53];
} BedBatchGlance;

typedef struct
{
  GHashTable *batches; /* id (gint64) -> BedBatchGlance, of those inoculated */
  int oldest;          /* the greatest ->age */
  double most;         /* the greatest week */
} BedBatchGlances;

/* Kept with the farm until it or its day is another; borrowed until then. NULL and an error when
 * the farm cannot be read. */
const BedBatchGlances *bed_batch_glances_get (BedFarm *farm, GError **error);

/* The same where it is read already, else NULL. */
const BedBatchGlances *bed_batch_glances_peek (BedFarm *farm);
