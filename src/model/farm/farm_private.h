#pragma once

#include "model/farm/farm.h"
#include "model/farm/journal.h"
#include "model/farm/statements.h"
#include <sys/types.h>

/* For the model room only. */

/* A farm that is not open yet. */
BedFarm *bed_farm_begin (const char *path);

/* Takes over @db, and closes the one before. */
void bed_farm_take_db (BedFarm *self, sqlite3 *db);
void bed_farm_take_read_only_why (BedFarm *self, char *why);

/* The settings as they are in the file. */
gboolean bed_farm_read_settings (BedFarm *self, GError **error);

sqlite3 *bed_farm_get_db (BedFarm *self);
BedStatements *bed_farm_get_statements (BedFarm *self);

/* A fresh id: milliseconds since 2020 in the high 42 bits, chance below, always
 * above the last one given, so ids sort by time and do not meet in two copies. */
gint64 bed_farm_next_id (BedFarm *self);
/* The first of @n that follow each other. */
gint64 bed_farm_next_ids (BedFarm *self, guint n);
void bed_farm_raise_ids (BedFarm *self, gint64 change);

/* For farm_watch.c, the others at work on the file. */
typedef struct
{
  dev_t device; /* of the file, when it was opened */
  ino_t inode;
  gint64 version;      /* PRAGMA data_version: moves with every commit of another connection */
  gint64 seen;         /* the newest change the views were told of */
  guint64 unseen;      /* kinds others changed since, as found when a write began */
  guint64 untold;      /* kinds the views have still to be told of */
  GError *no_settings; /* why they are not as in the file: every reading tells of it */
  GPtrArray *readings; /* begun and not ended: for each the first GError in it, or NULL */
  gboolean in_read;    /* a transaction of its own is open for that */
  guint patience;      /* ms to wait for a lock */
  gboolean trying;     /* what is under way waits for no lock */
  gint64 given_up;     /* us, monotonic: when a lock was last waited for in vain; 0: it is free */
  gboolean said_held;  /* what "state-changed" was last emitted for */
  gboolean writing;    /* begun, and neither committed nor given up */
  gboolean stuck;      /* given up or read, and not even that could be ended: no memory */
  GError *trouble;     /* the first since it was last forgotten: see bed_farm_step() */
  char *gone_why;
  gboolean said_gone;
} BedFarmWatch;

BedFarmWatch *bed_farm_get_watch (BedFarm *self);
void bed_farm_emit_state_changed (BedFarm *self);

/* How numbers are written under @settings, which need not be in force yet. */
BedNotation bed_farm_notation_of (BedFarm *self, BedRecord *settings);

/* Who is at work, for the history. */
const char *bed_farm_get_who (BedFarm *self);

/* Tells the views. */
void bed_farm_emit_changed (BedFarm *self, guint64 kinds);

/* farm_trouble.c: as sqlite3_step() and sqlite3_bind_text(), but what goes wrong is remembered
 * until it is forgotten: a failed question is not an empty answer. A writing forgets at its
 * beginning and does not commit what met trouble (farm_watch.h). */
int bed_farm_step (BedFarm *self, sqlite3_stmt *stmt);
void bed_farm_bind_text (BedFarm *self, sqlite3_stmt *stmt, int parameter, const char *text);

/* To be called right after SQLite failed. */
void bed_farm_note_trouble (BedFarm *self);
void bed_farm_forget_trouble (BedFarm *self);

/* FALSE, and why (unless @error is set already), when anything could not be asked. */
gboolean bed_farm_check_trouble (BedFarm *self, GError **error);

/* Whether a writing was begun and SQLite has rolled it back by itself. */
gboolean bed_farm_is_cut_off (BedFarm *self);

/* An SQLite result as an error in words; @doing: "writing the change". */
void bed_farm_set_error (BedFarm *self, GError **error, const char *doing);
void bed_db_set_error (sqlite3 *db, GError **error, const char *doing, const char *path);

/* The same of a result that was returned, where the connection remembers a later one. */
void bed_db_set_status_error (sqlite3 *db, int status, GError **error, const char *doing,
                              const char *path);

/* A kept statement of the farm (statements.h), reset and its bindings cleared; owned by the
 * farm. NULL and an error when it cannot be made. */
sqlite3_stmt *bed_farm_statement (BedFarm *self, const char *sql, GError **error);

/* "SELECT id, …" and every field of the kind in their order, to be added to; owned by the
 * caller. */
char *bed_farm_dup_select (BedKind kind);

/* db.c */
#define BED_DB_HEADER_SIZE 100 /* bytes; https://sqlite.org/fileformat2.html, section 1.3 */

typedef struct
{
  int version;    /* of the schema */
  gboolean newer; /* from a newer Bedlog */
  BedJournalState journal;
} BedDbHeader;

/* Opens, guarded against what a file from anywhere may hold, and reads nothing of it yet;
 * sqlite3_close_v2 it. NOT_FOUND; NOT_A_FARM for what is no plain file. */
sqlite3 *bed_db_open (const char *path, int flags, GError **error);

/* Looks at the first bytes before SQLite does anything with the file, so that a stranger is
 * turned away without a trace: NOT_A_FARM. Where a change was cut off this is not the last
 * word: SQLite mends the file, and then it is looked at again. */
gboolean bed_db_look (sqlite3 *db, const char *path, BedDbHeader *header, GError **error);

/* Whether it may not be written to. */
gboolean bed_db_is_locked (const char *path);

/* How it syncs and caches. The first that reads the file. */
gboolean bed_db_configure (sqlite3 *db, GError **error);

/* Lets SQLite take back what a power cut left half done. */
gboolean bed_db_recover (sqlite3 *db, const char *path, GError **error);

/* CORRUPT when the file ends before the pages it tells of, or a page is not sound. To be asked
 * in a transaction, when nothing waits to be mended. */
gboolean bed_db_check_length (sqlite3 *db, const char *path, GError **error);
gboolean bed_db_check_sound (sqlite3 *db, const char *path, GError **error);

/* CORRUPT, with what to do about it. */
void bed_db_set_damaged (GError **error, const char *path);

/* The first number of the first row; 0 when there is none, and when it cannot be asked. */
gint64 bed_db_ask (sqlite3 *db, const char *sql);

/* Runs @sql, one or more statements. */
gboolean bed_db_exec (sqlite3 *db, const char *sql, const char *doing, GError **error);

/* file.c: the farm file made, or opened after everything in it that is not ours was refused.
 * @read_only_why: why nothing can be written, or NULL; owned by the caller. */
sqlite3 *bed_file_open (const char *path, char **read_only_why, GError **error);

/* Where a new farm is built, beside @path, until it is whole: owned by the caller. EXISTS when
 * @path, or a journal without its farm, is there. */
char *bed_file_begin (const char *path, GError **error);

/* The names in the folder of @path are on disk; FALSE with errno. */
gboolean bed_file_sync_folder_of (const char *path);

/* The whole farm at @built takes the name @path, on disk when this returns. */
gboolean bed_file_finish (const char *built, const char *path, GError **error);

/* schema.c */
#define BED_APPLICATION_ID 0x4245444c /* "BEDL" */

/* The version this program writes: as many as data/schema/tables.sql has. */
int bed_schema_get_newest (void);
gboolean bed_schema_create (sqlite3 *db, GError **error);

/* Whether everything in the file is what Bedlog of @version writes, by name and text; of a
 * version yet unknown, that there are tables and their indices alone. */
gboolean bed_schema_compare (sqlite3 *db, int version, const char *path, GError **error);

/* Steps up to the newest; compare first. The copy of it as it was is the caller's. */
gboolean bed_schema_step_up (sqlite3 *db, GError **error);
gboolean bed_schema_attach_views (sqlite3 *db, GError **error);

/* The field that stands in column @column of the stored rows of @kind, where the id is 0; NULL:
 * there is no such column. Columns stand in the order in which versions brought them, in the file
 * as in its history; the table of fields in the order in which they read best. */
const BedField *bed_schema_get_field (BedKind kind, guint column);

/* Writes a row of @kind: ?1 is its id, ?2 and on its fields as the table of fields has them. */
const char *bed_schema_get_insert (BedKind kind);

/* Binds @record to that, or to a statement with the first of its parameters alone. What SQLite
 * said. */
int bed_schema_bind (sqlite3_stmt *stmt, BedRecord *record);

/* The views of slow.sql, for a check; gone again after it. */
gboolean bed_schema_attach_slow_views (sqlite3 *db, GError **error);
void bed_schema_detach_slow_views (sqlite3 *db);

/* given.c: the settings and the woods and mushrooms a new farm starts with. */
gboolean bed_given_add (BedFarm *farm, BedRecord *settings, GError **error);

/* The SQL functions of data/schema/views.sql: bed_today (), bed_now (),
 * bed_season (date), bed_week (date); of the rules: bed_mass (mg), in words; of what is
 * due: bed_dry_days (), bed_dry_advice () (BedDrySpell), bed_dry_words (), the first two NULL
 * where rain is not written down; of the filters of lists: bed_stage_word (key), bed_choice_word
 * (kind, field, key), the word as it is read; bed_found (words, part). They are told to @db,
 * which need not be the file of @farm: a connexion of another program asks them, too. */
void bed_functions_register (sqlite3 *db, BedFarm *farm);
