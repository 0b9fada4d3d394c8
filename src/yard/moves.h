#pragma once

#include "model/farm/edit.h"
#include "yard/pile.h"
#include "yard/yard.h"

/* What is done in the yard, as edits ready to be committed with their sentence.
 * Stacks are moved today, logs on the day that their goal says: where they were before is kept. */
typedef struct
{
  BedEdit *edit;
  char *sentence;
  GHashTable *names; /* of the stacks it builds */
} BedYardChange;

/* Of one record, which is put; takes @sentence. */
BedYardChange *bed_yard_change_new (BedFarm *farm, BedRecord *record, char *sentence);
void bed_yard_change_free (BedYardChange *change);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedYardChange, bed_yard_change_free)

/* Nothing yet; the sentence is to be set. */
BedYardChange *bed_yard_change_new_empty (BedFarm *farm);

/* Where a stack goes to stand. */
typedef struct
{
  gint64 area;
  BedPose pose;
} BedStackGoal;

/* Adds to @change that stack @id stands there from today on. Where it stood before is kept, unless
 * it came there today or nobody had said. */
gboolean bed_yard_change_add_move (BedYardChange *change, BedFarm *farm, gint64 id,
                                   const BedStackGoal *goal, GError **error);

/* All of these return NULL with an error when a record is gone. */

/* A new stack in @area: "Built Crib 5". @id (may be NULL) gets its id. */
typedef struct
{
  gint64 area;
  BedStackKind kind;
  BedPose pose;
  guint tiers, per_tier; /* 0: as usual for the kind */
} BedNewStack;

/* "Crib 5": the first number that no stack has yet, standing or planned, nor one that is built with
 * @change. Borrowed from it. */
const char *bed_yard_change_name_stack (BedYardChange *change, BedFarm *farm, BedStackKind kind);

/* The record of a stack, standing or planned, says that it stands there. */
void bed_yard_set_pose (BedRecord *stack, const BedPose *pose);

/* Adds it to @change. */
gint64 bed_yard_change_add_build (BedYardChange *change, BedFarm *farm, const BedNewStack *stack);

BedYardChange *bed_yard_build_stack (BedFarm *farm, const BedNewStack *stack, gint64 *id);

/* "Took down Crib 5"; commit refuses while logs lie in it. */
gboolean bed_yard_change_add_take_down (BedYardChange *change, BedFarm *farm, gint64 id,
                                        GError **error);
BedYardChange *bed_yard_take_down (BedFarm *farm, gint64 id, GError **error);

/* The logs of @batch that lie in no stack and are not retired fill the free slots of @stack from
 * the bottom: "Put 24 logs of 26A in Crib 4". INVALID when there is none left, or no free slot. */
BedYardChange *bed_yard_put_batch (BedFarm *farm, const BedYardStack *stack, gint64 batch,
                                   GError **error);

/* Where a log goes. */
typedef struct
{
  const BedYardStack *to;
  guint tier, slot;  /* 0: the first free slot */
  const char *since; /* YYYY-MM-DD, borrowed; NULL: today */
} BedLogGoal;

/* The places of a stack that are free or taken by @logs (gint64) alone, from the goal on and round
 * to those before it; element BedLogGoal, owned. NULL with INVALID when they are fewer than
 * @logs. */
GArray *bed_yard_list_places (const BedLogGoal *goal, const GArray *logs, GError **error);

/* Adds to @change that @log lies there from that day on, in a place that is free now. INVALID when
 * it came to where it lies now after that day. */
gboolean bed_yard_change_add_log (BedYardChange *change, BedFarm *farm, gint64 log,
                                  const BedLogGoal *goal, GError **error);

/* @log goes there: "Moved log 26A-017-K to Crib 4". When another log of the same stack lies in
 * that slot, the two change places. INVALID when a log of another stack wants a taken slot, or
 * there is none free. */
BedYardChange *bed_yard_move_log (BedFarm *farm, gint64 log, const BedLogGoal *goal,
                                  GError **error);

/* Those of @logs (gint64) that do not lie in the stack yet, from the goal's day on: "Moved 5 logs
 * to Crib 4 on 3 May 2026". INVALID when all of them do. */
BedYardChange *bed_yard_put_logs (BedFarm *farm, const GArray *logs, const BedLogGoal *goal,
                                  GError **error);

/* @log lies in no stack any more: "Took log 26A-017-K out of Crib 4". */
BedYardChange *bed_yard_take_out (BedFarm *farm, gint64 log, GError **error);

/* Element gint64: several logs at once. They fill the free places from the goal on, and then those
 * before it, in their order; places that they leave themselves are free: "Moved 5 logs to Crib 4".
 * INVALID when there are more logs than places. One log: as bed_yard_move_log(). */
BedYardChange *bed_yard_move_logs (BedFarm *farm, const GArray *logs, const BedLogGoal *goal,
                                   GError **error);

/* "Took 5 logs out of their stack"; one log: as bed_yard_take_out(). */
BedYardChange *bed_yard_take_out_logs (BedFarm *farm, const GArray *logs, GError **error);
