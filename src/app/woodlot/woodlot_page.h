#pragma once

#include "app/desk/parts_page.h"

/* What there is to make batches of: stands, fellings with the bolts that wait, spawn in store. */
#define BED_TYPE_WOODLOT_PAGE (bed_woodlot_page_get_type ())
G_DECLARE_FINAL_TYPE (BedWoodlotPage, bed_woodlot_page, BED, WOODLOT_PAGE, BedPartsPage)
