#pragma once

#include "app/desk/parts_page.h"

/* Money: what the season cost, by category and by what it was for; hours; equipment. */
#define BED_TYPE_MONEY_PAGE (bed_money_page_get_type ())
G_DECLARE_FINAL_TYPE (BedMoneyPage, bed_money_page, BED, MONEY_PAGE, BedPartsPage)
