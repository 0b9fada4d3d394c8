/* Shapes on the ground, what lies between them, and how they are shaped by hand. */
#include "yard/ground.h"
#include "yard/handle.h"

#include <math.h>

#define N_POINTS(p) (p), G_N_ELEMENTS (p)

static GArray *
points_new (const char *text)
{
  g_autoptr (GError) error = NULL;
  GArray *points = bed_outline_parse (text, &error);

  g_assert_no_error (error);
  return points;
}

static BedGround
settle (BedFeatureKind kind, const char *text)
{
  BedGround ground = { .points = points_new (text) };

  bed_ground_settle (&ground, kind);
  return ground;
}

static void
assert_near (BedPoint a, double x, double y)
{
  g_assert_cmpfloat_with_epsilon (a.x, x, 1e-9);
  g_assert_cmpfloat_with_epsilon (a.y, y, 1e-9);
}

static void
assert_points (const BedGround *ground, const char *text)
{
  g_autofree char *found = bed_outline_format (ground->points);

  g_assert_cmpstr (found, ==, text);
}

/* --- shapes --------------------------------------------------------------------- */

static void
test_measure (void)
{
  const BedPoint square[] = { { 0, 0 }, { 2, 0 }, { 2, 2 }, { 0, 2 } };
  const BedPoint path[] = { { 5, -1 }, { 5, 3 } }, tree[] = { { 1, 6 } }, inner[] = { { 1, 1 } };
  BedShape a = bed_shape_polygon (N_POINTS (square));
  BedShape line = { .form = BED_SHAPE_LINE, .points = path, .n_points = 2, .radius = 0.5 };
  BedShape disc = { .form = BED_SHAPE_DISC, .points = tree, .n_points = 1, .radius = 1.5 };
  BedShape within = { .form = BED_SHAPE_DISC, .points = inner, .n_points = 1, .radius = 0.2 };
  BedMeasurement m = bed_shape_measure (&a, &line);

  g_assert_cmpfloat_with_epsilon (m.distance, 2.5, 1e-12); /* 5 - 2 - half a metre */
  g_assert_cmpfloat_with_epsilon (m.from.x, 2, 1e-12);
  g_assert_cmpfloat_with_epsilon (m.to.x, 4.5, 1e-12);
  m = bed_shape_measure (&disc, &a);
  g_assert_cmpfloat_with_epsilon (m.distance, 2.5, 1e-12); /* 6 - 2 - 1.5 */
  assert_near (m.from, 1, 4.5);
  assert_near (m.to, 1, 2);
  g_assert_cmpfloat (bed_shape_measure (&within, &a).distance, ==, 0);
  g_assert_cmpfloat (bed_shape_measure (&a, &within).distance, ==, 0);
  /* Middles (5, 3) and (1, 6) lie 5 apart. */
  g_assert_cmpfloat_with_epsilon (bed_shape_measure (&line, &disc).distance, 3, 1e-12);
  g_assert_cmpfloat (bed_shape_extent (&line).width, ==, 1);
}

static void
test_overlaps (void)
{
  const BedPoint a[] = { { 0, 0 }, { 2, 0 }, { 2, 1 }, { 0, 1 } };
  const BedPoint beside[] = { { 2, 0 }, { 4, 0 }, { 4, 1 }, { 2, 1 } };
  const BedPoint across[] = { { 0.5, -1 }, { 0.9, -1 }, { 0.9, 3 }, { 0.5, 3 } };
  const BedPoint end[] = { { 3, 0.5 } };
  BedShape one = bed_shape_polygon (N_POINTS (a)), touching = bed_shape_polygon (N_POINTS (beside));
  BedShape crossing = bed_shape_polygon (N_POINTS (across));
  BedShape disc = { .form = BED_SHAPE_DISC, .points = end, .n_points = 1, .radius = 1 };

  g_assert_false (bed_shape_overlaps (&one, &touching));
  g_assert_cmpfloat (bed_shape_measure (&one, &touching).distance, ==, 0);
  g_assert_true (bed_shape_overlaps (&one, &one));
  g_assert_true (bed_shape_overlaps (&one, &crossing)); /* no corner of either lies in the other */
  g_assert_false (bed_shape_overlaps (&one, &disc));    /* touches at (2, 0.5) */
  disc.radius = 1.01;
  g_assert_true (bed_shape_overlaps (&one, &disc));
  g_assert_true (bed_shape_overlaps (&disc, &one));
}

/* An outline like an L: what bridges its notch is not in it, though every corner is. */
static void
test_lies_in (void)
{
  const BedPoint corners[] = { { 0, 0 }, { 6, 0 }, { 6, 2 }, { 2, 2 }, { 2, 6 }, { 0, 6 } };
  const BedPoint inside[] = { { 0, 0 }, { 2, 0 }, { 2, 2 }, { 0, 2 } };
  const BedPoint bridge[] = { { 1.9, 5.9 }, { 5.9, 1.9 } }, tree[] = { { 1, 1 } };
  BedShape l = bed_shape_polygon (N_POINTS (corners));
  BedShape square = bed_shape_polygon (N_POINTS (inside));
  BedShape band = { .form = BED_SHAPE_LINE, .points = bridge, .n_points = 2, .radius = 0.01 };
  BedShape disc = { .form = BED_SHAPE_DISC, .points = tree, .n_points = 1, .radius = 1 };

  g_assert_true (bed_shape_lies_in (&square, &l));
  g_assert_false (bed_shape_lies_in (&band, &l));
  g_assert_true (bed_shape_lies_in (&disc, &l)); /* touches the west and south edges */
  disc.radius = 1.01;
  g_assert_false (bed_shape_lies_in (&disc, &l));
  g_assert_false (bed_shape_lies_in (&l, &square));
}

/* Two turned rectangles, a point of the grid at a time. */
static void
test_brute_force (void)
{
  GRand *dice = g_rand_new_with_seed (7);
  guint met = 0;

  for (int n = 0; n < 400; n++)
    {
      BedPoint corners[2][4];
      BedShape shapes[2];
      double nearest = G_MAXDOUBLE;
      for (guint s = 0; s < 2; s++)
        {
          BedGround box = { .form = BED_GROUND_BOX, .points = points_new ("0 0") };
          g_array_index (box.points, BedPoint, 0)
              = (BedPoint){ g_rand_double_range (dice, 0, 4), g_rand_double_range (dice, 0, 4) };
          box.turn = g_rand_double_range (dice, -4, 4);
          box.width = g_rand_double_range (dice, 0.5, 3);
          box.depth = g_rand_double_range (dice, 0.5, 3);
          bed_ground_get_corners (&box, corners[s]);
          shapes[s] = bed_shape_polygon (corners[s], 4);
          g_array_unref (box.points);
        }
      for (double x = -2; x < 6; x += 0.1)
        for (double y = -2; y < 6; y += 0.1)
          {
            BedPoint at = { x, y };
            if (bed_shape_distance (&shapes[0], at) == 0)
              nearest = MIN (nearest, bed_shape_distance (&shapes[1], at));
          }
      BedMeasurement m = bed_shape_measure (&shapes[0], &shapes[1]);
      met += nearest == 0;
      if (nearest == 0) /* a point of the grid lies in both: a point inside both, with its room */
        g_assert_cmpfloat (m.distance, ==, 0);
      g_assert_cmpfloat (nearest, >=, m.distance);
      g_assert_cmpfloat (nearest, <=, m.distance + 0.11 * sqrt (2));
      g_assert_cmpint (bed_shape_overlaps (&shapes[0], &shapes[1]), ==,
                       bed_shape_overlaps (&shapes[1], &shapes[0]));
      if (m.distance > 0)
        g_assert_false (bed_shape_overlaps (&shapes[0], &shapes[1]));
    }
  g_assert_cmpuint (met, >, 50);
  g_assert_cmpuint (met, <, 380);
  g_rand_free (dice);
}

/* --- what old corners are ---------------------------------------------------------- */

static void
test_settle (void)
{
  BedGround tap = settle (BED_FEATURE_TAP, "1 2"), tree = settle (BED_FEATURE_TREE, "1 2, 4 6");
  BedGround tank = settle (BED_FEATURE_TANK, "9 2, 11.2 3.2");
  BedGround path = settle (BED_FEATURE_PATH, "0 0, 3 0, 3 4");
  BedGround turned = settle (BED_FEATURE_BUILDING, "1 1, 3.4 2.8, 1.6 5.2, -0.8 3.4");
  BedGround leaning = settle (BED_FEATURE_BUILDING, "0 0, 4 0, 5 3, 1 3");
  BedGround clockwise = settle (BED_FEATURE_SHADE_CLOTH, "0 0, 0 3, 4 3, 4 0");
  BedPoint corners[4];

  g_assert_cmpint (tap.form, ==, BED_GROUND_POINT);
  g_assert_cmpint (tree.form, ==, BED_GROUND_DISC);
  g_assert_cmpfloat (tree.radius, ==, 5);
  g_assert_cmpint (tank.form, ==, BED_GROUND_BOX);
  g_assert_cmpfloat_with_epsilon (tank.width, 2.2, 1e-12);
  g_assert_cmpfloat_with_epsilon (tank.depth, 1.2, 1e-12);
  assert_points (&tank, "10.1 2.6");
  g_assert_cmpint (path.form, ==, BED_GROUND_BAND);
  assert_points (&path, "0 0, 3 0, 3 4");
  /* Three by three, turned as 3 to 4. */
  g_assert_cmpint (turned.form, ==, BED_GROUND_BOX);
  g_assert_cmpfloat_with_epsilon (turned.turn, atan2 (1.8, 2.4), 1e-12);
  g_assert_cmpfloat_with_epsilon (turned.width, 3, 1e-12);
  g_assert_cmpfloat_with_epsilon (turned.depth, 3, 1e-12);
  bed_ground_get_corners (&turned, corners);
  assert_near (corners[0], 1, 1);
  assert_near (corners[3], -0.8, 3.4);
  g_assert_cmpint (leaning.form, ==, BED_GROUND_POLYGON);
  g_assert_cmpint (clockwise.form, ==, BED_GROUND_BOX);
  g_assert_cmpfloat (clockwise.width * clockwise.depth, ==, 12);
  for (BedGround *all[] = { &tap, &tree, &tank, &path, &turned, &leaning, &clockwise, NULL },
                 **g = all;
       *g; g++)
    g_array_unref ((*g)->points);
}

/* The corners are the same to the millimetre, or they stay corners. */
static void
test_settle_millimetre (void)
{
  GRand *dice = g_rand_new_with_seed (3);
  guint boxes = 0;

  for (int n = 0; n < 500; n++)
    {
      BedPoint was[4], is[4];
      BedGround box = { .form = BED_GROUND_BOX, .points = points_new ("5 5") };
      box.turn = g_rand_double_range (dice, -3, 3);
      box.width = g_rand_double_range (dice, 0.3, 30);
      box.depth = g_rand_double_range (dice, 0.3, 30);
      bed_ground_get_corners (&box, was);
      was[n % 4].x += (n % 5) * 0.0008; /* 0 to 3.2 mm askew */
      g_array_set_size (box.points, 0);
      g_array_append_vals (box.points, was, 4);
      bed_ground_settle (&box, BED_FEATURE_TANK);
      boxes += box.form == BED_GROUND_BOX;
      if (n % 5 == 0)
        g_assert_cmpint (box.form, ==, BED_GROUND_BOX);
      if (n % 5 == 4)
        g_assert_cmpint (box.form, ==, BED_GROUND_POLYGON);
      if (box.form == BED_GROUND_BOX)
        {
          bed_ground_get_corners (&box, is);
          for (guint i = 0; i < 4; i++)
            g_assert_cmpfloat (hypot (is[i].x - was[i].x, is[i].y - was[i].y), <=, 0.001);
        }
      g_array_unref (box.points);
    }
  g_assert_cmpuint (boxes, >=, 100);
  g_rand_free (dice);
}

/* --- handles -------------------------------------------------------------------- */

static BedHandle
find_handle (const BedGround *ground, BedHandleKind kind, guint at)
{
  g_autoptr (GArray) handles = bed_handle_list (ground, 0.5);

  for (guint i = 0; i < handles->len; i++)
    {
      BedHandle handle = g_array_index (handles, BedHandle, i);
      if (handle.kind == kind && handle.at == at)
        return handle;
    }
  g_assert_not_reached ();
}

static void
drag (BedGround *ground, BedHandleKind kind, guint at, BedPoint to, BedAngles angles)
{
  BedHandle handle = find_handle (ground, kind, at);

  bed_handle_drag (ground, &handle, to, angles);
}

static void
test_box_handles (void)
{
  BedGround box = settle (BED_FEATURE_TANK, "0 0, 4 2");
  BedHandle knob = find_handle (&box, BED_HANDLE_TURN, 0);
  BedPoint corners[4];

  assert_near (knob.point, 4.5, 1);
  drag (&box, BED_HANDLE_CORNER, 2, (BedPoint){ 6, 5 }, BED_ANGLES_KEPT);
  bed_ground_get_corners (&box, corners);
  assert_near (corners[0], 0, 0); /* the opposite one stays */
  assert_near (corners[2], 6, 5);
  drag (&box, BED_HANDLE_SIDE, 3, (BedPoint){ 1, 99 }, BED_ANGLES_KEPT); /* the west side */
  bed_ground_get_corners (&box, corners);
  assert_near (corners[0], 1, 0);
  assert_near (corners[2], 6, 5);
  drag (&box, BED_HANDLE_TURN, 0, (BedPoint){ 3.5, 9 }, BED_ANGLES_KEPT);
  g_assert_cmpfloat_with_epsilon (box.turn, G_PI / 2, 1e-12);
  /* Turned, its width runs north: the corner that was in the south-west lies in the south-east. */
  bed_ground_get_corners (&box, corners);
  assert_near (corners[0], 6, 0);
  drag (&box, BED_HANDLE_CORNER, 0, (BedPoint){ 7, -1 }, BED_ANGLES_KEPT);
  g_assert_cmpfloat_with_epsilon (box.width, 6, 1e-9);
  g_assert_cmpfloat_with_epsilon (box.depth, 6, 1e-9);
  drag (&box, BED_HANDLE_CORNER, 0, (BedPoint){ 9, -1 }, BED_ANGLES_FREE);
  g_assert_cmpint (box.form, ==, BED_GROUND_POLYGON);
  assert_points (&box, "9 -1, 7 5, 1 5, 1 -1");
  g_array_unref (box.points);
}

/* An L drawn at right angles keeps them, whichever corner or side is dragged. */
static void
test_right_angles (void)
{
  GRand *dice = g_rand_new_with_seed (11);

  for (int n = 0; n < 200; n++)
    {
      BedGround l
          = { .form = BED_GROUND_POLYGON, .points = points_new ("0 0, 6 0, 6 2, 2 2, 2 6, 0 6") };
      guint at = (guint) g_rand_int_range (dice, 0, 6);
      BedHandleKind kind = n % 2 ? BED_HANDLE_POINT : BED_HANDLE_SIDE;
      BedHandle handle = find_handle (&l, kind, at);
      BedPoint to = { handle.point.x + g_rand_double_range (dice, -0.9, 0.9),
                      handle.point.y + g_rand_double_range (dice, -0.9, 0.9) };
      bed_handle_drag (&l, &handle, to, BED_ANGLES_KEPT);
      for (guint i = 0; i < 6; i++)
        {
          BedPoint a = g_array_index (l.points, BedPoint, i);
          BedPoint b = g_array_index (l.points, BedPoint, (i + 1) % 6);
          g_assert_cmpfloat (fabs (i % 2 ? b.x - a.x : b.y - a.y), <, 1e-9);
        }
      if (kind == BED_HANDLE_POINT)
        assert_near (g_array_index (l.points, BedPoint, at), to.x, to.y);
      g_array_unref (l.points);
    }
  g_rand_free (dice);
}

static void
test_free_corner (void)
{
  BedGround l = { .form = BED_GROUND_POLYGON, .points = points_new ("0 0, 6 0, 6 2, 0 2") };

  drag (&l, BED_HANDLE_POINT, 2, (BedPoint){ 7, 3 }, BED_ANGLES_FREE);
  assert_points (&l, "0 0, 6 0, 7 3, 0 2");
  /* Its angle is no right one any more, so nothing goes along. */
  drag (&l, BED_HANDLE_POINT, 2, (BedPoint){ 8, 4 }, BED_ANGLES_KEPT);
  assert_points (&l, "0 0, 6 0, 8 4, 0 2");
  g_assert_cmpuint (bed_handle_add_point (&l, 3), ==, 4);
  assert_points (&l, "0 0, 6 0, 8 4, 0 2, 0 1");
  g_assert_true (bed_handle_remove_point (&l, 0));
  g_assert_true (bed_handle_remove_point (&l, 0));
  g_assert_false (bed_handle_remove_point (&l, 0));
  g_array_unref (l.points);
}

static void
test_round_and_long (void)
{
  BedGround tree = settle (BED_FEATURE_TREE, "2 2, 3 2");
  BedGround path = settle (BED_FEATURE_PATH, "0 0, 3 0, 3 8");

  drag (&tree, BED_HANDLE_RIM, 0, (BedPoint){ 5, 6 }, BED_ANGLES_KEPT);
  g_assert_cmpfloat (tree.radius, ==, 5);
  drag (&path, BED_HANDLE_BREADTH, 1, (BedPoint){ 3.7, 2 }, BED_ANGLES_KEPT);
  g_assert_cmpfloat_with_epsilon (path.width, 1.4, 1e-12);
  drag (&path, BED_HANDLE_POINT, 2, (BedPoint){ 5, 5 }, BED_ANGLES_KEPT);
  assert_points (&path, "0 0, 3 0, 5 5");
  g_array_unref (tree.points);
  g_array_unref (path.points);
}

static void
test_typed (void)
{
  BedGround box = settle (BED_FEATURE_TANK, "0 0, 4 2"),
            path = settle (BED_FEATURE_PATH, "0 0, 3 4");
  BedHandle east = find_handle (&box, BED_HANDLE_SIDE, 1),
            turn = find_handle (&box, BED_HANDLE_TURN, 0);
  BedHandle end = find_handle (&path, BED_HANDLE_POINT, 1);
  BedHandleUnit unit;

  g_assert_cmpfloat (bed_handle_measure (&box, &east, &unit), ==, 4);
  g_assert_true (bed_handle_set_measure (&box, &east, 5));
  assert_points (&box, "2.5 1"); /* the west side stays */
  g_assert_false (bed_handle_set_measure (&box, &east, 0));
  g_assert_false (bed_handle_set_measure (&box, &east, NAN));
  g_assert_true (bed_handle_set_measure (&box, &turn, 30));
  g_assert_cmpfloat_with_epsilon (bed_handle_measure (&box, &turn, &unit), 30, 1e-9);
  g_assert_cmpint (unit, ==, BED_HANDLE_DEGREES);
  g_assert_cmpfloat (bed_handle_measure (&path, &end, &unit), ==, 5);
  g_assert_true (bed_handle_set_measure (&path, &end, 10));
  assert_points (&path, "0 0, 6 8");
  g_array_unref (box.points);
  g_array_unref (path.points);
}

static void
test_change_kind (void)
{
  BedGround path = settle (BED_FEATURE_PATH, "0 0, 3 4"),
            tank = settle (BED_FEATURE_TANK, "0 0, 4 2");

  path.width = 2;
  bed_ground_change_kind (&path, BED_FEATURE_BUILDING);
  g_assert_cmpint (path.form, ==, BED_GROUND_BOX);
  g_assert_cmpfloat (path.width, ==, 5);
  g_assert_cmpfloat (path.depth, ==, 2);
  bed_ground_change_kind (&path, BED_FEATURE_FENCE);
  g_assert_cmpint (path.form, ==, BED_GROUND_BAND);
  assert_points (&path, "0 0, 3 4");
  bed_ground_change_kind (&tank, BED_FEATURE_POND);
  g_assert_cmpint (tank.form, ==, BED_GROUND_BOX);
  bed_ground_change_kind (&tank, BED_FEATURE_TREE);
  g_assert_cmpint (tank.form, ==, BED_GROUND_DISC);
  g_assert_cmpfloat (tank.radius, ==, 2);
  bed_ground_change_kind (&tank, BED_FEATURE_TAP);
  g_assert_cmpint (tank.form, ==, BED_GROUND_POINT);
  assert_points (&tank, "2 1");
  g_array_unref (path.points);
  g_array_unref (tank.points);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/ground/measure", test_measure);
  g_test_add_func ("/ground/overlaps", test_overlaps);
  g_test_add_func ("/ground/lies-in", test_lies_in);
  g_test_add_func ("/ground/brute-force", test_brute_force);
  g_test_add_func ("/ground/settle", test_settle);
  g_test_add_func ("/ground/settle-millimetre", test_settle_millimetre);
  g_test_add_func ("/ground/box-handles", test_box_handles);
  g_test_add_func ("/ground/right-angles", test_right_angles);
  g_test_add_func ("/ground/free-corner", test_free_corner);
  g_test_add_func ("/ground/round-and-long", test_round_and_long);
  g_test_add_func ("/ground/typed", test_typed);
  g_test_add_func ("/ground/change-kind", test_change_kind);
  return g_test_run ();
}
