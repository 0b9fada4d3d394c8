#pragma once

#include "model/farm/farm.h"

/* What a grower names when picking or soaking: a log, a stack or a batch. */

/* The id of the log, stack or batch called @text, looked for in that order, and its kind; a
 * log's check character may be left out. 0 with INVALID for a mistyped code and NOT_FOUND,
 * with the nearest names there are, for an unknown one. */
gint64 bed_source_find (BedFarm *farm, const char *text, BedKind *kind, GError **error);

/* The logs that @text names: names divided by commas, semicolons or new lines. A stack means
 * the logs lying in it, a batch its logs; retired ones only when named themselves. Each log
 * once, in the order named; element gint64, (transfer full). NULL and an error that quotes
 * the name which was not understood. Empty text names no logs. */
GArray *bed_source_find_logs (BedFarm *farm, const char *text, GError **error);

/* The reverse, as short as it can be: whole stacks by name, the others by code, divided by
 * commas. @logs holds gint64; (transfer full). NULL when it could not be asked (see
 * bed_farm_end_reading()). */
char *bed_source_dup_names (BedFarm *farm, GArray *logs);
