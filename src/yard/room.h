#pragma once

#include "yard/scene.h"

/* How many more stacks, and logs, an area has room for, and where: in rows along any of its sides,
 * or in line with stacks that stand there, an aisle from each other and from those, inside the
 * outline and on nothing drawn. The same input gives the same answer, and never fewer than plain
 * rows along the longest side. */

typedef struct
{
  const BedYardStack *like; /* its kind, tiers, rules and logs say how much ground one takes, and
                             * how many it holds; without logs, usual ones */
  const BedGround *within;  /* a polygon, or NULL: the area's outline */
  double aisle;             /* metres; 0: the area's own */
} BedRoomWish;

typedef struct
{
  BedPose pose;
  guint row;    /* those of one row have one number */
  double waste; /* of its row: the share of its length that no stack takes */
} BedRoomPlace;

/* As many as fit, element BedRoomPlace, row by row; owned. */
GArray *bed_room_fill (const BedScene *scene, const BedRoomWish *wish);

/* The logs that many stacks hold. */
guint bed_room_logs (const BedRoomWish *wish, guint stacks);
