#pragma once

#include <glib.h>

/* Weeks and seasons. Dates are GDate, which knows no time zone. */

/* Whether @text begins with figures and hyphens like 2026-05-18. */
gboolean bed_calendar_looks_like_day (const char *text);

/* The day YYYY-MM-DD that @text begins with, and what follows it there; NULL when there is no such
 * day, and @date (may be NULL) is not set. */
const char *bed_calendar_read_day (const char *text, GDate *date);

/* Week 1 to 53 and the year it belongs to, ISO 8601: week 1 holds the first
 * Thursday. @date must be valid. */
void bed_calendar_week (const GDate *date, int *year, int *week);

/* A farm's season begins on the same day of every year; 1 January makes it the
 * calendar year. 29 February is no such day. */
typedef struct
{
  int month; /* 1 to 12 */
  int day;
} BedSeasonStart;

/* MM-DD as people set it. TRUE when every year has that day; else what is meant: of a
 * month that is too short its last day (29 February too, which most years have not), of
 * what is no month and day 1 January. */
gboolean bed_calendar_read_start (const char *text, BedSeasonStart *start);

/* The year in which the season that holds @date began. */
gboolean bed_calendar_season (const GDate *date, const BedSeasonStart *start, int *year,
                              GError **error);

/* "2026", or "2026/27" when it runs over New Year. Free with g_free(). */
char *bed_calendar_name (int year, const BedSeasonStart *start);
