/* The history of a damaged farm: what it still tells of lost records, and how much of it fits
 * the records that were saved. */
#include "model/check/rescue_private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "model/check/check_private.h"
#include "model/farm/changeset.h"
#include "model/farm/farm_private.h"
#include "model/farm/kinds.h"

/* --- records out of changes ---------------------------------------------------------------- */

static void
recall_row (const BedChangesetRow *row, gpointer data)
{
  GHashTable *recalled = ((GHashTable **) data)[row->kind];
  BedRecord *record = g_hash_table_lookup (recalled, &row->id);

  if (row->operation == SQLITE_DELETE)
    {
      g_hash_table_remove (recalled, &row->id);
      return;
    }
  if (!record && row->operation == SQLITE_UPDATE)
    return; /* what it changed is not known whole */
  if (!record)
    {
      record = bed_record_new (row->kind);
      bed_record_set_id (record, row->id);
      g_hash_table_insert (recalled, g_memdup2 (&row->id, sizeof row->id), record);
    }
  bed_changeset_row_read (row, sqlite3changeset_new, record);
}

static void
recall_change (GHashTable **recalled, const BedRescueChange *change)
{
  gsize size;
  gconstpointer data = g_bytes_get_data (change->changeset, &size);
  BedChangeset changeset = { (void *) data, (int) MIN (size, G_MAXINT32) };

  if (bed_changeset_is_sound (&changeset))
    bed_changeset_walk (&changeset, recall_row, recalled);
}

static void
take_recalled (BedRescueRead *read, BedKind kind, GHashTable *recalled)
{
  GHashTableIter iter;
  gpointer id, record;

  g_hash_table_iter_init (&iter, recalled);
  while (g_hash_table_iter_next (&iter, &id, &record))
    {
      if (g_hash_table_contains (read->records[kind], id))
        continue;
      g_hash_table_insert (read->records[kind], g_memdup2 (id, sizeof (gint64)),
                           g_object_ref (record));
      g_hash_table_remove (read->missing[kind], id);
      bed_rescue_note (
          read->notes, BED_RESCUE_CHANGED, kind, *(gint64 *) id, "%s",
          read->changes_damaged ? _ (
              "Its page is damaged; it is taken from the history, which is damaged too: it may be "
              "older than it was, or had been removed.")
                                : _ ("Its page is damaged; it is taken from the history."));
    }
}

void
bed_rescue_recall (BedRescueRead *read)
{
  GHashTable *recalled[BED_N_KINDS];

  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    recalled[kind] = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, g_object_unref);
  for (guint i = 0; i < read->changes->len; i++)
    recall_change (recalled, read->changes->pdata[i]);
  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    {
      if (read->damaged[kind] || g_hash_table_size (read->missing[kind]) > 0)
        take_recalled (read, kind, recalled[kind]);
      g_hash_table_unref (recalled[kind]);
    }
}

/* --- the history kept ---------------------------------------------------------------------- */

static gboolean
insert (sqlite3 *db, const BedRescueChange *change)
{
  sqlite3_stmt *stmt = NULL;
  gsize size;
  const void *data = g_bytes_get_data (change->changeset, &size);

  sqlite3_prepare_v2 (db, "INSERT INTO change VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)", -1, &stmt,
                      NULL);
  sqlite3_bind_int64 (stmt, 1, change->id);
  sqlite3_bind_text (stmt, 2, change->at, -1, SQLITE_STATIC);
  sqlite3_bind_text (stmt, 3, change->who, -1, SQLITE_STATIC);
  sqlite3_bind_text (stmt, 4, change->sentence, -1, SQLITE_STATIC);
  sqlite3_bind_text (stmt, 5, change->role, -1, SQLITE_STATIC);
  sqlite3_bind_blob64 (stmt, 6, data ? data : "", size, SQLITE_STATIC);
  if (change->undoes)
    sqlite3_bind_int64 (stmt, 7, change->undoes);
  if (change->undone_by)
    sqlite3_bind_int64 (stmt, 8, change->undone_by);
  gboolean done = sqlite3_step (stmt) == SQLITE_DONE;
  sqlite3_finalize (stmt);
  return done;
}

static const BedRescueChange *
find (GPtrArray *changes, gint64 id)
{
  for (guint i = 0; i < changes->len; i++)
    if (((BedRescueChange *) changes->pdata[i])->id == id)
      return changes->pdata[i];
  return NULL;
}

/* What a change says of another must be true of one that is kept. */
static gboolean
hangs_together (GPtrArray *changes, const BedRescueChange *change, gint64 after)
{
  const BedRescueChange *other = change->undoes ? find (changes, change->undoes) : NULL;
  const BedRescueChange *undo = change->undone_by ? find (changes, change->undone_by) : NULL;
  gboolean is_do = strcmp (change->role, "do") == 0, is_undo = strcmp (change->role, "undo") == 0;

  if (change->undone_by
      && (!undo || undo->undoes != change->id || undo->id <= change->id
          || strcmp (undo->role, is_do ? "undo" : "redo") != 0 || (!is_do && !is_undo)))
    return FALSE;
  if (is_do)
    return change->undoes == 0;
  if (!other || other->id <= after || other->id >= change->id)
    return FALSE;
  return is_undo ? strcmp (other->role, "do") == 0
                       && (change->undone_by || other->undone_by == change->id)
                 : strcmp (change->role, "redo") == 0 && strcmp (other->role, "undo") == 0
                       && other->undone_by == change->id;
}

/* The newest change that does not fit those after it; 0: they all do. */
static gint64
newest_loose (GPtrArray *changes, gint64 after)
{
  gint64 loose = after;
  gboolean more = TRUE;

  while (more)
    {
      more = FALSE;
      for (guint i = changes->len; i > 0 && !more; i--)
        {
          const BedRescueChange *change = changes->pdata[i - 1];
          if (change->id > loose && !hangs_together (changes, change, loose))
            {
              loose = change->id;
              more = TRUE;
            }
        }
    }
  return loose;
}

/* All changes after @after into @db and back out of the records: to try, within a savepoint. */
static gboolean
try_back (sqlite3 *db, const BedRescueRead *read, gint64 after, gint64 *failed)
{
  BedWalk walk = { 0 };

  for (guint i = 0; i < read->changes->len; i++)
    {
      const BedRescueChange *change = read->changes->pdata[i];
      if (change->id > after && !insert (db, change))
        return FALSE;
    }
  gboolean walked = bed_check_walk_back (db, NULL, &walk, NULL);
  *failed = walk.failed;
  return walked;
}

/* A change that brings every record there is now; nothing when there is none. */
static gboolean
take_all (sqlite3 *db, BedChangeset *changeset)
{
  sqlite3_session *session = NULL;
  gboolean done = sqlite3_exec (db, "ATTACH ':memory:' AS empty", NULL, NULL, NULL) == SQLITE_OK
                  && sqlite3session_create (db, "main", &session) == SQLITE_OK;

  for (BedKind kind = 0; kind < BED_N_KINDS && done; kind++)
    {
      const char *table = bed_kind_get_info (kind)->name;
      const char *ask = "SELECT sql FROM main.sqlite_schema WHERE name = ?1";
      g_autoptr (GString) sql = g_string_new (NULL);
      sqlite3_stmt *stmt = NULL;
      done = sqlite3_prepare_v2 (db, ask, -1, &stmt, NULL) == SQLITE_OK
             && sqlite3_bind_text (stmt, 1, table, -1, SQLITE_STATIC) == SQLITE_OK
             && sqlite3_step (stmt) == SQLITE_ROW;
      if (done)
        g_string_append (sql, (const char *) sqlite3_column_text (stmt, 0));
      sqlite3_finalize (stmt);
      g_string_replace (sql, "CREATE TABLE ", "CREATE TABLE empty.", 1);
      done = done && sqlite3_exec (db, sql->str, NULL, NULL, NULL) == SQLITE_OK
             && sqlite3session_attach (session, table) == SQLITE_OK
             && sqlite3session_diff (session, "empty", table, NULL) == SQLITE_OK;
    }
  done = done
         && sqlite3session_changeset (session, &changeset->size, &changeset->data) == SQLITE_OK;
  if (session)
    sqlite3session_delete (session);
  return done;
}

/* The newest change that cannot be taken back from the records as they were saved; then a copy
 * from which all after it are. */
static sqlite3 *
walk_to_the_oldest (sqlite3 *db, const BedRescueRead *read, gint64 *after)
{
  for (;;)
    {
      sqlite3 *copy = bed_check_copy (db, "", NULL);
      gint64 failed = 0;
      *after = newest_loose (read->changes, *after);
      if (copy
          && sqlite3_exec (copy, "BEGIN; PRAGMA defer_foreign_keys = ON", NULL, NULL, NULL)
                 == SQLITE_OK
          && try_back (copy, read, *after, &failed) && !failed
          && sqlite3_exec (copy, "COMMIT", NULL, NULL, NULL) == SQLITE_OK)
        return copy;
      sqlite3_close_v2 (copy);
      if (!failed)
        return NULL;
      *after = failed;
    }
}

static gint64
first_id (GPtrArray *changes, gint64 after)
{
  if (after > 0)
    return after; /* of the one that is not kept */
  return changes->len ? ((BedRescueChange *) changes->pdata[0])->id - 1 : 1;
}

gint64
bed_rescue_write_history (sqlite3 *db, const BedRescueRead *read, const char *from, GError **error)
{
  gint64 after = 0, kept = 0;
  sqlite3 *copy = walk_to_the_oldest (db, read, &after);
  g_auto (BedChangeset) all = { 0 };
  g_autoptr (GDateTime) now = g_date_time_new_now_local ();
  BedRescueChange first = { 0 };
  gboolean done = copy && take_all (copy, &all);

  sqlite3_close_v2 (copy);
  if (done && all.size > 0)
    {
      first.id = MAX (first_id (read->changes, after), 1);
      first.at = g_date_time_format (now, "%Y-%m-%dT%H:%M");
      first.who = g_strdup ("Bedlog");
      /* Translators: the name of a file. */
      first.sentence = g_strdup_printf (_ ("Rescued what could be read of %s"), from);
      first.role = "do";
      first.changeset = g_bytes_new (all.data, all.size);
      done = insert (db, &first);
      g_free (first.at);
      g_free (first.who);
      g_free (first.sentence);
      g_bytes_unref (first.changeset);
    }
  for (guint i = 0; i < read->changes->len && done; i++)
    {
      const BedRescueChange *change = read->changes->pdata[i];
      if (change->id <= after)
        continue;
      done = insert (db, change);
      kept++;
    }
  if (!done)
    bed_db_set_error (db, error, _ ("writing the history"), _ ("the new farm"));
  return done ? kept : -1;
}
