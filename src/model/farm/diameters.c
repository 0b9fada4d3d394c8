#include "model/farm/diameters.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "model/farm/kinds.h"
#include "model/farm/value.h"

#define COUNT_FIRST "^(\\d{1,4})(?:\\s*x\\s+|x)(?=\\d)"
#define COUNT_AFTER "^\\s*x\\s*(\\d{1,4})(?=$|[\\s,;])"
#define BETWEEN " \t\n,;"
#define WORDS 4   /* of one diameter, "5 1/4 in" and one to spare */
#define MOST 1000 /* logs in one go; more is a slip of the finger */

/* The count at the head of @text, which goes on behind it; -1 when there is none. */
static int
take_count (const char **text, const char *pattern)
{
  g_autoptr (GRegex) regex = g_regex_new (pattern, G_REGEX_CASELESS, 0, NULL);
  g_autoptr (GMatchInfo) match = NULL;
  g_autofree char *figures = NULL;
  int end = 0;

  if (!g_regex_match (regex, *text, 0, &match))
    return -1;
  figures = g_match_info_fetch (match, 1);
  g_match_info_fetch_pos (match, 0, NULL, &end);
  *text += end;
  return atoi (figures);
}

/* Where the word at @text ends: a comma inside it is a decimal one. */
static const char *
find_end (const char *text)
{
  const char *end = text;

  while (*end && !strchr (" \t\n;xX", *end) && !(*end == ',' && strspn (end, BETWEEN) > 1)
         && !(*end == ',' && !end[1]))
    end++;
  return end;
}

/* As many words as make one diameter. FALSE: not even the first does, and @error is about it. */
static gboolean
take_diameter (BedFarm *farm, const char **text, BedRecord *log, GError **error)
{
  const char *ends[WORDS] = { find_end (*text) };
  int n = 1;

  while (n < WORDS && (*ends[n - 1] == ' ' || *ends[n - 1] == '\t'))
    {
      ends[n] = find_end (ends[n - 1] + 1);
      n++;
    }
  while (n > 0)
    {
      g_autofree char *words = g_strndup (*text, (gsize) (ends[--n] - *text));

      if (bed_value_parse (farm, log, "small_diameter", words, n ? NULL : error)
          && bed_record_has (log, "small_diameter"))
        {
          *text = ends[n];
          return TRUE;
        }
    }
  if (error && !*error)
    g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID,
                 _ ("“%s” is no diameter. Ten of 12 are 10 x 12."), *text);
  return FALSE;
}

static gboolean
add (BedFarm *farm, GArray *diameters, BedRecord *log, int count, GError **error)
{
  const BedField *field = bed_kind_find_field (BED_KIND_LOG, "small_diameter", NULL);
  gint64 diameter = bed_record_get_int (log, "small_diameter");

  if (!bed_value_check_limits (farm, field, diameter, error))
    return FALSE;
  if (count < 1 || diameters->len + (guint) count > MOST)
    {
      g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID,
                   _ ("%d logs in one go: 1 to %d can be typed."), count, MOST);
      return FALSE;
    }
  for (int i = 0; i < count; i++)
    g_array_append_val (diameters, diameter);
  return TRUE;
}

static gboolean
read_all (BedFarm *farm, const char *text, GArray *diameters, GError **error)
{
  g_autoptr (BedRecord) log = bed_record_new (BED_KIND_LOG);

  for (text += strspn (text, BETWEEN); *text; text += strspn (text, BETWEEN))
    {
      int count = take_count (&text, COUNT_FIRST);

      if (!take_diameter (farm, &text, log, error))
        return FALSE;
      if (count < 0)
        count = take_count (&text, COUNT_AFTER);
      if (!add (farm, diameters, log, count < 0 ? 1 : count, error))
        return FALSE;
    }
  return TRUE;
}

GArray *
bed_diameters_parse (BedFarm *farm, const char *text, GError **error)
{
  g_autoptr (GArray) diameters = g_array_new (FALSE, FALSE, sizeof (gint64));
  g_autoptr (GString) plain = g_string_new (text);

  g_return_val_if_fail (BED_IS_FARM (farm) && text != NULL, NULL);
  g_string_replace (plain, "×", "x", 0);
  g_string_replace (plain, "*", "x", 0);
  return read_all (farm, plain->str, diameters, error) ? g_steal_pointer (&diameters) : NULL;
}
