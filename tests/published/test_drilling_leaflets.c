/* Holes of a log as leaflets count them. */
#include "science/drill.h"

/* Maryland Cooperative Extension, Shiitake Mushrooms Enterprise, Rural Enterprise
 * Series (c. 2000) (SEEN): an oak log 5 by 48 in with holes about 6 in apart takes 35
 * to 40. Row distance 3 in from D. B. Hill, University of Kentucky, FOR-77 (SEEN). */
static void
test_maryland (void)
{
  BedDrill drill = { .large_diameter = 127,
                     .small_diameter = 127,
                     .length = 1219.2,
                     .along = 152.4,
                     .between = 76.2,
                     .margin = 50.8 };
  g_autoptr (BedDrillPlan) plan = bed_drill_plan_new (&drill, NULL);

  g_assert_nonnull (plan);
  g_assert_cmpint (plan->rows, ==, 5);
  g_assert_cmpuint (plan->holes->len, >=, 35);
  g_assert_cmpuint (plan->holes->len, <=, 40);
}

/* G. F. Leatham, Forest Products Journal (1982) (SEEN): pieces of spawn wood 20 to 40
 * cm apart, rows 5 to 10 cm, neighbours offset by half, 10 to 30 a log. A log 10 cm by
 * 1 m (own choice) stays inside but at the densest corner, 31 (own arithmetic). */
static void
test_leatham (void)
{
  const double spacing[][2] = { { 200, 100 }, { 300, 75 }, { 300, 60 }, { 250, 60 } };

  for (gsize i = 0; i < G_N_ELEMENTS (spacing); i++)
    {
      BedDrill drill = { .large_diameter = 100,
                         .small_diameter = 100,
                         .length = 1000,
                         .along = spacing[i][0],
                         .between = spacing[i][1],
                         .margin = 50 };
      g_autoptr (BedDrillPlan) plan = bed_drill_plan_new (&drill, NULL);

      g_assert_nonnull (plan);
      g_assert_cmpuint (plan->holes->len, >=, 10);
      g_assert_cmpuint (plan->holes->len, <=, 30);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/drilling-leaflets/maryland", test_maryland);
  g_test_add_func ("/drilling-leaflets/leatham", test_leatham);
  return g_test_run ();
}
