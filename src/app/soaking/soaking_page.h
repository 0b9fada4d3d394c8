#pragma once

#include "app/desk/parts_page.h"

/* Soaking: the rotation, what is in the tank, and the soaks written down. */
#define BED_TYPE_SOAKING_PAGE (bed_soaking_page_get_type ())
G_DECLARE_FINAL_TYPE (BedSoakingPage, bed_soaking_page, BED, SOAKING_PAGE, BedPartsPage)
