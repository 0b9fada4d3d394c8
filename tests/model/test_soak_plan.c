/* The soaks behind and ahead. Today is Tue 2026-05-12: week 8 of the plan, whose week 0
 * begins on Mon 16 March. */
#include "model_test.h"

#include <math.h>

#include "model/season/figures.h"

/* As many tanks as it takes: one holds 40 logs. */
static void
soak_all (BedFarm *farm, const char *in, const char *out)
{
  gint64 soak = 0;
  gint64 ids[64];
  int n = 0;
  g_autoptr (BedQuery) q = bed_query_new (farm, "SELECT id FROM log LIMIT 64");

  while (bed_query_next (q))
    ids[n++] = bed_query_int (q, 0);
  for (int i = 0; i < n; i++)
    {
      BedRecord *soaked = bed_record_new (BED_KIND_SOAKED);
      if (i % 40 == 0)
        soak = scene_add (farm, scene_record (farm, BED_KIND_SOAK, "tank", i ? "Second" : "Trough",
                                              "put_in", in, "taken_out", out, NULL));
      bed_record_set_int (soaked, "soak", soak);
      bed_record_set_int (soaked, "log", ids[i]);
      scene_add (farm, soaked);
    }
}

static BedSoakPlan *
solve (BedFarm *farm)
{
  g_autoptr (GError) error = NULL;
  BedSoakPlan *plan = bed_soak_plan_new (farm, &error);

  g_assert_no_error (error);
  g_assert_true (bed_soak_plan_solve (plan, &error));
  g_assert_no_error (error);
  return plan;
}

static void
test_empty (Scene *scene, gconstpointer units)
{
  g_autoptr (BedSoakPlan) plan = solve (scene->farm);

  g_assert_cmpuint (plan->groups->len, ==, 0);
  g_assert_cmpuint (plan->bars->len, ==, 0);
  g_assert_cmpstr (plan->first_day, ==, "2026-03-16");
  g_assert_cmpfloat (plan->demand_kg, ==, 0);
}

/* A soak put in on Tue 12 May brings six tenths in the next week, four in the one after. */
static void
test_done (Scene *scene, gconstpointer units)
{
  scene_batch (scene->farm, 10);
  soak_all (scene->farm, "2026-05-11T08:00", "2026-05-12T08:00");
  g_autoptr (BedSoakPlan) plan = solve (scene->farm);
  const BedSoakBar *bar = &g_array_index (plan->bars, BedSoakBar, 0);

  g_assert_cmpuint (plan->groups->len, ==, 1);
  g_assert_cmpstr (((BedSoakGroup *) plan->groups->pdata[0])->name, ==, "26A");
  g_assert_cmpuint (bar->week, ==, 8);
  g_assert_cmpuint (bar->logs, ==, 10);
  g_assert_cmpint (bar->state, ==, BED_SOAK_DONE);
  g_assert_false (plan->kg_is_own);
  /* 10 logs x 0.170 kg */
  g_assert_cmpfloat_with_epsilon (plan->expected_kg[8], 0, 1e-9);
  g_assert_cmpfloat_with_epsilon (plan->expected_kg[9], 1.02, 1e-9);
  g_assert_cmpfloat_with_epsilon (plan->expected_kg[10], 0.68, 1e-9);
}

/* Whatever is planned: rest kept, tank not overfilled, nothing out of season or in the past. */
static void
test_planned_keeps_rules (Scene *scene, gconstpointer units)
{
  scene_batch (scene->farm, 60);
  soak_all (scene->farm, "2026-05-11T08:00", "2026-05-12T08:00");
  bed_farm_fix_clock (scene->farm, "2026-08-10T09:00", 3);
  g_autoptr (BedSoakPlan) plan = solve (scene->farm);
  guint planned[32] = { 0 }, n = 0;

  for (guint i = 0; i < plan->bars->len; i++)
    {
      const BedSoakBar *bar = &g_array_index (plan->bars, BedSoakBar, i);
      if (bar->state != BED_SOAK_PLANNED)
        continue;
      g_autofree char *monday = bed_date_add (plan->first_day, 7 * (int) bar->week);
      g_assert_cmpuint (bar->week, >=, BED_SOAK_PLAN_WEEKS_BACK);
      g_assert_cmpstr (monday, <, "2026-11-01");
      planned[bar->week] += bar->logs;
      n += bar->logs;
    }
  g_assert_cmpuint (n, >, 0);
  for (guint w = 0; w < plan->n_weeks; w++)
    {
      guint resting = 0;
      g_assert_cmpuint (planned[w], <=, 40);
      for (guint v = w; v < MIN (w + 8, plan->n_weeks); v++)
        resting += planned[v];
      g_assert_cmpuint (resting, <=, 60);
    }
}

/* In the open nothing is planned from November to April; a farm that soaked in November is planned
 * one in December. */
static void
test_planned_in_winter (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;
  guint planned = 0;

  scene_batch (farm, 10);
  soak_all (farm, "2026-05-11T08:00", "2026-05-12T08:00");
  bed_farm_fix_clock (farm, "2026-11-04T09:00", 3);
  g_autoptr (BedSoakPlan) open = solve (farm);
  for (guint i = 0; i < open->bars->len; i++)
    g_assert_cmpint (g_array_index (open->bars, BedSoakBar, i).state, ==, BED_SOAK_DONE);
  soak_all (farm, "2026-11-02T08:00", "2026-11-03T08:00");
  g_autoptr (BedSoakPlan) house = solve (farm);
  for (guint i = 0; i < house->bars->len; i++)
    {
      const BedSoakBar *bar = &g_array_index (house->bars, BedSoakBar, i);
      g_autofree char *monday = bed_date_add (house->first_day, 7 * (int) bar->week);

      if (bar->state != BED_SOAK_PLANNED)
        continue;
      g_assert_cmpstr (monday, >=, "2026-12-28");
      g_assert_cmpstr (monday, <, "2027-01-01");
      planned += bar->logs;
    }
  g_assert_cmpuint (planned, ==, 10);
}

/* Ready on Monday 6 July, eight weeks after the soak: not planned in a week before. */
static void
test_rest_is_waited_for (Scene *scene, gconstpointer units)
{
  scene_batch (scene->farm, 10);
  soak_all (scene->farm, "2026-05-11T08:00", "2026-05-12T08:00");
  g_autoptr (BedSoakPlan) plan = solve (scene->farm);
  guint first = G_MAXUINT;

  for (guint i = 0; i < plan->bars->len; i++)
    {
      const BedSoakBar *bar = &g_array_index (plan->bars, BedSoakBar, i);
      if (bar->state == BED_SOAK_PLANNED)
        first = MIN (first, bar->week);
    }
  g_assert_cmpuint (first, ==, 16);
}

static void
test_own_yield (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;

  scene_batch (farm, 10);
  soak_all (farm, "2026-04-01T08:00", "2026-04-02T08:00");
  scene_add (farm, scene_record (farm, BED_KIND_PICK, "picked_on", "2026-04-10", "batch", "26A",
                                 "grade", "A", "mass", "2500", NULL));
  g_autoptr (BedSoakPlan) plan = solve (farm);
  g_assert_true (plan->kg_is_own);
  g_assert_cmpfloat_with_epsilon (plan->kg_per_log, 0.25, 1e-9);
  g_assert_cmpfloat_with_epsilon (plan->picked_kg[3], 2.5, 1e-9);
}

static void
set (BedFarm *farm, const char *field, const char *text)
{
  g_autoptr (BedRecord) settings = bed_record_copy (bed_farm_get_settings (farm));
  g_autoptr (GError) error = NULL;

  bed_value_parse (farm, settings, field, text, &error);
  g_assert_no_error (error);
  bed_edit_put_one (farm, settings, "Changed a setting", &error);
  g_assert_no_error (error);
}

/* A second batch, of a strain and a mushroom of its own. */
static void
add_batch (BedFarm *farm, const char *mushroom, const char *method, const char *rest, int n)
{
  scene_add (farm, scene_record (farm, BED_KIND_STRAIN, "name", "Other one", "mushroom", mushroom,
                                 "type", "wide-range", "run_least", "1", "run_most", "3",
                                 "rest_weeks", rest, NULL));
  scene_add (farm,
             scene_record (farm, BED_KIND_SPAWN, "code", "S26-2", "strain", "Other one", "form",
                           "sawdust", "received_on", "2026-02-10", "mass", "10 kg", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_BATCH, "code", "26Z", "inoculated_on", "2026-03-01",
                                 "method", method, NULL));
  scene_add (farm, scene_record (farm, BED_KIND_SPAWN_USED, "batch", "26Z", "spawn", "S26-2",
                                 "mass", "1 kg", NULL));
  for (int i = 0; i < n; i++)
    scene_add (farm,
               scene_record (farm, BED_KIND_LOG, "felling", "F26-1", "batch", "26Z", "length",
                             "100 cm", "small_diameter", "10 cm", "large_diameter", "12 cm", NULL));
}

static void
pick (BedFarm *farm, const char *batch, const char *day, const char *mass)
{
  scene_add (farm, scene_record (farm, BED_KIND_PICK, "picked_on", day, "batch", batch, "grade",
                                 "A", "mass", mass, NULL));
}

/* Ten logs gave 1 kg, 0.8 and 0.2 where 0.6 and 0.4 were expected: by the root of 4/3 x 1/2 of what
 * the soak of last week should give, on every page and in every scope. */
static void
test_week_is_one_answer (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;
  BedFigureAnswers got;
  g_autoptr (GError) error = NULL;

  scene_batch (farm, 10);
  soak_all (farm, "2026-03-02T08:00", "2026-03-03T08:00");
  pick (farm, "26A", "2026-03-10", "800");
  pick (farm, "26A", "2026-03-17", "200");
  bed_farm_fix_clock (farm, "2026-05-05T09:00", 3);
  soak_all (farm, "2026-04-27T08:00", "2026-04-28T08:00");
  g_autoptr (BedSoakPlan) plan = solve (farm);
  double kg = 0.6 * sqrt (0.8 / 0.6 * 0.2 / 0.4);
  g_assert_cmpfloat_with_epsilon (bed_soak_plan_get_week_mass (plan, "2026-05-06"), kg * 1e6, 1e-3);
  g_assert_cmpfloat_with_epsilon (plan->forecast[8].estimate, kg, 1e-9);
  g_assert_true (bed_figures_read_expected (farm, 2026, &got, &error));
  g_assert_cmpfloat_with_epsilon (got.values[BED_FIGURE_EXPECTED_WEEK], kg * 1e6, 1e-3);
  g_assert_true (bed_figures_read_week (farm, "2026-05-10", &got, &error));
  g_assert_cmpfloat_with_epsilon (got.values[BED_FIGURE_WEEK_EXPECTED], kg * 1e6, 1e-3);
  g_assert_no_error (error);
}

/* Neither what came by itself nor what totems of another mushroom gave is of a soak. */
static void
test_natural_left_out (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;

  scene_batch (farm, 10);
  soak_all (farm, "2026-04-01T08:00", "2026-04-02T08:00");
  add_batch (farm, "oyster", "totem", "2", 1);
  pick (farm, "26A", "2026-04-10", "2500");
  pick (farm, "26A", "2026-03-25", "4 kg");
  pick (farm, "26A", "2026-05-02", "5 kg");
  pick (farm, "26Z", "2026-04-10", "6 kg");
  g_autoptr (BedSoakPlan) plan = solve (farm);
  g_assert_cmpuint (plan->groups->len, ==, 1);
  g_assert_true (plan->kg_is_own);
  g_assert_cmpfloat_with_epsilon (plan->kg_per_log, 0.25, 1e-9);
  g_assert_cmpfloat_with_epsilon (plan->picked_kg[3], 8.5, 1e-9);
  g_assert_cmpfloat_with_epsilon (plan->followed_kg[3], 2.5, 1e-9);
}

static const BedSoakGroup *
find_group (const BedSoakPlan *plan, const char *batch)
{
  for (guint i = 0; i < plan->groups->len; i++)
    {
      const BedSoakGroup *group = plan->groups->pdata[i];
      if (g_str_has_suffix (group->name, batch))
        return group;
    }
  return NULL;
}

static guint
count_planned (const BedSoakPlan *plan, guint week)
{
  guint logs = 0;

  for (guint i = 0; i < plan->bars->len; i++)
    {
      const BedSoakBar *bar = &g_array_index (plan->bars, BedSoakBar, i);
      logs += bar->state == BED_SOAK_PLANNED && bar->week == week ? bar->logs : 0;
    }
  return logs;
}

/* All logs lie in Crib 1, those of 26Z until the fifth of April. */
static void
lay (BedFarm *farm)
{
  g_autoptr (BedQuery) q = bed_query_new (farm,
                                          "SELECT l.id, b.code = '26Z' FROM log l JOIN batch b"
                                          " ON b.id = l.batch ORDER BY l.id");

  scene_add (farm, scene_record (farm, BED_KIND_AREA, "name", "Hollow", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_STACK, "name", "Crib 1", "area", "Hollow", "kind",
                                 "crib", "built_on", "2026-03-01", NULL));
  while (bed_query_next (q))
    {
      BedRecord *place = scene_record (farm, BED_KIND_PLACE, "stack", "Crib 1", "since",
                                       "2026-03-01", bed_query_int (q, 1) ? "until" : NULL,
                                       "2026-04-05", NULL);
      bed_record_set_int (place, "log", bed_query_int (q, 0));
      scene_add (farm, place);
    }
}

static void
pick_of (BedFarm *farm, const char *what, const char *name, const char *day, const char *mass)
{
  scene_add (farm, scene_record (farm, BED_KIND_PICK, "picked_on", day, what, name, "grade", "A",
                                 "mass", mass, NULL));
}

/* Of a log and of a stack, too, what came before the soak or after its flush is not of it; and what
 * was picked of a stack is not of logs that had left it. */
static void
test_around_a_soak (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;

  scene_batch (farm, 10);
  add_batch (farm, "shiitake", "wedge", "8", 4);
  lay (farm);
  soak_all (farm, "2026-04-01T08:00", "2026-04-02T08:00");
  pick_of (farm, "log", "26A-001", "2026-03-25", "1 kg");
  pick_of (farm, "log", "26A-001", "2026-04-10", "1 kg");
  pick_of (farm, "log", "26A-001", "2026-05-02", "2 kg");
  pick_of (farm, "stack", "Crib 1", "2026-03-26", "1 kg");
  pick_of (farm, "stack", "Crib 1", "2026-04-09", "1500 g");
  pick_of (farm, "stack", "Crib 1", "2026-05-03", "3 kg");
  g_autoptr (BedSoakPlan) plan = solve (farm);
  g_assert_cmpfloat_with_epsilon (find_group (plan, "26A")->kg_per_log, 0.25, 1e-9);
  g_assert_cmpfloat_with_epsilon (find_group (plan, "26Z")->kg_per_log, 0.17, 1e-9);
}

/* One model: logs in their second bearing season are due twice what they gave in their first, and a
 * batch that never was in the tank what its own age is due (1 : 2 : 2 : 1, science/crop_model.h).
 */
static void
test_by_the_crop (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;

  scene_batch (farm, 10);
  bed_farm_fix_clock (farm, "2027-06-01T09:00", 3);
  soak_all (farm, "2027-04-01T08:00", "2027-04-02T08:00");
  pick (farm, "26A", "2027-04-10", "2500");
  g_autoptr (BedSoakPlan) first = solve (farm);
  g_assert_cmpfloat_with_epsilon (find_group (first, "26A")->kg_per_log, 0.25, 1e-9);
  bed_farm_fix_clock (farm, "2028-04-01T09:00", 3);
  g_autoptr (BedSoakPlan) second = solve (farm);
  g_assert_cmpfloat_with_epsilon (find_group (second, "26A")->kg_per_log, 0.5, 1e-9);
  scene_add (farm, scene_record (farm, BED_KIND_BATCH, "code", "27B", "inoculated_on", "2027-03-01",
                                 "method", "drilled", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_SPAWN_USED, "batch", "27B", "spawn", "S26-1",
                                 "mass", "1 kg", NULL));
  scene_add (farm,
             scene_record (farm, BED_KIND_LOG, "felling", "F26-1", "batch", "27B", "length",
                           "100 cm", "small_diameter", "10 cm", "large_diameter", "12 cm", NULL));
  g_autoptr (BedSoakPlan) younger = solve (farm);
  g_assert_cmpfloat_with_epsilon (find_group (younger, "26A")->kg_per_log, 0.5, 1e-9);
  g_assert_cmpfloat_with_epsilon (find_group (younger, "27B")->kg_per_log, 0.25, 1e-9);
}

/* A flush that is not over tells nothing yet, and one long ago no more. */
static void
test_when_it_tells (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;

  scene_batch (farm, 10);
  soak_all (farm, "2026-03-20T08:00", "2026-03-21T08:00");
  pick (farm, "26A", "2026-03-30", "2500");
  soak_all (farm, "2026-05-05T08:00", "2026-05-06T08:00");
  pick (farm, "26A", "2026-05-10", "100");
  g_autoptr (BedSoakPlan) plan = solve (farm);
  g_assert_cmpfloat_with_epsilon (plan->kg_per_log, 0.25, 1e-9);
  /* By its own ten logs, soaked last week. */
  g_assert_cmpfloat_with_epsilon (plan->expected_kg[8], 1.5, 1e-9);
  bed_farm_fix_clock (farm, "2028-06-01T09:00", 3);
  soak_all (farm, "2028-04-10T08:00", "2028-04-11T08:00");
  pick (farm, "26A", "2028-04-20", "4 kg");
  g_autoptr (BedSoakPlan) later = solve (farm);
  g_assert_cmpfloat_with_epsilon (later->kg_per_log, 0.4, 1e-9);
}

/* Another mushroom's soaks teach nothing, and neither it nor totems are forced. */
static void
test_who_is_soaked (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;

  scene_batch (farm, 10);
  add_batch (farm, "oyster", "drilled", "2", 4);
  soak_all (farm, "2026-04-01T08:00", "2026-04-02T08:00");
  pick (farm, "26A", "2026-04-10", "2500");
  pick (farm, "26Z", "2026-04-10", "6 kg");
  g_autoptr (BedSoakPlan) plan = solve (farm);
  g_assert_cmpuint (plan->groups->len, ==, 1);
  g_assert_cmpfloat_with_epsilon (plan->kg_per_log, 0.25, 1e-9);
}

static void
test_totems (Scene *scene, gconstpointer units)
{
  scene_batch (scene->farm, 10);
  add_batch (scene->farm, "shiitake", "totem", "8", 4);
  g_autoptr (BedSoakPlan) plan = solve (scene->farm);
  g_assert_cmpuint (plan->groups->len, ==, 1);
}

/* What comes by itself says nothing of how well soaks are reckoned. */
static void
test_forecast_of_soaks (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;

  scene_batch (farm, 10);
  soak_all (farm, "2026-03-16T08:00", "2026-03-17T08:00");
  soak_all (farm, "2026-04-01T08:00", "2026-04-02T08:00");
  for (int i = 0; i < 8; i++)
    {
      g_autofree char *day = bed_date_add (i < 4 ? "2026-03-23" : "2026-04-06", 2 * (i % 4));
      pick (farm, "26A", day, i % 3 ? "400" : "700");
    }
  g_autoptr (BedSoakPlan) plan = solve (farm);
  g_assert_cmpint (plan->forecast[BED_SOAK_PLAN_WEEKS_BACK + 12].known, ==, BED_KNOWN_INTERVAL);
  pick (farm, "26A", "2026-04-19", "4 kg");
  pick (farm, "26A", "2026-05-02", "5 kg");
  g_autoptr (BedSoakPlan) natural = solve (farm);
  for (guint week = BED_SOAK_PLAN_WEEKS_BACK; week < plan->n_weeks; week++)
    {
      g_assert_cmpfloat_with_epsilon (natural->forecast[week].low, plan->forecast[week].low, 1e-9);
      g_assert_cmpfloat_with_epsilon (natural->forecast[week].high, plan->forecast[week].high,
                                      1e-9);
    }
}

/* More is wanted than the tank can bring: it is full, and holds no more than it does. */
static void
test_tank (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;
  guint most = 0;

  scene_batch (farm, 10);
  add_batch (farm, "shiitake", "drilled", "3", 30);
  set (farm, "weekly_demand", "20 kg");
  set (farm, "tank_capacity", "8");
  g_autoptr (BedSoakPlan) plan = solve (farm);
  for (guint week = 0; week < plan->n_weeks; week++)
    most = MAX (most, count_planned (plan, week));
  g_assert_cmpuint (most, ==, 8);
}

/* What soaks of last week bring is not asked for again: ten logs bring 1.02 kg in the week to
 * come, which is all that is wanted in it. */
static void
test_done_is_counted (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;

  scene_batch (farm, 10);
  soak_all (farm, "2026-05-11T08:00", "2026-05-12T08:00");
  add_batch (farm, "shiitake", "drilled", "3", 40);
  set (farm, "weekly_demand", "1020 g");
  set (farm, "tank_capacity", "20");
  g_autoptr (BedSoakPlan) plan = solve (farm);
  g_assert_cmpfloat (plan->expected_kg[9], >=, 1.02 - 1e-9);
  g_assert_cmpfloat (plan->expected_kg[9], <, 1.4);
  g_assert_cmpfloat (plan->expected_kg[11], >, 1);
}

/* South of the equator soaks begin in November. */
static void
test_south (Scene *scene, gconstpointer units)
{
  guint n = 0;

  scene_batch (scene->farm, 10);
  set (scene->farm, "hemisphere", "south");
  bed_farm_fix_clock (scene->farm, "2026-09-14T09:00", 3);
  g_autoptr (BedSoakPlan) plan = solve (scene->farm);
  for (guint week = 0; week < plan->n_weeks; week++)
    {
      g_autofree char *monday = bed_date_add (plan->first_day, 7 * (int) week);
      guint logs = count_planned (plan, week);
      if (logs > 0)
        g_assert_cmpstr (monday, >=, "2026-11-01");
      n += logs;
    }
  g_assert_cmpuint (n, >, 0);
}

/* A stack's picks after a soak are of the logs in it that were soaked; another method's soaks say
 * nothing of it. */
static void
test_by_kind (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;
  guint own = 0;

  scene_batch (farm, 10);
  scene_add (farm, scene_record (farm, BED_KIND_AREA, "name", "Hollow", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_STACK, "name", "Crib 1", "area", "Hollow", "kind",
                                 "crib", "built_on", "2026-03-01", NULL));
  g_autoptr (BedQuery) q = bed_query_new (farm, "SELECT id FROM log ORDER BY id");
  while (bed_query_next (q))
    {
      g_autoptr (BedRecord) place
          = scene_record (farm, BED_KIND_PLACE, "stack", "Crib 1", "since", "2026-03-01", NULL);
      bed_record_set_int (place, "log", bed_query_int (q, 0));
      scene_add (farm, g_steal_pointer (&place));
    }
  soak_all (farm, "2026-04-01T08:00", "2026-04-02T08:00");
  add_batch (farm, "shiitake", "wedge", "8", 4);
  scene_add (farm, scene_record (farm, BED_KIND_PICK, "picked_on", "2026-04-09", "stack", "Crib 1",
                                 "grade", "A", "mass", "3 kg", NULL));
  g_autoptr (BedSoakPlan) plan = solve (farm);
  g_assert_cmpuint (plan->groups->len, ==, 2);
  for (guint i = 0; i < 2; i++)
    {
      const BedSoakGroup *group = plan->groups->pdata[i];
      gboolean soaked = group->logs == 10;
      own += soaked;
      g_assert_cmpfloat_with_epsilon (group->kg_per_log, soaked ? 0.3 : 0.17, 1e-9);
    }
  g_assert_cmpuint (own, ==, 1);
}

/* Of two strains each rests its own weeks: three, though the other rests eight. */
static void
test_own_rest (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;
  guint last = 0, least = G_MAXUINT;

  scene_batch (farm, 10);
  add_batch (farm, "shiitake", "drilled", "3", 4);
  soak_all (farm, "2026-05-11T08:00", "2026-05-12T08:00");
  set (farm, "weekly_demand", "10 kg");
  g_autoptr (BedSoakPlan) plan = solve (farm);
  g_assert_cmpstr (find_group (plan, "26A")->ready_on, ==, "2026-07-06");
  g_assert_cmpstr (find_group (plan, "26Z")->ready_on, ==, "2026-06-01");
  for (guint week = 0; week < plan->n_weeks; week++)
    for (guint i = 0; i < plan->bars->len; i++)
      {
        const BedSoakBar *bar = &g_array_index (plan->bars, BedSoakBar, i);
        const BedSoakGroup *group = plan->groups->pdata[bar->group];
        if (bar->state != BED_SOAK_PLANNED || bar->week != week || group->rest_weeks != 3)
          continue;
        least = last ? MIN (least, week - last) : least;
        last = week;
      }
  g_assert_cmpuint (least, ==, 3);
}

#define ADD(path, test)                                                                            \
  g_test_add ("/soak-plan/" path, Scene, NULL, scene_set_up, test, scene_tear_down)

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  ADD ("empty", test_empty);
  ADD ("done", test_done);
  ADD ("planned-keeps-rules", test_planned_keeps_rules);
  ADD ("planned-in-winter", test_planned_in_winter);
  ADD ("rest-is-waited-for", test_rest_is_waited_for);
  ADD ("own-yield", test_own_yield);
  ADD ("week-is-one-answer", test_week_is_one_answer);
  ADD ("natural-left-out", test_natural_left_out);
  ADD ("by-kind", test_by_kind);
  ADD ("around-a-soak", test_around_a_soak);
  ADD ("by-the-crop", test_by_the_crop);
  ADD ("when-it-tells", test_when_it_tells);
  ADD ("who-is-soaked", test_who_is_soaked);
  ADD ("totems", test_totems);
  ADD ("forecast-of-soaks", test_forecast_of_soaks);
  ADD ("tank", test_tank);
  ADD ("done-is-counted", test_done_is_counted);
  ADD ("south", test_south);
  ADD ("own-rest", test_own_rest);
  return g_test_run ();
}
