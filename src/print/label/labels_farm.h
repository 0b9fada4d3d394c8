#pragma once

#include "model/farm/farm.h"
#include "print/label/label.h"

/* Labels filled from a farm. Each adds to @labels and gives FALSE with the
 * error of the farm (NOT_FOUND, CORRUPT) when a record is not there. */

/* A tag for every log of the batch that is not retired, in the order of their codes. */
gboolean bed_labels_add_batch_tags (BedLabels *labels, BedFarm *farm, gint64 batch, GError **error);

/* A tag for one log. */
gboolean bed_labels_add_tag (BedLabels *labels, BedFarm *farm, gint64 log, GError **error);

/* The sign of a stack, or of every stack that stands when @stack is 0. */
gboolean bed_labels_add_signs (BedLabels *labels, BedFarm *farm, gint64 stack, GError **error);

/* The signs of every stack that stands in the area. */
gboolean bed_labels_add_area_signs (BedLabels *labels, BedFarm *farm, gint64 area, GError **error);

/* The label of a bag of that spawn lot. */
gboolean bed_labels_add_spawn (BedLabels *labels, BedFarm *farm, gint64 spawn, GError **error);

/* What a lot does not know of its crates. */
typedef struct
{
  gint64 lot;
  guint count;        /* crates alike; 0 is taken as 1 */
  gint64 mass;        /* mg in each; 0: all that the lot holds, in one */
  const char *packed; /* YYYY-MM-DD; NULL: the day it was cooled, else picked last */
  gint64 price;       /* minor units; 0: none is printed */
} BedCrate;

/* The labels of those crates. FALSE with BED_PRINT_ERROR_AMOUNT too when the lot does not hold as
 * much. */
gboolean bed_labels_add_crate (BedLabels *labels, BedFarm *farm, const BedCrate *crate,
                               GError **error);
