#pragma once

#include "model/farm/farm.h"

/* What each of @logs has of @mass picked from them together, a stack's that day or a batch's: all
 * the same, the fraction kept. @logs > 0. */
double bed_pick_share (double mass, double logs);

/* The season a date belongs to, by the farm's season start: the year it began in. */
int bed_season_of (BedFarm *farm, const char *date);

/* The first day of a season, YYYY-MM-DD, owned by the caller. */
char *bed_season_first (BedFarm *farm, int season);

/* Its name for people: "2026", or "2026/27" when it starts within a year. */
char *bed_season_dup_name (BedFarm *farm, int season);
