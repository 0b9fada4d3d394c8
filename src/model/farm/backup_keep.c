/* Which copies are no longer kept. A clock that is wrong once must not cost one: copies follow
 * each other by what they hold, and how old one is, is how far its last change lies before the
 * farm's. */
#include "model/farm/backup_private.h"

#include <stdlib.h>

#include "model/farm/value.h"
#include "science/calendar.h"

enum
{
  ALWAYS = 10,
  DAYS = 7,
  WEEKS = 4,
  YEAR = 365,         /* days in which each month keeps one */
  LONGEST_GAP = 31,   /* days; a wider one between two copies may be the clock's */
  LONGEST_REST = 366, /* days since the farm's last change; after more the clock is doubted */
};

/* The day of a moment, or NULL when it is none. */
static char *
day_of (const char *moment)
{
  return moment && bed_calendar_read_day (moment, NULL) ? g_strndup (moment, 10) : NULL;
}

/* Which span of time a copy stands for; -1: none any more. Weeks and months are those of
 * the calendar: were they counted back from the last change, a copy would never grow old
 * enough to reach the next. */
static int
span_of (const char *day, int age)
{
  int number = bed_date_days ("0001-01-01", day); /* from a Monday */

  if (age < DAYS)
    return 10000000 + number;
  if (age < DAYS + 7 * WEEKS)
    return 2000000 + number / 7;
  return age < DAYS + 7 * WEEKS + YEAR ? 100 * atoi (day) + atoi (day + 5) : -1;
}

GPtrArray *
bed_backup_spare (GPtrArray *copies, const char *at, const char *today)
{
  g_autofree char *later = day_of (at); /* of the farm, then of the copy before */
  GPtrArray *spare = g_ptr_array_new ();
  int age = 0, last = -1;
  guint trusted = 0;

  if (!later || g_strcmp0 (later, today) > 0 || bed_date_days (later, today) > LONGEST_REST)
    return spare;
  for (guint i = 0; i < copies->len; i++)
    {
      BedBackup *copy = copies->pdata[i];
      char *day = day_of (copy->at);

      if (!day || g_strcmp0 (day, today) > 0)
        {
          g_free (day);
          continue;
        }
      age += CLAMP (bed_date_days (day, later), 0, LONGEST_GAP);
      int span = span_of (day, age);
      if (trusted++ >= ALWAYS && (span < 0 || span == last))
        g_ptr_array_add (spare, copy);
      else
        last = span;
      g_free (later);
      later = day;
    }
  return spare;
}
