#include "model_test.h"

#include <string.h>

#include "model/farm/stage.h"

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
  return g_test_run ();
}
