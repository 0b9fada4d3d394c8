#include "model/farm/functions.h"

#include <string.h>

#include "model/farm/farm_private.h"
#include "model/farm/farm_settings.h"
#include "model/farm/history.h"
#include "model/farm/kinds.h"
#include "model/farm/known.h"
#include "model/farm/run_looks.h"
#include "model/farm/stage.h"
#include "model/farm/value.h"
#include "model/farm/weather.h"
#include "science/calendar.h"
#include "science/depreciation.h"
#include "science/units.h"

/* Months of a strain that nobody timed: D. B. Hill, University of Kentucky FOR-85, Harvesting, a
 * full year before the first forcing. */
#define BED_RUN_MONTHS 12
/* 1-2 weeks: Ohio State F-0042, Fruiting, Harvesting, Storage, 2022. */
#define BED_FLUSH_DAYS 14
/* Past what a field may hold, so that a strange file stays within the calendar. */
#define MOST_MONTHS 1200
#define MOST_WEEKS 5200

/* Two digits at @text, which holds them. */
static int
read_two (const char *text)
{
  return (text[0] - '0') * 10 + text[1] - '0';
}

/* A new farm has no settings yet. */
static BedSeasonStart
read_start (BedFarm *farm)
{
  BedRecord *settings = bed_farm_get_settings (farm);
  BedSeasonStart start;

  bed_calendar_read_start (settings ? bed_record_get_text (settings, "season_start") : NULL,
                           &start);
  return start;
}

/* YYYY-MM-DD to a date; not valid when it is not one. By hand: lists ask it of every pick. */
static gboolean
read_date (const char *text, GDate *date)
{
  g_date_clear (date, 1);
  if (!text || strlen (text) < 10 || text[4] != '-' || text[7] != '-')
    return FALSE;
  int year = read_two (text) * 100 + read_two (text + 2), month = read_two (text + 5);
  int day = read_two (text + 8);
  if (year < 1 || !g_date_valid_dmy (CLAMP (day, 0, 255), month, year))
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

/* Whether a day is after another; no day is after every one. */
static gboolean
is_after (sqlite3_value *end, sqlite3_value *day)
{
  const char *text = (const char *) sqlite3_value_text (end);

  return !text || g_strcmp0 (text, (const char *) sqlite3_value_text (day)) > 0;
}

/* Whether a log retired on a day (1; NULL: not yet) is alive on another (2): on the day it is
 * retired it is not. */
static void
alive_cb (sqlite3_context *context, int n, sqlite3_value **values)
{
  sqlite3_result_int (context, is_after (values[0], values[1]));
}

/* Whether a log retired on a day (1) stood in a time that began on another (2): the day it is
 * retired is the last of its time, which may be picked from and counts for its season. */
static void
stood_cb (sqlite3_context *context, int n, sqlite3_value **values)
{
  sqlite3_result_int (context, !sqlite3_value_text (values[0]) || !is_after (values[1], values[0]));
}

/* Whether what lies somewhere since a day (1) until another (2; NULL: still) lies there on a
 * third (3): on the day it came it does, on the day it left it does not. */
static void
lies_cb (sqlite3_context *context, int n, sqlite3_value **values)
{
  sqlite3_result_int (context, !is_after (values[0], values[2]) && is_after (values[1], values[2]));
}

/* What each of so many logs (2) has of a pick (1) that is theirs together. */
static void
pick_share_cb (sqlite3_context *context, int n, sqlite3_value **values)
{
  double logs = sqlite3_value_double (values[1]);

  if (logs > 0)
    sqlite3_result_double (context, bed_pick_share (sqlite3_value_double (values[0]), logs));
}

/* What goes with a part of a lot of what that cost (1), to the nearest minor unit: by mass (2 of 3)
 * where both are known, else by pieces (4 of 5), else nothing. */
static void
part_cost_cb (sqlite3_context *context, int n, sqlite3_value **values)
{
  __int128 cost = sqlite3_value_int64 (values[0]);
  gint64 goes = 0;

  for (int i = 1; i < n; i += 2)
    {
      gint64 part = sqlite3_value_int64 (values[i]), of = sqlite3_value_int64 (values[i + 1]);

      if (part <= 0 || of <= 0)
        continue;
      goes = (gint64) ((cost * part + of / 2) / of);
      break;
    }
  sqlite3_result_int64 (context, goes);
}

/* A day as the answer. */
static void
answer_day (sqlite3_context *context, const GDate *date)
{
  char text[sizeof "YYYY-MM-DD"];

  g_snprintf (text, sizeof text, "%04u-%02u-%02u", g_date_get_year (date), g_date_get_month (date),
              g_date_get_day (date));
  sqlite3_result_text (context, text, -1, SQLITE_TRANSIENT);
}

/* When the spawn run of a batch (1) is over by the looks at its log ends; NULL where nobody looked.
 */
static void
run_full_cb (sqlite3_context *context, int n, sqlite3_value **values)
{
  const char *day
      = bed_run_looks_find (sqlite3_user_data (context), sqlite3_value_int64 (values[0]));

  if (day)
    sqlite3_result_text (context, day, -1, SQLITE_TRANSIENT);
}

/* When the spawn run of a batch (1) is over that began on a day (2): after the months the strain
 * takes at least (3; NULL: BED_RUN_MONTHS), and not before the log ends say so that were looked at.
 * The 31st of a month with 30 days is the 1st of the next. */
static gboolean
find_run_over (BedRunLooks *looks, sqlite3_value **values, GDate *date)
{
  gboolean known = sqlite3_value_type (values[2]) != SQLITE_NULL;
  int months = known ? sqlite3_value_int (values[2]) : BED_RUN_MONTHS;
  GDate seen;

  if (!read_date ((const char *) sqlite3_value_text (values[1]), date))
    return FALSE;
  guint days = g_date_get_day (date) - 1;
  g_date_set_day (date, 1);
  g_date_add_months (date, CLAMP (months, 0, MOST_MONTHS));
  g_date_add_days (date, days);
  if (read_date (bed_run_looks_find (looks, sqlite3_value_int64 (values[0])), &seen)
      && g_date_compare (&seen, date) > 0)
    *date = seen;
  return TRUE;
}

static void
run_over_cb (sqlite3_context *context, int n, sqlite3_value **values)
{
  GDate date;

  if (find_run_over (sqlite3_user_data (context), values, &date))
    answer_day (context, &date);
}

/* When logs put in a tank at a time (1) have rested for weeks (2). */
static gboolean
find_rest_over (sqlite3_value **values, GDate *date)
{
  if (!read_date ((const char *) sqlite3_value_text (values[0]), date))
    return FALSE;
  g_date_add_days (date, 7 * CLAMP (sqlite3_value_int (values[1]), 0, MOST_WEEKS));
  return TRUE;
}

static void
rest_over_cb (sqlite3_context *context, int n, sqlite3_value **values)
{
  GDate date;

  if (find_rest_over (values, &date))
    answer_day (context, &date);
}

/* Weeks between soaks: those of the strain (1), else the farm's. */
static void
rest_weeks_cb (sqlite3_context *context, int n, sqlite3_value **values)
{
  BedRecord *settings = bed_farm_get_settings (sqlite3_user_data (context));
  gint64 weeks = BED_REST_WEEKS;

  if (sqlite3_value_type (values[0]) != SQLITE_NULL)
    weeks = sqlite3_value_int64 (values[0]);
  else if (settings && bed_record_has (settings, "rest_weeks"))
    weeks = bed_record_get_int (settings, "rest_weeks");
  sqlite3_result_int64 (context, weeks);
}

/* Whether logs retired for a reason (1) may be alive elsewhere. */
static void
out_of_sight_cb (sqlite3_context *context, int n, sqlite3_value **values)
{
  const char *why = (const char *) sqlite3_value_text (values[0]);

  sqlite3_result_int (context, why && (strcmp (why, "sold") == 0 || strcmp (why, "lost") == 0));
}

/* The last day of the flush of logs lifted at a time. */
static gboolean
find_flush_over (sqlite3_value *taken_out, GDate *date)
{
  if (!read_date ((const char *) sqlite3_value_text (taken_out), date))
    return FALSE;
  g_date_add_days (date, BED_FLUSH_DAYS);
  return TRUE;
}

static void
flush_over_cb (sqlite3_context *context, int n, sqlite3_value **values)
{
  GDate date;

  if (find_flush_over (values[0], &date))
    answer_day (context, &date);
}

/* The stage of a log on a day (1) at a time of it (2): retired on a day (3); of a batch (4),
 * inoculated on a day (5), whose strain runs so many months at least (6); put in a tank at a time
 * (7), resting for weeks (8), taken out at a time (9); whether it was ever soaked or bore (10).
 * What comes after that time is given as NULL. */
static void
stage_cb (sqlite3_context *context, int n, sqlite3_value **values)
{
  enum
  {
    DAY,
    NOW,
    RETIRED_ON,
    BATCH,
    INOCULATED_ON,
    RUN_LEAST,
    PUT_IN,
    REST_WEEKS,
    TAKEN_OUT,
    BORE
  };
  gboolean soaked = sqlite3_value_type (values[PUT_IN]) != SQLITE_NULL;
  BedStage stage = BED_STAGE_READY;
  GDate day, over;

  if (!read_date ((const char *) sqlite3_value_text (values[DAY]), &day))
    return;
  if (!is_after (values[RETIRED_ON], values[DAY]))
    stage = BED_STAGE_RETIRED;
  else if (sqlite3_value_type (values[BATCH]) == SQLITE_NULL)
    stage = BED_STAGE_FELLED;
  else if (soaked && !is_after (values[PUT_IN], values[NOW])
           && is_after (values[TAKEN_OUT], values[NOW]))
    stage = BED_STAGE_SOAKING;
  else if (find_flush_over (values[TAKEN_OUT], &over) && g_date_compare (&over, &day) >= 0)
    stage = BED_STAGE_FRUITING;
  else if (find_rest_over (values + PUT_IN, &over) && g_date_compare (&over, &day) > 0)
    stage = BED_STAGE_RESTING;
  else if (!sqlite3_value_int (values[BORE])
           && find_run_over (sqlite3_user_data (context), values + BATCH, &over)
           && g_date_compare (&over, &day) > 0)
    stage = BED_STAGE_SPAWN_RUN;
  sqlite3_result_text (context, bed_stage_get_key (stage), -1, SQLITE_STATIC);
}

static void
season_cb (sqlite3_context *context, int n, sqlite3_value **values)
{
  const char *date = (const char *) sqlite3_value_text (values[0]);

  if (date && strlen (date) >= 10)
    sqlite3_result_int (context, bed_season_of (sqlite3_user_data (context), date));
}

/* The first day of the season that begins in a year. */
static void
season_first_cb (sqlite3_context *context, int n, sqlite3_value **values)
{
  sqlite3_result_text (
      context, bed_season_first (sqlite3_user_data (context), sqlite3_value_int (values[0])), -1,
      g_free);
}

/* ISO 8601 week, '2026-W20'. */
static void
week_cb (sqlite3_context *context, int n, sqlite3_value **values)
{
  GDate date;

  if (!read_date ((const char *) sqlite3_value_text (values[0]), &date))
    return;
  int year, week;
  bed_calendar_week (&date, &year, &week);
  /* Digit by digit, as read_date(). */
  const char text[] = {
    '0' + year / 1000 % 10, '0' + year / 100 % 10, '0' + year / 10 % 10, '0' + year % 10, '-', 'W',
    '0' + week / 10,        '0' + week % 10
  };
  sqlite3_result_text (context, text, sizeof text, SQLITE_TRANSIENT);
}

/* The week of what was picked on a day (2), or in all since another (1; NULL: on that day alone):
 * NULL of a total that is longer than its week. */
static void
pick_week_cb (sqlite3_context *context, int n, sqlite3_value **values)
{
  const char *since = (const char *) sqlite3_value_text (values[0]);
  GDate first, last;

  if (since
      && (!read_date (since, &first)
          || !read_date ((const char *) sqlite3_value_text (values[1]), &last)
          || g_date_days_between (&first, &last) < 0
          || g_date_days_between (&first, &last)
                 > (int) g_date_get_weekday (&last) - G_DATE_MONDAY))
    return;
  week_cb (context, 1, values + 1);
}

/* Milligrams in words, as the farm weighs: "0.25 kg". */
static void
mass_cb (sqlite3_context *context, int n, sqlite3_value **values)
{
  const BedNotation *notation = bed_farm_get_notation (sqlite3_user_data (context));

  sqlite3_result_text (
      context,
      bed_measure_format_unit_said (BED_MEASURE_MASS, notation, sqlite3_value_int64 (values[0])),
      -1, g_free);
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

/* The straight line where none is chosen. */
static BedWriteOff
read_way (sqlite3_value *value)
{
  static const char *const keys[BED_N_WRITE_OFFS] = {
    [BED_WRITE_OFF_DECLINING_150] = "declining 150",
    [BED_WRITE_OFF_DECLINING_200] = "declining 200",
    [BED_WRITE_OFF_DIGITS] = "years' digits",
  };
  const char *key = (const char *) sqlite3_value_text (value);

  for (int i = 0; key && i < BED_N_WRITE_OFFS; i++)
    if (g_strcmp0 (keys[i], key) == 0)
      return i;
  return BED_WRITE_OFF_STRAIGHT;
}

static void
write_off_times_cb (sqlite3_context *context, int n, sqlite3_value **values)
{
  sqlite3_result_double (context, bed_write_off_times (read_way (values[0])));
}

/* By a method (1), of a price (2) and a worth at the end (3), over years of life (4), of a part (5)
 * in 10,000ths, by the end of a year (6). */
static void
written_off_cb (sqlite3_context *context, int n, sqlite3_value **values)
{
  guint of[3];

  for (int i = 0; i < 3; i++)
    of[i] = CLAMP (sqlite3_value_int64 (values[3 + i]), 0, G_MAXINT);
  sqlite3_result_int64 (context,
                        bed_written_off (read_way (values[0]), sqlite3_value_int64 (values[1]),
                                         sqlite3_value_int64 (values[2]), of[0], of[1], of[2]));
}

/* A stage as it is read. */
static void
stage_word_cb (sqlite3_context *context, int n, sqlite3_value **values)
{
  const char *key = (const char *) sqlite3_value_text (values[0]);

  if (key)
    sqlite3_result_text (context, bed_stage_get_word (bed_stage_from_key (key)), -1, SQLITE_STATIC);
}

/* A choice as it is read: kind, field, key. */
static void
choice_word_cb (sqlite3_context *context, int n, sqlite3_value **values)
{
  const char *name = (const char *) sqlite3_value_text (values[0]);
  const char *column = (const char *) sqlite3_value_text (values[1]);
  const char *key = (const char *) sqlite3_value_text (values[2]);
  BedKind kind = name ? bed_kind_from_name (name) : BED_N_KINDS;
  const BedField *field = column && kind < BED_N_KINDS ? bed_kind_find_field (kind, column, NULL)
                                                       : NULL;

  if (field && field->choices && key)
    sqlite3_result_text (context, bed_field_choice_label (field, key), -1, SQLITE_TRANSIENT);
}

/* The words of what is looked for, for small letters and large; kept while the statement runs. */
static char **
fold_wanted (sqlite3_context *context, sqlite3_value *wanted)
{
  char **words = sqlite3_get_auxdata (context, 1);

  if (!words && sqlite3_value_text (wanted))
    {
      g_autofree char *valid = g_utf8_make_valid ((const char *) sqlite3_value_text (wanted), -1);
      g_autofree char *folded = g_utf8_casefold (valid, -1);

      sqlite3_set_auxdata (context, 1, g_strsplit (folded, " ", -1),
                           (void (*) (void *)) g_strfreev);
      /* NULL where there was no memory to keep it in. */
      words = sqlite3_get_auxdata (context, 1);
    }
  return words;
}

static void
change_words_cb (sqlite3_context *context, int n, sqlite3_value **values)
{
  sqlite3_result_text (
      context, bed_history_get_words (sqlite3_user_data (context), sqlite3_value_int64 (values[0])),
      -1, SQLITE_TRANSIENT);
}

/* Whether a text (1) holds every word that is looked for (2), small letters or large, in any
 * script. No sign means any other. */
static void
found_cb (sqlite3_context *context, int n, sqlite3_value **values)
{
  const char *text = (const char *) sqlite3_value_text (values[0]);
  char **words = fold_wanted (context, values[1]);
  gboolean found = text && words;

  if (found)
    {
      g_autofree char *valid = g_utf8_make_valid (text, -1);
      g_autofree char *folded = g_utf8_casefold (valid, -1);

      for (; found && *words; words++)
        found = strstr (folded, *words) != NULL;
    }
  sqlite3_result_int (context, found);
}

/* kind, latin name: what else the species is called, for bed_found (). */
static void
names_cb (sqlite3_context *context, int n, sqlite3_value **values)
{
  const char *kind = (const char *) sqlite3_value_text (values[0]);
  const char *latin = (const char *) sqlite3_value_text (values[1]);

  sqlite3_result_text (context, kind && latin ? bed_known_get_names (kind, latin) : "", -1,
                       SQLITE_STATIC);
}

/* They ask one memory of the looks; it goes with the connexion. */
static void
register_run (sqlite3 *db, BedFarm *farm)
{
  BedRunLooks *looks = bed_run_looks_new (farm);

  sqlite3_create_function (db, "bed_run_over", 3, SQLITE_UTF8 | SQLITE_INNOCUOUS, looks,
                           run_over_cb, NULL, NULL);
  sqlite3_create_function (db, "bed_stage", 10, SQLITE_UTF8 | SQLITE_INNOCUOUS, looks, stage_cb,
                           NULL, NULL);
  sqlite3_create_function_v2 (db, "bed_run_full", 1, SQLITE_UTF8 | SQLITE_INNOCUOUS, looks,
                              run_full_cb, NULL, NULL, bed_run_looks_free);
}

void
bed_functions_register (sqlite3 *db, BedFarm *farm)
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
    { "bed_alive", 2, SQLITE_DETERMINISTIC, alive_cb },
    { "bed_stood", 2, SQLITE_DETERMINISTIC, stood_cb },
    { "bed_lies", 3, SQLITE_DETERMINISTIC, lies_cb },
    { "bed_pick_share", 2, SQLITE_DETERMINISTIC, pick_share_cb },
    { "bed_part_cost", 5, SQLITE_DETERMINISTIC, part_cost_cb },
    { "bed_rest_over", 2, SQLITE_DETERMINISTIC, rest_over_cb },
    { "bed_rest_weeks", 1, 0, rest_weeks_cb },
    { "bed_out_of_sight", 1, SQLITE_DETERMINISTIC, out_of_sight_cb },
    { "bed_flush_over", 1, SQLITE_DETERMINISTIC, flush_over_cb },
    { "bed_season", 1, 0, season_cb },
    { "bed_season_first", 1, 0, season_first_cb },
    { "bed_week", 1, SQLITE_DETERMINISTIC, week_cb },
    { "bed_pick_week", 2, SQLITE_DETERMINISTIC, pick_week_cb },
    { "bed_mass", 1, 0, mass_cb },
    { "bed_dry_days", 0, 0, dry_cb },
    { "bed_dry_advice", 0, 0, dry_advice_cb },
    { "bed_dry_words", 0, 0, dry_words_cb },
    { "bed_write_off_times", 1, SQLITE_DETERMINISTIC, write_off_times_cb },
    { "bed_written_off", 6, SQLITE_DETERMINISTIC, written_off_cb },
    { "bed_stage_word", 1, SQLITE_DETERMINISTIC, stage_word_cb },
    { "bed_choice_word", 3, SQLITE_DETERMINISTIC, choice_word_cb },
    { "bed_change_words", 1, 0, change_words_cb },
    { "bed_found", 2, SQLITE_DETERMINISTIC, found_cb },
    { "bed_names", 2, SQLITE_DETERMINISTIC, names_cb },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (functions); i++)
    sqlite3_create_function (db, functions[i].name, functions[i].n,
                             SQLITE_UTF8 | SQLITE_INNOCUOUS | functions[i].flags, farm,
                             functions[i].function, NULL, NULL);
  register_run (db, farm);
}

double
bed_pick_share (double mass, double logs)
{
  return mass / logs;
}

int
bed_season_of (BedFarm *farm, const char *date)
{
  BedSeasonStart start = read_start (farm);
  GDate day;
  int year = 0;

  if (read_date (date, &day))
    bed_calendar_season (&day, &start, &year, NULL);
  return year;
}

char *
bed_season_first (BedFarm *farm, int season)
{
  BedSeasonStart start = read_start (farm);

  return g_strdup_printf ("%04d-%02d-%02d", season, start.month, start.day);
}

char *
bed_season_dup_name (BedFarm *farm, int season)
{
  BedSeasonStart start = read_start (farm);

  return bed_calendar_name (season, &start);
}
