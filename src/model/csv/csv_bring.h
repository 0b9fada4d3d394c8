#pragma once

#include "model/csv/csv.h"
#include "model/notebook/notebook.h"

/* What a notebook has understood of a sheet, brought into the farm: references are resolved, what
 * is there already is known, what differs is amended where @import says so; all or nothing, in one
 * edit. Of @import kind, encoding and sheet are the notebook's and not read; its path names the
 * sheet in the history and in faults. INVALID while a question of the notebook is open. Returns
 * the number of its rows that came in, or -1, as bed_csv_import() does. */
int bed_csv_bring (BedFarm *farm, BedNotebook *notebook, const BedImport *import,
                   GPtrArray **faults, GError **error);
