#include "model_test.h"

#include <string.h>

#include "model/farm/run.h"
#include "model/farm/stage.h"
#include "model/season/soak_plan.h"
#include "model/work/due.h"

static void
test_keys (void)
{
  for (BedStage stage = 0; stage < BED_N_STAGES; stage++)
    g_assert_cmpstr (bed_stage_get_word (stage), !=, "");
  g_assert_cmpint (bed_stage_from_key (NULL), ==, BED_STAGE_UNKNOWN);
  g_assert_cmpint (bed_stage_from_key ("asleep"), ==, BED_STAGE_UNKNOWN);
}

/* What the view answers is in the table. */
static void
test_view (Scene *scene, gconstpointer data)
{
  gint64 batch = scene_batch (scene->farm, 3);
  g_autoptr (BedQuery) q = bed_query_new (scene->farm,
                                          "SELECT stage FROM log_today UNION ALL"
                                          " SELECT stage FROM batch_summary WHERE id = ?1");
  guint n = 0;

  bed_query_bind_int (q, 1, batch);
  for (; bed_query_next (q); n++)
    g_assert_cmpint (bed_stage_from_key (bed_query_text (q, 0)), ==, BED_STAGE_SPAWN_RUN);
  g_assert_true (bed_query_finish (q, NULL));
  g_assert_cmpuint (n, ==, 4);
}

static char *
dup_text (BedFarm *farm, const char *sql)
{
  g_autoptr (BedQuery) q = bed_query_new (farm, sql);

  g_assert_true (bed_query_next (q));
  return g_strdup (bed_query_text (q, 0));
}

static GArray *
dup_logs (BedFarm *farm)
{
  g_autoptr (BedQuery) q = bed_query_new (farm, "SELECT id FROM log ORDER BY id");
  GArray *ids = g_array_new (FALSE, FALSE, sizeof (gint64));

  while (bed_query_next (q))
    {
      gint64 id = bed_query_int (q, 0);
      g_array_append_val (ids, id);
    }
  return ids;
}

static void
retire (BedFarm *farm, gint64 id)
{
  g_autoptr (BedRecord) log = bed_farm_load (farm, BED_KIND_LOG, id, NULL);
  g_autoptr (GError) error = NULL;

  bed_record_set_text (log, "retired_on", "2026-05-01");
  bed_record_set_text (log, "retired_why", "spent");
  bed_edit_put_one (farm, log, "Retired the log", &error);
  g_assert_no_error (error);
}

/* Most logs are gone, some live: the batch is what those are. */
static void
test_batch_lives (Scene *scene, gconstpointer data)
{
  BedFarm *farm = scene->farm;

  scene_batch (farm, 3);
  g_autoptr (GArray) ids = dup_logs (farm);
  for (guint i = 0; i < ids->len; i++)
    {
      retire (farm, g_array_index (ids, gint64, i));
      g_autofree char *stage = dup_text (farm, "SELECT stage FROM batch_summary");
      g_assert_cmpstr (stage, ==, i + 1 < ids->len ? "spawn run" : "retired");
    }
}

/* What one place calls ready all do: the logs, the soaks, what is due, the care of the batch. */
static void
expect_ready (BedFarm *farm, gint64 batch, gint64 logs)
{
  g_autofree char *ready = dup_text (farm, "SELECT count (*) FROM log_today WHERE stage = 'ready'");
  g_autofree char *forced = dup_text (farm, "SELECT count (*) FROM log_forced WHERE inside = 0"
                                            " AND ready_on <= bed_today ()");
  g_autoptr (GPtrArray) due = bed_due_list (farm, NULL);
  g_auto (BedRun) run = { 0 };
  g_autoptr (BedSoakPlan) plan = bed_soak_plan_new (farm, NULL);
  guint soaking = 0;
  gint64 now = 0;

  for (guint i = 0; i < due->len; i++)
    {
      const BedDueItem *item = due->pdata[i];
      if (item->rule->id == BED_DUE_SOAK && item->state <= BED_DUE_TODAY)
        now += item->logs;
    }
  for (guint i = 0; i < plan->groups->len; i++)
    soaking += ((const BedSoakGroup *) plan->groups->pdata[i])->ready_logs;
  g_assert_true (bed_run_read (farm, batch, &run, NULL));
  g_assert_cmpint (soaking, ==, logs);
  g_assert_cmpint (g_ascii_strtoll (ready, NULL, 10), ==, logs);
  g_assert_cmpint (g_ascii_strtoll (forced, NULL, 10), ==, logs);
  g_assert_cmpint (now, ==, logs);
  g_autofree char *stage = dup_text (farm, "SELECT stage FROM batch_summary");
  g_assert_cmpint (strcmp (run.ready_on, bed_farm_get_today (farm)) <= 0, ==,
                   strcmp (stage, "ready") == 0);
}

static void
look (BedFarm *farm, const char *day, const char *colonised)
{
  scene_add (farm, scene_record (farm, BED_KIND_CHECK, "checked_on", day, "batch", "26A",
                                 "colonised", colonised, NULL));
}

/* A look that finds the ends four fifths white keeps a batch back whose months are over, and so
 * long as it does it is to be looked at; one that finds them white lets it go. */
static void
test_ready_by_looks (Scene *scene, gconstpointer data)
{
  BedFarm *farm = scene->farm;
  gint64 batch = scene_batch (farm, 3);
  g_auto (BedRun) run = { 0 };

  bed_farm_fix_clock (farm, "2026-09-01T09:00", 3);
  expect_ready (farm, batch, 3);
  look (farm, "2026-08-30", "82");
  expect_ready (farm, batch, 0);
  g_assert_true (bed_run_read (farm, batch, &run, NULL));
  g_assert_cmpfloat (run.run.pct, <, 85);
  g_assert_cmpstr (run.ready_on, ==, run.full_on);
  g_autofree char *stage = dup_text (farm, "SELECT stage FROM batch_summary");
  g_assert_cmpstr (stage, ==, "spawn run");
  /* The last day it is held back, and the next. */
  g_autofree char *before = bed_date_add (run.ready_on, -1);
  g_autofree char *eve = g_strconcat (before, "T09:00", NULL);
  g_autofree char *day = g_strconcat (run.ready_on, "T09:00", NULL);
  bed_farm_fix_clock (farm, eve, 3);
  expect_ready (farm, batch, 0);
  bed_farm_fix_clock (farm, day, 3);
  expect_ready (farm, batch, 3);
  bed_farm_fix_clock (farm, "2026-09-02T09:00", 3);
  expect_ready (farm, batch, 0);
  look (farm, "2026-09-02", "100");
  expect_ready (farm, batch, 3);
  /* The day before nobody had looked that day; nothing was written since. */
  bed_farm_fix_clock (farm, "2026-09-01T09:00", 3);
  expect_ready (farm, batch, 0);
  bed_farm_fix_clock (farm, "2026-09-02T09:00", 3);
  expect_ready (farm, batch, 3);
}

/* White ends before its months are over: not ready yet. */
static void
test_ready_by_months (Scene *scene, gconstpointer data)
{
  BedFarm *farm = scene->farm;
  gint64 batch = scene_batch (farm, 3);

  bed_farm_fix_clock (farm, "2026-08-31T09:00", 3);
  look (farm, "2026-08-20", "100");
  expect_ready (farm, batch, 0);
  bed_farm_fix_clock (farm, "2026-09-01T09:00", 3);
  expect_ready (farm, batch, 3);
}

/* A look that is taken back holds nothing back. */
static void
test_looks_undone (Scene *scene, gconstpointer data)
{
  BedFarm *farm = scene->farm;
  gint64 batch = scene_batch (farm, 3);
  g_autoptr (GError) error = NULL;

  bed_farm_fix_clock (farm, "2026-09-01T09:00", 3);
  look (farm, "2026-08-30", "82");
  expect_ready (farm, batch, 0);
  g_assert_true (bed_history_undo (farm, NULL, &error));
  g_assert_no_error (error);
  expect_ready (farm, batch, 3);
}

/* The strain runs for six months at least, and bore on one log before. */
static void
test_ready_everywhere (Scene *scene, gconstpointer data)
{
  BedFarm *farm = scene->farm;
  gint64 batch = scene_batch (farm, 3);

  expect_ready (farm, batch, 0);
  bed_farm_fix_clock (farm, "2026-08-20T09:00", 3);
  g_autoptr (GArray) ids = dup_logs (farm);
  g_autoptr (BedRecord) pick = scene_record (farm, BED_KIND_PICK, "picked_on", "2026-08-19",
                                             "grade", "A", "mass", "100", NULL);
  bed_record_set_int (pick, "log", g_array_index (ids, gint64, 0));
  scene_add (farm, g_steal_pointer (&pick));
  expect_ready (farm, batch, 1);
  bed_farm_fix_clock (farm, "2026-09-01T09:00", 3);
  expect_ready (farm, batch, 3);
}

/* Every stage the schema's text names, and no other, is in the table. */
static void
test_schema (void)
{
  g_autofree char *path
      = g_build_filename (g_getenv ("BEDLOG_SOURCE"), "data", "schema", "views.sql", NULL);
  g_autofree char *sql = NULL;
  g_autofree char *found = NULL;
  char *line, *end;

  g_assert_true (g_file_get_contents (path, &sql, NULL, NULL));
  line = strstr (sql, "-- Stages: ");
  g_assert_nonnull (line);
  line += strlen ("-- Stages: ");
  end = strstr (line, ".");
  found = g_strndup (line, end - line);
  g_auto (GStrv) keys = g_strsplit (found, ", ", -1);
  g_assert_cmpuint (g_strv_length (keys), ==, BED_N_STAGES - BED_STAGE_FELLED);
  for (guint i = 0; keys[i]; i++)
    g_assert_cmpint (bed_stage_from_key (keys[i]), ==, BED_STAGE_FELLED + i);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/stage/keys", test_keys);
  g_test_add_func ("/stage/schema", test_schema);
  g_test_add ("/stage/view", Scene, "metric", scene_set_up, test_view, scene_tear_down);
  g_test_add ("/stage/batch-lives", Scene, "metric", scene_set_up, test_batch_lives,
              scene_tear_down);
  g_test_add ("/stage/ready-everywhere", Scene, "metric", scene_set_up, test_ready_everywhere,
              scene_tear_down);
  g_test_add ("/stage/ready-by-looks", Scene, "metric", scene_set_up, test_ready_by_looks,
              scene_tear_down);
  g_test_add ("/stage/ready-by-months", Scene, "metric", scene_set_up, test_ready_by_months,
              scene_tear_down);
  g_test_add ("/stage/looks-undone", Scene, "metric", scene_set_up, test_looks_undone,
              scene_tear_down);
  return g_test_run ();
}
