/* The functions the questions of a farm ask, for the sqlite3 shell: `.load shell-functions`. The
 * day is that of BENCH_TODAY and the season begins with the year, as in the farms of the bench. */
#include <sqlite3ext.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

SQLITE_EXTENSION_INIT1

static void
today_cb (sqlite3_context *context, int n, sqlite3_value **values)
{
  sqlite3_result_text (context, getenv ("BENCH_TODAY"), 10, SQLITE_STATIC);
}

static void
now_cb (sqlite3_context *context, int n, sqlite3_value **values)
{
  char now[] = "YYYY-MM-DDT12:00";
  const char *today = getenv ("BENCH_TODAY");

  if (today && strlen (today) >= 10)
    memcpy (now, today, 10);
  sqlite3_result_text (context, now, -1, SQLITE_TRANSIENT);
}

static void
season_cb (sqlite3_context *context, int n, sqlite3_value **values)
{
  const char *date = (const char *) sqlite3_value_text (values[0]);

  if (date && strlen (date) >= 10)
    sqlite3_result_int (context, atoi (date));
}

static void
week_cb (sqlite3_context *context, int n, sqlite3_value **values)
{
  const char *date = (const char *) sqlite3_value_text (values[0]);
  struct tm day = { .tm_hour = 12 };
  char week[] = "YYYY-Www";

  if (!date || sscanf (date, "%d-%d-%d", &day.tm_year, &day.tm_mon, &day.tm_mday) != 3)
    return;
  day.tm_year -= 1900;
  day.tm_mon -= 1;
  timegm (&day);
  (void) strftime (week, sizeof week, "%G-W%V", &day);
  sqlite3_result_text (context, week, -1, SQLITE_TRANSIENT);
}

int sqlite3_extension_init (sqlite3 *db, char **error, const sqlite3_api_routines *api);

int
sqlite3_extension_init (sqlite3 *db, char **error, const sqlite3_api_routines *api)
{
  SQLITE_EXTENSION_INIT2 (api);
  int flags = SQLITE_UTF8 | SQLITE_INNOCUOUS;

  sqlite3_create_function (db, "bed_today", 0, flags, NULL, today_cb, NULL, NULL);
  sqlite3_create_function (db, "bed_now", 0, flags, NULL, now_cb, NULL, NULL);
  sqlite3_create_function (db, "bed_season", 1, flags, NULL, season_cb, NULL, NULL);
  sqlite3_create_function (db, "bed_week", 1, flags | SQLITE_DETERMINISTIC, NULL, week_cb, NULL,
                           NULL);
  return SQLITE_OK;
}
