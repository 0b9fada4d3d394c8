#pragma once

#include "model/work/due.h"

/* The week that runs, day by day from bed_date_week_start(): the weather that is written down, what
 * was done, what is due, and what is in the water. */

typedef struct
{
  char *day; /* YYYY-MM-DD */
  gboolean has_rain, has_temperatures;
  gint64 rain;        /* um */
  gint64 least, most; /* thousandths of a degree C */
  gint64 picked;      /* mg */
  gint64 soaked;      /* logs put into the water */
  gint64 moves;       /* logs that a plan of the yard moves */
  /* By rule: how often it is due on that day (what is overdue, today), and of how many logs. */
  guint due[BED_DUE_N_RULES];
  gint64 due_logs[BED_DUE_N_RULES];
  GPtrArray *tasks; /* the grower's own that are due, what they are; in no number above */
} BedWeekDay;

/* Logs in a tank from day @first to day @last of the week, 0 to 6; a soak from before or until
 * after it is cut off at its ends. */
typedef struct
{
  char *name; /* "Tank 1" */
  gint64 logs;
  int first, last;
  gboolean inside; /* still; @last is then the day they are to be lifted, today at the earliest */
} BedWeekTank;

typedef struct
{
  BedWeekDay days[7];
  int today;        /* index */
  GPtrArray *tanks; /* BedWeekTank, in the order they were filled */
} BedWeek;

/* @items of bed_due_list(). NULL and an error when the farm cannot be read. */
BedWeek *bed_week_new (BedFarm *farm, const GPtrArray *items, GError **error);
void bed_week_free (BedWeek *week);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedWeek, bed_week_free)
