#pragma once

#include "model/farm/farm.h"
#include "science/spawn_run.h"

/* How far the spawn of a batch has run: its checks and the warmth it had put to
 * science/spawn_run.h. Dates YYYY-MM-DD. */

typedef enum
{
  BED_RUN_BY_DAYS,
  BED_RUN_BY_HEAT, /* degree days, 5 to 30 C */
} BedRunEffort;

typedef struct
{
  BedSpawnRun run;
  BedRunEffort unit; /* of run.full and effort */
  double effort;     /* so far */
  int age_days;
  gboolean is_of_strain; /* expected by the strain's own months, not by its type */
  guint checks;          /* days with a look at the ends */
  char *full_on;         /* median; NULL when more than four years after inoculation */
  char *full_early;      /* 10 % */
  char *full_late;       /* 90 % */
  char *ready_on;        /* from then on most of the logs that live are called ready everywhere */
} BedRun;

/* How far the spawn of @batch has run by its own checks and the warmth it had: degree days
 * where temperatures are kept (330 of the last 365 days, and four days in five since
 * inoculation; a day left out is taken to be like the one before), else days. Days ahead are
 * taken to be as warm as those a year before. A look that found every end white ends the run.
 * FALSE and an error when the farm cannot be read or the batch was inoculated after today. */
gboolean bed_run_read (BedFarm *farm, gint64 batch, BedRun *run, GError **error);
void bed_run_clear (BedRun *run);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (BedRun, bed_run_clear)

/* The warmth of every day up to today, as far as temperatures are kept. (transfer full) NULL when
 * the farm cannot be read. */
typedef struct _BedRunHeat BedRunHeat;
BedRunHeat *bed_run_heat_new (BedFarm *farm, GError **error);
void bed_run_heat_free (BedRunHeat *heat);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedRunHeat, bed_run_heat_free)

/* The day on which the run of @batch, whose ends were looked at, is over by that; one that is
 * not in sight is the day after the last that is looked ahead to. NULL: nobody looked, or the farm
 * cannot be read. (transfer full) */
char *bed_run_dup_full (BedFarm *farm, gint64 batch, const BedRunHeat *heat);
