#pragma once

#include "model/csv/csv_names.h"
#include "model/farm/csv_read.h"
#include "model/farm/edit.h"
#include "model/sheet/rows.h"

/* An import on its way. For the model room only. */

/* A column of the file. @record_kind differs from the file's for the columns that
 * fill a second record beside the row's own. */
typedef struct
{
  BedKind record_kind;
  const BedField *field; /* NULL: nothing stands in it */
  char *unit;            /* NULL: none given */
} BedCsvColumn;

/* Where a drafted record came from. */
typedef struct
{
  BedRecord *record;
  const char *file; /* borrowed from the import */
  guint line;
  GArray *columns; /* BedCsvColumn, shared by the file */
  gboolean faulty; /* its row could not be read whole: the rules would only echo that */
} BedCsvOrigin;

typedef struct
{
  BedFarm *farm;
  BedEdit *edit;
  GPtrArray *faults; /* BedCsvFault */
  guint errors;      /* how many of them are no warnings */
  GPtrArray *drafts; /* BedCsvOrigin, in the order they were put */
  GHashTable *by_id; /* id -> BedCsvOrigin, borrowed */
  BedCsvNames *names[BED_N_KINDS];
  GPtrArray *files; /* names, for the borrowed ones above */
  int rows;
  BedRecord *settings; /* the farm's, or those that this import brings */
  BedNotation notation;
  BedEncoding encoding; /* asked for */
  const char *sheet;    /* asked for, or NULL */

  /* of the file being read */
  BedKind kind;
  const char *file;
  GArray *columns;
} BedCsvImporter;

/* The row being read. */
typedef struct
{
  const BedCsvRow *row;
  BedRecord *record;
  BedRecord *beside; /* made by extra columns, or NULL */
} BedCsvLine;

/* csv_import.c */
void bed_csv_fault_at (BedCsvImporter *self, const BedCsvRow *row, guint column, char *message);
/* Done all the same, and worth saying. */
void bed_csv_note_at (BedCsvImporter *self, const BedCsvRow *row, guint column, char *message);
BedCsvNames *bed_csv_names (BedCsvImporter *self, BedKind kind);
/* Into the edit, with its origin and its name. */
void bed_csv_put (BedCsvImporter *self, BedRecord *record, guint line);

/* csv_columns.c: whether any cell of the row names a field. */
gboolean bed_csv_knows_head (BedKind kind, const BedSheetRow *row);
/* What the head line says; FALSE when any head is at fault. */
gboolean bed_csv_read_head (BedCsvImporter *self, const BedCsvRow *head);
/* A column that needs the rest of its row read first. */
gboolean bed_csv_column_waits (BedCsvImporter *self, const BedCsvColumn *column);
/* Its number from 1, or 0. */
guint bed_csv_find_column (GArray *columns, BedKind kind, const char *field);

/* csv_rows.c: a line that is no head, faults and all. */
void bed_csv_read_row (BedCsvImporter *self, const BedCsvRow *row);

/* csv_refer.c: the record a cell names, made where the rules of import allow; 0 and a
 * fault when there is none. */
gint64 bed_csv_refer (BedCsvImporter *self, BedCsvLine *line, guint column, const char *name);

/* csv_beside.c: the records that a row brings along. */
void bed_csv_finish_line (BedCsvImporter *self, BedCsvLine *line);
void bed_csv_read_soaked (BedCsvImporter *self, BedCsvLine *line, guint column);
void bed_csv_count_holes (BedCsvImporter *self, BedRecord *log);
