/* Rules of thumb that the trade states: common practice, no source. What the defaults say lies
 * inside them. */
#include <math.h>

#include "science/drill.h"
#include "science/stack.h"

#define IN 25.4

/* Bolts are 4 to 6 in thick. Common practice, no source. */
static void
test_bolts (void)
{
  g_assert_cmpfloat (BED_DRILL_USUAL_DIAMETER, >=, 4 * IN);
  g_assert_cmpfloat (BED_DRILL_USUAL_DIAMETER, <=, 6 * IN);
}

/* Holes 4 to 6 in apart in rows 2 to 3 in apart, of which whole rows make 1.7 to 3.5 in round the
 * log; staggered to a diamond: the next row begins half a spacing on. Common practice, no source.
 */
static void
test_diamond (void)
{
  for (double thick = 4; thick <= 6; thick += 0.5)
    for (double along = 4; along <= 6; along++)
      for (double between = 2; between <= 3; between += 0.5)
        {
          const BedDrill drill = { .large_diameter = thick * IN,
                                   .small_diameter = thick * IN,
                                   .length = 40 * IN,
                                   .along = along * IN,
                                   .between = between * IN,
                                   .margin = 2 * IN,
                                   .hole_diameter = 12,
                                   .hole_depth = 25 };
          g_autoptr (BedDrillPlan) plan = bed_drill_plan_new (&drill, NULL);

          g_assert_nonnull (plan);
          g_assert_cmpfloat (plan->pitch, >=, 1.7 * IN);
          g_assert_cmpfloat (plan->pitch, <=, 3.5 * IN);
          g_assert_cmpfloat_with_epsilon (plan->start[1] - plan->start[0], along * IN / 2, 1e-9);
          g_assert_cmpfloat (plan->inside.distance, <, 3.5 * IN);
        }
}

/* A grinder drills several times as fast as a drill, in seconds a hole; a bag of 5 to 5.5 lb of
 * sawdust spawn fills 20 to 25 logs of 5 by 40 in. Common practice, no source. */
static void
test_needs (void)
{
  const BedDrill drill = { .large_diameter = 5 * IN,
                           .small_diameter = 5 * IN,
                           .length = 40 * IN,
                           .along = 6 * IN,
                           .between = 3 * IN,
                           .margin = 2 * IN,
                           .hole_diameter = 12,
                           .hole_depth = 25 };
  const BedDrillWork grinder = { BED_SPAWN_SAWDUST, BED_DRILL_GRINDER, BED_SEAL_HOLES };
  const BedDrillWork hand = { BED_SPAWN_SAWDUST, BED_DRILL_HAND, BED_SEAL_HOLES };
  g_autoptr (BedDrillPlan) plan = bed_drill_plan_new (&drill, NULL);
  int holes = (int) plan->holes->len;
  BedDrillNorms norms;
  BedDrillNeeds fast, slow;

  bed_drill_norms_init (&norms);
  g_assert_true (bed_drill_needs (&drill, holes, &grinder, &norms, &fast, NULL));
  g_assert_true (bed_drill_needs (&drill, holes, &hand, &norms, &slow, NULL));
  g_assert_cmpfloat (slow.drill_minutes, >=, 2 * fast.drill_minutes);
  g_assert_cmpfloat (slow.drill_minutes * 60 / holes, <=, 15);
  g_assert_cmpfloat (fast.spawn_g, >=, 5 * 453.59237 / 25);
  g_assert_cmpfloat (fast.spawn_g, <=, 5.5 * 453.59237 / 20);
  g_assert_cmpfloat (fast.minutes, >=, 3);
  g_assert_cmpfloat (fast.minutes, <=, 15);
}

/* Logs lie low in winter, on the ground or on a low rail, and stand raised for the crop, where
 * one picks from both sides. No pile is lifted above the chest. Common practice, no source. */
static void
test_stacks (void)
{
  const BedStackLoad load = { 125, 1016, 14, 100 };
  double height[BED_N_STACKS];

  for (int kind = 0; kind < BED_N_STACKS; kind++)
    {
      BedStackRules rules;
      BedStackPlan plan;

      g_assert_true (bed_stack_rules ((BedStackKind) kind, &rules, NULL));
      g_assert_true (bed_stack_plan ((BedStackKind) kind, &load, &rules, &plan, NULL));
      height[kind] = plan.height;
      g_assert_cmpfloat (plan.height, <=, 1400);
    }
  g_assert_cmpfloat (height[BED_STACK_GROUND], <=, 150);
  g_assert_cmpfloat (height[BED_STACK_LEAN_TO], <, height[BED_STACK_A_FRAME]);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/common-practice/bolts", test_bolts);
  g_test_add_func ("/common-practice/diamond", test_diamond);
  g_test_add_func ("/common-practice/needs", test_needs);
  g_test_add_func ("/common-practice/stacks", test_stacks);
  return g_test_run ();
}
