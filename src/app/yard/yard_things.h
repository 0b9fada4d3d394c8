#pragma once

#include "model/farm/kinds.h"
#include "yard/scene.h"

/* What stands in the yard, stacks and what lies on the ground alike, by its record. */
typedef struct
{
  BedKind kind; /* BED_KIND_STACK or BED_KIND_FEATURE */
  gint64 id;    /* 0: none */
} BedYardThing;

/* An array of BedYardThing; where in it @thing is, or -1. */
GArray *bed_things_new (void);
int bed_things_find (const GArray *things, const BedYardThing *thing);

/* Takes it in, or out when it is in already. */
void bed_things_toggle (GArray *things, const BedYardThing *thing);

/* In the same order, too. */
gboolean bed_things_are_same (const GArray *a, const GArray *b);

/* A table by BedYardThing, which it does not own. */
GHashTable *bed_things_table_new (void);

/* The shape of each thing as seen from above, of a stack its footprint: to be found by the thing.
 * Borrows the scene. */
GHashTable *bed_things_index (const BedScene *scene);

/* NULL when it is not there; @index may be NULL. */
const BedShape *bed_thing_find_shape (GHashTable *index, const BedYardThing *thing);

/* Takes out what is not there. */
void bed_things_keep (GArray *things, GHashTable *index);

/* What the shape is of. */
BedYardThing bed_thing_of_shape (const BedScene *scene, const BedShape *shape);

/* The box around a shape, around all of @things. */
BedExtent bed_shape_extent (const BedShape *shape);
BedExtent bed_things_extent (GHashTable *index, const GArray *things);

/* The topmost thing at @point, stacks before what lies on the ground; its id is 0 when there is
 * none. @slack: how far beside still counts, metres. */
BedYardThing bed_things_hit (const BedScene *scene, BedPoint point, double slack);

/* All that reaches into @band. */
GArray *bed_things_touched (const BedScene *scene, const BedExtent *band);

/* All there is, as one reads: row by row from the north, from west to east in each. */
GArray *bed_things_in_order (const BedScene *scene);
