#pragma once

#include "model/csv/csv.h"
#include "model/notebook/notebook.h"

/* The matching that was kept with the farm when a sheet of the same heads was brought in, for
 * bed_notebook_take_matching(); NULL: there is none. Owned by the caller. */
char *bed_csv_dup_matching (BedFarm *farm, BedNotebook *notebook);

/* What a notebook has understood of a sheet, brought into the farm: references are resolved, what
 * is there already is known, what differs is amended where @import says so; all or nothing, in one
 * edit, in which the matching is kept, too. Of @import kind, encoding and sheet are the notebook's
 * and not read; its path names the sheet in the history and in faults. INVALID while a question of
 * the notebook is open. Returns the number of its rows that came in, or -1, as bed_csv_import()
 * does. */
int bed_csv_bring (BedFarm *farm, BedNotebook *notebook, const BedImport *import,
                   GPtrArray **faults, GError **error);
