#pragma once

#include "science/measure.h"
#include <glib.h>

/* Inside the room only: the table that units.c shows and units_parse.c reads. */

typedef __int128 BedWide;

/* stored value = (x * num + offset) / den, where x is in this unit. */
typedef struct
{
  BedMeasure measure;
  const char *words; /* what people write for it, parted by '|'; the first is shown */
  gint64 num;
  gint64 den;
  gint64 offset;
} BedUnit;

/* The unit @measure is shown in under @system. */
const BedUnit *bed_unit_shown (BedMeasure measure, BedSystem system);

/* The same, of money in the minor units of @notation: the one factor that is the currency's. */
BedUnit bed_unit_of (BedMeasure measure, const BedNotation *notation);

/* The unit of @measure whose word begins @text, and that word's length in
 * @length; NULL when none does. Large and small letters count the same. */
const BedUnit *bed_unit_at (BedMeasure measure, const char *text, gsize *length);

/* "mm, cm, m, in, ft": the first word of every unit of @measure. Free with g_free(). */
char *bed_unit_list (BedMeasure measure);

/* How many figures stand behind the last mark of thousands, and between two of them. */
gsize bed_groups_last (const BedNotation *notation);
gsize bed_groups_between (const BedNotation *notation);

/* num/den to the nearest whole number, halves away from zero; @den is above zero. */
BedWide bed_wide_round (BedWide num, BedWide den);
