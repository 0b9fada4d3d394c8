/* The rules of the trade that SQL asks all over: their edges, and that those who ask agree. */
#include "model_test.h"

#include "model/farm/names.h"
#include "model/farm/source.h"
#include "model/season/season.h"
#include "model/season/soak_plan.h"
#include "model/work/due.h"

static void
assert_answers (BedFarm *farm, const char *asked, const char *expected)
{
  g_autofree char *sql = g_strdup_printf ("SELECT %s", asked);
  g_autoptr (BedQuery) q = bed_query_new (farm, sql);

  g_assert_true (bed_query_next (q));
  g_assert_cmpstr (bed_query_text (q, 0), ==, expected);
}

/* On the day a log is retired it is not alive, and that day is the last of its time. */
static void
test_alive (Scene *scene, gconstpointer units)
{
  assert_answers (scene->farm, "bed_alive (NULL, '2026-05-12')", "1");
  assert_answers (scene->farm, "bed_alive ('2026-05-13', '2026-05-12')", "1");
  assert_answers (scene->farm, "bed_alive ('2026-05-12', '2026-05-12')", "0");
  assert_answers (scene->farm, "bed_alive ('2026-05-11', '2026-05-12')", "0");
  assert_answers (scene->farm, "bed_stood (NULL, '2026-01-01')", "1");
  assert_answers (scene->farm, "bed_stood ('2026-01-02', '2026-01-01')", "1");
  assert_answers (scene->farm, "bed_stood ('2026-01-01', '2026-01-01')", "1");
  assert_answers (scene->farm, "bed_stood ('2025-12-31', '2026-01-01')", "0");
}

static void
test_lies (Scene *scene, gconstpointer units)
{
  assert_answers (scene->farm, "bed_lies ('2026-05-12', NULL, '2026-05-11')", "0");
  assert_answers (scene->farm, "bed_lies ('2026-05-12', NULL, '2026-05-12')", "1");
  assert_answers (scene->farm, "bed_lies ('2026-05-12', '2026-05-14', '2026-05-13')", "1");
  assert_answers (scene->farm, "bed_lies ('2026-05-12', '2026-05-14', '2026-05-14')", "0");
  assert_answers (scene->farm, "bed_lies ('2026-05-12', '2026-05-12', '2026-05-12')", "0");
  assert_answers (scene->farm, "bed_lies (NULL, NULL, '2026-05-12')", "0");
}

/* The days SQLite's own date () gives. */
static void
test_over (Scene *scene, gconstpointer units)
{
  static const char *days[] = { "2024-02-29", "2025-12-31", "2026-01-31", "2026-03-01" };

  for (gsize i = 0; i < G_N_ELEMENTS (days); i++)
    for (int n = 1; n <= 24; n++)
      {
        g_autofree char *sql
            = g_strdup_printf ("bed_run_over (0, '%s', %d) = date ('%s', '+%d months')"
                               " AND bed_rest_over ('%sT08:00', %d) = date ('%s', '+%d days')",
                               days[i], n, days[i], n, days[i], n, days[i], 7 * n);
        assert_answers (scene->farm, sql, "1");
      }
  assert_answers (scene->farm, "bed_run_over (0, '2026-03-01', NULL)", "2027-03-01");
  assert_answers (scene->farm, "bed_flush_over ('2026-05-12T08:00')", "2026-05-26");
  assert_answers (scene->farm,
                  "coalesce (bed_flush_over (NULL), bed_rest_over (NULL, 8),"
                  " bed_run_over (0, NULL, 6), bed_run_over (0, 'in spring', 6), 'none')",
                  "none");
}

/* 50 minutes at 18.00 are 15.00, a minute is 0.30; at 0.29 an hour half a cent is one. */
static void
test_costs (Scene *scene, gconstpointer units)
{
  scene_batch (scene->farm, 1);
  scene_add (scene->farm,
             scene_record (scene->farm, BED_KIND_HOURS, "worked_on", "2026-05-01", "task", "moving",
                           "minutes", "50 min", "rate", "18.00", "batch", "26A", NULL));
  scene_add (scene->farm,
             scene_record (scene->farm, BED_KIND_HOURS, "worked_on", "2026-05-02", "task", "moving",
                           "minutes", "30 min", "rate", "0.29", "batch", "26A", NULL));
  assert_answers (scene->farm, "group_concat (cost) FROM hours_paid", "1500,15");
  assert_answers (scene->farm, "labour FROM batch_cost", "1515");
  /* A quarter of the lot of 90.00. */
  assert_answers (scene->farm, "cost FROM spawn_share", "2250");
  /* A kilogram of the ten is thrown away: gone from the store, a loss of a tenth of the cost that
   * no batch has. */
  scene_add (scene->farm,
             scene_record (scene->farm, BED_KIND_SPAWN_GONE, "spawn", "S26-1", "gone_on",
                           "2026-05-01", "why", "spoiled", "mass", "1 kg", NULL));
  assert_answers (scene->farm, "mass_left FROM spawn_left", "6500000");
  assert_answers (scene->farm, "cost FROM spawn_share WHERE batch IS NULL", "900");
  assert_answers (scene->farm, "spawn FROM batch_cost", "2250");
  BedSeason season;
  g_assert_true (bed_season_read (scene->farm, 2026, &season, NULL));
  g_assert_cmpint (season.spawn, ==, 2250 + 900);
}

static void
retire (BedFarm *farm, const char *code, const char *day)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BedRecord) log
      = bed_farm_load (farm, BED_KIND_LOG, bed_farm_find (farm, BED_KIND_LOG, code, NULL), &error);

  g_assert_no_error (error);
  bed_record_set_text (log, "retired_on", day);
  bed_record_set_text (log, "retired_why", "rotted");
  bed_edit_put_one (farm, log, "Retired a log", &error);
  g_assert_no_error (error);
}

static guint
count_logs_to_soak (BedFarm *farm)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) items = bed_due_list (farm, &error);

  g_assert_no_error (error);
  for (guint i = 0; i < items->len; i++)
    if (((BedDueItem *) items->pdata[i])->rule->id == BED_DUE_SOAK)
      return ((BedDueItem *) items->pdata[i])->logs;
  return 0;
}

/* Everyone who counts the logs alive has the same number. */
static void
assert_alive (BedFarm *farm, guint expected)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) found = bed_source_find_logs (farm, "26A", &error);
  g_autoptr (BedSoakPlan) plan = bed_soak_plan_new (farm, &error);
  g_autofree char *number = g_strdup_printf ("%u", expected);

  g_assert_no_error (error);
  assert_answers (farm, "logs_alive FROM batch_summary", number);
  assert_answers (farm, "count (*) FROM log_today WHERE stage <> 'retired'", number);
  assert_answers (farm, "count (*) FROM log_waiting", number);
  assert_answers (farm, "logs FROM felling_summary", number);
  g_assert_cmpuint (found->len, ==, expected);
  g_assert_cmpuint (((BedSoakGroup *) plan->groups->pdata[0])->logs, ==, expected);
  g_assert_cmpuint (count_logs_to_soak (farm), ==, expected);
}

/* A farm of a machine whose clock ran ahead: the log retired there tomorrow is alive today. */
static void
test_clock_ahead (Scene *scene, gconstpointer units)
{
  scene_batch (scene->farm, 10);
  bed_farm_fix_clock (scene->farm, "2026-09-10T09:00", 3);
  retire (scene->farm, "26A-001", "2026-09-10");
  assert_alive (scene->farm, 9);
  bed_farm_fix_clock (scene->farm, "2026-09-09T09:00", 3);
  assert_alive (scene->farm, 10);
}

#define ADD(path, test)                                                                            \
  g_test_add ("/trade/" path, Scene, "metric", scene_set_up, test, scene_tear_down)

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  ADD ("alive", test_alive);
  ADD ("lies", test_lies);
  ADD ("over", test_over);
  ADD ("costs", test_costs);
  ADD ("clock-ahead", test_clock_ahead);
  return g_test_run ();
}
