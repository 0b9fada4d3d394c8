#pragma once

#include "app/widgets/part.h"
#include "model/farm/farm.h"

/* The search in the header bar: any record by its code, name or word.
 *
 * Signal "found" (guint kind, gint64 id). */
#define BED_TYPE_SEARCH (bed_search_get_type ())
G_DECLARE_FINAL_TYPE (BedSearch, bed_search, BED, SEARCH, BedPart)

BedSearch *bed_search_new (void);
void bed_search_set_farm (BedSearch *self, BedFarm *farm);
