#include "model/farm/code.h"
#include "model/farm/farm_private.h"
#include "model/farm/habits.h"
#include "model/farm/names.h"
#include "model/farm/points.h"
#include "model/farm/say.h"
#include "model_test.h"
#include "science/units.h"

#include <langinfo.h>
#include <locale.h>
#include <stdio.h>
#include <string.h>

static void
test_dates (void)
{
  /* Under the C locale the short date is month first. */
  static const struct
  {
    const char *text, *date;
  } cases[] = {
    { "2026-05-18", "2026-05-18" },
    { "18.5.2026", "2026-05-18" },
    { "18.5.", "2026-05-18" },
    { "5/18/26", "2026-05-18" },
    { "18/5/2026", "2026-05-18" },
    { "18 May 2026", "2026-05-18" },
    { "18 may", "2026-05-18" },
    { "May 18, 2025", "2025-05-18" },
    { "today", "2026-05-12" },
    { "yesterday", "2026-05-11" },
    { " 2026-05-18 ", "2026-05-18" },
    { "2026-02-30", NULL },
    { "31.4.2026", NULL },
    { "soon", NULL },
    { "2026-5-1x", NULL },
    { "18 Mai-ish", NULL },
    { "0-0-0", NULL },
    { "12", NULL },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;
      g_autofree char *date = bed_date_parse (cases[i].text, "2026-05-12", &error);
      if (g_strcmp0 (date, cases[i].date) != 0)
        g_test_message ("%s gave %s", cases[i].text, date);
      g_assert_cmpstr (date, ==, cases[i].date);
      g_assert_cmpint (error != NULL, ==, cases[i].date == NULL);
    }
  g_autofree char *later = bed_date_add ("2024-02-28", 2);
  g_assert_cmpstr (later, ==, "2024-03-01");
  g_assert_cmpint (bed_date_days ("2026-02-01", "2026-03-01"), ==, 28);
}

static void
hold_read (const char *locale, const char *text, const char *date)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *read = bed_date_parse (text, "2026-05-12", &error);

  if (g_strcmp0 (read, date) != 0)
    g_test_message ("%s: “%s” is %s and was read as %s", locale, text, date, read);
  g_assert_cmpstr (read, ==, date);
}

static void
hold_shown_reads_back (const char *locale)
{
  for (int month = 1; month <= 12; month++)
    for (int day = 1; day <= 28; day += 9)
      {
        g_autofree char *date = g_strdup_printf ("2026-%02d-%02d", month, day);
        g_autofree char *shown = bed_date_format (date);
        g_autofree char *in_week = bed_date_format_day (date);
        hold_read (locale, shown, date);
        hold_read (locale, in_week, date);
      }
}

static char **
list_locales (void)
{
  g_autofree char *said = NULL;

  g_assert_true (g_spawn_command_line_sync ("locale -a", &said, NULL, NULL, NULL));
  return g_strsplit (g_strstrip (said), "\n", -1);
}

/* What is shown reads back in every locale of the machine. */
static void
test_dates_everywhere (void)
{
  g_auto (GStrv) locales = list_locales ();
  guint tried = 0;

  for (guint i = 0; locales[i]; i++)
    if (setlocale (LC_ALL, locales[i]))
      {
        hold_shown_reads_back (locales[i]);
        tried++;
      }
  setlocale (LC_ALL, "C");
  g_test_message ("%u locales", tried);
  g_assert_cmpuint (tried, >, 300); /* the package locales-all has five hundred */
}

static void
hold_number (const char *locale, BedMeasure measure, const BedNotation *notation, gint64 value)
{
  g_autofree char *exact = bed_measure_format (measure, notation, value);
  g_autofree char *with_unit = bed_measure_format_unit (measure, notation, value);
  const char *shown[] = { exact, with_unit };

  for (guint i = 0; i < G_N_ELEMENTS (shown); i++)
    {
      g_autoptr (GError) error = NULL;
      gint64 back = G_MININT64;
      if (!bed_measure_parse (measure, notation, shown[i], &back, &error) || back != value)
        g_test_message ("%s: “%s” is %" G_GINT64_FORMAT, locale, shown[i], value);
      g_assert_no_error (error);
      g_assert_cmpint (back, ==, value);
    }
}

/* Numbers as the C library writes them there: with marks, and in the figures of the language. */
static void
hold_others_number (const char *locale, const BedNotation *notation)
{
  static const char *const ways[] = { "%'d", "%Id" };
  static const int numbers[] = { 7, 1234, 98765, 1234567 };

  for (guint way = 0; way < G_N_ELEMENTS (ways); way++)
    for (guint i = 0; i < G_N_ELEMENTS (numbers); i++)
      {
        char text[64];
        g_autoptr (GError) error = NULL;
        gint64 back = 0;
        snprintf (text, sizeof text, ways[way], numbers[i]);
        if (!bed_measure_parse (BED_MEASURE_COUNT, notation, text, &back, &error))
          g_test_message ("%s: “%s”", locale, text);
        g_assert_no_error (error);
        g_assert_cmpint (back, ==, numbers[i]);
      }
}

static void
hold_numbers_read_back (const char *locale)
{
  static const gint64 values[] = { 0, 1, -5000, 999999, 12345678, 123456789012, -1234567890 };
  BedNotation notation = { .money_decimals = 2 };

  bed_habits_mark (&notation);
  for (int measure = 0; measure < BED_N_MEASURES; measure++)
    for (guint i = 0; i < G_N_ELEMENTS (values); i++)
      {
        notation.system = i % 2 ? BED_SYSTEM_US : BED_SYSTEM_METRIC;
        hold_number (locale, measure, &notation, values[i]);
      }
  if (g_str_equal (nl_langinfo (CODESET), "UTF-8")
      && localeconv ()->grouping[0] != 2) /* unm_US: nobody groups by pairs */
    hold_others_number (locale, &notation);
}

static void
test_numbers_everywhere (void)
{
  g_auto (GStrv) locales = list_locales ();
  guint tried = 0;

  for (guint i = 0; locales[i]; i++)
    if (setlocale (LC_ALL, locales[i]))
      {
        hold_numbers_read_back (locales[i]);
        tried++;
      }
  setlocale (LC_ALL, "C");
  g_test_message ("%u locales", tried);
  g_assert_cmpuint (tried, >, 300);
}

/* Numbers in sentences, wherever a translation puts them. */
static void
test_said (void)
{
  static const struct
  {
    const char *locale, *text;
  } said[] = {
    { "C", "100 % of 1234567 logs in 2026, 26A-12345: 9876.5 h, 07:05" },
    { "de_DE.utf8", "100 % of 1.234.567 logs in 2026, 26A-12345: 9876,5 h, 07:05" },
    { "en_US.utf8", "100 % of 1,234,567 logs in 2026, 26A-12345: 9876.5 h, 07:05" },
    { "ps_AF", "100 % of 1,234,567 logs in 2026, 26A-12345: 9876.5 h, 07:05" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (said); i++)
    {
      g_assert_nonnull (setlocale (LC_ALL, said[i].locale));
      g_autofree char *text = bed_say ("%d %% of %u logs in %d, %s: %.1f h, %02d:%02u", 100,
                                       1234567u, 2026, "26A-12345", 9876.5, 7, 5u);
      g_assert_cmpstr (text, ==, said[i].text);
    }
  g_assert_nonnull (setlocale (LC_ALL, "de_CH.utf8"));
  g_autofree char *turned
      = bed_say ("%2$s: %1$d von %3$" G_GINT64_FORMAT, -54321, "x\001y\001z", (gint64) 10000000000);
  g_assert_cmpstr (turned, ==, "x\001y\001z: -54’321 von 10’000’000’000");
  g_autofree char *padded = bed_say ("%8u|%+.0f|%5.2f", 12345u, 3.0, 12345.678);
  g_assert_cmpstr (padded, ==, "   12’345|+3|12’345.68");
  setlocale (LC_ALL, "he_IL.utf8");
  g_autofree char *cold = bed_say ("%d %s", -5, "°C");
  g_assert_cmpstr (cold, ==, "\u200e-5 °C");
  setlocale (LC_ALL, "C");
}

/* What a locale's people see, and what they expect of paper and calendars. */
static void
test_habits (void)
{
  static const struct
  {
    const char *locale, *number;
    gboolean letter;
    int weekday;
  } habits[] = {
    { "C", "-1234567.5", FALSE, 1 },
    { "C.utf8", "-1234567.5", FALSE, 1 },
    { "en_GB.utf8", "-1,234,567.5", FALSE, 1 },
    { "en_US.utf8", "-1,234,567.5", TRUE, 7 },
    { "de_DE.utf8", "-1.234.567,5", FALSE, 1 },
    { "de_CH.utf8", "-1’234’567.5", FALSE, 1 },
    { "fr_FR.utf8", "-1\u202f234\u202f567,5", FALSE, 1 },
    { "fr_CA.utf8", "-1\u202f234\u202f567,5", TRUE, 7 },
    { "es_MX.utf8", "-1\u202f234\u202f567.5", TRUE, 7 },
    { "es_CL.utf8", "-1.234.567,5", TRUE, 1 },
    { "en_IN", "-12,34,567.5", FALSE, 7 },
    { "el_GR.utf8", "-1.234.567,5", FALSE, 1 },
    { "ja_JP.utf8", "-1,234,567.5", FALSE, 7 },
    { "he_IL.utf8", "\u200e-1,234,567.5", FALSE, 7 },
    { "ar_EG.utf8", "\u200e-1,234,567.5", FALSE, 6 },
    { "fa_IR", "\u200e-1,234,567.5", FALSE, 6 },
    { "ps_AF", "\u200e-1,234,567.5", FALSE, 6 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (habits); i++)
    {
      BedNotation notation = { .money_decimals = 2 };
      g_assert_nonnull (setlocale (LC_ALL, habits[i].locale));
      g_test_message ("%s", habits[i].locale);
      bed_habits_mark (&notation);
      g_autofree char *number = bed_number_say (&notation, "-1234567.5");
      g_assert_cmpstr (number, ==, habits[i].number);
      g_assert_cmpint (bed_habits_has_letter (BED_SYSTEM_METRIC), ==, habits[i].letter);
      g_assert_cmpint (bed_habits_first_weekday (), ==, habits[i].weekday);
    }
  setlocale (LC_ALL, "C");
  g_assert_true (bed_habits_has_letter (BED_SYSTEM_US)); /* of no country: by the units */
}

/* As people type them there. */
static void
test_dates_typed (void)
{
  static const struct
  {
    const char *locale, *text, *date;
  } cases[] = {
    { "ja_JP.utf8", "2026年7月14日", "2026-07-14" },
    { "ja_JP.utf8", "7月14日", "2026-07-14" },
    { "ja_JP.utf8", "２０２６年７月１４日", "2026-07-14" },
    { "ja_JP.utf8", "7/14", "2026-07-14" },
    { "ja_JP.utf8", "26/7/14", "2026-07-14" },
    { "ja_JP.utf8", "2026/11/1", "2026-11-01" },
    { "zh_CN.utf8", "2026年11月1日", "2026-11-01" },
    { "ko_KR.utf8", "2026년 7월 14일", "2026-07-14" },
    { "ko_KR.utf8", "2026. 7. 14.", "2026-07-14" },
    { "de_DE.utf8", "14. Juli", "2026-07-14" },
    { "de_DE.utf8", "14. Juli 2025", "2025-07-14" },
    { "de_DE.utf8", "Di, 14. Juli", "2026-07-14" },
    { "de_DE.utf8", "14.7.", "2026-07-14" },
    { "de_DE.utf8", "14.7.25", "2025-07-14" },
    { "de_DE.utf8", "3. März", "2026-03-03" },
    { "de_DE.utf8", "14 May", "2026-05-14" },
    { "fr_FR.utf8", "14 juillet", "2026-07-14" },
    { "fr_FR.utf8", "1er août 2025", "2025-08-01" },
    { "fr_FR.utf8", "mar. 3 mars", "2026-03-03" },
    { "fr_FR.utf8", "14/7", "2026-07-14" },
    { "es_ES.utf8", "14 de julio de 2026", "2026-07-14" },
    { "ca_ES.utf8", "14 d’abril de 2026", "2026-04-14" },
    { "vi_VN.utf8", "14 tháng 11 2026", "2026-11-14" },
    { "th_TH.utf8", "14 กรกฎาคม 2569", "2026-07-14" },
    { "th_TH.utf8", "14/7/2569", "2026-07-14" },
    { "th_TH.utf8", "14 กรกฎาคม พ.ศ. 2569", "2026-07-14" },
    { "th_TH.utf8", "14 กรกฎาคม ค.ศ. 2026", "2026-07-14" },
    { "hu_HU.utf8", "2026. július 14.", "2026-07-14" },
    { "hu_HU.utf8", "07.14.", "2026-07-14" },
    { "ru_RU.utf8", "14 июля 2026 г.", "2026-07-14" },
    { "en_US.utf8", "7/14", "2026-07-14" },
    { "en_US.utf8", "July 4th, 2026", "2026-07-04" },
    { "en_GB.utf8", "4/7", "2026-07-04" },
    { "en_GB.utf8", "Tues 14 Jul", NULL },
    { "en_GB.utf8", "1 2 3 4", NULL },
    { "ja_JP.utf8", "13月1日", NULL },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_assert_nonnull (setlocale (LC_ALL, cases[i].locale));
      hold_read (cases[i].locale, cases[i].text, cases[i].date);
    }
  setlocale (LC_ALL, "C");
}

/* A week of two years says which: ISO 8601 has it as week 53 of 2026. */
static void
test_new_year (void)
{
  static const char *const days[][2] = {
    { "2026-12-27", "Sun 27 Dec" },      { "2026-12-28", "Mon 28 Dec 2026" },
    { "2027-01-03", "Sun 3 Jan 2027" },  { "2027-01-04", "Mon 4 Jan" },
    { "2024-12-30", "Mon 30 Dec 2024" }, { "2023-01-02", "Mon 2 Jan" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (days); i++)
    {
      g_autofree char *shown = bed_date_format_in_week (days[i][0]);
      g_assert_cmpstr (shown, ==, days[i][1]);
    }
}

/* Corners are typed and read in the farm's unit and decimal mark, and stored in metres. */
static void
test_points (void)
{
  static const struct
  {
    BedSystem system;
    char mark;
    const char *said, *stored, *read; /* NULL: as it was said */
  } cases[] = {
    { BED_SYSTEM_METRIC, '.', "3 2, 5 2.5", "3 2, 5 2.5" },
    { BED_SYSTEM_METRIC, '.', " 3  2,5 2.5 ", "3 2, 5 2.5", "3 2, 5 2.5" },
    { BED_SYSTEM_METRIC, '.', "-1.5 0; 2 -0.25", "-1.5 0, 2 -0.25", "-1.5 0, 2 -0.25" },
    { BED_SYSTEM_METRIC, ',', "3,5 2; 5 2,5", "3.5 2, 5 2.5" },
    { BED_SYSTEM_METRIC, ',', "3,5 2, 5 2,5", "3.5 2, 5 2.5", "3,5 2; 5 2,5" },
    { BED_SYSTEM_US, '.', "10 6, 16 8.5", "3.048 1.8288, 4.8768 2.5908" },
    { BED_SYSTEM_US, '.', "5.33 0", "1.624584 0" },
    { BED_SYSTEM_METRIC, '.', "10ft 2", "3.048 2", "3.05 2" },
    { BED_SYSTEM_METRIC, '.', "3", NULL },
    { BED_SYSTEM_METRIC, '.', "3 2 1", NULL },
    { BED_SYSTEM_METRIC, '.', "3 2,", NULL },
    { BED_SYSTEM_METRIC, '.', "3 two", NULL },
    { BED_SYSTEM_METRIC, '.', "--3 2", NULL },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      const BedNotation notation = { cases[i].system, cases[i].mark, 2 };
      g_autoptr (GError) error = NULL;
      g_autofree char *stored = bed_points_from_said (&notation, cases[i].said, &error);
      g_assert_cmpstr (stored, ==, cases[i].stored);
      g_assert_cmpint (error != NULL, ==, stored == NULL);
      if (!stored)
        continue;
      g_autofree char *read = bed_points_to_said (&notation, stored);
      g_assert_cmpstr (read, ==, cases[i].read ? cases[i].read : cases[i].said);
    }
  const BedNotation metric = { BED_SYSTEM_METRIC, '.', 2 };
  g_autofree char *strange = bed_points_to_said (&metric, "here and there");
  g_assert_cmpstr (strange, ==, "here and there");
}

/* Shown rounded, a corner drawn by hand is not rounded by being shown; a file has metres. */
static void
test_points_field (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;
  g_autoptr (BedRecord) area = bed_record_new (BED_KIND_AREA);
  g_autoptr (GError) error = NULL;
  const BedValueReading reading = { *bed_farm_get_notation (farm), NULL };

  bed_record_set_text (area, "outline", "0 0, 3.0503 0, 1 1");
  g_autofree char *shown = bed_value_dup_text (farm, area, "outline");
  g_assert_cmpstr (shown, ==, "0 0, 10.01 0, 3.28 3.28");
  g_assert_true (bed_value_parse (farm, area, "outline", shown, &error));
  g_assert_cmpstr (bed_record_get_text (area, "outline"), ==, "0 0, 3.0503 0, 1 1");
  g_assert_true (bed_value_parse (farm, area, "outline", "0 0, 10 0, 5 5", &error));
  g_assert_cmpstr (bed_record_get_text (area, "outline"), ==, "0 0, 3.048 0, 1.524 1.524");
  g_autofree char *csv = bed_value_dup_csv (farm, area, "outline");
  g_assert_cmpstr (csv, ==, "0 0, 3.048 0, 1.524 1.524");
  g_assert_true (bed_value_parse_csv (farm, area, "outline", &reading, "1 1", &error));
  g_assert_cmpstr (bed_record_get_text (area, "outline"), ==, "1 1");
  g_assert_false (bed_value_parse (farm, area, "outline", "a b", &error));
  g_assert_nonnull (strstr (error->message, "x and y in ft"));
}

static void
test_units (Scene *scene, gconstpointer units)
{
  g_autoptr (BedRecord) log = bed_record_new (BED_KIND_LOG);
  g_autoptr (GError) error = NULL;

  g_assert_true (bed_value_parse (scene->farm, log, "small_diameter", "5 1/4 in", &error));
  g_assert_cmpint (bed_record_get_int (log, "small_diameter"), ==, 133350);
  g_autofree char *shown = bed_value_dup_text (scene->farm, log, "small_diameter");
  g_assert_cmpstr (shown, ==, "13.34");
  g_autofree char *sentence = bed_value_dup_sentence (scene->farm, log, "small_diameter");
  g_assert_cmpstr (sentence, ==, "13.34 cm");
  g_autofree char *csv = bed_value_dup_csv (scene->farm, log, "small_diameter");
  g_assert_cmpstr (csv, ==, "13.335");
  /* Shown and read again it is as fine as it was; typed otherwise it is what was typed. */
  g_assert_true (bed_value_parse (scene->farm, log, "small_diameter", shown, &error));
  g_assert_cmpint (bed_record_get_int (log, "small_diameter"), ==, 133350);
  g_assert_true (bed_value_parse (scene->farm, log, "small_diameter", "13.4", &error));
  g_assert_cmpint (bed_record_get_int (log, "small_diameter"), ==, 134000);
  BedValueReading in_mm = { *bed_farm_get_notation (scene->farm), "mm" };
  g_assert_true (bed_value_parse_csv (scene->farm, log, "length", &in_mm, "1000", &error));
  g_assert_cmpint (bed_record_get_int (log, "length"), ==, 1000000);

  g_assert_false (bed_value_parse (scene->farm, log, "length", "lots", &error));
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID);
  g_assert_true (g_str_has_prefix (error->message, "Length"));
  g_clear_error (&error);
  g_assert_false (bed_value_parse (scene->farm, log, "length", "9 m", &error));
  g_assert_nonnull (strstr (error->message, "outside"));
  /* What was there stays. */
  g_assert_cmpint (bed_record_get_int (log, "length"), ==, 1000000);
}

/* Half of Europe writes 1,5. */
static void
test_comma (Scene *scene, gconstpointer units)
{
  g_autoptr (BedRecord) pick = bed_record_new (BED_KIND_PICK);
  g_autoptr (GError) error = NULL;

  g_assert_nonnull (setlocale (LC_NUMERIC, "de_DE.utf8"));
  g_autoptr (BedFarm) farm = bed_farm_open (scene->path, &error);
  setlocale (LC_NUMERIC, "C");
  g_assert_no_error (error);
  g_assert_true (bed_value_parse (farm, pick, "mass", "412,5", &error));
  g_assert_cmpint (bed_record_get_int (pick, "mass"), ==, 412500);
  g_autofree char *shown = bed_value_dup_text (farm, pick, "mass");
  g_assert_cmpstr (shown, ==, "412,5");
  g_autofree char *csv = bed_value_dup_csv (farm, pick, "mass");
  g_assert_cmpstr (csv, ==, "412.5");
}

static void
test_choices (Scene *scene, gconstpointer units)
{
  g_autoptr (BedRecord) stack = bed_record_new (BED_KIND_STACK);
  g_autoptr (GError) error = NULL;

  g_assert_true (bed_value_parse (scene->farm, stack, "kind", "A-Frame", &error));
  g_assert_cmpstr (bed_record_get_text (stack, "kind"), ==, "A-frame");
  g_assert_true (bed_value_parse (scene->farm, stack, "kind", "dead stack", &error));
  g_assert_cmpstr (bed_record_get_text (stack, "kind"), ==, "dead");
  g_assert_false (bed_value_parse (scene->farm, stack, "kind", "heap", &error));
  g_assert_nonnull (strstr (error->message, "crib"));
}

static void
test_moments (Scene *scene, gconstpointer units)
{
  g_autoptr (BedRecord) soak = bed_record_new (BED_KIND_SOAK);

  g_assert_true (bed_value_parse (scene->farm, soak, "put_in", "2026-05-10T07:30", NULL));
  g_assert_cmpstr (bed_record_get_text (soak, "put_in"), ==, "2026-05-10T07:30");
  g_assert_true (bed_value_parse (scene->farm, soak, "put_in", "today 7:05", NULL));
  g_assert_cmpstr (bed_record_get_text (soak, "put_in"), ==, "2026-05-12T07:05");
  g_autofree char *shown = bed_value_dup_text (scene->farm, soak, "put_in");
  g_assert_true (bed_value_parse (scene->farm, soak, "put_in", shown, NULL));
  g_assert_cmpstr (bed_record_get_text (soak, "put_in"), ==, "2026-05-12T07:05");
  g_assert_false (bed_value_parse (scene->farm, soak, "put_in", "2026-05-10T25:00", NULL));
}

static void
test_codes (Scene *scene, gconstpointer units)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *a = bed_code_complete (BED_KIND_LOG, "26a-17", &error);
  g_assert_cmpstr (a, ==, "26A-017-K");
  g_autofree char *b = bed_code_complete (BED_KIND_LOG, "26A-017-K", &error);
  g_assert_cmpstr (b, ==, "26A-017-K");
  g_autofree char *lot = bed_code_complete (BED_KIND_LOT, "L260518-1", &error);
  g_assert_cmpstr (lot, ==, "L260518-1-4");
  g_autofree char *own = bed_code_complete (BED_KIND_LOG, "old oak 7", &error);
  g_assert_cmpstr (own, ==, "old oak 7");
  g_assert_no_error (error);
  g_assert_null (bed_code_complete (BED_KIND_LOG, "26A-018-K", &error));
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID);

  g_autofree char *first = bed_code_next_batch (scene->farm, "2026-03-01");
  g_assert_cmpstr (first, ==, "26A");
  scene_batch (scene->farm, 3);
  g_autofree char *next = bed_code_next_batch (scene->farm, "2026-03-01");
  g_assert_cmpstr (next, ==, "26B");
  g_autofree char *new_lot = bed_code_next_lot (scene->farm, "2026-05-18");
  g_assert_cmpstr (new_lot, ==, "L260518-1-4");
}

static int
count_asked_cb (unsigned what, void *data, void *stmt, void *sql)
{
  *(int *) data += strstr (sql, "FROM \"sale\" WHERE code") != NULL;
  return 0;
}

/* The hundredth code of a year is not found by asking for the other ninety-nine. */
static void
test_codes_many (Scene *scene, gconstpointer units)
{
  gint64 first = 0;
  int asked = 0;

  for (int i = 1; i < 100; i++)
    {
      g_autofree char *code = g_strdup_printf ("V26-%d", i);
      gint64 id = scene_add (scene->farm, scene_record (scene->farm, BED_KIND_SALE, "code", code,
                                                        "sold_on", "2026-05-01", NULL));
      first = first ? first : id;
    }
  sqlite3_trace_v2 (bed_farm_get_db (scene->farm), SQLITE_TRACE_STMT, count_asked_cb, &asked);
  g_autofree char *next = bed_code_next_numbered (scene->farm, BED_KIND_SALE, 'V', "2026-05-12");
  sqlite3_trace_v2 (bed_farm_get_db (scene->farm), 0, NULL, NULL);
  g_assert_cmpstr (next, ==, "V26-100");
  g_assert_cmpint (asked, >, 0);
  g_assert_cmpint (asked, <, 20);

  g_autoptr (BedEdit) edit = bed_edit_new (scene->farm);
  bed_edit_remove (edit, BED_KIND_SALE, first);
  g_assert_true (bed_edit_commit (edit, "Removed a sale", NULL));
  g_autofree char *freed = bed_code_next_numbered (scene->farm, BED_KIND_SALE, 'V', "2026-05-12");
  g_assert_cmpstr (freed, ==, "V26-1");
}

static void
test_near (void)
{
  g_assert_cmpuint (bed_near_distance ("oak", "Oak"), ==, 0);
  g_assert_cmpuint (bed_near_distance ("oka", "oak"), ==, 1);
  g_assert_cmpuint (bed_near_distance ("", "oak"), ==, 3);
  g_assert_cmpuint (bed_near_distance ("kitten", "sitting"), ==, 3);
}

#define ADD(path, test) g_test_add (path, Scene, NULL, scene_set_up, test, scene_tear_down)

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  if (argc > 1 && g_str_equal (argv[1], "everywhere"))
    {
      g_test_add_func ("/value/everywhere/dates", test_dates_everywhere);
      g_test_add_func ("/value/everywhere/numbers", test_numbers_everywhere);
      return g_test_run ();
    }
  g_test_add_func ("/value/dates", test_dates);
  g_test_add_func ("/value/habits", test_habits);
  g_test_add_func ("/value/said", test_said);
  g_test_add_func ("/value/dates-typed", test_dates_typed);
  g_test_add_func ("/value/new-year", test_new_year);
  g_test_add_func ("/value/near", test_near);
  g_test_add_func ("/value/points", test_points);
  g_test_add ("/value/points-field", Scene, "US", scene_set_up, test_points_field, scene_tear_down);
  ADD ("/value/units", test_units);
  ADD ("/value/comma", test_comma);
  ADD ("/value/choices", test_choices);
  ADD ("/value/moments", test_moments);
  ADD ("/value/codes", test_codes);
  ADD ("/value/codes-many", test_codes_many);
  return g_test_run ();
}
