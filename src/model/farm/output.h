#pragma once

#include "model/farm/farm.h"

/* What is written: only its like may be there, or an empty file. */
typedef enum
{
  BED_OUTPUT_FARM, /* a farm or a copy of one, which replaces nothing */
  BED_OUTPUT_WORKBOOK,
  BED_OUTPUT_PAPER,   /* PDF, PostScript, PNG or SVG */
  BED_OUTPUT_RECORDS, /* CSV, with the name of a field first */
  BED_OUTPUT_MATCHING,
} BedOutputKind;

/* Where a workbook, a paper, a CSV or a copy may be written: the one guard that every writer asks,
 * so that none of them destroys a farm.
 *
 * Returns where @path leads (links followed), owned by the caller: write beside that and rename.
 * INVALID when it is "-", which the tool writes to standard output where it can, a farm or another
 * database is there, or the name is of a journal of one, or what is there is a folder, a device, a
 * link to nothing, or of another kind than what is to be written. Whether the place can be written
 * to is left to the writer. */
char *bed_output_dup_target (const char *path, BedOutputKind kind, GError **error);
