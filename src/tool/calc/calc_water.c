/* Commands of the life of a log: how it dries, what a soak does, how far the spawn has
 * run, what the air asks for. */
#include <math.h>
#include <string.h>

#include "science/drying.h"
#include "science/evaporation.h"
#include "science/heat.h"
#include "science/moisture.h"
#include "science/spawn_run.h"
#include "tool/calc/calc_command.h"
#include "tool/calc/calc_csv.h"

static const char *const bases[] = { "wet", "dry", NULL };

/* @days from @start, rounded down; nothing where the day lies beyond any calendar. */
static void
add_date (BedCalc *calc, const char *key, const GDate *start, double days)
{
  GDate date = *start;
  char text[16];

  if (days < 0 && g_date_get_julian (start) <= (guint32) ceil (-days))
    {
      bed_calc_add_double (calc, key, BED_CALC_PLAIN, NAN);
      return;
    }
  if (days < 0)
    g_date_subtract_days (&date, (guint) ceil (-days));
  else
    g_date_add_days (&date, (guint) days);
  g_date_strftime (text, sizeof text, "%Y-%m-%d", &date);
  bed_calc_add_text (calc, key, text);
}

/* dry */

static const BedCalcOption dry_options[] = {
  OPTION_TEXT ("csv", REQUIRED, NULL, "table with columns date, mass, since the last wetting"),
  OPTION ("dry", REQUIRED, MASS, NULL, "dry mass of the log (calc log, calc moisture)"),
  OPTION ("alarm", REQUIRED, PERCENT, NULL, "moisture at which it is to be wetted"),
  OPTION_TEXT ("basis", OPTIONAL, "dry", "of the alarm: wet, dry"),
  OPTION ("rest", OPTIONAL, PERCENT, "16", "dry basis, where drying ends (calc air)"),
  OPTION ("noise", OPTIONAL, PERCENT, "2", "one weighing is uncertain by"),
  OPTION ("spread", OPTIONAL, PERCENT, "10",
          "the dry mass is uncertain by: 10 from the wood's density, 3 from a disc"),
  { NULL }
};

static gboolean
read_weighings (const BedCalcTable *table, double dry_kg, GArray *weighings, GDate *first,
                GError **error)
{
  for (guint row = 0; row < bed_calc_table_length (table); row++)
    {
      g_autoptr (GError) local = NULL;
      BedMoisture moisture;
      GDate date;
      double kg;

      if (!bed_calc_table_date (table, row, 0, &date, error)
          || !bed_calc_table_value (table, row, 1, BED_MEASURE_MASS, &kg, error))
        return FALSE;
      if (!bed_moisture_from_mass (kg, dry_kg, &moisture, &local))
        return bed_calc_table_refuse (table, row, 1, local->message, error);
      if (row == 0)
        *first = date;
      BedWeighing weighing = { g_date_days_between (first, &date), moisture.dry_pct };
      g_array_append_val (weighings, weighing);
    }
  return TRUE;
}

static void
add_drying (BedCalc *calc, const BedDrying *drying, const GDate *first)
{
  BedMoisture now = { 0 };

  bed_moisture_convert (drying->now_pct, BED_BASIS_DRY, &now, NULL);
  bed_calc_add_double (calc, "now_dry_pct", BED_CALC_PLAIN, now.dry_pct);
  bed_calc_add_double (calc, "now_wet_pct", BED_CALC_PLAIN, now.wet_pct);
  bed_calc_add_double (calc, "rate_per_day", BED_CALC_PLAIN, drying->rate);
  bed_calc_add_double (calc, "rate_low", BED_CALC_PLAIN, drying->rate_low);
  bed_calc_add_double (calc, "rate_high", BED_CALC_PLAIN, drying->rate_high);
  add_date (calc, "alarm_on", first, drying->alarm_day);
  add_date (calc, "alarm_early", first, drying->alarm_day_early);
  add_date (calc, "alarm_late", first, drying->alarm_day_late);
}

static gboolean
run_dry (BedCalc *calc, GError **error)
{
  static const char *const columns[] = { "date", "mass", NULL };
  g_autoptr (BedCalcTable) table = bed_calc_table_read (calc, "csv", columns, error);
  g_autoptr (GArray) weighings = g_array_new (FALSE, FALSE, sizeof (BedWeighing));
  int basis = table ? bed_calc_choice (calc, "basis", bases, error) : -1;
  double dry_kg = bed_calc_value (calc, "dry"), wet_at;
  BedMoisture alarm;
  BedDrying drying;
  GDate first;

  if (basis < 0
      || !bed_moisture_convert (bed_calc_value (calc, "alarm"), (BedBasis) basis, &alarm, error)
      || !read_weighings (table, dry_kg, weighings, &first, error))
    return FALSE;
  BedDryingSetting setting = { bed_calc_value (calc, "rest"), alarm.dry_pct,
                               bed_calc_value (calc, "noise"),
                               bed_calc_value (calc, "spread") / 100 };
  if (!bed_drying_fit ((const BedWeighing *) (gpointer) weighings->data, weighings->len, &setting,
                       &drying, error)
      || !bed_moisture_mass_at (dry_kg, alarm.dry_pct, BED_BASIS_DRY, &wet_at, error))
    return FALSE;
  add_drying (calc, &drying, &first);
  bed_calc_add_double (calc, "wet_at", BED_CALC_KG, wet_at);
  return TRUE;
}

const BedCalcCommand bed_calc_dry
    = { "dry", "where repeated weighings of a log are heading, and when it is to be wetted", NULL,
        dry_options, run_dry };

/* soak */

static const BedCalcOption soak_options[] = {
  OPTION_TEXT ("csv", REQUIRED, NULL, "table with columns hours, before, after, dry (masses)"),
  OPTION_NUMBER ("hours", OPTIONAL, "24", "of the soak asked about"),
  { NULL }
};

static gboolean
read_soak (const BedCalcTable *table, guint row, BedSoaking *soak, GError **error)
{
  double before, after, dry;

  if (!bed_calc_table_number (table, row, 0, &soak->hours, error)
      || !bed_calc_table_value (table, row, 1, BED_MEASURE_MASS, &before, error)
      || !bed_calc_table_value (table, row, 2, BED_MEASURE_MASS, &after, error)
      || !bed_calc_table_value (table, row, 3, BED_MEASURE_MASS, &dry, error))
    return FALSE;
  if (dry <= 0)
    return bed_calc_table_refuse (table, row, 3, "must be above zero", error);
  soak->gain_pct = 100 * (after - before) / dry;
  return TRUE;
}

static gboolean
run_soak (BedCalc *calc, GError **error)
{
  static const char *const columns[] = { "hours", "before", "after", "dry", NULL };
  g_autoptr (BedCalcTable) table = bed_calc_table_read (calc, "csv", columns, error);
  g_autoptr (GArray) soaks = g_array_new (FALSE, FALSE, sizeof (BedSoaking));
  double gain;
  BedSoakFit fit;

  for (guint row = 0; table && row < bed_calc_table_length (table); row++)
    {
      BedSoaking soak;
      if (!read_soak (table, row, &soak, error))
        return FALSE;
      g_array_append_val (soaks, soak);
    }
  if (!table || !bed_soak_fit ((const BedSoaking *) (gpointer) soaks->data, soaks->len, &fit, error)
      || !bed_soak_gain (&fit, bed_calc_value (calc, "hours"), &gain, error))
    return FALSE;
  bed_calc_add_int (calc, "soaks", soaks->len);
  bed_calc_add_text (calc, "form", fit.k1 > 0 ? "Peleg" : "square root");
  bed_calc_add_double (calc, "per_root_hour", BED_CALC_PLAIN, fit.per_root_hour);
  bed_calc_add_double (calc, "k1", BED_CALC_PLAIN, fit.k1);
  bed_calc_add_double (calc, "k2", BED_CALC_PLAIN, fit.k2);
  bed_calc_add_double (calc, "scatter_pct", BED_CALC_PLAIN, fit.scatter_pct);
  bed_calc_add_double (calc, "gain_pct", BED_CALC_PLAIN, gain);
  return TRUE;
}

const BedCalcCommand bed_calc_soak
    = { "soak", "water that logs take up in a soak, from weights before and after", NULL,
        soak_options, run_soak };

/* heat */

static const char *const day_columns[] = { "date", "min", "max", NULL };

static const BedCalcOption heat_options[]
    = { OPTION_TEXT ("csv", REQUIRED, NULL,
                     "table with columns date, min, max; `min (F)` for another unit"),
        OPTION ("lower", REQUIRED, TEMPERATURE, NULL, "below it nothing counts"),
        OPTION ("upper", REQUIRED, TEMPERATURE, NULL, "above it nothing more counts"),
        { NULL } };

static gboolean
read_day (BedCalc *calc, const BedCalcTable *table, guint row, GDate *date, double *degree_days,
          GError **error)
{
  g_autoptr (GError) local = NULL;
  double least, most;

  if (!bed_calc_table_date (table, row, 0, date, error)
      || !bed_calc_table_value (table, row, 1, BED_MEASURE_TEMPERATURE, &least, error)
      || !bed_calc_table_value (table, row, 2, BED_MEASURE_TEMPERATURE, &most, error))
    return FALSE;
  return bed_heat_day (least, most, bed_calc_value (calc, "lower"), bed_calc_value (calc, "upper"),
                       degree_days, &local)
         || bed_calc_table_refuse (table, row, 2, local->message, error);
}

static gboolean
run_heat (BedCalc *calc, GError **error)
{
  g_autoptr (BedCalcTable) table = bed_calc_table_read (calc, "csv", day_columns, error);
  double sum = 0, day;
  GDate date;

  if (!table)
    return FALSE;
  for (guint row = 0; row < bed_calc_table_length (table); row++)
    {
      if (!read_day (calc, table, row, &date, &day, error))
        return FALSE;
      sum += day;
    }
  bed_calc_add_int (calc, "days", bed_calc_table_length (table));
  bed_calc_add_double (calc, "degree_days", BED_CALC_DEGREE_DAYS, sum);
  return TRUE;
}

const BedCalcCommand bed_calc_heat = { "heat",
                                       "degree days of a table of least and greatest temperatures",
                                       NULL, heat_options, run_heat };

/* run */

static const char *const strains[] = { "cold", "wide", "warm", NULL };
static const char *const paces[] = { "dense", "quick", NULL };

static const BedCalcOption run_options[] = {
  OPTION_TEXT ("csv", REQUIRED, NULL,
               "table with columns date, min, max: every day from inoculation to today"),
  OPTION_TEXT ("checks", OPTIONAL, NULL, "table with columns date, colonised (percent)"),
  OPTION_TEXT ("strain", OPTIONAL, "wide", "cold, wide, warm"),
  OPTION_TEXT ("pace", OPTIONAL, "dense", "of the wood: dense (oak), quick (maple, sweetgum)"),
  OPTION ("lower", OPTIONAL, TEMPERATURE, "5C", "below it nothing counts"),
  OPTION ("upper", OPTIONAL, TEMPERATURE, "30C", "above it nothing more counts"),
  { NULL }
};

typedef struct
{
  GDate first;    /* inoculation */
  GArray *effort; /* double, degree days up to the end of each day */
} Warmth;

static gboolean
read_warmth (BedCalc *calc, Warmth *warmth, GError **error)
{
  g_autoptr (BedCalcTable) table = bed_calc_table_read (calc, "csv", day_columns, error);
  double sum = 0, day;

  for (guint row = 0; table && row < bed_calc_table_length (table); row++)
    {
      GDate date;

      if (!read_day (calc, table, row, &date, &day, error))
        return FALSE;
      if (row == 0)
        warmth->first = date;
      if (g_date_days_between (&warmth->first, &date) != (int) row)
        return bed_calc_table_refuse (table, row, 0, "a day is missing or out of order before it",
                                      error);
      sum += day;
      g_array_append_val (warmth->effort, sum);
    }
  if (table && warmth->effort->len == 0)
    return bed_calc_refuse (error, "%s: there is no day in it", bed_calc_text (calc, "csv"));
  return table != NULL;
}

static gboolean
read_checks (BedCalc *calc, const Warmth *warmth, GArray *checks, GError **error)
{
  static const char *const columns[] = { "date", "colonised", NULL };
  gboolean given = bed_calc_has (calc, "checks");
  g_autoptr (BedCalcTable) table = given ? bed_calc_table_read (calc, "checks", columns, error)
                                         : NULL;

  for (guint row = 0; table && row < bed_calc_table_length (table); row++)
    {
      BedSpawnCheck check;
      GDate date;

      if (!bed_calc_table_date (table, row, 0, &date, error)
          || !bed_calc_table_value (table, row, 1, BED_MEASURE_PERCENT, &check.pct, error))
        return FALSE;
      int day = g_date_days_between (&warmth->first, &date);
      if (day < 0 || day >= (int) warmth->effort->len)
        return bed_calc_table_refuse (table, row, 0, "is not a day of the temperatures", error);
      check.effort = g_array_index (warmth->effort, double, day);
      g_array_append_val (checks, check);
    }
  return table || !given;
}

/* Days ahead are taken to be as warm as the table's mean day. */
static void
add_full (BedCalc *calc, const char *key, const Warmth *warmth, double full)
{
  guint n = warmth->effort->len;
  double now = g_array_index (warmth->effort, double, n - 1), mean = now / n;

  if (mean > 0)
    add_date (calc, key, &warmth->first, n - 1 + MAX (ceil ((full - now) / mean), 0));
  else
    bed_calc_add_double (calc, key, BED_CALC_PLAIN, NAN);
}

static void
add_run (BedCalc *calc, const Warmth *warmth, const BedSpawnRun *run)
{
  bed_calc_add_int (calc, "days", warmth->effort->len);
  bed_calc_add_double (calc, "degree_days", BED_CALC_DEGREE_DAYS,
                       g_array_index (warmth->effort, double, warmth->effort->len - 1));
  bed_calc_add_double (calc, "colonised_pct", BED_CALC_PLAIN, run->pct);
  bed_calc_add_double (calc, "colonised_low", BED_CALC_PLAIN, run->pct_low);
  bed_calc_add_double (calc, "colonised_high", BED_CALC_PLAIN, run->pct_high);
  bed_calc_add_double (calc, "full_degree_days", BED_CALC_DEGREE_DAYS, run->full);
  add_full (calc, "full_on", warmth, run->full);
  add_full (calc, "full_early", warmth, run->full_early);
  add_full (calc, "full_late", warmth, run->full_late);
}

static gboolean
run_run (BedCalc *calc, GError **error)
{
  g_autoptr (GArray) effort = g_array_new (FALSE, FALSE, sizeof (double));
  g_autoptr (GArray) checks = g_array_new (FALSE, FALSE, sizeof (BedSpawnCheck));
  Warmth warmth = { .effort = effort };
  int strain = bed_calc_choice (calc, "strain", strains, error);
  int pace = strain < 0 ? -1 : bed_calc_choice (calc, "pace", paces, error);
  BedSpawnPrior prior;
  BedSpawnRun run;

  if (pace < 0 || !read_warmth (calc, &warmth, error) || !read_checks (calc, &warmth, checks, error)
      || !bed_spawn_prior ((BedStrainType) strain, (BedWoodPace) pace, &prior, error))
    return FALSE;
  double now = g_array_index (effort, double, effort->len - 1), mean = now / effort->len;
  prior = (BedSpawnPrior){ prior.likely * mean, prior.early * mean, prior.late * mean };
  if (!bed_spawn_run (&prior, (const BedSpawnCheck *) (gpointer) checks->data, checks->len, now,
                      &run, error))
    return FALSE;
  add_run (calc, &warmth, &run);
  return TRUE;
}

const BedCalcCommand bed_calc_spawn_run = { "run",
                                            "how far the spawn has run and when it will be through",
                                            NULL, run_options, run_run };

/* evaporation */

static const BedCalcOption evaporation_options[]
    = { OPTION ("latitude", REQUIRED, ANGLE, NULL, "of the place, south negative"),
        OPTION_TEXT ("date", REQUIRED, NULL, "the day, as 2026-07-15"),
        OPTION ("min", REQUIRED, TEMPERATURE, NULL, "least temperature of the day"),
        OPTION ("max", REQUIRED, TEMPERATURE, NULL, "greatest"),
        { NULL } };

static gboolean
run_evaporation (BedCalc *calc, GError **error)
{
  double least = bed_calc_value (calc, "min"), most = bed_calc_value (calc, "max");
  double radiation, millimetres;
  const char *text = bed_calc_text (calc, "date");
  GDate date;

  if (!bed_calc_read_date (text, &date))
    return bed_calc_refuse (error, "--date: “%s” is not a date; write 2026-05-18", text);
  if (!bed_evaporation_radiation (bed_calc_value (calc, "latitude"),
                                  (int) g_date_get_day_of_year (&date), &radiation, error)
      || !bed_evaporation_reference (least, (least + most) / 2, most, radiation, &millimetres,
                                     error))
    return FALSE;
  bed_calc_add_double (calc, "radiation_mj_m2", BED_CALC_PLAIN, radiation);
  bed_calc_add_double (calc, "evaporation", BED_CALC_MM, millimetres);
  return TRUE;
}

const BedCalcCommand bed_calc_evaporation = { "evaporation",
                                              "water the air asks for on a day (Hargreaves)", NULL,
                                              evaporation_options, run_evaporation };
