#pragma once

#include "model/farm/farm.h"

/* A season in figures, counted as the season workbook counts them: purchases of its days,
 * spawn used in its batches, hours at their rate, equipment written off by its method. */
typedef struct
{
  int season;          /* the year it began */
  gint64 picked;       /* fresh mass, mg */
  gint64 sold;         /* of it sold fresh, mg */
  gint64 logs;         /* inoculated by its end and not retired before it */
  gint64 minutes;      /* of work */
  gint64 sold_dried;   /* mass sold dried, as sold, mg */
  gint64 income;       /* minor units from here on */
  gint64 income_fresh; /* of it for what was sold fresh */
  gint64 income_dried;
  gint64 bought;
  gint64 spawn;
  gint64 labour;
  gint64 equipment;
  gint64 stock; /* used of what was in store before, less what is in store after */
  gint64 cost;  /* the five together */
} BedSeason;

/* Sets @figures to the season that began in year @season. */
gboolean bed_season_read (BedFarm *farm, int season, BedSeason *figures, GError **error);

/* First and last season with any record of inoculation, crop or money; the running one when
 * there is none. */
gboolean bed_season_range (BedFarm *farm, int *first, int *last, GError **error);

/* Part of a season's cost. */
typedef struct
{
  char *key;         /* category ("wax", "spawn", "labour", "equipment") or scope ("batch") */
  const char *label; /* translated word for it, static */
  gint64 amount;
} BedSeasonPart;

/* The cost by category, and by what it was for, largest first; element BedSeasonPart, parts
 * of 0 left out; they sum to ->cost. (transfer full). */
GPtrArray *bed_season_by_category (BedFarm *farm, int season, GError **error);
GPtrArray *bed_season_by_purpose (BedFarm *farm, int season, GError **error);
