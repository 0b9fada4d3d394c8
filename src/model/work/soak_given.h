#pragma once

#include "model/farm/farm.h"

/* What soaks gave: the picks that followed them, from the day logs go in to the last day of their
 * flush. A pick of a log is of its own soak; one of a stack or a batch is of those of its logs that
 * were soaked, if any were: what came by itself, or of kinds that are not soaked, is left out. Of
 * the last 200 soaks within two years. */

typedef struct
{
  GHashTable *by_batch; /* id -> double *, kg a log gives a soak: the mean of its mushroom and
                         * method; none where no soak of them gave anything yet */
  GHashTable *by_day;   /* YYYY-MM-DD -> double *, kg picked after soaks */
} BedSoakGiven;

/* NULL and an error when the farm cannot be read. */
BedSoakGiven *bed_soak_given_new (BedFarm *farm, GError **error);
void bed_soak_given_free (BedSoakGiven *given);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedSoakGiven, bed_soak_given_free)

/* NAN where the farm does not know. */
double bed_soak_given_get_kg (const BedSoakGiven *given, gint64 batch);
