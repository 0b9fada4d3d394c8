#include "science/calendar.h"

#include <stdlib.h>

#include "science/argument.h"

/* Whatever it is counted in, a season begins on a day that every year has. */
#define COMMON_YEAR 2001

static gboolean
is_two_and_two (const char *text)
{
  for (int i = 0; i < 5; i++)
    if (i == 2 ? text[i] != '-' : !g_ascii_isdigit (text[i]))
      return FALSE;
  return text[5] == '\0';
}

static gboolean
check_start (const BedSeasonStart *start, GError **error)
{
  if (!bed_argument_between ("month", start->month, 1, 12, error))
    return FALSE;
  return bed_argument_between ("day", start->day, 1,
                               g_date_get_days_in_month ((GDateMonth) start->month, COMMON_YEAR),
                               error);
}

gboolean
bed_calendar_looks_like_day (const char *text)
{
  static const char form[] = "0000-00-00";

  for (gsize i = 0; form[i]; i++)
    if (form[i] == '0' ? !g_ascii_isdigit (text[i]) : text[i] != form[i])
      return FALSE;
  return TRUE;
}

const char *
bed_calendar_read_day (const char *text, GDate *date)
{
  if (!bed_calendar_looks_like_day (text))
    return NULL;
  int year = atoi (text), month = atoi (text + 5), day = atoi (text + 8);
  if (!g_date_valid_dmy (day, month, year))
    return NULL;
  if (date)
    g_date_set_dmy (date, day, month, year);
  return text + 10;
}

void
bed_calendar_week (const GDate *date, int *year, int *week)
{
  g_return_if_fail (date != NULL && g_date_valid (date));
  g_return_if_fail (year != NULL && week != NULL);
  GDate thursday = *date;
  int weekday = g_date_get_weekday (date);

  /* A week belongs to the year of its Thursday. */
  if (weekday < G_DATE_THURSDAY)
    g_date_add_days (&thursday, (guint) (G_DATE_THURSDAY - weekday));
  else
    g_date_subtract_days (&thursday, (guint) (weekday - G_DATE_THURSDAY));
  *year = g_date_get_year (&thursday);
  *week = ((int) g_date_get_day_of_year (&thursday) - 1) / 7 + 1;
}

gboolean
bed_calendar_read_start (const char *text, BedSeasonStart *start)
{
  g_return_val_if_fail (start != NULL, FALSE);
  *start = (BedSeasonStart){ 1, 1 };
  if (!text || !is_two_and_two (text))
    return FALSE;
  int month = (text[0] - '0') * 10 + text[1] - '0', day = (text[3] - '0') * 10 + text[4] - '0';
  if (month < 1 || month > 12 || day < 1 || day > 31)
    return FALSE;
  int last = g_date_get_days_in_month ((GDateMonth) month, COMMON_YEAR);
  *start = (BedSeasonStart){ month, MIN (day, last) };
  return day <= last;
}

gboolean
bed_calendar_season (const GDate *date, const BedSeasonStart *start, int *year, GError **error)
{
  g_return_val_if_fail (date != NULL && g_date_valid (date), FALSE);
  g_return_val_if_fail (start != NULL && year != NULL, FALSE);
  if (!check_start (start, error))
    return FALSE;
  int month = g_date_get_month (date);
  gboolean before = month < start->month
                    || (month == start->month && g_date_get_day (date) < start->day);

  *year = g_date_get_year (date) - (before ? 1 : 0);
  return TRUE;
}

char *
bed_calendar_name (int year, const BedSeasonStart *start)
{
  g_return_val_if_fail (start != NULL, NULL);
  if (start->month == 1 && start->day == 1)
    return g_strdup_printf ("%d", year);
  return g_strdup_printf ("%d/%02d", year, (year + 1) % 100);
}
