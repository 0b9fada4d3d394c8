/* The yard without a screen: views, outlines, footprints, hits, distances, snapping. */
#include "yard/snap.h"
#include "yard_sample.h"

#include <math.h>

#define assert_near(a, b, tolerance) g_assert_cmpfloat_with_epsilon ((a), (b), (tolerance))

/* A yard with bare cribs at the given places: each 1.0 m long and as wide, without logs. */
static BedYard *
make_yard (const BedPose *poses, guint n)
{
  BedYard *yard = bed_yard_new (30, 30);

  for (guint i = 0; i < n; i++)
    {
      BedYardStack *stack = bed_yard_stack_new (BED_STACK_CRIB);
      stack->id = i + 1;
      stack->pose = poses[i];
      g_ptr_array_add (yard->stacks, stack);
    }
  return yard;
}

/* The topmost stack at @point, or -1. */
static int
hit (const BedScene *scene, BedPoint point, double slack)
{
  for (guint i = scene->shapes->len; i-- > 0;)
    {
      const BedShape *shape = &g_array_index (scene->shapes, BedShape, i);
      if (shape->role == BED_SHAPE_STACK && bed_shape_distance (shape, point) <= slack)
        return (int) shape->owner;
    }
  return -1;
}

/* The stack in the hand; turns go by 5 degrees. */
static BedSnap
snap_stack (const BedScene *scene, guint index, const BedPose *wanted, double reach)
{
  g_autoptr (GArray) but = g_array_new (FALSE, FALSE, sizeof (BedThing));
  const BedPile *pile = scene->piles->pdata[index];
  BedThing own = { BED_THING_STACK, ((BedYardStack *) scene->yard->stacks->pdata[index])->id };
  BedSnapBody body = { *wanted, pile->length, pile->width, 5 * G_PI / 180, but };

  g_array_append_val (but, own);
  return bed_snap_body (scene, &body, reach);
}

static void
test_view (void)
{
  GRand *dice = g_rand_new_with_seed (7);

  for (int i = 0; i < 500; i++)
    {
      BedViewport view = { .scale = g_rand_double_range (dice, 4, 2000),
                           .middle = { g_rand_double_range (dice, -50, 50), 3 },
                           .width = 800,
                           .height = 600 };
      BedPoint at = { g_rand_double_range (dice, 0, 800), g_rand_double_range (dice, 0, 600) };
      BedPoint world = bed_viewport_to_world (&view, at),
               back = bed_viewport_to_screen (&view, world);
      assert_near (back.x, at.x, 1e-6);
      assert_near (back.y, at.y, 1e-6);

      bed_viewport_zoom (&view, g_rand_double_range (dice, 0.1, 10), at);
      back = bed_viewport_to_screen (&view, world);
      assert_near (back.x, at.x, 1e-6);
      assert_near (back.y, at.y, 1e-6);
      g_assert_cmpfloat (view.scale, >=, BED_VIEWPORT_LEAST);
      g_assert_cmpfloat (view.scale, <=, BED_VIEWPORT_MOST);

      bed_viewport_pan (&view, 12, -5);
      back = bed_viewport_to_screen (&view, world);
      assert_near (back.x, at.x + 12, 1e-6);
      assert_near (back.y, at.y - 5, 1e-6);
    }
  g_rand_free (dice);
}

static void
test_view_fit (void)
{
  BedViewport view = { .width = 500, .height = 300 };
  BedExtent extent = { 2, 3, 10, 4 };
  BedPoint south_west, north_east;

  bed_viewport_fit (&view, &extent, 20);
  south_west = bed_viewport_to_screen (&view, (BedPoint){ 2, 3 });
  north_east = bed_viewport_to_screen (&view, (BedPoint){ 12, 7 });
  assert_near (south_west.x, 20, 1e-9);
  assert_near (north_east.x, 480, 1e-9);
  g_assert_cmpfloat (north_east.y, <, south_west.y); /* north is up */
  assert_near (bed_viewport_round_length (&view, 130), 2,
               1e-9); /* 46 to a metre: 2 m is 92, 5 m 230 */
}

static void
test_outline (void)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) points = bed_outline_parse (" 0 0, 12 0.5 ,12 -8", &error);
  g_autofree char *text = NULL;
  const char *wrong[] = { "", "3", "3 x", "1 2, ", "1 2 3", "nan 1", "1 inf", "1,5 2", "1e9 0" };

  g_assert_no_error (error);
  g_assert_cmpuint (points->len, ==, 3);
  assert_near (g_array_index (points, BedPoint, 2).y, -8, 1e-12);
  text = bed_outline_format (points);
  g_assert_cmpstr (text, ==, "0 0, 12 0.5, 12 -8");
  for (guint i = 0; i < G_N_ELEMENTS (wrong); i++)
    {
      g_autoptr (GError) fault = NULL;
      g_assert_null (bed_outline_parse (wrong[i], &fault));
      g_assert_error (fault, BED_YARD_ERROR, BED_YARD_ERROR_OUTLINE);
    }
}

/* A bare crib of 1 m logs: 1 m long; its outer logs' middles span 0.86 m less a log, so across
 * it the logs of the other tiers reach 0.5 m to either side. */
static void
test_footprint (void)
{
  const BedPose poses[] = { { 5, 5, 0 }, { 10, 5, G_PI / 2 }, { 15, 5, G_PI / 4 } };
  g_autoptr (BedYard) yard = make_yard (poses, 3);
  g_autoptr (BedScene) scene = bed_scene_new (yard);
  BedPoint corners[4];

  bed_yard_footprint (scene, 0, &poses[0], corners);
  assert_near (corners[0].x, 4.5, 1e-9);
  assert_near (corners[0].y, 4.5, 1e-9);
  assert_near (corners[2].x, 5.5, 1e-9);
  bed_yard_footprint (scene, 2, &poses[2], corners);
  assert_near (corners[0].x, 15, 1e-9); /* turned by 45 degrees a corner points south */
  assert_near (corners[0].y, 5 - sqrt (0.5), 1e-9);
}

static void
test_row_footprint (void)
{
  const SampleStack sample = { BED_STACK_GROUND, 0, 0, 0, 12, 0, 3 };
  g_autoptr (BedYardStack) stack = sample_stack_new (&sample);
  g_autoptr (BedPile) pile = bed_pile_new (stack);
  double wood = 0, longest = 0;

  for (guint i = 0; i < 12; i++)
    {
      const BedYardLog *log = stack->logs->pdata[i];
      wood += log->diameter;
      longest = MAX (longest, log->length);
    }
  assert_near (pile->length, longest, 1e-9);
  assert_near (pile->width, wood + 11 * pile->gap, 1e-9);
}

static void
test_hit (void)
{
  const BedPose poses[] = { { 5, 5, 0 }, { 15, 5, G_PI / 4 } };
  g_autoptr (BedYard) yard = make_yard (poses, 2);
  g_autoptr (BedScene) scene = bed_scene_new (yard);
  const struct
  {
    double x, y;
    int stack;
  } cases[] = {
    { 5, 5, 0 },        { 5.49, 5.49, 0 }, { 5.51, 5, -1 },     { 5, 4.49, -1 },
    { 4.51, 4.51, 0 },  { 15, 5.7, 1 },    { 15, 5.72, -1 },    { 15.49, 5.49, -1 },
    { 15.34, 5.34, 1 }, { 15.7, 5, 1 },    { 15.36, 5.36, -1 }, { 0, 0, -1 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    g_assert_cmpint (hit (scene, (BedPoint){ cases[i].x, cases[i].y }, 0), ==, cases[i].stack);
  /* Just beside it counts with slack. */
  g_assert_cmpint (hit (scene, (BedPoint){ 5.55, 5 }, 0.1), ==, 0);
  g_assert_cmpint (hit (scene, (BedPoint){ 5.65, 5 }, 0.1), ==, -1);
}

static void
test_hit_topmost (void)
{
  const BedPose poses[] = { { 5, 5, 0 }, { 5.3, 5, 0 } };
  g_autoptr (BedYard) yard = make_yard (poses, 2);
  g_autoptr (BedScene) scene = bed_scene_new (yard);

  g_assert_cmpint (hit (scene, (BedPoint){ 5.2, 5 }, 0), ==, 1);
  g_assert_cmpint (hit (scene, (BedPoint){ 4.6, 5 }, 0), ==, 0);
}

/* Every log lies within the bounds and, for stacks, within its own footprint. */
static void
test_bounds (void)
{
  g_autoptr (BedYard) yard = sample_yard_new ();
  g_autoptr (BedScene) scene = bed_scene_new (yard);
  BedExtent bounds = bed_yard_bounds (scene);
  guint logs = 0;

  for (guint i = 0; i < scene->shapes->len; i++)
    {
      const BedShape *shape = &g_array_index (scene->shapes, BedShape, i);
      for (guint j = 0; j < shape->n_points; j++)
        {
          g_assert_cmpfloat (shape->points[j].x, >=, bounds.x - 1e-9);
          g_assert_cmpfloat (shape->points[j].x, <=, bounds.x + bounds.width + 1e-9);
          if (shape->role == BED_SHAPE_LOG)
            g_assert_cmpint (hit (scene, shape->points[j], 1e-6), ==, shape->owner);
        }
      logs += shape->role == BED_SHAPE_LOG;
    }
  g_assert_cmpuint (logs, ==, 24 + 24 + 20 + 22 + 24 + 20 + 12 + 40);
}

static void
test_measure (void)
{
  const BedPose poses[] = { { 5, 5, 0 }, { 7, 5, 0 }, { 7, 8, G_PI / 4 }, { 5.4, 5.4, 0.3 } };
  g_autoptr (BedYard) yard = make_yard (poses, 4);
  g_autoptr (BedScene) scene = bed_scene_new (yard);
  BedMeasurement found;

  assert_near (bed_yard_measure (scene, 0, &poses[0], 1).distance, 1, 1e-9);
  /* A corner above an edge: 8 - sqrt(1/2) down to 5.5. */
  found = bed_yard_measure (scene, 1, &poses[1], 2);
  assert_near (found.distance, 2.5 - sqrt (0.5), 1e-9);
  assert_near (found.to.x, 7, 1e-9);
  assert_near (bed_yard_measure (scene, 0, &poses[0], 3).distance, 0, 1e-12);
  g_assert_cmpint (bed_yard_nearest (scene, 2, &poses[2], &found), ==, 1);
}

/* The distance found is the least over the two outlines, by brute force. */
static void
test_measure_brute (void)
{
  GRand *dice = g_rand_new_with_seed (11);

  for (int n = 0; n < 60; n++)
    {
      const BedPose poses[] = { { 5, 5, g_rand_double_range (dice, -3, 3) },
                                { 5 + g_rand_double_range (dice, 1.5, 4), 5, 0.4 } };
      g_autoptr (BedYard) yard = make_yard (poses, 2);
      g_autoptr (BedScene) scene = bed_scene_new (yard);
      double least = G_MAXDOUBLE;
      BedPoint a[4], b[4];
      bed_yard_footprint (scene, 0, &poses[0], a);
      bed_yard_footprint (scene, 1, &poses[1], b);
      for (int i = 0; i < 400; i++)
        for (int j = 0; j < 400; j++)
          {
            double s = i % 100 / 100.0, t = j % 100 / 100.0;
            BedPoint p = a[i / 100], q = a[(i / 100 + 1) % 4], u = b[j / 100],
                     v = b[(j / 100 + 1) % 4];
            least = MIN (least, hypot (p.x + s * (q.x - p.x) - u.x - t * (v.x - u.x),
                                       p.y + s * (q.y - p.y) - u.y - t * (v.y - u.y)));
          }
      if (bed_yard_measure (scene, 0, &poses[0], 1).distance > 0)
        assert_near (bed_yard_measure (scene, 0, &poses[0], 1).distance, least, 0.02);
    }
  g_rand_free (dice);
}

static void
test_snap_grid (void)
{
  const BedPose poses[] = { { 5, 5, 0 } };
  g_autoptr (BedYard) yard = make_yard (poses, 1);
  g_autoptr (BedScene) scene = bed_scene_new (yard);
  BedSnap snap = snap_stack (scene, 0, &(BedPose){ 8.234, 3.06, 0.16 }, 0.15);

  g_assert_cmpint (snap.neighbour, ==, -1);
  assert_near (snap.pose.x, 8.2, 1e-9);
  assert_near (snap.pose.y, 3.1, 1e-9);
  assert_near (snap.pose.turn, 10 * G_PI / 180, 1e-9);
}

static void
test_snap_neighbour (void)
{
  const BedPose poses[] = { { 5, 5, 0 }, { 9, 9, 0 } };
  g_autoptr (BedYard) yard = make_yard (poses, 2);
  g_autoptr (BedScene) scene = bed_scene_new (yard);
  /* Nearly in line and nearly the trade's 0.9 m apart (FOR-83): exactly so. */
  BedSnap snap = snap_stack (scene, 1, &(BedPose){ 6.97, 5.08, 0.05 }, 0.15);

  g_assert_cmpint (snap.neighbour, ==, 0);
  assert_near (snap.pose.x, 6.9, 1e-9);
  assert_near (snap.pose.y, 5, 1e-9);
  assert_near (snap.pose.turn, 0, 1e-9);

  /* A quarter turn lines up too; an odd angle does not. */
  snap = snap_stack (scene, 1, &(BedPose){ 6.05, 5.02, G_PI / 2 + 0.03 }, 0.15);
  assert_near (snap.pose.x, 6, 1e-9);
  assert_near (snap.pose.turn, G_PI / 2, 1e-9);
  snap = snap_stack (scene, 1, &(BedPose){ 6.05, 5.02, 0.6 }, 0.15);
  g_assert_cmpint (snap.neighbour, ==, -1);
}

/* With a turned neighbour the edges line up in its own frame. */
static void
test_snap_turned (void)
{
  double turn = 30 * G_PI / 180;
  const BedPose poses[] = { { 5, 5, turn }, { 9, 9, 0 } };
  g_autoptr (BedYard) yard = make_yard (poses, 2);
  g_autoptr (BedScene) scene = bed_scene_new (yard);
  BedPose beside = { 5 + 1.04 * cos (turn), 5 + 1.04 * sin (turn), turn + 0.04 };
  BedSnap snap = snap_stack (scene, 1, &beside, 0.15);

  g_assert_cmpint (snap.neighbour, ==, 0);
  assert_near (snap.pose.x, 5 + cos (turn), 1e-9);
  assert_near (snap.pose.y, 5 + sin (turn), 1e-9);
  assert_near (snap.pose.turn, turn, 1e-9);
  assert_near (bed_yard_measure (scene, 1, &snap.pose, 0).distance, 0, 1e-9);
}

/* The order: an aisle before touching, touching before edges, edges before middles, these before
 * the outline, the outline before the grid. Each with its line and distance. */
static void
test_snap_order (void)
{
  const BedPose poses[] = { { 5, 5, 0 }, { 20, 20, 0 } };
  g_autoptr (BedYard) yard = make_yard (poses, 2);
  g_autoptr (BedScene) scene = bed_scene_new (yard);
  /* The neighbour runs from 4.5 to 5.5 both ways; the area from 0 to 30. */
  const struct
  {
    double x, y, reach;
    BedSnapKind kind;
    double at, distance;
  } cases[] = {
    { 6.93, 5.3, 0.1, BED_SNAP_AISLE, 6.9, 0.9 },  { 6.04, 5.3, 0.1, BED_SNAP_TOUCH, 6, 0 },
    { 6.4, 5.9, 0.6, BED_SNAP_AISLE, 6.9, 0.9 }, /* both within reach, touching is nearer */
    { 5.04, 8.3, 0.1, BED_SNAP_EDGE, 5, 2.3 },   /* both edges and the middle: edges first */
    { 0.55, 12.3, 0.1, BED_SNAP_OUTLINE, 0.5, 0 }, { 12.34, 12.3, 0.1, BED_SNAP_GRID, 12.3, 0 },
  };

  yard->aisle = 0.9;
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      BedSnap snap = snap_stack (scene, 1, &(BedPose){ cases[i].x, cases[i].y, 0 }, cases[i].reach);
      assert_near (snap.pose.x, cases[i].at, 1e-9);
      if (cases[i].reach < 0.5)
        {
          assert_near (snap.pose.y, cases[i].y, 1e-9); /* on the grid already */
          g_assert_cmpuint (snap.n_lines, ==, cases[i].kind != BED_SNAP_GRID);
        }
      if (snap.n_lines == 0)
        continue;
      g_assert_cmpint (snap.lines[0].kind, ==, cases[i].kind);
      assert_near (snap.lines[0].distance, cases[i].distance, 1e-9);
      if (cases[i].kind == BED_SNAP_AISLE)
        assert_near (snap.lines[0].to.x - snap.lines[0].from.x, 0.9, 1e-9);
    }
  yard->aisle = 1.5; /* the farm's own */
  g_assert_cmpint (snap_stack (scene, 1, &(BedPose){ 7.45, 5.3, 0 }, 0.1).lines[0].kind, ==,
                   BED_SNAP_AISLE);
}

/* A narrow stack's middle lines up where its edges do not; a building and a path are neighbours. */
static void
test_snap_body (void)
{
  const BedPose poses[] = { { 5, 5, 0 } };
  g_autoptr (BedYard) yard = make_yard (poses, 1);
  sample_add_feature (yard, BED_FEATURE_PATH, "0 20, 12 20");
  g_autoptr (BedScene) scene = bed_scene_new (yard);
  BedSnapBody body = { { 5.04, 9, 0 }, 0.5, 0.5, 0, NULL };
  BedSnap snap = bed_snap_body (scene, &body, 0.1);

  g_assert_cmpint (snap.lines[0].kind, ==, BED_SNAP_MIDDLE);
  assert_near (snap.pose.x, 5, 1e-9);
  /* The path is 0.8 m wide: its edge lies at 19.6. */
  body.pose = (BedPose){ 9, 19.3, 0 };
  snap = bed_snap_body (scene, &body, 0.1);
  g_assert_cmpint (snap.lines[0].kind, ==, BED_SNAP_TOUCH);
  assert_near (snap.pose.y, 19.35, 1e-9);
  /* Its turn stays when it has no step, and follows what is near when it has one. */
  body.pose = (BedPose){ 6.3, 6.3, 0.02 };
  assert_near (bed_snap_body (scene, &body, 0.1).pose.turn, 0.02, 1e-12);
  body.turn_step = G_PI / 180;
  assert_near (bed_snap_body (scene, &body, 0.1).pose.turn, G_PI / 180, 1e-12);
  body.turn_step = 5 * G_PI / 180;
  assert_near (bed_snap_body (scene, &body, 0.1).pose.turn, 0, 1e-12);
}

static void
test_snap_point (void)
{
  const BedPose poses[] = { { 5, 5, 0 } };
  g_autoptr (BedYard) yard = make_yard (poses, 1);
  g_autoptr (BedScene) scene = bed_scene_new (yard);
  BedPoint before = { 12, 12 };
  BedPointSnap corner = bed_snap_point (scene, (BedPoint){ 4.53, 4.45 }, NULL, -1, 0.1);
  BedPointSnap edge = bed_snap_point (scene, (BedPoint){ 30.04, 17.2 }, NULL, -1, 0.1);
  BedPointSnap right = bed_snap_point (scene, (BedPoint){ 12.06, 25.33 }, &before, -1, 0.1);
  BedPointSnap free = bed_snap_point (scene, (BedPoint){ 14.06, 25.33 }, &before, -1, 0.1);
  BedPointSnap own = bed_snap_point (scene, (BedPoint){ 30.04, 17.2 }, NULL, 0, 0.1);

  assert_near (corner.point.x, 4.5, 1e-9);
  assert_near (corner.point.y, 4.5, 1e-9);
  assert_near (edge.point.x, 30, 1e-9);
  assert_near (edge.point.y, 17.2, 1e-9);
  assert_near (right.point.x, 12, 1e-9);
  assert_near (right.point.y, 25.3, 1e-9);
  g_assert_cmpuint (right.n_lines, ==, 1);
  assert_near (right.lines[0].distance, 13.3, 1e-9);
  assert_near (free.point.x, 14.1, 1e-9);
  g_assert_cmpuint (free.n_lines, ==, 0);
  g_assert_cmpuint (own.n_lines, ==, 0); /* the outline's own corner does not snap to it */
}

/* Beside it, inside the outline as it is drawn and not the box around it. */
static void
test_beside (void)
{
  const BedPose poses[] = { { 5, 1, 0 } };
  g_autoptr (BedYard) yard = make_yard (poses, 1);
  g_array_unref (yard->outline);
  yard->outline = bed_outline_parse ("0 0, 6 0, 6 2, 2 2, 2 6, 0 6", NULL);
  g_autoptr (BedScene) scene = bed_scene_new (yard);
  BedPose beside = bed_yard_beside (scene, 0);

  assert_near (beside.x, 3.1, 1e-9); /* to the west alone there is room */
  assert_near (beside.y, 1, 1e-9);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/yard/view", test_view);
  g_test_add_func ("/yard/view-fit", test_view_fit);
  g_test_add_func ("/yard/outline", test_outline);
  g_test_add_func ("/yard/footprint", test_footprint);
  g_test_add_func ("/yard/row-footprint", test_row_footprint);
  g_test_add_func ("/yard/hit", test_hit);
  g_test_add_func ("/yard/hit-topmost", test_hit_topmost);
  g_test_add_func ("/yard/bounds", test_bounds);
  g_test_add_func ("/yard/measure", test_measure);
  g_test_add_func ("/yard/measure-brute", test_measure_brute);
  g_test_add_func ("/yard/snap-grid", test_snap_grid);
  g_test_add_func ("/yard/snap-neighbour", test_snap_neighbour);
  g_test_add_func ("/yard/snap-turned", test_snap_turned);
  g_test_add_func ("/yard/snap-order", test_snap_order);
  g_test_add_func ("/yard/snap-body", test_snap_body);
  g_test_add_func ("/yard/snap-point", test_snap_point);
  g_test_add_func ("/yard/beside", test_beside);
  return g_test_run ();
}
