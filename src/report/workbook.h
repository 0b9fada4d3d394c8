#pragma once

#include "model/farm/farm.h"
#include "report/workbook_plan.h"

/* The season workbook: what a grower hands to an accountant, a certifier, a
 * lender, and reads in winter. One .xlsx file (ECMA-376) in the farm's units and
 * currency. Every total, average and ratio in it is a live formula that carries
 * the value it has now; text people typed is always text, never a formula. */

/* The season that is running: the year it began. */
int bed_workbook_season (BedFarm *farm, GError **error);

/* The day whose yard map belongs to @season: its last, or today while it runs. */
char *bed_workbook_map_date (BedFarm *farm, int season);

/* Writes it. The date in its properties is the farm's now (bed_farm_fix_clock()),
 * so a farm with a fixed clock gives the same bytes each time, in any locale.
 * Written beside @path and renamed when whole and on the disk.
 *
 * Errors: G_IO_ERROR for the file (CANCELLED, NO_SPACE, PERMISSION_DENIED…),
 * BED_FARM_ERROR for the questions to the farm, and INVALID for a path where nothing may be
 * written (model/output.h). */
gboolean bed_workbook_write (BedFarm *farm, const BedWorkbookPlan *plan, GError **error);
