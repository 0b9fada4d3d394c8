#include <stdlib.h>
#include <string.h>

#include "model/notebook/notebook_private.h"

/* Dates in other people's sheets: what is written, before its order is known. */

#define MOST_TOKENS 6

typedef struct
{
  int number[MOST_TOKENS], figures[MOST_TOKENS]; /* -1 where it is a word */
  int month[MOST_TOKENS];
  gboolean week[MOST_TOKENS];
  guint n;
  gboolean strange; /* a word that no date has */
} Tokens;

/* "14:30", " 2:30 pm" at the end: cut off. */
static void
take_time (char *text, BedDay *day)
{
  char *colon = strchr (text, ':'), *at;
  long minute;

  if (!colon || colon == text || !g_ascii_isdigit (colon[-1]) || !g_ascii_isdigit (colon[1]))
    return;
  minute = strtol (colon + 1, &at, 10);
  at = colon;
  while (at > text && g_ascii_isdigit (at[-1]))
    at--;
  day->hour = atoi (at);
  day->minute = minute;
  if (strpbrk (colon, "pP") && day->hour < 12)
    day->hour += 12;
  else if (strpbrk (colon, "aA") && day->hour == 12)
    day->hour = 0;
  if (day->hour > 23 || day->minute > 59)
    day->hour = day->minute = -1;
  if (at > text && (at[-1] == 'T' || at[-1] == ' '))
    at--;
  *at = '\0';
}

/* What stands in a date beside the month: names of days, endings of numbers. */
static gboolean
is_filling (const char *word)
{
  static const char *const words[]
      = { "th",         "st",       "nd",       "rd",       "er",     "de",       "del",
          "le",         "the",      "of",       "el",       "mon",    "tue",      "tues",
          "wed",        "thu",      "thur",     "thurs",    "fri",    "sat",      "sun",
          "mo",         "di",       "mi",       "do",       "fr",     "sa",       "so",
          "lun",        "mer",      "jeu",      "ven",      "sam",    "dim",      "mie",
          "jue",        "vie",      "sab",      "dom",      "monday", "tuesday",  "wednesday",
          "thursday",   "friday",   "saturday", "sunday",   "montag", "dienstag", "mittwoch",
          "donnerstag", "freitag",  "samstag",  "sonntag",  "lundi",  "mardi",    "mercredi",
          "jeudi",      "vendredi", "samedi",   "dimanche", "lunes",  "martes",   "miercoles",
          "jueves",     "viernes",  "sabado",   "domingo",  "日",     "月",       "火",
          "水",         "木",       "金",       "土",       NULL };
  g_autofree char *plain = g_utf8_normalize (word, -1, G_NORMALIZE_ALL);
  g_autoptr (GString) folded = g_string_new (NULL);

  for (const char *at = plain ? plain : word; *at; at = g_utf8_next_char (at))
    if (!(g_utf8_get_char (at) >= 0x300 && g_utf8_get_char (at) <= 0x36f))
      g_string_append_unichar (folded, g_unichar_tolower (g_utf8_get_char (at)));
  return g_strv_contains (words, folded->str);
}

static void
add_number (Tokens *self, const char *text, gsize length)
{
  if (self->n == MOST_TOKENS || length > 9)
    {
      self->strange = TRUE;
      return;
    }
  g_autofree char *figures = g_strndup (text, length);
  self->number[self->n] = atoi (figures);
  self->figures[self->n] = length;
  self->month[self->n] = 0;
  self->week[self->n++] = FALSE;
}

static void
add_word (Tokens *self, const char *text, gsize length)
{
  g_autofree char *word = g_strndup (text, length);
  int month = bed_words_find_month (word);
  gboolean week = !month && bed_words_find ("week", "", word) != NULL;

  if (!month && !week)
    {
      self->strange = self->strange || !is_filling (word);
      return;
    }
  /* "mar" is a Tuesday where another month is written, too. */
  for (guint i = 0; i < self->n; i++)
    if (self->month[i] && month)
      {
        self->month[i] = month;
        return;
      }
  if (self->n == MOST_TOKENS)
    {
      self->strange = TRUE;
      return;
    }
  self->number[self->n] = self->figures[self->n] = -1;
  self->month[self->n] = month;
  self->week[self->n++] = week;
}

static void
split (Tokens *self, const char *text)
{
  *self = (Tokens){ .n = 0 };
  for (const char *at = text; *at;)
    {
      const char *start = at;
      if (g_ascii_isdigit (*at))
        {
          while (g_ascii_isdigit (*at))
            at++;
          add_number (self, start, at - start);
          continue;
        }
      while (*at && !g_ascii_isdigit (*at) && g_unichar_isalpha (g_utf8_get_char (at)))
        at = g_utf8_next_char (at);
      if (at > start)
        add_word (self, start, at - start);
      else
        {
          self->strange = self->strange || !strchr (" ./-,'()", *at);
          at = g_utf8_next_char (at);
        }
    }
}

/* Two figures mean this century, as in the forms. */
static int
whole_year (const Tokens *self, guint i)
{
  return self->figures[i] <= 2 ? 2000 + self->number[i] : self->number[i];
}

static gboolean
is_year (const Tokens *self, guint i)
{
  return self->figures[i] == 4 && self->number[i] >= 1900 && self->number[i] <= 2199;
}

/* With a month's name: 18 May 2026, May 18, May 2026, May. */
static gboolean
with_month (const Tokens *self, guint at, BedDay *day)
{
  guint numbers[MOST_TOKENS], n = 0;

  for (guint i = 0; i < self->n; i++)
    if (self->figures[i] >= 0)
      numbers[n++] = i;
  day->b = self->month[at];
  day->c = -1;
  if (n > 2)
    return FALSE;
  if (n == 0 || (n == 1 && is_year (self, numbers[0])))
    {
      day->form = BED_DAY_MONTH;
      day->c = n ? self->number[numbers[0]] : -1;
      return TRUE;
    }
  guint of_day = n == 2 && is_year (self, numbers[0]) ? 1 : 0;
  day->form = BED_DAY_WORDS;
  day->a = self->number[numbers[of_day]];
  if (n == 2)
    day->c = whole_year (self, numbers[1 - of_day]);
  return self->figures[numbers[of_day]] <= 2;
}

static gboolean
with_week (const Tokens *self, BedDay *day)
{
  *day = (BedDay){ BED_DAY_WEEK, 0, 0, -1, -1, -1 };
  for (guint i = 0; i < self->n; i++)
    if (is_year (self, i))
      day->c = self->number[i];
    else if (self->figures[i] >= 0)
      day->a = self->number[i];
  return self->n <= 3 && day->a >= 1 && day->a <= 53;
}

static gboolean
with_figures (const Tokens *self, BedDay *day)
{
  const int *n = self->number, *figures = self->figures;

  if (self->n == 1 && figures[0] == 8 && n[0] / 10000 >= 1900 && n[0] / 10000 <= 2199)
    *day = (BedDay){
      BED_DAY_YMD, n[0] / 10000, n[0] / 100 % 100, n[0] % 100, day->hour, day->minute
    };
  else if (self->n == 1)
    *day = (BedDay){ BED_DAY_NUMBER, n[0], 0, 0, -1, -1 };
  else if (is_year (self, 0) && self->n == 3)
    *day = (BedDay){ BED_DAY_YMD, n[0], n[1], n[2], day->hour, day->minute };
  else if (self->n == 2 && is_year (self, 0))
    *day = (BedDay){ BED_DAY_MONTH, 0, n[1], n[0], -1, -1 };
  else if (self->n == 2 && is_year (self, 1))
    *day = (BedDay){ BED_DAY_MONTH, 0, n[0], n[1], -1, -1 };
  else if (self->n == 2 || self->n == 3)
    *day = (BedDay){ BED_DAY_FIGURES, n[0],       n[1], self->n == 3 ? whole_year (self, 2) : -1,
                     day->hour,       day->minute };
  else
    return FALSE;
  return self->n == 1 || (figures[0] <= 2 || is_year (self, 0));
}

/* 2024年5月18日 */
static char *
plain_day (const char *text)
{
  if (g_str_is_ascii (text))
    return g_strdup (text);
  if (!strstr (text, "年") && !strstr (text, "月"))
    return g_utf8_normalize (text, -1, G_NORMALIZE_ALL_COMPOSE);
  g_autofree char *whole = g_utf8_normalize (text, -1, G_NORMALIZE_ALL_COMPOSE);
  g_auto (GStrv) years = g_strsplit (whole, "年", 2);
  g_autofree char *with_years = g_strjoinv ("-", years);
  g_auto (GStrv) months = g_strsplit (with_years, "月", 2);
  g_autofree char *with_months = g_strjoinv (months[1] && *months[1] ? "-" : "", months);
  g_auto (GStrv) days = g_strsplit (with_months, "日", 2);
  return g_strjoinv (" ", days);
}

static gboolean
is_possible (const BedDay *day)
{
  switch (day->form)
    {
    case BED_DAY_YMD:
      return g_date_valid_dmy (day->c, day->b, day->a) && day->a >= 1900 && day->a <= 2199;
    case BED_DAY_FIGURES:
      return bed_day_fits (day, BED_DATES_DMY) || bed_day_fits (day, BED_DATES_MDY);
    case BED_DAY_WORDS:
      return g_date_valid_dmy (day->a, day->b, day->c < 0 ? 2000 : day->c)
             && (day->c < 0 || (day->c >= 1900 && day->c <= 2199));
    case BED_DAY_MONTH:
      return day->b >= 1 && day->b <= 12 && day->c != 0;
    case BED_DAY_NUMBER: /* 1990 to 2099 */
      return day->a >= 32874 && day->a <= 73050;
    case BED_DAY_WEEK:
    case BED_DAY_YEAR:
      return TRUE;
    case BED_DAY_NONE:
      break;
    }
  return FALSE;
}

gboolean
bed_day_scan (const char *text, BedDay *day)
{
  Tokens tokens;

  *day = (BedDay){ BED_DAY_NONE, 0, 0, 0, -1, -1 };
  if (strlen (text) > 60 || !g_utf8_validate (text, -1, NULL))
    return FALSE;
  g_autofree char *plain = plain_day (text);
  if (!plain)
    return FALSE;
  g_strstrip (plain);
  take_time (plain, day);
  split (&tokens, plain);
  /* A number with a sign or a fraction is none of days. */
  if (tokens.strange || tokens.n == 0 || *plain == '-')
    return FALSE;
  for (guint i = 0; i < tokens.n; i++)
    if (tokens.week[i])
      return with_week (&tokens, day) && is_possible (day);
  for (guint i = 0; i < tokens.n; i++)
    if (tokens.month[i])
      return with_month (&tokens, i, day) && is_possible (day);
  return with_figures (&tokens, day) && is_possible (day);
}

gboolean
bed_day_fits (const BedDay *day, BedDates order)
{
  int year = day->c < 0 ? 2000 : day->c;
  int of_day = order == BED_DATES_DMY ? day->a : day->b;
  int month = order == BED_DATES_DMY ? day->b : day->a;

  return year >= 1900 && year <= 2199 && month >= 1 && month <= 12 && of_day >= 1
         && g_date_valid_dmy (of_day, month, year);
}

/* Sunday of the week of @year, ISO 8601: week 1 has 4 January in it. */
static void
set_week (GDate *date, int week, int year)
{
  g_date_set_dmy (date, 4, 1, year);
  g_date_add_days (date, 7 - g_date_get_weekday (date));
  g_date_add_days (date, 7 * (week - 1));
}

/* strftime would ask the locale for every cell. */
static void
write_date (const GDate *date, char text[16])
{
  g_snprintf (text, 16, "%04u-%02u-%02u", (guint) g_date_get_year (date) % 10000,
              (guint) g_date_get_month (date), (guint) g_date_get_day (date));
}

gboolean
bed_day_write_first (const BedDay *day, int year, char text[16])
{
  int of_year = day->c < 0 ? year : day->c;
  GDate date;

  g_date_clear (&date, 1);
  if (of_year <= 0 || (day->form != BED_DAY_MONTH && day->form != BED_DAY_WEEK))
    return FALSE;
  if (day->form == BED_DAY_MONTH)
    g_date_set_dmy (&date, 1, day->b, of_year);
  else
    {
      set_week (&date, day->a, of_year);
      g_date_subtract_days (&date, 6);
    }
  write_date (&date, text);
  return TRUE;
}

gboolean
bed_day_write (const BedDay *day, BedDates order, int year, char text[16])
{
  int of_year = day->form == BED_DAY_YMD ? day->a : day->c < 0 ? year : day->c;
  int of_day = day->form == BED_DAY_YMD ? day->c : day->a, month = day->b;
  GDate date;

  g_date_clear (&date, 1);
  if (day->form == BED_DAY_NONE || day->form == BED_DAY_YEAR
      || (of_year <= 0 && day->form != BED_DAY_NUMBER))
    return FALSE;
  if (day->form == BED_DAY_FIGURES && order == BED_DATES_MDY)
    of_day = day->b, month = day->a;
  if (day->form == BED_DAY_MONTH)
    of_day = g_date_get_days_in_month (month, of_year);
  if (day->form == BED_DAY_WEEK)
    set_week (&date, day->a, of_year);
  else if (day->form == BED_DAY_NUMBER)
    {
      /* Day 1 of the epoch of 1900 is 1 January, with a 29 February that never was. */
      g_date_set_dmy (&date, 30, 12, 1899);
      g_date_add_days (&date, day->a + (order == BED_DATES_DAYS_1904 ? 1462 : 0));
    }
  else if (!g_date_valid_dmy (of_day, month, of_year))
    return FALSE;
  else
    g_date_set_dmy (&date, of_day, month, of_year);
  write_date (&date, text);
  return TRUE;
}
