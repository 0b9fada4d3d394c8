#include "science/units.h"

#include "science/units_table.h"

#include <math.h>
#include <string.h>

#define MAX_DECIMALS 9
#define UM_PER_INCH 25400
/* Of half ounces: 3200 are so many milligrams. */
#define MG_PER_3200_HALF_OUNCES 45359237
#define SAID_DECIMALS 2 /* of what was reckoned */
#define MOST_UNMARKED 4 /* figures */
#define RUNS_RIGHT "\u200e"

/* Ratios are exact. The first words of a measure's units are what
 * bed_unit_list() shows, so the common ones stand first. */
#define LENGTHS(m)                                                                                 \
  { m, "mm|millimetre|millimeter|millimetres|millimeters", 1000, 1, 0 },                           \
      { m, "cm|centimetre|centimeter|centimetres|centimeters", 10000, 1, 0 },                      \
      { m, "m|metre|meter|metres|meters", 1000000, 1, 0 },                                         \
      { m, "in|\"|\u2033|\u201d|''|in.|inch|inches", 25400, 1, 0 },                                \
      { m, "ft|'|\u2032|\u2019|ft.|foot|feet", 304800, 1, 0 },                                     \
      { m, "yd|yard|yards", 914400, 1, 0 },                                                        \
  {                                                                                                \
    m, "\u00b5m|\u03bcm|um", 1, 1, 0                                                               \
  }

#define MASSES(m)                                                                                  \
  { m, "g|gram|grams", 1000, 1, 0 }, { m, "kg|kilo|kilos|kilogram|kilograms", 1000000, 1, 0 },     \
      { m, "oz|oz.|ounce|ounces", 45359237, 1600, 0 },                                             \
      { m, "lb|lbs|lb.|lbs.|pound|pounds|#", 45359237, 100, 0 }, { m, "mg", 1, 1, 0 },             \
  {                                                                                                \
    m, "t|tonne|tonnes", 1000000000, 1, 0                                                          \
  }

#define AREAS(m)                                                                                   \
  { m, "m\u00b2|m2|sq m", 10000, 1, 0 }, { m, "ft\u00b2|ft2|sq ft", 9290304, 10000, 0 },           \
      { m, "ha|hectare|hectares", 100000000, 1, 0 }, { m, "ac|acre|acres", 40468564224, 1000, 0 }, \
  {                                                                                                \
    m, "cm\u00b2|cm2|sq cm", 1, 1, 0                                                               \
  }

static const BedUnit units[] = {
  LENGTHS (BED_MEASURE_LENGTH_FINE),
  LENGTHS (BED_MEASURE_LENGTH),
  LENGTHS (BED_MEASURE_LENGTH_LONG),
  MASSES (BED_MEASURE_MASS_FINE),
  MASSES (BED_MEASURE_MASS),
  { BED_MEASURE_VOLUME, "l|litre|liter|litres|liters", 1000000, 1, 0 },
  { BED_MEASURE_VOLUME, "ml|millilitre|milliliter|millilitres|milliliters", 1000, 1, 0 },
  { BED_MEASURE_VOLUME, "gal|gallon|gallons", 3785411784, 1000, 0 },
  { BED_MEASURE_VOLUME, "qt|quart|quarts", 946352946, 1000, 0 },
  { BED_MEASURE_VOLUME, "fl oz", 295735295625, 10000000, 0 },
  { BED_MEASURE_VOLUME, "m\u00b3|m3", 1000000000, 1, 0 },
  { BED_MEASURE_VOLUME, "ft\u00b3|ft3|cu ft", 28316846592, 1000, 0 },
  AREAS (BED_MEASURE_AREA),
  AREAS (BED_MEASURE_LAND),
  { BED_MEASURE_BASAL_AREA, "m\u00b2/ha|m2/ha", 10000, 1, 0 },
  { BED_MEASURE_BASAL_AREA, "ft\u00b2/ac|ft2/ac|ft2/acre", 2500000, 1089, 0 },
  { BED_MEASURE_TEMPERATURE, "\u00b0C|C|deg C|celsius", 1000, 1, 0 },
  { BED_MEASURE_TEMPERATURE, "\u00b0F|F|deg F|fahrenheit", 5000, 9, -160000 },
  { BED_MEASURE_TEMPERATURE, "K", 1000, 1, -273150 },
  { BED_MEASURE_TIME, "h|hr|hrs|hour|hours", 60, 1, 0 },
  { BED_MEASURE_TIME, "min|mins|minute|minutes", 1, 1, 0 },
  { BED_MEASURE_TIME, "d|day|days", 1440, 1, 0 },
  { BED_MEASURE_PERCENT, "%|percent|pct", 100, 1, 0 },
  { BED_MEASURE_MONEY, "", 100, 1, 0 },
  { BED_MEASURE_COUNT, "", 1, 1, 0 },
  { BED_MEASURE_ANGLE, "\u00b0|deg|degree|degrees", 100, 1, 0 },
};

static const char *const shown[BED_N_MEASURES][2] = {
  [BED_MEASURE_LENGTH_FINE] = { "mm", "in" },
  [BED_MEASURE_LENGTH] = { "cm", "in" },
  [BED_MEASURE_LENGTH_LONG] = { "m", "ft" },
  [BED_MEASURE_MASS_FINE] = { "g", "oz" },
  [BED_MEASURE_MASS] = { "kg", "lb" },
  [BED_MEASURE_VOLUME] = { "l", "gal" },
  [BED_MEASURE_AREA] = { "m\u00b2", "ft\u00b2" },
  [BED_MEASURE_LAND] = { "ha", "ac" },
  [BED_MEASURE_BASAL_AREA] = { "m\u00b2/ha", "ft\u00b2/ac" },
  [BED_MEASURE_TEMPERATURE] = { "\u00b0C", "\u00b0F" },
  [BED_MEASURE_TIME] = { "h", "h" },
  [BED_MEASURE_PERCENT] = { "%", "%" },
  [BED_MEASURE_MONEY] = { "", "" },
  [BED_MEASURE_COUNT] = { "", "" },
  [BED_MEASURE_ANGLE] = { "\u00b0", "\u00b0" },
};

G_DEFINE_QUARK (bed - units - error - quark, bed_units_error)

/* Helpers */

static gint64
power_of_ten (int exponent)
{
  gint64 power = 1;

  while (exponent-- > 0)
    power *= 10;
  return power;
}

/* @value in units of @unit times 10^@decimals, rounded. The widest case, 2^63 x
 * 10^9 x 10^9 for fluid ounces, stays under 2^127. */
static BedWide
scale (const BedUnit *unit, gint64 value, int decimals)
{
  return bed_wide_round (((BedWide) value * unit->den - unit->offset) * power_of_ten (decimals),
                         unit->num);
}

static gboolean
reads_back (const BedUnit *unit, BedWide scaled, int decimals, gint64 value)
{
  BedWide ten = power_of_ten (decimals);

  return bed_wide_round (scaled * unit->num + unit->offset * ten, unit->den * ten) == value;
}

/* The fewest decimals of @unit, from @least to @most, that read back as @value; -1: more. */
static int
count_decimals (const BedUnit *unit, gint64 value, int least, int most)
{
  for (int decimals = least; decimals <= most; decimals++)
    if (reads_back (unit, scale (unit, value, decimals), decimals, value))
      return decimals;
  return -1;
}

static int
least_decimals (BedMeasure measure, const BedNotation *notation)
{
  return measure == BED_MEASURE_MONEY ? CLAMP (notation->money_decimals, 0, 4) : 0;
}

static gboolean
is_whole (gint64 value, gint64 num, gint64 den)
{
  return bed_wide_round (bed_wide_round ((BedWide) value * den, num) * num, den) == value;
}

/* The most decimals people type. Scales show grams, or half ounces: 0.03125 lb. */
static int
most_typed (BedMeasure measure, BedSystem system, gint64 value)
{
  if (measure == BED_MEASURE_MONEY)
    return 4;
  if (measure != BED_MEASURE_MASS)
    return SAID_DECIMALS;
  return system == BED_SYSTEM_US && is_whole (value, MG_PER_3200_HALF_OUNCES, 3200) ? 5 : 3;
}

/* What two decimals would say is nothing has two figures. */
static int
decimals_of_reckoned (const BedUnit *unit, gint64 value)
{
  int decimals = SAID_DECIMALS;

  if (value == 0 || scale (unit, value, decimals) != 0)
    return decimals;
  while (decimals < MAX_DECIMALS && ABS (scale (unit, value, decimals)) < 10)
    decimals++;
  return decimals;
}

/* Whether @value is a whole number of the marks of a rule, not below nought. */
static gboolean
is_sixteenths (BedMeasure measure, BedSystem system, gint64 value, gint64 *sixteenths)
{
  if (system != BED_SYSTEM_US || value < 0
      || (measure != BED_MEASURE_LENGTH_FINE && measure != BED_MEASURE_LENGTH))
    return FALSE;
  *sixteenths = (gint64) bed_wide_round ((BedWide) value * 16, UM_PER_INCH);
  return is_whole (value, UM_PER_INCH, 16);
}

static char *
write_sixteenths (const BedNotation *notation, gint64 sixteenths)
{
  /* In text that runs to the left 5 1/4 would come to stand as 1/4 5. */
  const char *mark = notation->runs == BED_RUNS_LEFT ? RUNS_RIGHT : "";
  gint64 whole = sixteenths / 16;
  int over, under = 16;

  for (over = (int) (sixteenths % 16); over > 0 && over % 2 == 0; over /= 2)
    under /= 2;
  if (whole == 0 && over != 0)
    return g_strdup_printf ("%s%d/%d", mark, over, under);
  g_autofree char *plain = g_strdup_printf ("%" G_GINT64_FORMAT, whole);
  g_autofree char *said = bed_number_say (notation, plain);
  return over == 0 ? g_steal_pointer (&said)
                   : g_strdup_printf ("%s%s %d/%d", mark, said, over, under);
}

static const char *
thousands_text (const BedNotation *notation)
{
  static const struct
  {
    char mark;
    const char *text;
  } texts[] = { { '.', "." }, { ',', "," }, { '\'', "\u2019" }, { ' ', "\u202f" } };

  for (gsize i = 0; i < G_N_ELEMENTS (texts); i++)
    if (texts[i].mark == notation->thousands_mark && texts[i].mark != notation->decimal_mark)
      return texts[i].text;
  return "";
}

static char *
write_number (BedWide scaled, int decimals, const BedNotation *notation)
{
  char digits[64] = { 0 };
  int at = sizeof digits;
  gboolean negative = scaled < 0;

  digits[--at] = '\0';
  for (int i = 0; scaled != 0 || i <= decimals; i++)
    {
      if (i == decimals && decimals > 0)
        digits[--at] = '.';
      digits[--at] = '0' + (char) (scaled % 10 * (negative ? -1 : 1));
      scaled /= 10;
    }
  if (negative)
    digits[--at] = '-';
  return bed_number_say (notation, digits + at);
}

/* Units are Latin, so a number and its unit run to the right in any text. */
static char *
add_unit (BedMeasure measure, const BedNotation *notation, char *number)
{
  g_autofree char *owned = number;
  const char *unit = bed_measure_unit (measure, notation->system);
  gboolean mark = notation->runs == BED_RUNS_LEFT && !g_str_has_prefix (number, RUNS_RIGHT);

  if (!*unit)
    return g_steal_pointer (&owned);
  return g_strconcat (mark ? RUNS_RIGHT : "", owned, measure == BED_MEASURE_ANGLE ? "" : " ", unit,
                      NULL);
}

/* Inside the room */

BedWide
bed_wide_round (BedWide num, BedWide den)
{
  BedWide whole = num / den, rest = num % den;

  if (rest >= den - rest)
    return whole + 1;
  if (-rest >= den + rest)
    return whole - 1;
  return whole;
}

const BedUnit *
bed_unit_at (BedMeasure measure, const char *text, gsize *length)
{
  const BedUnit *best = NULL;

  *length = 0;
  for (gsize i = 0; i < G_N_ELEMENTS (units); i++)
    for (const char *word = units[i].words; *text && units[i].measure == measure && *word;)
      {
        gsize n = strcspn (word, "|");
        if (n > *length && g_ascii_strncasecmp (text, word, n) == 0)
          {
            /* "m" is no unit of "mile". */
            gboolean letters = g_ascii_isalpha (word[n - 1]);
            if (!letters || !g_unichar_isalpha (g_utf8_get_char (text + n)))
              {
                best = &units[i];
                *length = n;
              }
          }
        word += n + (word[n] == '|');
      }
  return best;
}

const BedUnit *
bed_unit_shown (BedMeasure measure, BedSystem system)
{
  for (gsize i = 0; i < G_N_ELEMENTS (units); i++)
    {
      const char *word = shown[measure][system];
      gsize n = strlen (word);
      if (units[i].measure == measure && strncmp (units[i].words, word, n) == 0
          && (units[i].words[n] == '|' || units[i].words[n] == '\0'))
        return &units[i];
    }
  g_assert_not_reached ();
}

BedUnit
bed_unit_of (BedMeasure measure, const BedNotation *notation)
{
  BedUnit unit = *bed_unit_shown (measure, notation->system);

  if (measure == BED_MEASURE_MONEY)
    unit.num = power_of_ten (CLAMP (notation->money_decimals, 0, 4));
  return unit;
}

gsize
bed_groups_last (const BedNotation *notation)
{
  return notation->groups == BED_GROUPS_OF_FOUR ? 4 : 3;
}

gsize
bed_groups_between (const BedNotation *notation)
{
  return notation->groups == BED_GROUPS_INDIAN ? 2 : bed_groups_last (notation);
}

char *
bed_unit_list (BedMeasure measure)
{
  g_autoptr (GString) list = g_string_new (NULL);

  for (gsize i = 0; i < G_N_ELEMENTS (units); i++)
    if (units[i].measure == measure)
      {
        if (list->len)
          g_string_append (list, ", ");
        g_string_append_len (list, units[i].words, (gssize) strcspn (units[i].words, "|"));
      }
  return g_string_free (g_steal_pointer (&list), FALSE);
}

/* Public */

const char *
bed_measure_unit (BedMeasure measure, BedSystem system)
{
  g_return_val_if_fail (measure < BED_N_MEASURES, "");
  g_return_val_if_fail (system <= BED_SYSTEM_US, "");
  return shown[measure][system];
}

BedNotation
bed_notation_plain (const BedNotation *notation)
{
  return (BedNotation){ notation->system, '.', notation->money_decimals };
}

char *
bed_number_say (const BedNotation *notation, const char *plain)
{
  g_return_val_if_fail (notation != NULL && plain != NULL, NULL);
  GString *said = g_string_new (*plain == '-' && notation->runs == BED_RUNS_LEFT ? RUNS_RIGHT : "");
  gsize last = bed_groups_last (notation), between = bed_groups_between (notation);

  if (*plain == '-')
    g_string_append_c (said, *plain++);
  gsize whole = strspn (plain, "0123456789");
  for (gsize left = whole; left > 0; left--)
    {
      if (whole > MOST_UNMARKED && left < whole && left >= last && (left - last) % between == 0)
        g_string_append (said, thousands_text (notation));
      g_string_append_c (said, plain[whole - left]);
    }
  plain += whole;
  if (*plain == '.')
    {
      g_string_append_c (said, notation->decimal_mark);
      plain++;
    }
  g_string_append (said, plain);
  return g_string_free (said, FALSE);
}

char *
bed_measure_format_rounded (BedMeasure measure, const BedNotation *notation, int decimals,
                            gint64 value)
{
  g_return_val_if_fail (measure < BED_N_MEASURES, NULL);
  g_return_val_if_fail (notation != NULL && notation->system <= BED_SYSTEM_US, NULL);
  g_return_val_if_fail (decimals >= 0 && decimals <= MAX_DECIMALS, NULL);
  BedUnit unit = bed_unit_of (measure, notation);

  return write_number (scale (&unit, value, decimals), decimals, notation);
}

char *
bed_measure_format (BedMeasure measure, const BedNotation *notation, gint64 value)
{
  g_return_val_if_fail (measure < BED_N_MEASURES, NULL);
  g_return_val_if_fail (notation != NULL && notation->system <= BED_SYSTEM_US, NULL);
  BedUnit unit = bed_unit_of (measure, notation);
  int decimals = count_decimals (&unit, value, least_decimals (measure, notation), MAX_DECIMALS);

  if (decimals < 0)
    decimals = MAX_DECIMALS;
  return write_number (scale (&unit, value, decimals), decimals, notation);
}

char *
bed_measure_format_said (BedMeasure measure, const BedNotation *notation, gint64 value)
{
  g_return_val_if_fail (measure < BED_N_MEASURES, NULL);
  g_return_val_if_fail (notation != NULL && notation->system <= BED_SYSTEM_US, NULL);
  BedUnit unit = bed_unit_of (measure, notation);
  gint64 sixteenths;
  int decimals;

  if (is_sixteenths (measure, notation->system, value, &sixteenths))
    return write_sixteenths (notation, sixteenths);
  decimals = count_decimals (&unit, value, least_decimals (measure, notation),
                             most_typed (measure, notation->system, value));
  if (decimals < 0)
    decimals = decimals_of_reckoned (&unit, value);
  return bed_measure_format_rounded (measure, notation, decimals, value);
}

char *
bed_measure_format_unit (BedMeasure measure, const BedNotation *notation, gint64 value)
{
  g_return_val_if_fail (measure < BED_N_MEASURES, NULL);
  g_return_val_if_fail (notation != NULL && notation->system <= BED_SYSTEM_US, NULL);
  return add_unit (measure, notation, bed_measure_format (measure, notation, value));
}

char *
bed_measure_format_unit_said (BedMeasure measure, const BedNotation *notation, gint64 value)
{
  g_return_val_if_fail (measure < BED_N_MEASURES, NULL);
  g_return_val_if_fail (notation != NULL && notation->system <= BED_SYSTEM_US, NULL);
  return add_unit (measure, notation, bed_measure_format_said (measure, notation, value));
}

char *
bed_measure_format_unit_rounded (BedMeasure measure, const BedNotation *notation, int decimals,
                                 gint64 value)
{
  g_return_val_if_fail (measure < BED_N_MEASURES, NULL);
  g_return_val_if_fail (notation != NULL && notation->system <= BED_SYSTEM_US, NULL);
  return add_unit (measure, notation,
                   bed_measure_format_rounded (measure, notation, decimals, value));
}

double
bed_measure_to_unit (BedMeasure measure, BedSystem system, gint64 value)
{
  g_return_val_if_fail (measure < BED_N_MEASURES, 0);
  g_return_val_if_fail (system <= BED_SYSTEM_US, 0);
  const BedUnit *unit = bed_unit_shown (measure, system);

  return (double) (((long double) value * unit->den - unit->offset) / unit->num);
}

double
bed_measure_to_said (BedMeasure measure, const BedNotation *notation, gint64 value, int *decimals)
{
  g_return_val_if_fail (measure < BED_N_MEASURES, 0);
  g_return_val_if_fail (notation != NULL && notation->system <= BED_SYSTEM_US, 0);
  g_return_val_if_fail (decimals != NULL, 0);
  BedUnit unit = bed_unit_of (measure, notation);
  gint64 sixteenths;
  gboolean marks = is_sixteenths (measure, notation->system, value, &sixteenths);

  *decimals = count_decimals (&unit, value, least_decimals (measure, notation),
                              marks ? 4 : most_typed (measure, notation->system, value));
  if (*decimals >= 0)
    return (double) scale (&unit, value, *decimals) / (double) power_of_ten (*decimals);
  *decimals = decimals_of_reckoned (&unit, value);
  return (double) ((long double) value * unit.den - unit.offset) / (double) unit.num;
}
