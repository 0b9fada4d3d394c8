#include "model/functions.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "model/farm_private.h"
#include "model/value.h"
#include "model/weather.h"

/* MM-DD of the settings; a new farm has none yet. */
static const char *
season_start (BedFarm *farm)
{
  BedRecord *settings = bed_farm_get_settings (farm);
  const char *start = settings ? bed_record_get_text (settings, "season_start") : NULL;

  return start && strlen (start) == 5 ? start : "01-01";
}

/* YYYY-MM-DD to a date; not valid when it is not one. */
static gboolean
read_date (const char *text, GDate *date)
{
  int year, month, day;

  g_date_clear (date, 1);
  if (!text || sscanf (text, "%4d-%2d-%2d", &year, &month, &day) != 3
      || !g_date_valid_dmy (day, month, year))
    return FALSE;
  g_date_set_dmy (date, day, month, year);
  return TRUE;
}

static void
today_cb (sqlite3_context *context, int n, sqlite3_value **values)
{
  sqlite3_result_text (context, bed_farm_get_today (sqlite3_user_data (context)), -1,
                       SQLITE_TRANSIENT);
}

static void
now_cb (sqlite3_context *context, int n, sqlite3_value **values)
{
  sqlite3_result_text (context, bed_farm_get_now (sqlite3_user_data (context)), -1,
                       SQLITE_TRANSIENT);
}

static void
season_cb (sqlite3_context *context, int n, sqlite3_value **values)
{
  const char *date = (const char *) sqlite3_value_text (values[0]);

  if (date && strlen (date) >= 10)
    sqlite3_result_int (context, bed_season_of (sqlite3_user_data (context), date));
}

/* ISO 8601 week, '2026-W20'. */
static void
week_cb (sqlite3_context *context, int n, sqlite3_value **values)
{
  GDate date;

  if (!read_date ((const char *) sqlite3_value_text (values[0]), &date))
    return;
  char text[16];
  int week = g_date_get_iso8601_week_of_year (&date);
  int month = g_date_get_month (&date);
  /* Days at either end of a year may belong to the other year's weeks. By hand: a
   * workbook asks this of every pick, and g_date_strftime() converts character sets. */
  int year = g_date_get_year (&date) + (month == 12 && week == 1) - (month == 1 && week > 50);
  g_snprintf (text, sizeof text, "%04d-W%02d", year, week);
  sqlite3_result_text (context, text, -1, SQLITE_TRANSIENT);
}

/* Days without rain that counts; NULL where rain is not written down. */
static void
dry_cb (sqlite3_context *context, int n, sqlite3_value **values)
{
  BedWeatherDry dry;

  if (bed_weather_dry_read (sqlite3_user_data (context), &dry, NULL)
      && dry.rule != BED_WEATHER_UNKNOWN)
    sqlite3_result_int (context, dry.days);
}

/* BedDrySpell; NULL likewise. */
static void
dry_advice_cb (sqlite3_context *context, int n, sqlite3_value **values)
{
  BedWeatherDry dry;

  if (bed_weather_dry_read (sqlite3_user_data (context), &dry, NULL)
      && dry.rule != BED_WEATHER_UNKNOWN)
    sqlite3_result_int (context, (int) dry.advice);
}

/* The spell in words. */
static void
dry_words_cb (sqlite3_context *context, int n, sqlite3_value **values)
{
  BedFarm *farm = sqlite3_user_data (context);
  BedWeatherDry dry;

  if (bed_weather_dry_read (farm, &dry, NULL))
    sqlite3_result_text (context, bed_weather_dry_dup_words (farm, &dry), -1, g_free);
}

void
bed_functions_register (BedFarm *farm)
{
  static const struct
  {
    const char *name;
    int n;
    int flags;
    void (*function) (sqlite3_context *, int, sqlite3_value **);
  } functions[] = {
    { "bed_today", 0, 0, today_cb },
    { "bed_now", 0, 0, now_cb },
    { "bed_season", 1, 0, season_cb },
    { "bed_week", 1, SQLITE_DETERMINISTIC, week_cb },
    { "bed_dry_days", 0, 0, dry_cb },
    { "bed_dry_advice", 0, 0, dry_advice_cb },
    { "bed_dry_words", 0, 0, dry_words_cb },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (functions); i++)
    sqlite3_create_function (bed_farm_get_db (farm), functions[i].name, functions[i].n,
                             SQLITE_UTF8 | SQLITE_INNOCUOUS | functions[i].flags, farm,
                             functions[i].function, NULL, NULL);
}

int
bed_season_of (BedFarm *farm, const char *date)
{
  int year = atoi (date);

  return strncmp (date + 5, season_start (farm), 5) >= 0 ? year : year - 1;
}

char *
bed_season_first (BedFarm *farm, int season)
{
  return g_strdup_printf ("%04d-%s", season, season_start (farm));
}

char *
bed_season_last (BedFarm *farm, int season)
{
  g_autofree char *next = bed_season_first (farm, season + 1);

  return bed_date_add (next, -1);
}

char *
bed_season_dup_name (BedFarm *farm, int season)
{
  if (strcmp (season_start (farm), "01-01") == 0)
    return g_strdup_printf ("%d", season);
  return g_strdup_printf ("%d/%02d", season, (season + 1) % 100);
}
