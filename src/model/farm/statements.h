#pragma once

#include <glib.h>
#include <sqlite3.h>

/* The prepared statements of one connection, kept by their text so that none is prepared twice.
 * Model room only. */
typedef struct _BedStatements BedStatements;

/* So many are kept: more than the rules of every kind and the fields of a few together. Beyond
 * it the one that was not asked for the longest goes, never one that is running. */
#define BED_STATEMENTS_MOST 512

/* Borrows @db, and is freed before it is closed. */
BedStatements *bed_statements_new (sqlite3 *db);
void bed_statements_free (BedStatements *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedStatements, bed_statements_free)

/* Reset and without bindings; NULL when it cannot be prepared, and the connection knows why. It
 * is there as long as it runs, and until BED_STATEMENTS_MOST others were asked for. */
sqlite3_stmt *bed_statements_get (BedStatements *self, const char *sql);

/* Prepares what must be there when there is no memory to prepare it: it never goes. */
void bed_statements_keep (BedStatements *self, const char *sql);

guint bed_statements_count (BedStatements *self);
