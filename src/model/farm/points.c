#include "model/farm/points.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "model/farm/farm.h"
#include "science/units.h"

#define UM_PER_M 1e6

/* Spaces and commas part numbers here, not figures. */
static BedNotation
make_unmarked (const BedNotation *notation)
{
  return (BedNotation){ notation->system, notation->decimal_mark };
}

static gboolean
parts_corners (const BedNotation *notation, const char *at)
{
  return *at == ';'
         || (*at == ','
             && (notation->decimal_mark != ',' || at[1] == '\0' || g_ascii_isspace (at[1])));
}

/* Each corner's text. */
static GPtrArray *
split_corners (const BedNotation *notation, const char *text)
{
  GPtrArray *corners = g_ptr_array_new_with_free_func (g_free);
  const char *from = text, *at = text;

  for (;; at++)
    if (*at == '\0' || parts_corners (notation, at))
      {
        g_ptr_array_add (corners, g_strstrip (g_strndup (from, (gsize) (at - from))));
        if (*at == '\0')
          return corners;
        from = at + 1;
      }
}

/* Metres, exactly to the micrometre, without trailing zeros. */
static void
append_metres (GString *text, gint64 um)
{
  char number[G_ASCII_DTOSTR_BUF_SIZE];

  g_string_append (text, g_ascii_formatd (number, sizeof number, "%.6f", (double) um / UM_PER_M));
  while (text->str[text->len - 1] == '0')
    g_string_truncate (text, text->len - 1);
  if (text->str[text->len - 1] == '.')
    g_string_truncate (text, text->len - 1);
}

/* "3 2" */
static gboolean
add_corner (const BedNotation *notation, const char *text, GString *stored)
{
  g_auto (GStrv) words = g_strsplit_set (text, " \t", -1);
  gint64 um[2];
  guint n = 0;

  for (char **word = words; *word; word++)
    if (**word
        && (n >= 2
            || !bed_measure_parse (BED_MEASURE_LENGTH_LONG, notation, *word, &um[n++], NULL)))
      return FALSE;
  if (n != 2)
    return FALSE;
  g_string_append (stored, stored->len ? ", " : "");
  append_metres (stored, um[0]);
  g_string_append_c (stored, ' ');
  append_metres (stored, um[1]);
  return TRUE;
}

char *
bed_points_from_said (const BedNotation *notation, const char *said, GError **error)
{
  const BedNotation unmarked = make_unmarked (notation);
  g_autoptr (GPtrArray) corners = split_corners (notation, said);
  g_autoptr (GString) stored = g_string_new (NULL);

  for (guint i = 0; i < corners->len; i++)
    {
      const char *text = corners->pdata[i];
      if (add_corner (&unmarked, text, stored))
        continue;
      g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID,
                   /* Translators: which corner, what was typed, the unit, an example */
                   _ ("Corner %u, “%s”, is not two numbers. Write x and y in %s, corners parted by "
                      "%s"),
                   i + 1, text, bed_measure_unit (BED_MEASURE_LENGTH_LONG, notation->system),
                   notation->decimal_mark == ',' ? _ ("semicolons: 3 2; 5 2,5")
                                                 : _ ("commas: 3 2, 5 2.5"));
      return NULL;
    }
  return g_string_free (g_steal_pointer (&stored), FALSE);
}

/* One stored pair; FALSE when it is none. */
static gboolean
say_corner (const BedNotation *notation, const char *text, GString *said)
{
  char *end = NULL;

  for (guint i = 0; i < 2; i++)
    {
      double metres = g_ascii_strtod (text, &end);
      if (end == text || !isfinite (metres) || fabs (metres) > 1e6)
        return FALSE;
      text = end;
      g_autofree char *number = bed_measure_format_said (BED_MEASURE_LENGTH_LONG, notation,
                                                         (gint64) round (fabs (metres) * UM_PER_M));
      g_string_append_printf (said, "%s%s%s", i ? " " : "", metres < 0 ? "-" : "", number);
    }
  while (g_ascii_isspace (*text))
    text++;
  return *text == '\0';
}

char *
bed_points_to_said (const BedNotation *notation, const char *stored)
{
  const BedNotation unmarked = make_unmarked (notation);
  g_auto (GStrv) corners = g_strsplit (stored, ",", -1);
  g_autoptr (GString) said = g_string_new (NULL);

  for (char **corner = corners; *corner; corner++)
    {
      g_string_append (said, said->len == 0 ? "" : notation->decimal_mark == ',' ? "; " : ", ");
      if (!say_corner (&unmarked, *corner, said))
        return g_strdup (stored);
    }
  return g_string_free (g_steal_pointer (&said), FALSE);
}
