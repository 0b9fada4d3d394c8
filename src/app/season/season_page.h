#pragma once

#include "app/desk/page.h"

/* Season: a year in figures and pictures, and its workbook. */
#define BED_TYPE_SEASON_PAGE (bed_season_page_get_type ())
G_DECLARE_FINAL_TYPE (BedSeasonPage, bed_season_page, BED, SEASON_PAGE, BedPage)
