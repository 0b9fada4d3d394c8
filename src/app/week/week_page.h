#pragma once

#include "app/desk/page.h"

/* This week: what is due and overdue, and why. */
#define BED_TYPE_WEEK_PAGE (bed_week_page_get_type ())
G_DECLARE_FINAL_TYPE (BedWeekPage, bed_week_page, BED, WEEK_PAGE, BedPage)
