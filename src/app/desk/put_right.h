#pragma once

#include "app/widgets/table.h"

/* The rows of @table, which stands beside something else, are put right there: each in a small form
 * over the window, and removed with all that hangs on it. */
void bed_put_right_in (BedTable *table, BedFarm *farm, BedKind kind);
