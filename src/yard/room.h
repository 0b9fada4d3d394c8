#pragma once

#include "yard/scene.h"

/* How many more stacks, and logs, an area has room for: plain rows along its longest side, an aisle
 * from each other and from what stands there, inside the outline and on nothing drawn. */

typedef struct
{
  const BedYardStack *like; /* its kind, tiers, rules and logs say how much ground one takes, and
                             * how many it holds; without logs, usual ones */
  const BedGround *within;  /* a polygon, or NULL: the area's outline */
} BedRoomWish;

/* Where they would stand, from the south-west of the rows, element BedPose; owned. The same input
 * gives the same answer. @most: no more than that; 0: as many as fit. */
GArray *bed_room_fill (const BedScene *scene, const BedRoomWish *wish, guint most);

/* The logs that many stacks hold. */
guint bed_room_logs (const BedRoomWish *wish, guint stacks);
