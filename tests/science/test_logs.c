/* Logs, woods, trees, stacks: identities and orders that must hold. */
#include <math.h>

#include "science/argument.h"
#include "science/log.h"
#include "science/stack.h"
#include "science/tree.h"

/* Reckoned another way: of straight sides, a cone of the large end less the one cut off. */
static void
test_volume_identity (void)
{
  BedLogSize size = { 150, 110, 1000 };
  double litres;

  g_assert_true (bed_log_volume (&size, &litres, NULL));
  g_assert_cmpfloat_with_epsilon (litres, 13.377949, 1e-6);
  for (int i = 0; i < 200; i++)
    {
      size.large_diameter = g_test_rand_double_range (50, 300);
      size.small_diameter = size.large_diameter * g_test_rand_double_range (0.2, 0.99);
      double large = size.large_diameter, small = size.small_diameter;
      double tip = size.length * small / (large - small);
      double cones = G_PI / 12 * (large * large * (size.length + tip) - small * small * tip) / 1e6;
      g_assert_true (bed_log_volume (&size, &litres, NULL));
      g_assert_cmpfloat_with_epsilon (litres, cones, 1e-9 * cones);
    }
}

/* A bolt 12 cm by 1 m without bark: 6.333 kg dry and 11.60 kg green of red oak. */
static void
test_mass (void)
{
  BedWoodNumbers oak = { 0.56, 83.1, 0, 0, 0 };
  BedLogMass mass;

  g_assert_true (bed_log_mass (&oak, 11.30973355, &mass, NULL));
  g_assert_cmpfloat_with_epsilon (mass.dry_kg, 6.333, 5e-4);
  g_assert_cmpfloat_with_epsilon (mass.green_kg, 11.60, 5e-3);
  oak.bark_pct = 20;
  oak.bark_density = 0.68;
  g_assert_true (bed_log_mass (&oak, 12, &mass, NULL));
  g_assert_cmpfloat_with_epsilon (mass.wood_l, 10, 1e-9);
  g_assert_cmpfloat_with_epsilon (mass.bark_l, 2, 1e-9);
}

static void
test_wood_table (void)
{
  const char *head = "code,common_name,latin_name,basic_density,density_12,green_moisture_pct,"
                     "bark_density,bark_moisture_pct,bark_pct_of_wood,group,volume_equation,"
                     "source,mark\n";
  g_autofree char *good
      = g_strconcat (head, "1,first oak,Quercus prima,0.5,0.6,80,0.5,90,15,9,species,a,seen\r\n",
                     ",second oak,Quercus secunda,0.6,,,,,,,none,b,memory\n", NULL);
  g_autofree char *bad = g_strconcat (head, "1,oak,Quercus,dense,,,,,,,none,a,seen\n", NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) table = bed_wood_table_new (good, &error);

  g_assert_no_error (error);
  g_assert_cmpuint (table->len, ==, 2);
  g_assert_cmpstr (bed_wood_find (table, "FIRST OAK", NULL)->latin, ==, "Quercus prima");
  g_assert_cmpstr (bed_wood_find (table, "quercus secunda", NULL)->name, ==, "second oak");
  g_assert_cmpstr (bed_wood_find (table, "sec", NULL)->name, ==, "second oak");
  g_assert_true (isnan (bed_wood_find (table, "sec", NULL)->numbers.bark_pct));
  g_assert_null (bed_wood_find (table, "oak", &error));
  g_assert_error (error, BED_SCIENCE_ERROR, BED_SCIENCE_ERROR_ARGUMENT);
  g_clear_error (&error);
  g_assert_null (bed_wood_table_new (bad, &error));
  g_assert_error (error, BED_SCIENCE_ERROR, BED_SCIENCE_ERROR_DATA);
  g_assert_cmpstr (error->message, ==, "line 2, basic_density: not a number from zero on");
}

/* A stem grows thinner all the way up, its bolts add up, a higher stump or a thicker
 * top never gives more. */
static void
test_tree (void)
{
  for (int i = 0; i < 300; i++)
    {
      BedWood wood = { .code = 0, .name = (char *) "tree", .group = g_test_rand_int_range (6, 10) };
      BedTree tree = { g_test_rand_double_range (80, 350), g_test_rand_double_range (8000, 25000),
                       150, g_test_rand_double_range (600, 1300), 75 };
      g_autoptr (BedTreeYield) yield = bed_tree_yield_new (&wood, &tree, NULL);
      double before = INFINITY;

      g_assert_nonnull (yield);
      for (guint b = 0; b < yield->bolts->len; b++)
        {
          const BedTreeBolt *bolt = &g_array_index (yield->bolts, BedTreeBolt, b);
          g_assert_cmpfloat (bolt->large_diameter, >, bolt->small_diameter);
          g_assert_cmpfloat (bolt->large_diameter, <=, before + 1e-6);
          g_assert_cmpfloat (bolt->small_diameter, >=, tree.top - 1e-3);
          before = bolt->small_diameter;
        }
      g_assert_cmpfloat (yield->bolts_l, <=, yield->wood_l + yield->bark_l);
      tree.top = 100;
      g_autoptr (BedTreeYield) thicker = bed_tree_yield_new (&wood, &tree, NULL);
      g_assert_cmpuint (thicker->bolts->len, <=, yield->bolts->len);
    }
}

static void
test_stack (void)
{
  for (int kind = 0; kind < BED_N_STACKS; kind++)
    for (int logs = 1; logs < 400; logs += 7)
      {
        BedStackLoad load = { g_test_rand_double_range (80, 200),
                              g_test_rand_double_range (950, 1300), 12, logs };
        BedStackRules rules;
        BedStackPlan plan;

        g_assert_true (bed_stack_rules (kind, &rules, NULL));
        g_assert_true (bed_stack_plan (kind, &load, &rules, &plan, NULL));
        g_assert_cmpint (plan.stacks * plan.logs_per_stack, >=, logs);
        g_assert_cmpint ((plan.stacks - 1) * plan.logs_per_stack, <, logs);
        g_assert_cmpint (plan.tiers * plan.per_tier, >=, MIN (logs, plan.logs_per_stack));
        g_assert_cmpfloat_with_epsilon (plan.mass_kg, 12 * logs, 1e-9);
        g_assert_cmpfloat (plan.length, >, 0);
        g_assert_cmpfloat (plan.ground_m2, >, plan.stacks * plan.length * plan.width / 1e6);
        if (kind == BED_STACK_DEAD || kind == BED_STACK_CRIB)
          g_assert_cmpfloat (plan.height, <=, rules.max_height + 1e-9);
      }
}

/* A crib of 12 cm logs 1 m long with as much air: 4 a tier, 25 logs in 7 tiers. */
static void
test_crib (void)
{
  BedStackLoad load = { 120, 1000, 0, 25 };
  BedStackRules rules;
  BedStackPlan plan;

  g_assert_true (bed_stack_rules (BED_STACK_CRIB, &rules, NULL));
  g_assert_true (bed_stack_plan (BED_STACK_CRIB, &load, &rules, &plan, NULL));
  g_assert_cmpint (plan.per_tier, ==, 4);
  g_assert_cmpint (plan.tiers, ==, 7);
  g_assert_cmpfloat_with_epsilon (plan.height, 840, 1e-9);
  g_assert_cmpint (plan.logs_per_stack, ==, 40);
}

/* Of a wood of one's own a bark share may be all that is known of the bark: it is kept. */
static void
test_own_bark (void)
{
  const BedWoodNumbers own = { 0.6, NAN, NAN, NAN, 20 };
  BedWoodNumbers whole = bed_wood_numbers_complete (&own);
  BedLogMass mass;

  g_assert_true (bed_log_mass (&whole, 12, &mass, NULL));
  g_assert_cmpfloat_with_epsilon (mass.wood_l, 10, 1e-9);
  g_assert_cmpfloat_with_epsilon (mass.bark_l, 2, 1e-9);
  g_assert_cmpfloat_with_epsilon (mass.dry_kg, 12 * 0.6, 1e-9);
  g_assert_cmpfloat_with_epsilon (mass.green_kg, 12 * 0.6 * 1.8, 1e-9);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/logs/volume-identity", test_volume_identity);
  g_test_add_func ("/logs/mass", test_mass);
  g_test_add_func ("/logs/own-bark", test_own_bark);
  g_test_add_func ("/logs/wood-table", test_wood_table);
  g_test_add_func ("/logs/tree", test_tree);
  g_test_add_func ("/logs/stack", test_stack);
  g_test_add_func ("/logs/crib", test_crib);
  return g_test_run ();
}
