#pragma once

#include "yard/pile.h"
#include "yard/shape.h"
#include "yard/viewport.h"
#include "yard/ways.h"

/* An area seen from above: one array of shapes that drawing, hit-testing and
 * snapping all use. World metres, bottom to top: features, then each stack with what lies in it. */

/* Widths that ways out are tried in: the first is what a person with a log needs (common practice,
 * no source), each further one 0.1 m narrower. */
#define BED_WAY_BREADTH 0.6
#define BED_SCENE_WAYS 6

typedef struct
{
  const BedYard *yard;
  GArray *shapes;                /* BedShape */
  GPtrArray *piles;              /* BedPile of each stack */
  GPtrArray *points;             /* what the shapes borrow */
  double grid;                   /* stacks are set down on it; 0.1 m unless set */
  BedWays *ways[BED_SCENE_WAYS]; /* see bed_scene_get_ways() */
} BedScene;

/* Borrows @yard, which must outlive it. */
BedScene *bed_scene_new (const BedYard *yard);
void bed_scene_free (BedScene *scene);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedScene, bed_scene_free)

/* The ways that are 0.6 m wide, or @narrower tenths of a metre less; worked out when first asked
 * for. Borrowed. */
const BedWays *bed_scene_get_ways (const BedScene *scene, guint narrower);

/* Works out those that advice asks for, until @until (monotonic clock, us); TRUE when they are
 * there. */
gboolean bed_scene_work_ways (const BedScene *scene, gint64 until);

/* The four corners of the footprint of stack @index standing at @pose. */
void bed_yard_footprint (const BedScene *scene, guint index, const BedPose *pose,
                         BedPoint corners[4]);

/* All there is: outline, features and stacks. */
BedExtent bed_yard_bounds (const BedScene *scene);

/* From stack @index standing at @pose to stack @other where it is. */
BedMeasurement bed_yard_measure (const BedScene *scene, guint index, const BedPose *pose,
                                 guint other);

/* The nearest other stack to stack @index standing at @pose, or -1. */
int bed_yard_nearest (const BedScene *scene, guint index, const BedPose *pose,
                      BedMeasurement *measurement);

/* Turns kept within (-pi, pi]. */
double bed_turn_normal (double turn);
