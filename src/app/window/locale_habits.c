#include "app/window/locale_habits.h"

#include <glib.h>
#include <langinfo.h>
#include <locale.h>
#include <string.h>

static gboolean
is_nowhere (int category)
{
  const char *locale = setlocale (category, NULL);

  return !locale || !strcmp (locale, "POSIX") || !strcmp (locale, "C")
         || g_str_has_prefix (locale, "C.");
}

const char *
bed_locale_get_units (void)
{
#ifdef __GLIBC__ /* which has it as a constant of an enum */
  /* One byte, and no text: ISO 30112's 1 is metric, 2 US. */
  return is_nowhere (LC_MEASUREMENT)                                ? NULL
         : nl_langinfo (_NL_MEASUREMENT_MEASUREMENT)[0] == (char) 2 ? "US"
                                                                    : "metric";
#else
  const char *locale = setlocale (LC_MESSAGES, NULL);

  if (is_nowhere (LC_MESSAGES))
    return NULL;
  return strstr (locale, "_US") || strstr (locale, "_LR") ? "US" : "metric";
#endif
}

char *
bed_locale_dup_currency (void)
{
  const char *symbol = localeconv ()->int_curr_symbol;

  if (is_nowhere (LC_MONETARY) || strlen (symbol) < 3)
    return NULL;
  return g_strndup (symbol, 3);
}
