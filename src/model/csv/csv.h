#pragma once

#include "model/farm/csv_read.h"
#include "model/farm/farm.h"
#include "model/sheet/rows.h"

/* A kind of record as a CSV file (RFC 4180, UTF-8): heads are the field names with
 * the unit in brackets where there is one, in any order; references are written by
 * name or code, choices by their key, dates YYYY-MM-DD, numbers with a point. What
 * export writes, import reads back to the same records. docs/file-format.md holds
 * the whole of it, and the conveniences that import alone has. */

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
  BedEncoding encoding; /* of a text; BED_ENCODING_FOUND: by its bytes */
  const char *sheet;    /* of a workbook; NULL: the first that is shown */
} BedImport;

/* All or nothing, in one edit. Returns the number of records read, or -1: with
 * INVALID when the data are wrong, and every fault in @faults; with another error
 * when the file could not be read or the farm not written. @faults (element
 * BedCsvFault, made by the callee, sorted as they stand in the file) holds the
 * warnings when it went well. */
int bed_csv_import (BedFarm *farm, const BedImport *import, GPtrArray **faults, GError **error);

/* Every file named after a kind (.csv, .tsv, .xlsx, .ods) in the folder @path, each after those
 * it refers to, in one edit; of a workbook the first sheet that is shown. @kind is not read. */
int bed_csv_import_all (BedFarm *farm, const BedImport *import, GPtrArray **faults, GError **error);

/* Writes the records of @kind to @path, oldest first; how many, or -1. */
int bed_csv_export (BedFarm *farm, BedKind kind, const char *path, GError **error);

/* Every kind that has records into @folder (made when missing), one file each; a file
 * of a kind that has none any more keeps its head line alone. How many records, or -1. */
int bed_csv_export_all (BedFarm *farm, const char *folder, GError **error);
