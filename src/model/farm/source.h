#pragma once

#include "model/farm/farm.h"

/* What a grower names when picking or soaking: a log, a stack or a batch. */

/* The id of the log, stack or batch called @text, looked for in that order, and its kind; a
 * log's check character may be left out, and its own number do where no other log has it. 0 with
 * INVALID for a mistyped code and NOT_FOUND, with the nearest names there are, for an unknown one.
 */
gint64 bed_source_find (BedFarm *farm, const char *text, BedKind *kind, GError **error);
/* By code and name alone: 0 and no error for an unknown one. */
gint64 bed_source_find_named (BedFarm *farm, const char *name, BedKind *kind, GError **error);
/* NOT_FOUND, as bed_source_find(). */
void bed_source_set_error (BedFarm *farm, const char *name, GError **error);

/* The logs that @text names, as people write them: names divided by commas, semicolons, spaces or
 * new lines, `26A-1..12`, `26A-1-12`, `26A-1 3 7..9`, `26A 3`. A bare number goes on from the code
 * before it, and is else an own number. A stack means the logs lying in it, a batch its logs; of
 * these and between the ends of a range retired ones are passed over. Each log once, in the order
 * named; element gint64, (transfer full). NULL and an error that quotes what was not understood.
 * Empty text names no logs. log_names.c. */
GArray *bed_source_find_logs (BedFarm *farm, const char *text, GError **error);

/* The reverse, as short as it can be: whole stacks by name, the others by code, divided by
 * commas. @logs holds gint64; (transfer full). NULL when it could not be asked (see
 * bed_farm_end_reading()). */
char *bed_source_dup_names (BedFarm *farm, GArray *logs);
