/* Logs that are only counted and totals of several picks: they count in every figure of mass, and
 * where days and single picks matter they do not. */
#include "../ask.h"

#include "model_test.h"

#include <string.h>

#include "model/check/check.h"
#include "model/season/batch_glance.h"
#include "model/season/crop.h"
#include "model/season/figures.h"
#include "model/season/outlook.h"
#include "model/season/soak_given.h"
#include "model/work/due.h"

#define RECORD(kind, ...) scene_record (scene->farm, BED_KIND_##kind, __VA_ARGS__, NULL)

/* Of the batch of the scene; @since NULL: picked on one day. */
static BedRecord *
new_pick (Scene *scene, const char *since, const char *day, const char *mass)
{
  BedRecord *pick
      = RECORD (PICK, "picked_on", day, "batch", "26A", "grade", "unknown", "mass", mass);

  bed_record_set_text (pick, "since", since);
  return pick;
}

static void
add_pick (Scene *scene, const char *since, const char *day, const char *mass)
{
  scene_add (scene->farm, new_pick (scene, since, day, mass));
}

static char *
dup_answers (BedFarm *farm, const char *sql)
{
  g_autoptr (BedQuery) q = bed_query_new (farm, sql);
  g_autoptr (GError) error = NULL;
  GString *text = g_string_new (NULL);

  while (bed_query_next (q))
    for (int i = 0; i < bed_query_n_columns (q); i++)
      g_string_append_printf (text, "%s=%s\n", bed_query_column_name (q, i),
                              bed_query_text (q, i) ? bed_query_text (q, i) : "-");
  g_assert_true (bed_query_finish (q, &error));
  g_assert_no_error (error);
  return g_string_free (text, FALSE);
}

/* --- the rules ------------------------------------------------------------------------ */

static void
test_rules (Scene *scene, gconstpointer units)
{
  scene_batch (scene->farm, 2);
  scene_refuses (scene->farm, new_pick (scene, "2026-05-02", "2026-05-01", "100"), "since",
                 "after its last day");
  add_pick (scene, "2026-05-01", "2026-05-01", "100");
  scene_refuses (scene->farm, new_pick (scene, "2026-02-28", "2026-05-01", "100"), "since",
                 "before the batch was inoculated");
  add_pick (scene, "2026-03-01", "2026-05-01", "100");
  scene_refuses (scene->farm, new_pick (scene, NULL, "2026-05-01", "200001"), "mass", "too much");
  add_pick (scene, NULL, "2026-05-01", "200000");
  add_pick (scene, "2026-04-01", "2026-05-01", "200001");
}

/* The season of this farm begins in April. */
static void
test_season_rule (Scene *scene, gconstpointer units)
{
  g_autoptr (BedRecord) settings = bed_record_copy (bed_farm_get_settings (scene->farm));
  g_autoptr (GError) error = NULL;

  bed_record_set_text (settings, "season_start", "04-01");
  bed_edit_put_one (scene->farm, settings, "The season begins in April", &error);
  g_assert_no_error (error);
  scene_batch (scene->farm, 2);
  scene_refuses (scene->farm, new_pick (scene, "2026-03-31", "2026-04-01", "100"), "since",
                 "more than one season");
  add_pick (scene, "2026-04-01", "2026-04-30", "100");
  add_pick (scene, "2026-03-01", "2026-03-31", "100");
}

/* A day that is in a total, too: of the same, in the same grade or in one that is not known. */
static void
test_twice (Scene *scene, gconstpointer units)
{
  static const struct
  {
    const char *of, *name, *since, *day, *grade;
    gboolean twice;
  } cases[] = {
    { "batch", "26A", NULL, "2026-04-30", "A", TRUE },
    { "batch", "26A", NULL, "2026-05-01", "A", FALSE },
    { "batch", "26A", NULL, "2026-04-01", "unknown", TRUE },
    { "batch", "26A", NULL, "2026-03-31", "A", FALSE },
    { "batch", "26A", NULL, "2026-04-15", "B", FALSE },
    { "batch", "26A", "2026-04-30", "2026-05-10", "A", TRUE },
    { "batch", "26A", "2026-05-01", "2026-05-10", "A", FALSE },
    { "batch", "26A", "2026-03-01", "2026-05-10", "A", TRUE },
    { "log", "26A-001", NULL, "2026-04-30", "A", TRUE },
    { "log", "26A-001", NULL, "2026-05-01", "A", FALSE },
    { "stack", "Crib", NULL, "2026-04-15", "A", FALSE },
  };

  scene_batch (scene->farm, 2);
  scene_add (scene->farm, RECORD (AREA, "name", "Ravine"));
  scene_add (scene->farm, RECORD (STACK, "name", "Crib", "area", "Ravine", "kind", "crib",
                                  "built_on", "2026-03-01"));
  scene_add (scene->farm, RECORD (PLACE, "log", "26A-002", "stack", "Crib", "since", "2026-03-02"));
  scene_add (scene->farm, RECORD (PICK, "picked_on", "2026-04-30", "since", "2026-04-01", "batch",
                                  "26A", "grade", "A", "mass", "500"));
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      BedRecord *pick = RECORD (PICK, "picked_on", cases[i].day, cases[i].of, cases[i].name,
                                "grade", cases[i].grade, "mass", "100");
      bed_record_set_text (pick, "since", cases[i].since);
      if (cases[i].twice)
        scene_warns (scene->farm, pick, cases[i].since ? "since" : "picked_on", "counted twice");
      else
        {
          g_autoptr (BedEdit) edit = bed_edit_new (scene->farm);
          bed_edit_put (edit, pick);
          g_assert_cmpuint (bed_edit_check (edit)->len, ==, 0);
          g_object_unref (pick);
        }
    }
}

/* And so do the stack's and the log's own, from both ends. */
static void
test_twice_of_others (Scene *scene, gconstpointer units)
{
  static const char *const of[][2] = { { "stack", "Crib" }, { "log", "26A-001" } };

  scene_batch (scene->farm, 1);
  scene_add (scene->farm, RECORD (AREA, "name", "Ravine"));
  scene_add (scene->farm, RECORD (STACK, "name", "Crib", "area", "Ravine", "kind", "crib",
                                  "built_on", "2026-03-01"));
  scene_add (scene->farm, RECORD (PLACE, "log", "26A-001", "stack", "Crib", "since", "2026-03-02"));
  for (gsize i = 0; i < G_N_ELEMENTS (of); i++)
    {
      scene_add (scene->farm, RECORD (PICK, "picked_on", "2026-04-15", of[i][0], of[i][1], "grade",
                                      "A", "mass", "100"));
      scene_warns (scene->farm,
                   RECORD (PICK, "picked_on", "2026-04-30", "since", "2026-04-15", of[i][0],
                           of[i][1], "grade", "A", "mass", "100"),
                   "since", "counted twice");
    }
}

/* --- one farm told twice --------------------------------------------------------------- */

/* What is the same whether logs are listed or counted, days known or not. */
static char *
dup_sums (BedFarm *farm)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GString) text = g_string_new (NULL);
  BedFigureAnswers got;

  g_assert_true (bed_figures_read_season (farm, 2026, &got, &error));
  for (int id = BED_FIGURE_PICKED; id < BED_FIGURE_EXPECTED_NEXT_LOW; id++)
    g_string_append_printf (text, "%d: %g\n", id, got.values[id]);
  g_autoptr (BedCrop) crop = bed_crop_new (farm, 2026, &error);
  g_assert_no_error (error);
  for (int age = 0; age < BED_CROP_AGES; age++)
    g_string_append_printf (text, "age %d: %g\n", age, crop->log_kg[age]);
  g_autofree char *answers = dup_answers (
      farm, "SELECT logs, logs_alive, round (picked), cost, stage, wood_name FROM batch_summary");
  g_autofree char *seasons = dup_answers (
      farm, "SELECT season, age, logs, round (mass), round (mass_per_log) FROM batch_season");
  /* How many picks share a log differs, what it has does not. */
  g_autofree char *masses
      = dup_answers (farm, "SELECT round (sum (mass), 3) FROM pick_log GROUP BY log ORDER BY 1");
  g_string_append_printf (text, "%s%s%s", answers, seasons, masses);
  g_autofree char *lots = dup_answers (farm, "SELECT picked, sold, rest FROM lot_left");
  g_string_append (text, lots);
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static char *
dup_reckoned (BedFarm *farm)
{
  g_autoptr (GError) error = NULL;

  g_assert_true (bed_outlook_read (farm, 2026, &error));
  g_assert_no_error (error);
  return dup_answers (farm, "SELECT round (share, 3), round (own, 3) FROM season_log"
                            " UNION ALL SELECT season, round (mass, 3) FROM crop_batch"
                            " UNION ALL SELECT stood, lives FROM season_batch");
}

static void
count_logs (BedFarm *farm)
{
  g_autoptr (BedEdit) edit = bed_edit_new (farm);
  g_autoptr (BedQuery) q = bed_query_new (farm, "SELECT id FROM log");
  g_autoptr (GError) error = NULL;

  while (bed_query_next (q))
    {
      g_autoptr (BedRecord) log = bed_farm_load (farm, BED_KIND_LOG, bed_query_int (q, 0), &error);
      bed_record_set_text (log, "counted", "yes");
      bed_edit_put (edit, log);
    }
  g_assert_true (bed_query_finish (q, NULL));
  bed_edit_commit (edit, "Counted", &error);
  g_assert_no_error (error);
}

static void
sell (Scene *scene)
{
  BedFarm *farm = scene->farm;

  scene_add (farm, RECORD (LOT, "code", "L1", "picked_on", "2026-05-10"));
  scene_add (farm, RECORD (SALE, "code", "V1", "sold_on", "2026-05-11"));
  scene_add (farm, RECORD (HOURS, "worked_on", "2026-04-30", "task", "other", "minutes", "3 h",
                           "batch", "26A"));
}

static void
into_lot (Scene *scene)
{
  scene_add (scene->farm, RECORD (LINE, "sale", "V1", "lot", "L1", "form", "fresh", "use", "sold",
                                  "mass", "0.5 kg", "price", "12.00"));
}

static void
add_days (Scene *scene)
{
  static const struct
  {
    const char *day, *mass;
  } picks[] = { { "2026-04-06", "250" }, { "2026-04-07", "750" }, { "2026-04-29", "1000" } };

  scene_batch (scene->farm, 4);
  sell (scene);
  for (gsize i = 0; i < G_N_ELEMENTS (picks); i++)
    add_pick (scene, NULL, picks[i].day, picks[i].mass);
  g_autoptr (BedRecord) pick = new_pick (scene, NULL, "2026-05-10", "600");
  g_autoptr (BedRecord) lot = scene_record (scene->farm, BED_KIND_PICK, "lot", "L1", NULL);
  bed_record_take_field (pick, lot, "lot");
  scene_add (scene->farm, g_steal_pointer (&pick));
  into_lot (scene);
}

static void
add_totals (Scene *scene)
{
  scene_batch (scene->farm, 4);
  count_logs (scene->farm);
  sell (scene);
  add_pick (scene, "2026-04-01", "2026-04-30", "2000");
  g_autoptr (BedRecord) pick = new_pick (scene, "2026-05-01", "2026-05-10", "600");
  g_autoptr (BedRecord) lot = scene_record (scene->farm, BED_KIND_PICK, "lot", "L1", NULL);
  bed_record_take_field (pick, lot, "lot");
  scene_add (scene->farm, g_steal_pointer (&pick));
  into_lot (scene);
}

static void
test_same_sums (Scene *scene, gconstpointer units)
{
  Scene other = { 0 };

  scene_set_up (&other, units);
  add_days (scene);
  add_totals (&other);
  g_autofree char *days = dup_sums (scene->farm), *totals = dup_sums (other.farm);
  g_assert_cmpstr (days, ==, totals);
  g_assert_nonnull (strstr (totals, "round (picked)=2600000.0"));
  g_assert_nonnull (strstr (totals, "round (mass_per_log)=650000.0"));
  g_autofree char *walked = dup_reckoned (scene->farm), *walked_totals = dup_reckoned (other.farm);
  g_assert_cmpstr (walked, ==, walked_totals);
  g_assert_nonnull (strstr (walked_totals, "=650000.0"));
  scene_tear_down (&other, units);
}

static void
test_check (Scene *scene, gconstpointer units)
{
  g_autoptr (GError) error = NULL;

  add_totals (scene);
  add_pick (scene, "2026-05-04", "2026-05-10", "70"); /* a whole week */
  add_pick (scene, "2026-05-03", "2026-05-10", "7");  /* a day more */
  add_pick (scene, NULL, "2026-05-05", "30");
  g_autoptr (BedCheckup) checkup = bed_check_farm (scene->farm, BED_CHECK_ALL, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (bed_checkup_count (checkup, BED_FAULT_ERROR), ==, 0);
}

/* --- days and weeks -------------------------------------------------------------------- */

static void
test_weeks (Scene *scene, gconstpointer units)
{
  g_autoptr (GError) error = NULL;
  BedFigureAnswers got;

  scene_batch (scene->farm, 2);
  add_pick (scene, "2026-04-01", "2026-05-10", "5000");
  add_pick (scene, "2026-05-03", "2026-05-10", "700"); /* Sunday to Sunday */
  add_pick (scene, "2026-05-04", "2026-05-10", "70");  /* Monday to Sunday */
  add_pick (scene, "2026-05-10", "2026-05-10", "20");
  add_pick (scene, NULL, "2026-05-10", "3");
  g_autofree char *weeks = dup_answers (
      scene->farm, "SELECT week, sum (mass) AS mass FROM pick_named GROUP BY 1 ORDER BY 1");
  g_assert_cmpstr (weeks, ==, "week=-\nmass=5700000\nweek=2026-W19\nmass=93000\n");
  g_assert_true (bed_figures_read_week (scene->farm, "2026-05-10", &got, &error));
  g_assert_no_error (error);
  g_assert_cmpfloat (got.values[BED_FIGURE_WEEK_PICKED], ==, 93000);
  g_assert_cmpfloat (got.values[BED_FIGURE_WEEK_PICKED_DAY], ==, 3000);
  g_assert_cmpint (ask_one (scene->farm, "SELECT count (*) FROM pick_dated", 0), ==, 1);
  g_assert_true (bed_outlook_read (scene->farm, 2026, &error));
  g_assert_no_error (error);
  g_assert_cmpint (ask_one (scene->farm, "SELECT sum (mass) FROM crop_day", 0), ==, 93000);
}

/* Of logs, of the batch and of a stack: what is a total of no week is in no week of the list. */
static void
test_list (Scene *scene, gconstpointer units)
{
  static const struct
  {
    const char *of, *name, *since, *mass;
  } picks[] = { { "stack", "Crib", NULL, "300" },
                { "stack", "Crib", "2026-05-04", "30" },
                { "stack", "Crib", "2026-05-03", "9000" },
                { "log", "26A-001", "2026-04-01", "70" },
                { "batch", "26A", "2026-04-01", "8000" } };
  g_autoptr (GError) error = NULL;
  gint64 batch = scene_batch (scene->farm, 3);
  double sum = 0;

  scene_add (scene->farm, RECORD (AREA, "name", "Ravine"));
  scene_add (scene->farm, RECORD (STACK, "name", "Crib", "area", "Ravine", "kind", "crib",
                                  "built_on", "2026-03-01"));
  for (int i = 1; i <= 3; i++)
    {
      g_autofree char *log = g_strdup_printf ("26A-00%d", i);
      scene_add (scene->farm, RECORD (PLACE, "log", log, "stack", "Crib", "since", "2026-03-02"));
    }
  for (gsize i = 0; i < G_N_ELEMENTS (picks); i++)
    {
      BedRecord *pick = RECORD (PICK, "picked_on", "2026-05-10", picks[i].of, picks[i].name,
                                "grade", "A", "mass", picks[i].mass);
      bed_record_set_text (pick, "since", picks[i].since);
      scene_add (scene->farm, pick);
    }
  const BedBatchGlances *glances = bed_batch_glances_get (scene->farm, &error);
  g_assert_no_error (error);
  const BedBatchGlance *glance = g_hash_table_lookup (glances->batches, &batch);
  for (gsize i = 0; i < G_N_ELEMENTS (glance->weeks); i++)
    sum += glance->weeks[i];
  g_assert_cmpfloat_with_epsilon (glance->weeks[51], 330000, 0.001);
  g_assert_cmpfloat_with_epsilon (sum, 330000, 0.001);
  g_autoptr (BedCheckup) checkup = bed_check_farm (scene->farm, BED_CHECK_ALL, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (bed_checkup_count (checkup, BED_FAULT_ERROR), ==, 0);
}

/* The year is of the week, the Monday of the year before. */
static void
test_week_of_new_year (Scene *scene, gconstpointer units)
{
  g_autofree char *weeks = dup_answers (
      scene->farm, "SELECT bed_pick_week ('2026-01-01', '2026-01-04') AS a,"
                   " bed_pick_week (NULL, '2025-12-29') AS b,"
                   " bed_pick_week ('2026-01-04', '2026-01-05') AS c,"
                   " bed_pick_week ('2026-01-05', '2026-01-04') AS d,"
                   " bed_pick_week ('soon', '2026-01-04') AS e, bed_pick_week (NULL, 'soon') AS f");

  g_assert_cmpstr (weeks, ==, "a=2026-W01\nb=2026-W01\nc=-\nd=-\ne=-\nf=-\n");
}

/* --- soaks and what is due ------------------------------------------------------------- */

static void
soak_log (Scene *scene, const char *in, const char *out)
{
  scene_add (scene->farm,
             RECORD (SOAK, "code", "K1", "tank", "pond", "put_in", in, "taken_out", out));
  scene_add (scene->farm, RECORD (SOAKED, "soak", "K1", "log", "26A-001"));
}

static gboolean
is_due (BedFarm *farm, BedDueRuleId rule)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) items = bed_due_list (farm, &error);

  g_assert_no_error (error);
  for (guint i = 0; i < items->len; i++)
    if (((const BedDueItem *) items->pdata[i])->rule->id == rule)
      return TRUE;
  return FALSE;
}

static void
test_soaks (Scene *scene, gconstpointer units)
{
  g_autoptr (GError) error = NULL;

  scene_batch (scene->farm, 1);
  soak_log (scene, "2026-05-01 08:00", "2026-05-02 08:00");
  g_assert_true (is_due (scene->farm, BED_DUE_PICK));
  add_pick (scene, "2026-05-05", "2026-05-12", "400");
  g_assert_true (is_due (scene->farm, BED_DUE_PICK));
  g_autoptr (BedSoakGiven) given = bed_soak_given_new (scene->farm, "2026-05-12", &error);
  g_assert_no_error (error);
  g_assert_cmpuint (g_hash_table_size (given->by_day), ==, 0);
  add_pick (scene, NULL, "2026-05-12", "10");
  g_assert_false (is_due (scene->farm, BED_DUE_PICK));
  g_autoptr (BedSoakGiven) then = bed_soak_given_new (scene->farm, "2026-05-12", &error);
  g_assert_no_error (error);
  g_assert_cmpuint (g_hash_table_size (then->by_day), ==, 1);
}

/* A total that ends after the soak says that something was written down. */
static void
test_nothing_born (Scene *scene, gconstpointer units)
{
  scene_batch (scene->farm, 1);
  soak_log (scene, "2026-04-18 08:00", "2026-04-19 08:00");
  g_assert_true (is_due (scene->farm, BED_DUE_NOTHING_BORN));
  add_pick (scene, "2026-04-01", "2026-04-17", "400");
  g_assert_true (is_due (scene->farm, BED_DUE_NOTHING_BORN));
  add_pick (scene, "2026-04-01", "2026-04-18", "400");
  g_assert_false (is_due (scene->farm, BED_DUE_NOTHING_BORN));
}

static void
test_last_picked (Scene *scene, gconstpointer units)
{
  scene_batch (scene->farm, 1);
  scene_add (scene->farm, RECORD (PICK, "picked_on", "2026-04-10", "log", "26A-001", "grade", "A",
                                  "mass", "100"));
  scene_add (scene->farm, RECORD (PICK, "picked_on", "2026-05-10", "since", "2026-05-01", "log",
                                  "26A-001", "grade", "A", "mass", "100"));
  g_assert_cmpint (
      ask_one (scene->farm,
               "SELECT picked_last = '2026-04-10' AND picked_alone = 200000 FROM log_today", 0),
      ==, 1);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
#define ADD(path, run) g_test_add (path, Scene, "metric", scene_set_up, run, scene_tear_down)
  ADD ("/totals/rules", test_rules);
  ADD ("/totals/season", test_season_rule);
  ADD ("/totals/twice", test_twice);
  ADD ("/totals/twice-of-others", test_twice_of_others);
  ADD ("/totals/same", test_same_sums);
  ADD ("/totals/check", test_check);
  ADD ("/totals/weeks", test_weeks);
  ADD ("/totals/list", test_list);
  ADD ("/totals/new-year", test_week_of_new_year);
  ADD ("/totals/soaks", test_soaks);
  ADD ("/totals/nothing-born", test_nothing_born);
  ADD ("/totals/last", test_last_picked);
  return g_test_run ();
}
