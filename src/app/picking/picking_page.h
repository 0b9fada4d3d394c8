#pragma once

#include "app/desk/parts_page.h"

/* Picking: one line to type picks into, the lots they make, and who buys them. */
#define BED_TYPE_PICKING_PAGE (bed_picking_page_get_type ())
G_DECLARE_FINAL_TYPE (BedPickingPage, bed_picking_page, BED, PICKING_PAGE, BedPartsPage)
