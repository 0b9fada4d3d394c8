/* Stacks and things on the ground worked on together, and where stacks stood, against a farm. */
#include "yard/features.h"
#include "yard/group.h"
#include "yard/load.h"

#include "../ask.h"
#include "../model/model_test.h"

/* Today is 2026-05-12. */
typedef struct
{
  Scene scene;
  gint64 area, crib, row, path;
  BedYard *yard;
  BedScene *drawn;
} Yard;

static void
look (Yard *yard, const char *day)
{
  g_autoptr (GError) error = NULL;

  g_clear_pointer (&yard->drawn, bed_scene_free);
  g_clear_pointer (&yard->yard, bed_yard_free);
  yard->yard = bed_yard_load (yard->scene.farm, yard->area, day, &error);
  g_assert_no_error (error);
  yard->drawn = bed_scene_new (yard->yard);
}

static void
set_up (Yard *yard, gconstpointer data)
{
  BedFarm *farm;

  scene_set_up (&yard->scene, NULL);
  farm = yard->scene.farm;
  yard->area = scene_add (farm, scene_record (farm, BED_KIND_AREA, "name", "Lower yard", NULL));
  yard->crib = scene_add (farm, scene_record (farm, BED_KIND_STACK, "name", "Crib 1", "area",
                                              "Lower yard", "kind", "crib", "x", "3", "y", "4",
                                              "built_on", "2026-03-01", NULL));
  yard->row = scene_add (farm, scene_record (farm, BED_KIND_STACK, "name", "Row 1", "area",
                                             "Lower yard", "kind", "ground row", "x", "9", "y", "6",
                                             "built_on", "2026-05-12", NULL));
  yard->path = scene_add (farm, scene_record (farm, BED_KIND_FEATURE, "area", "Lower yard", "kind",
                                              "path", "outline", "1 1, 6 1", NULL));
  look (yard, "2026-05-12");
}

static void
tear_down (Yard *yard, gconstpointer data)
{
  bed_scene_free (yard->drawn);
  bed_yard_free (yard->yard);
  scene_tear_down (&yard->scene, NULL);
}

/* Takes @change. */
static void
commit (Yard *yard, BedYardChange *change, const char *sentence)
{
  g_autoptr (GError) error = NULL;

  g_assert_nonnull (change);
  g_assert_cmpstr (change->sentence, ==, sentence);
  bed_edit_commit (change->edit, change->sentence, &error);
  g_assert_no_error (error);
  bed_yard_change_free (change);
  look (yard, "2026-05-12");
}

static void
undo (Yard *yard)
{
  g_autofree char *sentence = NULL;

  g_assert_true (bed_history_undo (yard->scene.farm, &sentence, NULL));
  look (yard, "2026-05-12");
}

static BedYardChange *
move (Yard *yard, gint64 stack, double x, double y)
{
  g_autoptr (GError) error = NULL;
  BedYardChange *change = bed_yard_change_new_empty (yard->scene.farm);
  BedStackGoal goal = { yard->area, { x, y, 0 } };

  g_assert_true (bed_yard_change_add_move (change, yard->scene.farm, stack, &goal, &error));
  change->sentence = g_strdup ("Moved it");
  return change;
}

static gint64
count_stood (Yard *yard)
{
  return bed_farm_count (yard->scene.farm, BED_KIND_STOOD);
}

static void
assert_stands (Yard *yard, const char *day, double x, double y)
{
  look (yard, day);
  const BedYardStack *crib = bed_yard_find_stack (yard->yard, yard->crib, NULL);

  g_assert_nonnull (crib);
  g_assert_cmpfloat_with_epsilon (crib->pose.x, x, 1e-9);
  g_assert_cmpfloat_with_epsilon (crib->pose.y, y, 1e-9);
}

/* Moved today, it stood elsewhere until yesterday; moved again today, that is still so. */
static void
test_stood (Yard *yard, gconstpointer data)
{
  BedFarm *farm = yard->scene.farm;
  g_autoptr (GError) error = NULL;
  g_autofree char *before = scene_dump (farm);

  commit (yard, move (yard, yard->crib, 7, 8), "Moved it");
  g_assert_cmpint (count_stood (yard), ==, 1);
  commit (yard, move (yard, yard->crib, 7.5, 8), "Moved it");
  g_assert_cmpint (count_stood (yard), ==, 1);
  assert_stands (yard, "2026-03-01", 3, 4);
  assert_stands (yard, "2026-05-11", 3, 4);
  assert_stands (yard, "2026-05-12", 7.5, 8);
  g_autoptr (GPtrArray) days = bed_yard_days (farm, yard->area, &error);
  g_assert_cmpuint (days->len, ==, 2);
  g_assert_cmpstr (days->pdata[1], ==, "2026-05-12");
  look (yard, "2026-02-28");
  g_assert_cmpuint (yard->yard->stacks->len, ==, 0);
  undo (yard);
  undo (yard);
  g_autofree char *after = scene_dump (farm);
  g_assert_cmpstr (before, ==, after);
}

/* On the day it was built it never stood elsewhere. */
static void
test_stood_built_today (Yard *yard, gconstpointer data)
{
  commit (yard, move (yard, yard->row, 7, 8), "Moved it");
  g_assert_cmpint (count_stood (yard), ==, 0);
}

/* Three places in a row, and another area: each day has its own. */
static void
test_stood_often (Yard *yard, gconstpointer data)
{
  BedFarm *farm = yard->scene.farm;

  scene_add (farm, scene_record (farm, BED_KIND_AREA, "name", "Upper yard", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_STOOD, "stack", "Crib 1", "area", "Upper yard", "x",
                                 "1", "y", "1", "until", "2026-03-10", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_STOOD, "stack", "Crib 1", "area", "Lower yard", "x",
                                 "2", "y", "2", "until", "2026-04-10", NULL));
  look (yard, "2026-03-09");
  g_assert_null (bed_yard_find_stack (yard->yard, yard->crib, NULL));
  assert_stands (yard, "2026-03-10", 2, 2);
  assert_stands (yard, "2026-04-09", 2, 2);
  assert_stands (yard, "2026-04-10", 3, 4);
  scene_refuses (farm,
                 scene_record (farm, BED_KIND_STOOD, "stack", "Crib 1", "area", "Lower yard",
                               "until", "2026-04-10", NULL),
                 "until", "entered already");
}

static GArray *
choose (const BedThing *things, guint n)
{
  GArray *chosen = g_array_new (FALSE, FALSE, sizeof *things);

  return g_array_append_vals (chosen, things, n);
}

static GArray *
choose_all (Yard *yard)
{
  const BedThing all[] = { { BED_THING_STACK, yard->crib },
                           { BED_THING_STACK, yard->row },
                           { BED_THING_FEATURE, yard->path } };

  return choose (all, 3);
}

/* A quarter turn about the origin and two metres east, all of it, taken back as one. */
static void
test_carry (Yard *yard, gconstpointer data)
{
  BedFarm *farm = yard->scene.farm;
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) things = choose_all (yard);
  const BedMotion motion = { .turn = G_PI / 2, .by = { 12, 0 } };
  g_autoptr (GArray) steps = bed_group_carry (things, &motion);
  g_autofree char *before = scene_dump (farm);

  commit (yard, bed_group_put (farm, yard->yard, steps, BED_GROUP_TURNED, &error),
          "Turned 3 things");
  const BedYardStack *crib = bed_yard_find_stack (yard->yard, yard->crib, NULL);
  g_assert_cmpfloat_with_epsilon (crib->pose.x, 8, 1e-9);
  g_assert_cmpfloat_with_epsilon (crib->pose.y, 3, 1e-9);
  g_assert_cmpfloat_with_epsilon (crib->pose.turn, G_PI / 2, 1e-9);
  g_assert_cmpint (
      ask_one (farm, "SELECT outline = '11 1, 11 6' AND form = 'band' FROM feature", 0), ==, 1);
  undo (yard);
  g_autofree char *after = scene_dump (farm);
  g_assert_cmpstr (before, ==, after);
}

static void
test_align (Yard *yard, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  const BedThing stacks[] = { { BED_THING_STACK, yard->crib }, { BED_THING_STACK, yard->row } };
  g_autoptr (GArray) things = choose (stacks, 2);
  BedExtent all = bed_group_extent (yard->drawn, things);

  for (BedAlign align = BED_ALIGN_WEST; align <= BED_ALIGN_MIDDLE_Y; align++)
    {
      g_autoptr (GArray) steps = bed_group_align (yard->drawn, things, align);
      commit (yard, bed_group_put (yard->scene.farm, yard->yard, steps, BED_GROUP_ALIGNED, &error),
              "Aligned 2 things");
      BedExtent of[2];
      for (guint i = 0; i < 2; i++)
        {
          g_autoptr (GArray) one = choose (&stacks[i], 1);
          of[i] = bed_group_extent (yard->drawn, one);
        }
      double low[2] = { of[0].x, of[1].x }, size[2] = { of[0].width, of[1].width };
      if (align == BED_ALIGN_SOUTH || align == BED_ALIGN_NORTH || align == BED_ALIGN_MIDDLE_Y)
        {
          low[0] = of[0].y, low[1] = of[1].y;
          size[0] = of[0].height, size[1] = of[1].height;
        }
      double share = align == BED_ALIGN_WEST || align == BED_ALIGN_SOUTH   ? 0
                     : align == BED_ALIGN_EAST || align == BED_ALIGN_NORTH ? 1
                                                                           : 0.5;
      g_assert_cmpfloat_with_epsilon (low[0] + share * size[0], low[1] + share * size[1], 2e-4);
      if (align == BED_ALIGN_WEST)
        g_assert_cmpfloat_with_epsilon (low[0], all.x, 2e-4);
      undo (yard);
    }
}

/* Three cribs, the free ground between them shared out evenly. */
static void
test_distribute (Yard *yard, gconstpointer data)
{
  BedFarm *farm = yard->scene.farm;
  g_autoptr (GError) error = NULL;
  BedThing stacks[3] = { { BED_THING_STACK, yard->crib } };
  const double at[] = { 12, 6 };

  for (guint i = 0; i < 2; i++)
    {
      BedNewStack crib = { yard->area, BED_STACK_CRIB, { at[i], 4, 0 }, 0, 0 };
      stacks[i + 1].kind = BED_THING_STACK;
      commit (yard, bed_yard_build_stack (farm, &crib, &stacks[i + 1].id),
              i ? "Built Crib 3" : "Built Crib 2");
    }
  g_autoptr (GArray) things = choose (stacks, 3);
  g_autoptr (GArray) steps = bed_group_distribute (yard->drawn, things, BED_ALONG_X);
  commit (yard, bed_group_put (farm, yard->yard, steps, BED_GROUP_DISTRIBUTED, &error),
          "Spread out 3 things");
  const BedYardStack *middle = bed_yard_find_stack (yard->yard, stacks[2].id, NULL);
  g_assert_cmpfloat_with_epsilon (middle->pose.x, 7.5, 2e-4);
  assert_stands (yard, "2026-05-12", 3, 4);
}

/* Two copies, an aisle apart, with names of their own; one undo. */
static void
test_copy (Yard *yard, gconstpointer data)
{
  BedFarm *farm = yard->scene.farm;
  g_autoptr (GError) error = NULL;
  g_autofree char *before = scene_dump (farm);
  g_autoptr (GArray) made = NULL;
  const BedThing crib[] = { { BED_THING_STACK, yard->crib }, { BED_THING_FEATURE, yard->path } };
  g_autoptr (GArray) one = choose (crib, 1), both = choose (crib, 2);
  BedPoint by = bed_group_beside (yard->drawn, one, BED_ALIGN_NORTH);

  commit (yard, bed_group_copy (farm, yard->yard, one, 2, by, &made, &error),
          "Copied Crib 1 2 times");
  g_assert_cmpuint (made->len, ==, 2);
  gint64 last = yard->crib;
  for (guint i = 0; i < 2; i++)
    {
      guint from, to;
      const BedYardStack *next = bed_yard_find_stack (yard->yard, last, &from);
      last = g_array_index (made, BedThing, i).id;
      const BedYardStack *copy = bed_yard_find_stack (yard->yard, last, &to);
      g_assert_cmpstr (copy->name, ==, i ? "Crib 3" : "Crib 2");
      g_assert_cmpfloat_with_epsilon (
          bed_yard_measure (yard->drawn, from, &next->pose, to).distance, 0.9, 2e-4);
    }
  undo (yard);
  g_autofree char *after = scene_dump (farm);
  g_assert_cmpstr (before, ==, after);
  commit (yard, bed_group_copy (farm, yard->yard, both, 1, by, NULL, &error), "Copied 2 things");
  g_assert_cmpint (bed_farm_count (farm, BED_KIND_FEATURE), ==, 2);
}

static void
test_remove (Yard *yard, gconstpointer data)
{
  BedFarm *farm = yard->scene.farm;
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) things = choose_all (yard);
  g_autoptr (GArray) path = choose (&g_array_index (things, BedThing, 2), 1);

  commit (yard, bed_group_remove (farm, yard->yard, path, &error), "Removed path");
  undo (yard);
  commit (yard, bed_group_remove (farm, yard->yard, things, &error), "Removed 3 things");
  g_assert_cmpuint (yard->yard->stacks->len, ==, 0);
  g_assert_cmpuint (yard->yard->features->len, ==, 0);
  g_autoptr (GArray) steps = bed_group_carry (things, &(BedMotion){ 0 });
  g_assert_null (bed_group_put (farm, yard->yard, steps, BED_GROUP_MOVED, &error));
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_NOT_FOUND);
}

static void
test_touched (Yard *yard, gconstpointer data)
{
  g_autoptr (GArray) all = bed_group_touched (yard->drawn, &(BedExtent){ 0, 0, 30, 30 });
  g_autoptr (GArray) west = bed_group_touched (yard->drawn, &(BedExtent){ 0, 0, 1.1, 30 });
  g_autoptr (GArray) none = bed_group_touched (yard->drawn, &(BedExtent){ 15, 0, 1, 1 });

  g_assert_cmpuint (all->len, ==, 3);
  g_assert_cmpint (g_array_index (all, BedThing, 0).kind, ==, BED_THING_STACK);
  g_assert_cmpuint (west->len, ==, 1);
  g_assert_cmpint (g_array_index (west, BedThing, 0).id, ==, yard->path);
  g_assert_cmpuint (none->len, ==, 0);
}

/* Each deed on a feature is one change, and what is read back is what was put. */
static void
test_features (Yard *yard, gconstpointer data)
{
  BedFarm *farm = yard->scene.farm;
  g_autoptr (GError) error = NULL;
  BedYardFeature *drawn = bed_yard_feature_new (BED_FEATURE_TANK);
  gint64 id;

  bed_ground_set_usual (&drawn->ground, BED_FEATURE_TANK, (BedPoint){ 5, 5 });
  drawn->ground.turn = 0.5;
  BedNewFeature tank = { yard->area, BED_FEATURE_TANK, &drawn->ground, "Tank 1" };
  commit (yard, bed_feature_place (farm, &tank, &id), "Drew Tank 1");
  const BedYardFeature *read = bed_yard_find_feature (yard->yard, id, NULL);
  g_assert_cmpint (read->ground.form, ==, BED_GROUND_BOX);
  g_assert_cmpfloat_with_epsilon (read->ground.turn, 0.5, 1e-4);
  g_assert_cmpfloat (read->ground.width, ==, 2);
  drawn->ground.width = 3.048; /* 10 ft */
  commit (yard, bed_feature_shape (farm, yard->yard, id, &drawn->ground, &error), "Shaped Tank 1");
  read = bed_yard_find_feature (yard->yard, id, NULL);
  g_assert_cmpfloat_with_epsilon (read->ground.width, 3.048, 1e-9);
  commit (yard, bed_feature_set_kind (farm, yard->yard, id, BED_FEATURE_TREE, &error),
          "Changed Tank 1 into: tree");
  read = bed_yard_find_feature (yard->yard, id, NULL);
  g_assert_cmpint (read->kind, ==, BED_FEATURE_TREE);
  g_assert_cmpint (read->ground.form, ==, BED_GROUND_DISC);
  g_assert_cmpint (ask_one (farm, "SELECT width IS NULL FROM feature WHERE id = ?1", id), ==, 1);
  const BedThing thing = { BED_THING_FEATURE, id };
  g_autoptr (GArray) it = choose (&thing, 1);
  commit (yard, bed_group_remove (farm, yard->yard, it, &error), "Removed Tank 1");
  g_assert_null (bed_yard_find_feature (yard->yard, id, NULL));
  bed_yard_feature_free (drawn);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
#define ADD(name, test) g_test_add ("/group/" name, Yard, NULL, set_up, test, tear_down)
  ADD ("stood", test_stood);
  ADD ("stood-built-today", test_stood_built_today);
  ADD ("stood-often", test_stood_often);
  ADD ("carry", test_carry);
  ADD ("align", test_align);
  ADD ("distribute", test_distribute);
  ADD ("copy", test_copy);
  ADD ("remove", test_remove);
  ADD ("touched", test_touched);
  ADD ("features", test_features);
  return g_test_run ();
}
