#include "model/demo/demo.h"
#include "model/farm/farm_private.h"
#include "model/farm/list.h"
#include "model/farm/query.h"
#include "model_test.h"
#include <glib/gstdio.h>
#include <sqlite3.h>

/* Replays every items-changed against a shadow of ids: the list never lies. */
typedef struct
{
  BedList *list;
  GArray *shadow;
  guint changes;
} Validator;

static void
items_changed_cb (GListModel *model, guint position, guint removed, guint added, Validator *v)
{
  g_assert_cmpuint (position + removed, <=, v->shadow->len);
  if (removed)
    g_array_remove_range (v->shadow, position, removed);
  for (guint i = 0; i < added; i++)
    {
      g_autoptr (BedRow) row = g_list_model_get_item (model, position + i);
      gint64 id = bed_row_int (row, "id");
      g_array_insert_val (v->shadow, position + i, id);
    }
  g_assert_cmpuint (v->shadow->len, ==, g_list_model_get_n_items (model));
  for (guint i = 0; i < v->shadow->len; i++)
    g_assert_cmpint (bed_list_get_id (v->list, i), ==, g_array_index (v->shadow, gint64, i));
  v->changes++;
}

static void
test_follows (Scene *scene, gconstpointer units)
{
  BedListSpec spec = { "stand", NULL, NULL, "name", BED_KIND_BIT (BED_KIND_STAND) };
  g_autoptr (BedList) list = bed_list_new (scene->farm, &spec);
  Validator v = { list, g_array_new (FALSE, FALSE, sizeof (gint64)), 0 };
  g_autoptr (GRand) chance = g_rand_new_with_seed (3);

  g_signal_connect (list, "items-changed", G_CALLBACK (items_changed_cb), &v);
  for (int i = 0; i < 40; i++)
    {
      g_autofree char *name = g_strdup_printf ("%c%d", 'a' + g_rand_int_range (chance, 0, 26), i);
      scene_add (scene->farm, scene_record (scene->farm, BED_KIND_STAND, "name", name, NULL));
    }
  g_assert_cmpuint (v.changes, ==, 40);
  for (int i = 0; i < 40; i++)
    g_assert_true (bed_history_undo (scene->farm, NULL, NULL));
  g_assert_cmpuint (v.shadow->len, ==, 0);
  g_array_unref (v.shadow);
}

/* GTK asks for each row, lets it go and asks again: it is read once. */
static void
test_read_once (Scene *scene, gconstpointer units)
{
  BedListSpec spec = { "stand", NULL, NULL, "name", BED_KIND_BIT (BED_KIND_STAND) };
  g_autoptr (BedList) list = bed_list_new (scene->farm, &spec);
  gpointer row;

  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_STAND, "name", "East", NULL));
  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_STAND, "name", "West", NULL));
  row = g_list_model_get_item (G_LIST_MODEL (list), 0);
  g_object_add_weak_pointer (row, &row);
  g_object_unref (row);
  g_assert_nonnull (row);
  g_object_unref (g_list_model_get_item (G_LIST_MODEL (list), 1));
  g_assert_null (row);
  /* What nobody shows is not read when it is gone. */
  g_assert_true (bed_history_undo (scene->farm, NULL, NULL));
  g_assert_no_error (bed_list_get_trouble (list));
}

static void
row_changed_cb (BedRow *row, guint *n)
{
  (*n)++;
}

/* A row that is shown is told of its change and nothing is spliced. */
static void
test_row_changed (Scene *scene, gconstpointer units)
{
  gint64 id
      = scene_add (scene->farm, scene_record (scene->farm, BED_KIND_STAND, "name", "Ridge", NULL));
  BedListSpec spec = { "stand", "name LIKE ?1", "R%", "id", 0 };
  g_autoptr (BedList) list = bed_list_new (scene->farm, &spec);
  g_autoptr (BedRow) row = g_list_model_get_item (G_LIST_MODEL (list), 0);
  g_autoptr (BedRow) same = g_list_model_get_item (G_LIST_MODEL (list), 0);
  g_autoptr (BedRecord) stand = bed_farm_load (scene->farm, BED_KIND_STAND, id, NULL);
  guint changed = 0;

  g_assert_true (row == same);
  g_assert_false (bed_row_has (row, "area"));
  g_signal_connect (row, "changed", G_CALLBACK (row_changed_cb), &changed);
  bed_record_set_int (stand, "area", 500);
  g_assert_true (bed_edit_put_one (scene->farm, stand, "Measured", NULL));
  g_assert_cmpuint (changed, ==, 1);
  g_assert_cmpint (bed_row_int (row, "area"), ==, 500);
  g_assert_cmpstr (bed_row_text (row, "name"), ==, "Ridge");
  g_assert_cmpint (bed_list_find (list, id), ==, 0);
  g_assert_cmpint (bed_list_find (list, id + 1), ==, -1);
}

static void
test_views (Scene *scene, gconstpointer units)
{
  gint64 batch = scene_batch (scene->farm, 24);
  g_autofree char *argument = g_strdup_printf ("%" G_GINT64_FORMAT, batch);
  BedListSpec spec = { "log_today", "batch = cast (?1 AS INTEGER)", argument, "code", 0 };
  g_autoptr (BedList) list = bed_list_new (scene->farm, &spec);
  g_autoptr (BedRow) row = g_list_model_get_item (G_LIST_MODEL (list), 16);

  g_assert_cmpuint (g_list_model_get_n_items (G_LIST_MODEL (list)), ==, 24);
  g_assert_cmpstr (bed_row_text (row, "code"), ==, "26A-017-K");
  g_assert_cmpstr (bed_row_text (row, "stage"), ==, "spawn run");
  g_assert_cmpstr (bed_row_text (row, "wood_name"), ==, "northern red oak");
}

/* --- questions that fail ---------------------------------------------------------------- */

static int
stop_cb (void *data)
{
  return 1;
}

/* Every question fails from now on, or none. */
static void
let_fail (BedFarm *farm, int steps)
{
  sqlite3_progress_handler (bed_farm_get_db (farm), steps, stop_cb, NULL);
}

/* How many rows of tables, and of what was put together first, are gone through one after another
 * for the row of the newest record of @view. */
static int
count_gone_through (BedFarm *farm, const char *view)
{
  g_autofree char *newest = g_strdup_printf ("SELECT max (id) FROM %s", view);
  g_autofree char *sql = g_strdup_printf ("SELECT * FROM %s WHERE id = ?1", view);
  sqlite3_stmt *stmt = NULL;
  gint64 id = 0;

  g_assert_true (bed_query_one (farm, newest, 0, &id, NULL));
  g_assert_cmpint (sqlite3_prepare_v2 (bed_farm_get_db (farm), sql, -1, &stmt, NULL), ==,
                   SQLITE_OK);
  sqlite3_bind_int64 (stmt, 1, id);
  g_assert_cmpint (sqlite3_step (stmt), ==, SQLITE_ROW);
  int steps = sqlite3_stmt_status (stmt, SQLITE_STMTSTATUS_FULLSCAN_STEP, 0);
  sqlite3_finalize (stmt);
  return steps;
}

/* The row of a list asks its own batch, lot or stack: what others have it does not go through. */
static void
test_row_alone (Scene *scene, gconstpointer units)
{
  static const char *const views[] = { "log_today",  "batch_summary", "felling_summary",
                                       "spawn_left", "stack_today",   "soak_summary",
                                       "pick_named", "lot_left",      "sale_summary" };
  const BedDemoPlan plan = { 200, 4, 1, "2026-05-12" };
  g_autofree char *path = g_build_filename (scene->folder, "demo.bedlog", NULL);
  g_autoptr (BedFarm) farm = bed_demo_new (path, &plan, NULL);

  g_assert_nonnull (farm);
  bed_farm_fix_clock (farm, "2026-05-12T09:00", 1);
  for (guint i = 0; i < G_N_ELEMENTS (views); i++)
    {
      g_test_message ("%s", views[i]);
      g_assert_cmpint (count_gone_through (farm, views[i]), ==, 0);
    }
  g_clear_object (&farm);
  g_unlink (path);
}

static void
test_one_fails (Scene *scene, gconstpointer units)
{
  g_autoptr (GError) error = NULL;
  gint64 answer = 7;

  let_fail (scene->farm, 1);
  g_assert_false (bed_query_one (scene->farm, "SELECT 3 FROM farm", 0, &answer, &error));
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_FAILED);
  g_assert_cmpint (answer, ==, 0);
  let_fail (scene->farm, 0);
  g_assert_true (bed_query_one (scene->farm, "SELECT 3 FROM farm", 0, &answer, NULL));
  g_assert_cmpint (answer, ==, 3);
}

/* What has no room for an error is told of at the end, by the reading it was asked in. */
static void
test_reading_tells (Scene *scene, gconstpointer units)
{
  g_autoptr (GError) error = NULL;

  g_assert_true (bed_farm_begin_reading (scene->farm));
  g_assert_true (bed_farm_begin_reading (scene->farm));
  let_fail (scene->farm, 1);
  g_assert_cmpint (bed_farm_count (scene->farm, BED_KIND_STAND), ==, 0);
  let_fail (scene->farm, 0);
  g_assert_false (bed_farm_end_reading (scene->farm, &error));
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_FAILED);
  g_assert_true (bed_farm_end_reading (scene->farm, NULL));
}

/* Nor is a reading that cannot begin one without answers. */
static void
test_reading_begins_ill (Scene *scene, gconstpointer units)
{
  g_autoptr (GError) error = NULL;

  let_fail (scene->farm, 1);
  g_assert_true (bed_farm_begin_reading (scene->farm));
  let_fail (scene->farm, 0);
  g_assert_false (bed_farm_end_reading (scene->farm, &error));
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_FAILED);
  g_assert_true (bed_farm_begin_reading (scene->farm));
  g_assert_true (bed_farm_end_reading (scene->farm, NULL));
}

static void
count_cb (guint *times)
{
  ++*times;
}

static void
test_trouble (Scene *scene, gconstpointer units)
{
  BedListSpec spec = { "stand", NULL, NULL, "name", BED_KIND_BIT (BED_KIND_STAND) };
  guint told = 0;

  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_STAND, "name", "North", NULL));
  let_fail (scene->farm, 1);
  g_autoptr (BedList) list = bed_list_new (scene->farm, &spec);
  let_fail (scene->farm, 0);
  g_signal_connect_swapped (list, "trouble", G_CALLBACK (count_cb), &told);
  g_assert_error (bed_list_get_trouble (list), BED_FARM_ERROR, BED_FARM_ERROR_FAILED);
  g_assert_cmpuint (g_list_model_get_n_items (G_LIST_MODEL (list)), ==, 0);
  bed_farm_ask_again (scene->farm);
  g_assert_no_error (bed_list_get_trouble (list));
  g_assert_cmpuint (g_list_model_get_n_items (G_LIST_MODEL (list)), ==, 1);
  g_assert_cmpuint (told, ==, 1);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add ("/list/follows", Scene, NULL, scene_set_up, test_follows, scene_tear_down);
  g_test_add ("/list/read-once", Scene, NULL, scene_set_up, test_read_once, scene_tear_down);
  g_test_add ("/list/row-changed", Scene, NULL, scene_set_up, test_row_changed, scene_tear_down);
  g_test_add ("/list/views", Scene, NULL, scene_set_up, test_views, scene_tear_down);
  g_test_add ("/list/row-alone", Scene, NULL, scene_set_up, test_row_alone, scene_tear_down);
  g_test_add ("/list/one-fails", Scene, NULL, scene_set_up, test_one_fails, scene_tear_down);
  g_test_add ("/list/reading-tells", Scene, NULL, scene_set_up, test_reading_tells,
              scene_tear_down);
  g_test_add ("/list/reading-begins-ill", Scene, NULL, scene_set_up, test_reading_begins_ill,
              scene_tear_down);
  g_test_add ("/list/trouble", Scene, NULL, scene_set_up, test_trouble, scene_tear_down);
  return g_test_run ();
}
