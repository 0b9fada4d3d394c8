#pragma once

#include "model/farm/farm.h"

/* The mark of every batch of which logs ever lay in a stack (id, gint64 -> GINT_TO_POINTER; see
 * bed_mark_look): the same on every day and in every area. Two that lay in one area at one time
 * have different ones; each has the lowest that is free, in the order they were made. Kept with
 * the farm until it changes, borrowed; NULL when it cannot be read. */
GHashTable *bed_marks_get (BedFarm *farm, GError **error);

/* The same where they are read already, else NULL. */
GHashTable *bed_marks_peek (BedFarm *farm);
