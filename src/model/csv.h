#pragma once

#include "model/farm.h"

G_BEGIN_DECLS

/* A kind of record as a CSV file (RFC 4180): heads are the field names with the
 * unit in brackets where there is one, references are written by name or code.
 * What export writes, import reads back to the same records. */

/* One thing wrong in a CSV. */
typedef struct
{
  guint line;   /* from 1, the head is line 1 */
  guint column; /* field number, from 1; 0 for the whole line */
  char *message;
} BedCsvFault;

typedef enum
{
  BED_IMPORT_WRITE,
  BED_IMPORT_DRY_RUN, /* everything but writing */
} BedImportMode;

typedef struct
{
  BedKind kind;
  const char *path;
  BedImportMode mode;
} BedImport;

/* All or nothing. Returns the number of records read, or -1 with INVALID and
 * every fault in @faults (element BedCsvFault, made by the callee), or with
 * another error when the file could not be read or the farm not written. */
int bed_csv_import (BedFarm *farm, const BedImport *import, GPtrArray **faults, GError **error);

/* Writes KIND.csv to @path; the number of records, or -1. */
int bed_csv_export (BedFarm *farm, BedKind kind, const char *path, GError **error);

/* Every kind that has records into @folder (made when missing), one file each. */
gboolean bed_csv_export_all (BedFarm *farm, const char *folder, GError **error);

G_END_DECLS
