#pragma once

#include "model/farm/csv_read.h"
#include "model/farm/farm.h"
#include "model/farm/kinds.h"
#include "model/sheet/rows.h"
#include <gio/gio.h>

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

/* What becomes of a row that is in the farm already, the same in every column of the file. */
typedef enum
{
  BED_KNOWN_REFUSED, /* a fault: nothing is entered twice unasked */
  BED_KNOWN_SKIPPED,
  BED_KNOWN_ADDED, /* once more; what has a name is refused all the same */
} BedImportKnown;

/* What becomes of a row whose name is in the farm already, with other values. */
typedef enum
{
  BED_DIFFERS_REFUSED,
  BED_DIFFERS_AMENDED, /* the record takes what the row has, in the columns of the file; columns
                          that a new record must have may then be missing */
  BED_DIFFERS_LEFT,    /* the record stays as it is; the answer says what differs */
} BedImportDiffers;

/* A field that is summed up, of the records that would be added: masses in mg, money in minor
 * units. */
typedef struct
{
  BedKind kind;
  const BedField *field;
  gint64 sum;
} BedImportTotal;

/* A field of a record that is amended, or differs and is left, in words. */
typedef struct
{
  BedKind kind;
  char *name;
  const BedField *field;
  char *from, *to;
} BedImportChange;

#define BED_IMPORT_CHANGES_MOST 200

typedef struct
{
  guint added[BED_N_KINDS], amended[BED_N_KINDS], left[BED_N_KINDS]; /* records */
  guint known[BED_N_KINDS];                                          /* rows */
  guint listed;       /* logs that were only counted and have a row now */
  GArray *totals;     /* BedImportTotal */
  GPtrArray *changes; /* BedImportChange, no more than BED_IMPORT_CHANGES_MOST */
  guint n_changes;    /* fields that are amended or left */
} BedImportAnswer;

BedImportAnswer *bed_import_answer_new (void);
void bed_import_answer_free (BedImportAnswer *answer);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedImportAnswer, bed_import_answer_free)

typedef struct
{
  BedKind kind;
  const char *path;
  BedImportMode mode;
  BedEncoding encoding; /* of a text; BED_ENCODING_FOUND: by its bytes */
  const char *sheet;    /* of a workbook; NULL: the first that is shown */
  BedImportKnown known;
  BedImportDiffers differs;
  BedImportAnswer *answer;                      /* filled; NULL: not asked for */
  GCancellable *cancellable;                    /* G_IO_ERROR_CANCELLED, and nothing is written */
  void (*progress) (guint rows, gpointer data); /* now and then; NULL: nobody asks */
  gpointer progress_data;
} BedImport;

/* All or nothing, in one edit, which holds the lock of writing while it reads; of the file no more
 * is in memory than a thousand rows. Returns the number of records read, or -1: with INVALID when
 * the data are wrong, and every fault in @faults; with another error when the file could not be
 * read or the farm not written. @faults (element BedCsvFault, made by the callee, sorted as they
 * stand in the file) holds the warnings when it went well. */
int bed_csv_import (BedFarm *farm, const BedImport *import, GPtrArray **faults, GError **error);

/* Every file named after a kind (.csv, .tsv, .xlsx, .ods) in the folder @path, each after those
 * it refers to, in one edit; of a workbook the first sheet that is shown. @kind is not read. */
int bed_csv_import_all (BedFarm *farm, const BedImport *import, GPtrArray **faults, GError **error);

/* Writes the records of @kind to @path, oldest first; how many, or -1. */
int bed_csv_export (BedFarm *farm, BedKind kind, const char *path, GError **error);

/* Every kind that has records into @folder (made when missing), one file each; a file
 * of a kind that has none any more keeps its head line alone. How many records, or -1. */
int bed_csv_export_all (BedFarm *farm, const char *folder, GError **error);
