#pragma once

#include "app/desk/page.h"

/* History: everything that was done, and back again. */
#define BED_TYPE_HISTORY_PAGE (bed_history_page_get_type ())
G_DECLARE_FINAL_TYPE (BedHistoryPage, bed_history_page, BED, HISTORY_PAGE, BedPage)
