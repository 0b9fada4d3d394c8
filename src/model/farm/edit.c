#include "model/farm/edit_private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "model/farm/changeset.h"
#include "model/farm/code.h"
#include "model/farm/edit_merge.h"
#include "model/farm/farm_private.h"
#include "model/farm/farm_watch.h"
#include "model/farm/kinds.h"
#include "model/farm/rates.h"
#include "model/farm/record_private.h"

static void
item_free (BedEditItem *item)
{
  g_clear_object (&item->record);
  g_clear_object (&item->before);
  g_free (item->name);
  g_free (item);
}

static gboolean
is_stored (BedFarm *farm, BedKind kind, gint64 id)
{
  g_autofree char *sql
      = g_strdup_printf ("SELECT 1 FROM \"%s\" WHERE id = ?1", bed_kind_get_info (kind)->name);
  sqlite3_stmt *stmt = bed_farm_statement (farm, sql, NULL);
  gboolean found = FALSE;

  if (stmt)
    {
      sqlite3_bind_int64 (stmt, 1, id);
      found = bed_farm_step (farm, stmt) == SQLITE_ROW;
      sqlite3_reset (stmt);
    }
  return found;
}

static BedEditItem *
item_for (BedEdit *self, BedKind kind, gint64 id)
{
  BedEditItem *item = g_hash_table_lookup (self->by_id, &id);

  if (item && item->kind == kind)
    return item;
  item = g_new0 (BedEditItem, 1);
  item->kind = kind;
  item->id = id;
  g_ptr_array_add (self->items, item);
  g_hash_table_insert (self->by_id, &item->id, item);
  return item;
}

/* --- writing ------------------------------------------------------------------- */

/* What has not changed is not named: SQLite would write every index of the table anew. NULL when
 * nothing has. */
static char *
update_sql (BedRecord *record)
{
  const BedKindInfo *info = bed_kind_get_info (bed_record_get_kind (record));
  GString *sql = g_string_new (NULL);
  guint some = 0;

  g_string_printf (sql, "UPDATE \"%s\" SET ", info->name);
  for (guint i = 0; i < info->n_fields; i++)
    if (bed_record_is_changed (record, info->fields[i].name))
      g_string_append_printf (sql, "%s\"%s\" = ?%u", some++ ? ", " : "", info->fields[i].name,
                              i + 2);
  g_string_append (sql, " WHERE id = ?1");
  return g_string_free (sql, some == 0);
}

static gboolean
step_once (BedEdit *self, BedEditItem *item, sqlite3_stmt *stmt, GError **error)
{
  int status = bed_farm_check_trouble (self->farm, error) ? bed_farm_step (self->farm, stmt)
                                                          : SQLITE_ERROR;
  gboolean done = status == SQLITE_DONE;

  if ((status & 0xff) == SQLITE_BUSY && self->purpose == BED_EDIT_TRY)
    {
      bed_farm_forget_trouble (self->farm);
      self->held = done = TRUE;
    }
  if (!done && item->record
      && sqlite3_extended_errcode (bed_farm_get_db (self->farm)) == SQLITE_CONSTRAINT_PRIMARYKEY)
    self->taken = item;
  if (!done && error && !*error)
    bed_farm_set_error (self->farm, error, _ ("writing a record"));
  sqlite3_reset (stmt);
  sqlite3_clear_bindings (stmt);
  return done;
}

/* Another program, its clock as wrong as ours, gave the same id since this one was given: what
 * is new gets one above all that are in the farm, and what refers to it follows. */
static void
renumber (BedEdit *self, BedEditItem *item)
{
  gint64 old = item->id, id = bed_farm_next_id (self->farm);

  for (guint i = 0; i < self->items->len; i++)
    {
      BedRecord *record = ((BedEditItem *) self->items->pdata[i])->record;
      const BedKindInfo *info = record ? bed_kind_get_info (bed_record_get_kind (record)) : NULL;
      for (guint f = 0; info && f < info->n_fields; f++)
        if (info->fields[f].type == BED_FIELD_REFERENCE && info->fields[f].refers == item->kind
            && bed_record_get_int (record, info->fields[f].name) == old)
          bed_record_set_int (record, info->fields[f].name, id);
    }
  g_hash_table_remove (self->by_id, &old);
  item->id = id;
  bed_record_give_id (item->record, id);
  g_hash_table_insert (self->by_id, &item->id, item);
}

/* The rate that the settings had, for the hours before today. */
static gboolean
keep_rate (BedEdit *self, BedEditItem *item, GError **error)
{
  g_autoptr (GError) why = NULL;
  sqlite3_stmt *stmt = bed_rates_keep (self->farm, item->before, item->record, &why);

  if (stmt)
    return step_once (self, item, stmt, error);
  if (why)
    g_propagate_error (error, g_steal_pointer (&why));
  return !why;
}

static gboolean
write_record (BedEdit *self, BedEditItem *item, GError **error)
{
  guint before = self->faults->len;

  if (bed_record_get_origin (item->record) == BED_RECORD_LOADED
      && !bed_edit_merge (self->farm, item->record, self->faults, error))
    return FALSE;
  g_clear_object (&item->before);
  if (item->stored)
    item->before = bed_farm_load (self->farm, item->kind, item->id, NULL);
  item->leans = self->rounds && bed_edit_leans (self, item);
  if (item->leans)
    return TRUE;
  bed_code_fill (self->farm, item->record);
  bed_rules_check_fields (self->farm, item->record, self->faults);
  bed_rules_spare (item->before, item->record, BED_SPARE_FIELDS, self->faults, before);
  bed_rules_check_unique (self->farm, item->record, self->faults);
  item->refused = bed_faults_find_error (self->faults, before) != NULL;
  if (item->refused || self->held)
    return TRUE;
  g_autofree char *update = item->stored ? update_sql (item->record) : NULL;
  const char *sql = item->stored ? update : bed_schema_get_insert (item->kind);
  if (!sql)
    return TRUE;
  sqlite3_stmt *stmt = bed_farm_statement (self->farm, sql, error);
  if (!stmt)
    return FALSE;
  if (bed_schema_bind (stmt, item->record) != SQLITE_OK)
    bed_farm_note_trouble (self->farm);
  return step_once (self, item, stmt, error)
         && (item->kind != BED_KIND_FARM || self->held || keep_rate (self, item, error));
}

static gboolean
remove_record (BedEdit *self, BedEditItem *item, GError **error)
{
  const BedKindInfo *info = bed_kind_get_info (item->kind);
  g_autofree char *sql = g_strdup_printf ("DELETE FROM \"%s\" WHERE id = ?1", info->name);
  sqlite3_stmt *stmt = bed_farm_statement (self->farm, sql, error);

  if (!stmt)
    return FALSE;
  if (item->dropped || self->held)
    return TRUE;
  g_free (item->name);
  item->name = bed_farm_dup_name (self->farm, item->kind, item->id);
  g_clear_object (&item->before);
  item->before = bed_farm_load (self->farm, item->kind, item->id, NULL);
  sqlite3_bind_int64 (stmt, 1, item->id);
  if (!step_once (self, item, stmt, error))
    return FALSE;
  if (self->held)
    return TRUE;
  if (sqlite3_changes (bed_farm_get_db (self->farm)) == 0)
    bed_edit_add_removed_fault (item->kind, self->faults);
  else if (bed_farm_is_unseen (self->farm, item->kind))
    bed_edit_add_unseen_fault (item->kind, self->faults);
  return TRUE;
}

/* Whether the farm has it: known of a new and of a loaded one, asked of one named from outside. */
static gboolean
has_stored (BedEdit *self, BedEditItem *item)
{
  switch (bed_record_get_origin (item->record))
    {
    case BED_RECORD_LOADED:
      return TRUE;
    case BED_RECORD_NAMED:
      return is_stored (self->farm, item->kind, item->id);
    case BED_RECORD_NEW:
    default:
      return FALSE;
    }
}

/* Removals and changes before additions: a log moves by closing one place and
 * opening another. */
static gboolean
write_all (BedEdit *self, GError **error)
{
  guint first = self->rounds ? self->rounds->written : 0;

  for (guint i = first; i < self->items->len; i++)
    {
      BedEditItem *item = self->items->pdata[i];
      item->stored = item->record && has_stored (self, item);
    }
  for (guint pass = 0; pass < 2; pass++)
    for (guint i = first; i < self->items->len; i++)
      {
        BedEditItem *item = self->items->pdata[i];
        gboolean early = !item->record || item->stored;
        if (early != (pass == 0))
          continue;
        if (!(item->record ? write_record (self, item, error) : remove_record (self, item, error)))
          return FALSE;
      }
  return TRUE;
}

static gboolean
set_first_fault (BedEdit *self, GError **error)
{
  const BedFault *fault = bed_faults_find_error (self->faults, 0);

  if (fault)
    g_set_error_literal (error, BED_FARM_ERROR, fault->code, fault->message);
  else if (self->purpose == BED_EDIT_WRITE && self->rounds && self->rounds->wrong)
    return !bed_farm_refuse (error, BED_FARM_ERROR_INVALID, _ ("A record of this edit is wrong."));
  return fault != NULL;
}

/* Of rounds it is known without reading all of the changeset again. */
static guint64
find_kinds (BedEdit *self, const BedChangeset *changeset)
{
  guint64 kinds = 0;

  if (!self->rounds)
    return bed_changeset_kinds (changeset);
  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    if (self->rounds->span[kind].n)
      kinds |= BED_KIND_BIT (kind);
  for (guint i = 0; i < self->items->len; i++)
    kinds |= BED_KIND_BIT (((BedEditItem *) self->items->pdata[i])->kind);
  /* See keep_rate(). */
  return kinds & BED_KIND_BIT (BED_KIND_FARM) ? kinds | BED_KIND_BIT (BED_KIND_RATE) : kinds;
}

static gboolean
finish (BedEdit *self, sqlite3_session *session, const char *sentence, GError **error)
{
  g_auto (BedChangeset) changeset = { 0 };
  BedChangeEntry entry = { sentence, "do", 0 };
  gint64 change = 0;

  if (!bed_changeset_take (self->farm, session, &changeset, error))
    return FALSE;
  /* Nothing changed: nothing to remember. */
  if (changeset.size > 0)
    change = bed_changeset_record (self->farm, &entry, &changeset, error);
  if (changeset.size > 0 && !change)
    return FALSE;
  if (!bed_farm_end_writing (self->farm, change, find_kinds (self, &changeset), error))
    return FALSE;
  self->change = change;
  for (guint i = 0; i < self->items->len; i++)
    {
      BedRecord *record = ((BedEditItem *) self->items->pdata[i])->record;
      if (record)
        bed_record_set_stored (record);
    }
  return TRUE;
}

/* The new records, of which no more is needed than what the rounds keep, go. */
static void
let_go (BedEdit *self)
{
  BedEditRounds *rounds = self->rounds;

  for (guint i = rounds->written; i < self->items->len; i++)
    {
      BedEditItem *item = self->items->pdata[i];
      BedRulesSpan *span = &rounds->span[item->kind];
      gboolean lost = item->refused || item->leans;
      if (lost || item->stored || !item->record)
        rounds->all_new = FALSE;
      if (item->stored || !item->record)
        {
          self->items->pdata[rounds->written++] = item;
          continue;
        }
      if (lost)
        g_hash_table_add (rounds->refused, g_memdup2 (&item->id, sizeof item->id));
      else
        *span = (BedRulesSpan){ span->n ? MIN (span->first, item->id) : item->id,
                                MAX (span->last, item->id), span->n + 1 };
      g_hash_table_remove (self->by_id, &item->id);
      item_free (item);
    }
  /* Setting the size would free those that moved to the front. */
  self->items->len = rounds->written;
  rounds->wrong = rounds->wrong || bed_faults_find_error (self->faults, 0);
}

static void
end_rounds (BedEdit *self)
{
  if (self->rounds)
    g_hash_table_unref (self->rounds->refused);
  g_clear_pointer (&self->rounds, g_free);
  g_clear_pointer (&self->session, sqlite3session_delete);
}

static gboolean
write_and_check (BedEdit *self, GError **error)
{
  if (!write_all (self, error))
    return FALSE;
  if (self->rounds)
    let_go (self);
  if (!self->held)
    bed_edit_ask_rules (self);
  return TRUE;
}

/* In a transaction, which is over afterwards. */
static gboolean
run_in (BedEdit *self, const char *sentence, GError **error)
{
  gboolean kept = self->purpose == BED_EDIT_WRITE;
  gboolean wrong = FALSE;

  if (kept && !self->session)
    self->session = bed_changeset_watch (self->farm, error);
  gboolean written = (!kept || self->session) && write_and_check (self, error);
  /* A rule that could not be asked has not said that all is well. */
  if (!bed_farm_check_trouble (self->farm, error))
    {
      written = FALSE;
      g_ptr_array_set_size (self->faults, 0);
    }
  wrong = written && set_first_fault (self, error);
  gboolean done = written && !wrong && kept && finish (self, self->session, sentence, error);
  end_rounds (self);
  if (done)
    bed_farm_tell (self->farm);
  else
    bed_farm_give_up_writing (self->farm);
  return done;
}

/* What an edit would break is asked of the farm as it would be, so even a check writes, and takes
 * the lock that writing takes: late, when all that can be seen without is right, and for
 * milliseconds. Temporary views in front of the tables would need no lock; but over 50,000 logs
 * and 300,000 picks of logs they made a question of two milliseconds one of half a second. */
static gboolean
begin (BedEdit *self, GError **error)
{
  return self->purpose == BED_EDIT_TRY ? bed_farm_begin_trying (self->farm, error)
                                       : bed_farm_begin_writing (self->farm, error);
}

static gboolean
run (BedEdit *self, BedEditPurpose purpose, const char *sentence, GError **error)
{
  gboolean in_rounds = self->rounds != NULL;

  self->purpose = purpose;
  for (;;)
    {
      g_autoptr (GError) why = NULL;

      g_ptr_array_set_size (self->faults, 0);
      self->taken = NULL;
      self->held = FALSE;
      if (!in_rounds && !begin (self, error))
        return FALSE;
      if (run_in (self, sentence, &why))
        return TRUE;
      if (!self->taken || in_rounds)
        {
          if (why)
            g_propagate_error (error, g_steal_pointer (&why));
          return FALSE;
        }
      renumber (self, self->taken);
    }
}

/* Ids of one round follow each other. */
#define IDS_AT_ONCE 1000

static gint64
next_id (BedEdit *self, BedKind kind)
{
  BedEditRounds *rounds = self->rounds;

  if (kind == BED_KIND_FARM)
    return 1;
  if (!rounds)
    return bed_farm_next_id (self->farm);
  if (rounds->next_id == rounds->ids_end)
    {
      rounds->next_id = bed_farm_next_ids (self->farm, IDS_AT_ONCE);
      rounds->ids_end = rounds->next_id + IDS_AT_ONCE;
    }
  return rounds->next_id++;
}

/* --- public ------------------------------------------------------------------------ */

BedEdit *
bed_edit_new (BedFarm *farm)
{
  g_return_val_if_fail (BED_IS_FARM (farm), NULL);
  BedEdit *self = g_new0 (BedEdit, 1);

  self->farm = g_object_ref (farm);
  self->items = g_ptr_array_new_with_free_func ((GDestroyNotify) item_free);
  self->by_id = g_hash_table_new (g_int64_hash, g_int64_equal);
  self->faults = bed_faults_new ();
  return self;
}

void
bed_edit_free (BedEdit *self)
{
  if (!self)
    return;
  if (self->rounds)
    bed_farm_give_up_writing (self->farm);
  end_rounds (self);
  g_hash_table_unref (self->by_id);
  g_ptr_array_unref (self->items);
  g_ptr_array_unref (self->faults);
  g_object_unref (self->farm);
  g_free (self);
}

void
bed_edit_put (BedEdit *self, BedRecord *record)
{
  g_return_if_fail (self != NULL && BED_IS_RECORD (record));
  BedKind kind = bed_record_get_kind (record);

  if (bed_record_get_id (record) == 0)
    bed_record_give_id (record, next_id (self, kind));
  BedEditItem *item = item_for (self, kind, bed_record_get_id (record));
  item->dropped = FALSE;
  g_set_object (&item->record, record);
}

void
bed_edit_remove (BedEdit *self, BedKind kind, gint64 id)
{
  g_return_if_fail (self != NULL && kind < BED_N_KINDS && id != 0);

  BedEditItem *item = item_for (self, kind, id);

  item->dropped = item->record && bed_record_get_origin (item->record) == BED_RECORD_NEW;
  g_clear_object (&item->record);
}

gboolean
bed_edit_begin (BedEdit *self, GError **error)
{
  g_return_val_if_fail (self != NULL && !self->rounds && self->items->len == 0, FALSE);

  if (!bed_farm_begin_writing (self->farm, error))
    return FALSE;
  self->purpose = BED_EDIT_WRITE;
  self->rounds = g_new0 (BedEditRounds, 1);
  self->rounds->refused = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  self->rounds->all_new = TRUE;
  self->session = bed_changeset_watch (self->farm, error);
  return self->session != NULL;
}

gboolean
bed_edit_end_round (BedEdit *self, GError **error)
{
  g_return_val_if_fail (self != NULL && self->rounds, FALSE);

  g_ptr_array_set_size (self->faults, 0);
  if (!write_all (self, error))
    return FALSE;
  let_go (self);
  return bed_farm_check_trouble (self->farm, error);
}

static GPtrArray *
check (BedEdit *self, BedEditPurpose purpose)
{
  g_autoptr (GError) error = NULL;

  run (self, purpose, NULL, &error);
  /* The file cannot be asked at all: that is a fault too. */
  if (error && !bed_faults_find_error (self->faults, 0))
    {
      BedFault *fault = bed_fault_new (BED_FAULT_ERROR, NULL, NULL, g_strdup (error->message));

      fault->code = error->code;
      g_ptr_array_add (self->faults, fault);
    }
  return self->faults;
}

GPtrArray *
bed_edit_check (BedEdit *self)
{
  g_return_val_if_fail (self != NULL, NULL);
  return check (self, BED_EDIT_CHECK);
}

GPtrArray *
bed_edit_try (BedEdit *self)
{
  g_return_val_if_fail (self != NULL, NULL);
  return check (self, BED_EDIT_TRY);
}

gboolean
bed_edit_commit (BedEdit *self, const char *sentence, GError **error)
{
  g_return_val_if_fail (self != NULL && sentence != NULL && *sentence, FALSE);

  self->change = 0;
  return bed_farm_check_writable (self->farm, error) && run (self, BED_EDIT_WRITE, sentence, error);
}

gint64
bed_edit_get_change (BedEdit *self)
{
  g_return_val_if_fail (self != NULL, 0);
  return self->change;
}

GPtrArray *
bed_edit_get_faults (BedEdit *self)
{
  g_return_val_if_fail (self != NULL, NULL);
  return self->faults;
}

gboolean
bed_edit_put_one (BedFarm *farm, BedRecord *record, const char *sentence, GError **error)
{
  g_autoptr (BedEdit) edit = bed_edit_new (farm);

  bed_edit_put (edit, record);
  return bed_edit_commit (edit, sentence, error);
}
