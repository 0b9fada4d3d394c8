#pragma once

#include "model/farm/farm.h"
#include "science/drill.h"

/* The pattern of a batch on its mean log: mean length and diameters of the
 * batch's logs, or 1 m by 10 cm while it has none (a middling bolt; common
 * practice, no source). What the batch leaves open is taken as the form's help
 * has it: 15 cm along, 7.5 cm between, 5 cm from the end. FALSE with the farm's
 * error when there is no such batch. */
gboolean bed_drill_read_batch (BedFarm *farm, gint64 batch, BedDrill *drill, GError **error);
