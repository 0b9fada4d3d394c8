/* What is done in the yard, against a farm: no window. */
#include "model/farm/value.h"
#include "yard/load.h"
#include "yard/moves.h"

#include "../ask.h"
#include "../model/model_test.h"
#include "model/farm/names.h"

typedef struct
{
  Scene scene;
  gint64 area, crib, frame, batch;
} Yard;

static void
commit (BedYardChange *change)
{
  g_autoptr (GError) error = NULL;

  g_assert_nonnull (change);
  bed_edit_commit (change->edit, change->sentence, &error);
  g_assert_no_error (error);
}

static void
set_up (Yard *yard, gconstpointer data)
{
  BedFarm *farm;

  scene_set_up (&yard->scene, NULL);
  farm = yard->scene.farm;
  yard->batch = scene_batch (farm, 10);
  yard->area = scene_add (farm, scene_record (farm, BED_KIND_AREA, "name", "Lower yard", NULL));
  BedNewStack crib = { yard->area, BED_STACK_CRIB, { 4, 5, 0 }, 2, 4 };
  BedNewStack frame = { yard->area, BED_STACK_A_FRAME, { 9, 5, 0 }, 0, 0 };
  g_autoptr (BedYardChange) first = bed_yard_build_stack (farm, &crib, &yard->crib);
  commit (first);
  g_assert_cmpstr (first->sentence, ==, "Built Crib 1");
  g_autoptr (BedYardChange) second = bed_yard_build_stack (farm, &frame, &yard->frame);
  commit (second);
  g_assert_cmpstr (second->sentence, ==, "Built A-frame 1");
}

static void
tear_down (Yard *yard, gconstpointer data)
{
  scene_tear_down (&yard->scene, NULL);
}

static BedYard *
load (Yard *yard)
{
  g_autoptr (GError) error = NULL;
  BedFarm *farm = yard->scene.farm;
  BedYard *loaded = bed_yard_load (farm, yard->area, bed_farm_get_today (farm), &error);

  g_assert_no_error (error);
  return loaded;
}

static gint64
log_id (Yard *yard, int number)
{
  g_autofree char *code = g_strdup_printf ("26A-%03d", number);
  gint64 id = bed_farm_find (yard->scene.farm, BED_KIND_LOG, code, NULL);

  g_assert_cmpint (id, !=, 0);
  return id;
}

static gint64
count (Yard *yard, const char *sql, gint64 parameter)
{
  return ask_one (yard->scene.farm, sql, parameter);
}

static void
fill_crib (Yard *yard)
{
  g_autoptr (BedYard) before = load (yard);
  g_autoptr (GError) error = NULL;
  g_autoptr (BedYardChange) change = bed_yard_put_batch (
      yard->scene.farm, bed_yard_find_stack (before, yard->crib, NULL), yard->batch, &error);

  g_assert_no_error (error);
  commit (change);
  g_assert_cmpstr (change->sentence, ==, "Put 8 logs of 26A in Crib 1");
}

/* Of the batch, those that lie nowhere. */
static guint
count_waiting (Yard *yard)
{
  return (guint) count (yard,
                        "SELECT count (*) FROM log l WHERE l.batch = ?1 AND NOT EXISTS"
                        " (SELECT 1 FROM place x WHERE x.log = l.id AND x.until IS NULL)",
                        yard->batch);
}

/* Ten logs wait, the crib holds eight: they fill it in order; the rest go elsewhere. */
static void
test_put (Yard *yard, gconstpointer data)
{
  g_autoptr (GError) error = NULL;

  g_assert_cmpuint (count_waiting (yard), ==, 10);
  fill_crib (yard);
  g_assert_cmpuint (count_waiting (yard), ==, 2);
  g_assert_cmpint (
      count (yard, "SELECT tier * 100 + slot FROM place WHERE log = ?1", log_id (yard, 6)), ==,
      202);

  g_autoptr (BedYard) now = load (yard);
  g_autoptr (BedYardChange) full = bed_yard_put_batch (
      yard->scene.farm, bed_yard_find_stack (now, yard->crib, NULL), yard->batch, &error);
  g_assert_null (full);
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID);
  g_assert_nonnull (strstr (error->message, "Crib 1 is full"));
  g_clear_error (&error);

  g_autoptr (BedYardChange) rest = bed_yard_put_batch (
      yard->scene.farm, bed_yard_find_stack (now, yard->frame, NULL), yard->batch, &error);
  commit (rest);
  g_assert_cmpstr (rest->sentence, ==, "Put 2 logs of 26A in A-frame 1");
  g_autoptr (BedYard) after = load (yard);
  g_autoptr (BedYardChange) none = bed_yard_put_batch (
      yard->scene.farm, bed_yard_find_stack (after, yard->frame, NULL), yard->batch, &error);
  g_assert_null (none);
  g_assert_nonnull (strstr (error->message, "Every log of 26A"));
}

/* One undo takes all eight back. */
static void
test_put_undo (Yard *yard, gconstpointer data)
{
  g_autofree char *before = scene_dump (yard->scene.farm);
  g_autoptr (GError) error = NULL;

  fill_crib (yard);
  bed_history_undo (yard->scene.farm, NULL, &error);
  g_assert_no_error (error);
  g_autofree char *after = scene_dump (yard->scene.farm);
  g_assert_cmpstr (after, ==, before);
}

/* A move on another day ends the old place and begins a new one. */
static void
test_move_dated (Yard *yard, gconstpointer data)
{
  g_autoptr (GError) error = NULL;

  fill_crib (yard);
  bed_farm_fix_clock (yard->scene.farm, "2026-05-20T08:00", 3);
  g_autoptr (BedYard) now = load (yard);
  BedLogGoal goal = { bed_yard_find_stack (now, yard->frame, NULL), 2, 3 };
  g_autoptr (BedYardChange) change
      = bed_yard_move_log (yard->scene.farm, log_id (yard, 3), &goal, &error);
  commit (change);
  g_assert_cmpint (count (yard, "SELECT count (*) FROM place WHERE log = ?1", log_id (yard, 3)), ==,
                   2);
  g_assert_cmpint (count (yard,
                          "SELECT count (*) FROM place WHERE log = ?1"
                          " AND until = '2026-05-20'",
                          log_id (yard, 3)),
                   ==, 1);
  g_assert_cmpint (count (yard,
                          "SELECT tier * 100 + slot FROM place WHERE log = ?1"
                          " AND until IS NULL",
                          log_id (yard, 3)),
                   ==, 203);
  /* The yard of the day before still shows it in the crib. */
  g_autoptr (BedYard) eve = bed_yard_load (yard->scene.farm, yard->area, "2026-05-19", &error);
  g_assert_cmpuint (bed_yard_find_stack (eve, yard->crib, NULL)->logs->len, ==, 8);
  g_autoptr (BedYard) after = load (yard);
  g_assert_cmpuint (bed_yard_find_stack (after, yard->crib, NULL)->logs->len, ==, 7);
}

/* Moved twice on one day it leaves no place of no days behind. */
static void
test_move_same_day (Yard *yard, gconstpointer data)
{
  g_autoptr (GError) error = NULL;

  fill_crib (yard);
  g_autoptr (BedYard) now = load (yard);
  BedLogGoal goal = { bed_yard_find_stack (now, yard->frame, NULL), 0, 0 };
  g_autoptr (BedYardChange) change
      = bed_yard_move_log (yard->scene.farm, log_id (yard, 3), &goal, &error);
  commit (change);
  g_assert_cmpint (count (yard, "SELECT count (*) FROM place WHERE log = ?1", log_id (yard, 3)), ==,
                   1);
}

/* Within a stack two logs change places; from another stack a taken slot is refused. */
static void
test_swap (Yard *yard, gconstpointer data)
{
  g_autoptr (GError) error = NULL;

  fill_crib (yard);
  g_autoptr (BedYard) now = load (yard);
  const BedYardStack *crib = bed_yard_find_stack (now, yard->crib, NULL);
  BedLogGoal goal = { crib, 2, 4 };
  g_autoptr (BedYardChange) change
      = bed_yard_move_log (yard->scene.farm, log_id (yard, 1), &goal, &error);
  commit (change);
  g_assert_cmpint (count (yard,
                          "SELECT tier * 100 + slot FROM place WHERE log = ?1"
                          " AND until IS NULL",
                          log_id (yard, 1)),
                   ==, 204);
  g_assert_cmpint (count (yard,
                          "SELECT tier * 100 + slot FROM place WHERE log = ?1"
                          " AND until IS NULL",
                          log_id (yard, 8)),
                   ==, 101);
  g_autoptr (BedYardChange) taken
      = bed_yard_move_log (yard->scene.farm, log_id (yard, 9), &goal, &error);
  g_assert_null (taken);
  g_assert_nonnull (strstr (error->message, "lies there"));
}

static void
test_take_out (Yard *yard, gconstpointer data)
{
  g_autoptr (GError) error = NULL;

  fill_crib (yard);
  g_autoptr (BedYardChange) change = bed_yard_take_out (yard->scene.farm, log_id (yard, 2), &error);
  commit (change);
  g_assert_nonnull (strstr (change->sentence, "out of Crib 1"));
  g_assert_cmpuint (count_waiting (yard), ==, 3);
  g_autoptr (BedYardChange) again = bed_yard_take_out (yard->scene.farm, log_id (yard, 2), &error);
  g_assert_null (again);
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_NOT_FOUND);
}

static void
test_stack (Yard *yard, gconstpointer data)
{
  BedFarm *farm = yard->scene.farm;
  BedNewStack twin = { yard->area, BED_STACK_CRIB, { 7.35, 2.1, G_PI / 3 }, 2, 4 };
  g_autoptr (GError) error = NULL;
  gint64 id = 0;

  g_autoptr (BedYardChange) built = bed_yard_build_stack (farm, &twin, &id);
  commit (built);
  g_assert_cmpstr (built->sentence, ==, "Built Crib 2");
  g_assert_cmpint (count (yard, "SELECT x FROM stack WHERE id = ?1", id), ==, 7350000);
  g_assert_cmpint (count (yard, "SELECT turn FROM stack WHERE id = ?1", id), ==, 6000);
  g_assert_cmpint (count (yard, "SELECT tiers * 100 + per_tier FROM stack WHERE id = ?1", id), ==,
                   204);
  g_autoptr (BedYardChange) down = bed_yard_take_down (farm, id, &error);
  commit (down);
  g_autoptr (BedYard) after = load (yard);
  g_assert_cmpuint (after->stacks->len, ==, 2);
}

/* Three logs go on from the place they are set down at, over one that lies there; places they leave
 * themselves are free; more than there is room for are refused. */
static void
test_several (Yard *yard, gconstpointer data)
{
  BedFarm *farm = yard->scene.farm;
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) logs = g_array_new (FALSE, FALSE, sizeof (gint64));

  fill_crib (yard);
  for (int i = 1; i <= 3; i++)
    {
      gint64 log = log_id (yard, i);
      g_array_append_val (logs, log);
    }
  g_autoptr (BedYard) before = load (yard);
  BedLogGoal there = { bed_yard_find_stack (before, yard->frame, NULL), 1, 2 };
  g_autoptr (BedYardChange) change = bed_yard_move_logs (farm, logs, &there, &error);
  g_assert_no_error (error);
  commit (change);
  g_assert_cmpstr (change->sentence, ==, "Moved 3 logs to A-frame 1");
  for (int i = 1; i <= 3; i++)
    g_assert_cmpint (
        count (yard, "SELECT slot FROM place WHERE log = ?1 AND until IS NULL", log_id (yard, i)),
        ==, i + 1);
  g_autoptr (BedYard) after = load (yard);
  BedLogGoal full = { bed_yard_find_stack (after, yard->crib, NULL), 1, 1 };
  gint64 fourth = log_id (yard, 9);
  g_array_append_val (logs, fourth); /* four, for the three places they left */
  g_assert_null (bed_yard_move_logs (farm, logs, &full, &error));
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID);
  g_clear_error (&error);
  g_array_set_size (logs, 3);
  g_autoptr (BedYardChange) out = bed_yard_take_out_logs (farm, logs, &error);
  g_assert_no_error (error);
  commit (out);
  g_assert_cmpuint (count_waiting (yard), ==, 5);
}

/* What was done weeks ago is written down with its day; what came after that day stays. */
static void
test_past_day (Yard *yard, gconstpointer data)
{
  BedFarm *farm = yard->scene.farm;
  g_autofree char *day = bed_date_add (bed_farm_get_today (farm), -3);
  g_autofree char *shown = bed_date_format (day);
  g_autofree char *said = g_strdup_printf ("Moved 2 logs to A-frame 1 on %s", shown);
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) logs = g_array_new (FALSE, FALSE, sizeof (gint64));

  g_autoptr (BedRecord) frame = bed_farm_load (farm, BED_KIND_STACK, yard->frame, NULL);
  bed_record_set_text (frame, "built_on", day);
  g_assert_true (bed_edit_put_one (farm, frame, "Built earlier", &error));
  for (int i = 1; i <= 2; i++)
    {
      gint64 log = log_id (yard, i);
      g_array_append_val (logs, log);
    }
  g_autoptr (BedYard) before = load (yard);
  BedLogGoal goal = { bed_yard_find_stack (before, yard->frame, NULL), 0, 0, day };
  g_autoptr (BedYardChange) change = bed_yard_put_logs (farm, logs, &goal, &error);
  g_assert_no_error (error);
  commit (change);
  g_assert_cmpstr (change->sentence, ==, said);
  g_assert_cmpint (
      count (yard,
             "SELECT julianday (bed_today ()) - julianday (since) FROM place WHERE log = ?1"
             " AND until IS NULL",
             log_id (yard, 1)),
      ==, 3);
  g_autoptr (BedYard) after = load (yard);
  goal.to = bed_yard_find_stack (after, yard->frame, NULL);
  g_assert_null (bed_yard_put_logs (farm, logs, &goal, &error)); /* they lie there already */
  g_assert_nonnull (strstr (error->message, "A-frame 1 already"));
  g_clear_error (&error);
  g_autofree char *sooner = bed_date_add (day, -1);
  goal = (BedLogGoal){ bed_yard_find_stack (after, yard->crib, NULL), 0, 0, sooner };
  g_assert_null (bed_yard_put_logs (farm, logs, &goal, &error));
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID);
  g_assert_nonnull (strstr (error->message, "lies in A-frame 1 since"));
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
#define ADD(name, test) g_test_add ("/yard/" name, Yard, NULL, set_up, test, tear_down)
  ADD ("put", test_put);
  ADD ("put-undo", test_put_undo);
  ADD ("move-dated", test_move_dated);
  ADD ("move-same-day", test_move_same_day);
  ADD ("swap", test_swap);
  ADD ("take-out", test_take_out);
  ADD ("stack", test_stack);
  ADD ("several", test_several);
  ADD ("past-day", test_past_day);
  return g_test_run ();
}
