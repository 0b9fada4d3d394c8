/* What is planned in the yard for a coming day, against a farm: no window. */
#include "yard/arrange.h"
#include "yard/load.h"
#include "yard/planned_farm.h"

#include "../ask.h"
#include "../model/model_test.h"
#include "model/farm/history.h"

#define DAY "2026-12-01"

typedef struct
{
  Scene scene;
  gint64 area, crib, batch;
} Yard;

static void
commit (BedYardChange *change)
{
  g_autoptr (BedYardChange) owned = change;
  g_autoptr (GError) error = NULL;

  g_assert_nonnull (owned);
  bed_edit_commit (owned->edit, owned->sentence, &error);
  g_assert_no_error (error);
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

static BedYard *
load_then (Yard *yard)
{
  g_autoptr (GError) error = NULL;
  BedYard *loaded = bed_planned_yard (yard->scene.farm, yard->area, DAY, &error);

  g_assert_no_error (error);
  return loaded;
}

static BedPlannedDay *
read_draft (Yard *yard)
{
  g_autoptr (GError) error = NULL;
  BedPlannedDay *draft = bed_planned_read (yard->scene.farm, DAY, &error);

  g_assert_no_error (error);
  return draft;
}

static gint64
count (Yard *yard, const char *sql)
{
  return ask_one (yard->scene.farm, sql, 0);
}

/* A crib of two tiers with eight of ten logs. */
static void
set_up (Yard *yard, gconstpointer data)
{
  BedFarm *farm;
  g_autoptr (GError) error = NULL;

  scene_set_up (&yard->scene, NULL);
  farm = yard->scene.farm;
  yard->batch = scene_batch (farm, 10);
  yard->area = scene_add (farm, scene_record (farm, BED_KIND_AREA, "name", "Lower yard", "width",
                                              "12 m", "depth", "9 m", NULL));
  BedNewStack crib = { yard->area, BED_STACK_CRIB, { 4, 5, 0 }, 2, 4 };
  commit (bed_yard_build_stack (farm, &crib, &yard->crib));
  g_autoptr (BedYard) before = load (yard);
  commit (bed_yard_put_batch (farm, bed_yard_find_stack (before, yard->crib, NULL), yard->batch,
                              &error));
}

static void
tear_down (Yard *yard, gconstpointer data)
{
  scene_tear_down (&yard->scene, NULL);
}

/* The crib to three metres farther east. */
static void
plan_move (Yard *yard)
{
  g_autoptr (BedYard) then = load_then (yard);
  g_autoptr (GArray) things = g_array_new (FALSE, FALSE, sizeof (BedThing));
  g_autoptr (GError) error = NULL;
  BedThing thing = { BED_THING_STACK, yard->crib };
  const BedMotion motion = { { 0, 0 }, 0, { 3, 0 } };

  g_array_append_val (things, thing);
  g_autoptr (GArray) steps = bed_group_carry (things, &motion);
  commit (bed_planned_move (yard->scene.farm, then, DAY, steps, &error));
}

static gint64
find_planned (const BedYard *yard)
{
  for (guint i = 0; i < yard->stacks->len; i++)
    if (((BedYardStack *) yard->stacks->pdata[i])->id < 0)
      return ((BedYardStack *) yard->stacks->pdata[i])->id;
  return 0;
}

static GArray *
list_ids (const BedPlannedDay *draft, guint n)
{
  GArray *ids = g_array_new (FALSE, FALSE, sizeof (gint64));

  for (guint i = 0; i < MIN (n, draft->moves->len); i++)
    g_array_append_val (ids, ((BedPlannedMove *) draft->moves->pdata[i])->id);
  return ids;
}

/* Today stays as it is; the day shows the crib elsewhere; the moves take the top first. */
static void
test_plan (Yard *yard, gconstpointer data)
{
  plan_move (yard);
  g_autoptr (BedYard) now = load (yard), then = load_then (yard);
  g_autoptr (GError) error = NULL;
  g_autofree char *day = bed_planned_dup_day (yard->scene.farm, &error);
  const BedYardStack *old = bed_yard_find_stack (then, yard->crib, NULL);
  const BedYardStack *new_one = bed_yard_find_stack (then, find_planned (then), NULL);

  g_assert_cmpstr (day, ==, DAY);
  g_assert_cmpuint (now->stacks->len, ==, 1);
  g_assert_cmpuint (((BedYardStack *) now->stacks->pdata[0])->logs->len, ==, 8);
  g_assert_cmpuint (then->stacks->len, ==, 2);
  g_assert_cmpuint (old->logs->len, ==, 0);
  g_assert_cmpuint (new_one->logs->len, ==, 8);
  g_assert_cmpstr (new_one->name, ==, "Crib 2");
  g_assert_cmpfloat_with_epsilon (new_one->pose.x, 7, 1e-6);
  g_assert_cmpuint (now->arrows->len, ==, 0);
  g_assert_cmpuint (then->arrows->len, ==, 1);
  g_assert_cmpfloat_with_epsilon (g_array_index (then->arrows, BedYardArrow, 0).from.x, 4, 1e-6);
  g_autoptr (BedPlannedDay) draft = read_draft (yard);
  g_assert_cmpuint (draft->moves->len, ==, 8);
  for (guint i = 0; i < 8; i++)
    {
      const BedPlannedMove *move = draft->moves->pdata[i];
      g_assert_cmpint (move->state, ==, BED_PLANNED_READY);
      g_assert_cmpuint (move->from.tier, ==, i < 4 ? 2 : 1);
      g_assert_cmpuint (move->to.tier, ==, i < 4 ? 1 : 2);
    }
  g_autofree char *from
      = bed_planned_dup_spot (draft, &((BedPlannedMove *) draft->moves->pdata[0])->from);
  g_assert_cmpstr (from, ==, "Crib 1, tier 2, slot 1");
}

/* A planned stack is carried on, and left out with what was to go into it. */
static void
test_change (Yard *yard, gconstpointer data)
{
  plan_move (yard);
  g_autoptr (BedYard) then = load_then (yard);
  g_autoptr (GArray) things = g_array_new (FALSE, FALSE, sizeof (BedThing));
  g_autoptr (GError) error = NULL;
  BedThing thing = { BED_THING_STACK, find_planned (then) };
  const BedMotion motion = { { 0, 0 }, 0, { 0, 2 } };

  g_array_append_val (things, thing);
  g_autoptr (GArray) steps = bed_group_carry (things, &motion);
  commit (bed_planned_move (yard->scene.farm, then, DAY, steps, &error));
  g_assert_cmpint (count (yard, "SELECT y FROM planned_stack"), ==, 7000000);
  g_assert_cmpint (count (yard, "SELECT count (*) FROM planned_move"), ==, 8);
  commit (bed_planned_remove (yard->scene.farm, then, things, &error));
  g_assert_cmpint (count (yard, "SELECT count (*) FROM planned_stack"), ==, 0);
  g_assert_cmpint (count (yard, "SELECT count (*) FROM planned_move"), ==, 0);
  g_array_index (things, BedThing, 0).id = yard->crib;
  g_assert_null (bed_planned_remove (yard->scene.farm, then, things, &error));
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID);
}

/* A part is carried out: the stack is built, the rest stays planned into it; then the rest, and
 * what was left empty is taken down. Each is one undo. */
static void
test_carry_out (Yard *yard, gconstpointer data)
{
  BedFarm *farm = yard->scene.farm;
  g_autoptr (GError) error = NULL;

  plan_move (yard);
  g_autoptr (BedPlannedDay) draft = read_draft (yard);
  g_autoptr (GArray) three = list_ids (draft, 3);
  commit (bed_planned_carry_out (farm, draft, three, &error));
  g_assert_cmpint (count (yard, "SELECT count (*) FROM planned_stack"), ==, 0);
  g_assert_cmpint (count (yard, "SELECT count (*) FROM planned_move"), ==, 5);
  g_assert_cmpint (count (yard, "SELECT count (*) FROM planned_move WHERE stack IS NULL"), ==, 0);
  g_assert_cmpint (count (yard, "SELECT count (*) FROM stack WHERE name = 'Crib 2'"), ==, 1);
  g_assert_cmpint (count (yard, "SELECT count (*) FROM place x JOIN stack k ON k.id = x.stack"
                                " WHERE k.name = 'Crib 2' AND x.tier = 1 AND x.until IS NULL"),
                   ==, 3);
  g_assert_true (bed_history_undo (farm, NULL, &error));
  g_assert_cmpint (count (yard, "SELECT count (*) FROM planned_move WHERE stack IS NULL"), ==, 8);
  g_assert_cmpint (count (yard, "SELECT count (*) FROM stack"), ==, 1);
  g_assert_true (bed_history_redo (farm, NULL, &error));
  g_autoptr (BedPlannedDay) rest = read_draft (yard);
  g_assert_cmpuint (rest->moves->len, ==, 5);
  g_autoptr (GArray) all = list_ids (rest, 5);
  commit (bed_planned_carry_out (farm, rest, all, &error));
  g_assert_cmpint (count (yard, "SELECT count (*) FROM planned_move"), ==, 0);
  g_assert_cmpint (count (yard, "SELECT count (*) FROM stack WHERE taken_down_on IS NOT NULL"), ==,
                   1);
  g_assert_cmpint (count (yard, "SELECT count (*) FROM place x JOIN stack k ON k.id = x.stack"
                                " WHERE k.name = 'Crib 2' AND x.until IS NULL"),
                   ==, 8);
}

/* A log that waits is planned into the crib; a lower one that is to go while others stay cannot. */
static void
test_logs (Yard *yard, gconstpointer data)
{
  g_autoptr (GArray) logs = g_array_new (FALSE, FALSE, sizeof (gint64));
  g_autoptr (GError) error = NULL;
  BedNewStack row = { yard->area, BED_STACK_GROUND, { 9, 2, 0 }, 1, 12 };
  gint64 to, low = count (yard, "SELECT log FROM place WHERE tier = 1 AND slot = 1");

  commit (bed_yard_build_stack (yard->scene.farm, &row, &to));
  g_autoptr (BedYard) with_row = load_then (yard);
  BedLogGoal goal = { bed_yard_find_stack (with_row, to, NULL), 1, 1 };
  g_array_append_val (logs, low);
  gint64 waiting = count (yard, "SELECT id FROM log_waiting ORDER BY code LIMIT 1");
  g_array_append_val (logs, waiting);
  commit (bed_planned_move_logs (yard->scene.farm, DAY, logs, &goal, &error));
  g_autoptr (BedPlannedDay) draft = read_draft (yard);
  g_assert_cmpuint (draft->moves->len, ==, 2);
  const BedPlannedMove *first = draft->moves->pdata[0], *last = draft->moves->pdata[1];
  g_assert_cmpint (first->log, ==, waiting);
  g_assert_cmpint (first->from.stack, ==, 0);
  g_assert_cmpint (last->state, ==, BED_PLANNED_UNDER);
  g_autofree char *why = bed_planned_dup_trouble (last);
  g_assert_nonnull (why);
  commit (bed_planned_forget (yard->scene.farm, DAY, &error));
  g_autofree char *day = bed_planned_dup_day (yard->scene.farm, &error);
  g_assert_null (day);
  g_assert_no_error (error);
}

/* What is arranged for the day is planned; what is arranged for now is built and filled. */
static void
test_arrange (Yard *yard, gconstpointer data)
{
  BedFarm *farm = yard->scene.farm;
  g_autoptr (BedYard) now = load (yard);
  g_autoptr (BedScene) scene = bed_scene_new (now);
  g_autoptr (BedYardStack) like = bed_yard_stack_new_for (farm, BED_STACK_CRIB);
  const BedArrangeWish wish = { like, NULL, 0 };
  g_autoptr (GArray) made = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (BedArrangement) all
      = bed_arrange (scene, &wish, bed_arrange_read (farm, yard->batch, 0, &error));

  g_assert_cmpuint (all->logs->len, ==, 10);
  commit (bed_arrange_put (farm, yard->area, DAY, &wish, all, &made, &error));
  g_assert_cmpint (g_array_index (made, gint64, 0), <, 0);
  g_assert_cmpint (count (yard, "SELECT count (*) FROM planned_move"), ==, 10);
  g_autoptr (BedPlannedDay) planned = read_draft (yard);
  for (guint i = 0; i < planned->moves->len; i++)
    g_assert_cmpint (((BedPlannedMove *) planned->moves->pdata[i])->state, ==, BED_PLANNED_READY);
  g_autoptr (BedArrangement) waiting
      = bed_arrange (scene, &wish, bed_arrange_read (farm, 0, 0, &error));
  g_assert_cmpuint (waiting->logs->len, ==, 2);
  BedYardChange *change = bed_arrange_put (farm, yard->area, NULL, &wish, waiting, NULL, &error);
  g_assert_cmpstr (change->sentence, ==, "Arranged 2 logs in 1 stack");
  commit (change);
  g_assert_cmpint (count (yard, "SELECT count (*) FROM log_waiting"), ==, 0);
  g_assert_cmpint (count (yard, "SELECT count (*) FROM stack WHERE name = 'Crib 3'"), ==, 1);
}

/* One stack or the other, not both or none. */
static void
test_rule (Yard *yard, gconstpointer data)
{
  g_autoptr (BedEdit) edit = bed_edit_new (yard->scene.farm);
  g_autoptr (BedRecord) move = bed_record_new (BED_KIND_PLANNED_MOVE);
  g_autoptr (GError) error = NULL;

  bed_record_set_text (move, "planned_on", DAY);
  bed_record_set_int (move, "log", count (yard, "SELECT min (id) FROM log"));
  bed_edit_put (edit, move);
  g_assert_false (bed_edit_commit (edit, "Planned", &error));
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
#define ADD(name, test) g_test_add ("/planned/" name, Yard, NULL, set_up, test, tear_down)
  ADD ("plan", test_plan);
  ADD ("change", test_change);
  ADD ("carry-out", test_carry_out);
  ADD ("logs", test_logs);
  ADD ("arrange", test_arrange);
  ADD ("rule", test_rule);
#undef ADD
  return g_test_run ();
}
