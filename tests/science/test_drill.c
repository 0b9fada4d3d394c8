/* The staggered pattern: its closed form, the exact search behind a plan, and a
 * plain grid search beside both. Table values: own derivation, docs/sources.md
 * "Staggered holes". */
#include "science/drill.h"

#include <math.h>
#include <string.h>

#include "science/argument.h"

static const BedDrill usual = {
  .large_diameter = 100,
  .small_diameter = 100,
  .length = 1000,
  .along = 150,
  .between = 75,
  .margin = 50,
  .hole_diameter = 12,
  .hole_depth = 25,
  .closing = BED_CLOSING_NEAREST,
};

static void
test_covering (void)
{
  const struct
  {
    double a, b, staggered, square;
  } table[] = {
    { 75, 150, 75.000, 83.853 },     { 100, 150, 78.125, 90.139 },
    { 50, 150, 54.167, 79.057 },     { 86.6025, 100, 57.735, 66.144 },
    { 50.8, 152.4, 55.033, 80.322 }, { 76.2, 152.4, 76.200, 85.194 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (table); i++)
    {
      double a = table[i].a, b = table[i].b;
      double closed = (a * a + b * b / 4) / (2 * MAX (a, b / 2));

      g_assert_cmpfloat_with_epsilon (bed_drill_covering (a, b, b / 2), closed, 1e-9);
      g_assert_cmpfloat_with_epsilon (bed_drill_covering (a, b, b / 2), table[i].staggered, 5e-4);
      g_assert_cmpfloat_with_epsilon (bed_drill_covering (a, b, 0), table[i].square, 5e-4);
      g_assert_cmpfloat_with_epsilon (bed_drill_covering (a, b, b * 2.5), closed, 1e-9);
    }
  /* Best helices of the five and seven rows of a 100 mm log. */
  g_assert_cmpfloat_with_epsilon (bed_drill_covering (G_PI * 20, 150, 150 * 2 / 5.0), 65.36, 5e-3);
  g_assert_cmpfloat_with_epsilon (bed_drill_covering (G_PI * 100 / 7, 150, 150 * 3 / 7.0), 51.99,
                                  5e-3);
}

static void
test_plans (void)
{
  const struct
  {
    double large, small, length, a, b, m;
    int rows;
    double pitch;
    int first, second, total;
    double covering;
  } table[] = {
    { 100, 100, 1000, 75, 150, 50, 4, 78.54, 7, 6, 26, 75.1 },
    { 120, 100, 1000, 75, 150, 50, 5, 69.12, 7, 6, 33, 69.3 },
    { 100, 100, 1000, 50, 150, 50, 6, 52.36, 7, 6, 39, 55.8 },
    { 152.4, 152.4, 1219.2, 76.2, 152.4, 50.8, 6, 79.80, 8, 7, 45, 76.3 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (table); i++)
    {
      BedDrill drill = usual;
      drill.large_diameter = table[i].large;
      drill.small_diameter = table[i].small;
      drill.length = table[i].length;
      drill.between = table[i].a;
      drill.along = table[i].b;
      drill.margin = table[i].m;
      g_autoptr (BedDrillPlan) plan = bed_drill_plan_new (&drill, NULL);

      g_assert_nonnull (plan);
      g_assert_cmpint (plan->rows, ==, table[i].rows);
      g_assert_cmpint (plan->per_row[0], ==, table[i].first);
      g_assert_cmpint (plan->per_row[1], ==, table[i].second);
      g_assert_cmpuint (plan->holes->len, ==, table[i].total);
      g_assert_cmpfloat_with_epsilon (plan->pitch, table[i].pitch, 5e-3);
      double covering = bed_drill_covering (plan->pitch, drill.along, drill.along / 2);
      g_assert_cmpfloat_with_epsilon (covering, table[i].covering, 0.06);
      g_assert_cmpfloat_with_epsilon (
          plan->inside.distance,
          bed_drill_covering (plan->pitch_large, drill.along, drill.along / 2), 1e-6);
    }
}

/* Five rows of a 100 mm log, the three ways round. */
static void
test_closings (void)
{
  BedDrill drill = usual;
  drill.between = 62.83;
  g_autoptr (BedDrillPlan) seam = bed_drill_plan_new (&drill, NULL);
  drill.closing = BED_CLOSING_EVEN;
  g_autoptr (BedDrillPlan) even = bed_drill_plan_new (&drill, NULL);
  drill.closing = BED_CLOSING_HELIX;
  g_autoptr (BedDrillPlan) helix = bed_drill_plan_new (&drill, NULL);

  g_assert_cmpint (seam->rows, ==, 5);
  g_assert_cmpfloat_with_epsilon (seam->inside.distance, 63.82, 5e-3);
  g_assert_cmpfloat_with_epsilon (seam->seam.distance, 81.31, 5e-3);
  g_assert_cmpint (even->rows % 2, ==, 0);
  g_assert_cmpfloat_with_epsilon (even->seam.distance, even->inside.distance, 1e-9);
  g_assert_cmpint (helix->rows, ==, 5);
  g_assert_cmpfloat_with_epsilon (helix->inside.distance, 65.36, 5e-3);
  g_assert_cmpfloat_with_epsilon (helix->shift, 60, 1e-9);
}

/* With rows much closer than half the spacing the middle of the seam's rectangle
 * is nearer to the second row than to its corners, and sqrt (a2 + b2)/2 = 78.29
 * says too much. */
static void
test_tight_seam (void)
{
  BedDrill drill = usual;
  drill.between = 44.88;
  g_autoptr (BedDrillPlan) plan = bed_drill_plan_new (&drill, NULL);

  g_assert_cmpint (plan->rows, ==, 7);
  g_assert_cmpfloat_with_epsilon (plan->inside.distance, 50.93, 5e-3);
  g_assert_cmpfloat (plan->seam.distance, <, 78.29);
  g_assert_cmpfloat (plan->seam.distance, >, plan->inside.distance);
}

/* The rim's worst point lies on a shifted row: min (sqrt (m2 + a2), m + b/2),
 * on a log whose two ends are alike. */
static void
test_ends (void)
{
  const struct
  {
    double a, m, far;
  } table[] = {
    { 75, 50, 90.14 },
    { 75, 25, 79.06 },
    { 100, 50, 111.80 },
    { 50, 50, 70.71 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (table); i++)
    {
      BedDrill drill = usual;
      drill.large_diameter = drill.small_diameter = 4 * table[i].a / G_PI;
      drill.between = table[i].a;
      drill.margin = table[i].m;
      drill.length = 900 + 2 * table[i].m;
      g_autoptr (BedDrillPlan) plan = bed_drill_plan_new (&drill, NULL);

      g_assert_cmpfloat_with_epsilon (plan->ends.distance, table[i].far, 5e-3);
    }
}

/* Distance to the nearest of all holes, one by one, the long way. */
static double
distance_by_hand (const BedDrillPlan *plan, double x, double y)
{
  double around = plan->pitch_large * plan->rows, least = INFINITY;

  for (guint i = 0; i < plan->holes->len; i++)
    {
      const BedHole *hole = &g_array_index (plan->holes, BedHole, i);
      double dy = fabs (hole->y * plan->pitch_large / plan->pitch - y);
      least = MIN (least, hypot (hole->x - x, MIN (dy, around - dy)));
    }
  return least;
}

static BedDrill
random_drill (void)
{
  double large = g_test_rand_double_range (60, 250);
  double length = g_test_rand_double_range (120, 700);

  return (BedDrill){
    .large_diameter = large,
    .small_diameter = large * g_test_rand_double_range (0.7, 1),
    .length = length,
    .along = g_test_rand_double_range (60, 260),
    .between = g_test_rand_double_range (30, 200),
    .margin = g_test_rand_double_range (0, length / 2),
    .closing = (BedClosing) g_test_rand_int_range (0, 3),
  };
}

/* No grid point is farther than the exact search says; some come near it. */
static void
test_grid (void)
{
  for (int n = 0; n < 120; n++)
    {
      BedDrill drill = random_drill ();
      g_autoptr (BedDrillPlan) plan = bed_drill_plan_new (&drill, NULL);
      double around = plan->pitch_large * plan->rows, greatest = 0;
      const int steps = 120;

      for (int i = 0; i <= steps; i++)
        for (int j = 0; j < steps; j++)
          {
            double x = drill.length * i / steps, y = around * j / steps;
            greatest = MAX (greatest, distance_by_hand (plan, x, y));
          }
      double step = hypot (drill.length / steps, around / steps);
      g_assert_cmpfloat (greatest, <=, plan->farthest.distance + 1e-6);
      g_assert_cmpfloat (greatest, >=, plan->farthest.distance - step);
      g_assert_cmpfloat_with_epsilon (
          distance_by_hand (plan, plan->farthest.x,
                            plan->farthest.y * plan->pitch_large / plan->pitch),
          plan->farthest.distance, 1e-6);
    }
}

static void
test_fit_holes (void)
{
  BedDrill drill = usual;
  g_autoptr (GError) error = NULL;

  for (int closing = 0; closing <= BED_CLOSING_HELIX; closing++)
    {
      drill.closing = closing;
      g_assert_true (bed_drill_fit_holes (&drill, 26, &error));
      g_autoptr (BedDrillPlan) plan = bed_drill_plan_new (&drill, NULL);
      g_assert_cmpuint (plan->holes->len, <=, 26);

      /* No pattern of a plain search over rows and holes does better. */
      for (int rows = 1; rows <= (int) (G_PI * 100 / 25); rows++)
        for (int per_row = 2; per_row <= 26 / rows + 2; per_row++)
          {
            BedDrill other = drill;
            other.between = G_PI * 100 / rows;
            other.along = 900.0 / (per_row - 1);
            g_autoptr (BedDrillPlan) rival = bed_drill_plan_new (&other, NULL);
            if (rival && rival->holes->len <= 26)
              g_assert_cmpfloat (rival->farthest.distance, >=, plan->farthest.distance - 1e-6);
          }
    }
  g_assert_false (bed_drill_fit_holes (&drill, 1, &error));
  g_assert_error (error, BED_SCIENCE_ERROR, BED_SCIENCE_ERROR_ARGUMENT);
}

/* A plain search over rows and over spacings a centimetre apart finds nothing nearer with as
 * few holes, and no fewer holes that reach as far: logs as they come, both ways. */
static void
test_fit_beside_search (void)
{
  const BedDrill logs[] = {
    { .large_diameter = 127, .small_diameter = 127, .length = 1219.2, .margin = 50.8 },
    { .large_diameter = 110, .small_diameter = 90, .length = 700, .margin = 30 },
    { .large_diameter = 90,
      .small_diameter = 90,
      .length = 400,
      .margin = 60,
      .closing = BED_CLOSING_EVEN },
  };
  const double covering = 76.2;
  const guint most = 32;

  for (gsize i = 0; i < G_N_ELEMENTS (logs); i++)
    {
      BedDrill near = logs[i], few = logs[i];
      g_assert_true (bed_drill_fit_holes (&near, most, NULL));
      g_assert_true (bed_drill_fit_covering (&few, covering, NULL));
      g_autoptr (BedDrillPlan) nearest = bed_drill_plan_new (&near, NULL);
      g_autoptr (BedDrillPlan) fewest = bed_drill_plan_new (&few, NULL);
      double round = G_PI * (near.large_diameter + near.small_diameter) / 2;

      g_assert_cmpuint (nearest->holes->len, <=, most);
      g_assert_cmpfloat (fewest->farthest.distance, <=, covering);
      for (int rows = 2; rows <= round / 25; rows++)
        for (double along = 97; along <= near.length / 2; along += 13)
          {
            BedDrill other = logs[i];
            other.between = round / rows;
            other.along = along;
            g_autoptr (BedDrillPlan) rival = bed_drill_plan_new (&other, NULL);
            if (rival->holes->len <= most)
              g_assert_cmpfloat (rival->farthest.distance, >=, nearest->farthest.distance - 1e-3);
            if (rival->farthest.distance <= covering - 1e-3)
              g_assert_cmpuint (rival->holes->len, >=, fewest->holes->len);
          }
    }
}

static void
test_fit_covering (void)
{
  BedDrill drill = usual;
  g_autoptr (GError) error = NULL;

  g_assert_true (bed_drill_fit_covering (&drill, 90, &error));
  g_autoptr (BedDrillPlan) plan = bed_drill_plan_new (&drill, NULL);
  g_assert_cmpfloat (plan->farthest.distance, <=, 90);
  /* With one hole fewer the same log cannot be covered so well. */
  BedDrill fewer = usual;
  g_assert_true (bed_drill_fit_holes (&fewer, (int) plan->holes->len - 1, &error));
  g_autoptr (BedDrillPlan) worse = bed_drill_plan_new (&fewer, NULL);
  g_assert_cmpfloat (worse->farthest.distance, >, 90);
  g_assert_false (bed_drill_fit_covering (&drill, 45, &error));
  g_assert_error (error, BED_SCIENCE_ERROR, BED_SCIENCE_ERROR_NO_ANSWER);
}

/* Near the margin a millimetre asks for hundreds of holes: it is said where the pattern stops
 * helping, and what is answered never jumps so far. */
static void
test_fit_runaway (void)
{
  const double margin = 50;
  gboolean refused = FALSE;
  guint last = 0;

  for (double covering = margin + 8; covering > margin + 5; covering--)
    {
      BedDrill drill = usual;
      g_autoptr (GError) error = NULL;

      if (!bed_drill_fit_covering (&drill, covering, &error))
        {
          g_test_message ("%s", error->message);
          g_assert_error (error, BED_SCIENCE_ERROR, BED_SCIENCE_ERROR_NO_ANSWER);
          g_assert_nonnull (strstr (error->message, "smaller margin"));
          refused = TRUE;
          continue;
        }
      g_autoptr (BedDrillPlan) plan = bed_drill_plan_new (&drill, NULL);
      g_assert_cmpfloat (plan->farthest.distance, <=, covering);
      g_assert_true (last == 0 || plan->holes->len <= 2 * last);
      last = plan->holes->len;
    }
  g_assert_true (refused);
}

/* Half the log is gone, or two holes are one. */
static void
test_wide_holes (void)
{
  const double wide[] = { 51, 90 };

  for (gsize i = 0; i < G_N_ELEMENTS (wide); i++)
    {
      BedDrill drill = usual;
      g_autoptr (GError) error = NULL;

      drill.hole_diameter = wide[i];
      g_assert_null (bed_drill_plan_new (&drill, &error));
      g_assert_error (error, BED_SCIENCE_ERROR, BED_SCIENCE_ERROR_ARGUMENT);
      g_assert_true (g_str_has_prefix (error->message, "hole diameter"));
    }
  BedDrill close = usual;
  close.along = 11;
  close.between = 200;
  g_assert_null (bed_drill_plan_new (&close, NULL));
}

static void
test_needs (void)
{
  BedDrillNorms norms;
  BedDrillNeeds needs;
  BedDrillWork work = { BED_SPAWN_SAWDUST, BED_DRILL_GRINDER, BED_SEAL_HOLES };
  int holes = 0;

  bed_drill_norms_init (&norms);
  g_assert_true (bed_drill_needs (&usual, 26, &work, &norms, &needs, NULL));
  g_assert_cmpfloat_with_epsilon (needs.spawn_ml, 26 * G_PI * 36 * 25 / 1000, 1e-9);
  g_assert_cmpint (needs.pieces, ==, 0);
  g_assert_true (
      bed_drill_holes_for_spawn (&usual, BED_SPAWN_SAWDUST, needs.spawn_g, &norms, &holes, NULL));
  g_assert_cmpint (holes, ==, 26);
  double holes_only = needs.wax_g;
  work = (BedDrillWork){ BED_SPAWN_DOWEL, BED_DRILL_HAND, BED_SEAL_HOLES_AND_ENDS };
  g_assert_true (bed_drill_needs (&usual, 26, &work, &norms, &needs, NULL));
  g_assert_cmpint (needs.pieces, ==, 26);
  g_assert_cmpfloat_with_epsilon (needs.wax_g - holes_only, norms.wax_g_per_cm2 * G_PI * 50, 1e-9);
  g_assert_cmpfloat_with_epsilon (
      needs.minutes,
      needs.handle_minutes + needs.drill_minutes + needs.fill_minutes + needs.wax_minutes, 1e-9);
}

/* What was measured stands in for common practice, whatever the tool and the form; what was
 * not stays. */
static void
test_pace (void)
{
  const BedDrillPace pace = { .holes_drilled = 10,
                              .logs_handled = 30,
                              .wax_g_100_holes = 80,
                              .wax_g_ends = G_PI * 72,
                              .spawn_g_litre = 500 };
  const BedDrillWork work = { BED_SPAWN_SAWDUST, BED_DRILL_HAND, BED_SEAL_HOLES_AND_ENDS };
  BedDrillNorms norms, usual_norms;
  BedDrillNeeds needs;

  bed_drill_norms_init (&usual_norms);
  bed_drill_norms_init (&norms);
  bed_drill_norms_measure (&norms, &pace);
  g_assert_cmpfloat (norms.drill_minutes[BED_DRILL_GRINDER], ==, 0.1);
  g_assert_cmpfloat (norms.fill_minutes[BED_SPAWN_DOWEL], ==,
                     usual_norms.fill_minutes[BED_SPAWN_DOWEL]);
  g_assert_cmpfloat (norms.wax_minutes_per_end, ==, usual_norms.wax_minutes_per_end);
  g_assert_true (bed_drill_needs (&usual, 26, &work, &norms, &needs, NULL));
  g_assert_cmpfloat_with_epsilon (needs.drill_minutes, 2.6, 1e-9);
  g_assert_cmpfloat_with_epsilon (needs.handle_minutes, 2, 1e-9);
  /* 500 g a litre of holes, and not three tenths more: it was weighed. */
  g_assert_cmpfloat_with_epsilon (needs.spawn_g, needs.spawn_ml / 2, 1e-9);
  /* 1 g a cm2 of end: two of 10 cm are 50 pi. */
  g_assert_cmpfloat_with_epsilon (needs.wax_g, 26 * 0.8 + 50 * G_PI, 1e-9);
}

/* Each field in turn made nonsense: the message begins with its name. */
static void
test_nonsense (void)
{
  const struct
  {
    gsize offset;
    double value;
    const char *name;
  } faults[] = {
    { G_STRUCT_OFFSET (BedDrill, large_diameter), -1, "large diameter" },
    { G_STRUCT_OFFSET (BedDrill, large_diameter), NAN, "large diameter" },
    { G_STRUCT_OFFSET (BedDrill, small_diameter), 101, "small diameter" },
    { G_STRUCT_OFFSET (BedDrill, length), INFINITY, "length" },
    { G_STRUCT_OFFSET (BedDrill, along), 0, "along" },
    { G_STRUCT_OFFSET (BedDrill, between), NAN, "between" },
    { G_STRUCT_OFFSET (BedDrill, margin), 501, "margin" },
    { G_STRUCT_OFFSET (BedDrill, hole_diameter), -2, "hole diameter" },
    { G_STRUCT_OFFSET (BedDrill, hole_depth), 1e9, "hole depth" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (faults); i++)
    {
      BedDrill drill = usual;
      g_autoptr (GError) error = NULL;

      G_STRUCT_MEMBER (double, &drill, faults[i].offset) = faults[i].value;
      g_assert_null (bed_drill_plan_new (&drill, &error));
      g_assert_error (error, BED_SCIENCE_ERROR, BED_SCIENCE_ERROR_ARGUMENT);
      g_assert_true (g_str_has_prefix (error->message, faults[i].name));
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/drill/covering", test_covering);
  g_test_add_func ("/drill/plans", test_plans);
  g_test_add_func ("/drill/closings", test_closings);
  g_test_add_func ("/drill/tight-seam", test_tight_seam);
  g_test_add_func ("/drill/ends", test_ends);
  g_test_add_func ("/drill/grid", test_grid);
  g_test_add_func ("/drill/fit-holes", test_fit_holes);
  g_test_add_func ("/drill/fit-beside-search", test_fit_beside_search);
  g_test_add_func ("/drill/fit-covering", test_fit_covering);
  g_test_add_func ("/drill/fit-runaway", test_fit_runaway);
  g_test_add_func ("/drill/wide-holes", test_wide_holes);
  g_test_add_func ("/drill/needs", test_needs);
  g_test_add_func ("/drill/pace", test_pace);
  g_test_add_func ("/drill/nonsense", test_nonsense);
  return g_test_run ();
}
