#pragma once

#include "yard/moves.h"
#include "yard/room.h"

/* Where logs could stand, for the grower to drag on from: whole stacks in the rows that waste
 * least. Logs that are soaked together stand together, and who is soaked next stands nearest to
 * water, along the ground. */

typedef struct
{
  gint64 id;               /* 0: one that is still to come */
  double length, diameter; /* metres; the thicker end */
  char *group;             /* what is soaked together has one text; NULL: none of those */
  char *next_soak; /* YYYY-MM-DD, the day from which it may be soaked; NULL: none is known */
} BedArrangeLog;

/* Element BedArrangeLog, owned. Of @batch, those that lie in no stack before the others, which come
 * from the top of their piles; @batch 0: all that lie in none. @most: no more than that; 0: all. */
GPtrArray *bed_arrange_read (BedFarm *farm, gint64 batch, guint most, GError **error);

/* @n of that size, metres, that are still to come. */
GPtrArray *bed_arrange_imagine (guint n, double length, double diameter);

typedef struct
{
  const BedYardStack *like; /* of the kind wished, without logs; its rules are the farm's */
  const BedGround *within;  /* a polygon, or NULL: all of the area */
  double aisle;             /* metres; 0: the area's own */
} BedArrangeWish;

typedef struct
{
  BedPose pose;
  guint first, n;  /* which of the arrangement's logs lie in it */
  double to_water; /* metres along the ground; negative: there is none, or no way */
} BedArrangedStack;

typedef struct
{
  GPtrArray *logs; /* BedArrangeLog, in the order they are stacked */
  GArray *stacks;  /* BedArrangedStack, nearest to water first */
  guint n_places;  /* stacks there is room for in all */
  guint holds;     /* logs in each */
  guint left;      /* logs there is no room for, the last ones */
} BedArrangement;

/* Takes @logs, at least one; where there is no room at all, no stack. */
BedArrangement *bed_arrange (const BedScene *scene, const BedArrangeWish *wish, GPtrArray *logs);
void bed_arrangement_free (BedArrangement *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedArrangement, bed_arrangement_free)

/* Builds the stacks and puts the logs there are into them, or plans that for a coming @day
 * (YYYY-MM-DD; NULL: now): "Arranged 48 logs in 2 stacks". @made (may be NULL) gets the ids of the
 * stacks, element gint64, owned; those planned are negative, see planned_farm.h. */
BedYardChange *bed_arrange_put (BedFarm *farm, gint64 area, const char *day,
                                const BedArrangeWish *wish, const BedArrangement *arrangement,
                                GArray **made, GError **error);
