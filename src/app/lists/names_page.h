#pragma once

#include "app/desk/parts_page.h"

/* What other records name: woods, mushrooms, strains, buyers, and what there is in the yard. */
#define BED_TYPE_NAMES_PAGE (bed_names_page_get_type ())
G_DECLARE_FINAL_TYPE (BedNamesPage, bed_names_page, BED, NAMES_PAGE, BedPartsPage)
