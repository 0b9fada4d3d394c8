/* A recall errs towards more, reaches every buyer and ends in a balance; a drill of it is timed in
 * questions asked. */
#include "model/season/recall.h"

#include <glib/gstdio.h>
#include <sqlite3.h>
#include <string.h>

#include "../ask.h"
#include "model/demo/demo.h"
#include "model/farm/farm_private.h"
#include "model/farm/names.h"
#include "model_test.h"

/* All that a recall says, a line for each row: "to: Inn, 555 0100, …". */
static char *
tell (BedFarm *farm, const BedRecallOf *of)
{
  g_autoptr (GString) told = g_string_new (NULL);
  const BedTraceStep *step = NULL;

  while ((step = bed_recall_next (step)))
    {
      g_autoptr (BedQuery) q = bed_recall_ask (farm, of, step);
      g_autoptr (GError) error = NULL;
      while (bed_query_next (q))
        {
          g_string_append_printf (told, "%s:", step->key);
          for (int i = 0; step->columns[i].key; i++)
            {
              g_autofree char *cell = bed_trace_dup_cell (farm, &step->columns[i], q, i);
              g_string_append_printf (told, " %s;", cell ? cell : "-");
            }
          g_string_append_c (told, '\n');
        }
      g_assert_true (bed_query_finish (q, &error));
      g_assert_no_error (error);
    }
  return g_string_free (g_steal_pointer (&told), FALSE);
}

static char *
tell_of (BedFarm *farm, const char *text)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *day = NULL;
  BedRecallOf of;

  g_assert_true (bed_recall_find (farm, text, &of, &day, &error));
  g_assert_no_error (error);
  return tell (farm, &of);
}

static void
check (BedFarm *farm, const char *text, const char *const *says, const char *const *silent)
{
  g_autofree char *told = tell_of (farm, text);

  for (guint i = 0; says && says[i]; i++)
    if (!strstr (told, says[i]))
      g_error ("recall of %s says no “%s”:\n%s", text, says[i], told);
  for (guint i = 0; silent && silent[i]; i++)
    if (strstr (told, silent[i]))
      g_error ("recall of %s says “%s”:\n%s", text, silent[i], told);
}

#define LIST(...) ((const char *const[]){ __VA_ARGS__, NULL })

/* A lot of that day with one pick in it. */
static void
add_lot (BedFarm *farm, const char *day, const char *what, const char *name, const char *mass)
{
  gint64 lot = scene_add (farm, scene_record (farm, BED_KIND_LOT, "picked_on", day, NULL));
  g_autofree char *code = bed_farm_dup_name (farm, BED_KIND_LOT, lot);

  scene_add (farm, scene_record (farm, BED_KIND_PICK, "picked_on", day, what, name, "grade", "A",
                                 "mass", mass, "lot", code, NULL));
}

static void
add_sale (BedFarm *farm, const char *code, const char *buyer, const char *lot, const char *use,
          const char *mass)
{
  scene_add (farm, scene_record (farm, BED_KIND_SALE, "code", code, "sold_on", "2026-05-11",
                                 "buyer", buyer, NULL));
  scene_add (farm, scene_record (farm, BED_KIND_LINE, "sale", code, "lot", lot, "form", "fresh",
                                 "use", use, "mass", mass,
                                 g_str_equal (use, "sold") ? "price" : NULL, "9.00", NULL));
}

/* Log 1 gave to A by itself, log 2 to B from its stack on the day it left it, log 3 to C from its
 * batch on the day it was retired; D came of the batch after that. */
static void
lay (BedFarm *farm)
{
  scene_batch (farm, 3);
  scene_add (farm,
             scene_record (farm, BED_KIND_AREA, "name", "Yard", "water_source", "Brook", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_STACK, "name", "Crib", "area", "Yard", "kind",
                                 "crib", "built_on", "2026-03-02", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_PLACE, "log", "26A-002", "stack", "Crib", "since",
                                 "2026-03-02", "until", "2026-05-05", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_PLACE, "log", "26A-001", "stack", "Crib", "since",
                                 "2026-03-02", NULL));
  scene_add (farm,
             scene_record (farm, BED_KIND_SOAK, "tank", "Trough", "put_in", "2026-05-01T08:00",
                           "taken_out", "2026-05-02T08:00", "water", "pond", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_SOAKED, "soak", "K26-1", "log", "26A-002", NULL));
  add_lot (farm, "2026-05-04", "log", "26A-001", "400 g");
  add_lot (farm, "2026-05-05", "stack", "Crib", "600 g");
  add_lot (farm, "2026-05-07", "batch", "26A", "500 g");
  add_lot (farm, "2026-05-10", "batch", "26A", "300 g");
  scene_add (farm, scene_record (farm, BED_KIND_BUYER, "name", "Inn", "contact", "555 0100", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_BUYER, "name", "Shop", NULL));
}

static void
retire (BedFarm *farm, const char *code, const char *day)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BedRecord) log
      = bed_farm_load (farm, BED_KIND_LOG, bed_farm_find (farm, BED_KIND_LOG, code, NULL), &error);

  g_assert_no_error (error);
  bed_record_set_text (log, "retired_on", day);
  bed_record_set_text (log, "retired_why", "spent");
  scene_add (farm, g_steal_pointer (&log));
}

static char *
dup_lot (BedFarm *farm, const char *day)
{
  g_autoptr (BedQuery) q = bed_query_new (farm, "SELECT code FROM lot WHERE picked_on = ?1");
  g_autoptr (GError) error = NULL;

  bed_query_bind_text (q, 1, day);
  g_assert_true (bed_query_next (q));
  char *code = g_strdup (bed_query_text (q, 0));
  g_assert_true (bed_query_finish (q, &error));
  return code;
}

static void
test_reach (Scene *scene, gconstpointer data)
{
  BedFarm *farm = scene->farm;

  lay (farm);
  g_autofree char *a = dup_lot (farm, "2026-05-04"), *b = dup_lot (farm, "2026-05-05");
  g_autofree char *c = dup_lot (farm, "2026-05-07"), *d = dup_lot (farm, "2026-05-10");
  add_sale (farm, "V26-1", "Inn", a, "sold", "250 g");
  add_sale (farm, "V26-2", "Shop", b, "given away", "600 g");
  add_sale (farm, "V26-3", "Inn", c, "culled", "100 g");
  retire (farm, "26A-003", "2026-05-07");

  /* Every lot of the spawn, who has it, what is in store, where it came from. */
  check (farm, "S26-1",
         LIST ("buyers: Inn; 555 0100; 1; 11 May 2026; 11 May 2026; 0.25 kg;", "buyers: Shop; -;",
               "to: Inn; 11 May 2026; V26-1;", "fresh; 0.25 kg;", "to: Shop;", "fresh; 0.60 kg;", a,
               b, c, d, "in_store:", "batches: 26A; 1 Mar 2026; 3; 1;", "spawn: S26-1;",
               "fellings: F26-1; 1 Feb 2026;", "soaks: K26-1;", "areas: Yard; Brook;",
               "balance: 4; 1.80 kg; 0.25 kg; 0.70 kg; 0.00 kg; 0.85 kg; -; -; -;"),
         LIST ("V26-3"));
  check (farm, "F26-1", LIST (a, b, c, d, "V26-1", "V26-2"), NULL);
  check (farm, "26A", LIST (a, b, c, d), NULL);
  /* Nothing is dropped of a log that was retired, and nothing added to it. */
  check (farm, "26A-003", LIST (c, "batches: 26A; 1 Mar 2026; 1; 1;"), LIST (a, b, d));
  check (farm, "26A-001", LIST (a, b, c, d, "V26-1", "V26-2"), NULL);
  check (farm, "26A-002", LIST (b, c, d, "V26-2"), LIST (a, "V26-1"));
  /* By its water: what was picked of its logs from that day on. */
  check (farm, "K26-1", LIST (b, c, d), LIST (a));
  check (farm, "pond", LIST (b, c, d, "soaks: K26-1; Trough;"), LIST (a));
  /* What lay there has its water, before it lay there and after it left, too, not. */
  check (farm, "Yard", LIST (a, b, c, d, "V26-1", "areas: Yard; Brook;"), NULL);
  check (farm, "2026-05-05", LIST (b, "V26-2"), LIST (a, c, d));
  check (farm, a, LIST ("V26-1", "spawn: S26-1;", "balance: 1; 0.40 kg;"), LIST (b, c, d));
  check (farm, b, LIST ("V26-2", "fellings: F26-1;", "soaks: K26-1;"), LIST (a, c, d));
}

/* All logs of a batch are gone, and something was picked of it yet: it came from one of them. */
static void
test_all_retired (Scene *scene, gconstpointer data)
{
  BedFarm *farm = scene->farm;

  lay (farm);
  g_autofree char *d = dup_lot (farm, "2026-05-10");
  for (int i = 1; i <= 3; i++)
    {
      g_autofree char *code = g_strdup_printf ("26A-%03d", i);
      retire (farm, code, "2026-05-08");
    }
  check (farm, "S26-1", LIST (d), NULL);
  check (farm, "F26-1", LIST (d), NULL);
  check (farm, d, LIST ("spawn: S26-1;", "fellings: F26-1;", "batches: 26A; 1 Mar 2026; 3; 3;"),
         NULL);
}

/* What was picked into no lot cannot be followed: that is said. */
static void
test_no_lot (Scene *scene, gconstpointer data)
{
  scene_batch (scene->farm, 1);
  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_PICK, "picked_on", "2026-05-09",
                                        "log", "26A-001", "grade", "A", "mass", "70 g", NULL));
  check (scene->farm, "26A", LIST ("no_lot: 26A-001", "0.07 kg", "balance: 0; -;", " 0.07 kg;\n"),
         LIST ("to:"));
}

static void
test_unknown (Scene *scene, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *day = NULL;
  BedRecallOf of;

  g_assert_false (bed_recall_find (scene->farm, "Z99-9", &of, &day, &error));
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_NOT_FOUND);
}

/* --- a drill ------------------------------------------------------------------------------- */

static int
count_cb (unsigned what, void *count, void *stmt, void *sql)
{
  /* Triggers and parts of statements come as comments. */
  *(guint *) count += !g_str_has_prefix (sql, "--");
  return 0;
}

/* Statements that one recall of each kind asks at most. */
static guint
drill (guint logs)
{
  g_autofree char *folder = g_dir_make_tmp ("bedlog-recall-XXXXXX", NULL);
  g_autofree char *path = g_build_filename (folder, "demo.bedlog", NULL);
  BedDemoPlan plan = { .logs = logs, .years = 3, .seed = 1, .today = "2026-07-14" };
  g_autoptr (GError) error = NULL;
  BedFarm *farm = bed_demo_new (path, &plan, &error);
  static const char *const codes[] = { "SELECT code FROM spawn ORDER BY id LIMIT 1",
                                       "SELECT code FROM felling ORDER BY id LIMIT 1",
                                       "SELECT code FROM batch ORDER BY id LIMIT 1",
                                       "SELECT code FROM log ORDER BY id LIMIT 1",
                                       "SELECT code FROM soak ORDER BY id LIMIT 1",
                                       "SELECT code FROM lot ORDER BY id LIMIT 1",
                                       "SELECT picked_on FROM pick ORDER BY id LIMIT 1",
                                       "SELECT water FROM soak ORDER BY id LIMIT 1",
                                       "SELECT name FROM area ORDER BY id LIMIT 1" };
  guint most = 0;

  g_assert_no_error (error);
  for (gsize i = 0; i < G_N_ELEMENTS (codes); i++)
    {
      g_autoptr (BedQuery) q = bed_query_new (farm, codes[i]);
      guint count = 0;
      g_assert_true (bed_query_next (q));
      g_autofree char *text = g_strdup (bed_query_text (q, 0));
      g_assert_true (bed_query_finish (q, &error));
      sqlite3_trace_v2 (bed_farm_get_db (farm), SQLITE_TRACE_STMT, count_cb, &count);
      g_autofree char *told = tell_of (farm, text);
      sqlite3_trace_v2 (bed_farm_get_db (farm), 0, NULL, NULL);
      g_test_message ("%s: %u statements", text, count);
      g_assert_nonnull (strstr (told, "to:"));
      g_assert_nonnull (strstr (told, "balance:"));
      most = MAX (most, count);
    }
  g_assert_finalize_object (farm);
  g_unlink (path);
  g_rmdir (folder);
  return most;
}

/* From a code to every buyer in a few questions, however large the farm. */
static void
test_drill (Scene *scene, gconstpointer data)
{
  guint small = drill (60), large = drill (400);

  g_assert_cmpuint (small, ==, large);
  g_assert_cmpuint (large, <=, 36);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
#define ADD(path, test)                                                                            \
  g_test_add ("/recall/" path, Scene, "metric", scene_set_up, test, scene_tear_down)
  ADD ("reach", test_reach);
  ADD ("all-retired", test_all_retired);
  ADD ("no-lot", test_no_lot);
  ADD ("unknown", test_unknown);
  ADD ("drill", test_drill);
  return g_test_run ();
}
