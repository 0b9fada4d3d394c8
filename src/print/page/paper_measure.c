#include "print/page/paper_measure.h"

#include <string.h>

#include "science/units.h"

#define DECIMALS 2

char *
bed_paper_dup_number (BedMeasure measure, const BedNotation *notation, gint64 value)
{
  g_return_val_if_fail (notation != NULL, NULL);
  char *exact = bed_measure_format_fraction (measure, notation, value);
  const char *mark = strchr (exact, notation->decimal_mark);

  if (!mark || strlen (mark + 1) <= DECIMALS || measure == BED_MEASURE_MONEY)
    return exact;
  g_free (exact);
  return bed_measure_format_rounded (measure, notation, DECIMALS, value);
}

char *
bed_paper_dup_measure (BedMeasure measure, const BedNotation *notation, gint64 value)
{
  g_autofree char *number = bed_paper_dup_number (measure, notation, value);
  const char *unit = notation ? bed_measure_unit (measure, notation->system) : "";

  return *unit ? g_strdup_printf ("%s %s", number, unit) : g_steal_pointer (&number);
}
