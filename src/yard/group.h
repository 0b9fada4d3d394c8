#pragma once

#include "yard/ground.h"
#include "yard/moves.h"
#include "yard/scene.h"

/* Several stacks and things on the ground worked on together, each deed one change. What comes to
 * lie where is worked out first (to be drawn while the hand holds it) and put into the farm when it
 * is set down. Metres, radians. */

typedef enum
{
  BED_THING_STACK,
  BED_THING_FEATURE,
} BedThingKind;

typedef struct
{
  BedThingKind kind;
  gint64 id;
} BedThing;

/* Turned about a point, then carried. */
typedef struct
{
  BedPoint about;
  double turn;
  BedPoint by;
} BedMotion;

BedPoint bed_motion_point (const BedMotion *motion, BedPoint point);
BedPose bed_motion_pose (const BedMotion *motion, const BedPose *pose);

/* In place. */
void bed_motion_ground (const BedMotion *motion, BedGround *ground);

/* One thing's motion: what the functions below hand over, in the order of the things. */
typedef struct
{
  BedThing thing;
  BedMotion motion;
} BedGroupStep;

/* The box around all of them; things that are gone are left out. */
BedExtent bed_group_extent (const BedScene *scene, const GArray *things);

/* The things, element BedThing, whose shapes touch the box, in the order of the yard: stacks, then
 * features. For the rubber band. */
GArray *bed_group_touched (const BedScene *scene, const BedExtent *box);

/* All stacks that hold a log of that batch (its code). */
GArray *bed_group_of_batch (const BedScene *scene, const char *batch);

/* The same motion for each. */
GArray *bed_group_carry (const GArray *things, const BedMotion *motion);

typedef enum
{
  BED_ALIGN_WEST,
  BED_ALIGN_EAST,
  BED_ALIGN_SOUTH,
  BED_ALIGN_NORTH,
  BED_ALIGN_MIDDLE_X, /* middles one above the other */
  BED_ALIGN_MIDDLE_Y, /* middles side by side */
} BedAlign;

/* Edges flush with the group's own outermost one, or middles in line with its middle. */
GArray *bed_group_align (const BedScene *scene, const GArray *things, BedAlign align);

typedef enum
{
  BED_ALONG_X,
  BED_ALONG_Y,
} BedAlong;

/* The first and the last stay; between them all free gaps are as wide. */
GArray *bed_group_distribute (const BedScene *scene, const GArray *things, BedAlong along);

/* Where a copy of the group would stand beside it: an aisle between, towards that side. */
BedPoint bed_group_beside (const BedScene *scene, const GArray *things, BedAlign side);

/* What was done, for the sentence. */
typedef enum
{
  BED_GROUP_MOVED,
  BED_GROUP_TURNED,
  BED_GROUP_ALIGNED,
  BED_GROUP_DISTRIBUTED,
} BedGroupDeed;

/* "Moved Crib 4", "Aligned 3 things". NULL with an error when one is gone. */
BedYardChange *bed_group_put (BedFarm *farm, const BedYard *yard, const GArray *steps,
                              BedGroupDeed deed, GError **error);

/* @copies of each, every one @by further than the last; stacks are built empty. "Copied Crib 4",
 * "Copied 3 things 4 times". @made (may be NULL) gets the new things, BedThing. */
BedYardChange *bed_group_copy (BedFarm *farm, const BedYard *yard, const GArray *things,
                               guint copies, BedPoint by, GArray **made, GError **error);

/* Stacks are taken down, the rest removed: "Removed 3 things". */
BedYardChange *bed_group_remove (BedFarm *farm, const BedYard *yard, const GArray *things,
                                 GError **error);
