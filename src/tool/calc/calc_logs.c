/* Commands of logs: volume and mass, bolts of a tree, moisture, stacks. */
#include <math.h>

#include "model/farm/woods.h"
#include "science/log.h"
#include "science/moisture.h"
#include "science/stack.h"
#include "science/tree.h"
#include "tool/calc/calc_command.h"

static const char *const bases[] = { "wet", "dry", NULL };

/* For other commands */

const BedWood *
bed_calc_wood (BedCalc *calc, GError **error)
{
  return bed_wood_find (bed_woods_get (), bed_calc_text (calc, "wood"), error);
}

/* log */

static const BedCalcOption log_options[]
    = { OPTION_TEXT ("wood", REQUIRED, NULL, "common or Latin name"),
        OPTION ("large", REQUIRED, LENGTH_FINE, NULL, "large diameter, over bark"),
        OPTION ("small", REQUIRED, LENGTH_FINE, NULL, "small diameter, over bark"),
        OPTION ("length", REQUIRED, LENGTH_FINE, NULL, "of the log"),
        OPTION ("moisture", OPTIONAL, PERCENT, NULL, "of the log, else the wood's mean when green"),
        OPTION_TEXT ("basis", OPTIONAL, "dry", "of that moisture: wet, dry"),
        { NULL } };

static gboolean
run_log (BedCalc *calc, GError **error)
{
  const BedWood *wood = bed_calc_wood (calc, error);
  BedLogSize size = { .large_diameter = bed_calc_value (calc, "large"),
                      .small_diameter = bed_calc_value (calc, "small"),
                      .length = bed_calc_value (calc, "length") };
  int basis = wood ? bed_calc_choice (calc, "basis", bases, error) : -1;
  double litres;
  BedLogMass mass;

  if (basis < 0 || !bed_log_volume (&size, &litres, error))
    return FALSE;
  BedWoodNumbers numbers = bed_wood_numbers_complete (&wood->numbers);
  if (!bed_log_mass (&numbers, litres, &mass, error))
    return FALSE;
  if (bed_calc_has (calc, "moisture")
      && !bed_moisture_mass_at (mass.dry_kg, bed_calc_value (calc, "moisture"), (BedBasis) basis,
                                &mass.green_kg, error))
    return FALSE;
  bed_calc_add_text (calc, "wood", wood->name);
  bed_calc_add_double (calc, "volume", BED_CALC_L, mass.volume_l);
  bed_calc_add_double (calc, "wood", BED_CALC_L, mass.wood_l);
  if (mass.bark_l > 0)
    bed_calc_add_double (calc, "bark", BED_CALC_L, mass.bark_l);
  bed_calc_add_double (calc, "dry", BED_CALC_KG, mass.dry_kg);
  bed_calc_add_double (calc, "green", BED_CALC_KG, mass.green_kg);
  return TRUE;
}

const BedCalcCommand bed_calc_log
    = { "log", "volume and mass of a log, wood and bark", NULL, log_options, run_log };

/* tree */

static const BedCalcOption tree_options[]
    = { OPTION_TEXT ("wood", REQUIRED, NULL, "common or Latin name"),
        OPTION ("dbh", REQUIRED, LENGTH, NULL, "diameter at 1.37 m, over bark"),
        OPTION ("height", REQUIRED, LENGTH_LONG, NULL, "of the tree"),
        OPTION ("bolt", OPTIONAL, LENGTH, "40in", "length of a bolt"),
        OPTION ("top", OPTIONAL, LENGTH, "3in", "smallest diameter wanted"),
        OPTION ("stump", OPTIONAL, LENGTH, "6in", "height of the stump"),
        { NULL } };

static gboolean
run_tree (BedCalc *calc, GError **error)
{
  const BedWood *wood = bed_calc_wood (calc, error);
  BedTree tree = { bed_calc_value (calc, "dbh"), bed_calc_value (calc, "height"),
                   bed_calc_value (calc, "stump"), bed_calc_value (calc, "bolt"),
                   bed_calc_value (calc, "top") };
  g_autoptr (BedTreeYield) yield = wood ? bed_tree_yield_new (wood, &tree, error) : NULL;

  guint second;

  if (yield == NULL || !bed_tree_second_rule (wood, &tree, &second, error))
    return FALSE;
  bed_calc_add_text (calc, "wood", wood->name);
  if (yield->by == BED_TREE_AS_MIXED_HARDWOOD)
    bed_calc_add_text (calc, "taken_as", "mixed hardwood");
  bed_calc_add_int (calc, "bolts", yield->bolts->len);
  bed_calc_add_int (calc, "bolts_second_rule", second);
  bed_calc_add_double (calc, "wood", BED_CALC_L, yield->wood_l);
  bed_calc_add_double (calc, "bark", BED_CALC_L, yield->bark_l);
  bed_calc_add_double (calc, "bolts", BED_CALC_L, yield->bolts_l);
  bed_calc_add_double (calc, "top_height", BED_CALC_M, yield->top_height / 1000);
  bed_calc_begin_list (calc, "ends", BED_CALC_MM);
  for (guint i = 0; i < yield->bolts->len; i++)
    {
      const BedTreeBolt *bolt = &g_array_index (yield->bolts, BedTreeBolt, i);
      bed_calc_begin_object (calc);
      bed_calc_add_double (calc, "large", BED_CALC_MM, bolt->large_diameter);
      bed_calc_add_double (calc, "small", BED_CALC_MM, bolt->small_diameter);
      bed_calc_end_object (calc);
    }
  bed_calc_end_list (calc);
  return TRUE;
}

const BedCalcCommand bed_calc_tree = { "tree",
                                       "bolts a standing tree gives, and the volume of its stem",
                                       NULL, tree_options, run_tree };

/* moisture */

static const BedCalcOption moisture_options[] = {
  OPTION ("mass", REQUIRED, MASS, NULL, "of the log today"),
  OPTION ("dry", OPTIONAL, MASS, NULL, "its dry mass, or else"),
  OPTION ("start-mass", OPTIONAL, MASS, NULL, "what it weighed when its moisture was known, and"),
  OPTION ("start-moisture", OPTIONAL, PERCENT, NULL, "that moisture"),
  OPTION_TEXT ("basis", OPTIONAL, "wet", "of moistures given: wet, dry"),
  OPTION ("limit", OPTIONAL, PERCENT, NULL, "moisture at which the log is to be wetted"),
  { NULL }
};

static gboolean
find_dry_mass (BedCalc *calc, BedBasis basis, double *dry, GError **error)
{
  gboolean start = bed_calc_has (calc, "start-mass") && bed_calc_has (calc, "start-moisture");

  if (start == bed_calc_has (calc, "dry"))
    return bed_calc_refuse (error, "give --dry, or --start-mass and --start-moisture");
  if (start)
    return bed_moisture_dry_mass (bed_calc_value (calc, "start-mass"),
                                  bed_calc_value (calc, "start-moisture"), basis, dry, error);
  *dry = bed_calc_value (calc, "dry");
  return TRUE;
}

static gboolean
run_moisture (BedCalc *calc, GError **error)
{
  int basis = bed_calc_choice (calc, "basis", bases, error);
  BedMoisture moisture;
  double dry, limit;

  if (basis < 0 || !find_dry_mass (calc, (BedBasis) basis, &dry, error)
      || !bed_moisture_from_mass (bed_calc_value (calc, "mass"), dry, &moisture, error))
    return FALSE;
  bed_calc_add_double (calc, "wet_pct", BED_CALC_PLAIN, moisture.wet_pct);
  bed_calc_add_double (calc, "dry_pct", BED_CALC_PLAIN, moisture.dry_pct);
  bed_calc_add_double (calc, "dry", BED_CALC_KG, dry);
  if (!bed_calc_has (calc, "limit"))
    return TRUE;
  if (!bed_moisture_mass_at (dry, bed_calc_value (calc, "limit"), (BedBasis) basis, &limit, error))
    return FALSE;
  bed_calc_add_double (calc, "limit", BED_CALC_KG, limit);
  return TRUE;
}

const BedCalcCommand bed_calc_moisture = { "moisture",
                                           "moisture of a log from its weight, on both bases", NULL,
                                           moisture_options, run_moisture };

/* stack */

static const BedCalcOption stack_options[] = {
  OPTION_TEXT ("kind", REQUIRED, NULL, "dead, crib, lean-to, A-frame, upright row, ground row"),
  OPTION ("diameter", REQUIRED, LENGTH_FINE, NULL, "mean of the logs"),
  OPTION ("length", REQUIRED, LENGTH_FINE, NULL, "of the logs"),
  OPTION ("logs", REQUIRED, COUNT, NULL, "number of them"),
  OPTION_TEXT ("wood", OPTIONAL, NULL, "for their mass, else 1 kg a litre"),
  { NULL }
};

static const char *const kinds[]
    = { "dead", "crib", "lean-to", "A-frame", "upright row", "ground row", "totem", NULL };

/* Green hardwood with its bark is about as heavy as water. */
static gboolean
find_log_mass (BedCalc *calc, double litres, double *kg, GError **error)
{
  BedLogMass mass;

  *kg = litres;
  if (!bed_calc_has (calc, "wood"))
    return TRUE;
  const BedWood *wood = bed_calc_wood (calc, error);
  if (wood == NULL)
    return FALSE;
  BedWoodNumbers numbers = bed_wood_numbers_complete (&wood->numbers);
  if (!bed_log_mass (&numbers, litres, &mass, error))
    return FALSE;
  *kg = mass.green_kg;
  return TRUE;
}

static gboolean
run_stack (BedCalc *calc, GError **error)
{
  int kind = bed_calc_choice (calc, "kind", kinds, error);
  double diameter = bed_calc_value (calc, "diameter"), litres;
  double logs = bed_calc_value (calc, "logs");
  BedLogSize size = { diameter, diameter, bed_calc_value (calc, "length") };
  BedStackLoad load = { diameter, size.length, 0, (int) CLAMP (logs, -1, G_MAXINT) };
  BedStackRules rules;
  BedStackPlan plan;

  if (kind < 0 || !bed_log_volume (&size, &litres, error)
      || !find_log_mass (calc, litres, &load.log_kg, error)
      || !bed_stack_rules ((BedStackKind) kind, &rules, error)
      || !bed_stack_plan ((BedStackKind) kind, &load, &rules, &plan, error))
    return FALSE;
  bed_calc_add_int (calc, "stacks", plan.stacks);
  bed_calc_add_int (calc, "logs_per_stack", plan.logs_per_stack);
  bed_calc_add_int (calc, "tiers", plan.tiers);
  bed_calc_add_int (calc, "per_tier", plan.per_tier);
  bed_calc_add_double (calc, "length", BED_CALC_M, plan.length / 1000);
  bed_calc_add_double (calc, "width", BED_CALC_M, plan.width / 1000);
  bed_calc_add_double (calc, "height", BED_CALC_M, plan.height / 1000);
  bed_calc_add_double (calc, "gap", BED_CALC_MM, plan.gap);
  bed_calc_add_double (calc, "mass", BED_CALC_KG, plan.mass_kg);
  bed_calc_add_double (calc, "ground", BED_CALC_M2, plan.ground_m2);
  return TRUE;
}

const BedCalcCommand bed_calc_stack
    = { "stack", "how logs lie in a stack and the ground they take (common practice, no source)",
        NULL, stack_options, run_stack };
