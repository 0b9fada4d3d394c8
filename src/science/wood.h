#pragma once

#include <glib.h>

#include "science/log.h"

/* The species table, data/wood.csv; where each figure comes from stands in its own
 * columns and in docs/sources.md. This room reads no files: it is handed the text. */

typedef struct
{
  int code; /* of the USDA Forest Service's species list; 0 outside it */
  char *name;
  char *latin;
  BedWoodNumbers numbers; /* NAN where not known */
  double density_12;      /* mass oven-dry by volume at 12 % moisture, kg/l */
  int group;              /* 6 to 9, species groups of J. C. Jenkins et al. (2003); 0 none */
} BedWood;

/* The woods of @csv (UTF-8, first line the names of the columns, no quoted fields),
 * as an array that frees them; NULL and BED_SCIENCE_ERROR_DATA naming the line and
 * column at fault. Free with g_ptr_array_unref(). */
GPtrArray *bed_wood_table_new (const char *csv, GError **error);

/* The wood called @name, common or Latin, large and small letters alike; else the
 * only one whose common name holds it. NULL and an error that says what is near. */
const BedWood *bed_wood_find (GPtrArray *table, const char *name, GError **error);
