#include "science/units.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "science/units_table.h"

/* More figures than any measure needs, few enough that ratios stay in range. */
#define MAX_FIGURES 15

typedef struct
{
  BedWide num;
  BedWide den;
} Ratio;

typedef struct
{
  BedMeasure measure;
  const BedNotation *notation;
  const BedUnit *bare; /* the unit of a number without one */
  const char *written; /* all of it, for messages */
  const char *at;
} Reader;

static const char figures[] = "0123456789";

static const char *const examples[BED_N_MEASURES] = {
  [BED_MEASURE_LENGTH_FINE] = "127 mm, 5 1/4 in",
  [BED_MEASURE_LENGTH] = "102 cm, 40 in, 3'4\"",
  [BED_MEASURE_LENGTH_LONG] = "12 m, 40 ft, 3'6\"",
  [BED_MEASURE_MASS_FINE] = "85 g, 3 oz",
  [BED_MEASURE_MASS] = "2 kg, 2 lb 4 oz",
  [BED_MEASURE_VOLUME] = "200 l, 50 gal",
  [BED_MEASURE_AREA] = "12 m2, 130 ft2",
  [BED_MEASURE_LAND] = "2 ha, 5 ac",
  [BED_MEASURE_BASAL_AREA] = "20 m2/ha, 90 ft2/ac",
  [BED_MEASURE_TEMPERATURE] = "20 C, 68 F",
  [BED_MEASURE_TIME] = "1 h 30 min, 1:30, 90 min",
  [BED_MEASURE_PERCENT] = "40, 40 %",
  [BED_MEASURE_MONEY] = "12",
  [BED_MEASURE_COUNT] = "24",
  [BED_MEASURE_ANGLE] = "45, 45 deg",
};

/* Characters a keyboard, a phone or a spreadsheet puts in for plain ones. */
static const struct
{
  gunichar from;
  const char *to;
} plain[] = {
  { 0x2212, "-" },    { 0x2013, "-" },    { 0x2044, "/" },    { 0x2019, "'" },
  { 0x00bd, " 1/2" }, { 0x00bc, " 1/4" }, { 0x00be, " 3/4" }, { 0x215b, " 1/8" },
  { 0x215c, " 3/8" }, { 0x215d, " 5/8" }, { 0x215e, " 7/8" }, { 0x2153, " 1/3" },
  { 0x2154, " 2/3" },
};

/* Marks of the Arabic script, and what the wide letters of East Asia are off plain ones. */
enum
{
  ARABIC_DECIMAL = 0x066b,
  ARABIC_THOUSANDS = 0x066c,
  WIDE_FIRST = 0xff01,
  WIDE_LAST = 0xff5e,
  WIDE_OFF = 0xfee0,
};

/* Errors */

static gboolean
refuse_number (const Reader *in, GError **error)
{
  g_set_error (error, BED_UNITS_ERROR, BED_UNITS_ERROR_NUMBER,
               _ ("“%s” is not a number; write for example %s"), in->written,
               examples[in->measure]);
  return FALSE;
}

static gboolean
refuse_mark (const Reader *in, GError **error)
{
  g_set_error (error, BED_UNITS_ERROR, BED_UNITS_ERROR_NUMBER,
               _ ("“%s” can be read two ways; write thousands without a mark, decimals with “%c”"),
               in->written, in->notation->decimal_mark);
  return FALSE;
}

static gboolean
refuse_bytes (const Reader *in, GError **error)
{
  g_set_error (error, BED_UNITS_ERROR, BED_UNITS_ERROR_NUMBER,
               _ ("the text is not UTF-8; write for example %s"), examples[in->measure]);
  return FALSE;
}

static gboolean
refuse_size (const Reader *in, GError **error)
{
  g_set_error (error, BED_UNITS_ERROR, BED_UNITS_ERROR_RANGE,
               _ ("“%s” is too large or has too many figures to keep"), in->written);
  return FALSE;
}

static gboolean
refuse_unit (const Reader *in, const char *unit, GError **error)
{
  g_autofree char *list = bed_unit_list (in->measure);

  if (*list)
    g_set_error (error, BED_UNITS_ERROR, BED_UNITS_ERROR_UNIT,
                 _ ("“%s” is not a unit for this; use one of %s"), unit, list);
  else
    g_set_error (error, BED_UNITS_ERROR, BED_UNITS_ERROR_UNIT,
                 _ ("“%s” is not understood; write a number alone, for example %s"), unit,
                 examples[in->measure]);
  return FALSE;
}

static gboolean
refuse_part (const Reader *in, GError **error)
{
  if (in->measure == BED_MEASURE_MONEY && in->notation->money_decimals > 0)
    g_set_error (error, BED_UNITS_ERROR, BED_UNITS_ERROR_RANGE,
                 ngettext ("“%s” has more than %d decimal", "“%s” has more than %d decimals",
                           (gulong) in->notation->money_decimals),
                 in->written, in->notation->money_decimals);
  else
    g_set_error (error, BED_UNITS_ERROR, BED_UNITS_ERROR_RANGE,
                 _ ("“%s” is not a whole number; write for example 24"), in->written);
  return FALSE;
}

/* Numbers */

static void
skip_spaces (Reader *in)
{
  while (g_ascii_isspace (*in->at))
    in->at++;
}

/* The run of figures at @at appended to @num; the number of them, or -1 when
 * there are too many. */
static int
read_figures (Reader *in, BedWide *num)
{
  int count = 0;

  for (; g_ascii_isdigit (*in->at); in->at++)
    {
      *num = *num * 10 + (*in->at - '0');
      count += count > 0 || *num != 0;
      if (count > MAX_FIGURES)
        return -1;
    }
  return count;
}

/* Whether `1/4` follows here, so that `5 1/4` is one number and `5 14` is not. */
static gboolean
is_fraction (const char *at)
{
  gsize n = strspn (at, figures);

  return n > 0 && at[n] == '/' && g_ascii_isdigit (at[n + 1]);
}

/* How many characters of figures and marks of thousands stand at @at just as the notation puts
 * them: 12,345,678 or 1,23,45,678; 0: there is no such mark. */
static gsize
count_marked (const BedNotation *notation, const char *at)
{
  const gsize last = bed_groups_last (notation), between = bed_groups_between (notation);
  gsize length = strspn (at, figures), group = between;

  if (!notation->thousands_mark || *at == '0' || length == 0 || length > between)
    return 0;
  gsize whole = length;
  while (group == between && at[whole] == notation->thousands_mark
         && g_ascii_isdigit (at[whole + 1]) && !is_fraction (at + whole + 1))
    {
      group = strspn (at + whole + 1, figures);
      whole += 1 + group;
    }
  return whole > length && group == last ? whole : 0;
}

/* The figures before a decimal mark appended to @num; the number of them, or -1. */
static int
read_whole (Reader *in, BedWide *num)
{
  const char *end = in->at + count_marked (in->notation, in->at);
  int count = read_figures (in, num);

  while (count >= 0 && in->at < end)
    {
      in->at++;
      int more = read_figures (in, num);
      count = more < 0 || count + more > MAX_FIGURES ? -1 : count + more;
    }
  return count;
}

/* `/4` after the numerator @num. */
static gboolean
read_denominator (Reader *in, Ratio *out, GError **error)
{
  BedWide den = 0;

  in->at++;
  if (read_figures (in, &den) < 0)
    return refuse_size (in, error);
  if (den == 0)
    return refuse_number (in, error);
  out->den = den;
  return TRUE;
}

static gboolean
read_decimals (Reader *in, Ratio *out, GError **error)
{
  const char *first = ++in->at;
  BedWide with = out->num;

  if (!g_ascii_isdigit (*first))
    return refuse_number (in, error);
  if (read_figures (in, &with) < 0 || in->at - first > MAX_FIGURES)
    return refuse_size (in, error);
  out->num = with;
  for (gssize i = in->at - first; i > 0; i--)
    out->den *= 10;
  return TRUE;
}

static gboolean
read_mixed (Reader *in, Ratio *out, GError **error)
{
  Ratio part = { 0, 1 };

  in->at++;
  skip_spaces (in);
  if (read_figures (in, &part.num) < 0)
    return refuse_size (in, error);
  if (!read_denominator (in, &part, error))
    return FALSE;
  out->num = out->num * part.den + part.num;
  out->den = part.den;
  return TRUE;
}

static gboolean
read_number (Reader *in, Ratio *out, GError **error)
{
  const char *start = in->at;

  *out = (Ratio){ 0, 1 };
  if (read_whole (in, &out->num) < 0)
    return refuse_size (in, error);
  gboolean some = in->at > start;
  const char *next = in->at + (*in->at == '-') + strspn (in->at, " ");

  if (*in->at == in->notation->decimal_mark)
    {
      if (!read_decimals (in, out, error))
        return FALSE;
    }
  else if (!some && *in->at != ',' && *in->at != '.')
    return refuse_number (in, error);
  else if (*in->at == '/')
    return read_denominator (in, out, error);
  else if (next > in->at && is_fraction (next))
    return read_mixed (in, out, error);
  if ((*in->at == ',' || *in->at == '.') && g_ascii_isdigit (in->at[1]))
    return refuse_mark (in, error);
  return TRUE;
}

/* Sums */

/* @sum += @number * the unit's factor; FALSE when it does not fit. */
static gboolean
add_part (Ratio *sum, const Ratio *number, const BedUnit *unit)
{
  BedWide num, den, left, right;

  return !(__builtin_mul_overflow (number->num, (BedWide) unit->num, &num)
           || __builtin_mul_overflow (number->den, (BedWide) unit->den, &den)
           || __builtin_mul_overflow (sum->num, den, &left)
           || __builtin_mul_overflow (num, sum->den, &right)
           || __builtin_add_overflow (left, right, &sum->num)
           || __builtin_mul_overflow (sum->den, den, &sum->den));
}

static gboolean
is_smaller (const BedUnit *unit, const BedUnit *than)
{
  return (BedWide) unit->num * than->den < (BedWide) than->num * unit->den;
}

static gboolean
read_unit (Reader *in, const BedUnit *before, const BedUnit **unit, GError **error)
{
  gsize length;

  skip_spaces (in);
  *unit = bed_unit_at (in->measure, in->at, &length);
  in->at += length;
  if (*unit == NULL && *in->at == '\0' && before == NULL)
    *unit = in->bare;
  else if (*unit == NULL && *in->at == '\0')
    return refuse_number (in, error);
  else if (*unit == NULL && g_ascii_isdigit (*in->at))
    return refuse_mark (in, error);
  else if (*unit == NULL)
    return refuse_unit (in, in->at, error);
  if (before && (in->measure == BED_MEASURE_TEMPERATURE || !is_smaller (*unit, before)))
    return refuse_number (in, error);
  return TRUE;
}

/* `2 lb 4 oz`: every part but the last is whole, and units go down. */
static gboolean
read_parts (Reader *in, Ratio *sum, const BedUnit **last, GError **error)
{
  const BedUnit *before = NULL;
  Ratio number = { 0, 1 };

  do
    {
      if (before && number.num % number.den != 0)
        return refuse_number (in, error);
      if (!read_number (in, &number, error) || !read_unit (in, before, last, error))
        return FALSE;
      if (!add_part (sum, &number, *last))
        return refuse_size (in, error);
      before = *last;
      skip_spaces (in);
    }
  while (*in->at);
  return TRUE;
}

/* `1:30` as hours and minutes. */
static gboolean
read_clock (Reader *in, Ratio *sum, GError **error)
{
  BedWide hours = 0, minutes = 0;
  const char *start = in->at;

  if (read_figures (in, &hours) < 0)
    return refuse_size (in, error);
  if (in->at == start || *in->at != ':')
    return refuse_number (in, error);
  start = ++in->at;
  if (read_figures (in, &minutes) < 0 || in->at - start != 2 || minutes > 59)
    return refuse_number (in, error);
  skip_spaces (in);
  if (*in->at)
    return refuse_number (in, error);
  *sum = (Ratio){ hours * 60 + minutes, 1 };
  return TRUE;
}

static gboolean
finish (const Reader *in, Ratio sum, const BedUnit *unit, gboolean negative, gint64 *value,
        GError **error)
{
  BedWide top = negative ? -sum.num : sum.num, offset;

  /* sum = x num / den without the offset; the offset has the unit's own den. */
  if (__builtin_mul_overflow ((BedWide) unit->offset, sum.den / unit->den, &offset))
    return refuse_size (in, error);
  top += offset;
  if ((in->measure == BED_MEASURE_COUNT || in->measure == BED_MEASURE_MONEY) && top % sum.den != 0)
    return refuse_part (in, error);
  BedWide whole = bed_wide_round (top, sum.den);
  if (whole > G_MAXINT64 || whole < G_MININT64)
    return refuse_size (in, error);
  *value = (gint64) whole;
  return TRUE;
}

static void
append_plain (GString *out, gunichar c, const BedNotation *notation)
{
  for (gsize i = 0; i < G_N_ELEMENTS (plain); i++)
    if (plain[i].from == c)
      {
        g_string_append (out, plain[i].to);
        return;
      }
  if (g_unichar_isspace (c))
    g_string_append_c (out, ' ');
  else if (g_unichar_isdigit (c))
    g_string_append_c (out, '0' + (char) g_unichar_digit_value (c));
  else if (c == ARABIC_DECIMAL)
    g_string_append_c (out, notation->decimal_mark);
  else if (c == ARABIC_THOUSANDS)
    g_string_append_c (out, notation->thousands_mark ? notation->thousands_mark : ',');
  else if (c >= WIDE_FIRST && c <= WIDE_LAST)
    g_string_append_unichar (out, c - WIDE_OFF);
  else if (g_unichar_type (c) != G_UNICODE_FORMAT) /* marks of direction */
    g_string_append_unichar (out, c);
}

static char *
make_plain (const char *text, const BedNotation *notation)
{
  GString *out = g_string_new (NULL);

  for (const char *at = text; *at; at = g_utf8_next_char (at))
    append_plain (out, g_utf8_get_char (at), notation);
  return g_strstrip (g_string_free (out, FALSE));
}

static gboolean
parse (Reader *in, gint64 *value, GError **error)
{
  g_autofree char *text = make_plain (in->written, in->notation);
  const BedUnit *unit = in->bare;
  Ratio sum = { 0, 1 };

  in->at = text;
  if (*in->at == '\0')
    {
      g_set_error (error, BED_UNITS_ERROR, BED_UNITS_ERROR_EMPTY,
                   _ ("nothing is written; write for example %s"), examples[in->measure]);
      return FALSE;
    }
  gboolean negative = *in->at == '-';
  if (negative || *in->at == '+')
    in->at++;
  skip_spaces (in);
  if (in->measure == BED_MEASURE_TIME && strchr (in->at, ':'))
    {
      if (!read_clock (in, &sum, error))
        return FALSE;
    }
  else if (!read_parts (in, &sum, &unit, error))
    return FALSE;
  return finish (in, sum, unit, negative, value, error);
}

/* Public */

gboolean
bed_measure_parse (BedMeasure measure, const BedNotation *notation, const char *text, gint64 *value,
                   GError **error)
{
  return bed_measure_parse_in (measure, notation, NULL, text, value, error);
}

gboolean
bed_measure_parse_in (BedMeasure measure, const BedNotation *notation, const char *unit,
                      const char *text, gint64 *value, GError **error)
{
  g_return_val_if_fail (measure < BED_N_MEASURES, FALSE);
  g_return_val_if_fail (notation != NULL && notation->system <= BED_SYSTEM_US, FALSE);
  g_return_val_if_fail (text != NULL && value != NULL, FALSE);
  const BedUnit bare = bed_unit_of (measure, notation);
  Reader in = { measure, notation, &bare, text, text };
  gsize length;

  if (!g_utf8_validate (text, -1, NULL) || (unit && !g_utf8_validate (unit, -1, NULL)))
    return refuse_bytes (&in, error);
  if (unit && *unit)
    {
      in.bare = bed_unit_at (measure, unit, &length);
      if (in.bare == NULL || unit[length] != '\0')
        return refuse_unit (&in, unit, error);
    }
  return parse (&in, value, error);
}
