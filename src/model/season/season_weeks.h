#pragma once

#include "model/farm/farm.h"

/* What one season gave, week by week (Monday to Sunday) from that of its first day. */
typedef struct
{
  int season;        /* the year it began */
  double mass[54];   /* mg; as many weeks as a year has days of */
  double of_no_week; /* mg, of totals longer than one */
} BedSeasonWeeks;

/* Of every season with a pick up to @season, the earliest first; of @season itself in any case.
 * Element BedSeasonWeeks; (transfer full). NULL and an error when the farm cannot be read. */
GArray *bed_season_weeks_read (BedFarm *farm, int season, GError **error);

/* The week of the season that @day is in, from 0. */
int bed_season_week_of (BedFarm *farm, const char *day);
