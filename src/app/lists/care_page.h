#pragma once

#include "app/desk/parts_page.h"

/* Everything that is written down about logs and weather, day by day, of the whole farm. */
#define BED_TYPE_CARE_PAGE (bed_care_page_get_type ())
G_DECLARE_FINAL_TYPE (BedCarePage, bed_care_page, BED, CARE_PAGE, BedPartsPage)
