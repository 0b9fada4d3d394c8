#include "model/farm/habits.h"

#include <langinfo.h>
#include <locale.h>
#include <string.h>

#define LETTER_MM 279 /* the height; A4 has 297 */

static gboolean
is_of_no_country (int category)
{
  const char *name = setlocale (category, NULL);

  return !name || g_str_equal (name, "POSIX") || g_str_equal (name, "C")
         || g_str_has_prefix (name, "C.");
}

/* Greek and Slovene have a mark and do not say where it stands: by threes, as everywhere. Some of
 * an American language ask for pairs, which is a slip: nobody groups so. */
static BedGroups
get_groups (const char *grouping)
{
  if (grouping[0] == 4)
    return BED_GROUPS_OF_FOUR;
  return grouping[0] == 3 && grouping[1] == 2 ? BED_GROUPS_INDIAN : BED_GROUPS_OF_THREE;
}

/* Arabic marks stand among figures of Europe as Persian has them, a point and a comma. */
static char
get_thousands (const char *text, char decimal)
{
  char mark = ' '; /* of whatever width */

  if (!*text)
    return 0;
  if (strchr (".,'", *text))
    mark = *text;
  else if (g_str_equal (text, "\u2019"))
    mark = '\'';
  else if (g_str_equal (text, "\u066c"))
    mark = ',';
  return mark == decimal ? 0 : mark;
}

/* By the name of a day, since there is no asking for the way a language runs. */
static BedRuns
get_runs (void)
{
  const char *day = nl_langinfo (DAY_1);

  if (!g_utf8_validate (day, -1, NULL))
    return BED_RUNS_RIGHT;
  GUnicodeScript script = g_unichar_get_script (g_utf8_get_char (day));
  static const GUnicodeScript left[] = { G_UNICODE_SCRIPT_ARABIC, G_UNICODE_SCRIPT_HEBREW,
                                         G_UNICODE_SCRIPT_SYRIAC, G_UNICODE_SCRIPT_THAANA,
                                         G_UNICODE_SCRIPT_NKO,    G_UNICODE_SCRIPT_ADLAM };
  for (gsize i = 0; i < G_N_ELEMENTS (left); i++)
    if (script == left[i])
      return BED_RUNS_LEFT;
  return BED_RUNS_RIGHT;
}

void
bed_habits_mark (BedNotation *notation)
{
  /* localeconv() has one answer for all threads, and one of them may be in another locale. */
  notation->decimal_mark = *nl_langinfo (RADIXCHAR) == ',' ? ',' : '.';
  notation->thousands_mark = get_thousands (nl_langinfo (THOUSEP), notation->decimal_mark);
  notation->groups = get_groups (nl_langinfo (GROUPING));
  notation->runs = get_runs ();
}

gboolean
bed_habits_has_letter (BedSystem system)
{
  if (is_of_no_country (LC_PAPER))
    return system == BED_SYSTEM_US;
  /* glibc hands over the number itself in place of a text: the lower half, the upper is chance. */
  return (guint32) (guintptr) nl_langinfo (_NL_PAPER_HEIGHT) == LETTER_MM;
}

const char *
bed_habits_get_units (void)
{
  if (is_of_no_country (LC_MEASUREMENT))
    return NULL;
  /* One byte, and no text: ISO 30112's 1 is metric, 2 US. */
  return nl_langinfo (_NL_MEASUREMENT_MEASUREMENT)[0] == (char) 2 ? "US" : "metric";
}

char *
bed_habits_dup_currency (void)
{
  const char *symbol = localeconv ()->int_curr_symbol;

  if (is_of_no_country (LC_MONETARY) || strlen (symbol) < 3)
    return NULL;
  return g_strndup (symbol, 3);
}

int
bed_habits_first_weekday (void)
{
  if (is_of_no_country (LC_TIME))
    return 1;
  /* glibc counts from the day of the week of WEEK_1STDAY, which is a Sunday in all it carries. */
  int day = (guchar) *nl_langinfo (_NL_TIME_FIRST_WEEKDAY);
  return day <= 1 ? 7 : day - 1;
}
