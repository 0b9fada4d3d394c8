#include "model/farm/weather.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "model/farm/query.h"
#include "model/farm/say.h"
#include "model/farm/value.h"
#include "science/units.h"

#define DAYS 60
#define SILENT_DAYS 31 /* without an entry: rain is not written down here */
#define WATCH_SHARE 0.85

typedef struct
{
  double rain[DAYS];  /* mm */
  double least[DAYS]; /* C; NAN where not known */
  double most[DAYS];
  GDate first;
  gboolean is_kept; /* rain is written down */
} Days;

static gboolean
read_rain (BedFarm *farm, const char *first, Days *days, GError **error)
{
  g_autoptr (BedQuery) q = bed_query_new (
      farm, "SELECT fell_on, depth FROM rain WHERE fell_on >= ?1 AND fell_on <= bed_today ()");

  bed_query_bind_text (q, 1, first);
  while (bed_query_next (q))
    {
      int day = bed_date_days (first, bed_query_text (q, 0));
      days->rain[day] = (double) bed_query_int (q, 1) / 1000;
      days->is_kept |= day >= DAYS - 1 - SILENT_DAYS;
    }
  return bed_query_finish (q, error);
}

static gboolean
read_temperatures (BedFarm *farm, const char *first, Days *days, GError **error)
{
  g_autoptr (BedQuery) q = bed_query_new (
      farm, "SELECT measured_on, least, most FROM temperature WHERE measured_on >= ?1"
            " AND measured_on <= bed_today ()");

  for (int i = 0; i < DAYS; i++)
    days->least[i] = days->most[i] = NAN;
  bed_query_bind_text (q, 1, first);
  while (bed_query_next (q))
    {
      int day = bed_date_days (first, bed_query_text (q, 0));
      days->least[day] = (double) bed_query_int (q, 1) / 1000;
      days->most[day] = (double) bed_query_int (q, 2) / 1000;
    }
  return bed_query_finish (q, error);
}

static gboolean
fill_gaps (Days *days)
{
  int known = 0, first = DAYS;

  for (int i = DAYS - 1; i >= 0; i--)
    if (!isnan (days->most[i]))
      {
        known++;
        first = i;
      }
  for (int i = 0; i < DAYS && known; i++)
    if (isnan (days->most[i]))
      {
        int like = i < first ? first : i - 1;
        days->least[i] = days->least[like];
        days->most[i] = days->most[like];
      }
  return known * 5 >= DAYS * 4;
}

/* Over the last @n days, the dry ones: shaded logs lose far less than the reference surface,
 * so over a whole summer the sum would call for water in any weather. */
static gboolean
work_out_water (const Days *days, int n, double latitude, double *taken, GError **error)
{
  double asked[DAYS], radiation;
  int from = DAYS - n;

  for (int i = 0; i < DAYS; i++)
    {
      GDate date = days->first;

      g_date_add_days (&date, (guint) i);
      if (!bed_evaporation_radiation (latitude, (int) g_date_get_day_of_year (&date), &radiation,
                                      error)
          || !bed_evaporation_reference (days->least[i], (days->least[i] + days->most[i]) / 2,
                                         days->most[i], radiation, &asked[i], error))
        return FALSE;
      asked[i] = MAX (asked[i], 0);
    }
  return bed_evaporation_deficit (asked + from, days->rain + from, (gsize) n, taken, error);
}

static gboolean
count_days (const Days *days, BedWeatherDry *dry, GError **error)
{
  BedWeatherDay series[DAYS];
  BedDrySpellResult spell;

  for (int i = 0; i < DAYS; i++)
    series[i] = (BedWeatherDay){ days->rain[i], days->most[i] };
  if (!bed_dry_spell (series, DAYS, &spell, error))
    return FALSE;
  dry->rule = BED_WEATHER_BY_DAYS;
  dry->days = spell.days;
  dry->most_mean_c = spell.most_mean;
  dry->advice = spell.advice;
  return TRUE;
}

gboolean
bed_weather_dry_read (BedFarm *farm, BedWeatherDry *dry, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && dry != NULL, FALSE);
  BedRecord *settings = bed_farm_get_settings (farm);
  g_autofree char *first = bed_date_add (bed_farm_get_today (farm), 1 - DAYS);
  Days days = { 0 };

  *dry = (BedWeatherDry){ .most_mean_c = NAN };
  g_date_set_parse (&days.first, first);
  if (!read_rain (farm, first, &days, error) || !read_temperatures (farm, first, &days, error))
    return FALSE;
  if (!days.is_kept)
    return TRUE;
  if (!count_days (&days, dry, error))
    return FALSE;
  if (!bed_record_has (settings, "latitude") || !fill_gaps (&days))
    return TRUE;
  double latitude = (double) bed_record_get_int (settings, "latitude") / 100;
  if (!work_out_water (&days, MIN (dry->days, DAYS), latitude, &dry->taken_mm, error))
    return FALSE;
  dry->rule = BED_WEATHER_BY_WATER;
  dry->advice = dry->taken_mm > BED_EVAPORATION_WET_MM                 ? BED_DRY_SPELL_WET
                : dry->taken_mm > BED_EVAPORATION_WET_MM * WATCH_SHARE ? BED_DRY_SPELL_WATCH
                                                                       : BED_DRY_SPELL_NONE;
  return TRUE;
}

char *
bed_weather_dry_dup_words (BedFarm *farm, const BedWeatherDry *dry)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && dry != NULL, NULL);
  const BedNotation *notation = bed_farm_get_notation (farm);
  g_autofree char *days = bed_say (ngettext ("%d dry day", "%d dry days", dry->days), dry->days);
  g_autofree char *more = NULL;

  if (dry->rule == BED_WEATHER_UNKNOWN)
    return g_strdup (_ ("no rain recorded"));
  if (dry->rule == BED_WEATHER_BY_WATER)
    {
      more = bed_measure_format_unit_rounded (BED_MEASURE_LENGTH_FINE, notation,
                                              notation->system == BED_SYSTEM_US ? 1 : 0,
                                              llround (dry->taken_mm * 1000));
      /* Translators: "9 dry days; 38 mm evaporated". */
      return g_strdup_printf (_ ("%s; %s evaporated"), days, more);
    }
  if (isnan (dry->most_mean_c))
    return g_steal_pointer (&days);
  more = bed_measure_format_unit_rounded (BED_MEASURE_TEMPERATURE, notation, 0,
                                          llround (dry->most_mean_c * 1000));
  /* Translators: "9 dry days, daily mean up to 26 °C". */
  return g_strdup_printf (_ ("%s, daily mean up to %s"), days, more);
}
