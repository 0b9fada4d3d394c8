#include <stdlib.h>
#include <string.h>

#include "model/notebook/notebook_private.h"

/* Numbers in other people's sheets, made such as the forms read. */

/* Spaces that part thousands, and the marks that do. */
static char *
join_spaces (const char *text)
{
  if (g_str_is_ascii (text))
    return g_strstrip (g_strdelimit (g_strdup (text), "\t\r\n", ' '));
  g_autofree char *plain = g_utf8_normalize (text, -1, G_NORMALIZE_ALL_COMPOSE);
  GString *joined = g_string_new (NULL);

  for (const char *at = plain ? plain : ""; *at; at = g_utf8_next_char (at))
    {
      gunichar c = g_utf8_get_char (at);
      if (c == 0x2212 || c == 0x2013 || c == 0x2014)
        c = '-';
      g_string_append_unichar (joined, g_unichar_isspace (c) ? ' ' : c);
    }
  return g_strstrip (g_string_free (joined, FALSE));
}

/* How many figures stand right of @at. */
static guint
count_figures (const char *at)
{
  guint n = 0;

  while (g_ascii_isdigit (at[n]))
    n++;
  return n;
}

BedDecimalMark
bed_number_find_mark (const char *text)
{
  const char *point = strrchr (text, '.'), *comma = strrchr (text, ',');
  const char *last = point > comma ? point : comma;

  if (!last || last == text || !g_ascii_isdigit (last[1]))
    return BED_MARK_ANY;
  BedDecimalMark mark = *last == '.' ? BED_MARK_POINT : BED_MARK_COMMA;
  if (point && comma)
    return mark;
  if (memchr (text, *last, last - text))
    return *last == '.' ? BED_MARK_COMMA : BED_MARK_POINT; /* twice: it parts thousands */
  /* "0,250" is no thousand. */
  gboolean three = count_figures (last + 1) == 3 && g_ascii_isdigit (last[-1])
                   && !(last - text == 1 && *text == '0')
                   && !(last - text >= 4 && count_figures (last - 4) >= 4);
  return three ? BED_MARK_EITHER : mark;
}

/* Takes thousands marks out and writes a point. */
static char *
with_point (const char *text, char mark)
{
  GString *plain = g_string_new (NULL);
  char group = mark == ',' ? '.' : ',';

  for (const char *at = text; *at; at++)
    {
      gboolean between = at > text && g_ascii_isdigit (at[-1]) && g_ascii_isdigit (at[1]);
      gboolean three = between && count_figures (at + 1) == 3;
      if (three && (*at == group || *at == ' ' || *at == '\''))
        continue;
      g_string_append_c (plain, *at == mark ? '.' : *at);
    }
  return g_string_free (plain, FALSE);
}

/* $, €, £, ¥, USD, kr.: whatever is no figure, sign or mark. */
static char *
without_currency (const char *text)
{
  GString *plain = g_string_new (NULL);
  gboolean brackets = *text == '(' && g_str_has_suffix (text, ")");
  gsize length = strlen (text);
  gboolean minus = brackets || strchr (text, '-') || (length > 2 && g_str_has_suffix (text, " DR"));

  for (const char *at = text; *at; at++)
    if (g_ascii_isdigit (*at) || strchr (".,'", *at) || (*at == ' ' && plain->len > 0))
      g_string_append_c (plain, *at);
  g_strchomp (plain->str);
  plain->len = strlen (plain->str);
  /* The point of "kr." */
  while (plain->len > 0 && !g_ascii_isdigit (plain->str[plain->len - 1]))
    g_string_truncate (plain, plain->len - 1);
  while (plain->len > 0 && strchr (".,' ", *plain->str) && !g_ascii_isdigit (plain->str[1]))
    g_string_erase (plain, 0, 1);
  if (minus && plain->len > 0)
    g_string_prepend_c (plain, '-');
  return g_string_free (plain, FALSE);
}

/* "~4", "about 4", "4 ca." */
static gboolean
take_about (char *text)
{
  gsize sign = g_str_has_prefix (text, "≈") ? strlen ("≈") : *text == '~' ? 1 : 0;
  gsize word = sign;

  while (!sign && g_unichar_isalpha (g_utf8_get_char (text + word)))
    word = g_utf8_next_char (text + word) - text;
  if (!sign && text[word] == '.')
    word++;
  g_autofree char *begun = g_strndup (text, word);
  if (!sign && (word == 0 || !bed_words_find ("about", "", begun)))
    return FALSE;
  memmove (text, text + word, strlen (text + word) + 1);
  g_strstrip (text);
  return *text != '\0';
}

/* "4-5 kg": "4.5 kg". An inch and a half, "1-1/2", is none. */
static char *
take_range (const char *text)
{
  char *end, *after;
  double from = g_ascii_strtod (text, &end);

  if (end == text || !g_ascii_isdigit (*text))
    return NULL;
  const char *at = end + strspn (end, " ");
  gboolean to_word = g_str_has_prefix (at, "to ") || g_str_has_prefix (at, "bis ");
  if (*at != '-' && !to_word && !g_str_has_prefix (at, "à "))
    return NULL;
  at = to_word ? strchr (at, ' ') + 1 : *at == '-' ? at + 1 : strchr (at, ' ') + 1;
  at += strspn (at, " ");
  double to = g_ascii_strtod (at, &after);
  if (after == at || !g_ascii_isdigit (*at) || *after == '/' || to <= from || strpbrk (at, "eE"))
    return NULL;
  char middle[G_ASCII_DTOSTR_BUF_SIZE];
  g_ascii_formatd (middle, sizeof middle, "%.10g", (from + to) / 2);
  return g_strconcat (middle, after, NULL);
}

char *
bed_number_dup_plain (const char *text, char mark, BedNumberOf of, BedNumberForm *form)
{
  g_autofree char *joined = join_spaces (text);
  gboolean about = take_about (joined);
  g_autofree char *amount = of == BED_NUMBER_OF_MONEY ? without_currency (joined)
                                                      : g_strdup (joined);
  g_autofree char *plain = with_point (amount, mark);
  char *range = of == BED_NUMBER_OF_THINGS ? take_range (plain) : NULL;

  *form = range ? BED_NUMBER_RANGE : about ? BED_NUMBER_ABOUT : BED_NUMBER_PLAIN;
  return range ? range : g_steal_pointer (&plain);
}
