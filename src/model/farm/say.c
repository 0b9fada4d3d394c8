#include "model/farm/say.h"

#include <string.h>

#include "model/farm/habits.h"
#include "science/units.h"

/* Put round each number while it is printed, so that printf finds its arguments in whatever order
 * a translation has them. */
#define BEGIN '\001'
#define END '\002'
/* In a number as the C library writes it, "nan" and "inf" with it; the Arabic decimal mark. */
#define MAY_STAND "0123456789 +-.,naif\u066b"

/* The number's conversion at @at, from behind its %, and its length. */
static gboolean
is_number (const char *at, gsize *length)
{
  gsize position = strspn (at, "0123456789");
  const char *flags = at[position] == '$' ? at + position + 1 : at;

  *length = strspn (at, "0123456789$+- #.*hlqjzt") + 1;
  return *flags != '0' && at[*length - 1] && strchr ("diufg", at[*length - 1]);
}

static char *
fence_numbers (const char *format)
{
  GString *fenced = g_string_new (NULL);

  for (const char *at = format; *at;)
    {
      gsize length = strcspn (at, "%");

      g_string_append_len (fenced, at, (gssize) length);
      at += length;
      if (!*at)
        break;
      gboolean number = is_number (at + 1, &length);
      length = at[1] ? length + 1 : 1;
      if (number)
        g_string_append_c (fenced, BEGIN);
      g_string_append_len (fenced, at, (gssize) length);
      if (number)
        g_string_append_c (fenced, END);
      at += length;
    }
  return g_string_free (fenced, FALSE);
}

/* @number with the decimal mark of the C library's locale, padded or not. */
static void
append_number (GString *said, const BedNotation *notation, const char *number, gsize length)
{
  gsize blank = strspn (number, " "), sign = strspn (number + blank, "+");
  const char *from = number + blank + sign, *end = number + length;
  gsize whole = strspn (from, "-0123456789");
  const char *decimals = from + whole + strcspn (from + whole, "0123456789");
  g_autofree char *plain = decimals < end ? g_strdup_printf ("%.*s.%.*s", (int) whole, from,
                                                             (int) (end - decimals), decimals)
                                          : g_strndup (from, (gsize) (end - from));
  g_autofree char *marked = bed_number_say (notation, plain);

  g_string_append_len (said, number, (gssize) (blank + sign));
  g_string_append (said, marked);
}

char *
bed_say (const char *format, ...)
{
  g_autofree char *fenced = fence_numbers (format);
  GString *said = g_string_new (NULL);
  BedNotation notation = { 0 };
  va_list args;

  bed_habits_mark (&notation);
  va_start (args, format);
  g_autofree char *text = g_strdup_vprintf (fenced, args);
  va_end (args);
  for (const char *at = text; *at;)
    {
      gsize length = strcspn (at, (char[]){ BEGIN, '\0' });
      g_string_append_len (said, at, (gssize) length);
      at += length;
      if (!*at)
        break;
      length = strspn (++at, MAY_STAND);
      if (at[length] == END)
        {
          append_number (said, &notation, at, length);
          at += length + 1;
        }
      else /* of a text that was handed in */
        g_string_append_c (said, BEGIN);
    }
  return g_string_free (said, FALSE);
}
