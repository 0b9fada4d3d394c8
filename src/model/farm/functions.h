#pragma once

#include "model/farm/farm.h"

/* The season a date belongs to, by the farm's season start: the year it began in. */
int bed_season_of (BedFarm *farm, const char *date);

/* The first day of a season, YYYY-MM-DD, owned by the caller. */
char *bed_season_first (BedFarm *farm, int season);

/* Its name for people: "2026", or "2026/27" when it starts within a year. */
char *bed_season_dup_name (BedFarm *farm, int season);
