/* Dates as people read them, and counted with. date_read.c has how they are typed. */
#include "model/farm/value.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "model/farm/habits.h"
#include "science/calendar.h"

static gboolean
read_iso (const char *text, GDate *date)
{
  g_date_clear (date, 1);
  const char *rest = bed_calendar_read_day (text, date);
  return rest && !*rest;
}

static char *
format (const char *date, const char *how)
{
  GDate parsed;
  char text[160];

  if (!date || !read_iso (date, &parsed))
    return g_strdup (date ? date : "");
  g_date_strftime (text, sizeof text, how, &parsed);
  return g_strdup (text);
}

char *
bed_date_format (const char *date)
{
  /* Day, short month, year: no order to mistake. */
  /* Translators: strftime format of a short date. */
  return format (date, _ ("%-d %b %Y"));
}

char *
bed_date_format_day (const char *date)
{
  /* Translators: strftime format of a date with its weekday, for planned work. */
  return format (date, _ ("%a %-d %b"));
}

char *
bed_date_format_whole (const char *date)
{
  /* Translators: strftime format of a date with its weekday and year. */
  return format (date, _ ("%a %-d %b %Y"));
}

char *
bed_date_format_in_week (const char *date)
{
  g_autofree char *first = bed_date_week_start (date);
  g_autofree char *last = first ? bed_date_add (first, 6) : NULL;

  return last && strncmp (first, last, 4) == 0 ? bed_date_format_day (date)
                                               : bed_date_format_whole (date);
}

char *
bed_date_format_moment (const char *moment)
{
  g_autofree char *day = g_strndup (moment, 10);
  GDate parsed;

  /* What is no date is not cut in the middle of a character. */
  if (!read_iso (day, &parsed))
    return g_strdup (moment);
  g_autofree char *date = bed_date_format (day);
  return strlen (moment) >= 16 ? g_strdup_printf ("%s %s", date, moment + 11)
                               : g_steal_pointer (&date);
}

char *
bed_date_add (const char *date, int days)
{
  GDate parsed;
  char text[16];

  if (!date || !read_iso (date, &parsed))
    g_return_val_if_reached (NULL);
  if (days >= 0)
    g_date_add_days (&parsed, days);
  else
    g_date_subtract_days (&parsed, -days);
  g_date_strftime (text, sizeof text, "%Y-%m-%d", &parsed);
  return g_strdup (text);
}

int
bed_date_days (const char *a, const char *b)
{
  GDate from, to;

  if (!a || !b || !read_iso (a, &from) || !read_iso (b, &to))
    g_return_val_if_reached (0);
  return g_date_days_between (&from, &to);
}

/* The last @weekday, 1 Monday to 7 Sunday, that is not after @date. */
static char *
find_weekday (const char *date, int weekday)
{
  GDate day;

  if (!date || !read_iso (date, &day))
    g_return_val_if_reached (NULL);
  return bed_date_add (date, -(((int) g_date_get_weekday (&day) - weekday + 7) % 7));
}

char *
bed_date_monday (const char *date)
{
  return find_weekday (date, G_DATE_MONDAY);
}

char *
bed_date_week_start (const char *date)
{
  return find_weekday (date, bed_habits_first_weekday ());
}
