#pragma once

#include "app/desk/page.h"

/* The yard: the areas with their stacks to scale, on any day. */
#define BED_TYPE_YARD_PAGE (bed_yard_page_get_type ())
G_DECLARE_FINAL_TYPE (BedYardPage, bed_yard_page, BED, YARD_PAGE, BedPage)
