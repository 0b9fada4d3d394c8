#pragma once

#include "model/farm/farm.h"

/* The SQL functions of data/schema/views.sql: bed_today (), bed_now (),
 * bed_season (date), bed_week (date); of the rules: bed_mass (mg), in words; of what is
 * due: bed_dry_days (), bed_dry_advice () (BedDrySpell), bed_dry_words (), the first two NULL
 * where rain is not written down; of the filters of lists: bed_stage_word (key), bed_choice_word
 * (kind, field, key), the word as it is read; bed_found (words, part). */
void bed_functions_register (BedFarm *farm);

/* The season a date belongs to, by the farm's season start: the year it began in. */
int bed_season_of (BedFarm *farm, const char *date);

/* The first day of a season, YYYY-MM-DD, owned by the caller. */
char *bed_season_first (BedFarm *farm, int season);

/* Its name for people: "2026", or "2026/27" when it starts within a year. */
char *bed_season_dup_name (BedFarm *farm, int season);
