#pragma once

#include "model/farm/farm.h"

/* The map of every area of the yard as it lay on @date (YYYY-MM-DD), by name: PNG
 * files in memory (element GBytes), BED_YARD_PICTURE_DPI dots to the inch of the
 * paper usual with the farm's units. For the season workbook. Drawn in a thread,
 * with a farm of its own, while the caller does something else. */
#define BED_YARD_PICTURE_DPI 150
typedef struct _BedYardPictures BedYardPictures;
BedYardPictures *bed_yard_pictures_begin (BedFarm *farm, const char *date);

/* Waits for them. Returns: (transfer none) the pictures, until bed_yard_pictures_free(), none when
 * the farm has no areas; NULL with the error of what could not be read or drawn. A BedWorkbookMaps
 * (report/workbook.h) with the BedYardPictures as its data. */
GPtrArray *bed_yard_pictures_wait (gpointer pictures, GError **error);

/* Waits too. */
void bed_yard_pictures_free (BedYardPictures *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedYardPictures, bed_yard_pictures_free)
