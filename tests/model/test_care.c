/* Care of logs: the farm's records put to the science. Today is 2026-05-12. */
#include "../ask.h"

#include "model_test.h"

#include <math.h>

#include "model/farm/farm_private.h"
#include "model/farm/names.h"
#include "model/farm/run.h"
#include "model/farm/weather.h"
#include "model/farm/woods.h"
#include "model/season/woodland.h"
#include "model/work/care.h"
#include "model/work/care_dry_mass.h"
#include "model/work/caution.h"

static gint64
first_log (BedFarm *farm)
{
  return ask_one (farm, "SELECT min (id) FROM log", 0);
}

static void
set (BedFarm *farm, const char *field, gint64 value)
{
  g_autoptr (BedRecord) settings = bed_record_copy (bed_farm_get_settings (farm));
  g_autoptr (GError) error = NULL;

  bed_record_set_int (settings, field, value);
  bed_edit_put_one (farm, settings, "Changed a setting", &error);
  g_assert_no_error (error);
}

static void
weigh (BedFarm *farm, gint64 log, const char *date, double kg)
{
  BedRecord *record = bed_record_new (BED_KIND_WEIGHING);

  bed_record_set_text (record, "weighed_on", date);
  bed_record_set_int (record, "log", log);
  bed_record_set_int (record, "mass", (gint64) llround (kg * 1e6));
  scene_add (farm, record);
}

/* A cone 12 to 10 cm, 100 cm: V = pi/12 L (D2 + Dd + d2); red oak, NRS-38: density 0.56, bark
 * 20 % of the wood's volume, bark density 0.68. Worked out here beside the code. */
static void
test_dry_mass (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;
  scene_batch (farm, 2);
  double dry_kg, litres = G_PI / 12 * 10 * (1.2 * 1.2 + 1.2 * 1 + 1);
  BedCareBasis basis;
  gint64 log = first_log (farm);

  g_assert_true (bed_care_dry_mass (farm, log, &dry_kg, &basis, NULL));
  g_assert_cmpint (basis, ==, BED_CARE_BY_SPECIES);
  g_assert_cmpfloat_with_epsilon (dry_kg, litres / 1.2 * 0.56 + litres * 0.2 / 1.2 * 0.68, 2e-2);
  /* A disc two days after a weighing: 60 % of the log is dry matter. */
  weigh (farm, log, "2026-03-03", 10);
  scene_add (farm, scene_record (farm, BED_KIND_DISC, "batch", "26A", "cut_on", "2026-03-05",
                                 "fresh_mass", "500 g", "dry_mass", "300 g", NULL));
  g_assert_true (bed_care_dry_mass (farm, log, &dry_kg, &basis, NULL));
  g_assert_cmpint (basis, ==, BED_CARE_BY_DISC);
  g_assert_cmpfloat_with_epsilon (dry_kg, 6, 1e-9);
  g_assert_false (bed_care_dry_mass (farm, 1, &dry_kg, &basis, NULL));
}

/* A log of 6 kg dry drying exactly by k = 0.006 a day from 80 % towards the rest. */
static void
test_trend (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;
  gint64 batch = scene_batch (farm, 2), log = first_log (farm);
  g_autoptr (BedCareMoisture) none = bed_care_moisture_new (farm, batch, NULL);

  g_assert_cmpuint (none->points->len, ==, 0);
  g_assert_cmpint (none->trend, ==, BED_CARE_NO_TREND);
  set (farm, "moisture_alarm", 3000); /* wet basis: 42.857 dry */
  scene_add (farm, scene_record (farm, BED_KIND_DISC, "batch", "26A", "cut_on", "2026-03-02",
                                 "fresh_mass", "1080 g", "dry_mass", "600 g", NULL));
  double rest = none->rest_pct, alarm = 100 * 30.0 / 70;
  for (int day = 0; day <= 70; day += 10)
    {
      g_autofree char *date = bed_date_add ("2026-03-02", day);
      weigh (farm, log, date, 6 * (1 + (rest + (80 - rest) * exp (-0.006 * day)) / 100));
    }
  g_autoptr (BedCareMoisture) care = bed_care_moisture_new (farm, batch, NULL);
  BedCareLog *sample = care->logs->pdata[0];
  g_assert_cmpuint (care->points->len, ==, 8);
  g_assert_cmpint (care->trend, ==, BED_CARE_TREND);
  g_assert_cmpfloat_with_epsilon (care->alarm_pct, alarm, 1e-9);
  /* 6 kg x 180/100 on the disc's own day, so the dry mass is 6 kg. */
  g_assert_cmpfloat_with_epsilon (sample->dry_kg, 6, 1e-4);
  g_assert_cmpfloat_with_epsilon (sample->wet_at_kg, 6 / 0.7, 1e-3);
  int due = (int) (log1p ((80 - alarm) / (alarm - rest)) / 0.006);
  g_assert_cmpint (ABS (bed_date_days ("2026-03-02", care->alarm_on) - due), <=, 3);
  g_assert_cmpstr (care->alarm_early, <=, care->alarm_on);
  g_assert_cmpstr (care->alarm_on, <=, care->alarm_late);
  g_assert_cmpfloat_with_epsilon (care->today_pct, rest + (80 - rest) * exp (-0.006 * 71), 0.5);
  g_assert_cmpfloat_with_epsilon (bed_care_in_basis (farm, alarm), 30, 1e-6);
  /* After a watering nothing is known until the next weighing. */
  scene_add (farm, scene_record (farm, BED_KIND_AREA, "name", "Laying yard", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_STACK, "name", "Crib 1", "area", "Laying yard",
                                 "kind", "crib", "built_on", "2026-03-01", NULL));
  BedRecord *place
      = scene_record (farm, BED_KIND_PLACE, "stack", "Crib 1", "since", "2026-03-02", NULL);
  bed_record_set_int (place, "log", log);
  scene_add (farm, place);
  scene_add (farm, scene_record (farm, BED_KIND_WATERING, "watered_on", "2026-05-11", "stack",
                                 "Crib 1", NULL));
  g_autoptr (BedCareMoisture) wet = bed_care_moisture_new (farm, batch, NULL);
  g_assert_cmpstr (wet->wetted_on, ==, "2026-05-12");
  g_assert_cmpint (wet->trend, ==, BED_CARE_NO_TREND);
}

/* An area's watering wets the stacks that stood there on that day. */
static void
test_watered_where_it_stood (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;
  gint64 batch = scene_batch (farm, 1), log = first_log (farm);

  scene_add (farm, scene_record (farm, BED_KIND_AREA, "name", "Laying yard", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_AREA, "name", "Winter yard", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_STACK, "name", "Crib 1", "area", "Laying yard",
                                 "kind", "crib", "built_on", "2026-03-01", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_STOOD, "stack", "Crib 1", "area", "Winter yard",
                                 "until", "2026-04-10", NULL));
  BedRecord *place
      = scene_record (farm, BED_KIND_PLACE, "stack", "Crib 1", "since", "2026-03-02", NULL);
  bed_record_set_int (place, "log", log);
  scene_add (farm, place);
  scene_add (farm, scene_record (farm, BED_KIND_WATERING, "watered_on", "2026-04-09", "area",
                                 "Laying yard", NULL));
  g_autoptr (BedCareMoisture) before = bed_care_moisture_new (farm, batch, NULL);
  g_assert_null (before->wetted_on);
  scene_add (farm, scene_record (farm, BED_KIND_WATERING, "watered_on", "2026-04-08", "area",
                                 "Winter yard", NULL));
  g_autoptr (BedCareMoisture) after = bed_care_moisture_new (farm, batch, NULL);
  g_assert_cmpstr (after->wetted_on, ==, "2026-04-09");
}

static void
rain (BedFarm *farm, const char *date, const char *depth)
{
  scene_add (farm, scene_record (farm, BED_KIND_RAIN, "fell_on", date, "depth", depth, NULL));
}

/* Rain stops the drying: ten wet days put the date off by ten, and what fell less does not. */
static void
test_rain (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;
  gint64 batch = scene_batch (farm, 2), log = first_log (farm);
  g_autoptr (BedCareMoisture) none = bed_care_moisture_new (farm, batch, NULL);
  double rest = none->rest_pct, alarm = 100 * 30.0 / 70;
  int due = (int) (log1p ((80 - alarm) / (alarm - rest)) / 0.006);

  set (farm, "moisture_alarm", 3000);
  scene_add (farm, scene_record (farm, BED_KIND_DISC, "batch", "26A", "cut_on", "2026-03-02",
                                 "fresh_mass", "1080 g", "dry_mass", "600 g", NULL));
  for (int day = 0; day <= 71; day = day == 60 ? 71 : day + 10)
    {
      g_autofree char *date = bed_date_add ("2026-03-02", day);
      int dried = MIN (day, 61);
      weigh (farm, log, date, 6 * (1 + (rest + (80 - rest) * exp (-0.006 * dried)) / 100));
    }
  for (int i = 0; i < 12; i++)
    {
      g_autofree char *day = bed_date_add ("2026-05-01", i);
      scene_add (farm, scene_record (farm, BED_KIND_RAIN, "fell_on", day, "depth",
                                     i == 0 || i == 11 ? "1 mm"
                                     : i == 1          ? "2 mm"
                                                       : "5 mm",
                                     NULL));
    }
  /* Before the first weighing was done. */
  rain (farm, "2026-03-02", "9 mm");
  g_autoptr (BedCareMoisture) care = bed_care_moisture_new (farm, batch, NULL);
  g_assert_cmpuint (care->rains->len, ==, 10);
  g_assert_cmpint (ABS (bed_date_days ("2026-03-02", care->alarm_on) - due - 10), <=, 3);
  g_assert_cmpfloat_with_epsilon (care->today_pct, rest + (80 - rest) * exp (-0.006 * 61), 0.5);
  g_assert_cmpfloat_with_epsilon (bed_care_moisture_at (care, "2026-05-01"),
                                  rest + (80 - rest) * exp (-0.006 * 60), 0.5);
}

static void
soak_log (BedFarm *farm, gint64 log, const char *in, const char *out)
{
  BedRecord *soaked = bed_record_new (BED_KIND_SOAKED);

  bed_record_set_int (soaked, "soak",
                      scene_add (farm, scene_record (farm, BED_KIND_SOAK, "tank", "Trough",
                                                     "put_in", in, "taken_out", out, NULL)));
  bed_record_set_int (soaked, "log", log);
  scene_add (farm, soaked);
}

static int
find_band (BedFarm *farm, gint64 batch)
{
  g_autoptr (BedCareMoisture) care = bed_care_moisture_new (farm, batch, NULL);

  return bed_date_days (care->alarm_early, care->alarm_late);
}

/* By the species' density the date is less sure than by a disc of the same dry mass, and a soak
 * ends the trend. */
static void
test_band (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;
  gint64 batch = scene_batch (farm, 2), log = first_log (farm);
  g_autoptr (BedCareMoisture) none = bed_care_moisture_new (farm, batch, NULL);
  double rest = none->rest_pct, dry_kg;
  BedCareBasis basis;

  g_assert_true (bed_care_dry_mass (farm, log, &dry_kg, &basis, NULL));
  set (farm, "moisture_alarm", 3000);
  for (int day = 0; day <= 40; day += 10)
    {
      g_autofree char *date = bed_date_add ("2026-03-02", day);
      weigh (farm, log, date, dry_kg * (1 + (rest + (80 - rest) * exp (-0.006 * day)) / 100));
    }
  int by_species = find_band (farm, batch);
  scene_add (farm, scene_record (farm, BED_KIND_DISC, "batch", "26A", "cut_on", "2026-03-02",
                                 "fresh_mass", "1800 g", "dry_mass", "1000 g", NULL));
  int by_disc = find_band (farm, batch);
  g_test_message ("%d days by the species, %d by a disc", by_species, by_disc);
  g_assert_cmpint (by_species, >, by_disc * 5 / 4);
  soak_log (farm, log, "2026-05-08T08:00", "2026-05-09T08:00");
  g_autoptr (BedCareMoisture) soaked = bed_care_moisture_new (farm, batch, NULL);
  g_assert_cmpstr (soaked->wetted_on, ==, "2026-05-09");
  g_assert_cmpint (soaked->trend, ==, BED_CARE_NO_TREND);
}

static void
test_soak (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;
  BedCareSoak soak;

  scene_batch (farm, 2);
  g_assert_true (bed_care_soak_read (farm, 24, &soak, NULL));
  g_assert_cmpuint (soak.soaks, ==, 0);
  gint64 log = first_log (farm);
  double dry_kg;
  BedCareBasis basis;
  bed_care_dry_mass (farm, log, &dry_kg, &basis, NULL);
  soak_log (farm, log, "2026-05-01T08:00", "2026-05-02T09:00");
  weigh (farm, log, "2026-05-01", dry_kg * 1.5);
  g_assert_true (bed_care_soak_read (farm, 24, &soak, NULL));
  g_assert_cmpuint (soak.soaks, ==, 0);
  weigh (farm, log, "2026-05-02", dry_kg * 1.6);
  g_assert_true (bed_care_soak_read (farm, 25, &soak, NULL));
  g_assert_cmpuint (soak.soaks, ==, 1);
  g_assert_cmpfloat_with_epsilon (soak.gain_pct, 10, 1e-3);
  /* The root of time with one length: half the time, the root of half the gain. */
  g_assert_true (bed_care_soak_read (farm, 6.25, &soak, NULL));
  g_assert_cmpfloat_with_epsilon (soak.gain_pct, 5, 1e-3);
  /* Weighed four days before, four days after, and in and out on one day: none tells. */
  gint64 other = ask_one (farm, "SELECT max (id) FROM log", 0);
  soak_log (farm, other, "2026-03-14T08:00", "2026-03-15T08:00");
  weigh (farm, other, "2026-03-10", dry_kg * 1.4);
  weigh (farm, other, "2026-03-15", dry_kg * 1.5);
  soak_log (farm, other, "2026-03-24T08:00", "2026-03-25T08:00");
  weigh (farm, other, "2026-03-24", dry_kg * 1.4);
  weigh (farm, other, "2026-03-29", dry_kg * 1.5);
  soak_log (farm, other, "2026-04-20T06:00", "2026-04-20T20:00");
  weigh (farm, other, "2026-04-19", dry_kg * 1.4);
  weigh (farm, other, "2026-04-20", dry_kg * 1.5);
  g_assert_true (bed_care_soak_read (farm, 25, &soak, NULL));
  g_assert_cmpuint (soak.soaks, ==, 1);
}

static void
warm_days (BedFarm *farm, const char *first, const char *last, const char *least, const char *most)
{
  g_autoptr (BedEdit) edit = bed_edit_new (farm);
  g_autoptr (GError) error = NULL;

  for (int day = 0; day <= bed_date_days (first, last); day++)
    {
      g_autofree char *date = bed_date_add (first, day);
      g_autoptr (BedRecord) record = scene_record (farm, BED_KIND_TEMPERATURE, "measured_on", date,
                                                   "least", least, "most", most, NULL);
      bed_edit_put (edit, record);
    }
  bed_edit_commit (edit, "Copied temperatures", &error);
  g_assert_no_error (error);
}

static void
test_run (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;
  gint64 batch = scene_batch (farm, 2);
  g_auto (BedRun) days = { 0 }, checked = { 0 }, heat = { 0 };

  /* The strain says 6 to 12 months: the median is their geometric mean. */
  g_assert_true (bed_run_read (farm, batch, &days, NULL));
  g_assert_cmpint (days.unit, ==, BED_RUN_BY_DAYS);
  g_assert_true (days.is_of_strain);
  g_assert_cmpint (days.age_days, ==, 72);
  g_assert_cmpfloat_with_epsilon (days.run.full, sqrt (72) * 30.4, 3);
  g_assert_cmpfloat_with_epsilon (days.run.pct, 100 * 72 / days.run.full, 2);
  g_assert_cmpint (ABS (bed_date_days ("2026-03-01", days.full_on) - 258), <=, 3);
  /* Nobody looked: by the months its strain takes at least, as in every list. */
  g_assert_cmpstr (days.ready_on, ==, "2026-09-01");
  /* A look that finds it further on than expected brings the day nearer. */
  scene_add (farm, scene_record (farm, BED_KIND_CHECK, "checked_on", "2026-05-10", "batch", "26A",
                                 "colonised", "60", NULL));
  g_assert_true (bed_run_read (farm, batch, &checked, NULL));
  g_assert_cmpuint (checked.checks, ==, 1);
  g_assert_cmpfloat (checked.run.pct, >, days.run.pct);
  g_assert_cmpstr (checked.full_on, <, days.full_on);
  g_assert_cmpstr (checked.full_early, <=, checked.full_on);
  g_assert_cmpstr (checked.full_on, <=, checked.full_late);
  /* Warmth the same every day: the same share as by days, in degree days of 15 - 5 = 10. */
  warm_days (farm, "2025-05-01", "2026-05-12", "15 C", "15 C");
  g_assert_true (bed_run_read (farm, batch, &heat, NULL));
  g_assert_cmpint (heat.unit, ==, BED_RUN_BY_HEAT);
  g_assert_cmpfloat_with_epsilon (heat.effort, 720, 1e-6);
  g_assert_cmpfloat_with_epsilon (heat.run.pct, checked.run.pct, 1e-6);
  g_assert_cmpstr (heat.full_on, ==, checked.full_on);
}

static int
count_cb (void *steps)
{
  (*(int *) steps)++;
  return 0;
}

/* Steps of SQL that the day takes on which the run of @batch is over. */
static int
count_steps (BedFarm *farm, gint64 batch)
{
  g_autoptr (BedRunHeat) heat = bed_run_heat_new (farm, NULL);
  int steps = 0;

  sqlite3_progress_handler (bed_farm_get_db (farm), 1, count_cb, &steps);
  g_autofree char *day = bed_run_dup_full (farm, batch, heat);
  sqlite3_progress_handler (bed_farm_get_db (farm), 0, NULL, NULL);
  g_assert_nonnull (day);
  return steps;
}

/* Looks at what is no part of a batch, and days of warmth, are not gone through for it. */
static void
test_run_alone (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;
  gint64 batch = scene_batch (farm, 2);

  scene_add (farm, scene_record (farm, BED_KIND_CHECK, "checked_on", "2026-05-10", "batch", "26A",
                                 "colonised", "60", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_AREA, "name", "Yard", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_STACK, "name", "Crib", "area", "Yard", "kind",
                                 "crib", "built_on", "2026-03-01", NULL));
  int steps = count_steps (farm, batch);
  for (int i = 0; i < 50; i++)
    scene_add (farm, scene_record (farm, BED_KIND_CHECK, "checked_on", "2026-05-11", "stack",
                                   "Crib", "colonised", "30", NULL));
  warm_days (farm, "2025-05-01", "2026-05-12", "15 C", "15 C");
  g_assert_cmpint (count_steps (farm, batch), <=, steps + 20);
}

static void
assert_dry (BedFarm *farm, BedWeatherRule rule, int days, BedDrySpell advice)
{
  BedWeatherDry dry;

  g_assert_true (bed_weather_dry_read (farm, &dry, NULL));
  g_assert_cmpint (dry.rule, ==, rule);
  g_assert_cmpint (dry.days, ==, days);
  g_assert_cmpint (dry.advice, ==, advice);
}

static void
test_dry_spell (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;
  BedWeatherDry dry;

  assert_dry (farm, BED_WEATHER_UNKNOWN, 0, BED_DRY_SPELL_NONE);
  rain (farm, "2026-05-02", "12 mm");
  rain (farm, "2026-05-08", "1 mm"); /* does not count */
  assert_dry (farm, BED_WEATHER_BY_DAYS, 10, BED_DRY_SPELL_WET);
  /* Cool: 14 days. */
  warm_days (farm, "2026-03-01", "2026-05-12", "8 C", "18 C");
  assert_dry (farm, BED_WEATHER_BY_DAYS, 10, BED_DRY_SPELL_NONE);
  /* By water: 10 cool days at 45 N are near 35 mm; the weeks before the last rain that
   * counts do not matter. */
  set (farm, "latitude", 4500);
  assert_dry (farm, BED_WEATHER_BY_WATER, 10, BED_DRY_SPELL_WATCH);
  g_assert_true (bed_weather_dry_read (farm, &dry, NULL));
  g_assert_cmpfloat (dry.taken_mm, >, 30);
  g_assert_cmpfloat (dry.taken_mm, <, 35);
  /* A soaking rain ends it; what the air took since is 2 days of about 3.6 mm: Hargreaves
   * with Ra 37.9 at 45 N on 12 May (FAO 56, eq. 21 and 52). */
  rain (farm, "2026-05-10", "200 mm");
  assert_dry (farm, BED_WEATHER_BY_WATER, 2, BED_DRY_SPELL_NONE);
  g_assert_true (bed_weather_dry_read (farm, &dry, NULL));
  g_assert_cmpfloat_with_epsilon (dry.taken_mm, 2 * 0.0023 * 30.8 * sqrt (10) * 0.408 * 37.9, 0.15);
  g_autofree char *words = bed_weather_dry_dup_words (farm, &dry);
  g_assert_cmpstr (words, ==, "2 dry days; 7 mm evaporated");
}

/* 9 bolts of a red oak 6 in by 50 ft (GTR-WO-104; tests/published/test_nsvb); a stand of 80
 * ft2/ac and 200 trees/ac has QMD 8.5638 in (D. R. Larsen, Forest Functions). */
static void
test_woodland (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;
  g_autoptr (BedRecord) felling = scene_record (farm, BED_KIND_FELLING, "wood", "northern red oak",
                                                "height", "50 ft", "trees", "12", NULL);
  g_autoptr (BedRecord) stand = scene_record (farm, BED_KIND_STAND, "name", "North", "area", "1 ac",
                                              "basal_area", "80 ft2/ac", "residual", "60 ft2/ac",
                                              NULL);
  g_autoptr (GError) error = NULL, missing = NULL;
  BedWoodlandBolts bolts;
  BedWoodlandStand found;

  g_assert_false (bed_woodland_bolts_read (farm, felling, &bolts, &error));
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID);
  bed_record_set_int (felling, "dbh", 152400);
  g_assert_true (bed_woodland_bolts_read (farm, felling, &bolts, NULL));
  g_assert_cmpuint (bolts.bolts, ==, 9);
  g_assert_cmpint (ABS ((int) bolts.second - 9), <=, 1);
  g_assert_cmpint (bolts.trees, ==, 12);
  g_assert_false (bed_woodland_stand_read (stand, &found, &missing));
  g_assert_nonnull (strstr (missing->message, "Trees"));
  bed_record_set_int (stand, "trees", 200);
  g_assert_true (bed_woodland_stand_read (stand, &found, NULL));
  g_assert_cmpfloat_with_epsilon (found.state.qmd_cm, 8.5638 * 2.54, 1e-3);
  g_assert_cmpint (found.plan, ==, BED_WOODLAND_THINNING);
  g_assert_cmpfloat_with_epsilon (found.take_trees, 50, 1e-2);
  bed_record_unset (stand, "residual");
  g_assert_true (bed_woodland_stand_read (stand, &found, NULL));
  g_assert_cmpint (found.plan, ==, BED_WOODLAND_NO_THINNING);
}

/* A new farm's woods have the numbers of the table: FIA REF_SPECIES, NRS-38 (2009). */
static void
test_woods (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;
  gint64 oak = bed_farm_find (farm, BED_KIND_WOOD, "northern red oak", NULL);
  g_autoptr (BedRecord) record = bed_farm_load (farm, BED_KIND_WOOD, oak, NULL);
  g_auto (BedWood) wood = { 0 };

  g_assert_cmpstr (bed_record_get_text (record, "latin_name"), ==, "Quercus rubra");
  g_assert_cmpint (bed_record_get_int (record, "basic_density"), ==, 560);
  g_assert_cmpint (bed_record_get_int (record, "green_moisture"), ==, 8310);
  g_assert_cmpint (bed_record_get_int (record, "bark_share"), ==, 2000);
  /* All have a density and say by whom, or that it is ours, and what to ask before a move. */
  g_assert_cmpint (ask_one (farm,
                            "SELECT count (*) FROM wood WHERE basic_density IS NULL"
                            " OR latin_name IS NULL OR NOT coalesce (bed_found (source, 'basic"
                            " density'), 0) OR NOT (source GLOB '*20[0-9][0-9]*' OR source LIKE"
                            " '%ours%' OR source LIKE '%knfi%')"
                            " OR NOT coalesce (bed_found (cautions, 'local rules'), 0)",
                            0),
                   ==, 0);
  /* The 53 of NRS-38 have all of its numbers. */
  g_assert_cmpint (ask_one (farm,
                            "SELECT count (*) FROM wood"
                            " WHERE green_moisture NOT NULL AND bark_share NOT NULL",
                            0),
                   ==, 53);
  g_assert_cmpint (ask_one (farm, "SELECT count (*) FROM wood", 0), ==, bed_woods_get ()->len);
  /* The farm's own number goes before the table's. */
  bed_record_set_int (record, "basic_density", 600);
  bed_edit_put_one (farm, record, "Weighed a disc of our own", NULL);
  g_assert_true (bed_woods_read (farm, oak, &wood, NULL));
  g_assert_cmpint (wood.code, ==, 833);
  g_assert_cmpfloat_with_epsilon (wood.numbers.basic_density, 0.6, 1e-9);
  g_assert_cmpfloat_with_epsilon (wood.numbers.bark_density, 0.68, 1e-9);
}

static void
assert_caution (BedFarm *farm, BedRecord *record, const char *said, const char *unsaid)
{
  g_autoptr (BedRecord) own G_GNUC_UNUSED = record;
  g_autofree char *caution = bed_caution_dup (farm, record);

  g_test_message ("%s", caution ? caution : "nothing");
  g_assert_true (caution ? strstr (caution, "rules") != NULL : !said);
  if (said)
    g_assert_nonnull (strstr (caution, said));
  if (unsaid)
    g_assert_true (!caution || !strstr (caution, unsaid));
}

/* What hurts, with the quarantines of the wood. */
static void
test_cautions (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;

  assert_caution (farm, bed_record_new (BED_KIND_FELLING), "Felling", "Quarantines");
  assert_caution (farm, scene_record (farm, BED_KIND_FELLING, "wood", "white ash", NULL),
                  "emerald ash borer", "oak wilt");
  /* A farm from before the quarantines were told of. */
  gint64 maple = bed_farm_find (farm, BED_KIND_WOOD, "sugar maple", NULL);
  g_autoptr (BedRecord) wood = bed_farm_load (farm, BED_KIND_WOOD, maple, NULL);
  bed_record_unset (wood, "cautions");
  scene_add (farm, g_steal_pointer (&wood));
  assert_caution (farm, scene_record (farm, BED_KIND_FELLING, "wood", "sugar maple", NULL),
                  "longhorned", NULL);
  assert_caution (farm, bed_record_new (BED_KIND_BATCH), "Grinder", NULL);
  assert_caution (farm, bed_record_new (BED_KIND_PICK), "poisonous", NULL);
  assert_caution (farm, bed_record_new (BED_KIND_DRYING), "half dry", NULL);
  assert_caution (farm, bed_record_new (BED_KIND_SALE), "licence", NULL);
  assert_caution (farm, bed_record_new (BED_KIND_RAIN), NULL, NULL);
}

/* Open water is warned of until a test of it is on record. */
static void
test_untested_water (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;
  gint64 area;

  assert_caution (farm, scene_record (farm, BED_KIND_SOAK, "water", "tap", NULL), "heavy",
                  "nobody tested");
  assert_caution (farm, scene_record (farm, BED_KIND_SOAK, "water", "pond", NULL), "nobody tested",
                  NULL);
  assert_caution (farm, scene_record (farm, BED_KIND_AREA, "water", "well", NULL), NULL,
                  "nobody tested");
  area
      = scene_add (farm, scene_record (farm, BED_KIND_AREA, "name", "Yard", "water", "pond", NULL));
  assert_caution (farm, bed_farm_load (farm, BED_KIND_AREA, area, NULL), "nobody tested", NULL);
  scene_add (farm, scene_record (farm, BED_KIND_STACK, "name", "Crib 1", "area", "Yard", "kind",
                                 "crib", "built_on", "2026-03-01", NULL));
  assert_caution (farm, scene_record (farm, BED_KIND_WATERING, "stack", "Crib 1", NULL),
                  "nobody tested", NULL);

  g_autoptr (BedRecord) tested = bed_farm_load (farm, BED_KIND_AREA, area, NULL);
  bed_record_set_text (tested, "water_tested_on", "2026-04-01");
  scene_add (farm, g_steal_pointer (&tested));
  assert_caution (farm, scene_record (farm, BED_KIND_SOAK, "water", "pond", NULL), "heavy",
                  "nobody tested");
  assert_caution (farm, scene_record (farm, BED_KIND_SOAK, "water", "stream", NULL),
                  "nobody tested", NULL);
  assert_caution (farm, scene_record (farm, BED_KIND_WATERING, "area", "Yard", NULL), NULL,
                  "nobody tested");
}

#define ADD(name, test)                                                                            \
  g_test_add ("/care/" name, Scene, "metric", scene_set_up, test, scene_tear_down)

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  ADD ("dry-mass", test_dry_mass);
  ADD ("trend", test_trend);
  ADD ("watered-where-it-stood", test_watered_where_it_stood);
  ADD ("rain", test_rain);
  ADD ("band", test_band);
  ADD ("soak", test_soak);
  ADD ("run", test_run);
  ADD ("run-alone", test_run_alone);
  ADD ("dry-spell", test_dry_spell);
  ADD ("woodland", test_woodland);
  ADD ("woods", test_woods);
  ADD ("cautions", test_cautions);
  ADD ("untested-water", test_untested_water);
  return g_test_run ();
}
