#pragma once

#include "model/work/care.h"

/* Dry mass of @log, kg: from the latest sample disc of its batch or felling cut within three
 * weeks of a day on which the log's own weight is known; else from its size and its wood.
 * FALSE and an error when neither will do. */
gboolean bed_care_dry_mass (BedFarm *farm, gint64 log, double *dry_kg, BedCareBasis *basis,
                            GError **error);

/* A log at its last weighing. */
typedef struct
{
  gint64 log, batch; /* 0: none */
  double wet_pct;    /* by its own dry mass, as above */
} BedCareWeighed;

/* Every log weighed in the 90 days up to @day, by id, asked at once; those without a dry mass are
 * left out. NULL when the farm cannot be read. */
GArray *bed_care_weighed_read (BedFarm *farm, const char *day, GError **error);
