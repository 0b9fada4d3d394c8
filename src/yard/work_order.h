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
} BedDraftSpot;

typedef enum
{
  BED_DRAFT_READY,
  BED_DRAFT_UNDER, /* a log that stays lies on it, or would lie on it where it goes */
  BED_DRAFT_TAKEN, /* a log that stays lies where it goes */
  BED_DRAFT_WAITS, /* for one that cannot be done, or in a circle */
} BedDraftState;

typedef struct
{
  gint64 id; /* of its record */
  gint64 log;
  char *code; /* of the log */
  BedDraftSpot from, to;
  BedDraftState state;
  char *hindered_by; /* the code of the log that stays; NULL but for UNDER and TAKEN */
} BedDraftMove;

void bed_draft_move_free (BedDraftMove *move);

/* A log that stays where it is. */
typedef struct
{
  const char *code; /* borrowed */
  BedDraftSpot at;
} BedDraftStay;

/* Sorts @moves, BedDraftMove, into that order, which depends on nothing but them; those that cannot
 * be done come last. @stays: BedDraftStay. */
void bed_draft_order (GPtrArray *moves, const GArray *stays);

/* Whether a log in one place of a stack lies on one in the other. */
gboolean bed_draft_lies_on (const BedDraftSpot *upper, const BedDraftSpot *lower);
