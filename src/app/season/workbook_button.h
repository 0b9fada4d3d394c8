#pragma once

#include "app/widgets/part.h"

/* "Write workbook…", and while it is being written a bar with what is being done, and Cancel.
 * A thread writes, from a farm of its own opened from the same file; the window stays usable. */
#define BED_TYPE_WORKBOOK_BUTTON (bed_workbook_button_get_type ())
G_DECLARE_FINAL_TYPE (BedWorkbookButton, bed_workbook_button, BED, WORKBOOK_BUTTON, BedPart)

BedWorkbookButton *bed_workbook_button_new (BedFarm *farm);

/* The season it writes. */
void bed_workbook_button_set_season (BedWorkbookButton *self, int season);
