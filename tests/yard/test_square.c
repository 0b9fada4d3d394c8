/* Outlines whose sides turn by right angles, however they were drawn. */
#include "yard/square.h"
#include "yard_sample.h"

#include <math.h>

#define NEAR 1e-6

static GArray *
corners_new (const BedPoint *points, guint n)
{
  GArray *corners = g_array_new (FALSE, FALSE, sizeof (BedPoint));

  g_array_append_vals (corners, points, n);
  return corners;
}

static BedPoint
get_corner (const GArray *corners, guint i)
{
  return g_array_index (corners, BedPoint, i % corners->len);
}

static void
assert_point (BedPoint got, double x, double y)
{
  g_assert_cmpfloat_with_epsilon (got.x, x, NEAR);
  g_assert_cmpfloat_with_epsilon (got.y, y, NEAR);
}

static void
assert_right_angles (const GArray *corners)
{
  for (guint i = 0; i < corners->len; i++)
    {
      BedPoint a = get_corner (corners, i), b = get_corner (corners, i + 1),
               c = get_corner (corners, i + 2);
      double along = (b.x - a.x) * (c.x - b.x) + (b.y - a.y) * (c.y - b.y);
      g_assert_cmpfloat_with_epsilon (along, 0, 1e-4);
    }
}

/* Twelve metres east, eight to the left, four to the right of that. */
static void
test_next (void)
{
  g_autoptr (GArray) corners = corners_new ((const BedPoint[]){ { 1, 2 }, { 13, 2 } }, 2);
  BedPoint at = bed_square_next (corners, 2, get_corner (corners, 1), 8);

  assert_point (at, 13, 10);
  g_array_append_val (corners, at);
  assert_point (bed_square_next (corners, 3, at, 4), 9, 10);
  assert_point (bed_square_next (corners, 3, at, -4), 17, 10);
  /* The hand says which side. */
  assert_point (bed_square_next (corners, 3, (BedPoint){ 15, 9 }, 4), 17, 10);
  assert_point (bed_square_next (corners, 3, (BedPoint){ 15, 9 }, -4), 9, 10);
}

static void
test_close (void)
{
  const BedPoint points[] = { { 0, 0 }, { 12, 0 }, { 12, 8 }, { 5, 8 }, { 5, 6 } };
  g_autoptr (GArray) two = corners_new (points, 2), three = corners_new (points, 3);
  g_autoptr (GArray) four = corners_new (points, 4), five = corners_new (points, 5);

  bed_square_close (two);
  g_assert_cmpuint (two->len, ==, 2);
  bed_square_close (three); /* a fourth corner */
  g_assert_cmpuint (three->len, ==, 4);
  assert_point (get_corner (three, 3), 0, 8);
  bed_square_close (four); /* the last side goes on */
  g_assert_cmpuint (four->len, ==, 4);
  assert_point (get_corner (four, 3), 0, 8);
  bed_square_close (five);
  g_assert_cmpuint (five->len, ==, 6);
  assert_point (get_corner (five, 5), 0, 6);
}

/* Ended where it began: that is no corner twice. */
static void
test_close_at_first (void)
{
  g_autoptr (GArray) corners
      = corners_new ((const BedPoint[]){ { 2, 1 }, { 8, 1 }, { 8, 6 }, { 2, 6 }, { 2, 1 } }, 5);

  bed_square_close (corners);
  g_assert_cmpuint (corners->len, ==, 4);
  assert_right_angles (corners);
}

/* Any first way, any lengths. */
static void
test_any (void)
{
  GRand *dice = g_rand_new_with_seed (17);

  for (int n = 0; n < 300; n++)
    {
      double way = g_rand_double_range (dice, 0, 2 * G_PI), far = g_rand_double_range (dice, 1, 9);
      const BedPoint first[] = { { 3, 4 }, { 3 + far * cos (way), 4 + far * sin (way) } };
      g_autoptr (GArray) corners = corners_new (first, 2);
      int more = g_rand_int_range (dice, 1, 6);
      for (int i = 0; i < more; i++)
        {
          BedPoint hand = { g_rand_double_range (dice, 0, 9), g_rand_double_range (dice, 0, 9) };
          BedPoint at = bed_square_next (corners, corners->len, hand, 1 + i);
          g_array_append_val (corners, at);
        }
      bed_square_close (corners);
      g_assert_cmpuint (corners->len % 2, ==, 0);
      assert_right_angles (corners);
    }
  g_rand_free (dice);
}

/* In line with the first corner, with another thing's corner, else by the grid; never off its
 * side. */
static void
test_snap (void)
{
  g_autoptr (BedYard) yard = bed_yard_new (30, 30);
  sample_add_feature (yard, BED_FEATURE_BUILDING, "14 9, 16 12");
  g_autoptr (BedScene) scene = bed_scene_new (yard);
  g_autoptr (GArray) corners
      = corners_new ((const BedPoint[]){ { 2, 1 }, { 13, 1 }, { 13, 8 } }, 3);

  BedPointSnap snap = bed_square_snap (scene, corners, 3, (BedPoint){ 2.2, 8.3 }, 0.3);
  assert_point (snap.point, 2, 8);
  g_assert_cmpuint (snap.n_lines, ==, 1);
  g_assert_cmpfloat_with_epsilon (snap.lines[0].distance, 7, NEAR);
  snap = bed_square_snap (scene, corners, 3, (BedPoint){ 16.2, 7 }, 0.3);
  assert_point (snap.point, 16, 8);
  snap = bed_square_snap (scene, corners, 3, (BedPoint){ 7.03, 9 }, 0.3);
  assert_point (snap.point, 7, 8);
  g_assert_cmpuint (snap.n_lines, ==, 0);
  snap = bed_square_snap (scene, corners, 3, (BedPoint){ 2.2, 9 }, 0); /* loose */
  assert_point (snap.point, 2.2, 8);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/square/next", test_next);
  g_test_add_func ("/square/close", test_close);
  g_test_add_func ("/square/close-at-first", test_close_at_first);
  g_test_add_func ("/square/any", test_any);
  g_test_add_func ("/square/snap", test_snap);
  return g_test_run ();
}
