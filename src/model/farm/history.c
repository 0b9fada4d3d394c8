#include "model/farm/history.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "model/farm/changeset.h"
#include "model/farm/farm_private.h"
#include "model/farm/farm_watch.h"
#include "model/farm/kind_words.h"
#include "model/farm/kinds.h"
#include "model/farm/query.h"
#include "model/farm/reverse_rules.h"
#include "model/farm/value.h"

/* The newest work not undone; the newest undo not redone with no work after it. The
 * first change of all made the farm: taking it back would leave a file that cannot be
 * opened. */
#define UNDO_SQL                                                                                   \
  "SELECT id FROM change WHERE role = 'do' AND undone_by IS NULL"                                  \
  " AND id > (SELECT min (id) FROM change) ORDER BY id DESC"
#define REDO_SQL                                                                                   \
  "SELECT id FROM change WHERE role = 'undo' AND undone_by IS NULL"                                \
  " AND id > coalesce ((SELECT max (id) FROM change WHERE role = 'do'), 0) ORDER BY id DESC"

/* Work that is in force and may be taken back, by its id. */
#define STANDS_SQL                                                                                 \
  "SELECT id FROM change WHERE id = ?1 AND role = 'do' AND undone_by IS NULL"                      \
  " AND id > (SELECT min (id) FROM change)"

static void
change_free (BedChange *change)
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
  g_autofree char *sentence = bed_query_next (q) ? g_strdup (bed_query_text (q, 0)) : NULL;
  return bed_query_finish (q, NULL) ? g_steal_pointer (&sentence) : NULL;
}

/* FALSE when there is no memory for it. */
static gboolean
copy_blob (sqlite3_stmt *row, BedChangeset *changeset)
{
  const void *blob = sqlite3_column_blob (row, 0);

  changeset->size = sqlite3_column_bytes (row, 0);
  changeset->data = sqlite3_malloc (MAX (changeset->size, 1));
  if (!changeset->data || (changeset->size > 0 && !blob))
    return FALSE;
  if (changeset->size > 0)
    memcpy (changeset->data, blob, changeset->size);
  return TRUE;
}

static gboolean
load_changeset (BedFarm *farm, gint64 change, BedChangeset *changeset, GError **error)
{
  sqlite3_stmt *stmt
      = bed_farm_statement (farm, "SELECT changeset FROM change WHERE id = ?1", error);

  if (!stmt)
    return FALSE;
  sqlite3_bind_int64 (stmt, 1, change);
  int status = bed_farm_step (farm, stmt);
  gboolean found = status == SQLITE_ROW && copy_blob (stmt, changeset);
  if (status == SQLITE_DONE)
    g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_NOT_FOUND,
                 _ ("That change is not in the history."));
  else if (!found)
    bed_db_set_status_error (bed_farm_get_db (farm), status == SQLITE_ROW ? SQLITE_NOMEM : status,
                             error, _ ("reading the history"), bed_farm_get_path (farm));
  sqlite3_reset (stmt);
  if (found && !bed_changeset_is_sound (changeset))
    return bed_farm_refuse (
        error, BED_FARM_ERROR_CORRUPT,
        _ ("What change %lld did is not stored as Bedlog stores it: it cannot be read or taken "
           "back. The records themselves are as they are."),
        (long long) change);
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
  gboolean done = bed_farm_step (farm, stmt) == SQLITE_DONE;
  if (!done)
    bed_farm_set_error (farm, error, _ ("writing the history"));
  sqlite3_reset (stmt);
  return done;
}

/* In a transaction: applies the reverse of @change and records that as @role; gives the id of
 * that, or 0. A redo is the reverse of an undo, and puts the work itself back in force. */
static gint64
reverse (BedFarm *farm, gint64 change, const char *role, guint64 *kinds, GError **error)
{
  g_auto (BedChangeset) done = { 0 };
  g_auto (BedChangeset) inverted = { 0 };
  g_autofree char *sentence = sentence_of (farm, change);
  BedChangeEntry entry = { sentence, role, change };

  if (!load_changeset (farm, change, &done, error)
      || !bed_changeset_invert (farm, &done, &inverted, error))
    return 0;
  g_autoptr (GPtrArray) touched = bed_reverse_rules_read (farm, &inverted);
  if (!bed_changeset_apply (farm, &inverted, error)
      || !bed_reverse_rules_check (farm, touched, error))
    return 0;
  *kinds = bed_changeset_kinds (&inverted);
  gint64 id = bed_changeset_record (farm, &entry, &inverted, error);
  if (!id || !mark (farm, change, id, error))
    return 0;
  if (strcmp (role, "redo") != 0)
    return id;
  gint64 work;
  return bed_query_one (farm, "SELECT undoes FROM change WHERE id = ?1", change, &work, error)
                 && mark (farm, work, 0, error)
             ? id
             : 0;
}

/* What is asked for: the newest to undo or redo, or one that was named. */
typedef struct
{
  const char *role;
  const char *newest; /* SQL, or NULL: any may be taken back */
  gint64 change;      /* 0: whichever is the newest */
} Step;

static const Step undo_newest = { "undo", UNDO_SQL, 0 };
static const Step redo_newest = { "redo", REDO_SQL, 0 };

/* In a transaction: the change to reverse, or 0. */
static gint64
find_change (BedFarm *farm, const Step *step, GError **error)
{
  gboolean undo = strcmp (step->role, "undo") == 0;
  gint64 newest;

  if (!bed_query_one (farm, step->newest ? step->newest : STANDS_SQL, step->change, &newest, error))
    return 0;
  if (step->newest && !bed_farm_check_seen (farm, error))
    return 0;
  if (!step->newest && !newest)
    g_set_error_literal (error, BED_FARM_ERROR, BED_FARM_ERROR_CONFLICT,
                         _ ("That is taken back already."));
  else if (step->change && newest != step->change)
    g_set_error_literal (error, BED_FARM_ERROR, BED_FARM_ERROR_CONFLICT,
                         undo ? _ ("That is no longer the last change. The history shows what came "
                                   "after it, and takes back any of it.")
                              : _ ("That is no longer the next to redo: something else was done "
                                   "since."));
  else if (!newest)
    g_set_error_literal (error, BED_FARM_ERROR, BED_FARM_ERROR_NOTHING,
                         undo ? _ ("There is nothing to undo.") : _ ("There is nothing to redo."));
  else
    return newest;
  return 0;
}

static gboolean
take_step (BedFarm *farm, const Step *step, char **sentence, GError **error)
{
  g_autoptr (GError) why = NULL;
  guint64 kinds = 0;
  gint64 change, id;

  if (!bed_farm_check_writable (farm, error) || !bed_farm_begin_writing (farm, error))
    return FALSE;
  change = find_change (farm, step, &why);
  g_autofree char *text = sentence_of (farm, change);
  id = change ? reverse (farm, change, step->role, &kinds, &why) : 0;
  if (!id || !bed_farm_end_writing (farm, id, kinds, &why))
    {
      /* What could not be asked says more than what came of it. */
      if (bed_farm_check_trouble (farm, error))
        g_propagate_error (error, g_steal_pointer (&why));
      bed_farm_give_up_writing (farm);
      bed_farm_look_again (farm);
      return FALSE;
    }
  bed_farm_tell (farm);
  if (sentence)
    *sentence = g_steal_pointer (&text);
  return TRUE;
}

gint64
bed_history_find_undo (BedFarm *farm)
{
  g_return_val_if_fail (BED_IS_FARM (farm), 0);
  gint64 change;
  return bed_query_one (farm, UNDO_SQL, 0, &change, NULL) ? change : 0;
}

gint64
bed_history_find_redo (BedFarm *farm)
{
  g_return_val_if_fail (BED_IS_FARM (farm), 0);
  gint64 change;
  return bed_query_one (farm, REDO_SQL, 0, &change, NULL) ? change : 0;
}

char *
bed_history_dup_sentence (BedFarm *farm, gint64 change)
{
  g_return_val_if_fail (BED_IS_FARM (farm), NULL);
  return sentence_of (farm, change);
}

gboolean
bed_history_undo (BedFarm *farm, char **sentence, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm), FALSE);
  return take_step (farm, &undo_newest, sentence, error);
}

gboolean
bed_history_redo (BedFarm *farm, char **sentence, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm), FALSE);
  return take_step (farm, &redo_newest, sentence, error);
}

gboolean
bed_history_undo_named (BedFarm *farm, gint64 change, char **sentence, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && change != 0, FALSE);
  const Step step = { "undo", UNDO_SQL, change };

  return take_step (farm, &step, sentence, error);
}

gboolean
bed_history_redo_named (BedFarm *farm, gint64 change, char **sentence, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && change != 0, FALSE);
  const Step step = { "redo", REDO_SQL, change };

  return take_step (farm, &step, sentence, error);
}

gboolean
bed_history_put_back (BedFarm *farm, gint64 change, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm), FALSE);
  const Step step = { "undo", NULL, change };

  return take_step (farm, &step, NULL, error);
}

gboolean
bed_history_try_put_back (BedFarm *farm, gint64 change, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm), FALSE);
  const Step step = { "undo", NULL, change };
  g_autoptr (GError) why = NULL;
  guint64 kinds = 0;

  if (!bed_farm_check_writable (farm, error) || !bed_farm_begin_trying (farm, error))
    return FALSE;
  gint64 found = find_change (farm, &step, &why);
  gboolean done = found && reverse (farm, found, step.role, &kinds, &why);
  /* What could not be asked says more than what came of it. */
  if (!done && bed_farm_check_trouble (farm, error))
    g_propagate_error (error, g_steal_pointer (&why));
  bed_farm_give_up_writing (farm);
  return done;
}

static BedChangeRole
role_from_key (const char *key)
{
  return strcmp (key, "undo") == 0   ? BED_CHANGE_UNDO
         : strcmp (key, "redo") == 0 ? BED_CHANGE_REDO
                                     : BED_CHANGE_DO;
}

GPtrArray *
bed_history_list (BedFarm *farm, guint most, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm), NULL);
  g_autoptr (GPtrArray) list = g_ptr_array_new_with_free_func ((GDestroyNotify) change_free);
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
  return bed_query_finish (q, error) ? g_steal_pointer (&list) : NULL;
}

/* --- differences ------------------------------------------------------------------- */

/* "log 26A-017-K"; the key as the row of the change has it, else as it is today. */
static char *
record_name (BedFarm *farm, BedKind kind, gint64 id, BedRecord *row)
{
  const BedKindInfo *info = bed_kind_get_info (kind);
  g_autofree char *today = info->key ? bed_farm_dup_name (farm, kind, id) : NULL;
  const char *then = bed_record_get_name (row);
  const char *name = then ? then : today;

  return bed_kind_dup_named (kind, name);
}

typedef struct
{
  BedFarm *farm;
  GPtrArray *list;
} Differences;

static void
add_row (const BedChangesetRow *row, gpointer data)
{
  const Differences *all = data;
  const BedKindInfo *info = bed_kind_get_info (row->kind);
  g_autoptr (BedRecord) before = bed_record_new (row->kind);
  g_autoptr (BedRecord) after = bed_record_new (row->kind);

  if (row->operation != SQLITE_INSERT)
    bed_changeset_row_read (row, sqlite3changeset_old, before);
  if (row->operation != SQLITE_DELETE)
    bed_changeset_row_read (row, sqlite3changeset_new, after);
  g_autofree char *name = record_name (all->farm, row->kind, row->id,
                                       row->operation == SQLITE_DELETE ? before : after);
  for (guint i = 0; i < info->n_fields; i++)
    {
      const char *field = info->fields[i].name;
      if (!bed_record_has (before, field) && !bed_record_has (after, field))
        continue;
      BedDifference *difference = g_new0 (BedDifference, 1);
      difference->record = g_strdup (name);
      difference->field = g_strdup (_ (info->fields[i].label));
      if (bed_record_has (before, field))
        difference->from = bed_value_dup_sentence (all->farm, before, field);
      if (bed_record_has (after, field))
        difference->to = bed_value_dup_sentence (all->farm, after, field);
      g_ptr_array_add (all->list, difference);
    }
}

GPtrArray *
bed_history_differences (BedFarm *farm, gint64 change)
{
  g_return_val_if_fail (BED_IS_FARM (farm), NULL);
  Differences all = { farm, g_ptr_array_new_with_free_func ((GDestroyNotify) difference_free) };
  g_auto (BedChangeset) changeset = { 0 };

  if (load_changeset (farm, change, &changeset, NULL))
    bed_changeset_walk (&changeset, add_row, &all);
  return all.list;
}
