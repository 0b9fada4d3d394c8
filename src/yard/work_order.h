#pragma once

#include "yard/pile.h"
#include "yard/shape.h"

/* In which order planned moves can be worked: each log is taken up once, none from under another,
 * none is set down where one still lies or onto one that still has to go, and what comes is piled
 * from the bottom. Of what can be done next, the pile that was begun goes on, then the nearest. */

typedef struct
{
  gint64 stack; /* 0: in none; negative: one that is still to be built */
  BedStackKind kind;
  guint tier, slot;       /* from 1; 0 in none */
  BedPoint at;            /* the middle of the stack, metres; of one area */
  const BedShape *ground; /* what it stands on; NULL: in none. Borrowed */
} BedPlannedSpot;

typedef enum
{
  BED_PLANNED_READY,
  BED_PLANNED_UNDER, /* a log that stays lies on it, or would lie on it where it goes */
  BED_PLANNED_TAKEN, /* a log that stays lies where it goes */
  BED_PLANNED_WAITS, /* for one that cannot be done, or in a circle */
} BedPlannedState;

typedef struct
{
  gint64 id; /* of its record */
  gint64 log;
  char *code; /* of the log */
  BedPlannedSpot from, to;
  BedPlannedState state;
  char *hindered_by; /* the code of the log that stays; NULL but for UNDER and TAKEN */
} BedPlannedMove;

void bed_planned_move_free (BedPlannedMove *move);

/* A log that stays where it is. */
typedef struct
{
  const char *code; /* borrowed */
  BedPlannedSpot at;
} BedPlannedStay;

/* Sorts @moves, BedPlannedMove, into that order, which depends on nothing but them; those that
 * cannot be done come last. @stays: BedPlannedStay. */
void bed_planned_order (GPtrArray *moves, const GArray *stays);

/* Whether a log in one place of a stack lies on one in the other. */
gboolean bed_planned_lies_on (const BedPlannedSpot *upper, const BedPlannedSpot *lower);
