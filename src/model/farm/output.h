#pragma once

#include "model/farm/farm.h"

/* Where a workbook, a paper, a CSV or a copy may be written: the one guard that every writer asks,
 * so that none of them destroys a farm.
 *
 * Returns where @path leads (links followed), owned by the caller: write beside that and rename.
 * INVALID when a farm or another database is there, or the name is of a journal of one, or what is
 * there is a folder, a device or a link to nothing. Whether the place can be written to is left to
 * the writer. */
char *bed_output_dup_target (const char *path, GError **error);
