#pragma once

#include "yard/yard.h"

/* How the logs of one stack lie, in space: worked out once, then seen from above
 * (plan) and from the side (elevation).
 *
 * Metres, in the stack's own frame: x along the logs of the first tier, y along
 * the row they make, z up from the ground, origin in the middle of the
 * footprint. */

typedef struct
{
  double x, y, z;
} BedPoint3;

/* One place for a log. */
typedef struct
{
  const BedYardLog *log; /* NULL: free */
  guint tier, slot;      /* from 1; tier 1 is the lowest, or the first row or side */
  BedPoint3 foot, head;  /* the ends of its axis; the head is the end people see */
  double radius;
} BedBar;

/* What logs lie on or lean against. */
typedef enum
{
  BED_RAIL_LEAN,   /* leaning logs lie against it */
  BED_RAIL_POST,   /* it stands on these */
  BED_RAIL_RUNNER, /* under a dead stack, across its logs */
  BED_RAIL_STAKE,  /* at either side of a dead stack */
  BED_RAIL_BASE,   /* under a totem */
  BED_RAIL_CAP,    /* on it */
} BedRailKind;

typedef struct
{
  BedRailKind kind;
  guint tier; /* of the row it is for, the lower of two; 0: of all */
  BedPoint3 from, to;
  double radius;
} BedRail;

typedef struct
{
  BedStackKind kind;
  guint tiers, per_tier; /* as arranged: never less than the stack asks for */
  guint holds;           /* logs the tiers asked for hold */
  guint over;            /* logs that lie beyond them */
  GArray *bars;          /* BedBar, by tier, then slot */
  GArray *rails;         /* BedRail */
  double length, width;  /* of the footprint, along x and y */
  double height;         /* to the top of the highest log there is */
  double diameter;       /* mean of the logs; of a usual one when there is none */
  double gap;            /* least free width between two neighbours in a tier; 0: they touch */
} BedPile;

/* The logs of @stack in their tiers and slots. A log whose slot nobody said, or
 * whose slot is taken, gets the first free one; those left over make more tiers.
 * Borrows the logs: @stack must outlive the pile. */
BedPile *bed_pile_new (const BedYardStack *stack);
void bed_pile_free (BedPile *pile);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedPile, bed_pile_free)

/* Tiers, and logs in a tier, as @said, or as usual for a stack of that kind where that is 0.
 * Our own choice; stacks of 25 and 40 logs are seen with growers (no norm is published). */
guint bed_stack_tiers (BedStackKind kind, guint said);
guint bed_stack_per_tier (BedStackKind kind, guint said);

/* Slots in tier @tier (from 1): a dead stack's logs lie in the hollows of the
 * tier below, so every second tier has one less. */
guint bed_stack_slots (BedStackKind kind, guint per_tier, guint tier);
