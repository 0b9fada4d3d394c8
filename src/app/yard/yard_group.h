#pragma once

#include "app/yard/yard_view.h"
#include "yard/moves.h"

/* What is done to all that is chosen at once: one change, undone in one go. */

/* NULL with an error when a record is gone. */
BedYardChange *bed_yard_group_move (BedFarm *farm, const BedYard *yard,
                                    const BedYardCarried *carried, GError **error);
