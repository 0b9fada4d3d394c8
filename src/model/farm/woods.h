#pragma once

#include "model/farm/farm.h"
#include "science/wood.h"

/* The species table, data/wood.csv, which the program carries: the only place of these
 * numbers. Read once; element BedWood, borrowed. */
GPtrArray *bed_woods_get (void);

/* What is known of the wood record @wood of @farm: its own density, green moisture and bark
 * share where it has them, the rest from the species of its Latin, else common, name. The
 * name is the record's; code and group are 0 for a wood the table does not know. FALSE and
 * NOT_FOUND when there is no such record. Clear with bed_woods_clear(). */
gboolean bed_woods_read (BedFarm *farm, gint64 wood, BedWood *known, GError **error);
void bed_woods_clear (BedWood *known);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (BedWood, bed_woods_clear)
