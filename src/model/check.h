#pragma once

#include "model/edit.h"

G_BEGIN_DECLS

/* Everything about a farm that can be checked: the file page by page (SQLite's
 * quick_check), that every reference leads somewhere, and every rule of the farm on
 * every record, as if each were entered today. Reads only.
 *
 * Returns the faults (element BedFault, owned by the caller's array), warnings too; an
 * empty array when all is well; NULL with an error when the file cannot be read. */
GPtrArray *bed_check_farm (BedFarm *farm, GError **error);

/* "log 26A-017-K", "pick of 2026-05-18": what people call a record that a fault is
 * about; owned by the caller. */
char *bed_check_dup_name (BedFarm *farm, BedRecord *record);

G_END_DECLS
