#include "science/heat.h"
#include "tool/calc/calc_command.h"
#include "tool/calc/calc_csv.h"

static const BedCalcOption options[]
    = { OPTION_TEXT ("csv", REQUIRED, NULL,
                     "table with columns date, min, max; `min (F)` for another unit"),
        OPTION ("lower", REQUIRED, TEMPERATURE, NULL, "below it nothing counts"),
        OPTION ("upper", REQUIRED, TEMPERATURE, NULL, "above it nothing more counts"),
        { NULL } };

static gboolean
add_day (const BedCalcTable *table, guint row, double lower, double upper, double *sum,
         GError **error)
{
  g_autoptr (GError) local = NULL;
  gint64 least, most;
  double day;
  GDate date;

  if (!bed_calc_table_date (table, row, 0, &date, error)
      || !bed_calc_table_measure (table, row, 1, BED_MEASURE_TEMPERATURE, &least, error)
      || !bed_calc_table_measure (table, row, 2, BED_MEASURE_TEMPERATURE, &most, error))
    return FALSE;
  if (!bed_heat_day ((double) least / 1000, (double) most / 1000, lower, upper, &day, &local))
    return bed_calc_table_refuse (table, row, 2, local->message, error);
  *sum += day;
  return TRUE;
}

static gboolean
run_heat (BedCalc *calc, GError **error)
{
  const char *columns[] = { "date", "min", "max", NULL };
  g_autoptr (BedCalcTable) table
      = bed_calc_table_read (bed_calc_text (calc, "csv"), columns, error);
  double lower = (double) bed_calc_measure (calc, "lower") / 1000;
  double upper = (double) bed_calc_measure (calc, "upper") / 1000;
  double sum = 0;

  if (table == NULL)
    return FALSE;
  for (guint row = 0; row < bed_calc_table_length (table); row++)
    if (!add_day (table, row, lower, upper, &sum, error))
      return FALSE;
  bed_calc_add_int (calc, "days", bed_calc_table_length (table));
  bed_calc_add_double (calc, "degree_days", BED_CALC_DEGREE_DAYS, sum);
  return TRUE;
}

const BedCalcCommand bed_calc_heat = { "heat",
                                       "degree days of a table of least and greatest temperatures",
                                       NULL, options, run_heat };
