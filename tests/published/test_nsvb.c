/* J. A. Westfall et al., A national-scale tree volume, biomass, and carbon modeling
 * system for the United States, USDA Forest Service GTR-WO-104 (2024), worked
 * examples (SEEN in a test file that quotes them). */
#include "science/tree.h"

#include <math.h>

#define LITRES_PER_FT3 28.316846592

static void
assert_stem (int code, int group, double dbh_in, double height_ft, double wood, double bark)
{
  BedWood known = { .code = code, .name = (char *) "worked example", .group = group };
  BedTree tree = { dbh_in * 25.4, height_ft * 304.8, 152.4, 1016, 76.2 };
  g_autoptr (BedTreeYield) yield = bed_tree_yield_new (&known, &tree, NULL);

  g_assert_nonnull (yield);
  g_assert_cmpfloat_with_epsilon (yield->wood_l / LITRES_PER_FT3, wood, 2e-6);
  g_assert_cmpfloat_with_epsilon (yield->bark_l / LITRES_PER_FT3, bark, 2e-6);
}

/* Red maple, 11.1 in, 38 ft, no division; tanoak, 11.3 in, 28 ft, by its group. */
static void
test_examples (void)
{
  assert_stem (316, 7, 11.1, 38, 9.427113, 2.155106);
  assert_stem (0, 8, 11.3, 28, 7.283117, 1.907136);
}

/* A wood of one's own, whose density alone is known, is taken as tanoak is; without it the density
 * is asked for. */
static void
test_own_wood (void)
{
  BedWood wood = { .name = (char *) "own wood", .numbers = { .basic_density = 0.6 } };
  BedTree tree = { 11.3 * 25.4, 28 * 304.8, 152.4, 1016, 76.2 };
  g_autoptr (GError) error = NULL;
  guint second;

  assert_stem (0, 8, 11.3, 28, 7.283117, 1.907136);
  g_autoptr (BedTreeYield) yield = bed_tree_yield_new (&wood, &tree, &error);
  g_assert_no_error (error);
  g_assert_cmpint (yield->by, ==, BED_TREE_AS_MIXED_HARDWOOD);
  g_assert_cmpfloat_with_epsilon (yield->wood_l / 28.316846592, 7.283117, 1e-5);
  g_assert_true (bed_tree_second_rule (&wood, &tree, &second, &error));
  wood.numbers.basic_density = NAN;
  g_assert_null (bed_tree_yield_new (&wood, &tree, &error));
  g_assert_cmpstr (error->message, ==,
                   "wood: nothing is known of own wood; give its basic density");
}

/* Further trees, own evaluation of the same tables with an independent program
 * (mark CALC): volumes, height to 3 in over bark, 40-inch bolts above half a foot. */
static void
test_bolts (void)
{
  const struct
  {
    int code;
    double d, h, wood, bark, top;
    guint bolts;
    double large, small_last;
  } trees[] = {
    { 833, 5, 45, 2.6839, 0.5537, 24.90, 7, 6.60, 3.12 },
    { 833, 6, 50, 4.2217, 0.8584, 32.33, 9, 7.90, 3.22 },
    { 802, 6, 48, 3.9853, 0.9087, 30.87, 9, 8.24, 3.05 },
    { 318, 6, 50, 4.0827, 0.6349, 32.80, 9, 6.90, 3.27 },
    { 316, 5, 45, 2.6929, 0.3842, 23.99, 7, 6.43, 3.02 },
    { 375, 5, 45, 2.7047, 0.3843, 25.38, 7, 5.92, 3.16 },
    { 746, 6, 50, 4.2214, 0.6896, 34.76, 10, 6.69, 3.11 },
    { 837, 8, 55, 7.2086, 2.0033, 41.28, 12, 10.23, 3.12 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (trees); i++)
    {
      BedWood wood = { .code = trees[i].code, .name = (char *) "tree" };
      BedTree tree = { trees[i].d * 25.4, trees[i].h * 304.8, 152.4, 1016, 76.2 };
      g_autoptr (BedTreeYield) yield = bed_tree_yield_new (&wood, &tree, NULL);

      g_assert_nonnull (yield);
      g_assert_cmpfloat_with_epsilon (yield->wood_l / LITRES_PER_FT3, trees[i].wood, 6e-5);
      g_assert_cmpfloat_with_epsilon (yield->bark_l / LITRES_PER_FT3, trees[i].bark, 6e-5);
      g_assert_cmpfloat_with_epsilon (yield->top_height / 304.8, trees[i].top, 6e-3);
      g_assert_cmpuint (yield->bolts->len, ==, trees[i].bolts);
      g_assert_cmpfloat_with_epsilon (
          g_array_index (yield->bolts, BedTreeBolt, 0).large_diameter / 25.4, trees[i].large, 6e-3);
      g_assert_cmpfloat_with_epsilon (
          g_array_index (yield->bolts, BedTreeBolt, trees[i].bolts - 1).small_diameter / 25.4,
          trees[i].small_last, 6e-3);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/nsvb/examples", test_examples);
  g_test_add_func ("/nsvb/own-wood", test_own_wood);
  g_test_add_func ("/nsvb/bolts", test_bolts);
  return g_test_run ();
}
