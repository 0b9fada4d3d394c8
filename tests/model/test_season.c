/* The season in figures. */
#include "model_test.h"

#include "model/season/season.h"
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
  g_assert_cmpfloat (bed_season_cost_per_log (&season), ==, 810);
  g_assert_cmpfloat (bed_season_break_even (&season), ==, 4050);
  g_assert_cmpfloat (bed_season_hours_per_kg (&season), ==, 1);
  g_assert_cmpfloat (bed_season_mg_per_log (&season), ==, 200000);
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

static void
test_empty (Scene *scene, gconstpointer units)
{
  BedSeason season;
  int first, last;

  g_assert_true (bed_season_read (scene->farm, 2026, &season, NULL));
  g_assert_cmpint (season.cost, ==, 0);
  g_assert_cmpfloat (bed_season_break_even (&season), ==, 0);
  g_assert_cmpfloat (bed_season_cost_per_log (&season), ==, 0);
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

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  ADD ("labels", test_labels);
  ADD ("figures", test_figures);
  ADD ("parts-sum", test_parts_sum);
  ADD ("empty", test_empty);
  ADD ("range", test_range);
  ADD ("trace-columns", test_trace_columns);
  return g_test_run ();
}
