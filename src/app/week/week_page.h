#pragma once

#include "app/desk/page.h"

G_BEGIN_DECLS

/* This week: what is due and overdue, and why. */
#define BED_TYPE_WEEK_PAGE (bed_week_page_get_type ())
G_DECLARE_FINAL_TYPE (BedWeekPage, bed_week_page, BED, WEEK_PAGE, BedPage)

G_END_DECLS
