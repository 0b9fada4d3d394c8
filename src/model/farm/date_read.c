/* Dates as people type them, in the words and the order of the locale, or in English ones. */
#include "model/farm/value.h"

#include <glib/gi18n-lib.h>
#include <langinfo.h>
#include <stdlib.h>
#include <string.h>

#include "science/calendar.h"

#define MOST_NUMBERS 3

/* What is left of a text when the names in it are taken out. */
typedef struct
{
  int month; /* named; 0: none was */
  int number[MOST_NUMBERS], figures[MOST_NUMBERS];
  guint n;
  gboolean points; /* between figures */
  gboolean signs;  /* of months: 7月14日, so the month comes first */
} Parts;

typedef struct
{
  char *name; /* folded */
  int month;  /* 1 to 12; or */
  int day;    /* of the week, 1 to 7, Monday first */
} Name;

static void
clear_name (gpointer data)
{
  g_free (((Name *) data)->name);
}

/* One spelling of what looks the same: full-width figures, capitals, blanks of any width. */
static char *
dup_folded (const char *text)
{
  g_autofree char *whole = g_utf8_normalize (text, -1, G_NORMALIZE_ALL_COMPOSE);
  g_autofree char *folded = g_utf8_casefold (whole ? whole : "", -1);
  GString *plain = g_string_new (NULL);

  for (const char *at = folded; *at; at = g_utf8_next_char (at))
    {
      gunichar c = g_utf8_get_char (at);

      if (g_unichar_type (c) == G_UNICODE_FORMAT)
        continue; /* marks of direction */
      if (g_unichar_isspace (c))
        c = ' ';
      else if (g_unichar_isdigit (c))
        c = '0' + g_unichar_digit_value (c);
      if (c != ' ' || (plain->len && plain->str[plain->len - 1] != ' '))
        g_string_append_unichar (plain, c);
    }
  g_strchomp (plain->str);
  return g_string_free (plain, FALSE);
}

static void
add_name (GArray *names, const char *name, int month, int day)
{
  Name each = { dup_folded (name), month, day };
  gsize length = strlen (each.name);

  if (length && each.name[length - 1] == '.')
    each.name[length - 1] = '\0';
  /* Months that are figures are read as figures. */
  if (strspn (each.name, "0123456789 ") < strlen (each.name))
    g_array_append_val (names, each);
  else
    clear_name (&each);
}

static int
longer_first (gconstpointer a, gconstpointer b)
{
  gsize first = strlen (((const Name *) a)->name), second = strlen (((const Name *) b)->name);
  return first > second ? -1 : first < second;
}

static const char *const english_months[] = { "january",   "february", "march",    "april",
                                              "may",       "june",     "july",     "august",
                                              "september", "october",  "november", "december" };
static const char *const english_days[]
    = { "monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday" };

/* Of the locale and English, the longest first: "tháng 1" is in "tháng 12". */
static GArray *
list_names (void)
{
  static const char *const months[] = { "%B", "%OB", "%b", "%Ob" }, *const days[] = { "%A", "%a" };
  GArray *names = g_array_new (FALSE, FALSE, sizeof (Name));
  char name[128];
  GDate date;

  g_array_set_clear_func (names, clear_name);
  g_date_clear (&date, 1);
  for (int i = 0; i < 12; i++)
    {
      g_date_set_dmy (&date, 1, i + 1, 2001);
      for (guint how = 0; how < G_N_ELEMENTS (months); how++)
        if (g_date_strftime (name, sizeof name, months[how], &date))
          add_name (names, name, i + 1, 0);
      add_name (names, english_months[i], i + 1, 0);
    }
  for (int i = 0; i < 7; i++)
    {
      /* A Monday. */
      g_date_set_dmy (&date, 1 + i, 1, 2001);
      for (guint how = 0; how < G_N_ELEMENTS (days); how++)
        if (g_date_strftime (name, sizeof name, days[how], &date))
          add_name (names, name, 0, i + 1);
      add_name (names, english_days[i], 0, i + 1);
    }
  g_array_sort (names, longer_first);
  return names;
}

static gboolean
is_of_word (gunichar c)
{
  return g_unichar_isalnum (c) || g_unichar_ismark (c);
}

/* Is @at the end of a word, going forward from it or backward? */
static gboolean
is_edge (const char *text, const char *at)
{
  const char *before = at > text ? g_utf8_prev_char (at) : NULL;

  if (!before || !*at)
    return TRUE;
  gunichar a = g_utf8_get_char (before), b = g_utf8_get_char (at);
  gboolean figures = g_unichar_isdigit (a) != g_unichar_isdigit (b);
  return figures || !is_of_word (a) || !is_of_word (b);
}

static void
blank (char *from, gsize length)
{
  memset (from, ' ', length);
}

static gboolean
take_name (char *text, const Name *wanted)
{
  const char *name = wanted->name;
  gsize length = strlen (name);

  for (char *at = strstr (text, name); at; at = strstr (g_utf8_next_char (at), name))
    {
      gboolean from_figure = at > text && g_ascii_isdigit (at[-1]);
      gboolean to_figure = g_ascii_isdigit (at[length]);

      /* "1月" is no month of "11月", "t3" no day of "t31", and "月" no Monday of "13月". */
      if (is_edge (text, at) && is_edge (text, at + length)
          && !(from_figure && (wanted->day || g_ascii_isdigit (*name)))
          && !(to_figure && (wanted->day || g_ascii_isdigit (name[length - 1]))))
        {
          blank (at, length);
          return TRUE;
        }
    }
  return FALSE;
}

/* Three letters of a month are enough where no other begins with them. */
static int
take_beginning (char *text, const GArray *names)
{
  for (char *at = text; *at;)
    {
      char *end = at;
      int month = 0;
      guint months = 0;

      while (*end && g_unichar_isalpha (g_utf8_get_char (end)))
        end = g_utf8_next_char (end);
      for (guint i = 0; i < names->len && g_utf8_strlen (at, end - at) >= 3; i++)
        {
          const Name *name = &g_array_index (names, Name, i);
          if (name->month && name->month != month && strncmp (name->name, at, end - at) == 0)
            {
              month = name->month;
              months++;
            }
        }
      if (months == 1)
        {
          blank (at, end - at);
          return month;
        }
      at = *end ? g_utf8_next_char (end) : end;
    }
  return 0;
}

typedef enum
{
  OF_MONTH,
  OF_DAY
} What;

/* The first month, or day of the week, of @names that stands in @text; NULL: none does. */
static const Name *
take_one (char *text, const GArray *names, What what)
{
  for (guint i = 0; i < names->len; i++)
    {
      const Name *name = &g_array_index (names, Name, i);

      if ((what == OF_MONTH ? name->month : name->day) && take_name (text, name))
        return name;
    }
  return NULL;
}

/* What stands in dates beside names and figures, in some language. */
static gboolean
is_filling (const char *word)
{
  static const char *const words[] = { "st",  "nd", "rd",  "th",   "er",  "re", "de", "d",  "del",
                                       "do",  "da", "di",  "of",   "the", "le", "el", "a",  "den",
                                       "der", "am", "г",   "р",    "m",   "년", "월", "일", "年",
                                       "月",  "日", "năm", "ngày", "พ",   "ค",  "ศ",  NULL };

  return g_strv_contains (words, word);
}

/* FALSE for what no date holds. */
static gboolean
read_parts (const char *text, Parts *parts)
{
  for (const char *at = text; *at;)
    {
      const char *start = at;

      while (g_ascii_isdigit (*at))
        at++;
      if (at > start)
        {
          if (parts->n == MOST_NUMBERS || at - start > 8)
            return FALSE;
          parts->number[parts->n] = atoi (start);
          parts->figures[parts->n++] = at - start;
          continue;
        }
      while (*at && g_unichar_isalpha (g_utf8_get_char (at)))
        at = g_utf8_next_char (at);
      g_autofree char *word = g_strndup (start, at - start);
      if (at > start && !is_filling (word))
        return FALSE;
      parts->signs = parts->signs || g_str_equal (word, "月") || g_str_equal (word, "월");
      if (at > start)
        continue;
      gunichar c = g_utf8_get_char (at);
      if (!g_unichar_ispunct (c) && c != ' ' && c != 0xba && c != 0xb0)
        return FALSE;
      parts->points = parts->points || (c == '.' && parts->n == 1 && !parts->month);
      at = g_utf8_next_char (at);
    }
  return parts->n > 0;
}

/* The order of day, month and year in the locale's short date. */
static gboolean
month_first (void)
{
  const char *format = nl_langinfo (D_FMT);
  const char *day = strpbrk (format, "de"), *month = strpbrk (format, "mDbB");

  return month && (!day || month < day);
}

static gboolean
year_first (void)
{
  const char *format = nl_langinfo (D_FMT);
  const char *year = strpbrk (format, "yYC"), *month = strpbrk (format, "mDFbB");

  return strchr (format, 'F') || (year && month && year < month);
}

/* Two figures mean this century. Where years are counted from the Buddha's death, the 25th and
 * 26th centuries are this one and the next (543 years on; a rule of the calendar, from memory). */
static int
whole_year (const Parts *parts, guint i)
{
  int year = parts->number[i];

  if (parts->figures[i] <= 2)
    return 2000 + year;
  return strstr (nl_langinfo (D_FMT), "Ey") && year > 2442 ? year - 543 : year;
}

/* A year stands where no day could. */
static gboolean
is_year (const Parts *parts, guint i)
{
  return i < parts->n && parts->figures[i] >= 3;
}

static gboolean
with_month (const Parts *parts, int this_year, GDate *date)
{
  guint day = is_year (parts, 0) || (parts->n == 2 && year_first () && !is_year (parts, 1));
  int year = parts->n == 2 ? whole_year (parts, !day) : this_year;

  if (parts->n > 2 || day >= parts->n || parts->figures[day] > 2
      || !g_date_valid_dmy (parts->number[day], parts->month, year))
    return FALSE;
  g_date_set_dmy (date, parts->number[day], parts->month, year);
  return TRUE;
}

/* A point is written between figures only where the day comes first, or all is the other way
 * round. Where one order gives no day, it is the other. */
static gboolean
with_figures (const Parts *parts, int this_year, GDate *date)
{
  gboolean first = is_year (parts, 0) || (parts->n == 3 && year_first () && !is_year (parts, 2));
  guint a = first ? 1 : 0, b = a + 1;
  int year = parts->n == 3 ? whole_year (parts, first ? 0 : 2) : this_year;
  gboolean mdy = first || parts->signs || (month_first () && (!parts->points || year_first ()));

  if (parts->n < 2 || (parts->n == 2 && first) || parts->figures[a] > 2 || parts->figures[b] > 2)
    return FALSE;
  int month = parts->number[mdy ? a : b], day = parts->number[mdy ? b : a];
  if (!first && !parts->signs && month > 12 && day <= 12)
    {
      int swap = day;
      day = month;
      month = swap;
    }
  if (!g_date_valid_dmy (day, month, year))
    return FALSE;
  g_date_set_dmy (date, day, month, year);
  return TRUE;
}

/* A day farther off is a slip of the keyboard. */
static gboolean
is_in_reach (const GDate *date)
{
  return g_date_get_year (date) >= 1900 && g_date_get_year (date) <= 2199;
}

static gboolean
read_numbers (const char *text, int month, int this_year, GDate *date)
{
  Parts parts = { .month = month };

  if (!read_parts (text, &parts))
    return FALSE;
  return (month ? with_month (&parts, this_year, date) : with_figures (&parts, this_year, date))
         && is_in_reach (date);
}

/* Looks for @what first. @fits: the day of the week is the one that is named, if one is. */
static gboolean
read_names (const char *text, const GArray *names, What what, int this_year, GDate *date,
            gboolean *fits)
{
  g_autofree char *rest = g_strdup (text);
  const Name *first = take_one (rest, names, what);
  const Name *second = take_one (rest, names, what == OF_MONTH ? OF_DAY : OF_MONTH);
  const Name *month = what == OF_MONTH ? first : second, *day = what == OF_MONTH ? second : first;

  if (!read_numbers (rest, month ? month->month : take_beginning (rest, names), this_year, date))
    return FALSE;
  *fits = !day || (int) g_date_get_weekday (date) == day->day;
  return TRUE;
}

/* "mar" is a month and a Tuesday: what gives a day is meant, rather one that is of that name. */
static gboolean
read_words (const char *text, int this_year, GDate *date)
{
  g_autoptr (GArray) names = list_names ();
  gboolean fits, other_fits;
  GDate other;

  g_date_clear (&other, 1);
  if (!read_names (text, names, OF_MONTH, this_year, date, &fits))
    return read_names (text, names, OF_DAY, this_year, date, &fits);
  if (!fits && read_names (text, names, OF_DAY, this_year, &other, &other_fits) && other_fits)
    *date = other;
  return TRUE;
}

static gboolean
read_day (const char *text, int this_year, GDate *date)
{
  g_autofree char *plain = dup_folded (text);
  gboolean figures = strspn (plain, "0123456789-./ ") == strlen (plain);

  g_date_clear (date, 1);
  if (*plain == '-')
    return FALSE;
  return figures ? read_numbers (plain, 0, this_year, date) : read_words (plain, this_year, date);
}

static gboolean
is_word (const char *text, const char *english, const char *word)
{
  g_autofree char *typed = dup_folded (text), *meant = dup_folded (word);
  return strcmp (typed, english) == 0 || strcmp (typed, meant) == 0;
}

/* Public */

char *
bed_date_parse (const char *text, const char *today, GError **error)
{
  g_return_val_if_fail (text != NULL && today != NULL, NULL);
  GDate date;

  if (!g_utf8_validate (text, -1, NULL))
    {
      g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID,
                   _ ("The text is not UTF-8. Write the date as %s."), today);
      return NULL;
    }
  g_date_clear (&date, 1);
  /* As it is kept, and as files have it by the hundred thousand. */
  const char *rest = bed_calendar_read_day (text, &date);
  if (rest && !*rest && is_in_reach (&date))
    return g_strdup (text);
  if (is_word (text, "today", _ ("today")))
    return g_strdup (today);
  if (is_word (text, "yesterday", _ ("yesterday")))
    return bed_date_add (today, -1);
  if (read_day (text, atoi (today), &date))
    return g_strdup_printf ("%04d-%02d-%02d", g_date_get_year (&date), g_date_get_month (&date),
                            g_date_get_day (&date));
  g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID,
               _ ("“%s” is not a date. Write it as %s."), text, today);
  return NULL;
}
