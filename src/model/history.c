#include "model/history.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "model/changeset.h"
#include "model/farm_private.h"
#include "model/query.h"
#include "model/value.h"

/* The newest work not undone; the newest undo not redone with no work after it. The
 * first change of all made the farm: taking it back would leave a file that cannot be
 * opened. */
#define UNDO_SQL                                                                               \
  "SELECT id FROM change WHERE role = 'do' AND undone_by IS NULL"                              \
  " AND id > (SELECT min (id) FROM change) ORDER BY id DESC"
#define REDO_SQL                                                                               \
  "SELECT id FROM change WHERE role = 'undo' AND undone_by IS NULL"                            \
  " AND id > coalesce ((SELECT max (id) FROM change WHERE role = 'do'), 0) ORDER BY id DESC"

void
bed_change_free (BedChange *change)
{
  g_free (change->at);
  g_free (change->who);
  g_free (change->sentence);
  g_free (change);
}

static void
difference_free (BedDifference *difference)
{
  g_free (difference->record);
  g_free (difference->field);
  g_free (difference->from);
  g_free (difference->to);
  g_free (difference);
}

static char *
sentence_of (BedFarm *farm, gint64 change)
{
  g_autoptr (BedQuery) q = bed_query_new (farm, "SELECT sentence FROM change WHERE id = ?1");

  bed_query_bind_int (q, 1, change);
  return bed_query_next (q) ? g_strdup (bed_query_text (q, 0)) : NULL;
}

static gboolean
load_changeset (BedFarm *farm, gint64 change, BedChangeset *changeset, GError **error)
{
  sqlite3_stmt *stmt
      = bed_farm_statement (farm, "SELECT changeset FROM change WHERE id = ?1", error);

  if (!stmt)
    return FALSE;
  sqlite3_bind_int64 (stmt, 1, change);
  gboolean found = sqlite3_step (stmt) == SQLITE_ROW;
  if (found)
    {
      changeset->size = sqlite3_column_bytes (stmt, 0);
      changeset->data = sqlite3_malloc (MAX (changeset->size, 1));
      if (changeset->size > 0)
        memcpy (changeset->data, sqlite3_column_blob (stmt, 0), changeset->size);
    }
  else
    g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_NOT_FOUND,
                 _ ("That change is not in the history."));
  sqlite3_reset (stmt);
  return found;
}

static gboolean
mark (BedFarm *farm, gint64 change, gint64 undone_by, GError **error)
{
  sqlite3_stmt *stmt
      = bed_farm_statement (farm, "UPDATE change SET undone_by = ?2 WHERE id = ?1", error);

  if (!stmt)
    return FALSE;
  sqlite3_bind_int64 (stmt, 1, change);
  if (undone_by)
    sqlite3_bind_int64 (stmt, 2, undone_by);
  gboolean done = sqlite3_step (stmt) == SQLITE_DONE;
  if (!done)
    bed_farm_set_error (farm, error, _ ("writing the history"));
  sqlite3_reset (stmt);
  return done;
}

/* In a transaction: applies the reverse of @change and records that as @role. A
 * redo is the reverse of an undo, and puts the work itself back in force. */
static gboolean
reverse (BedFarm *farm, gint64 change, const char *role, guint64 *kinds, GError **error)
{
  g_auto (BedChangeset) done = { 0 };
  g_auto (BedChangeset) inverted = { 0 };
  g_autofree char *sentence = sentence_of (farm, change);
  BedChangeEntry entry = { sentence, role, change };

  if (!load_changeset (farm, change, &done, error)
      || !bed_changeset_invert (farm, &done, &inverted, error)
      || !bed_changeset_apply (farm, &inverted, error))
    return FALSE;
  *kinds = bed_changeset_kinds (&inverted);
  gint64 id = bed_changeset_record (farm, &entry, &inverted, error);
  if (!id || !mark (farm, change, id, error))
    return FALSE;
  if (strcmp (role, "redo") != 0)
    return TRUE;
  gint64 work = bed_query_one (farm, "SELECT undoes FROM change WHERE id = ?1", change);
  return mark (farm, work, 0, error);
}

static gboolean
reverse_in_transaction (BedFarm *farm, gint64 change, const char *role, GError **error)
{
  const char *why = bed_farm_get_read_only_why (farm);
  sqlite3 *db = bed_farm_get_db (farm);
  guint64 kinds = 0;

  if (why)
    {
      g_set_error_literal (error, BED_FARM_ERROR, BED_FARM_ERROR_READ_ONLY, why);
      return FALSE;
    }
  if (!bed_db_exec (db, "BEGIN IMMEDIATE", _ ("beginning the change"), error))
    return FALSE;
  if (!reverse (farm, change, role, &kinds, error)
      || !bed_db_exec (db, "COMMIT", _ ("writing the change"), error))
    {
      sqlite3_exec (db, "ROLLBACK", NULL, NULL, NULL);
      return FALSE;
    }
  bed_farm_emit_changed (farm, kinds);
  return TRUE;
}

static gboolean
step (BedFarm *farm, const char *sql, const char *role, char **sentence, GError **error)
{
  gint64 change = bed_query_one (farm, sql, 0);

  if (!change)
    {
      g_set_error_literal (error, BED_FARM_ERROR, BED_FARM_ERROR_NOTHING,
                           strcmp (role, "undo") == 0 ? _ ("There is nothing to undo.")
                                                      : _ ("There is nothing to redo."));
      return FALSE;
    }
  g_autofree char *text = sentence_of (farm, change);
  if (!reverse_in_transaction (farm, change, role, error))
    return FALSE;
  if (sentence)
    *sentence = g_steal_pointer (&text);
  return TRUE;
}

char *
bed_history_dup_undo_sentence (BedFarm *farm)
{
  g_return_val_if_fail (BED_IS_FARM (farm), NULL);
  return sentence_of (farm, bed_query_one (farm, UNDO_SQL, 0));
}

char *
bed_history_dup_redo_sentence (BedFarm *farm)
{
  g_return_val_if_fail (BED_IS_FARM (farm), NULL);
  return sentence_of (farm, bed_query_one (farm, REDO_SQL, 0));
}

gboolean
bed_history_undo (BedFarm *farm, char **sentence, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm), FALSE);
  return step (farm, UNDO_SQL, "undo", sentence, error);
}

gboolean
bed_history_redo (BedFarm *farm, char **sentence, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm), FALSE);
  return step (farm, REDO_SQL, "redo", sentence, error);
}

gboolean
bed_history_put_back (BedFarm *farm, gint64 change, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm), FALSE);

  if (!bed_query_one (farm,
                      "SELECT role = 'do' AND undone_by IS NULL"
                      " AND id > (SELECT min (id) FROM change) FROM change WHERE id = ?1",
                      change))
    {
      g_set_error_literal (error, BED_FARM_ERROR, BED_FARM_ERROR_CONFLICT,
                           _ ("That is taken back already."));
      return FALSE;
    }
  return reverse_in_transaction (farm, change, "undo", error);
}

static BedChangeRole
role_from_key (const char *key)
{
  return strcmp (key, "undo") == 0   ? BED_CHANGE_UNDO
         : strcmp (key, "redo") == 0 ? BED_CHANGE_REDO
                                     : BED_CHANGE_DO;
}

GPtrArray *
bed_history_list (BedFarm *farm, guint most)
{
  g_return_val_if_fail (BED_IS_FARM (farm), NULL);
  GPtrArray *list = g_ptr_array_new_with_free_func ((GDestroyNotify) bed_change_free);
  g_autoptr (BedQuery) q
      = bed_query_new (farm, "SELECT id, at, who, sentence, undone_by IS NOT NULL, undoes,"
                             " role FROM change ORDER BY id DESC LIMIT ?1");

  bed_query_bind_int (q, 1, most ? (gint64) most : -1);
  while (bed_query_next (q))
    {
      BedChange *change = g_new0 (BedChange, 1);
      change->id = bed_query_int (q, 0);
      change->at = g_strdup (bed_query_text (q, 1));
      change->who = g_strdup (bed_query_text (q, 2));
      change->sentence = g_strdup (bed_query_text (q, 3));
      change->undone = bed_query_int (q, 4) != 0;
      change->undoes = bed_query_int (q, 5);
      change->role = role_from_key (bed_query_text (q, 6));
      g_ptr_array_add (list, change);
    }
  return list;
}

/* --- differences ------------------------------------------------------------------- */

static void
set_from_value (BedRecord *record, const BedField *field, sqlite3_value *value)
{
  if (!value || sqlite3_value_type (value) == SQLITE_NULL)
    bed_record_unset (record, field->name);
  else if (sqlite3_value_type (value) == SQLITE_INTEGER)
    bed_record_set_int (record, field->name, sqlite3_value_int64 (value));
  else
    bed_record_set_text (record, field->name, (const char *) sqlite3_value_text (value));
}

/* "log 26A-017-K"; the key as the row of the change has it, else as it is today. */
static char *
record_name (BedFarm *farm, BedKind kind, gint64 id, BedRecord *row)
{
  const BedKindInfo *info = bed_kind_get_info (kind);
  g_autofree char *today = info->key ? bed_farm_dup_name (farm, kind, id) : NULL;
  const char *then = info->key ? bed_record_get_text (row, info->key) : NULL;
  const char *name = then ? then : today;

  return name ? g_strdup_printf ("%s %s", _ (info->singular), name) : g_strdup (_ (info->singular));
}

static void
add_row (BedFarm *farm, sqlite3_changeset_iter *iter, GPtrArray *list)
{
  const char *table;
  int n_columns, operation, indirect;
  sqlite3_value *id = NULL;

  sqlite3changeset_op (iter, &table, &n_columns, &operation, &indirect);
  BedKind kind = bed_kind_from_name (table);
  if (kind >= BED_N_KINDS)
    return;
  const BedKindInfo *info = bed_kind_get_info (kind);
  g_autoptr (BedRecord) before = bed_record_new (kind);
  g_autoptr (BedRecord) after = bed_record_new (kind);
  if (operation == SQLITE_INSERT)
    sqlite3changeset_new (iter, 0, &id);
  else
    sqlite3changeset_old (iter, 0, &id);
  for (int c = 1; c < n_columns && c <= (int) info->n_fields; c++)
    {
      sqlite3_value *old = NULL, *new = NULL;
      if (operation != SQLITE_INSERT)
        sqlite3changeset_old (iter, c, &old);
      if (operation != SQLITE_DELETE)
        sqlite3changeset_new (iter, c, &new);
      set_from_value (before, &info->fields[c - 1], old);
      set_from_value (after, &info->fields[c - 1], new);
    }
  g_autofree char *name = record_name (farm, kind, sqlite3_value_int64 (id),
                                       operation == SQLITE_DELETE ? before : after);
  for (guint i = 0; i < info->n_fields; i++)
    {
      const char *field = info->fields[i].name;
      if (!bed_record_has (before, field) && !bed_record_has (after, field))
        continue;
      BedDifference *difference = g_new0 (BedDifference, 1);
      difference->record = g_strdup (name);
      difference->field = g_strdup (_ (info->fields[i].label));
      if (bed_record_has (before, field))
        difference->from = bed_value_dup_sentence (farm, before, field);
      if (bed_record_has (after, field))
        difference->to = bed_value_dup_sentence (farm, after, field);
      g_ptr_array_add (list, difference);
    }
}

GPtrArray *
bed_history_differences (BedFarm *farm, gint64 change)
{
  g_return_val_if_fail (BED_IS_FARM (farm), NULL);
  GPtrArray *list = g_ptr_array_new_with_free_func ((GDestroyNotify) difference_free);
  g_auto (BedChangeset) changeset = { 0 };
  sqlite3_changeset_iter *iter = NULL;

  if (!load_changeset (farm, change, &changeset, NULL)
      || sqlite3changeset_start (&iter, changeset.size, changeset.data) != SQLITE_OK)
    return list;
  while (sqlite3changeset_next (iter) == SQLITE_ROW)
    add_row (farm, iter, list);
  sqlite3changeset_finalize (iter);
  return list;
}
