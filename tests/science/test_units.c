#include "science/units.h"

#include <string.h>

static const BedNotation metric = { BED_SYSTEM_METRIC, '.', 2 };
static const BedNotation metric_comma = { BED_SYSTEM_METRIC, ',', 2 };
static const BedNotation us = { BED_SYSTEM_US, '.', 2 };
static const BedNotation yen = { BED_SYSTEM_METRIC, '.', 0 };

static const BedNotation english = { BED_SYSTEM_METRIC, '.', 2, ',' };
static const BedNotation german = { BED_SYSTEM_METRIC, ',', 2, '.' };
static const BedNotation french = { BED_SYSTEM_METRIC, ',', 2, ' ' };
static const BedNotation swiss = { BED_SYSTEM_US, '.', 2, '\'' };
static const BedNotation indian = { BED_SYSTEM_METRIC, '.', 2, ',', BED_GROUPS_INDIAN };
static const BedNotation fours = { BED_SYSTEM_METRIC, '.', 2, ',', BED_GROUPS_OF_FOUR };
static const BedNotation hebrew
    = { BED_SYSTEM_METRIC, '.', 2, ',', BED_GROUPS_OF_THREE, BED_RUNS_LEFT };

#define INVALID G_MININT64

typedef struct
{
  BedMeasure measure;
  const BedNotation *notation;
  const char *text;
  gint64 value;
  BedUnitsError code; /* where value is INVALID */
} Case;

static const Case cases[] = {
  { BED_MEASURE_LENGTH_FINE, &us, "5 1/4", 133350 },
  { BED_MEASURE_LENGTH_FINE, &us, "5 1/4 in", 133350 },
  { BED_MEASURE_LENGTH_FINE, &us, "\u200e5 1/4 in", 133350 },
  { BED_MEASURE_LENGTH_FINE, &metric, "5-1/4\"", 133350 },
  { BED_MEASURE_LENGTH_FINE, &metric, "5½ in", 139700 },
  { BED_MEASURE_LENGTH_FINE, &metric, "½\"", 12700 },
  { BED_MEASURE_LENGTH_FINE, &us, "5/16", 7938 }, /* 7937.5 */
  { BED_MEASURE_LENGTH_FINE, &us, "-5/16", -7938 },
  { BED_MEASURE_LENGTH, &metric_comma, "12,5 cm", 125000 },
  { BED_MEASURE_LENGTH, &metric_comma, "12,5", 125000 },
  { BED_MEASURE_LENGTH, &us, "127mm", 127000 },
  { BED_MEASURE_LENGTH, &us, " .5 ", 12700 },
  { BED_MEASURE_LENGTH, &us, "3'6\"", 1066800 },
  { BED_MEASURE_LENGTH, &us, "3 ft 6", INVALID, BED_UNITS_ERROR_NUMBER },
  { BED_MEASURE_LENGTH, &us, "3 ft 6 1/2 in", 1079500 },
  { BED_MEASURE_LENGTH, &us, "6 in 3 ft", INVALID, BED_UNITS_ERROR_NUMBER },
  { BED_MEASURE_LENGTH, &us, "2.5 ft 3 in", INVALID, BED_UNITS_ERROR_NUMBER },
  { BED_MEASURE_LENGTH_LONG, &metric, "12 m", 12000000 },
  { BED_MEASURE_LENGTH_LONG, &us, "40", 12192000 },
  { BED_MEASURE_MASS_FINE, &us, "3", 85049 },
  { BED_MEASURE_MASS, &metric, "3 oz", 85049 },
  { BED_MEASURE_MASS, &metric, "2 lb 4 oz", 1020583 }, /* 1020582.8325 */
  { BED_MEASURE_MASS, &us, "2lb4oz", 1020583 },
  { BED_MEASURE_MASS, &metric, "1\u202f000 kg", INVALID, BED_UNITS_ERROR_NUMBER },
  { BED_MEASURE_VOLUME, &us, "100", 378541178 },
  { BED_MEASURE_VOLUME, &us, "8 fl oz", 236588 },
  { BED_MEASURE_AREA, &metric, "10 sq ft", 9290 },
  { BED_MEASURE_LAND, &metric, "1 ac", 40468564 },
  { BED_MEASURE_LAND, &metric, "2,5 ha", INVALID, BED_UNITS_ERROR_NUMBER },
  { BED_MEASURE_BASAL_AREA, &metric, "20", 200000 },
  { BED_MEASURE_BASAL_AREA, &metric, "90 ft2/ac", 206612 },
  { BED_MEASURE_TEMPERATURE, &us, "68.5", 20278 },
  { BED_MEASURE_TEMPERATURE, &metric, "68.5 F", 20278 },
  { BED_MEASURE_TEMPERATURE, &us, "20 °C", 20000 },
  { BED_MEASURE_TEMPERATURE, &us, "-40", -40000 },
  { BED_MEASURE_TEMPERATURE, &metric, "−5", -5000 },
  { BED_MEASURE_TEMPERATURE, &metric, "20 C 5 F", INVALID, BED_UNITS_ERROR_NUMBER },
  { BED_MEASURE_TIME, &metric, "1 h 30 min", 90 },
  { BED_MEASURE_TIME, &metric, "1:30", 90 },
  { BED_MEASURE_TIME, &metric, "1.5", 90 },
  { BED_MEASURE_TIME, &metric, "45 min", 45 },
  { BED_MEASURE_TIME, &metric, "2 d", 2880 },
  { BED_MEASURE_TIME, &metric, "1:75", INVALID, BED_UNITS_ERROR_NUMBER },
  { BED_MEASURE_TIME, &metric, "1:3", INVALID, BED_UNITS_ERROR_NUMBER },
  { BED_MEASURE_PERCENT, &metric, "34.97 %", 3497 },
  { BED_MEASURE_MONEY, &metric, "16", 1600 },
  { BED_MEASURE_MONEY, &metric_comma, "-16,05", -1605 },
  { BED_MEASURE_MONEY, &yen, "1500", 1500 },
  { BED_MEASURE_MONEY, &yen, "1500.5", INVALID, BED_UNITS_ERROR_RANGE },
  { BED_MEASURE_MONEY, &metric, "16.055", INVALID, BED_UNITS_ERROR_RANGE },
  { BED_MEASURE_MONEY, &metric, "1,600.00", INVALID, BED_UNITS_ERROR_NUMBER },
  { BED_MEASURE_MONEY, &metric, "16 kg", INVALID, BED_UNITS_ERROR_UNIT },
  { BED_MEASURE_COUNT, &metric, "24", 24 },
  { BED_MEASURE_COUNT, &metric, "24.5", INVALID, BED_UNITS_ERROR_RANGE },
  { BED_MEASURE_ANGLE, &metric, "45°", 4500 },
  { BED_MEASURE_LENGTH, &metric, "", INVALID, BED_UNITS_ERROR_EMPTY },
  { BED_MEASURE_LENGTH, &metric, " \u00a0", INVALID, BED_UNITS_ERROR_EMPTY },
  { BED_MEASURE_LENGTH, &metric, "nan", INVALID, BED_UNITS_ERROR_NUMBER },
  { BED_MEASURE_LENGTH, &metric, "inf", INVALID, BED_UNITS_ERROR_NUMBER },
  { BED_MEASURE_LENGTH, &metric, "1e3", INVALID, BED_UNITS_ERROR_UNIT },
  { BED_MEASURE_LENGTH, &metric, "0x10", INVALID, BED_UNITS_ERROR_UNIT },
  { BED_MEASURE_LENGTH, &metric, "5 miles", INVALID, BED_UNITS_ERROR_UNIT },
  { BED_MEASURE_LENGTH, &metric, "5 kg", INVALID, BED_UNITS_ERROR_UNIT },
  { BED_MEASURE_LENGTH, &metric, "cm", INVALID, BED_UNITS_ERROR_NUMBER },
  { BED_MEASURE_LENGTH, &metric, "5.", INVALID, BED_UNITS_ERROR_NUMBER },
  { BED_MEASURE_LENGTH, &metric, "--5", INVALID, BED_UNITS_ERROR_NUMBER },
  { BED_MEASURE_LENGTH, &metric, "1/0", INVALID, BED_UNITS_ERROR_NUMBER },
  { BED_MEASURE_LENGTH, &metric, "1 234", INVALID, BED_UNITS_ERROR_NUMBER },
  { BED_MEASURE_LENGTH, &metric, "1.234.567", INVALID, BED_UNITS_ERROR_NUMBER },
  { BED_MEASURE_LENGTH, &metric, "12,5", INVALID, BED_UNITS_ERROR_NUMBER },
  { BED_MEASURE_LENGTH, &metric_comma, "12.5", INVALID, BED_UNITS_ERROR_NUMBER },
  { BED_MEASURE_LENGTH, &metric, "999999999999999", INVALID, BED_UNITS_ERROR_RANGE },
  { BED_MEASURE_LENGTH, &metric, "9999999999999999999999999", INVALID, BED_UNITS_ERROR_RANGE },
  { BED_MEASURE_LENGTH, &metric, "0.0000000000000000000001", INVALID, BED_UNITS_ERROR_RANGE },
  { BED_MEASURE_LENGTH, &metric, "5 \xe9", INVALID, BED_UNITS_ERROR_NUMBER },
  /* Marks of thousands as the notation has them, and no others. */
  { BED_MEASURE_COUNT, &english, "1,234", 1234 },
  { BED_MEASURE_COUNT, &english, "12,345,678", 12345678 },
  { BED_MEASURE_MASS, &english, "12,345.6 kg", 12345600000 },
  { BED_MEASURE_LENGTH, &english, "1,234 1/2 in", 31356300 },
  { BED_MEASURE_LENGTH, &english, "1,234½ in", 31356300 },
  { BED_MEASURE_MONEY, &german, "-1.600,05", -160005 },
  { BED_MEASURE_MASS, &french, "12\u202f345,6", 12345600000 },
  { BED_MEASURE_MASS, &french, "12 345,6 kg", 12345600000 },
  { BED_MEASURE_LENGTH_FINE, &french, "5 1/4 in", 133350 },
  { BED_MEASURE_LENGTH_FINE, &french, "1 500 1/4 in", 38106350 },
  { BED_MEASURE_LENGTH_FINE, &french, "5 125/1000 in", 130175 },
  { BED_MEASURE_COUNT, &swiss, "12’345", 12345 },
  { BED_MEASURE_COUNT, &swiss, "12'345", 12345 },
  { BED_MEASURE_LENGTH, &swiss, "12’345", 313563000 },
  { BED_MEASURE_LENGTH, &swiss, "3'6\"", 1066800 },
  { BED_MEASURE_LENGTH, &swiss, "3’6”", 1066800 },
  { BED_MEASURE_COUNT, &indian, "12,34,567", 1234567 },
  { BED_MEASURE_COUNT, &indian, "1,234", 1234 },
  { BED_MEASURE_COUNT, &indian, "123,456", INVALID, BED_UNITS_ERROR_NUMBER },
  { BED_MEASURE_COUNT, &fours, "1234,5678", 12345678 },
  { BED_MEASURE_COUNT, &english, "12,34,567", INVALID, BED_UNITS_ERROR_NUMBER },
  { BED_MEASURE_COUNT, &english, "1234,567", INVALID, BED_UNITS_ERROR_NUMBER },
  { BED_MEASURE_MASS, &english, "12,34", INVALID, BED_UNITS_ERROR_NUMBER },
  { BED_MEASURE_MASS, &english, "0,250", INVALID, BED_UNITS_ERROR_NUMBER },
  { BED_MEASURE_MASS, &english, "1,2345", INVALID, BED_UNITS_ERROR_NUMBER },
  { BED_MEASURE_MASS, &english, "1.234,5", INVALID, BED_UNITS_ERROR_NUMBER },
  { BED_MEASURE_MASS, &german, "0.250", INVALID, BED_UNITS_ERROR_NUMBER },
  { BED_MEASURE_MASS, &german, "12.5", INVALID, BED_UNITS_ERROR_NUMBER },
  { BED_MEASURE_MASS, &french, "12 34", INVALID, BED_UNITS_ERROR_NUMBER },
  { BED_MEASURE_COUNT, &english, "1,234,567,890,123,456", INVALID, BED_UNITS_ERROR_RANGE },
  /* Figures and marks of other scripts. */
  { BED_MEASURE_MASS, &english, "۱۲٬۳۴۵٫۶", 12345600000 },
  { BED_MEASURE_MASS, &metric, "१२.५", 12500000 },
  { BED_MEASURE_MASS, &metric, "１２．５　ｋｇ", 12500000 },
  { BED_MEASURE_TEMPERATURE, &hebrew, "\u200e-5 °C", -5000 },
  { BED_MEASURE_TEMPERATURE, &metric, "\u2066−5\u2069", -5000 },
};

static void
test_parse (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      const Case *c = &cases[i];
      g_autoptr (GError) error = NULL;
      gint64 value = 77;
      gboolean ok = bed_measure_parse (c->measure, c->notation, c->text, &value, &error);

      g_autofree char *shown = g_utf8_make_valid (c->text, -1);
      g_test_message ("“%s”: %s", shown, error ? error->message : "read");
      if (c->value == INVALID)
        {
          g_assert_false (ok);
          g_assert_error (error, BED_UNITS_ERROR, (int) c->code);
          g_assert_cmpint (value, ==, 77);
        }
      else
        {
          g_assert_no_error (error);
          g_assert_true (ok);
          g_assert_cmpint (value, ==, c->value);
        }
    }
}

static void
test_parse_in (void)
{
  g_autoptr (GError) error = NULL;
  gint64 value;

  g_assert_true (bed_measure_parse_in (BED_MEASURE_LENGTH, &us, "mm", "1020", &value, NULL));
  g_assert_cmpint (value, ==, 1020000);
  g_assert_true (bed_measure_parse_in (BED_MEASURE_LENGTH, &us, "mm", "40 in", &value, NULL));
  g_assert_cmpint (value, ==, 1016000);
  g_assert_true (bed_measure_parse_in (BED_MEASURE_TEMPERATURE, &us, "C", "-3.5", &value, NULL));
  g_assert_cmpint (value, ==, -3500);
  g_assert_true (bed_measure_parse_in (BED_MEASURE_MONEY, &us, "", "3.50", &value, NULL));
  g_assert_cmpint (value, ==, 350);
  g_assert_false (bed_measure_parse_in (BED_MEASURE_LENGTH, &us, "mmx", "1", &value, &error));
  g_assert_error (error, BED_UNITS_ERROR, BED_UNITS_ERROR_UNIT);
  g_assert_nonnull (strstr (error->message, "mm, cm, m, in, ft"));
}

/* A number says the same with marks as without, and reads back. */
static void
test_marks (void)
{
  static const struct
  {
    const BedNotation *notation;
    BedMeasure measure;
    gint64 value;
    const char *text;
  } marked[] = {
    { &english, BED_MEASURE_COUNT, 9999, "9999" },
    { &english, BED_MEASURE_COUNT, 12345, "12,345" },
    { &english, BED_MEASURE_COUNT, -123456, "-123,456" },
    { &english, BED_MEASURE_COUNT, 1234567, "1,234,567" },
    { &english, BED_MEASURE_MONEY, 1234560, "12,345.60" },
    { &german, BED_MEASURE_MONEY, 1234560, "12.345,60" },
    { &german, BED_MEASURE_MONEY, 123456, "1234,56" },
    { &french, BED_MEASURE_MONEY, 1234560, "12\u202f345,60" },
    { &swiss, BED_MEASURE_MONEY, 1234560, "12’345.60" },
    { &swiss, BED_MEASURE_LENGTH, 313569350, "12’345 1/4" },
    { &indian, BED_MEASURE_COUNT, 1234567, "12,34,567" },
    { &indian, BED_MEASURE_COUNT, 123456, "1,23,456" },
    { &fours, BED_MEASURE_COUNT, 12345678, "1234,5678" },
    { &metric, BED_MEASURE_COUNT, 1234567, "1234567" },
    { &hebrew, BED_MEASURE_TEMPERATURE, -5000, "\u200e-5" },
    { &hebrew, BED_MEASURE_TEMPERATURE, 5000, "5" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (marked); i++)
    {
      const BedNotation *notation = marked[i].notation;
      gint64 back;
      g_autoptr (GError) error = NULL;
      g_autofree char *text
          = bed_measure_format_said (marked[i].measure, notation, marked[i].value);

      g_assert_cmpstr (text, ==, marked[i].text);
      bed_measure_parse (marked[i].measure, notation, text, &back, &error);
      g_assert_no_error (error);
      g_assert_cmpint (back, ==, marked[i].value);
    }
  const BedNotation plain = bed_notation_plain (&german);
  g_autofree char *file = bed_measure_format (BED_MEASURE_MONEY, &plain, 1234560);
  g_assert_cmpstr (file, ==, "12345.60");
  g_autofree char *said = bed_number_say (&french, "-12345.625");
  g_assert_cmpstr (said, ==, "-12\u202f345,625");
}

static void
assert_shown (BedMeasure measure, const BedNotation *notation, gint64 value, const char *text)
{
  g_autofree char *shown = bed_measure_format_unit (measure, notation, value);

  g_assert_cmpstr (shown, ==, text);
}

/* As typed, or to two decimals where it was not typed so. */
static void
test_said (void)
{
  static const struct
  {
    BedMeasure measure;
    const BedNotation *notation;
    gint64 value;
    const char *text;
  } said[] = {
    { BED_MEASURE_LENGTH, &us, 133350, "5 1/4 in" },
    { BED_MEASURE_LENGTH, &us, 134620, "5.3 in" },
    { BED_MEASURE_LENGTH, &us, 133604, "5.26 in" },
    { BED_MEASURE_LENGTH, &us, 1003300, "39 1/2 in" },
    { BED_MEASURE_LENGTH, &us, 1016000, "40 in" },
    { BED_MEASURE_LENGTH, &us, 126206, "4.97 in" }, /* 4 31/32 */
    { BED_MEASURE_LENGTH, &us, -12700, "-0.5 in" },
    { BED_MEASURE_LENGTH, &metric, 133350, "13.34 cm" }, /* 13.335 */
    { BED_MEASURE_LENGTH, &metric, 127500, "12.75 cm" },
    { BED_MEASURE_LENGTH_FINE, &us, 11113, "7/16 in" }, /* 11112.5 */
    { BED_MEASURE_LENGTH_FINE, &us, 1588, "1/16 in" },
    { BED_MEASURE_LENGTH_FINE, &us, 0, "0 in" },
    { BED_MEASURE_LENGTH_FINE, &us, 11112, "0.44 in" }, /* a hair off 7/16 */
    { BED_MEASURE_LENGTH_FINE, &us, 12000, "0.47 in" },
    { BED_MEASURE_LENGTH_FINE, &metric, 12000, "12 mm" },
    { BED_MEASURE_LENGTH_LONG, &us, 18875200, "61.93 ft" }, /* 61.92651 */
    { BED_MEASURE_MASS, &us, 166185, "0.37 lb" },           /* 0.366375 */
    { BED_MEASURE_MASS, &us, 85049, "0.1875 lb" },          /* 3 oz */
    { BED_MEASURE_MASS, &us, 70874, "0.15625 lb" },         /* 2 1/2 oz */
    { BED_MEASURE_MASS, &us, 4989516, "11 lb" },
    { BED_MEASURE_MASS, &metric, 16238607, "16.24 kg" }, /* 35.8 lb */
    { BED_MEASURE_MASS, &metric_comma, 16238607, "16,24 kg" },
    { BED_MEASURE_MASS, &metric, 1250000, "1.25 kg" },
    { BED_MEASURE_MASS, &metric, 2345000, "2.345 kg" },
    { BED_MEASURE_LAND, &metric, 12345, "0.00012 ha" },
    { BED_MEASURE_LENGTH, &us, 500, "0.02 in" },
    { BED_MEASURE_TIME, &us, 20, "0.33 h" },
    { BED_MEASURE_PERCENT, &us, 1234, "12.34 %" },
    { BED_MEASURE_MONEY, &metric, 530, "5.30" },
    { BED_MEASURE_MONEY, &yen, 1500, "1500" },
    { BED_MEASURE_COUNT, &metric, 39, "39" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (said); i++)
    {
      g_autofree char *text
          = bed_measure_format_unit_said (said[i].measure, said[i].notation, said[i].value);

      g_assert_cmpstr (text, ==, said[i].text);
    }
}

/* Every sixteenth up to 20 ft reads back, and is no decimal. */
static void
test_said_reads_back (void)
{
  for (gint64 i = 0; i < 240 * 16; i++)
    {
      gint64 um = (i * 25400 * 2 + 16) / 32, back = -1;
      g_autofree char *text = bed_measure_format_said (BED_MEASURE_LENGTH, &us, um);

      g_assert_true (bed_measure_parse (BED_MEASURE_LENGTH, &us, text, &back, NULL));
      g_assert_cmpint (back, ==, um);
      g_assert_null (strchr (text, '.'));
    }
}

/* A cell of a workbook holds the number that was typed, to the last bit. */
static void
test_said_number (void)
{
  int decimals;

  for (int hundredths = 0; hundredths < 3000; hundredths++)
    for (BedMeasure measure = BED_MEASURE_LENGTH; measure <= BED_MEASURE_MASS; measure++)
      {
        const BedNotation *notation = hundredths % 2 ? &us : &metric;
        g_autofree char *typed = g_strdup_printf ("%d.%02d", hundredths / 100, hundredths % 100);
        gint64 value;

        g_assert_true (bed_measure_parse (measure, notation, typed, &value, NULL));
        double number = bed_measure_to_said (measure, notation, value, &decimals);
        g_assert_cmpfloat (number, ==, g_ascii_strtod (typed, NULL));
        g_assert_cmpint (decimals, ==, hundredths % 100 == 0 ? 0 : hundredths % 10 ? 2 : 1);
      }
  g_assert_cmpfloat (bed_measure_to_said (BED_MEASURE_LENGTH, &us, 11113, &decimals), ==, 0.4375);
  g_assert_cmpint (decimals, ==, 4);
  g_assert_cmpfloat (bed_measure_to_said (BED_MEASURE_MASS, &us, 4989516, &decimals), ==, 11);
  g_assert_cmpint (decimals, ==, 0);
  double share = bed_measure_to_said (BED_MEASURE_MASS, &us, 166185, &decimals);
  g_assert_cmpfloat_with_epsilon (share, 0.366375, 1e-6);
  g_assert_cmpint (decimals, ==, 2);
}

static void
test_format (void)
{
  g_autofree char *picks = bed_measure_format_rounded (BED_MEASURE_MASS_FINE, &us, 2, 100 * 85049);

  g_assert_cmpstr (picks, ==, "300.00");
  assert_shown (BED_MEASURE_LENGTH_FINE, &metric, 127000, "127 mm");
  assert_shown (BED_MEASURE_LENGTH_FINE, &us, 133350, "5.25 in");
  assert_shown (BED_MEASURE_LENGTH, &metric_comma, 125000, "12,5 cm");
  assert_shown (BED_MEASURE_MASS_FINE, &us, 85049, "3 oz");
  assert_shown (BED_MEASURE_TEMPERATURE, &us, 20278, "68.5 °F");
  assert_shown (BED_MEASURE_TEMPERATURE, &metric, -500, "-0.5 °C");
  assert_shown (BED_MEASURE_TIME, &metric, 90, "1.5 h");
  assert_shown (BED_MEASURE_PERCENT, &metric, 4000, "40 %");
  assert_shown (BED_MEASURE_MONEY, &metric_comma, -1600, "-16,00");
  assert_shown (BED_MEASURE_MONEY, &metric, 5, "0.05");
  assert_shown (BED_MEASURE_MONEY, &yen, 1500, "1500");
  assert_shown (BED_MEASURE_COUNT, &metric, 0, "0");
  assert_shown (BED_MEASURE_ANGLE, &metric, 4550, "45.5°");
  g_assert_cmpfloat (bed_measure_to_unit (BED_MEASURE_LENGTH, BED_SYSTEM_US, 1016000), ==, 40.0);
  g_assert_cmpfloat (bed_measure_to_unit (BED_MEASURE_TEMPERATURE, BED_SYSTEM_US, 20000), ==, 68.0);
}

/* Every measure, both systems, both marks, values of every size. */
static void
test_round_trip (void)
{
  for (int measure = 0; measure < BED_N_MEASURES; measure++)
    for (int i = 0; i < 4000; i++)
      {
        BedNotation notation = { i & 1 ? BED_SYSTEM_US : BED_SYSTEM_METRIC, i & 2 ? ',' : '.',
                                 g_test_rand_int_range (0, 5) };
        guint64 bits = (guint64) (guint32) g_test_rand_int () << 32;
        bits ^= (guint32) g_test_rand_int ();
        gint64 value = (gint64) (bits & G_MAXINT64) >> g_test_rand_int_range (16, 63);
        gint64 back = INVALID;
        g_autoptr (GError) error = NULL;

        if (g_test_rand_bit ())
          value = -value;
        g_autofree char *bare = bed_measure_format (measure, &notation, value);
        g_assert_true (bed_measure_parse (measure, &notation, bare, &back, &error));
        g_assert_cmpint (back, ==, value);
        g_autofree char *unit = bed_measure_format_unit (measure, &notation, value);
        BedNotation other = notation;
        other.system = !notation.system;
        g_assert_true (bed_measure_parse (measure, &other, unit, &back, &error));
        g_assert_cmpint (back, ==, value);
      }
}

/* What is typed to the hundredth in either system is shown again as typed. */
static void
test_typed_again (void)
{
  const BedMeasure measures[] = { BED_MEASURE_LENGTH_FINE, BED_MEASURE_LENGTH,
                                  BED_MEASURE_LENGTH_LONG, BED_MEASURE_MASS_FINE,
                                  BED_MEASURE_MASS,        BED_MEASURE_VOLUME,
                                  BED_MEASURE_LAND,        BED_MEASURE_TEMPERATURE };

  for (gsize m = 0; m < G_N_ELEMENTS (measures); m++)
    for (int hundredths = 1; hundredths < 3000; hundredths++)
      {
        const BedNotation *notation = hundredths % 2 ? &us : &metric;
        g_autofree char *typed = g_strdup_printf ("%d.%02d", hundredths / 100, hundredths % 100);
        gint64 value;

        g_assert_true (bed_measure_parse (measures[m], notation, typed, &value, NULL));
        g_autofree char *shown = bed_measure_format_rounded (measures[m], notation, 2, value);
        g_assert_cmpstr (shown, ==, typed);
      }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/units/parse", test_parse);
  g_test_add_func ("/units/marks", test_marks);
  g_test_add_func ("/units/parse-in", test_parse_in);
  g_test_add_func ("/units/format", test_format);
  g_test_add_func ("/units/said", test_said);
  g_test_add_func ("/units/said-reads-back", test_said_reads_back);
  g_test_add_func ("/units/said-number", test_said_number);
  g_test_add_func ("/units/round-trip", test_round_trip);
  g_test_add_func ("/units/typed-again", test_typed_again);
  return g_test_run ();
}
