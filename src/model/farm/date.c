/* Dates as people type and read them. */
#include "model/farm/value.h"

#include <glib/gi18n-lib.h>
#include <langinfo.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static gboolean
set_day (GDate *date, int day, int month, int year)
{
  if (year < 1 || year > 9999 || !g_date_valid_dmy (day, month, year))
    return FALSE;
  g_date_set_dmy (date, day, month, year);
  return TRUE;
}

static gboolean
read_iso (const char *text, GDate *date)
{
  int year, month, day, used = 0;

  g_date_clear (date, 1);
  return sscanf (text, "%4d-%2d-%2d%n", &year, &month, &day, &used) == 3 && !text[used]
         && set_day (date, day, month, year);
}

/* Day before month in the locale's short date? */
static gboolean
day_first (void)
{
  const char *format = nl_langinfo (D_FMT);
  const char *day = strpbrk (format, "de");
  const char *month = strpbrk (format, "mDb");

  return !(month && (!day || month < day));
}

/* Three letters of a month are enough, whatever their case. */
static gboolean
begins (const char *name, const char *word)
{
  return strlen (word) >= 3 && g_ascii_strncasecmp (name, word, strlen (word)) == 0;
}

static int
month_number (const char *word)
{
  static const char *months[] = { "january",   "february", "march",    "april",
                                  "may",       "june",     "july",     "august",
                                  "september", "october",  "november", "december" };

  for (int i = 0; i < 12; i++)
    {
      GDate date;
      char name[64];
      g_date_clear (&date, 1);
      g_date_set_dmy (&date, 1, i + 1, 2001);
      g_date_strftime (name, sizeof name, "%b", &date);
      if (begins (months[i], word) || begins (name, word))
        return i + 1;
    }
  return 0;
}

/* Two figures mean this century. */
static int
whole_year (int year, int used)
{
  return used <= 2 ? 2000 + year : year;
}

/* `18.5.2026`, `5/18/26`, `18-5` (this year). */
static gboolean
read_figures (const char *text, int this_year, GDate *date)
{
  int a, b, year = this_year, end = 0, at = 0;
  char mark, mark2;

  if (sscanf (text, "%2d%c%2d%n", &a, &mark, &b, &end) != 3 || !strchr ("./- ", mark))
    return FALSE;
  if (text[end] == mark && text[end + 1])
    {
      if (sscanf (text + end, "%c%4d%n", &mark2, &year, &at) != 2 || text[end + at])
        return FALSE;
      year = whole_year (year, at - 1);
    }
  else if (text[end] && !(text[end] == mark && !text[end + 1]))
    return FALSE;
  /* A point is written between figures only where the day comes first. */
  gboolean dmy = mark == '.' || day_first ();
  int day = dmy ? a : b, month = dmy ? b : a;
  if (month > 12 && day <= 12)
    {
      int swap = day;
      day = month;
      month = swap;
    }
  return set_day (date, day, month, year);
}

/* `18 May 2026`, `18 May`, `May 18`, `May 18, 2026`. */
static gboolean
read_words (const char *text, int this_year, GDate *date)
{
  char word[32];
  int day, year = this_year, end = 0;

  if (sscanf (text, "%2d%*[. ]%31[^0-9 .,]%n", &day, word, &end) != 2
      && sscanf (text, "%31[^0-9 .,]%*[. ]%2d%n", word, &day, &end) != 2)
    return FALSE;
  const char *rest = text + end + strspn (text + end, "., ");
  if (*rest)
    {
      char *after;
      year = whole_year (strtol (rest, &after, 10), strlen (rest));
      if (*after || strlen (rest) > 4)
        return FALSE;
    }
  return set_day (date, day, month_number (word), year);
}

/* A day farther off is a slip of the keyboard. */
static gboolean
is_in_reach (const GDate *date)
{
  return g_date_get_year (date) >= 1900 && g_date_get_year (date) <= 2199;
}

char *
bed_date_parse (const char *text, const char *today, GError **error)
{
  g_return_val_if_fail (text != NULL && today != NULL, NULL);
  g_autofree char *trimmed = g_strstrip (g_strdup (text));
  GDate date;

  if (!g_utf8_validate (text, -1, NULL))
    {
      g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID,
                   _ ("The text is not UTF-8. Write the date as %s."), today);
      return NULL;
    }
  if (g_ascii_strcasecmp (trimmed, "today") == 0 || strcmp (trimmed, _ ("today")) == 0)
    return g_strdup (today);
  if (g_ascii_strcasecmp (trimmed, "yesterday") == 0 || strcmp (trimmed, _ ("yesterday")) == 0)
    return bed_date_add (today, -1);
  g_date_clear (&date, 1);
  if ((read_iso (trimmed, &date) || read_figures (trimmed, atoi (today), &date)
       || read_words (trimmed, atoi (today), &date))
      && is_in_reach (&date))
    return g_strdup_printf ("%04d-%02d-%02d", g_date_get_year (&date), g_date_get_month (&date),
                            g_date_get_day (&date));
  g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID,
               _ ("“%s” is not a date. Write it as %s."), text, today);
  return NULL;
}

static char *
format (const char *date, const char *how)
{
  GDate parsed;
  char text[64];

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
  g_autofree char *monday = bed_date_monday (date);
  g_autofree char *sunday = bed_date_add (monday, 6);

  return strncmp (monday, sunday, 4) == 0 ? bed_date_format_day (date)
                                          : bed_date_format_whole (date);
}

char *
bed_date_format_moment (const char *moment)
{
  g_autofree char *day = g_strndup (moment, 10);
  g_autofree char *date = bed_date_format (day);

  return strlen (moment) >= 16 ? g_strdup_printf ("%s %s", date, moment + 11)
                               : g_steal_pointer (&date);
}

char *
bed_date_add (const char *date, int days)
{
  GDate parsed;
  char text[16];

  g_return_val_if_fail (date != NULL && read_iso (date, &parsed), NULL);
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

  g_return_val_if_fail (a && b && read_iso (a, &from) && read_iso (b, &to), 0);
  return g_date_days_between (&from, &to);
}

char *
bed_date_monday (const char *date)
{
  GDate day;

  g_return_val_if_fail (date != NULL && read_iso (date, &day), NULL);
  return bed_date_add (date, G_DATE_MONDAY - (int) g_date_get_weekday (&day));
}
