#pragma once

#include "yard/shape.h"

/* Things on the ground by what they are: their form, measures and shape. Metres, radians. */

/* A usual one of that kind with its middle, or its first point, at @at; clears what was there. */
void bed_ground_set_usual (BedGround *ground, BedFeatureKind kind, BedPoint at);

/* Turns corners alone into the nearest form that has the same corners, to the millimetre, for
 * things that were stored before they had a form. One point: a usual one. Two: a round thing's
 * middle and rim, or a square thing's opposite corners. Four at right angles: a box. */
void bed_ground_settle (BedGround *ground, BedFeatureKind kind);

/* Fills measures that nobody said with usual ones, and makes a form of too few points the one its
 * points allow. */
void bed_ground_complete (BedGround *ground, BedFeatureKind kind);

/* As a thing of @kind can have it: of a path that becomes a building, a box of its length; of a
 * tank that becomes a tree, a crown as wide. */
void bed_ground_change_kind (BedGround *ground, BedFeatureKind kind);

/* Deep: points too. */
void bed_ground_copy (BedGround *to, const BedGround *from);

/* The four corners of a box, from the south-west of the unturned one, counter-clockwise. */
void bed_ground_get_corners (const BedGround *box, BedPoint corners[4]);

/* Its shape, whose points are borrowed from it or, of a box, are @corners. */
BedShape bed_ground_get_shape (const BedGround *ground, BedPoint corners[4]);

/* The ground a feature takes for good: of a tree its trunk. */
BedShape bed_feature_get_footing (const BedYardFeature *feature, BedPoint corners[4]);
