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

/* What a lot does not know of one crate. */
typedef struct
{
  gint64 lot;
  gint64 mass;        /* mg; 0: all that was picked into the lot */
  const char *packed; /* YYYY-MM-DD; NULL: today */
  gint64 price;       /* minor units; 0: none is printed */
} BedCrate;

/* The label of that crate. */
gboolean bed_labels_add_crate (BedLabels *labels, BedFarm *farm, const BedCrate *crate,
                               GError **error);
