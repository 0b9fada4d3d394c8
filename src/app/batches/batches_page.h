#pragma once

#include "app/desk/parts_page.h"

/* Inoculation batches and their logs. */
#define BED_TYPE_BATCHES_PAGE (bed_batches_page_get_type ())
G_DECLARE_FINAL_TYPE (BedBatchesPage, bed_batches_page, BED, BATCHES_PAGE, BedPartsPage)
