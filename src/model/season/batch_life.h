#pragma once

#include "model/farm/farm.h"
#include "science/budget.h"

/* What @batch cost by itself, season by season of its life so far: what was bought for it, its
 * share of the spawn (in its first season), and its hours at their rate or the farm's. The
 * same money as the view batch_cost; the yard's common costs are the season's. Minor units.
 * Free with bed_batch_costs_free(); NULL and an error when the farm cannot be read. */
BedBatchCosts *bed_batch_life_cost (BedFarm *farm, gint64 batch, GError **error);
