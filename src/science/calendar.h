#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Weeks, seasons and hemispheres. Dates are GDate, which knows no time zone. */

/* Week 1 to 53 and the year it belongs to, ISO 8601: week 1 holds the first
 * Thursday. @date must be valid. */
void bed_week_of (const GDate *date, int *year, int *week);

/* Monday of @week of @year (1583 to 9998); FALSE and an error when the year has no
 * such week. */
gboolean bed_week_start (int year, int week, GDate *monday, GError **error);

/* 52 or 53. */
int bed_weeks_in_year (int year);

/* A farm's season begins on the same day of every year; 1 January makes it the
 * calendar year. 29 February is no such day. */
typedef struct
{
  int month; /* 1 to 12 */
  int day;
} BedSeasonStart;

/* The year in which the season that holds @date began. */
gboolean bed_season_of (const GDate *date, const BedSeasonStart *start, int *year, GError **error);

/* First and last day of the season that begins in @year. */
gboolean bed_season_bounds (int year, const BedSeasonStart *start, GDate *first, GDate *last,
                            GError **error);

/* "2026", or "2026/27" when it runs over New Year. Free with g_free(). */
char *bed_season_name (int year, const BedSeasonStart *start);

typedef enum
{
  BED_HEMISPHERE_NORTH,
  BED_HEMISPHERE_SOUTH
} BedHemisphere;

/* The month in which the northern year is as far on as @date is here: what is said
 * of northern months (felled November to March) then holds for either half. */
int bed_season_month (const GDate *date, BedHemisphere hemisphere);

G_END_DECLS
