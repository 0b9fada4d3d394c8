/* A. R. Ek, E. T. Birdsall, R. J. Spears, A simple model for estimating total and
 * merchantable tree heights, USDA Forest Service NC-RN-309 (1984), coefficients as
 * coded in the Forest Vegetation Simulator (SEEN): h = 4.5 + b1 (1 - exp (-b2 D))^b3
 * S^b4 (1.00001 - T/D)^b5 B^b6, feet and inches. A second, independent rule beside
 * bed_tree_yield_new(): the two give the same number of bolts within one. With the height
 * measured, bed_tree_second_rule() is this rule scaled to it. */
#include <math.h>

#include "science/tree.h"

typedef struct
{
  int code;
  double b[6];
} Rule;

static const Rule rules[] = {
  { 316, { 6.8600, 0.27725, 1.4287, 0.40115, 0.85299, 0.12403 } }, /* red maple */
  { 833, { 6.6844, 0.19049, 1.0000, 0.43972, 0.82962, 0.10806 } }, /* northern red oak */
};

static double
height (const Rule *rule, double d, double top)
{
  const double *b = rule->b, site = 60, basal = 100;

  return 4.5 + b[0] * pow (1 - exp (-b[1] * d), b[2]) * pow (site, b[3])
                   * pow (1.00001 - top / d, b[4]) * pow (basal, b[5]);
}

/* Own evaluation of the published coefficients (mark CALC). */
static void
test_heights (void)
{
  g_assert_cmpfloat_with_epsilon (height (&rules[0], 5, 0), 46.11, 6e-3);
  g_assert_cmpfloat_with_epsilon (height (&rules[0], 8, 3), 40.15, 6e-3);
  g_assert_cmpfloat_with_epsilon (height (&rules[1], 6, 3), 30.00, 6e-3);
  g_assert_cmpfloat_with_epsilon (height (&rules[1], 10, 0), 61.14, 6e-3);
}

static void
test_within_one_bolt (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (rules); i++)
    for (double d = 5; d <= 10; d += 0.5)
      {
        BedWood wood = { .code = rules[i].code, .name = (char *) "tree" };
        BedTree tree = { d * 25.4, height (&rules[i], d, 0) * 304.8, 152.4, 1016, 76.2 };
        g_autoptr (BedTreeYield) yield = bed_tree_yield_new (&wood, &tree, NULL);
        int other = (int) floor ((height (&rules[i], d, 3) - 0.5) / (40 / 12.0));
        guint second = 0;

        g_assert_nonnull (yield);
        g_assert_true (bed_tree_second_rule (&wood, &tree, &second, NULL));
        g_assert_cmpint ((int) second, ==, other);
        g_test_message ("%d %.1f in: %u and %d bolts", rules[i].code, d, yield->bolts->len, other);
        g_assert_cmpint (ABS ((int) yield->bolts->len - other), <=, 1);
      }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/ek/heights", test_heights);
  g_test_add_func ("/ek/within-one-bolt", test_within_one_bolt);
  return g_test_run ();
}
