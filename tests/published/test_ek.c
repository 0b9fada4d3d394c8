/* A. R. Ek, E. T. Birdsall, R. J. Spears, A simple model for estimating total and
 * merchantable tree heights, USDA Forest Service NC-RN-309 (1984), coefficients as
 * coded in the Forest Vegetation Simulator (SEEN): h = 4.5 + b1 (1 - exp (-b2 D))^b3
 * S^b4 (1.00001 - T/D)^b5 B^b6, feet and inches. A second, independent rule beside
 * bed_tree_yield_new(). With the height measured, bed_tree_second_rule() is this rule scaled
 * to it. */
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

  return 4.5
         + b[0] * pow (1 - exp (-b[1] * d), b[2]) * pow (site, b[3]) * pow (1.00001 - top / d, b[4])
               * pow (basal, b[5]);
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

/* Heights of trees of other woods: H = 4.5 + P2 exp (-P3 D^P4) feet and inches, the
 * Curtis-Arney equation with coefficients as coded in the Forest Vegetation Simulator,
 * sn/htdbh.f (SEEN). How far the two rules are apart is our own finding: one bolt in most
 * trees of the size that bolts are cut from, two in some, and in hickory, whose stem the
 * second rule tapers more, three. */
static void
test_other_woods (void)
{
  static const struct
  {
    int code;
    double p[3];
    int apart;
  } woods[] = {
    { 833, { 700.0636452, 4.10607389, -0.21392785 }, 1 }, /* northern red oak */
    { 802, { 170.1330787, 3.27815866, -0.48744214 }, 1 }, /* white oak */
    { 837, { 224.716279, 3.11648501, -0.35982064 }, 1 },  /* black oak */
    { 316, { 268.5564351, 3.11432843, -0.29411156 }, 1 }, /* red maple */
    { 318, { 209.8555358, 2.95281334, -0.36787496 }, 2 }, /* sugar maple */
    { 611, { 290.90548, 3.6239536, -0.3720123 }, 1 },     /* sweetgum */
    { 531, { 526.1392688, 3.89232121, -0.22587084 }, 1 }, /* American beech */
    { 746, { 337.6684758, 3.62726466, -0.32083172 }, 2 }, /* quaking aspen */
    { 407, { 337.6684758, 3.62726466, -0.32083172 }, 3 }, /* shagbark hickory */
  };

  for (gsize i = 0; i < G_N_ELEMENTS (woods); i++)
    {
      BedWood wood = { .code = woods[i].code, .name = (char *) "tree" };
      int most = 0;
      for (double d = 4; d <= 8; d += 0.25)
        {
          const double *p = woods[i].p;
          double feet = 4.5 + p[0] * exp (-p[1] * pow (d, p[2]));
          BedTree tree = { d * 25.4, feet * 304.8, 152.4, 1016, 76.2 };
          g_autoptr (BedTreeYield) yield = bed_tree_yield_new (&wood, &tree, NULL);
          guint second = 0;

          g_assert_nonnull (yield);
          g_assert_true (bed_tree_second_rule (&wood, &tree, &second, NULL));
          most = MAX (most, ABS ((int) yield->bolts->len - (int) second));
        }
      g_test_message ("%d: at most %d apart", woods[i].code, most);
      g_assert_cmpint (most, ==, woods[i].apart);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/ek/heights", test_heights);
  g_test_add_func ("/ek/within-one-bolt", test_within_one_bolt);
  g_test_add_func ("/ek/other-woods", test_other_woods);
  return g_test_run ();
}
