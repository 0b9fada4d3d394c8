#include "science/stack.h"

#include <math.h>

#include "science/argument.h"

static const BedStackRules usual[BED_N_STACKS] = {
  [BED_STACK_DEAD] = { 900, 3000, 0, 0, 900 },
  [BED_STACK_CRIB] = { 1200, 0, 0, 1, 900 },
  [BED_STACK_LEAN_TO] = { 0, 6000, 450, 0.5, 900 },
  [BED_STACK_A_FRAME] = { 0, 6000, 900, 0.5, 900 },
  [BED_STACK_UPRIGHT] = { 0, 6000, 0, 0.5, 900 },
  [BED_STACK_GROUND] = { 0, 6000, 0, 0.5, 900 },
  [BED_STACK_TOTEM] = { 1200, 6000, 0, 1, 900 },
};

static gboolean
check (BedStackKind kind, const BedStackLoad *load, const BedStackRules *rules, GError **error)
{
  gboolean railed = kind == BED_STACK_LEAN_TO || kind == BED_STACK_A_FRAME;
  gboolean piled = kind == BED_STACK_DEAD || kind == BED_STACK_CRIB || kind == BED_STACK_TOTEM;

  return bed_argument_between ("kind", kind, 0, BED_N_STACKS - 1, error)
         && bed_argument_between ("diameter (mm)", load->diameter, 20, 1000, error)
         && bed_argument_between ("length (mm)", load->length, 100, 10000, error)
         && bed_argument_between ("logs", load->logs, 1, 100000, error)
         && bed_argument_between ("log mass", load->log_kg, 0, 5000, error)
         && bed_argument_between ("air", rules->air, 0, 20, error)
         && bed_argument_between ("aisle (mm)", rules->aisle, 0, 20000, error)
         && (!piled
             || bed_argument_between ("highest (mm)", rules->max_height, load->diameter, 1e4,
                                      error))
         && (kind == BED_STACK_CRIB
             || bed_argument_between ("longest (mm)", rules->max_length, load->diameter, 1e6,
                                      error))
         && (!railed
             || bed_argument_between ("rail height (mm)", rules->rail_height, 50,
                                      load->length * 0.95, error));
}

/* How many of @pitch fit in @room when the last needs no gap after it. */
static int
fit (double room, double pitch, double gap)
{
  return (int) MAX (floor ((room + gap) / pitch + 1e-9), 1);
}

/* Stacks of one tier along a line, @rows logs abreast. */
static void
lay_line (const BedStackLoad *load, const BedStackRules *rules, int rows, BedStackPlan *plan)
{
  double pitch = load->diameter + plan->gap;

  plan->per_tier = rows * fit (rules->max_length, pitch, plan->gap);
  plan->logs_per_stack = plan->per_tier;
  int laid = MIN (load->logs, plan->per_tier);
  plan->tiers = 1;
  plan->length = (laid + rows - 1) / rows * pitch - plan->gap;
}

/* Round wood lying in the hollows rises by sqrt (3)/2 of a diameter a tier; each
 * tier is taken as full, held by stakes. */
static void
lay_pile (const BedStackLoad *load, const BedStackRules *rules, BedStackPlan *plan)
{
  double d = load->diameter, rise = d * sqrt (3) / 2;
  int high = 1 + (int) floor ((rules->max_height - d) / rise + 1e-9);
  int most = fit (rules->max_length, d, 0);

  plan->logs_per_stack = most * high;
  int laid = MIN (load->logs, plan->logs_per_stack);
  plan->per_tier = (laid + high - 1) / high;
  plan->tiers = (laid + plan->per_tier - 1) / plan->per_tier;
  plan->length = plan->per_tier * d;
  plan->width = load->length;
  plan->height = d + (plan->tiers - 1) * rise;
}

static void
lay_crib (const BedStackLoad *load, const BedStackRules *rules, BedStackPlan *plan)
{
  int high = (int) floor (rules->max_height / load->diameter + 1e-9);

  /* A tier of one log would carry nothing. */
  plan->per_tier = MAX (fit (load->length, load->diameter + plan->gap, plan->gap), 2);
  plan->logs_per_stack = plan->per_tier * high;
  int laid = MIN (load->logs, plan->logs_per_stack);
  plan->tiers = (laid + plan->per_tier - 1) / plan->per_tier;
  plan->length = plan->width = load->length;
  plan->height = plan->tiers * load->diameter;
}

/* Sections on one another while people reach them, at least one; a row of them. */
static void
lay_totems (const BedStackLoad *load, const BedStackRules *rules, BedStackPlan *plan)
{
  int high = MAX ((int) floor (rules->max_height / load->length + 1e-9), 1);

  lay_line (&(BedStackLoad){ load->diameter, load->length, 0, (load->logs + high - 1) / high },
            rules, 1, plan);
  plan->logs_per_stack = plan->per_tier * high;
  plan->tiers = MIN (high, load->logs);
  plan->width = load->diameter;
  plan->height = plan->tiers * load->length;
}

/* Public */

gboolean
bed_stack_rules (BedStackKind kind, BedStackRules *rules, GError **error)
{
  g_return_val_if_fail (rules != NULL, FALSE);
  if (!bed_argument_between ("kind", kind, 0, BED_N_STACKS - 1, error))
    return FALSE;
  *rules = usual[kind];
  return TRUE;
}

gboolean
bed_stack_plan (BedStackKind kind, const BedStackLoad *load, const BedStackRules *rules,
                BedStackPlan *plan, GError **error)
{
  g_return_val_if_fail (load != NULL && rules != NULL && plan != NULL, FALSE);
  if (!check (kind, load, rules, error))
    return FALSE;
  double d = load->diameter, rail = rules->rail_height;
  double reach = sqrt (MAX (load->length * load->length - rail * rail, 0));

  *plan = (BedStackPlan){ .gap = rules->air * d, .mass_kg = load->logs * load->log_kg };
  switch (kind)
    {
    case BED_STACK_DEAD:
      plan->gap = 0;
      lay_pile (load, rules, plan);
      break;
    case BED_STACK_CRIB:
      lay_crib (load, rules, plan);
      break;
    case BED_STACK_LEAN_TO:
      lay_line (load, rules, 1, plan);
      plan->width = reach;
      plan->height = rail + d;
      break;
    case BED_STACK_A_FRAME:
      lay_line (load, rules, 2, plan);
      plan->width = 2 * reach;
      plan->height = rail + d;
      break;
    case BED_STACK_UPRIGHT:
      lay_line (load, rules, 2, plan);
      plan->width = 2 * d + plan->gap;
      plan->height = load->length;
      break;
    case BED_STACK_TOTEM:
      lay_totems (load, rules, plan);
      break;
    case BED_STACK_GROUND:
    case BED_N_STACKS:
    default:
      lay_line (load, rules, 1, plan);
      plan->width = load->length;
      plan->height = d;
      break;
    }
  plan->stacks = (load->logs + plan->logs_per_stack - 1) / plan->logs_per_stack;
  plan->ground_m2 = plan->stacks * (plan->length + rules->aisle) * (plan->width + rules->aisle)
                    / 1e6;
  return TRUE;
}
