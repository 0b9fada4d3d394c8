#pragma once

#include "model/work/care.h"

/* Dry mass of @log, kg: from the latest sample disc of its batch or felling cut within three
 * weeks of a day on which the log's own weight is known; else from its size and its wood.
 * FALSE and an error when neither will do. */
gboolean bed_care_dry_mass (BedFarm *farm, gint64 log, double *dry_kg, BedCareBasis *basis,
                            GError **error);
