/* What the drawing tells of each stack: ways, water, shade, what is in the way. */
#include "yard/advice.h"
#include "yard_sample.h"

#include <math.h>

static const BedNotation metric = { BED_SYSTEM_METRIC, '.', 2 };

/* A bare crib, a metre long and wide, in an area of 20 by 20 m. */
static BedYard *
make_yard (double x, double y)
{
  BedYard *yard = bed_yard_new (20, 20);
  BedYardStack *stack = bed_yard_stack_new (BED_STACK_CRIB);

  stack->id = 1;
  stack->name = g_strdup ("Crib 1");
  stack->pose = (BedPose){ x, y, 0 };
  g_ptr_array_add (yard->stacks, stack);
  return yard;
}

static gboolean
advises (const BedYard *yard, BedAdviceAbout about, const char *words)
{
  g_autoptr (BedScene) scene = bed_scene_new (yard);
  g_autoptr (GPtrArray) all = bed_yard_advice (scene, 0, &metric);

  for (guint i = 0; i < all->len; i++)
    {
      const BedAdvice *advice = all->pdata[i];
      g_assert_nonnull (advice->source);
      if (advice->about != about)
        continue;
      if (words)
        g_assert_nonnull (strstr (advice->sentence, words));
      return TRUE;
    }
  return FALSE;
}

static double
measure_water (const BedYard *yard)
{
  g_autoptr (BedScene) scene = bed_scene_new (yard);

  return bed_ways_to_water (bed_scene_get_ways (scene, 0), 0);
}

/* Straight where nothing is between, to the hundredth. */
static void
test_water_straight (void)
{
  GRand *dice = g_rand_new_with_seed (9);

  for (int n = 0; n < 40; n++)
    {
      g_autoptr (BedYard) yard = make_yard (10, 10);
      double angle = g_rand_double_range (dice, 0, 2 * G_PI);
      g_autofree char *at
          = g_strdup_printf ("%.2f %.2f", 10 + 8 * cos (angle), 10 + 8 * sin (angle));
      sample_add_feature (yard, BED_FEATURE_TAP, at);
      g_autoptr (BedScene) scene = bed_scene_new (yard);
      double straight = bed_shape_measure (&g_array_index (scene->shapes, BedShape, 0),
                                           &g_array_index (scene->shapes, BedShape, 1))
                            .distance;
      g_assert_cmpfloat (measure_water (yard), >=, straight - 1e-9);
      g_assert_cmpfloat (measure_water (yard), <=, 1.03 * straight + 0.1);
      double most = bed_ways_to_water_most (bed_scene_get_ways (scene, 0), 0);
      g_assert_cmpfloat (most, >=, straight);
      g_assert_cmpfloat (most, <=, 13.0 / 12 * straight + 0.8);
    }
  g_rand_free (dice);
}

/* A wall of 10 m between: round its nearer end, keeping 0.3 m off. */
static void
test_water_round (void)
{
  g_autoptr (BedYard) yard = make_yard (5, 10);
  sample_add_feature (yard, BED_FEATURE_TAP, "15 10");
  g_assert_cmpfloat_with_epsilon (measure_water (yard), 10 - 0.5 - 0.15, 0.3);
  sample_add_feature (yard, BED_FEATURE_BUILDING, "9.9 6, 10.1 20");
  /* From the stack's south-east corner (5.5, 9.5) to about (10, 5.7), then up to the tap. */
  double round = hypot (10 - 5.5, 9.5 - 5.7) + hypot (15 - 10, 10 - 5.7) - 0.15;
  g_assert_cmpfloat_with_epsilon (measure_water (yard), round, 0.04 * round);
  g_autoptr (BedYard) dry = make_yard (5, 10);
  g_assert_cmpfloat (measure_water (dry), <, 0);
  g_assert_false (advises (dry, BED_ADVICE_FAR_FROM_WATER, NULL));
  yard->to_water = 8;
  g_assert_true (advises (yard, BED_ADVICE_FAR_FROM_WATER, "about 8"));
  yard->to_water = 30;
  g_assert_false (advises (yard, BED_ADVICE_FAR_FROM_WATER, NULL));
}

/* A court with one gap in its south side. */
static BedYard *
make_court (double gap)
{
  BedYard *yard = make_yard (10, 10);
  g_autofree char *west = g_strdup_printf ("7 7, %.3f 7.5", 10 - gap / 2);
  g_autofree char *east = g_strdup_printf ("%.3f 7, 13 7.5", 10 + gap / 2);

  sample_add_feature (yard, BED_FEATURE_BUILDING, "7 7, 7.5 13");
  sample_add_feature (yard, BED_FEATURE_BUILDING, "12.5 7, 13 13");
  sample_add_feature (yard, BED_FEATURE_BUILDING, "7 12.5, 13 13");
  sample_add_feature (yard, BED_FEATURE_BUILDING, west);
  sample_add_feature (yard, BED_FEATURE_BUILDING, east);
  return yard;
}

static void
test_way_out (void)
{
  g_autoptr (BedYard) wide = make_court (0.9), narrow = make_court (0.45), shut = make_court (0);

  g_assert_false (advises (wide, BED_ADVICE_NO_WAY, NULL));
  g_assert_true (advises (narrow, BED_ADVICE_NO_WAY, "only about"));
  g_assert_true (advises (shut, BED_ADVICE_NO_WAY, "No way leads out"));
  sample_add_feature (shut, BED_FEATURE_PATH, "8 8, 9 8"); /* a way that leads on */
  g_assert_false (advises (shut, BED_ADVICE_NO_WAY, NULL));
}

/* Found out bit by bit it is the same as at once. */
static void
test_way_by_bits (void)
{
  g_autoptr (BedYard) yard = make_court (0.45);
  sample_add_feature (yard, BED_FEATURE_TAP, "15 10");
  g_autoptr (BedScene) bits = bed_scene_new (yard), whole = bed_scene_new (yard);
  guint n = 1;

  while (!bed_scene_work_ways (bits, g_get_monotonic_time () + 200))
    n++;
  g_assert_cmpuint (n, >, 2);
  for (guint narrower = 0; narrower < 3; narrower++)
    {
      const BedWays *a = bed_scene_get_ways (bits, narrower),
                    *b = bed_scene_get_ways (whole, narrower);
      g_assert_cmpint (bed_ways_leads_out (a, 0), ==, bed_ways_leads_out (b, 0));
      g_assert_cmpfloat (bed_ways_to_water (a, 0), ==, bed_ways_to_water (b, 0));
    }
}

static void
test_in_the_way (void)
{
  const struct
  {
    BedFeatureKind kind;
    const char *at;
    BedAdviceAbout about;
    gboolean warned;
  } cases[] = {
    { BED_FEATURE_PATH, "0 10.8, 20 10.8", BED_ADVICE_ON_PATH, TRUE }, /* from 10.4 up */
    { BED_FEATURE_PATH, "0 10.95, 20 10.95", BED_ADVICE_ON_PATH, FALSE },
    { BED_FEATURE_BUILDING, "10.2 9, 14 11", BED_ADVICE_IN_THE_WAY, TRUE },
    { BED_FEATURE_BUILDING, "10.5 9, 14 11", BED_ADVICE_IN_THE_WAY, FALSE }, /* against it */
    { BED_FEATURE_TREE, "10 11, 12 11", BED_ADVICE_IN_THE_WAY, FALSE },      /* its crown */
    { BED_FEATURE_TREE, "10 10.5, 12 10.5", BED_ADVICE_IN_THE_WAY, TRUE },   /* its trunk */
    { BED_FEATURE_SHADE_CLOTH, "0 0, 20 20", BED_ADVICE_IN_THE_WAY, FALSE },
    { BED_FEATURE_FENCE, "10 0, 10 20", BED_ADVICE_IN_THE_WAY, TRUE },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (BedYard) yard = make_yard (10, 10);
      sample_add_feature (yard, cases[i].kind, cases[i].at);
      g_assert_cmpint (advises (yard, cases[i].about, NULL), ==, cases[i].warned);
    }
}

/* In the box around an outline like an L, but not in it. */
static void
test_outside (void)
{
  g_autoptr (BedYard) yard = make_yard (10, 10);

  g_assert_false (advises (yard, BED_ADVICE_OUTSIDE, NULL));
  g_array_unref (yard->outline);
  yard->outline = bed_outline_parse ("0 0, 20 0, 20 6, 6 6, 6 20, 0 20", NULL);
  g_assert_true (advises (yard, BED_ADVICE_OUTSIDE, NULL));
}

/* Half of it under the cloth is enough; a dense wood needs none drawn. */
static void
test_shade (void)
{
  g_autoptr (BedYard) yard = make_yard (10, 10);

  g_assert_false (advises (yard, BED_ADVICE_SUN, NULL)); /* nobody said how shady it is */
  yard->shade = 0.85;
  g_assert_false (advises (yard, BED_ADVICE_SUN, NULL));
  yard->cloth = TRUE;
  g_assert_true (advises (yard, BED_ADVICE_SUN, "nothing drawn covers it"));
  sample_add_feature (yard, BED_FEATURE_SHADE_CLOTH, "10.2 9, 14 12"); /* 3 in 10 */
  g_assert_true (advises (yard, BED_ADVICE_SUN, NULL));
  sample_add_feature (yard, BED_FEATURE_TREE, "9 10, 10 10");
  g_assert_false (advises (yard, BED_ADVICE_SUN, NULL));
  yard->shade = 0.5;
  g_assert_false (advises (yard, BED_ADVICE_SUN, NULL));
}

/* Short logs make a narrow footing: six tiers of 0.7 m logs stand higher than they should. */
static void
test_footing (void)
{
  g_autoptr (BedYard) yard = make_yard (10, 10);
  BedYardStack *crib = yard->stacks->pdata[0];

  for (int i = 0; i < 24; i++)
    {
      BedYardLog *log = bed_yard_log_new ();
      log->length = 0.8;
      log->diameter = 0.15;
      g_ptr_array_add (crib->logs, log);
    }
  g_assert_false (advises (yard, BED_ADVICE_UNSTEADY, NULL)); /* 0.9 m on 0.8 m */
  for (int i = 0; i < 24; i++)
    ((BedYardLog *) crib->logs->pdata[i])->length = 0.7;
  g_assert_true (advises (yard, BED_ADVICE_UNSTEADY, NULL)); /* more than 0.84 m */
}

static void
add_logs (BedYardStack *stack, guint n, double diameter, BedStage stage)
{
  for (guint i = 0; i < n; i++)
    {
      BedYardLog *log = bed_yard_log_new ();
      log->length = 0.86;
      log->diameter = diameter;
      log->stage = stage;
      g_ptr_array_add (stack->logs, log);
    }
}

/* Seven logs of 12 cm side by side on 86 cm have 3 mm between them. */
static void
test_air (void)
{
  g_autoptr (BedYard) yard = make_yard (10, 10), dead = bed_yard_new (20, 20);
  BedYardStack *crib = yard->stacks->pdata[0], *pile = bed_yard_stack_new (BED_STACK_DEAD);

  crib->tiers = 2;
  crib->per_tier = 7;
  add_logs (crib, 14, 0.12, BED_STAGE_SPAWN_RUN);
  g_assert_true (advises (yard, BED_ADVICE_TOO_TIGHT, "too tight for the spawn run"));
  for (guint i = 0; i < crib->logs->len; i++)
    ((BedYardLog *) crib->logs->pdata[i])->stage = BED_STAGE_RESTING;
  g_assert_true (advises (yard, BED_ADVICE_TOO_TIGHT, "too tight to dry"));
  crib->per_tier = 4;
  crib->tiers = 4;
  g_assert_false (advises (yard, BED_ADVICE_TOO_TIGHT, NULL));
  pile->name = g_strdup ("Pile 1");
  pile->pose = (BedPose){ 10, 10, 0 };
  g_ptr_array_add (dead->stacks, pile);
  add_logs (pile, 10, 0.12, BED_STAGE_SPAWN_RUN);
  g_assert_false (advises (dead, BED_ADVICE_TOO_TIGHT, NULL)); /* close is right then */
  add_logs (pile, 1, 0.12, BED_STAGE_FRUITING);
  g_assert_true (advises (dead, BED_ADVICE_TOO_TIGHT, "mushrooms have no room"));
}

/* One more than it holds; one that stands in another. */
static void
test_crowded (void)
{
  g_autoptr (BedYard) yard = make_yard (10, 10);
  BedYardStack *crib = yard->stacks->pdata[0], *other = bed_yard_stack_new (BED_STACK_CRIB);

  crib->tiers = 2;
  crib->per_tier = 4;
  add_logs (crib, 8, 0.12, BED_STAGE_RESTING);
  g_assert_false (advises (yard, BED_ADVICE_TOO_MANY, NULL));
  add_logs (crib, 1, 0.12, BED_STAGE_RESTING);
  g_assert_true (advises (yard, BED_ADVICE_TOO_MANY, "1 log more than it holds (8)"));
  other->name = g_strdup ("Crib 2");
  other->pose = (BedPose){ 10.5, 10.2, 0.3 };
  g_ptr_array_add (yard->stacks, other);
  g_assert_true (advises (yard, BED_ADVICE_TOO_NEAR, "It stands in Crib 2."));
}

/* The farm's own heights and aisle. */
static void
test_own_measures (void)
{
  g_autoptr (BedYard) yard = make_yard (10, 10);
  BedYardStack *crib = yard->stacks->pdata[0], *other = bed_yard_stack_new (BED_STACK_CRIB);

  for (int i = 0; i < 24; i++) /* six tiers of four */
    {
      BedYardLog *log = bed_yard_log_new ();
      log->length = 1;
      log->diameter = 0.15;
      g_ptr_array_add (crib->logs, log);
    }
  g_assert_false (advises (yard, BED_ADVICE_TOO_HIGH, NULL)); /* 0.9 m */
  crib->rules.max_height = 800;
  g_assert_true (advises (yard, BED_ADVICE_TOO_HIGH, NULL));
  other->name = g_strdup ("Crib 2");
  other->pose = (BedPose){ 11.6, 10, 0 };
  g_ptr_array_add (yard->stacks, other);
  g_assert_false (advises (yard, BED_ADVICE_TOO_NEAR, NULL)); /* 0.6 m of 0.9 m */
  yard->aisle = 1.5;
  g_assert_true (advises (yard, BED_ADVICE_TOO_NEAR, "1.5"));
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/advice/water-straight", test_water_straight);
  g_test_add_func ("/advice/water-round", test_water_round);
  g_test_add_func ("/advice/way-out", test_way_out);
  g_test_add_func ("/advice/way-by-bits", test_way_by_bits);
  g_test_add_func ("/advice/in-the-way", test_in_the_way);
  g_test_add_func ("/advice/outside", test_outside);
  g_test_add_func ("/advice/shade", test_shade);
  g_test_add_func ("/advice/footing", test_footing);
  g_test_add_func ("/advice/air", test_air);
  g_test_add_func ("/advice/crowded", test_crowded);
  g_test_add_func ("/advice/own-measures", test_own_measures);
  return g_test_run ();
}
