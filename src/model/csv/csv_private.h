#pragma once

#include "model/csv/csv.h"
#include "model/csv/csv_names.h"
#include "model/farm/csv_read.h"
#include "model/farm/edit.h"
#include "model/notebook/notebook.h"

/* An import on its way. For the model room only. */

/* A column of the file. @record_kind differs from the file's for the columns that
 * fill a second record beside the row's own. */
typedef struct
{
  BedKind record_kind;
  const BedField *field; /* NULL: nothing stands in it */
  char *unit;            /* NULL: none given */
} BedCsvColumn;

typedef struct
{
  char *path;
  BedKind kind;
  GArray *columns;       /* BedCsvColumn */
  gboolean partial;      /* columns that a new record must have are missing */
  BedNotebook *notebook; /* that has understood it, borrowed; NULL: it is written as ours */
} BedCsvFile;

/* Whether the farm had any of a kind. */
typedef enum
{
  BED_CSV_UNLOOKED,
  BED_CSV_NONE,
  BED_CSV_SOME,
} BedCsvLook;

/* Where a record came from. */
typedef struct
{
  const BedCsvFile *file; /* NULL: from none of the files */
  guint line;
} BedCsvPlace;

typedef struct
{
  BedFarm *farm;
  const BedImport *import;
  BedImportAnswer *answer;
  BedEdit *edit;
  GError *stopped;     /* why it does not go on */
  GPtrArray *faults;   /* BedCsvFault */
  GHashTable *alike;   /* their shape -> how many there are of it */
  guint errors;        /* how many faults are no warnings, those alike and not kept too */
  guint pending;       /* records since the last round */
  guint unmarked;      /* names of logs that were no own numbers */
  gint64 first_id;     /* of the first record that is new */
  GArray *runs;        /* where new records came from: see csv_place.c */
  GArray *asides;      /* BedCsvPlace of rows that could not be read whole, number -1 on */
  GHashTable *amended; /* id -> BedCsvPlace of stored records that are changed */
  GHashTable *met;     /* ids of stored records that rows of this import were the same as */
  BedCsvLook looked[BED_N_KINDS];
  BedCsvLook counted;  /* whether any log of the farm is only counted */
  GHashTable *there;   /* batch -> logs that the farm had and no number of the import has met */
  GHashTable *free[2]; /* living, retired: batch -> ids of logs that are only counted */
  BedCsvNames *names[BED_N_KINDS];
  GPtrArray *files; /* BedCsvFile */
  int rows;
  BedRecord *settings; /* the farm's, or those that this import brings */
  BedRecord *brought;  /* those, or NULL */
  BedRecord *batch;    /* the last that holes were counted by */
  BedNotation notation;

  /* of the file being read */
  BedCsvFile *file;
  BedKind kind;
  GArray *columns;
} BedCsvImporter;

/* The row being read. */
typedef struct
{
  const BedCsvRow *row;
  BedRecord *record;
  BedRecord *beside; /* made by extra columns, or NULL */
  GArray *logs;      /* ids of those in its soak, or NULL */
} BedCsvLine;

/* csv_import.c: an import of one file or several; the lock is not taken yet. */
BedCsvImporter *bed_csv_importer_new (BedFarm *farm, const BedImport *import);
void bed_csv_importer_free (BedCsvImporter *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedCsvImporter, bed_csv_importer_free)
/* A file whose head is about to be read. */
void bed_csv_begin_file (BedCsvImporter *self, BedKind kind, const char *path);
/* A round is full after so many records, and is ended. */
void bed_csv_pace (BedCsvImporter *self);
/* Checks, and writes when it is no rehearsal and nothing was wrong so far; how many rows, or -1.
 * Once something has stopped it, its faults are no faults of the file. */
int bed_csv_finish (BedCsvImporter *self, const char *sentence, GError **error);
int bed_csv_give_up (BedCsvImporter *self);
BedCsvNames *bed_csv_names (BedCsvImporter *self, BedKind kind);
/* Into the edit, with its place and its name; aside when it leans on one that is aside. */
void bed_csv_put (BedCsvImporter *self, BedRecord *record, guint line);
/* Not into the edit, for its row is at fault: its name alone is known, so that what refers to it
 * is not blamed for that. */
void bed_csv_put_aside (BedCsvImporter *self, BedRecord *record, guint line);
/* Ends a round, so that the farm can be asked about all that was put; FALSE: it does not go on. */
gboolean bed_csv_end_round (BedCsvImporter *self);

/* csv_fault.c: beyond the third that is alike in all but names and numbers, faults are counted. */
void bed_csv_fault_at (BedCsvImporter *self, const BedCsvRow *row, guint column, char *message);
/* Done all the same, and worth saying. */
void bed_csv_note_at (BedCsvImporter *self, const BedCsvRow *row, guint column, char *message);
/* Of the file as a whole, or one of its lines. */
void bed_csv_fault_in (BedCsvImporter *self, BedFaultSeverity severity, const char *file,
                       guint line, guint column, char *message);
/* Takes over what the edit found, and tells it where it stands. */
void bed_csv_take_faults (BedCsvImporter *self);
/* Sorts them; whether one is no warning, and then the error is that. */
gboolean bed_csv_end_faults (BedCsvImporter *self, GError **error);

/* csv_place.c: new records of a file have numbers and lines that go up together, so runs of them
 * are kept and not each. */
GArray *bed_csv_runs_new (void);
void bed_csv_place_add (BedCsvImporter *self, gint64 id, guint line);
BedCsvPlace bed_csv_place_of (BedCsvImporter *self, gint64 id);
/* Whether a row of this import made the record, or changed it. */
gboolean bed_csv_is_drafted (BedCsvImporter *self, gint64 id);

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
/* The given things (woods, mushrooms, strains, the farm itself) are changed by a row of their
 * name; of all else there may be but one. */
gboolean bed_csv_is_given (BedKind kind);

/* csv_known.c: the record that the farm had before this import, the same in every column of the
 * file, or 0; each stored record is met by one row alone. */
gint64 bed_csv_meets_known (BedCsvImporter *self, BedRecord *record);
/* Whether columns of the file differ between a stored record and the row's. */
gboolean bed_csv_differs (BedCsvImporter *self, BedRecord *stored, BedRecord *record);
/* Into the answer. */
void bed_csv_count_added (BedCsvImporter *self, BedRecord *record);
/* Of a record that differs; FALSE: it is to stay as it is. */
gboolean bed_csv_amends (BedCsvImporter *self, BedRecord *stored, BedRecord *record);

/* csv_counted.c: a log of the sheet that takes the place of one that is only counted in its batch
 * and that nothing hangs on: its id, or 0 when it is to be added. */
gint64 bed_csv_take_place (BedCsvImporter *self, BedRecord *log, guint line);
gboolean bed_csv_is_counted (BedRecord *log);
/* @stored was only counted, and is what the row says from now on. */
void bed_csv_list_log (BedCsvImporter *self, BedRecord *stored, BedRecord *log, guint line);
/* Of @n logs of a batch those that the farm has not, listed or counted; the others are known. */
guint bed_csv_count_missing (BedCsvImporter *self, gint64 batch, guint n);

/* csv_refer.c: the record a cell names, made where the rules of import allow; 0 and a
 * fault when there is none. */
gint64 bed_csv_refer (BedCsvImporter *self, BedCsvLine *line, guint column, const char *name);
/* The name near to this, owned by the caller, or NULL. */
char *bed_csv_dup_nearest (BedCsvImporter *self, BedKind kind, const char *name);
/* There is no batch “26B”. Did you mean “26A”? */
char *bed_csv_dup_missing (BedCsvImporter *self, BedKind kind, const char *name);

/* csv_beside.c: the records that a row brings along: what is known of them, @soaked the number of
 * the column with the logs of a soak or 0; and once the row's own record is put, they too. */
void bed_csv_read_beside (BedCsvImporter *self, BedCsvLine *line, guint soaked);
void bed_csv_put_beside (BedCsvImporter *self, BedCsvLine *line);
void bed_csv_count_holes (BedCsvImporter *self, BedRecord *log);
/* Since when that is there which @pick was picked from, or NULL. */
char *bed_csv_dup_begun (BedCsvImporter *self, BedRecord *pick);
