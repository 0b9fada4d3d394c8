#include "model/farm/statements.h"

typedef struct
{
  char *sql;
  sqlite3_stmt *stmt;
  gboolean kept;
  GList link; /* in recent, unless it is kept */
} Statement;

struct _BedStatements
{
  sqlite3 *db;
  GHashTable *by_text; /* SQL -> Statement */
  GQueue recent;       /* the last one asked for first */
};

static void
statement_free (Statement *statement)
{
  sqlite3_finalize (statement->stmt);
  g_free (statement->sql);
  g_free (statement);
}

static void
drop_oldest (BedStatements *self)
{
  GList *link = self->recent.tail;

  while (link && sqlite3_stmt_busy (((Statement *) link->data)->stmt))
    link = link->prev;
  if (!link)
    return;
  g_queue_unlink (&self->recent, link);
  g_hash_table_remove (self->by_text, ((Statement *) link->data)->sql);
}

static Statement *
prepare (BedStatements *self, const char *sql)
{
  sqlite3_stmt *stmt = NULL;

  if (sqlite3_prepare_v3 (self->db, sql, -1, SQLITE_PREPARE_PERSISTENT, &stmt, NULL) != SQLITE_OK)
    return NULL;
  if (g_hash_table_size (self->by_text) >= BED_STATEMENTS_MOST)
    drop_oldest (self);
  Statement *statement = g_new0 (Statement, 1);
  statement->sql = g_strdup (sql);
  statement->stmt = stmt;
  statement->link.data = statement;
  g_hash_table_insert (self->by_text, statement->sql, statement);
  g_queue_push_head_link (&self->recent, &statement->link);
  return statement;
}

static Statement *
find (BedStatements *self, const char *sql)
{
  Statement *statement = g_hash_table_lookup (self->by_text, sql);

  return statement ? statement : prepare (self, sql);
}

BedStatements *
bed_statements_new (sqlite3 *db)
{
  BedStatements *self = g_new0 (BedStatements, 1);

  self->db = db;
  self->by_text
      = g_hash_table_new_full (g_str_hash, g_str_equal, NULL, (GDestroyNotify) statement_free);
  return self;
}

void
bed_statements_free (BedStatements *self)
{
  if (!self)
    return;
  g_hash_table_unref (self->by_text);
  g_free (self);
}

sqlite3_stmt *
bed_statements_get (BedStatements *self, const char *sql)
{
  Statement *statement = find (self, sql);

  if (!statement)
    return NULL;
  if (!statement->kept)
    {
      g_queue_unlink (&self->recent, &statement->link);
      g_queue_push_head_link (&self->recent, &statement->link);
    }
  sqlite3_reset (statement->stmt);
  sqlite3_clear_bindings (statement->stmt);
  return statement->stmt;
}

void
bed_statements_keep (BedStatements *self, const char *sql)
{
  Statement *statement = find (self, sql);

  if (!statement || statement->kept)
    return;
  statement->kept = TRUE;
  g_queue_unlink (&self->recent, &statement->link);
}

guint
bed_statements_count (BedStatements *self)
{
  return g_hash_table_size (self->by_text);
}
