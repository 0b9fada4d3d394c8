/* How many more stacks an area has room for. */
#include "yard/ground.h"
#include "yard/room.h"
#include "yard_sample.h"

#include <math.h>

static BedYardStack *
crib_new (void)
{
  return bed_yard_stack_new (BED_STACK_CRIB); /* a metre long and wide, for 24 logs */
}

/* In an empty rectangle as many as the aisles leave room for, both ways. */
static void
test_empty (void)
{
  g_autoptr (BedYardStack) crib = crib_new ();
  const BedRoomWish wish = { crib, NULL, 0 };

  for (double width = 1; width < 9; width += 0.7)
    {
      g_autoptr (BedYard) yard = bed_yard_new (width, 5);
      g_autoptr (BedScene) scene = bed_scene_new (yard);
      g_autoptr (GArray) poses = bed_room_fill (scene, &wish);
      guint across = (guint) floor ((width + 0.9) / 1.9 + 1e-9);
      g_assert_cmpuint (poses->len, ==, across * 3); /* (5 + 0.9) / 1.9 = 3.1 */
      g_assert_cmpuint (bed_room_logs (&wish, poses->len), ==, across * 3 * 24);
    }
}

/* Whatever stands there: inside, on nothing, an aisle apart; and no further one fits on the grid
 * that was tried. */
static void
test_sound (void)
{
  g_autoptr (BedYard) yard = sample_yard_new ();
  g_autoptr (BedYardStack) crib = crib_new ();
  const BedRoomWish wish = { crib, NULL, 0 };
  g_autoptr (BedScene) before = bed_scene_new (yard);
  g_autoptr (GArray) poses = bed_room_fill (before, &wish), again = bed_room_fill (before, &wish);
  guint old = yard->stacks->len;

  g_assert_cmpuint (poses->len, >, 20);
  g_assert_cmpuint (poses->len, ==, again->len);
  for (guint i = 0; i < poses->len; i++)
    {
      BedYardStack *stack = crib_new ();
      stack->pose = g_array_index (poses, BedRoomPlace, i).pose;
      g_assert_cmpfloat (stack->pose.x, ==, g_array_index (again, BedRoomPlace, i).pose.x);
      g_ptr_array_add (yard->stacks, stack);
    }
  g_autoptr (BedScene) after = bed_scene_new (yard);
  for (guint i = old; i < yard->stacks->len; i++)
    {
      const BedYardStack *stack = yard->stacks->pdata[i];
      BedPoint corners[4], other[4];
      BedMeasurement nearest;
      bed_yard_footprint (after, i, &stack->pose, corners);
      BedShape shape = bed_shape_polygon (corners, 4);
      bed_yard_nearest (after, i, &stack->pose, &nearest);
      g_assert_cmpfloat (nearest.distance, >=, 0.9 - 0.0011);
      for (guint f = 0; f < yard->features->len; f++)
        {
          const BedYardFeature *feature = yard->features->pdata[f];
          BedShape footing = bed_feature_get_footing (feature, other);
          if (feature->kind != BED_FEATURE_SHADE_CLOTH)
            g_assert_false (bed_shape_overlaps (&shape, &footing));
        }
      for (guint c = 0; c < 4; c++)
        {
          g_assert_cmpfloat (corners[c].x, >=, -0.0011);
          g_assert_cmpfloat (corners[c].x, <=, 20.0011);
          g_assert_cmpfloat (corners[c].y, >=, -0.0011);
          g_assert_cmpfloat (corners[c].y, <=, 14.0011);
        }
    }
  g_autoptr (GArray) none = bed_room_fill (after, &wish);
  g_assert_cmpuint (none->len, <, poses->len / 4);
}

/* Rows go along the longest side, however it lies, and stay in what was drawn. */
static void
test_within (void)
{
  g_autoptr (BedYard) yard = bed_yard_new (30, 30);
  g_autoptr (BedYardStack) row = bed_yard_stack_new (BED_STACK_GROUND);
  BedGround box = { .form = BED_GROUND_BOX,
                    .points = bed_outline_parse ("15 15", NULL),
                    .width = 12,
                    .depth = 4,
                    .turn = 0.4 };
  BedPoint corners[4];

  bed_ground_get_corners (&box, corners);
  g_array_set_size (box.points, 0);
  g_array_append_vals (box.points, corners, 4);
  box.form = BED_GROUND_POLYGON;
  g_autoptr (BedScene) scene = bed_scene_new (yard);
  const BedRoomWish wish = { row, &box, 0 };
  g_autoptr (GArray) poses = bed_room_fill (scene, &wish);
  g_assert_cmpuint (poses->len, >, 4);
  for (guint i = 0; i < poses->len; i++)
    {
      const BedPose *pose = &g_array_index (poses, BedRoomPlace, i).pose;
      g_assert_cmpfloat_with_epsilon (fabs (remainder (pose->turn - 0.4, G_PI / 2)), 0, 1e-9);
      g_assert_cmpfloat (hypot (pose->x - 15, pose->y - 15), <, 6);
    }
  g_array_unref (box.points);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/room/empty", test_empty);
  g_test_add_func ("/room/sound", test_sound);
  g_test_add_func ("/room/within", test_within);
  return g_test_run ();
}
