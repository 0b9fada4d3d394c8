#pragma once

#include "yard/group.h"
#include "yard/moves.h"
#include "yard/work_order.h"

/* What is planned in the yard for a coming day, as the farm keeps it: stacks to be built and logs
 * to be moved. A planned stack is meant by its record's id, negative. */

/* The first day anything is planned for; NULL with no error when nothing is. Owned. */
char *bed_planned_dup_day (BedFarm *farm, GError **error);

/* The area as it would be by the plan of that day: today's, with the logs where they are to go.
 * Owned. */
BedYard *bed_planned_yard (BedFarm *farm, gint64 area, const char *day, GError **error);

typedef struct
{
  char *day;
  GPtrArray *moves;   /* BedPlannedMove, in working order */
  GHashTable *names;  /* gint64 * of a stack -> char * */
  GHashTable *counts; /* gint64 * of a stack that logs go from -> guint, the logs in it today */
  GPtrArray *scenes;  /* what the moves borrow */
  GPtrArray *yards;
} BedPlannedDay;

/* All areas'. Logs that were retired meanwhile, or whose stack is gone, are left out. */
BedPlannedDay *bed_planned_read (BedFarm *farm, const char *day, GError **error);
void bed_planned_free (BedPlannedDay *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedPlannedDay, bed_planned_free)

/* "Crib 3, tier 6, slot 2"; where it lies in none, so. Free with g_free(). */
char *bed_planned_dup_spot (const BedPlannedDay *self, const BedPlannedSpot *spot);

/* Why it cannot be done, in a sentence; NULL when it can. Free with g_free(). */
char *bed_planned_dup_trouble (const BedPlannedMove *move);

/* --- planning: each is one change ---------------------------------------------------------- */

/* Adds to @change a stack to be built; returns its id, negative. */
gint64 bed_planned_add_build (BedYardChange *change, BedFarm *farm, const char *day,
                              const BedNewStack *stack);

/* Adds to @change that @log goes there. */
gboolean bed_planned_add_move (BedYardChange *change, BedFarm *farm, const char *day, gint64 log,
                               const BedLogGoal *goal, GError **error);

/* A new stack, @id (may be NULL) gets its id: "Planned Crib 5". */
BedYardChange *bed_planned_build (BedFarm *farm, const char *day, const BedNewStack *stack,
                                  gint64 *id);

/* @steps: BedGroupStep on the yard of that day. A planned stack stands elsewhere; of one that
 * stands today all logs go to a new one, from the top. "Planned to move Crib 3". */
BedYardChange *bed_planned_move (BedFarm *farm, const BedYard *yard, const char *day,
                                 const GArray *steps, GError **error);

/* As bed_yard_move_logs(): "Planned to move 5 logs to Crib 3". */
BedYardChange *bed_planned_move_logs (BedFarm *farm, const char *day, const GArray *logs,
                                      const BedLogGoal *goal, GError **error);

/* Of @things (BedThing), the planned stacks with what was to go into them; others cannot be left
 * out. "Left out of the plan: Crib 7". */
BedYardChange *bed_planned_remove (BedFarm *farm, const BedYard *yard, const GArray *things,
                                   GError **error);

/* All of that day. "Dropped the plan for 1 Dec". */
BedYardChange *bed_planned_forget (BedFarm *farm, const char *day, GError **error);

/* Those of the moves whose records are in @ids (gint64) are made, today; the rest stays planned.
 * What is to be built for them is built, and what they leave empty is taken down. "Moved 12 logs as
 * planned". */
BedYardChange *bed_planned_carry_out (BedFarm *farm, const BedPlannedDay *draft, const GArray *ids,
                                      GError **error);
