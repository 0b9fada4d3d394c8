#pragma once

#include "yard/group.h"
#include <glib-object.h>

/* What stands in the yard, stacks and what lies on the ground alike (BedThing), as the map keeps
 * them: in arrays, to be found at once in a yard of hundreds. A thing whose id is 0 is none. */

/* An array of BedThing; where in it @thing is, or -1. */
GArray *bed_things_new (void);
int bed_things_find (const GArray *things, const BedThing *thing);

/* The one there is; none (id 0) of none or several. */
BedThing bed_things_get_only (const GArray *things);

/* Takes it in, or out when it is in already. */
void bed_things_toggle (GArray *things, const BedThing *thing);

/* In the same order, too. */
gboolean bed_things_are_same (const GArray *a, const GArray *b);

/* A table by BedThing, which it does not own. */
GHashTable *bed_things_table_new (void);

/* The shape of each thing as seen from above, of a stack its footprint: to be found by the thing.
 * Borrows the scene. */
GHashTable *bed_things_index (const BedScene *scene);

/* NULL when it is not there; @index may be NULL. */
const BedShape *bed_thing_find_shape (GHashTable *index, const BedThing *thing);

/* Takes out what is not there. */
void bed_things_keep (GArray *things, GHashTable *index);

/* The topmost thing at @point, stacks before what lies on the ground. @slack: how far beside still
 * counts, metres. */
BedThing bed_things_hit (const BedScene *scene, BedPoint point, double slack);

/* The ids (gint64) of the stacks among them. */
GArray *bed_things_list_stacks (const GArray *things);

/* All there is, as one reads: row by row from the north, from west to east in each. */
GArray *bed_things_in_order (const BedScene *scene);

/* What a shape is of. */
BedThing bed_thing_of_shape (const BedScene *scene, const BedShape *shape);

/* The logs that are dragged, element gint64: a value of G_TYPE_BYTES. */
GArray *bed_logs_of_value (const GValue *value);
