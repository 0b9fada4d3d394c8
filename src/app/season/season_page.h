#pragma once

#include "app/desk/page.h"

G_BEGIN_DECLS

/* Season: a year in figures and pictures, and its workbook. */
#define BED_TYPE_SEASON_PAGE (bed_season_page_get_type ())
G_DECLARE_FINAL_TYPE (BedSeasonPage, bed_season_page, BED, SEASON_PAGE, BedPage)

G_END_DECLS
