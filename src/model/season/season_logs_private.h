#pragma once

#include "model/farm/farm_private.h"

/* The logs of a farm as a season's reckoning takes them, in memory: what they are, when they
 * stood, and, once the picks have been walked (picked_private.h), what they gave. Asking SQL for
 * this log by log, sheet by sheet, is what makes a workbook slow. */

/* A day as a whole number, 20260518, so that days compare fast. */
typedef int BedDay;
#define BED_DAY_NEVER G_MAXINT
#define BED_SEASON_NEVER 9999

/* YYYY-MM-DD, with or without a time; NULL: BED_DAY_NEVER. */
BedDay bed_day_read (const char *text);

/* Diameter classes by the mean of both ends over bark: below 10 cm, below 15 cm, the rest; on a
 * farm that measures in inches below 4, below 6. Common practice, no source. */
typedef enum
{
  BED_SIZE_SMALL = 1,
  BED_SIZE_MIDDLE,
  BED_SIZE_LARGE
} BedSize;

/* What logs of the class are thinner than, um; G_MAXINT64 for the largest. */
gint64 bed_size_get_limit (BedFarm *farm, BedSize size);

typedef struct
{
  gint64 id;
  gint64 batch; /* 0: felled, not inoculated */
  gint64 felling;
  gint64 stack; /* where it lay when the season ended; 0: nowhere */
  BedDay stack_since;
  BedDay retired;     /* BED_DAY_NEVER */
  int since;          /* season of inoculation; BED_SEASON_NEVER without a batch */
  int until;          /* season it was retired in, BED_SEASON_NEVER */
  gboolean spared;    /* retired, but sold or mislaid: no loss */
  const char *wood;   /* common name */
  const char *strain; /* "-" when not known */
  BedSize size;
  double dry; /* mg of wood without bark, of its means (science/log.h); NAN: not known */
  double own, share, earlier; /* mg: this season by itself, of its stack's and batch's; before */
} BedSeasonLog;

typedef struct
{
  BedFarm *farm; /* not owned */
  int season;
  char *next;          /* the day after its last */
  BedDay start;        /* 1001: seasons begin on 1 October */
  GArray *logs;        /* BedSeasonLog, by id */
  GStringChunk *texts; /* wood and strain, each once: equal texts are the same pointer */
} BedSeasonLogs;

/* All logs of the farm, retired or not yet inoculated too, nothing picked yet.
 * Returns: (transfer full) free with bed_season_logs_free(); NULL when the farm cannot be read. */
BedSeasonLogs *bed_season_logs_new (BedFarm *farm, int season, GError **error);
void bed_season_logs_free (BedSeasonLogs *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedSeasonLogs, bed_season_logs_free)

/* The season of @day: the year it began in. Once for each pick of a farm, so without a GDate;
 * science/calendar.h has the rule. */
int bed_season_logs_find (const BedSeasonLogs *self, BedDay day);

/* It stood inoculated in the season, and was not retired before it. */
gboolean bed_season_log_stood (const BedSeasonLogs *self, const BedSeasonLog *log);

/* Inoculated, and not retired when the season ended. */
gboolean bed_season_log_lives (const BedSeasonLogs *self, const BedSeasonLog *log);
