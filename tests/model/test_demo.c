#include "../ask.h"

#include <glib/gstdio.h>
#include <math.h>

#include "model/demo/demo.h"
#include "model/farm/edit.h"
#include "model/farm/history.h"
#include "model/farm/query.h"

static char *
temp_path (const char *name)
{
  g_autofree char *folder = g_dir_make_tmp ("bedlog-demo-XXXXXX", NULL);

  return g_build_filename (folder, name, NULL);
}

static void
discard (const char *path)
{
  g_autofree char *folder = g_path_get_dirname (path);

  g_unlink (path);
  g_assert_cmpint (g_rmdir (folder), ==, 0);
}

static BedFarm *
make (const char *path, BedDemoPlan plan)
{
  g_autoptr (GError) error = NULL;
  BedFarm *farm = bed_demo_new (path, &plan, &error);

  g_assert_no_error (error);
  g_assert_nonnull (farm);
  return farm;
}

static gint64
one (BedFarm *farm, const char *sql)
{
  return ask_one (farm, sql, 0);
}

/* --- tests ------------------------------------------------------------------- */

static void
test_same_seed_same_bytes (void)
{
  const guint32 seeds[] = { 7, 7, 8 };
  g_autofree char *bytes[3] = { NULL };
  gsize length[3];

  for (int i = 0; i < 3; i++)
    {
      g_autofree char *path = temp_path ("a.bedlog");
      g_autoptr (BedFarm) farm = make (
          path, (BedDemoPlan){ .logs = 80, .years = 3, .seed = seeds[i], .today = "2026-06-12" });
      g_clear_object (&farm);
      g_assert_true (g_file_get_contents (path, &bytes[i], &length[i], NULL));
      discard (path);
    }
  g_assert_cmpmem (bytes[0], length[0], bytes[1], length[1]);
  g_assert_false (length[0] == length[2] && memcmp (bytes[0], bytes[2], length[0]) == 0);
  for (int i = 1; i < 3; i++)
    g_clear_pointer (&bytes[i], g_free);
}

/* Any size, any season of the year: the asked number of logs, nothing the farm's own
 * rules refuse (each edit was checked as it was written), nothing in the future. */
static void
test_sizes_and_seasons (void)
{
  const int logs[] = { 1, 24, 61, 250 };
  const char *days[] = { "2026-01-05", "2026-04-12", "2026-07-20", "2026-12-31" };

  for (gsize i = 0; i < G_N_ELEMENTS (logs); i++)
    for (gsize k = 0; k < G_N_ELEMENTS (days); k++)
      {
        g_autofree char *path = temp_path ("b.bedlog");
        BedDemoPlan plan
            = { .logs = logs[i], .years = 1 + (i + k) % 6, .seed = i, .today = days[k] };
        g_autoptr (BedFarm) farm = make (path, plan);
        g_autoptr (BedQuery) q = bed_query_new (farm, "SELECT max (at) FROM change");
        g_assert_cmpint (bed_farm_count (farm, BED_KIND_LOG), ==, logs[i]);
        g_assert_true (bed_query_next (q));
        g_assert_true (strncmp (bed_query_text (q, 0), days[k], 10) <= 0);
        discard (path);
      }
}

/* What a metric farm's tape and scales show is round, and nothing its rules refuse. */
static void
test_metric (void)
{
  g_autofree char *path = temp_path ("m.bedlog");
  g_autoptr (BedFarm) farm = make (path, (BedDemoPlan){ .logs = 120,
                                                        .years = 4,
                                                        .seed = 2,
                                                        .today = "2026-07-14",
                                                        .units = "metric",
                                                        .currency = "EUR" });
  BedRecord *settings = bed_farm_get_settings (farm);

  g_assert_cmpstr (bed_record_get_text (settings, "unit_system"), ==, "metric");
  g_assert_cmpstr (bed_record_get_text (settings, "currency"), ==, "EUR");
  g_assert_cmpint (one (farm, "SELECT count (*) FROM pick"), >, 20);
  g_assert_cmpint (one (farm, "SELECT count (*) FROM pick WHERE mass % 10000"), ==, 0);
  g_assert_cmpint (one (farm, "SELECT count (*) FROM log WHERE small_diameter % 5000"), ==, 0);
  g_assert_cmpint (one (farm, "SELECT count (*) FROM weighing WHERE mass % 50000"), ==, 0);
  g_assert_cmpint (one (farm, "SELECT count (*) FROM temperature WHERE least % 500"), ==, 0);
  g_assert_cmpint (one (farm, "SELECT count (*) FROM equipment WHERE what LIKE '%gallon%'"), ==, 0);
  g_clear_object (&farm);
  discard (path);
}

/* No two stacks of an area stand on the same ground on the same day, and all of them
 * inside it: a crib of 40 in logs is 1.02 m square, an A-frame of 36 about 1.2 by 3.4 m. */
static void
test_stacks_stand_apart (void)
{
  g_autofree char *path = temp_path ("c.bedlog");
  g_autoptr (BedFarm) farm
      = make (path, (BedDemoPlan){ .logs = 900, .years = 6, .seed = 3, .today = "2026-09-01" });

  g_assert_cmpint (one (farm, "SELECT count (*) FROM stack"), >, 50);
  g_assert_cmpint (
      one (farm, "SELECT count (*) FROM stack a JOIN stack b ON b.area = a.area AND b.id > a.id"
                 " AND a.built_on < coalesce (b.taken_down_on, '9999')"
                 " AND b.built_on < coalesce (a.taken_down_on, '9999')"
                 " WHERE abs (a.x - b.x) < 1900000"
                 " AND abs (a.y - b.y) < CASE WHEN a.kind IN ('A-frame', 'upright row')"
                 " THEN 4100000 ELSE 1900000 END"),
      ==, 0);
  g_assert_cmpint (one (farm, "SELECT count (*) FROM stack k JOIN area a ON a.id = k.area"
                              " WHERE k.x NOT BETWEEN 1000000 AND a.width - 1000000"
                              " OR k.y NOT BETWEEN 2500000 AND a.depth - 2500000"),
                   ==, 0);
  /* Every live log lies somewhere, no retired one does. */
  g_assert_cmpint (one (farm, "SELECT count (*) FROM log l WHERE (retired_on IS NULL) IS NOT"
                              " EXISTS (SELECT 1 FROM place p WHERE p.log = l.id"
                              " AND p.until IS NULL)"),
                   ==, 0);
  discard (path);
}

/* The shape of the crop that its source gives: about 1 : 2 : 2 : 1 over four seasons
 * (Maryland Cooperative Extension, Shiitake Mushrooms Enterprise, c. 2000). */
static void
test_crop_has_its_shape (void)
{
  g_autofree char *path = temp_path ("d.bedlog");
  g_autoptr (BedFarm) farm
      = make (path, (BedDemoPlan){ .logs = 1500, .years = 6, .seed = 5, .today = "2026-12-20" });
  g_autoptr (BedQuery) q = bed_query_new (
      farm, "SELECT bed_season (s.picked_on) - bed_season (b.inoculated_on), sum (s.mass) / 1e3,"
            " (SELECT count (*) FROM log l JOIN batch c ON c.id = l.batch"
            "   WHERE bed_season (c.inoculated_on) + bed_season (s.picked_on)"
            "   - bed_season (b.inoculated_on) <= 2026)"
            " FROM batch_day s JOIN batch b ON b.id = s.batch GROUP BY 1 ORDER BY 1");
  double share[6] = { 0 };

  while (bed_query_next (q))
    share[bed_query_int (q, 0)] = bed_query_real (q, 1) / bed_query_real (q, 2);
  /* g a log, those lost meanwhile counted too */
  g_assert_cmpfloat (share[0], ==, 0);
  g_assert_cmpfloat (share[2] / share[1], >, 1.4);
  g_assert_cmpfloat (share[2] / share[1], <, 2.6);
  g_assert_cmpfloat (share[3] / share[2], >, 0.7);
  g_assert_cmpfloat (share[3] / share[2], <, 1.3);
  g_assert_cmpfloat (share[4] / share[2], >, 0.25);
  g_assert_cmpfloat (share[4] / share[2], <, 0.65);
  discard (path);
}

/* What a batch's row says was picked is what its shares of all picks come to. */
static void
test_batches_add_up (void)
{
  g_autofree char *path = temp_path ("d.bedlog");
  g_autoptr (BedFarm) farm
      = make (path, (BedDemoPlan){ .logs = 300, .years = 4, .seed = 3, .today = "2026-08-20" });
  g_autoptr (BedQuery) q = bed_query_new (
      farm, "SELECT b.picked, s.mass FROM batch_summary b LEFT JOIN"
            " (SELECT batch, sum (mass) AS mass FROM batch_day GROUP BY 1) s ON s.batch = b.id");
  guint bearing = 0;

  while (bed_query_next (q))
    {
      g_assert_cmpint (bed_query_is_null (q, 0), ==, bed_query_is_null (q, 1));
      g_assert_cmpfloat_with_epsilon (bed_query_real (q, 0), bed_query_real (q, 1), 1e-3);
      bearing += bed_query_real (q, 0) > 0;
    }
  g_assert_cmpuint (bearing, >, 5);
  discard (path);
}

static void
test_history_can_be_undone (void)
{
  g_autofree char *path = temp_path ("e.bedlog");
  g_autoptr (BedFarm) farm
      = make (path, (BedDemoPlan){ .logs = 120, .years = 3, .seed = 2, .today = "2026-06-12" });
  g_autoptr (GError) error = NULL;

  for (int i = 0; i < 20; i++)
    {
      g_assert_true (bed_history_undo (farm, NULL, &error));
      g_assert_no_error (error);
    }
  g_assert_cmpint (one (farm, "SELECT count (*) FROM pragma_foreign_key_check"), ==, 0);
  discard (path);
}

static void
test_plan_is_refused (void)
{
  const BedDemoPlan plans[] = {
    { .logs = -1 }, { .logs = 200001 }, { .years = 21 }, { .years = -2 }, { .today = "yesteryear" }
  };

  for (gsize i = 0; i < G_N_ELEMENTS (plans); i++)
    {
      g_autofree char *path = temp_path ("f.bedlog");
      g_autoptr (GError) error = NULL;
      g_assert_null (bed_demo_new (path, &plans[i], &error));
      g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID);
      g_assert_false (g_file_test (path, G_FILE_TEST_EXISTS));
      discard (path);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/demo/same-seed-same-bytes", test_same_seed_same_bytes);
  g_test_add_func ("/demo/sizes-and-seasons", test_sizes_and_seasons);
  g_test_add_func ("/demo/metric", test_metric);
  g_test_add_func ("/demo/stacks-stand-apart", test_stacks_stand_apart);
  g_test_add_func ("/demo/crop-has-its-shape", test_crop_has_its_shape);
  g_test_add_func ("/demo/batches-add-up", test_batches_add_up);
  g_test_add_func ("/demo/history-can-be-undone", test_history_can_be_undone);
  g_test_add_func ("/demo/plan-is-refused", test_plan_is_refused);
  return g_test_run ();
}
