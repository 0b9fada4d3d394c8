#pragma once

#include <glib.h>

/* How logs lie. Lengths mm, masses kg. The kinds are the trade's; their measures
 * here are common practice, no published source; whoever calls may give others. */

typedef enum
{
  BED_STACK_DEAD,    /* close pile, tiers lying in the hollows of those below */
  BED_STACK_CRIB,    /* log cabin: each tier across the one below, with air between */
  BED_STACK_LEAN_TO, /* on one side of a low rail */
  BED_STACK_A_FRAME, /* on both sides of a high rail */
  BED_STACK_UPRIGHT, /* on end, two rows back to back */
  BED_STACK_GROUND,  /* side by side on the ground */
  BED_STACK_TOTEM,   /* sections on end, one on the other, on a base and under a cap; in a row */
  BED_N_STACKS
} BedStackKind;

typedef struct
{
  double max_height;  /* of a pile, crib or totem: people lift to it */
  double max_length;  /* of a stack that grows along a line */
  double rail_height; /* lean-to, A-frame */
  double air;         /* gap between neighbours, in diameters */
  double aisle;       /* beside each stack, to walk and carry */
} BedStackRules;

/* The rules of @kind. Pile height 90 cm and rail 90 cm: seen in growers' notes. */
gboolean bed_stack_rules (BedStackKind kind, BedStackRules *rules, GError **error);

typedef struct
{
  double diameter; /* mean of the logs */
  double length;
  double log_kg; /* 0 when not known: mass is then 0 */
  int logs;      /* 1 to 100000 */
} BedStackLoad;

typedef struct
{
  int stacks;         /* needed for the logs */
  int logs_per_stack; /* that one holds when full */
  int per_tier;
  int tiers;     /* of the fullest stack laid */
  double length; /* along the tiers, rail or row; of the fullest stack */
  double width;
  double height;
  double gap;       /* air between neighbours */
  double mass_kg;   /* of all logs */
  double ground_m2; /* all stacks with an aisle on two sides of each */
} BedStackPlan;

/* Heavy: a wet log is 10 to 25 kg; pin or stake round wood that stands higher than
 * its width, and keep children off. */
gboolean bed_stack_plan (BedStackKind kind, const BedStackLoad *load, const BedStackRules *rules,
                         BedStackPlan *plan, GError **error);
