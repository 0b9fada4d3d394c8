#pragma once

#include "model/farm.h"

G_BEGIN_DECLS

/* The map of every area of the yard as it lay on @date (YYYY-MM-DD), by name: PNG
 * files in memory (element GBytes), BED_YARD_PICTURE_DPI dots to the inch of the
 * paper usual with the farm's units. For the season workbook. Empty when the farm
 * has no areas; NULL with the error of what could not be read or drawn. */
#define BED_YARD_PICTURE_DPI 150
GPtrArray *bed_yard_pictures_new (BedFarm *farm, const char *date, GError **error);

G_END_DECLS
