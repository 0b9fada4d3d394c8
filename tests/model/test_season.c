/* The season in figures. */
#include "model/farm/names.h"
#include "model_test.h"

#include <math.h>
#include <string.h>

#include "model/season/batch_glance.h"
#include "model/season/figures.h"
#include "model/season/life.h"
#include "model/season/season.h"
#include "model/season/season_weeks.h"
#include "model/season/trace.h"

static void
add_money (BedFarm *farm)
{
  scene_add (farm, scene_record (farm, BED_KIND_PURCHASE, "bought_on", "2026-03-02", "category",
                                 "wax", "what", "Wax", "amount", "12.50", "tax", "1.00", "scope",
                                 "season", NULL));
  scene_add (farm,
             scene_record (farm, BED_KIND_PURCHASE, "bought_on", "2025-12-31", "category", "tools",
                           "what", "Bits", "amount", "99.00", "scope", "overhead", NULL));
  /* 18.00 an hour in the scene. */
  scene_add (farm, scene_record (farm, BED_KIND_HOURS, "worked_on", "2026-03-02", "task",
                                 "drilling", "minutes", "2 h", "batch", "26A", NULL));
  /* (110 - 10) / 5 years, half of it for logs: 10.00 */
  scene_add (farm, scene_record (farm, BED_KIND_EQUIPMENT, "what", "Grinder", "bought_on",
                                 "2025-02-01", "price", "110", "salvage", "10", "life_years", "5",
                                 "share", "50", NULL));
}

static void
test_figures (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;
  BedSeason season;
  g_autoptr (GError) error = NULL;

  scene_batch (farm, 10); /* 2.5 of 10 kg of spawn for 90.00: 22.50 */
  add_money (farm);
  scene_add (farm,
             scene_record (farm, BED_KIND_LOT, "code", "L1", "picked_on", "2026-05-11", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_PICK, "picked_on", "2026-05-11", "batch", "26A",
                                 "grade", "A", "mass", "2000", "lot", "L1", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_SALE, "code", "V1", "sold_on", "2026-05-11", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_LINE, "sale", "V1", "lot", "L1", "form", "fresh",
                                 "use", "sold", "mass", "1.5 kg", "price", "36.00", NULL));
  g_assert_true (bed_season_read (farm, 2026, &season, &error));
  g_assert_no_error (error);
  g_assert_cmpint (season.picked, ==, 2000000);
  g_assert_cmpint (season.sold, ==, 1500000);
  g_assert_cmpint (season.logs, ==, 10);
  g_assert_cmpint (season.minutes, ==, 120);
  g_assert_cmpint (season.income, ==, 3600);
  g_assert_cmpint (season.bought, ==, 1250);
  g_assert_cmpint (season.spawn, ==, 2250);
  g_assert_cmpint (season.labour, ==, 3600);
  g_assert_cmpint (season.equipment, ==, 1000);
  g_assert_cmpint (season.cost, ==, 8100);
}

static void
assert_figure (BedFarm *farm, const BedFigureAnswers *answers, BedFigureId id, double value,
               const char *text)
{
  g_autofree char *read = bed_figure_dup_text (farm, id, answers->values[id]);

  g_assert_cmpfloat_with_epsilon (bed_figure_to_si (farm, id, answers->values[id]), value, 1e-9);
  g_assert_cmpstr (read, ==, text);
}

/* By hand: 2 kg from ten logs, 1.5 kg sold fresh for 36.00 and 0.1 kg dried for 12.00. */
static void
add_crop (BedFarm *farm)
{
  scene_add (farm,
             scene_record (farm, BED_KIND_LOT, "code", "L1", "picked_on", "2026-05-11", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_PICK, "picked_on", "2026-05-11", "batch", "26A",
                                 "grade", "A", "mass", "3000", "lot", "L1", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_DRYING, "lot", "L1", "dried_on", "2026-05-11",
                                 "fresh_mass", "1 kg", "dried_mass", "100", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_SALE, "code", "V1", "sold_on", "2026-05-11", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_LINE, "sale", "V1", "lot", "L1", "form", "fresh",
                                 "use", "sold", "mass", "1.5 kg", "price", "36.00", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_LINE, "sale", "V1", "lot", "L1", "form", "dried",
                                 "use", "sold", "mass", "0.1 kg", "price", "12.00", NULL));
}

static void
test_table_of_season (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;
  BedFigureAnswers got;
  g_autoptr (GError) error = NULL;

  scene_batch (farm, 10);
  add_money (farm);
  add_crop (farm);
  g_assert_true (bed_figures_read_season (farm, 2026, &got, &error));
  g_assert_no_error (error);
  assert_figure (farm, &got, BED_FIGURE_PICKED, 3, "3.0");
  assert_figure (farm, &got, BED_FIGURE_SOLD, 1.5, "1.5");
  assert_figure (farm, &got, BED_FIGURE_INCOME, 48, "48.00");
  assert_figure (farm, &got, BED_FIGURE_COST, 81, "81.00");
  assert_figure (farm, &got, BED_FIGURE_MARGIN, -33, "-33.00");
  assert_figure (farm, &got, BED_FIGURE_HOURS, 2, "2");
  assert_figure (farm, &got, BED_FIGURE_LOGS_IN_SEASON, 10, "10");
  assert_figure (farm, &got, BED_FIGURE_PICKED_PER_LOG, 0.3, "0.30");
  assert_figure (farm, &got, BED_FIGURE_COST_PER_LOG, 8.1, "8.10");
  assert_figure (farm, &got, BED_FIGURE_COST_PER_KG, 27, "27.00");
  assert_figure (farm, &got, BED_FIGURE_HOURS_PER_KG, 2 / 3.0, "0.67");
  assert_figure (farm, &got, BED_FIGURE_PRICE_GOT_FRESH, 24, "24.00");
  assert_figure (farm, &got, BED_FIGURE_PRICE_GOT_DRIED, 120, "120.00");
  assert_figure (farm, &got, BED_FIGURE_PRICE_TO_BREAK_EVEN, 46, "46.00");
  g_assert_true (isnan (got.values[BED_FIGURE_EXPECTED_NEXT]));
  /* A season with nothing in it divides by nothing. */
  g_assert_true (bed_figures_read_season (farm, 2024, &got, &error));
  assert_figure (farm, &got, BED_FIGURE_COST, 0, "0.00");
  g_assert_true (isnan (got.values[BED_FIGURE_PICKED_PER_LOG]));
  g_assert_true (isnan (got.values[BED_FIGURE_PRICE_GOT_FRESH]));
}

static void
test_table_of_batch (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;
  BedFigureAnswers got;
  g_autoptr (GError) error = NULL;
  gint64 batch = scene_batch (farm, 10);

  add_money (farm);
  add_crop (farm);
  g_assert_true (bed_figures_read_batch (farm, batch, &got, &error));
  g_assert_true (bed_figures_read_batch_season (farm, batch, 2026, &got, &error));
  g_assert_no_error (error);
  assert_figure (farm, &got, BED_FIGURE_BATCH_LOGS_MADE, 10, "10");
  assert_figure (farm, &got, BED_FIGURE_BATCH_LOGS_ALIVE, 10, "10");
  assert_figure (farm, &got, BED_FIGURE_BATCH_LOGS_IN_SEASON, 10, "10");
  assert_figure (farm, &got, BED_FIGURE_BATCH_AGE, 0, "0");
  assert_figure (farm, &got, BED_FIGURE_BATCH_PICKED, 3, "3.0");
  assert_figure (farm, &got, BED_FIGURE_BATCH_PICKED_IN_ALL, 3, "3.0");
  assert_figure (farm, &got, BED_FIGURE_BATCH_PICKED_PER_LOG, 0.3, "0.30");
  assert_figure (farm, &got, BED_FIGURE_BATCH_PICKED_PER_LOG_MADE, 0.3, "0.30");
  assert_figure (farm, &got, BED_FIGURE_BATCH_COST, 58.5, "58.50");
  assert_figure (farm, &got, BED_FIGURE_BATCH_COST_PER_LOG, 5.85, "5.85");
  assert_figure (farm, &got, BED_FIGURE_BATCH_COST_PER_KG, 19.5, "19.50");
  g_assert_cmpint ((int) got.values[BED_FIGURE_BATCH_STAGE], !=, BED_STAGE_UNKNOWN);
  /* Two seasons on nothing was picked in it yet. */
  g_assert_true (bed_figures_read_batch_season (farm, batch, 2028, &got, &error));
  assert_figure (farm, &got, BED_FIGURE_BATCH_AGE, 2, "2");
  assert_figure (farm, &got, BED_FIGURE_BATCH_PICKED, 0, "0.0");
  assert_figure (farm, &got, BED_FIGURE_BATCH_PICKED_IN_ALL, 3, "3.0");
}

/* By hand: ten logs of which one is picked alone, 5 kg of spawn bought less 2.5 used of 10. */
static void
test_table_of_farm_and_log (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;
  BedFigureAnswers got;
  g_autoptr (GError) error = NULL;
  gint64 log;

  scene_batch (farm, 10);
  add_crop (farm);
  g_assert_true (bed_query_one (farm, "SELECT min (id) FROM log", 0, &log, &error));
  g_autoptr (BedRecord) record = bed_farm_load (farm, BED_KIND_LOG, log, &error);
  scene_add (farm, scene_record (farm, BED_KIND_PICK, "picked_on", "2026-05-12", "log",
                                 bed_record_get_text (record, "code"), "grade", "A", "mass", "500",
                                 NULL));
  g_assert_true (
      bed_figures_read_farm (farm, BED_FIGURE_FARM_FIRST, BED_FIGURE_FARM_LAST, &got, &error));
  g_assert_no_error (error);
  assert_figure (farm, &got, BED_FIGURE_LOGS_WAITING, 0, "0");
  g_assert_true (isnan (got.values[BED_FIGURE_DAYS_WAITING]));
  assert_figure (farm, &got, BED_FIGURE_SPAWN_LEFT, 7.5, "7.5");
  assert_figure (farm, &got, BED_FIGURE_LOGS_IN_TANK, 0, "0");
  /* The others are in their spawn run. */
  assert_figure (farm, &got, BED_FIGURE_LOGS_RESTED, 1, "1");
  assert_figure (farm, &got, BED_FIGURE_PEOPLE, 1, "1");
  g_assert_true (bed_figures_read_log (farm, log, &got, &error));
  g_assert_true (bed_figures_read_log_season (farm, log, 2026, &got, &error));
  /* 0.5 kg and a tenth of 3. */
  assert_figure (farm, &got, BED_FIGURE_LOG_PICKED_IN_ALL, 0.8, "0.80");
  assert_figure (farm, &got, BED_FIGURE_LOG_PICKED, 0.8, "0.80");
  assert_figure (farm, &got, BED_FIGURE_LOG_AGE, 0, "0");
  assert_figure (farm, &got, BED_FIGURE_LOG_SOAKS, 0, "0");
  assert_figure (farm, &got, BED_FIGURE_LOG_STAGE, BED_STAGE_READY, "ready");
  g_assert_true (bed_figures_read_log_season (farm, log, 2027, &got, &error));
  assert_figure (farm, &got, BED_FIGURE_LOG_PICKED, 0, "0.00");
  assert_figure (farm, &got, BED_FIGURE_LOG_AGE, 1, "1");
}

/* Sunday is still of Monday's week; another week has nothing due and, far off, nothing to expect.
 */
static void
test_table_of_week (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;
  BedFigureAnswers got;
  g_autoptr (GError) error = NULL;

  scene_batch (farm, 10);
  add_crop (farm);
  bed_farm_fix_clock (farm, "2026-05-13T09:00", 3);
  g_assert_true (bed_figures_read_week (farm, "2026-05-17", &got, &error));
  g_assert_no_error (error);
  assert_figure (farm, &got, BED_FIGURE_WEEK_PICKED, 3, "3.0");
  assert_figure (farm, &got, BED_FIGURE_WEEK_EXPECTED, 0, "0.0");
  g_assert_false (isnan (got.values[BED_FIGURE_WEEK_LOGS_DUE]));
  g_assert_true (bed_figures_read_week (farm, "2026-05-18", &got, &error));
  assert_figure (farm, &got, BED_FIGURE_WEEK_PICKED, 0, "0.0");
  g_assert_true (isnan (got.values[BED_FIGURE_WEEK_OVERDUE]));
  g_assert_true (bed_figures_read_week (farm, "2025-05-18", &got, &error));
  g_assert_true (isnan (got.values[BED_FIGURE_WEEK_EXPECTED]));
}

/* Keys are unique within their scope and each has its words. */
static void
test_table_is_whole (void)
{
  for (BedFigureId id = 0; id < BED_N_FIGURES; id++)
    {
      const BedFigure *figure = bed_figure_get (id);

      g_assert_cmpint (bed_figure_find (figure->scope, figure->key), ==, id);
      g_assert_cmpuint (strlen (figure->label), >, 0);
      g_assert_true (g_str_has_suffix (figure->sentence, "."));
    }
  g_assert_cmpint (bed_figure_find (BED_FIGURE_OF_SEASON, "logs_made"), ==, BED_N_FIGURES);
}

static void
test_parts_sum (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;
  BedSeason season;

  scene_batch (farm, 3);
  add_money (farm);
  for (int year = 2024; year <= 2031; year++)
    {
      g_autoptr (GPtrArray) categories = bed_season_by_category (farm, year, NULL);
      g_autoptr (GPtrArray) purposes = bed_season_by_purpose (farm, year, NULL);
      gint64 a = 0, b = 0;
      g_assert_true (bed_season_read (farm, year, &season, NULL));
      for (guint i = 0; i < categories->len; i++)
        a += ((BedSeasonPart *) categories->pdata[i])->amount;
      for (guint i = 0; i < purposes->len; i++)
        b += ((BedSeasonPart *) purposes->pdata[i])->amount;
      g_assert_cmpint (a, ==, season.cost);
      g_assert_cmpint (b, ==, season.cost);
      /* Bought in 2025, five years of life: 2025 to 2029. */
      g_assert_cmpint (season.equipment, ==, year >= 2025 && year <= 2029 ? 1000 : 0);
    }
}

/* 0.4 of 1000.00, of 600.00 and of 360.00, then 216.00 less what the tub is worth at the end. */
static void
test_declining (Scene *scene, gconstpointer units)
{
  static const gint64 charges[] = { 0, 40000, 24000, 14400, 8640, 2960, 0 };
  BedSeason season;

  scene_add (scene->farm,
             scene_record (scene->farm, BED_KIND_EQUIPMENT, "what", "Tub", "bought_on",
                           "2025-02-01", "price", "1000", "salvage", "100", "life_years", "5",
                           "method", "declining balance, 200 %", NULL));
  for (int i = 0; i < 7; i++)
    {
      g_assert_true (bed_season_read (scene->farm, 2024 + i, &season, NULL));
      g_assert_cmpint (season.equipment, ==, charges[i]);
    }
}

static void
test_empty (Scene *scene, gconstpointer units)
{
  BedSeason season;
  int first, last;

  g_assert_true (bed_season_read (scene->farm, 2026, &season, NULL));
  g_assert_cmpint (season.cost, ==, 0);
  g_assert_true (bed_season_range (scene->farm, &first, &last, NULL));
  g_assert_cmpint (first, ==, 2026);
  g_assert_cmpint (last, ==, 2026);
}

static void
test_range (Scene *scene, gconstpointer units)
{
  int first, last;

  scene_batch (scene->farm, 1);
  add_money (scene->farm);
  g_assert_true (bed_season_range (scene->farm, &first, &last, NULL));
  g_assert_cmpint (first, ==, 2025);
  g_assert_cmpint (last, ==, 2026);
}

/* The key "yard" is a category and a purpose, with a word for each. */
static void
test_labels (Scene *scene, gconstpointer units)
{
  scene_add (scene->farm,
             scene_record (scene->farm, BED_KIND_PURCHASE, "bought_on", "2026-03-02", "category",
                           "yard", "what", "Shade cloth", "amount", "80", "scope", "yard", NULL));
  g_autoptr (GPtrArray) categories = bed_season_by_category (scene->farm, 2026, NULL);
  g_autoptr (GPtrArray) purposes = bed_season_by_purpose (scene->farm, 2026, NULL);
  scene_batch (scene->farm, 1);
  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_PURCHASE, "bought_on", "2026-03-02",
                                        "category", "wax", "what", "Wax", "amount", "8", "scope",
                                        "batch", "batch", "26A", NULL));
  g_autoptr (GPtrArray) more = bed_season_by_purpose (scene->farm, 2026, NULL);
  g_assert_cmpstr (((BedSeasonPart *) more->pdata[1])->label, ==, "single batches");
  g_assert_cmpstr (((BedSeasonPart *) categories->pdata[0])->label, ==, "yard and shade");
  g_assert_cmpstr (((BedSeasonPart *) purposes->pdata[0])->label, ==, "the whole yard");
}

static void
add_pick (BedFarm *farm, const char *day, const char *grams)
{
  scene_add (farm, scene_record (farm, BED_KIND_PICK, "picked_on", day, "batch", "26A", "grade",
                                 "A", "mass", grams, NULL));
}

/* Weeks run from Monday; the first is that of the season's first day, here Thu 1 Jan. */
static void
test_weeks (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;
  g_autoptr (GError) error = NULL;

  scene_batch (farm, 2);
  g_autoptr (GArray) none = bed_season_weeks_read (farm, 2026, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (none->len, ==, 1);
  add_pick (farm, "2026-05-10", "500 g"); /* a Sunday */
  add_pick (farm, "2026-05-11", "300 g");
  add_pick (farm, "2026-05-12", "200 g");
  g_autoptr (GArray) seasons = bed_season_weeks_read (farm, 2026, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (seasons->len, ==, 1);
  const BedSeasonWeeks *of = &g_array_index (seasons, BedSeasonWeeks, 0);
  int week = bed_season_week_of (farm, "2026-05-11");
  g_assert_cmpint (week, ==, 19); /* 19 Mondays after 29 Dec 2025 */
  g_assert_cmpint (of->season, ==, 2026);
  g_assert_cmpfloat (of->mass[week - 1], ==, 500e3);
  g_assert_cmpfloat (of->mass[week], ==, 500e3);
  g_assert_cmpfloat (of->mass[week + 1], ==, 0);
  g_assert_cmpint (bed_season_week_of (farm, "2026-01-01"), ==, 0);
  g_assert_cmpint (bed_season_week_of (farm, "2026-12-31"), ==, 52);
  /* A total of three weeks is of the season, and of none of them. */
  g_assert_cmpfloat (of->of_no_week, ==, 0);
  scene_add (farm,
             scene_record (farm, BED_KIND_PICK, "since", "2026-04-20", "picked_on", "2026-05-08",
                           "batch", "26A", "grade", "unknown", "mass", "4 kg", NULL));
  g_autoptr (GArray) totals = bed_season_weeks_read (farm, 2026, &error);
  g_assert_cmpfloat (g_array_index (totals, BedSeasonWeeks, 0).of_no_week, ==, 4e6);
  g_assert_cmpfloat (g_array_index (totals, BedSeasonWeeks, 0).mass[week - 1], ==, 500e3);
  g_autoptr (GArray) before = bed_season_weeks_read (farm, 2025, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (before->len, ==, 1);
  g_assert_cmpfloat (g_array_index (before, BedSeasonWeeks, 0).mass[week], ==, 0);
}

static const BedBatchGlance *
glance (BedFarm *farm, gint64 batch)
{
  g_autoptr (GError) error = NULL;
  const BedBatchGlances *all = bed_batch_glances_get (farm, &error);

  g_assert_no_error (error);
  return g_hash_table_lookup (all->batches, &batch);
}

static void
retire (BedFarm *farm, const char *code, const char *day)
{
  gint64 id = bed_farm_find (farm, BED_KIND_LOG, code, NULL);
  g_autoptr (BedRecord) log = bed_farm_load (farm, BED_KIND_LOG, id, NULL);

  bed_record_set_text (log, "retired_on", day);
  bed_record_set_text (log, "retired_why", "spent");
  scene_add (farm, g_object_ref (log));
}

/* Inoculated 2026-03-01, which is 72 days before today. */
static void
test_glance (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;
  gint64 batch = scene_batch (farm, 4);
  const BedBatchGlance *seen = glance (farm, batch);

  g_assert_cmpint (seen->age, ==, 72);
  g_assert_cmpint (seen->first_day, ==, -1);
  g_assert_cmpuint (seen->losses->len, ==, 0);
  g_assert_cmpfloat (seen->weeks[52], ==, 0);
  add_pick (farm, "2026-05-03", "200 g"); /* a Sunday: the week before the last */
  add_pick (farm, "2026-05-11", "500 g");
  retire (farm, "26A-002", "2026-04-01");
  seen = glance (farm, batch);
  g_assert_cmpint (seen->first_day, ==, 63);
  g_assert_cmpfloat (seen->weeks[50], ==, 200e3);
  g_assert_cmpfloat (seen->weeks[51], ==, 0);
  g_assert_cmpfloat (seen->weeks[52], ==, 500e3);
  g_assert_cmpuint (seen->losses->len, ==, 1);
  const BedBatchLoss *loss = &g_array_index (seen->losses, BedBatchLoss, 0);
  g_assert_cmpint (loss->day, ==, 31);
  g_assert_cmpfloat (loss->alive, ==, 0.75);
  g_assert_false (seen->spent);
  /* Forced, it bears from the first soak on. A total of weeks is in none of them. */
  scene_add (farm, scene_record (farm, BED_KIND_SOAK, "tank", "Trough", "put_in",
                                 "2026-04-20T08:00", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_SOAKED, "soak", "K26-1", "log", "26A-001", NULL));
  scene_add (farm,
             scene_record (farm, BED_KIND_PICK, "since", "2026-04-20", "picked_on", "2026-05-08",
                           "batch", "26A", "grade", "unknown", "mass", "4 kg", NULL));
  seen = glance (farm, batch);
  g_assert_cmpint (seen->first_day, ==, 50);
  g_assert_cmpfloat (seen->weeks[51], ==, 0);
  retire (farm, "26A-001", "2026-05-01");
  retire (farm, "26A-003", "2026-05-01");
  retire (farm, "26A-004", "2026-05-02");
  seen = glance (farm, batch);
  g_assert_true (seen->spent);
  g_assert_cmpint (seen->age, ==, 62);
}

/* "2026-03-01 1 26A 4", a line an event */
static char *
dup_life (GPtrArray *events)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < events->len; i++)
    {
      const BedLifeEvent *event = events->pdata[i];
      g_string_append_printf (text, "%s %d %s %d %.0f\n", event->day, event->kind,
                              event->what ? event->what : "-", (int) event->logs, event->amount);
    }
  return g_string_free (text, FALSE);
}

static void
test_life (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;
  gint64 batch = scene_batch (farm, 2), log = bed_farm_find (farm, BED_KIND_LOG, "26A-001", NULL);

  scene_add (farm, scene_record (farm, BED_KIND_AREA, "name", "Low yard", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_STACK, "name", "Crib 1", "area", "Low yard", "kind",
                                 "crib", "built_on", "2026-03-01", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_PLACE, "log", "26A-001", "stack", "Crib 1", "since",
                                 "2026-03-02", "until", "2026-03-09", NULL));
  /* Moved within its stack, which is no event. */
  scene_add (farm, scene_record (farm, BED_KIND_PLACE, "log", "26A-001", "stack", "Crib 1", "since",
                                 "2026-03-09", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_PLACE, "log", "26A-002", "stack", "Crib 1", "since",
                                 "2026-03-02", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_SOAK, "tank", "Trough", "put_in",
                                 "2026-04-20T08:00", "taken_out", "2026-04-21T08:00", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_SOAKED, "soak", "K26-1", "log", "26A-001", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_PICK, "picked_on", "2026-05-01", "stack", "Crib 1",
                                 "grade", "A", "mass", "500 g", NULL));
  retire (farm, "26A-001", "2026-05-02");
  g_autoptr (GPtrArray) of_log = bed_life_of_log (farm, log, NULL);
  g_autofree char *log_life = dup_life (of_log);
  g_assert_cmpstr (log_life, ==,
                   "2026-02-01 0 F26-1 1 0\n2026-03-01 1 26A 1 0\n2026-03-02 2 Crib 1 1 0\n"
                   "2026-04-20 3 Trough 1 0\n2026-05-01 4 - 1 250000\n"
                   "2026-05-02 7 spent 1 0\n");
  g_autoptr (GPtrArray) of_batch = bed_life_of_batch (farm, batch, NULL);
  g_autofree char *batch_life = dup_life (of_batch);
  g_assert_cmpstr (batch_life, ==,
                   "2026-02-01 0 F26-1 2 0\n2026-03-01 1 26A 2 0\n2026-03-02 2 Crib 1 2 0\n"
                   "2026-03-09 2 Crib 1 1 0\n2026-04-20 3 Trough 1 0\n"
                   "2026-05-01 4 - 0 500000\n2026-05-02 7 spent 1 0\n");
}

/* A total is from its first day until its last, beside the days. */
static void
test_life_of_totals (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;
  gint64 batch = scene_batch (farm, 2), log = bed_farm_find (farm, BED_KIND_LOG, "26A-001", NULL);
  static const char *const since[] = { "2026-04-01", NULL };

  for (gsize i = 0; i < G_N_ELEMENTS (since); i++)
    {
      g_autoptr (BedRecord) pick = scene_record (farm, BED_KIND_PICK, "picked_on", "2026-05-01",
                                                 "batch", "26A", "grade", "A", "mass", "500", NULL);
      bed_record_set_text (pick, "since", since[i]);
      scene_add (farm, g_steal_pointer (&pick));
    }
  g_autoptr (GPtrArray) of_log = bed_life_of_log (farm, log, NULL);
  g_autoptr (GPtrArray) of_batch = bed_life_of_batch (farm, batch, NULL);
  g_autofree char *log_life = dup_life (of_log), *batch_life = dup_life (of_batch);
  g_assert_nonnull (strstr (log_life, "2026-04-01 4 - 1 250000\n2026-05-01 4 - 1 250000\n"));
  g_assert_nonnull (strstr (batch_life, "2026-04-01 4 - 0 500000\n2026-05-01 4 - 0 500000\n"));
  for (guint i = 0; i < of_batch->len; i++)
    {
      const BedLifeEvent *event = of_batch->pdata[i];
      if (event->kind == BED_LIFE_PICKED)
        g_assert_cmpstr (event->until, ==,
                         strcmp (event->day, "2026-04-01") == 0 ? "2026-05-01" : NULL);
    }
}

static void
remember_cb (BedFarm *farm, guint64 kinds, double *most)
{
  *most = bed_batch_glances_get (farm, NULL)->most;
}

/* Who is told of a change and asks again gets what is so now, in whatever order they are told. */
static void
test_kept (Scene *scene, gconstpointer units)
{
  double most = -1;

  scene_batch (scene->farm, 2);
  g_signal_connect (scene->farm, "changed", G_CALLBACK (remember_cb), &most);
  g_assert_cmpfloat (bed_batch_glances_get (scene->farm, NULL)->most, ==, 0);
  add_pick (scene->farm, "2026-05-11", "500 g");
  g_assert_cmpfloat (most, ==, 500e3);
  g_assert_true (bed_batch_glances_get (scene->farm, NULL)
                 == bed_batch_glances_get (scene->farm, NULL));
  bed_farm_fix_clock (scene->farm, "2026-05-19T09:00", 7);
  const BedBatchGlances *later = bed_batch_glances_get (scene->farm, NULL);
  g_assert_cmpint (later->oldest, ==, 79);
}

#define ADD(path, test)                                                                            \
  g_test_add ("/season/" path, Scene, NULL, scene_set_up, test, scene_tear_down)

/* Each step of a trace can be asked, and a column is there for each of its cells. */
static void
test_trace_columns (Scene *scene, gconstpointer units)
{
  guint n = 0;

  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    for (const BedTraceStep *step = NULL; (step = bed_trace_next (kind, step)); n++)
      {
        g_autoptr (BedQuery) q = bed_trace_ask (scene->farm, step, 1);
        g_autoptr (GError) error = NULL;
        int columns = 0;

        for (; step->columns[columns].key; columns++)
          g_assert_cmpint (bed_trace_find_column (step, step->columns[columns].key), ==, columns);
        g_test_message ("%s %s", bed_kind_get_info (kind)->name, step->key);
        g_assert_cmpint (bed_query_n_columns (q), ==, columns);
        g_assert_true (bed_query_finish (q, &error));
        g_assert_no_error (error);
        g_assert_true (bed_trace_find (kind, step->key) == step);
      }
  g_assert_cmpuint (n, ==, 22);
}

/* A log lay where its stack stood: in another area until it was moved. */
static void
test_trace_places (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;
  static const char *const wanted[][3] = { { "Winter yard", "2026-03-02", "2026-04-10" },
                                           { "Laying yard", "2026-04-10", "2026-05-01" } };

  scene_batch (farm, 1);
  scene_add (farm, scene_record (farm, BED_KIND_AREA, "name", "Laying yard", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_AREA, "name", "Winter yard", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_STACK, "name", "Crib 1", "area", "Laying yard",
                                 "kind", "crib", "built_on", "2026-03-01", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_STOOD, "stack", "Crib 1", "area", "Winter yard",
                                 "until", "2026-04-10", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_PLACE, "log", "26A-001", "stack", "Crib 1", "since",
                                 "2026-03-02", "until", "2026-05-01", NULL));
  gint64 log = bed_farm_find (farm, BED_KIND_LOG, "26A-001", NULL);
  g_autoptr (BedQuery) q = bed_trace_ask (farm, bed_trace_find (BED_KIND_LOG, "places"), log);
  for (guint i = 0; i < G_N_ELEMENTS (wanted); i++)
    {
      g_assert_true (bed_query_next (q));
      g_assert_cmpstr (bed_query_text (q, 1), ==, wanted[i][0]);
      g_assert_cmpstr (bed_query_text (q, 4), ==, wanted[i][1]);
      g_assert_cmpstr (bed_query_text (q, 5), ==, wanted[i][2]);
    }
  g_assert_false (bed_query_next (q));
  g_assert_true (bed_query_finish (q, NULL));
}

static void
set_rate (BedFarm *farm, gint64 rate)
{
  g_autoptr (BedRecord) settings = bed_farm_load (farm, BED_KIND_FARM, 1, NULL);
  g_autoptr (GError) error = NULL;

  bed_record_set_int (settings, "labour_rate", rate);
  bed_edit_put_one (farm, settings, "Changed the farm", &error);
  g_assert_no_error (error);
}

static gint64
ask_labour (BedFarm *farm, int season)
{
  BedSeason figures;

  g_assert_true (bed_season_read (farm, season, &figures, NULL));
  return figures.labour;
}

/* Two hours in each of two seasons, at 18.00. */
static void
add_hours (BedFarm *farm)
{
  scene_add (farm, scene_record (farm, BED_KIND_HOURS, "worked_on", "2025-06-01", "task", "picking",
                                 "minutes", "2 h", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_HOURS, "worked_on", "2026-05-12", "task", "picking",
                                 "minutes", "2 h", NULL));
}

/* A labour rate holds from the day it is set; taken back, and changed twice a day. */
static void
test_rate_holds_from (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;
  g_autoptr (GError) error = NULL;

  add_hours (farm);
  set_rate (farm, 2500);
  g_assert_cmpint (ask_labour (farm, 2025), ==, 3600);
  g_assert_cmpint (ask_labour (farm, 2026), ==, 5000);
  set_rate (farm, 2600);
  g_assert_cmpint (bed_farm_count (farm, BED_KIND_RATE), ==, 1);
  g_assert_cmpint (ask_labour (farm, 2025), ==, 3600);
  g_assert_cmpint (ask_labour (farm, 2026), ==, 5200);
  g_assert_true (bed_history_undo (farm, NULL, &error));
  g_assert_no_error (error);
  g_assert_true (bed_history_undo (farm, NULL, &error));
  g_assert_no_error (error);
  g_assert_cmpint (bed_farm_count (farm, BED_KIND_RATE), ==, 0);
  g_assert_cmpint (ask_labour (farm, 2026), ==, 3600);
}

/* What is entered late is paid at the rate of its day; a rate may be said for a day before. */
static void
test_rate_of_the_day (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;

  set_rate (farm, 2500); /* no hours were paid at the other */
  g_assert_cmpint (bed_farm_count (farm, BED_KIND_RATE), ==, 0);
  scene_add (farm,
             scene_record (farm, BED_KIND_RATE, "until", "2026-01-01", "rate", "20.00", NULL));
  scene_add (farm,
             scene_record (farm, BED_KIND_RATE, "until", "2025-01-01", "rate", "15.00", NULL));
  add_hours (farm);
  scene_add (farm, scene_record (farm, BED_KIND_HOURS, "worked_on", "2024-12-31", "task", "other",
                                 "minutes", "1 h", NULL));
  g_assert_cmpint (ask_labour (farm, 2024), ==, 1500);
  g_assert_cmpint (ask_labour (farm, 2025), ==, 4000);
  g_assert_cmpint (ask_labour (farm, 2026), ==, 5000);
  scene_refuses (farm,
                 scene_record (farm, BED_KIND_RATE, "until", "2025-01-01", "rate", "9.00", NULL),
                 "until", "entered already");
}

/* A batch without single logs has its crop in the season, but none a log. */
static void
test_without_logs (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;

  scene_add (farm, scene_record (farm, BED_KIND_BATCH, "code", "25Z", "inoculated_on", "2025-06-01",
                                 "method", "drilled", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_PICK, "picked_on", "2026-05-01", "batch", "25Z",
                                 "grade", "A", "mass", "3 kg", NULL));
  g_autoptr (BedQuery) q
      = bed_query_new (farm, "SELECT season, logs, mass, mass_per_log FROM batch_season");
  g_assert_true (bed_query_next (q));
  g_assert_cmpint (bed_query_int (q, 0), ==, 2026);
  g_assert_cmpint (bed_query_int (q, 1), ==, 0);
  g_assert_cmpint (bed_query_int (q, 2), ==, 3000000);
  g_assert_true (bed_query_is_null (q, 3));
  g_assert_false (bed_query_next (q));
  g_autoptr (BedQuery) whole = bed_query_new (farm, "SELECT logs, picked FROM batch_summary");
  g_assert_true (bed_query_next (whole));
  g_assert_cmpint (bed_query_int (whole, 0), ==, 0);
  g_assert_cmpint (bed_query_int (whole, 1), ==, 3000000);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  ADD ("labels", test_labels);
  ADD ("figures", test_figures);
  ADD ("table-of-season", test_table_of_season);
  ADD ("table-of-farm-and-log", test_table_of_farm_and_log);
  ADD ("table-of-week", test_table_of_week);
  ADD ("table-of-batch", test_table_of_batch);
  g_test_add_func ("/season/table-is-whole", test_table_is_whole);
  ADD ("parts-sum", test_parts_sum);
  ADD ("declining", test_declining);
  ADD ("empty", test_empty);
  ADD ("range", test_range);
  ADD ("trace-columns", test_trace_columns);
  ADD ("trace-places", test_trace_places);
  ADD ("rate-holds-from", test_rate_holds_from);
  ADD ("rate-of-the-day", test_rate_of_the_day);
  ADD ("without-logs", test_without_logs);
  ADD ("weeks", test_weeks);
  ADD ("glance", test_glance);
  ADD ("kept", test_kept);
  ADD ("life", test_life);
  ADD ("life-of-totals", test_life_of_totals);
  return g_test_run ();
}
